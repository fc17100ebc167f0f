/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the pieces of all lines meet, in the direction of the flow; for the rules about joints. */
#pragma once

#include "catalogue/item-ends.h"
#include "rules/rule-context.h"

G_BEGIN_DECLS

/* One side of a joint. */
typedef struct
{
  NappePart *part;       /* NappePiece, or the NappePump that a line begins with */
  const NappeItem *item; /* NULL: not in the catalogue */
  NappeItemEnd end;
  const char *material;  /* word; NULL: not known */
} NappeJointSide;

typedef struct
{
  NappePart *line;       /* NappeDrain or NappeReturnLine */
  NappeJointSide before, after;
  NappeJointFit fit;
} NappePipeJoint;

/* All joints. A piece whose two ends differ is taken the way round that fits better. Pieces that lie in one line as the
 * same pipe in the same direction are one pipe and no joint. Owned by the context; NULL without a catalogue. */
const GArray *nappe_rule_joints (NappeRuleContext *context);

/* Every piece of a line, those of its outlets behind those of its trunk: NappePiece. Transfer container. */
GPtrArray *nappe_rule_pieces (NappePart *line);
/* All drains, then all return lines. Transfer container. */
GPtrArray *nappe_rule_lines (NappeRuleContext *context);
/* Of what a piece is made: what the planner says, else the catalogue; NULL: not known. */
const char *nappe_rule_material (NappeRuleContext *context, const NappePiece *piece);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the head of a line goes, piece by piece. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

/* One loss along a line, in the direction of the flow. */
typedef struct
{
  char piece[NAPPE_PART_ID_MAX + 1]; /* id; "" where no piece causes it (entrance, exit) */
  NappeLossKind kind;
  guint link;       /* section of the line */
  double flow;      /* [m3/s] */
  double bore;      /* that the velocity belongs to [m] */
  double velocity;  /* [m/s] */
  double reynolds;
  double friction;  /* Darcy's f of a pipe; 0 for others */
  double k;         /* loss coefficient at this flow: head over velocity head; at rest its part that no flow changes */
  double head;      /* lost [m]; sign of the flow */
  double passed;    /* sum of the heads lost from the section's start up to and including this one [m] */
} NappeHeadLine;

/* The lines come section by section in the direction of the flow: at a tee its branches, then the trunk behind it. The heads
 * of a section add up to what the heads at its ends differ by, so the whole agrees with the state to the balance's
 * tolerance; where a pipe ends in air its end is the lower head, and backflow out of an end that stands in less than
 * a centimetre of water is held down by more than the ledger has. A section with a shut valve loses nothing and is left
 * out. */
typedef struct
{
  guint n;
  NappeHeadLine *lines;
  gboolean full;    /* the line runs full: a pump's line that is on or in which water moves, or a drain that is primed or not
                       held down by its inlet; else n = 0 */
} NappeHeadLedger;

/* Of a drain or a return line by its id, in a state of the study. Transfer full, never NULL. */
NappeHeadLedger *nappe_head_ledger_new (const NappeStudy *study, const NappeState *state, const char *line);
void nappe_head_ledger_free (NappeHeadLedger *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeHeadLedger, nappe_head_ledger_free)

G_END_DECLS

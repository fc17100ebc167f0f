/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the plan share. Model places are metres: x to the right, y to the back, which is up on the paper. */
#pragma once

#include "picture/board.h"
#include "picture/plan/plan.h"

G_BEGIN_DECLS

/* A pump, a piece of equipment, or the end of a pipe as drawn. */
typedef struct
{
  NappePart *part;         /* NappePump, NappeEquipment, or NappeDrain whose pipe it is */
  const char *name;        /* of it, owned by the build or static */
  int count;               /* equal ones */
  guint across, behind;    /* round ones drawn side by side and one behind the other; 0: not round */
  NappeBox box;            /* [px] */
  NappeFrame room;         /* what it stands in */
  double left, right, front, back; /* outside [m] */
  double room_left;        /* between it and the walls of its room [m] */
  double room_right, room_front, room_back;
  gboolean assumed;        /* its size is a usual one */
  gboolean pipe;
  gboolean outside;        /* nothing of it lies on the paper */
} NappeSumpThing;

typedef struct
{
  NappeBoard board;
  double scale;            /* [px/m] */
  double x, y;             /* of the model's origin [px] */
  double left, right, front, back; /* of what is drawn [m] */
  GArray *things;          /* NappeSumpThing */
} NappeSumpPlan;

double nappe_sump_plan_x (const NappeSumpPlan *self, double x);
double nappe_sump_plan_y (const NappeSumpPlan *self, double y);
NappeBox nappe_sump_plan_box (const NappeSumpPlan *self, double left, double right, double front, double back);

/* plan-sump.c: stand, chambers with their water, baffles, walls; their dimensions and names. */
void nappe_sump_plan_draw_sump (NappeSumpPlan *self);
void nappe_sump_plan_draw_dimensions (NappeSumpPlan *self);
void nappe_sump_plan_name_chambers (NappeSumpPlan *self);
/* plan-things.c: what stands in the chambers, with the room around it, and pipes that end over them. */
void nappe_sump_plan_collect_things (NappeSumpPlan *self);
gboolean nappe_sump_plan_shows_end (const NappeSumpPlan *self, const NappeOutletLayout *outlet);
void nappe_sump_plan_draw_things (NappeSumpPlan *self);
void nappe_sump_plan_name_things (NappeSumpPlan *self);
/* plan-pins.c: where findings are pinned. */
void nappe_sump_plan_pin_parts (NappeSumpPlan *self);
/* plan-words.c: what is said about each part, and where its numbers can be taken hold of. */
void nappe_sump_plan_add_items (NappeSumpPlan *self);
void nappe_sump_plan_add_handles (NappeSumpPlan *self);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where drains leave through a pane: the holes for their bulkheads, from the layout alone.
 *
 * The pane follows from the way that the pipe before the bulkhead leads. How deep in its box a drain stands is not a number
 * of the build: the layout puts it in the middle, and so does everything here. */
#pragma once

#include "network/layout.h"

G_BEGIN_DECLS

/* Panes of the tank, or the walls of the same side of a box that hangs outside. */
typedef enum { NAPPE_PANE_BOTTOM, NAPPE_PANE_BACK, NAPPE_PANE_LEFT, NAPPE_PANE_RIGHT, NAPPE_PANE_N } NappePane;

/* A bulkhead where a drain leaves its box. */
typedef struct
{
  NappePart *drain;        /* owned by the build */
  const NappePiece *piece; /* the bulkhead; owned by the build */
  const NappeItem *item;   /* never NULL; owned by the catalogue */
  gint box;                /* index in the layout's boxes */
  gboolean in_tank;        /* through a pane of the tank; else through the box's own floor or wall */
  NappePane pane;
  double across, along;    /* middle of the hole: x, or y of a side pane; y of the bottom, else z [m] */
  double left, right, near, far; /* inside edges of the pane in the same directions [m] */
  double thickness;        /* of the pane [m] */
} NappeHole;

/* The hole of a drain: its first bulkhead that the catalogue knows. FALSE: it has none, or no box. */
gboolean nappe_layout_find_hole (const NappeLayout *self, NappeBuild *build, const NappeLineLayout *drain, NappeHole *hole);

/* The pane that the wall of a box stands at. A free-standing one belongs to the back. */
NappePane nappe_box_pane (const NappeBoxLayout *box);

/* Middle of one of n joints that stand side by side along an inner box: y of one at a side pane, else x [m]. */
double nappe_joint_place (const NappeFrame *inner, gboolean at_side, guint index, guint n);

/* What the planner says of the tank's pane: a NappeTemper. */
int nappe_tank_temper (const NappeTank *tank, NappePane pane);

G_END_DECLS

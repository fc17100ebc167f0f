/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "network/holes.h"

/* Which way the bulkhead leads: as the pipe before it. */
static int
direction (const NappeRoute *route, guint bulkhead)
{
  for (guint i = bulkhead; i > 0; i--)
    if (route->legs[i - 1].piece->length > 0)
      return route->legs[i - 1].piece->toward;
  return NAPPE_TOWARD_DOWN;
}

static NappePane
pane_towards (int toward)
{
  switch (toward)
    {
    case NAPPE_TOWARD_DOWN:
    case NAPPE_TOWARD_UP:
      return NAPPE_PANE_BOTTOM;
    case NAPPE_TOWARD_LEFT:
      return NAPPE_PANE_LEFT;
    case NAPPE_TOWARD_RIGHT:
      return NAPPE_PANE_RIGHT;
    default:
      return NAPPE_PANE_BACK;
    }
}

static void
place (NappeHole *hole, const NappeFrame *frame, NappePoint at)
{
  gboolean side = hole->pane == NAPPE_PANE_LEFT || hole->pane == NAPPE_PANE_RIGHT;
  gboolean flat = hole->pane == NAPPE_PANE_BOTTOM;
  hole->across = side ? at.y : at.x;
  hole->left = side ? frame->front : frame->left;
  hole->right = side ? frame->back : frame->right;
  hole->along = flat ? at.y : at.z;
  hole->near = flat ? frame->front : frame->floor;
  hole->far = flat ? frame->back : frame->rim;
}

gboolean
nappe_layout_find_hole (const NappeLayout *self, NappeBuild *build, const NappeLineLayout *drain, NappeHole *hole)
{
  const NappeTank *tank = NAPPE_BUILD_TANK (build);
  for (guint i = 0; drain->box >= 0 && i < drain->trunk.n_legs; i++)
    {
      const NappeLeg *leg = &drain->trunk.legs[i];
      const NappeBoxLayout *box = &self->boxes[drain->box];
      if (leg->item == NULL || leg->item->kind != NAPPE_ITEM_BULKHEAD)
        continue;
      *hole = (NappeHole){ .drain = drain->part, .piece = leg->piece, .item = leg->item, .box = drain->box,
                           .in_tank = box->part->style == NAPPE_OVERFLOW_INTERNAL,
                           .pane = pane_towards (direction (&drain->trunk, i)) };
      place (hole, hole->in_tank ? &self->tank : &box->frame, leg->from);
      hole->thickness = !hole->in_tank                     ? box->part->wall_thickness
                        : hole->pane == NAPPE_PANE_BOTTOM ? tank->bottom_thickness
                                                           : tank->wall_thickness;
      return TRUE;
    }
  return FALSE;
}

NappePane
nappe_box_pane (const NappeBoxLayout *box)
{
  return box->part->side == NAPPE_SIDE_LEFT    ? NAPPE_PANE_LEFT
         : box->part->side == NAPPE_SIDE_RIGHT ? NAPPE_PANE_RIGHT
                                               : NAPPE_PANE_BACK;
}

double
nappe_joint_place (const NappeFrame *inner, gboolean at_side, guint index, guint n)
{
  double from = at_side ? inner->front : inner->left, to = at_side ? inner->back : inner->right;
  return from + (to - from) * (index + 0.5) / n;
}

int
nappe_tank_temper (const NappeTank *tank, NappePane pane)
{
  return pane == NAPPE_PANE_BOTTOM ? tank->bottom_temper : pane == NAPPE_PANE_BACK ? tank->back_temper : tank->side_temper;
}

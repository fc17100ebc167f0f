/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which panes are drilled or cut, and where: read out of the layout. */
#include "picture/plan/panels-private.h"

#include <math.h>

void
nappe_panel_free (gpointer data)
{
  NappePanel *panel = data;
  g_array_unref (panel->cuts);
  g_free (panel);
}

static gboolean
is_side (NappePane pane)
{
  return pane == NAPPE_PANE_LEFT || pane == NAPPE_PANE_RIGHT;
}

/* The pane, made when the first cut in it is found. */
static NappePanel *
panel_of (NappePanels *self, NappePane pane, gint box)
{
  const NappeLayout *layout = self->board.layout;
  for (guint i = 0; i < self->panels->len; i++)
    {
      NappePanel *panel = self->panels->pdata[i];
      if (panel->pane == pane && panel->box == box)
        return panel;
    }
  const NappeFrame *frame = box >= 0 ? &layout->boxes[box].frame : &layout->tank;
  NappePanel *panel = g_new0 (NappePanel, 1);
  *panel = (NappePanel) { .pane = pane, .box = box, .mirrored = pane != NAPPE_PANE_RIGHT,
                          .left = is_side (pane) ? frame->front : frame->left,
                          .right = is_side (pane) ? frame->back : frame->right,
                          .near = pane == NAPPE_PANE_BOTTOM ? frame->front : frame->floor,
                          .far = pane == NAPPE_PANE_BOTTOM ? frame->back : frame->rim,
                          .wall = box >= 0 ? layout->boxes[box].part->wall_thickness
                                           : NAPPE_BUILD_TANK (self->board.build)->wall_thickness,
                          .cuts = g_array_new (FALSE, FALSE, sizeof (NappeCut)) };
  g_ptr_array_add (self->panels, panel);
  return panel;
}

static void
add_drain (NappePanels *self, const NappeLineLayout *line)
{
  NappeHole hole;
  if (line->box < 0)
    return;
  if (nappe_layout_find_hole (self->board.layout, self->board.build, line, &hole))
    {
      NappeCut cut = { .kind = NAPPE_CUT_HOLE,
                       .part = line->part,
                       .bulkhead = hole.piece,
                       .across = hole.across,
                       .along = hole.along,
                       .diameter = hole.item->hole_diameter,
                       .flange = hole.item->flange_diameter };
      g_array_append_val (panel_of (self, hole.pane, hole.in_tank ? -1 : line->box)->cuts, cut);
      return;
    }
  gboolean in_tank = self->board.layout->boxes[line->box].part->style == NAPPE_OVERFLOW_INTERNAL;
  NappeCut cut = { .kind = NAPPE_CUT_PIPE, .part = line->part, .across = line->trunk.start.x, .along = line->trunk.start.y,
                   .diameter = line->trunk.n_legs > 0 ? line->trunk.legs[0].outside : NAPPE_UNKNOWN_BORE };
  g_array_append_val (panel_of (self, NAPPE_PANE_BOTTOM, in_tank ? -1 : line->box)->cuts, cut);
}

/* Bulkheads between the two boxes, side by side along the inner one. */
static void
add_joints (NappePanels *self, const NappeBoxLayout *box)
{
  NappePane pane = nappe_box_pane (box);
  guint n = (guint) MAX (box->part->joint_count, 0);
  for (guint i = 0; i < n; i++)
    {
      NappeCut cut = { .kind = NAPPE_CUT_JOINT, .part = NAPPE_PART (box->part), .along = box->joint,
                       .across = nappe_joint_place (&box->inner, is_side (pane), i, n), .diameter = box->part->joint_bore };
      g_array_append_val (panel_of (self, pane, -1)->cuts, cut);
    }
}

/* The opening through which the tank pours into a box outside: in the middle of the box. */
static void
add_weir (NappePanels *self, const NappeBoxLayout *box)
{
  NappePane pane = nappe_box_pane (box);
  const NappeFrame *frame = &box->frame;
  gboolean slots = box->part->slot_count > 0;
  NappeCut cut = { .kind = slots ? NAPPE_CUT_SLOTS : NAPPE_CUT_NOTCH, .part = NAPPE_PART (box->part),
                   .across = is_side (pane) ? (frame->front + frame->back) / 2 : (frame->left + frame->right) / 2,
                   .along = box->weir, .width = box->part->weir_length,
                   .top = slots ? box->weir_top : self->board.layout->tank.rim };
  if (cut.top > cut.along)
    g_array_append_val (panel_of (self, pane, -1)->cuts, cut);
}

/* The tank's before those of boxes. */
static int
by_place (gconstpointer a, gconstpointer b)
{
  const NappePanel *one = *(NappePanel *const *) a, *other = *(NappePanel *const *) b;
  return one->box != other->box ? one->box - other->box : (int) one->pane - (int) other->pane;
}

void
nappe_panels_find (NappePanels *self)
{
  const NappeLayout *layout = self->board.layout;
  for (guint i = 0; i < layout->n_drains; i++)
    add_drain (self, &layout->drains[i]);
  for (guint i = 0; i < layout->n_boxes; i++)
    {
      if (layout->boxes[i].part->style == NAPPE_OVERFLOW_SLIM)
        add_joints (self, &layout->boxes[i]);
      if (layout->boxes[i].part->style == NAPPE_OVERFLOW_EXTERNAL)
        add_weir (self, &layout->boxes[i]);
    }
  g_ptr_array_sort (self->panels, by_place);
}

gboolean
nappe_cut_is_round (const NappeCut *cut)
{
  return cut->kind != NAPPE_CUT_NOTCH && cut->kind != NAPPE_CUT_SLOTS;
}

double
nappe_cut_edge (const NappePanel *panel, const NappeCut *cut)
{
  double aside = fmin (cut->across - panel->left, panel->right - cut->across);
  double onward = fmin (cut->along - panel->near, panel->far - cut->along);
  return nappe_cut_is_round (cut) ? fmin (aside, onward) - cut->diameter / 2 : aside - cut->width / 2;
}

/* From the rim of a round cut to a point's nearest place in an upright opening. */
static double
to_opening (const NappeCut *cut, const NappeCut *opening)
{
  double dx = fmax (fabs (cut->across - opening->across) - opening->width / 2, 0);
  double dy = fmax (fmax (opening->along - cut->along, cut->along - opening->top), 0);
  return hypot (dx, dy) - cut->diameter / 2;
}

double
nappe_cut_next (const NappePanel *panel, const NappeCut *cut)
{
  double least = INFINITY;
  for (guint i = 0; i < panel->cuts->len; i++)
    {
      const NappeCut *other = &g_array_index (panel->cuts, NappeCut, i);
      if (other == cut)
        continue;
      gboolean round = nappe_cut_is_round (cut), other_round = nappe_cut_is_round (other);
      double apart = hypot (cut->across - other->across, cut->along - other->along);
      if (round && other_round)
        least = fmin (least, apart - (cut->diameter + other->diameter) / 2);
      else if (round || other_round)
        least = fmin (least, round ? to_opening (cut, other) : to_opening (other, cut));
      else
        least = fmin (least, fabs (cut->across - other->across) - (cut->width + other->width) / 2);
    }
  return least;
}

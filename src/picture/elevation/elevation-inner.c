/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inner boxes of slim and rim overflows, with the bulkheads or siphon tubes that lead on from them.
 *
 * At an end wall box and joint are cut open as the tank is. At the back wall the box's front with its
 * crest is seen through the tank's water, and the joints end on. */
#include "picture/elevation/elevation-private.h"
#include "picture/board.h"

#include <math.h>

#include "network/holes.h"

/* Wall of a bulkhead or tube by its bore: no part of the build gives it. */
#define TUBE_WALL_SHARE 0.1
/* Thinnest wall that is drawn [m]. */
#define THINNEST_WALL 0.002

const char *
nappe_elevation_inner_id (NappeElevation *self, const NappeBoxLayout *box)
{
  g_autofree char *id = g_strconcat (nappe_elevation_id (box->part), NAPPE_INNER_SUFFIX, NULL);
  return g_string_chunk_insert_const (self->names, id);
}

gboolean
nappe_elevation_inner_is_cut (const NappeBoxLayout *box)
{
  return box->part->side == NAPPE_SIDE_LEFT || box->part->side == NAPPE_SIDE_RIGHT;
}

/* The joints of a box as the study knows them; NULL: none. */
static const NappeLink *
find_joint (const NappeElevation *self, const NappeBoxLayout *box, double *flow)
{
  gint index = self->study ? nappe_network_find_link (self->study->network, NAPPE_LINK_JOINT, nappe_elevation_id (box->part))
                           : -1;
  *flow = index >= 0 && self->shown && self->shown->flow ? self->shown->flow[index] : 0;
  return index >= 0 ? &self->study->network->links[index] : NULL;
}

/* What fills a joint whose lower wall lies at `low`: moving or standing water, or air. */
static NappeRole
filling (const NappeElevation *self, const NappeBoxLayout *box, const char *inner, double low)
{
  double flow;
  const NappeLink *link = find_joint (self, box, &flow);
  double level = nappe_elevation_level (self, self->shown, inner);
  if (fabs (flow) > 1e-9)
    return NAPPE_ROLE_MOVING;
  if (link && link->joint.siphon)
    return link->joint.primed && self->shown ? NAPPE_ROLE_WATER_DEEP : NAPPE_ROLE_AIR;
  return level > low ? NAPPE_ROLE_WATER_DEEP : NAPPE_ROLE_AIR;
}

/* A bulkhead through the pane, from the inner box to the outer one. */
static void
draw_bulkhead (NappeElevation *self, const NappeBoxLayout *box, NappeRole water)
{
  NappeStyle wall = { .fill = NAPPE_ROLE_PVC, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR }, inside = { .fill = water };
  double half = box->part->joint_bore / 2, outside = half * (1 + 2 * TUBE_WALL_SHARE), end = half * 0.5;
  gboolean left = box->part->side == NAPPE_SIDE_LEFT;
  double from = left ? box->frame.right - end : box->inner.right - end;
  double to = left ? box->inner.left + end : box->frame.left + end;
  NappeBox body = nappe_elevation_box (self, from, to, box->joint - outside, box->joint + outside);
  nappe_scene_box (self->scene, NAPPE_LAYER_PIPE, body, &wall);
  nappe_scene_box (self->scene, NAPPE_LAYER_PIPE, nappe_elevation_box (self, from, to, box->joint - half, box->joint + half),
                   &inside);
  /* Nuts on both sides of the pane. */
  for (int side = -1; side <= 1; side += 2)
    {
      double x = side < 0 ? from + end * 0.5 : to - end * 0.5;
      nappe_scene_box (self->scene, NAPPE_LAYER_PIPE, nappe_elevation_box (self, x - end * 0.35, x + end * 0.35,
                                                                           box->joint + outside,
                                                                           box->joint + outside + end * 0.5), &wall);
      nappe_scene_box (self->scene, NAPPE_LAYER_PIPE, nappe_elevation_box (self, x - end * 0.35, x + end * 0.35,
                                                                           box->joint - outside - end * 0.5,
                                                                           box->joint - outside), &wall);
    }
  nappe_scene_block (self->scene, NAPPE_BLOCK_PIPE, nappe_box_grown (body, end * self->scale * 0.5));
}

/* Height of a siphon tube's axis over the rim [m]. */
static double
tube_top (const NappeElevation *self, const NappeBoxLayout *box)
{
  return fmax (self->layout->tank.rim, fmax (box->frame.rim, box->inner.rim)) + box->part->joint_bore;
}

/* The tube's axis up to a height, stroked as wide as given [m]. */
static void
stroke_tube (NappeElevation *self, double x1, double x2, double low, double top, double width, NappeRole role)
{
  NappeStyle style = { .stroke = role, .weight = fmax (width * self->scale, 1.5), .round = TRUE };
  nappe_scene_move (self->scene, nappe_elevation_x (self, x1), nappe_elevation_y (self, low));
  nappe_scene_line (self->scene, nappe_elevation_x (self, x1), nappe_elevation_y (self, top));
  nappe_scene_line (self->scene, nappe_elevation_x (self, x2), nappe_elevation_y (self, top));
  nappe_scene_line (self->scene, nappe_elevation_x (self, x2), nappe_elevation_y (self, low));
  nappe_scene_paint (self->scene, NAPPE_LAYER_PIPE, &style);
}

static void
block_upright (NappeElevation *self, double x, double low, double high, double half)
{
  nappe_scene_block (self->scene, NAPPE_BLOCK_PIPE, nappe_elevation_box (self, x - half, x + half, low, high));
}

/* A siphon tube over the pane, from the inner box to the outer one. */
static void
draw_tube (NappeElevation *self, const NappeBoxLayout *box, NappeRole water)
{
  double bore = box->part->joint_bore, outside = bore * (1 + 2 * TUBE_WALL_SHARE), top = tube_top (self, box);
  gboolean left = box->part->side == NAPPE_SIDE_LEFT;
  /* The legs stand near the pane, so that drains keep their place in the outer box. */
  double gap = outside * 0.75;
  double inner = left ? fmin (box->inner.left + gap, (box->inner.left + box->inner.right) / 2)
                      : fmax (box->inner.right - gap, (box->inner.left + box->inner.right) / 2);
  double outer = left ? fmax (box->frame.right - gap, (box->frame.left + box->frame.right) / 2)
                      : fmin (box->frame.left + gap, (box->frame.left + box->frame.right) / 2);
  double line = nappe_scene_line_width (self->scene, NAPPE_LINE_OUTLINE) / self->scale;
  stroke_tube (self, inner, outer, box->joint, top, outside, NAPPE_ROLE_INK);
  stroke_tube (self, inner, outer, box->joint, top, fmax (outside - 2 * line, 0), NAPPE_ROLE_PVC);
  stroke_tube (self, inner, outer, box->joint, top, bore, water);
  block_upright (self, inner, box->joint, top, outside / 2);
  block_upright (self, outer, box->joint, top, outside / 2);
  nappe_scene_block (self->scene, NAPPE_BLOCK_PIPE, nappe_elevation_box (self, fmin (inner, outer), fmax (inner, outer),
                                                                         top - outside / 2, top + outside / 2));
}

/* Box and joint cut open, at an end wall. */
static void
draw_cut (NappeElevation *self, const NappeBoxLayout *box, const char *id, double level)
{
  const NappeFrame *frame = &box->inner;
  NappeStyle air = { .fill = NAPPE_ROLE_PAPER }, glass = nappe_board_pane (NAPPE_BUILD_TANK (self->build)->material);
  double wall = fmax (box->part->wall_thickness, THINNEST_WALL), top = fmax (frame->rim, box->weir_top);
  gboolean left = box->part->side == NAPPE_SIDE_LEFT;
  double display = nappe_elevation_level (self, self->shown, nappe_elevation_id (self->build->tank));
  nappe_scene_box (self->scene, NAPPE_LAYER_WATER, nappe_elevation_box (self, frame->left, frame->right, frame->floor, top),
                   &air);
  nappe_elevation_draw_water (self, frame->left, frame->right, frame->floor, nappe_not_above (level, top));
  double edge = left ? frame->right : frame->left, away = left ? wall : -wall;
  double from = fmin (edge, edge + away), to = fmax (edge, edge + away);
  nappe_elevation_draw_wall (self, fmin (frame->left, from), fmax (frame->right, to), frame->floor - wall, frame->floor, &glass);
  nappe_elevation_draw_wall (self, from, to, frame->floor, box->weir, &glass);
  nappe_elevation_draw_teeth_edge (self, box, from, to);
  nappe_elevation_draw_sheet (self, frame, box->weir, edge, left ? -1 : 1, display, level);
  if (box->part->joint_count < 1)
    return;
  NappeRole water = filling (self, box, id, box->joint - box->part->joint_bore / 2);
  if (box->part->style == NAPPE_OVERFLOW_RIM)
    draw_tube (self, box, water);
  else
    draw_bulkhead (self, box, water);
}

/* Bulkheads end on, or tubes that rise over the rim. */
static void
draw_joints_in_front (NappeElevation *self, const NappeBoxLayout *box, NappeRole water)
{
  NappeStyle ring = { .fill = water, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
  double bore = box->part->joint_bore, outside = bore * (1 + 2 * TUBE_WALL_SHARE), top = tube_top (self, box) + bore / 2;
  guint n = (guint) MAX (box->part->joint_count, 0);
  for (guint i = 0; i < n; i++)
    {
      double x = nappe_joint_place (&box->inner, FALSE, i, n);
      if (box->part->style != NAPPE_OVERFLOW_RIM)
        {
          nappe_scene_circle (self->scene, NAPPE_LAYER_VESSEL, nappe_elevation_x (self, x), nappe_elevation_y (self, box->joint),
                              fmax (bore / 2 * self->scale, 1.5), &ring);
          block_upright (self, x, box->joint - bore / 2, box->joint + bore / 2, bore / 2);
          continue;
        }
      nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, nappe_elevation_box (self, x - bore / 2, x + bore / 2, box->joint, top),
                       &ring);
      block_upright (self, x, box->joint, top, outside / 2);
    }
}

/* The front of the box, seen through the tank's water. */
static void
draw_front (NappeElevation *self, const NappeBoxLayout *box, const char *id, double level)
{
  const NappeFrame *frame = &box->inner;
  NappeStyle front = { .fill = NAPPE_ROLE_GLASS, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR, .opacity = 0.55 };
  NappeStyle outline = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
  NappeStyle water = { .fill = NAPPE_ROLE_WATER_DEEP, .opacity = 0.45 };
  NappeStyle surface = { .stroke = NAPPE_ROLE_SURFACE, .weight = 1.2, .dashed = TRUE };
  double left = nappe_elevation_x (self, frame->left), right = nappe_elevation_x (self, frame->right);
  double crest = nappe_elevation_y (self, box->weir), shown = nappe_not_above (level, box->weir);
  NappeBox whole = nappe_elevation_box (self, frame->left, frame->right, frame->floor, box->weir);
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, whole, &front);
  if (shown > frame->floor)
    {
      double y = nappe_elevation_y (self, shown);
      nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, nappe_elevation_box (self, frame->left, frame->right, frame->floor,
                                                                             shown), &water);
      nappe_scene_stroke (self->scene, NAPPE_LAYER_LEVEL, left, y, right, y, &surface);
    }
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, whole, &outline);
  nappe_scene_block (self->scene, NAPPE_BLOCK_LINE, nappe_box_between (left, crest - 0.5, right, crest + 0.5));
  nappe_scene_block (self->scene, NAPPE_BLOCK_LINE, nappe_box_between (left - 0.5, whole.y, left + 0.5, whole.y + whole.height));
  nappe_scene_block (self->scene, NAPPE_BLOCK_LINE,
                     nappe_box_between (right - 0.5, whole.y, right + 0.5, whole.y + whole.height));
  draw_joints_in_front (self, box, filling (self, box, id, box->joint - box->part->joint_bore / 2));
  nappe_elevation_draw_comb (self, box, frame->left, frame->right);
}

void
nappe_elevation_draw_inner (NappeElevation *self, const NappeBoxLayout *box)
{
  const char *id = nappe_elevation_inner_id (self, box), *part = nappe_elevation_id (box->part);
  const NappeFrame *frame = &box->inner;
  double level = nappe_elevation_level (self, self->shown, id);
  if (nappe_elevation_inner_is_cut (box))
    draw_cut (self, box, id, level);
  else
    draw_front (self, box, id, level);
  NappeBox place = nappe_elevation_box (self, frame->left, frame->right, frame->floor, fmax (frame->rim, box->weir_top));
  nappe_scene_hit (self->scene, part, place);
  nappe_elevation_pin (self, part, place.x + place.width / 2, place.y + place.height + 16);
}

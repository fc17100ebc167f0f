/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Floor, stand, tank with what lies in it, and overflow boxes with their weirs. */
#include "picture/elevation/elevation-private.h"
#include "picture/board.h"

#include <math.h>

#define HATCH_DEPTH 11.0 /* [px] */
#define HATCH_STEP 9.0   /* [px] */

static const NappeStyle stand_panel = { .fill = NAPPE_ROLE_STAND, .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };

void
nappe_elevation_draw_wall (NappeElevation *self, double left, double right, double low, double high, const NappeStyle *style)
{
  NappeBox box = nappe_elevation_box (self, left, right, low, high);
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, box, style);
  nappe_scene_block (self->scene, NAPPE_BLOCK_SOFT, box);
}

static void
draw_floor (NappeElevation *self)
{
  NappeStyle floor = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_CUT };
  NappeStyle hatch = { .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  double y = nappe_elevation_y (self, 0);
  double left = self->rule_x - 12, right = self->dimension_x + 14;
  NappeBox band = { left, y, right - left, HATCH_DEPTH };
  nappe_scene_clip (self->scene, &band);
  for (double x = left - HATCH_DEPTH; x < right; x += HATCH_STEP)
    {
      nappe_scene_move (self->scene, x, y + HATCH_DEPTH);
      nappe_scene_line (self->scene, x + HATCH_DEPTH, y);
    }
  nappe_scene_paint (self->scene, NAPPE_LAYER_GROUND, &hatch);
  nappe_scene_clip (self->scene, NULL);
  nappe_scene_stroke (self->scene, NAPPE_LAYER_GROUND, left, y, right, y, &floor);
  nappe_scene_block (self->scene, NAPPE_BLOCK_DIMENSION, (NappeBox) { left, y - 1, right - left, HATCH_DEPTH + 1 });
}

void
nappe_elevation_draw_ground (NappeElevation *self)
{
  const NappeStand *stand = NAPPE_BUILD_STAND (self->build);
  const NappeFrame *frame = &self->layout->stand;
  NappeStyle inside = { .fill = NAPPE_ROLE_STAND_INSIDE };
  double wall = fmin (fmax (stand->wall_thickness, 0), (frame->right - frame->left) / 2);
  double top = fmin (fmax (stand->top_thickness, 0), frame->rim);
  draw_floor (self);
  nappe_scene_box (self->scene, NAPPE_LAYER_GROUND, nappe_elevation_box (self, frame->left, frame->right, 0, frame->rim),
                   &inside);
  NappeBox panels[] = {
    nappe_elevation_box (self, frame->left, frame->left + wall, 0, frame->rim - top),
    nappe_elevation_box (self, frame->right - wall, frame->right, 0, frame->rim - top),
    nappe_elevation_box (self, frame->left, frame->right, frame->rim - top, frame->rim),
  };
  for (guint i = 0; i < G_N_ELEMENTS (panels); i++)
    {
      nappe_scene_box (self->scene, NAPPE_LAYER_GROUND, panels[i], &stand_panel);
      nappe_scene_block (self->scene, NAPPE_BLOCK_SOFT, panels[i]);
      nappe_scene_hit (self->scene, nappe_elevation_id (self->build->stand), panels[i]);
    }
  NappeBox whole = nappe_elevation_box (self, frame->left, frame->right, 0, frame->rim);
  nappe_scene_hit (self->scene, nappe_elevation_id (self->build->stand), whole);
}

static gint
by_left (gconstpointer a, gconstpointer b)
{
  const NappeFrame *first = *(const NappeFrame *const *) a, *second = *(const NappeFrame *const *) b;
  return first->left < second->left ? -1 : first->left > second->left ? 1 : 0;
}

GArray *
nappe_elevation_display_spans (const NappeElevation *self)
{
  const NappeFrame *tank = &self->layout->tank;
  GArray *spans = g_array_new (FALSE, FALSE, sizeof (NappeSpan));
  g_autoptr (GPtrArray) boxes = g_ptr_array_new ();
  double left = tank->left;
  for (guint i = 0; i < self->layout->n_boxes; i++)
    {
      NappeBoxLayout *box = &self->layout->boxes[i];
      if (box->has_inner && nappe_elevation_inner_is_cut (box))
        g_ptr_array_add (boxes, &box->inner);
      else if (box->part->style == NAPPE_OVERFLOW_INTERNAL && !nappe_elevation_box_is_hidden (self, box))
        g_ptr_array_add (boxes, &box->frame);
    }
  g_ptr_array_sort (boxes, by_left);
  for (guint i = 0; i <= boxes->len; i++)
    {
      const NappeFrame *box = i < boxes->len ? boxes->pdata[i] : NULL;
      NappeSpan span = { left, box ? fmin (box->left, tank->right) : tank->right };
      if (span.right > span.left)
        g_array_append_val (spans, span);
      left = box ? fmax (left, box->right) : left;
    }
  return spans;
}

NappeSpan
nappe_elevation_longest_span (const NappeElevation *self)
{
  g_autoptr (GArray) spans = nappe_elevation_display_spans (self);
  NappeSpan longest = { self->layout->tank.left, self->layout->tank.left };
  for (guint i = 0; i < spans->len; i++)
    {
      const NappeSpan *span = &g_array_index (spans, NappeSpan, i);
      if (span->right - span->left > longest.right - longest.left)
        longest = *span;
    }
  return longest;
}

/* The display's water stands left and right of every box that is cut open, not before it. */
static void
draw_display_water (NappeElevation *self, double level)
{
  g_autoptr (GArray) spans = nappe_elevation_display_spans (self);
  for (guint i = 0; i < spans->len; i++)
    {
      const NappeSpan *span = &g_array_index (spans, NappeSpan, i);
      nappe_elevation_draw_water (self, span->left, span->right, self->layout->tank.floor, level);
    }
  /* Under an inner box too. */
  for (guint i = 0; i < self->layout->n_boxes; i++)
    {
      const NappeBoxLayout *box = &self->layout->boxes[i];
      NappeBox under = nappe_elevation_box (self, box->inner.left, box->inner.right, self->layout->tank.floor, box->inner.floor);
      if (!box->has_inner || !nappe_elevation_inner_is_cut (box))
        continue;
      /* Cut out of the whole body, so that its shades meet those beside it. */
      nappe_scene_clip (self->scene, &under);
      nappe_elevation_draw_body (self, box->inner.left, box->inner.right, self->layout->tank.floor, level);
      nappe_scene_clip (self->scene, NULL);
    }
}

void
nappe_elevation_draw_body (NappeElevation *self, double left, double right, double floor, double level)
{
  NappeStyle body = { .fill = NAPPE_ROLE_WATER_TOP, .fill_deep = NAPPE_ROLE_WATER_DEEP };
  if (level > floor && right > left)
    nappe_scene_box (self->scene, NAPPE_LAYER_WATER, nappe_elevation_box (self, left, right, floor, level), &body);
}

void
nappe_elevation_draw_water (NappeElevation *self, double left, double right, double floor, double level)
{
  NappeStyle surface = { .stroke = NAPPE_ROLE_SURFACE, .weight = 1.8 };
  if (!(level > floor) || !(right > left))
    return;
  nappe_elevation_draw_body (self, left, right, floor, level);
  double y = nappe_elevation_y (self, level);
  nappe_scene_stroke (self->scene, NAPPE_LAYER_LEVEL, nappe_elevation_x (self, left), y, nappe_elevation_x (self, right), y,
                      &surface);
}

/* One heap of rock: corners in shares of its length and height. */
static const double heap_back[][2] = { { 0.02, 0 }, { 0.09, 0.36 }, { 0.20, 0.50 }, { 0.27, 0.82 }, { 0.40, 0.90 },
                                       { 0.47, 0.66 },
                                       { 0.57, 0.58 }, { 0.68, 0.78 }, { 0.79, 0.55 }, { 0.90, 0.40 }, { 0.99, 0 } };
static const double heap_front[][2] = { { 0, 0 }, { 0.06, 0.18 }, { 0.15, 0.30 }, { 0.26, 0.27 }, { 0.33, 0.46 },
                                        { 0.43, 0.40 },
                                        { 0.52, 0.20 }, { 0.66, 0.34 }, { 0.75, 0.30 }, { 0.86, 0.16 }, { 1, 0 } };

static void
draw_heap (NappeElevation *self, const double (*corners)[2], guint n, double left, double length, double height)
{
  NappeStyle rock = { .fill = NAPPE_ROLE_ROCK };
  double floor = self->layout->tank.floor;
  for (guint i = 0; i < n; i++)
    {
      double x = nappe_elevation_x (self, left + corners[i][0] * length);
      double y = nappe_elevation_y (self, floor + corners[i][1] * height);
      if (i == 0)
        nappe_scene_move (self->scene, x, y);
      else
        nappe_scene_line (self->scene, x, y);
    }
  nappe_scene_close (self->scene);
  nappe_scene_paint (self->scene, NAPPE_LAYER_WATER, &rock);
}

static void
draw_rock (NappeElevation *self)
{
  double share = NAPPE_BUILD_TANK (self->build)->displaced;
  const NappeFrame *tank = &self->layout->tank;
  NappeSpan span = nappe_elevation_longest_span (self);
  double left = span.left, right = span.right;
  if (!(share > 0) || !(right > left))
    return;
  /* The heap's faces stand for the share: a heap of that share of the section, no model of the rock. */
  double length = (right - left) * 0.62, height = (tank->rim - tank->floor) * fmin (0.34 + share * 1.6, 0.72);
  double start = left + (right - left) * 0.15;
  draw_heap (self, heap_back, G_N_ELEMENTS (heap_back), start, length, height);
  draw_heap (self, heap_front, G_N_ELEMENTS (heap_front), start - length * 0.06, length * 1.1, height);
}

/* An end pane; where water leaves through it into a box outside, it is open from the crest to the teeth's tips. */
static void
draw_end_pane (NappeElevation *self, NappeSide side, double left, double right, const NappeStyle *glass)
{
  const NappeFrame *tank = &self->layout->tank;
  const NappeBoxLayout *outside = NULL;
  for (guint i = 0; i < self->layout->n_boxes; i++)
    {
      const NappeBoxLayout *box = &self->layout->boxes[i];
      if (box->part->side == (int) side && box->part->style == NAPPE_OVERFLOW_EXTERNAL && !box->has_inner)
        outside = box;
    }
  nappe_elevation_draw_wall (self, left, right, tank->floor, outside ? fmin (outside->weir, tank->rim) : tank->rim, glass);
  if (outside && outside->weir_top > outside->weir && outside->weir_top < tank->rim)
    nappe_elevation_draw_wall (self, left, right, outside->weir_top, tank->rim, glass);
}

void
nappe_elevation_draw_tank (NappeElevation *self)
{
  const NappeTank *tank = NAPPE_BUILD_TANK (self->build);
  const NappeFrame *frame = &self->layout->tank;
  const char *id = nappe_elevation_id (tank);
  NappeStyle glass = nappe_board_pane (tank->material);
  double wall = fmax (tank->wall_thickness, 0), level = nappe_elevation_level (self, self->shown, id);
  draw_display_water (self, nappe_not_above (level, frame->rim));
  draw_rock (self);
  draw_end_pane (self, NAPPE_SIDE_LEFT, frame->left - wall, frame->left, &glass);
  draw_end_pane (self, NAPPE_SIDE_RIGHT, frame->right, frame->right + wall, &glass);
  nappe_elevation_draw_wall (self, frame->left - wall, frame->right + wall, frame->floor - fmax (tank->bottom_thickness, 0),
                             frame->floor, &glass);
  nappe_scene_hit (self->scene, id, nappe_elevation_box (self, frame->left - wall, frame->right + wall, frame->floor,
                                                         frame->rim));
  double depth = frame->rim - frame->floor, length = frame->right - frame->left;
  for (guint i = 1; i <= 4; i++)
    nappe_elevation_pin (self, id, nappe_elevation_x (self, frame->left + length * (0.1 + 0.16 * i)),
                            nappe_elevation_y (self, frame->floor + depth * 0.62));
}

/* Teeth as a paler post. */
void
nappe_elevation_draw_teeth_edge (NappeElevation *self, const NappeBoxLayout *box, double left, double right)
{
  NappeStyle teeth = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
  if (!(box->weir_top > box->weir))
    return;
  NappeBox post = nappe_elevation_box (self, left, right, box->weir, box->weir_top);
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, post, &teeth);
}

void
nappe_elevation_draw_comb (NappeElevation *self, const NappeBoxLayout *box, double left, double right)
{
  const NappeOverflow *part = box->part;
  NappeStyle tooth = { .fill = NAPPE_ROLE_GLASS, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR, .opacity = 0.6 };
  double pitch = part->slot_count > 0 ? part->weir_length / part->slot_count : 0;
  double width = pitch - part->slot_width, length = right - left;
  if (!(pitch * self->scale > 3) || !(width > 0) || !(box->weir_top > box->weir) || !(length / pitch < 500))
    return;
  nappe_scene_block (self->scene, NAPPE_BLOCK_LINE, nappe_elevation_box (self, left, right, box->weir, box->weir_top));
  for (double x = left; x + width <= right + 1e-9; x += pitch)
    nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, nappe_elevation_box (self, x, x + width, box->weir, box->weir_top),
                     &tooth);
}

/* It leaves the crest's edge level and bends down as it falls free. */
void
nappe_elevation_draw_sheet (NappeElevation *self, const NappeFrame *room, double crest, double edge, double way,
                            double upstream, double downstream)
{
  NappeStyle sheet = { .stroke = NAPPE_ROLE_MOVING, .weight = 3, .round = TRUE };
  double film = upstream - crest, fall = crest - downstream;
  if (!(film > 0) || !(fall > 0))
    return;
  double out = fmin (0.035, (room->right - room->left) * 0.3);
  double x = nappe_elevation_x (self, edge), y = nappe_elevation_y (self, crest + film * 0.7);
  double end = nappe_elevation_y (self, downstream);
  double reach_px = fmax (out * self->scale, 4) * way;
  nappe_scene_move (self->scene, x - reach_px * 0.9, y);
  nappe_scene_curve (self->scene, x, y, x + reach_px * 0.7, y + fmin (4, (end - y) * 0.3), x + reach_px, end);
  nappe_scene_block (self->scene, NAPPE_BLOCK_MARK, nappe_box_between (x, y - 1, x + reach_px + way * 2, end));
  nappe_scene_paint (self->scene, NAPPE_LAYER_LEVEL, &sheet);
}

static void
draw_hidden_box (NappeElevation *self, const NappeBoxLayout *box, double level)
{
  NappeStyle hidden = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR, .dashed = TRUE };
  NappeStyle water = { .fill = NAPPE_ROLE_WATER_DEEP, .opacity = 0.35 };
  NappeStyle surface = { .stroke = NAPPE_ROLE_SURFACE, .weight = 1.2, .dashed = TRUE };
  const NappeFrame *frame = &box->frame;
  if (level > frame->floor)
    {
      double y = nappe_elevation_y (self, level);
      nappe_scene_box (self->scene, NAPPE_LAYER_WATER, nappe_elevation_box (self, frame->left, frame->right, frame->floor,
                                                                            nappe_not_above (level, frame->rim)), &water);
      nappe_scene_stroke (self->scene, NAPPE_LAYER_LEVEL, nappe_elevation_x (self, frame->left), y,
                          nappe_elevation_x (self, frame->right), y, &surface);
    }
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, nappe_elevation_box (self, frame->left, frame->right, frame->floor,
                                                                         frame->rim), &hidden);
  double crest = nappe_elevation_y (self, box->weir), rim = nappe_elevation_y (self, frame->rim);
  double left = nappe_elevation_x (self, frame->left), right = nappe_elevation_x (self, frame->right);
  nappe_scene_block (self->scene, NAPPE_BLOCK_LINE, nappe_box_between (left, rim - 0.5, right, rim + 0.5));
  if (box->has_inner)
    return;
  nappe_scene_block (self->scene, NAPPE_BLOCK_LINE, nappe_box_between (left, crest - 0.5, right, crest + 0.5));
  nappe_scene_stroke (self->scene, NAPPE_LAYER_VESSEL, left, crest, right, crest, &hidden);
}

/* A wall of the box that is cut: up to the crest where water may come over it, else up to the rim. */
static void
draw_box_wall (NappeElevation *self, const NappeBoxLayout *box, double left, double right, gboolean has_weir)
{
  NappeStyle glass = nappe_board_pane (NAPPE_BUILD_TANK (self->build)->material);
  nappe_elevation_draw_wall (self, left, right, box->frame.floor, has_weir ? box->weir : box->frame.rim, &glass);
  if (has_weir)
    nappe_elevation_draw_teeth_edge (self, box, left, right);
}

static void
draw_cut_box (NappeElevation *self, const NappeBoxLayout *box, double level, double display)
{
  const NappeFrame *frame = &box->frame;
  const NappeFrame *tank = &self->layout->tank;
  double wall = fmax (box->part->wall_thickness, 0.002), top = fmax (frame->rim, box->weir_top);
  gboolean at_left = fabs (frame->left - tank->left) < 1e-6, at_right = fabs (frame->right - tank->right) < 1e-6;
  gboolean outside = box->part->style != NAPPE_OVERFLOW_INTERNAL;
  nappe_elevation_draw_water (self, frame->left, frame->right, frame->floor, nappe_not_above (level, top));
  /* With an inner box the weir is there: this one is fed through joints. */
  gboolean weir_left = !box->has_inner && (outside ? box->part->side == NAPPE_SIDE_RIGHT : !at_left);
  gboolean weir_right = !box->has_inner && (outside ? box->part->side == NAPPE_SIDE_LEFT : !at_right);
  if (!at_left && !(outside && weir_left))
    draw_box_wall (self, box, frame->left - wall, frame->left, weir_left);
  if (!at_right && !(outside && weir_right))
    draw_box_wall (self, box, frame->right, frame->right + wall, weir_right);
  if (outside)
    {
      NappeStyle glass = nappe_board_pane (NAPPE_BUILD_TANK (self->build)->material);
      nappe_elevation_draw_wall (self, frame->left - wall, frame->right + wall, frame->floor - wall, frame->floor, &glass);
    }
  if (!box->has_inner)
    nappe_elevation_draw_comb (self, box, frame->left, frame->right);
  if (weir_left)
    nappe_elevation_draw_sheet (self, frame, box->weir, frame->left, 1, display, level);
  if (weir_right)
    nappe_elevation_draw_sheet (self, frame, box->weir, frame->right, -1, display, level);
}

void
nappe_elevation_draw_boxes (NappeElevation *self)
{
  double display = nappe_elevation_level (self, self->shown, nappe_elevation_id (self->build->tank));
  for (guint i = 0; i < self->layout->n_boxes; i++)
    {
      const NappeBoxLayout *box = &self->layout->boxes[i];
      const char *id = nappe_elevation_id (box->part);
      double level = nappe_elevation_level (self, self->shown, id);
      if (nappe_elevation_box_is_hidden (self, box))
        draw_hidden_box (self, box, level);
      else
        draw_cut_box (self, box, level, display);
      if (box->has_inner)
        nappe_elevation_draw_inner (self, box);
      nappe_scene_hit (self->scene, id, nappe_elevation_box (self, box->frame.left, box->frame.right, box->frame.floor,
                                                             box->frame.rim));
      double middle = nappe_elevation_x (self, (box->frame.left + box->frame.right) / 2);
      double rim = nappe_elevation_y (self, box->frame.rim);
      nappe_elevation_pin (self, id, middle, rim - 4);
      nappe_elevation_pin (self, id, nappe_elevation_x (self, box->frame.left) - 16,
                              nappe_elevation_y (self, box->weir) + 22);
      nappe_elevation_pin (self, id, nappe_elevation_x (self, box->frame.right) + 16,
                              nappe_elevation_y (self, box->weir) + 22);
    }
}

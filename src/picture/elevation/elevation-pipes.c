/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pipes: wall as two ink lines, water inside as full as it runs. */
#include "picture/elevation/elevation-private.h"

#include <math.h>

/* Thinnest pipe that still shows its water [px]. */
#define THINNEST 3.5
/* Longest piece of a slanting pipe that one block stands for [px]. */
#define BLOCK_PIECE 24.0

static const NappePipePoint *
point_at (const NappeDrawnPipe *pipe, guint index)
{
  return &g_array_index (pipe->points, NappePipePoint, index);
}

static double
outside_px (const NappeElevation *self, const NappePipePoint *point)
{
  return fmax (point->outside * self->scale, THINNEST);
}

double
nappe_elevation_bore_px (const NappeElevation *self, const NappePipePoint *point)
{
  double wall = 2 * nappe_scene_line_width (self->scene, NAPPE_LINE_OUTLINE);
  return fmax (fmin (point->bore * self->scale, outside_px (self, point) - wall), 1.5);
}

typedef enum { PASS_OUTLINE, PASS_WALL, PASS_INSIDE } Pass;

/* Paints points first .. last, stretch by stretch of equal bore, in one of the passes. */
static void
paint_axis (NappeElevation *self, const NappeDrawnPipe *pipe, guint first, guint last, Pass pass, NappeStyle style)
{
  guint i = first;
  while (i < last)
    {
      const NappePipePoint *to = point_at (pipe, i + 1);
      const NappePipePoint *from = point_at (pipe, i);
      double x = nappe_elevation_x (self, from->x), y = nappe_elevation_y (self, from->z);
      double dx = nappe_elevation_x (self, to->x) - x, dy = nappe_elevation_y (self, to->z) - y, length = hypot (dx, dy);
      /* A branch begins a little inside its trunk, so that no seam shows between them. */
      double overlap = i == 0 && pipe->outlet && length > 0 ? 1.5 / length : 0;
      nappe_scene_move (self->scene, x - dx * overlap, y - dy * overlap);
      do
        {
          const NappePipePoint *next = point_at (pipe, ++i);
          nappe_scene_line (self->scene, nappe_elevation_x (self, next->x), nappe_elevation_y (self, next->z));
        }
      while (i < last && point_at (pipe, i + 1)->bore == to->bore && point_at (pipe, i + 1)->outside == to->outside);
      double line = nappe_scene_line_width (self->scene, NAPPE_LINE_OUTLINE);
      double width = outside_px (self, to);
      style.weight = pass == PASS_OUTLINE ? width
                     : pass == PASS_WALL  ? fmax (width - 2 * line, 1.5)
                                          : nappe_elevation_bore_px (self, to);
      style.round = TRUE;
      nappe_scene_paint (self->scene, NAPPE_LAYER_PIPE, &style);
    }
}

/* Begins or continues the outline of standing water between two places of an axis, cut off at the level. */
static gboolean
trace_below (NappeElevation *self, const NappePipePoint *from, const NappePipePoint *to, double level, gboolean open)
{
  double x1 = from->x, z1 = from->z, x2 = to->x, z2 = to->z;
  if (z1 > level && z2 > level)
    return FALSE;
  if (z1 > level)
    {
      x1 += (x2 - x1) * (z1 - level) / (z1 - z2);
      z1 = level;
      open = FALSE;
    }
  if (z2 > level)
    {
      x2 += (x1 - x2) * (z2 - level) / (z2 - z1);
      z2 = level;
    }
  if (!open)
    nappe_scene_move (self->scene, nappe_elevation_x (self, x1), nappe_elevation_y (self, z1));
  nappe_scene_line (self->scene, nappe_elevation_x (self, x2), nappe_elevation_y (self, z2));
  return to->z <= level;
}

/* Water that stands still in the pipe's points first .. last below a level. */
static void
paint_standing (NappeElevation *self, const NappeDrawnPipe *pipe, guint first, guint last, double level)
{
  NappeStyle water = { .stroke = NAPPE_ROLE_WATER_DEEP, .round = TRUE };
  gboolean open = FALSE;
  if (!isfinite (level) || first >= last)
    return;
  water.weight = nappe_elevation_bore_px (self, point_at (pipe, last));
  for (guint i = first; i < last; i++)
    open = trace_below (self, point_at (pipe, i), point_at (pipe, i + 1), level, open);
  nappe_scene_paint (self->scene, NAPPE_LAYER_PIPE, &water);
}

static double
end_level (const NappeElevation *self, const NappeDrawnPipe *pipe)
{
  const NappeOutletLayout *outlet = pipe->outlet;
  if (!outlet && pipe->line->n_outlets > 0)
    outlet = &pipe->line->outlets[0];
  NappeFrame room;
  /* What joins another line ends in no water of its own. */
  return outlet && nappe_elevation_room (self, outlet->part->into, &room)
             ? nappe_elevation_level (self, self->shown, outlet->part->into) : NAN;
}

/* Level of the water that a line begins in: of its box, or of what its pump stands in. */
static double
start_level (const NappeElevation *self, const NappeDrawnPipe *pipe)
{
  if (!pipe->drain)
    return nappe_elevation_level (self, self->shown, NAPPE_PUMP (NAPPE_RETURN_LINE (pipe->line->part)->pump)->chamber);
  if (pipe->line->box < 0)
    return NAN;
  return nappe_elevation_level (self, self->shown, nappe_elevation_id (self->layout->boxes[pipe->line->box].part));
}

static guint
highest_point (const NappeDrawnPipe *pipe)
{
  guint highest = 0;
  for (guint i = 1; i < pipe->points->len; i++)
    if (point_at (pipe, i)->z > point_at (pipe, highest)->z)
      highest = i;
  return highest;
}

/* Air and standing water, under what moves: each leg of an arch is filled up to the water it dips into. */
static void
paint_still (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  guint last = pipe->points->len - 1, top = highest_point (pipe);
  NappeStyle air = { .stroke = NAPPE_ROLE_AIR };
  paint_axis (self, pipe, pipe->lead, last, PASS_INSIDE, air);
  if (!pipe->outlet)
    paint_standing (self, pipe, 0, top, start_level (self, pipe));
  paint_standing (self, pipe, MAX (top, pipe->lead), last, end_level (self, pipe));
}

static void
paint_inside (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  guint last = pipe->points->len - 1;
  NappeStyle water = { .stroke = pipe->water };
  paint_still (self, pipe);
  if (pipe->water)
    paint_axis (self, pipe, pipe->lead && pipe->line->n_outlets == 1 ? 0 : pipe->lead, last, PASS_INSIDE, water);
  /* Below the surface that it ends in even a partly full pipe is full. */
  if (pipe->water == NAPPE_ROLE_TRICKLE)
    paint_standing (self, pipe, MAX (highest_point (pipe), pipe->lead), last, end_level (self, pipe));
}

/* Where labels keep away, where the pipe is picked, and where notes may be pinned. */
static void
register_axis (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  const char *line = nappe_elevation_id (pipe->line->part);
  const char *id = pipe->outlet ? nappe_elevation_id (pipe->outlet->part) : line;
  for (guint i = pipe->lead; i + 1 < pipe->points->len; i++)
    {
      const NappePipePoint *from = point_at (pipe, i), *to = point_at (pipe, i + 1);
      double x1 = nappe_elevation_x (self, from->x), y1 = nappe_elevation_y (self, from->z);
      double x2 = nappe_elevation_x (self, to->x), y2 = nappe_elevation_y (self, to->z);
      double half = outside_px (self, to) / 2;
      gboolean square = fabs (x2 - x1) < 1 || fabs (y2 - y1) < 1;
      guint pieces = square ? 1 : (guint) CLAMP (ceil (hypot (x2 - x1, y2 - y1) / BLOCK_PIECE), 1, 200);
      for (guint k = 0; k < pieces; k++)
        {
          double a = (double) k / pieces, b = (k + 1.0) / pieces;
          NappeBox box = nappe_box_between (x1 + (x2 - x1) * a, y1 + (y2 - y1) * a, x1 + (x2 - x1) * b, y1 + (y2 - y1) * b);
          box = nappe_box_grown (box, half);
          nappe_scene_block (self->scene, NAPPE_BLOCK_PIPE, box);
          nappe_scene_hit (self->scene, pipe->outlet && pipe->line->n_outlets == 1 ? line : id, box);
        }
      if (hypot (x2 - x1, y2 - y1) < 30)
        continue;
      static const double shares[] = { 0.5, 0.25, 0.75, 0.38, 0.62 };
      for (guint k = 0; k < G_N_ELEMENTS (shares); k++)
        {
          double x = x1 + (x2 - x1) * shares[k], y = y1 + (y2 - y1) * shares[k];
          nappe_elevation_pin (self, id, x, y);
          if (id != line)
            nappe_elevation_pin (self, line, x, y);
        }
    }
}

/* A drain's strainer: slots around its head. */
static void
draw_strainer (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  NappeStyle slot = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
  const NappePipePoint *head = point_at (pipe, 0);
  double width = outside_px (self, head), x = nappe_elevation_x (self, head->x), y = nappe_elevation_y (self, head->z);
  double half = width * 0.62, tall = width * 0.8;
  NappeStyle cage = { .fill = NAPPE_ROLE_PVC, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
  nappe_scene_box (self->scene, NAPPE_LAYER_PIPE, (NappeBox) { x - half, y - tall, 2 * half, tall }, &cage);
  for (double dx = -half + 3; dx < half - 1; dx += 3)
    {
      nappe_scene_move (self->scene, x + dx, y - tall + 2.5);
      nappe_scene_line (self->scene, x + dx, y - 1.5);
    }
  nappe_scene_paint (self->scene, NAPPE_LAYER_PIPE, &slot);
}

/* Siphon-break hole: a ring on the descending leg with a thin line of air toward it. */
static void
draw_siphon_break (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  double height = pipe->outlet ? pipe->outlet->part->siphon_break_height : NAN;
  if (pipe->drain || isnan (height))
    return;
  double z = self->layout->tank.floor + height;
  for (guint i = pipe->points->len - 1; i > pipe->lead; i--)
    {
      const NappePipePoint *from = point_at (pipe, i - 1), *to = point_at (pipe, i);
      double low = fmin (from->z, to->z), high = fmax (from->z, to->z);
      if (z < low || z > high || high - low < 1e-6)
        continue;
      double share = (z - from->z) / (to->z - from->z);
      double x = nappe_elevation_x (self, from->x + (to->x - from->x) * share), y = nappe_elevation_y (self, z);
      NappeStyle ring = { .fill = NAPPE_ROLE_PAPER, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
      nappe_scene_circle (self->scene, NAPPE_LAYER_PIPE, x, y,
                          CLAMP (nappe_elevation_bore_px (self, to) * 0.22, 1.8, 3.2), &ring);
      nappe_elevation_pin (self, nappe_elevation_id (pipe->outlet->part), x + outside_px (self, to) / 2 + 15, y);
      return;
    }
}

/* Outlines of a whole line first, then walls, then water, so that trunk and branches flow together. */
static void
draw_line (NappeElevation *self, guint first, guint end)
{
  for (guint i = first; i < end; i++)
    {
      NappeDrawnPipe *pipe = self->pipes->pdata[i];
      NappeStyle outline = { .stroke = NAPPE_ROLE_INK };
      paint_axis (self, pipe, 0, pipe->points->len - 1, PASS_OUTLINE, outline);
    }
  for (guint i = first; i < end; i++)
    {
      NappeDrawnPipe *pipe = self->pipes->pdata[i];
      NappeStyle wall = { .stroke = NAPPE_ROLE_PVC };
      paint_axis (self, pipe, 0, pipe->points->len - 1, PASS_WALL, wall);
    }
  for (guint i = first; i < end; i++)
    paint_inside (self, self->pipes->pdata[i]);
  for (guint i = first; i < end; i++)
    {
      NappeDrawnPipe *pipe = self->pipes->pdata[i];
      nappe_elevation_draw_arrows (self, pipe);
      nappe_elevation_draw_fittings (self, pipe);
      draw_siphon_break (self, pipe);
      if (pipe->drain && !pipe->outlet && NAPPE_DRAIN (pipe->line->part)->inlet == NAPPE_INLET_STRAINER)
        draw_strainer (self, pipe);
    }
}

/* The rectangle of one stretch and of the corner at its end; the corner at its start belongs to the
 * stretch before it, if that one is veiled too. */
static NappeBox
veiled_stretch (const NappeElevation *self, const NappePipePoint *from, const NappePipePoint *to, gboolean corner_done)
{
  double half = outside_px (self, to) / 2 + 0.5;
  double x1 = nappe_elevation_x (self, from->x), y1 = nappe_elevation_y (self, from->z);
  double x2 = nappe_elevation_x (self, to->x), y2 = nappe_elevation_y (self, to->z), length = hypot (x2 - x1, y2 - y1);
  double ux = length > 0 ? (x2 - x1) / length : 0, uy = length > 0 ? (y2 - y1) / length : 1;
  double skip = corner_done ? fmin (half, length) : 0;
  gboolean upright = fabs (uy) > fabs (ux);
  NappeBox box = nappe_box_between (x1 + ux * skip, y1 + uy * skip, x2 + ux * half, y2 + uy * half);
  if (upright)
    return (NappeBox) { box.x - half, box.y, box.width + 2 * half, box.height };
  return (NappeBox) { box.x, box.y - half, box.width, box.height + 2 * half };
}

/* What lies behind the tank shows through a veil of the tank's own water. */
static void
draw_veil (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  const NappeFrame *tank = &self->layout->tank;
  NappeStyle veil = { .fill = NAPPE_ROLE_WATER_TOP, .fill_deep = NAPPE_ROLE_WATER_DEEP, .opacity = 0.6 };
  NappeStyle haze = { .fill = NAPPE_ROLE_PAPER, .opacity = 0.6 };
  double level = nappe_not_above (nappe_elevation_level (self, self->shown, nappe_elevation_id (self->build->tank)), tank->rim);
  double surface = isnan (level) ? tank->floor : fmax (level, tank->floor);
  for (guint i = pipe->lead; i + 1 < pipe->points->len; i++)
    {
      const NappePipePoint *from = point_at (pipe, i), *to = from + 1;
      if (!nappe_elevation_is_behind (self, pipe, i))
        continue;
      NappeBox stretch = veiled_stretch (self, from, to, i > pipe->lead && nappe_elevation_is_behind (self, pipe, i - 1));
      nappe_scene_clip (self->scene, &stretch);
      nappe_scene_box (self->scene, NAPPE_LAYER_PIPE, nappe_elevation_box (self, tank->left, tank->right, tank->floor,
                                                                           surface), &veil);
      nappe_scene_box (self->scene, NAPPE_LAYER_PIPE, nappe_elevation_box (self, tank->left, tank->right, surface,
                                                                           tank->rim), &haze);
      nappe_scene_clip (self->scene, NULL);
    }
}

void
nappe_elevation_draw_pipes (NappeElevation *self)
{
  guint i = 0;
  while (i < self->pipes->len)
    {
      const NappeDrawnPipe *first = self->pipes->pdata[i];
      guint end = i + 1;
      while (end < self->pipes->len && ((NappeDrawnPipe *) self->pipes->pdata[end])->line == first->line)
        end++;
      draw_line (self, i, end);
      for (; i < end; i++)
        draw_veil (self, self->pipes->pdata[i]);
    }
  for (i = 0; i < self->pipes->len; i++)
    {
      register_axis (self, self->pipes->pdata[i]);
      nappe_elevation_draw_join (self, self->pipes->pdata[i]);
    }
}

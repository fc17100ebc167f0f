/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fittings, unions, bulkheads and valves on a drawn pipe.
 *
 * The layout gives fittings no length of their own; several may stand at one corner. They are set out
 * along the pipe in their order: those before a bend on the arm that leads to it, the others behind. */
#include "picture/elevation/elevation-private.h"

#include <math.h>

#include "picture/marks.h"

/* A place on the axis with its direction. */
typedef struct
{
  double x, y, dx, dy; /* [px], unit vector along the flow */
  double half;         /* half of the pipe's outside [px] */
  gboolean faint;      /* behind the tank */
} Spot;

static const NappePipePoint *
point_at (const NappeDrawnPipe *pipe, guint index)
{
  return &g_array_index (pipe->points, NappePipePoint, index);
}

/* The direction of the stretch between two points; FALSE when there is none. */
static gboolean
direction (const NappeElevation *self, const NappeDrawnPipe *pipe, guint from, guint to, double *dx, double *dy, double *length)
{
  if (to >= pipe->points->len)
    return FALSE;
  const NappePipePoint *a = point_at (pipe, from), *b = point_at (pipe, to);
  *dx = (b->x - a->x) * self->scale;
  *dy = -(b->z - a->z) * self->scale;
  *length = hypot (*dx, *dy);
  if (!(*length > 0))
    return FALSE;
  *dx /= *length;
  *dy /= *length;
  return TRUE;
}

static const NappeStyle socket_style = { .fill = NAPPE_ROLE_PVC, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };

/* A rectangle from `start` to `end` along the pipe and from `near` to `far` to either side of its axis [px]. */
static void
draw_flank (NappeElevation *self, const Spot *spot, double start, double end, double near, double far)
{
  NappeStyle faint = socket_style;
  faint.opacity = 0.4;
  const NappeStyle *style = spot->faint ? &faint : &socket_style;
  for (int side = -1; side <= 1; side += 2)
    {
      double nx = -spot->dy * side, ny = spot->dx * side;
      NappeBox box = nappe_box_between (spot->x + spot->dx * start + nx * near, spot->y + spot->dy * start + ny * near,
                                        spot->x + spot->dx * end + nx * far, spot->y + spot->dy * end + ny * far);
      if (fabs (spot->dx) < 0.02 || fabs (spot->dy) < 0.02)
        {
          nappe_scene_box (self->scene, NAPPE_LAYER_PIPE, box, style);
          continue;
        }
      nappe_scene_move (self->scene, spot->x + spot->dx * start + nx * near, spot->y + spot->dy * start + ny * near);
      nappe_scene_line (self->scene, spot->x + spot->dx * end + nx * near, spot->y + spot->dy * end + ny * near);
      nappe_scene_line (self->scene, spot->x + spot->dx * end + nx * far, spot->y + spot->dy * end + ny * far);
      nappe_scene_line (self->scene, spot->x + spot->dx * start + nx * far, spot->y + spot->dy * start + ny * far);
      nappe_scene_close (self->scene);
      nappe_scene_paint (self->scene, NAPPE_LAYER_PIPE, style);
    }
}

/* A socket: the wall is thicker over its length. */
static void
draw_collar (NappeElevation *self, const Spot *spot, double half_length, double thickness)
{
  draw_flank (self, spot, -half_length, half_length, spot->half - 0.5, spot->half + thickness);
}

static void
draw_union (NappeElevation *self, const Spot *spot)
{
  double thin = fmax (spot->half * 0.16, 1.5), thick = fmax (spot->half * 0.42, 3), length = fmax (spot->half * 0.42, 3);
  draw_flank (self, spot, -length * 2, length * 2, spot->half - 0.5, spot->half + thin);
  draw_flank (self, spot, -length, length, spot->half - 0.5, spot->half + thick);
}

/* Flange and nut on both faces of a pane. */
static void
draw_bulkhead (NappeElevation *self, Spot spot, const NappeLeg *leg)
{
  const NappeFrame *tank = &self->layout->tank;
  double pane = fmax (NAPPE_BUILD_TANK (self->build)->bottom_thickness, 0) * self->scale;
  double floor = nappe_elevation_y (self, tank->floor), reach = 0.09 * self->scale;
  /* The drawing knows the pane better than the sum of the pieces does. */
  if (fabs (spot.dx) < 0.02 && fabs (spot.y - floor) < reach + pane)
    spot.y = floor + pane / 2;
  double flange = leg->item && leg->item->flange_diameter > 0 ? leg->item->flange_diameter / 2 * self->scale : spot.half * 1.7;
  double thickness = CLAMP (spot.half * 0.32, 2.5, 5), half = pane / 2;
  draw_flank (self, &spot, -half - thickness, -half, spot.half - 0.5, fmax (flange, spot.half + 3));
  draw_flank (self, &spot, half, half + thickness, spot.half - 0.5, fmax (flange, spot.half + 3));
  draw_flank (self, &spot, half + thickness, half + thickness * 2.4, spot.half - 0.5, fmax (flange * 0.82, spot.half + 2));
}

static void
draw_valve (NappeElevation *self, const NappeDrawnPipe *pipe, const Spot *spot, const NappeLeg *leg)
{
  const char *kind = leg->item ? leg->item->valve_kind : NULL, *id = nappe_elevation_id (leg->piece);
  double size = CLAMP (spot->half * 1.3, 5, 15);
  nappe_mark_valve (self->scene, spot->x, spot->y, spot->dx, spot->dy, size, kind, leg->piece->opening);
  NappeBox box = nappe_box_grown ((NappeBox) { spot->x, spot->y, 0, 0 }, size);
  nappe_scene_hit (self->scene, id, box);
  nappe_elevation_pin (self, id, spot->x - size * 2.2, spot->y);
  nappe_elevation_pin (self, id, spot->x + size * 2.6, spot->y);
  NappeValveSpot place = { leg, box };
  g_array_append_val (self->valves, place);
}

/* End of a pipe that leads to or from the viewer. */
static void
draw_round_end (NappeElevation *self, const NappeDrawnPipe *pipe, double x, double y, double half)
{
  NappeStyle wall = { .fill = NAPPE_ROLE_PVC, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
  NappeStyle inside = { .fill = pipe->water ? pipe->water : NAPPE_ROLE_AIR, .stroke = NAPPE_ROLE_INK,
                        .weight = NAPPE_LINE_HAIR };
  nappe_scene_circle (self->scene, NAPPE_LAYER_PIPE, x, y, half, &wall);
  nappe_scene_circle (self->scene, NAPPE_LAYER_PIPE, x, y, fmax (half * 0.8, 1), &inside);
}

static gboolean
is_valve (const NappeLeg *leg)
{
  return leg->item && leg->item->kind == NAPPE_ITEM_VALVE;
}

static gboolean
is_bend (const NappeLeg *leg)
{
  const char *shape = leg->item ? leg->item->shape : NULL;
  return shape && (g_str_has_prefix (shape, "elbow") || g_str_has_prefix (shape, "sweep") || g_str_equal (shape, "tee"));
}

/* Length that a fitting takes up along the pipe [px]. */
static double
room_of (const NappeElevation *self, const NappeLeg *leg, double half)
{
  double least = is_valve (leg) ? fmax (half * 2.6, 22) : half * 1.6;
  return fmax (leg->item ? leg->item->length * self->scale : 0, least);
}

/* Sockets on the arms of an elbow or a tee. */
static void
draw_arms (NappeElevation *self, const NappeDrawnPipe *pipe, guint point, double half)
{
  double dx, dy, length;
  const NappePipePoint *corner = point_at (pipe, point);
  double x = nappe_elevation_x (self, corner->x), y = nappe_elevation_y (self, corner->z);
  for (int arm = 0; arm < 2; arm++)
    {
      gboolean there = arm == 0 ? point > 0 && direction (self, pipe, point - 1, point, &dx, &dy, &length)
          : direction (self, pipe, point, point + 1, &dx, &dy, &length);
      if (!there || length < half * 3)
        continue;
      double away = half * 1.75 * (arm == 0 ? -1 : 1);
      gboolean faint = nappe_elevation_is_behind (self, pipe, arm == 0 ? point - 1 : point);
      Spot spot = { x + dx * away, y + dy * away, dx, dy, half, faint };
      draw_collar (self, &spot, half * 0.4, fmax (half * 0.16, 1.5));
    }
}

/* Whether another line's pipe runs over or under the spot. */
static gboolean
is_crossed (const NappeElevation *self, const NappeDrawnPipe *pipe, const Spot *spot, double clear)
{
  for (guint i = 0; i < self->pipes->len; i++)
    {
      const NappeDrawnPipe *other = self->pipes->pdata[i];
      for (guint k = other->lead; other->line != pipe->line && k + 1 < other->points->len; k++)
        {
          const NappePipePoint *a = point_at (other, k), *b = a + 1;
          NappeBox box = nappe_box_grown ((NappeBox) { spot->x, spot->y, 0, 0 }, clear + b->outside * self->scale / 2);
          if (nappe_box_meets_line (&box, nappe_elevation_x (self, a->x), nappe_elevation_y (self, a->z),
                                    nappe_elevation_x (self, b->x), nappe_elevation_y (self, b->z)))
            return TRUE;
        }
    }
  return FALSE;
}

/* A valve under another pipe would not be seen: it is drawn farther along its own, up to `farthest` px. */
static Spot
seen_spot (const NappeElevation *self, const NappeDrawnPipe *pipe, Spot spot, double way, double farthest)
{
  double clear = CLAMP (spot.half * 1.3, 5, 15);
  for (double slide = 0; slide <= farthest; slide += 6)
    {
      Spot moved = spot;
      moved.x += spot.dx * way * slide;
      moved.y += spot.dy * way * slide;
      if (!is_crossed (self, pipe, &moved, clear))
        return moved;
    }
  return spot;
}

static void
draw_one (NappeElevation *self, const NappeDrawnPipe *pipe, const NappePipeFitting *fitting, const Spot *spot)
{
  const NappeLeg *leg = fitting->leg;
  const char *shape = leg->item ? leg->item->shape : NULL;
  if (is_valve (leg))
    draw_valve (self, pipe, spot, leg);
  else if (leg->item && leg->item->kind == NAPPE_ITEM_BULKHEAD)
    draw_bulkhead (self, *spot, leg);
  else if (is_bend (leg))
    draw_arms (self, pipe, fitting->point, spot->half);
  else if (g_strcmp0 (shape, "union") == 0)
    draw_union (self, spot);
  else if (leg->piece->length > 0)
    draw_round_end (self, pipe, spot->x, spot->y, spot->half);
  else
    draw_collar (self, spot, spot->half * 0.7, fmax (spot->half * 0.16, 1.5));
}

/* Sets out fittings first .. end of one point along the arms before and behind it. */
static void
draw_group (NappeElevation *self, const NappeDrawnPipe *pipe, guint first, guint end)
{
  const NappePipeFitting *fittings = (const NappePipeFitting *) (void *) pipe->fittings->data;
  guint point = fittings[first].point, bend = end;
  double in_x = 0, in_y = 0, in_length = 0, out_x = 0, out_y = 0, out_length = 0;
  gboolean has_in = point > 0 && direction (self, pipe, point - 1, point, &in_x, &in_y, &in_length);
  gboolean has_out = direction (self, pipe, point, point + 1, &out_x, &out_y, &out_length);
  const NappePipePoint *corner = point_at (pipe, point);
  double x = nappe_elevation_x (self, corner->x), y = nappe_elevation_y (self, corner->z);
  for (guint i = first; i < end && bend == end; i++)
    if (is_bend (fittings[i].leg))
      bend = i;
  if (!has_in && !has_out)
    return;
  double half = fmax ((has_out ? point_at (pipe, point + 1) : corner)->outside * self->scale, 3.5) / 2;
  guint before = bend < end ? bend : has_in && !has_out ? end : first;
  double along = bend < end ? half * 2.2 : 0;
  /* Backwards from the corner. */
  for (guint i = before; has_in && i-- > first;)
    {
      double room = room_of (self, fittings[i].leg, half), at = fmin (along + room / 2, in_length);
      Spot spot = { x - in_x * at, y - in_y * at, in_x, in_y, half, nappe_elevation_is_behind (self, pipe, point - 1) };
      if (is_valve (fittings[i].leg))
        spot = seen_spot (self, pipe, spot, -1, in_length - at - half * 3);
      draw_one (self, pipe, &fittings[i], &spot);
      along += room;
    }
  if (bend < end)
    {
      Spot spot = { x, y, has_out ? out_x : in_x, has_out ? out_y : in_y, half };
      draw_one (self, pipe, &fittings[bend], &spot);
    }
  along = bend < end ? half * 2.2 : 0;
  for (guint i = bend < end ? bend + 1 : before; has_out && i < end; i++)
    {
      double room = room_of (self, fittings[i].leg, half), at = fmin (along + room / 2, out_length);
      Spot spot = { x + out_x * at, y + out_y * at, out_x, out_y, half, nappe_elevation_is_behind (self, pipe, point) };
      if (is_valve (fittings[i].leg))
        spot = seen_spot (self, pipe, spot, 1, out_length - at - half * 3);
      draw_one (self, pipe, &fittings[i], &spot);
      along += room;
    }
}

void
nappe_elevation_draw_fittings (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  const NappePipeFitting *fittings = (const NappePipeFitting *) (void *) pipe->fittings->data;
  for (guint first = 0, end; first < pipe->fittings->len; first = end)
    {
      end = first + 1;
      while (end < pipe->fittings->len && fittings[end].point == fittings[first].point)
        end++;
      draw_group (self, pipe, first, end);
    }
}

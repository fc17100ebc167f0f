/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bends of hoses: the corner between two stretches becomes an arc of short chords, so that all that
 * follows the axis (water, arrows, places to pick) bends with it. */
#include "picture/elevation/elevation-private.h"

#include <math.h>

/* Chords of one bend. */
#define CHORDS 8

static const NappePipePoint *
point_at (const NappeDrawnPipe *pipe, guint index)
{
  return &g_array_index (pipe->points, NappePipePoint, index);
}

static double
distance (const NappePipePoint *a, const NappePipePoint *b)
{
  return hypot (b->x - a->x, b->z - a->z);
}

static gboolean
is_bend (const NappeElevation *self, const NappeDrawnPipe *pipe, guint index)
{
  if (index == 0 || index <= pipe->lead || index + 1 >= pipe->points->len || !(point_at (pipe, index)->bend > 0))
    return FALSE;
  /* What lies behind the tank is veiled stretch by stretch: an arc would show its seams. */
  return !nappe_elevation_is_behind (self, pipe, index - 1) && !nappe_elevation_is_behind (self, pipe, index);
}

/* A point at a share of the way from one to another. */
static NappePipePoint
between (const NappePipePoint *from, const NappePipePoint *to, double share, const NappePipePoint *like)
{
  NappePipePoint point = *like;
  point.x = from->x + (to->x - from->x) * share;
  point.y = from->y + (to->y - from->y) * share;
  point.z = from->z + (to->z - from->z) * share;
  point.bend = 0;
  return point;
}

/* Adds the arc at a corner. The tangents are at most half of the stretches beside it, so that two bends in a row fit. */
static void
add_arc (const NappeDrawnPipe *pipe, guint index, GArray *points)
{
  const NappePipePoint *corner = point_at (pipe, index), *before = corner - 1, *after = corner + 1;
  double in = distance (before, corner), out = distance (corner, after);
  double cosine = ((corner->x - before->x) * (after->x - corner->x) + (corner->z - before->z) * (after->z - corner->z))
                  / (in * out);
  double turn = acos (CLAMP (cosine, -1, 1));
  double tangent = fmin (corner->bend * tan (fmin (turn, 3.0) / 2), fmin (in, out) / 2);
  if (!(tangent > 1e-6))
    {
      g_array_append_val (points, *corner);
      return;
    }
  NappePipePoint start = between (corner, before, tangent / in, corner), end = between (corner, after, tangent / out, corner);
  g_array_append_val (points, start);
  for (guint i = 1; i < CHORDS; i++)
    {
      /* A quadratic through the corner's tangents: within 3 % of a true arc, which no eye tells apart. */
      double share = (double) i / CHORDS;
      NappePipePoint first = between (&start, corner, share, corner), second = between (corner, &end, share, corner);
      NappePipePoint point = between (&first, &second, share, corner);
      g_array_append_val (points, point);
    }
  g_array_append_val (points, end);
}

void
nappe_elevation_round_bends (NappeElevation *self, NappeDrawnPipe *pipe)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (NappePipePoint));
  g_autofree guint *places = g_new0 (guint, pipe->points->len + 1);
  for (guint i = 0; i < pipe->points->len; i++)
    {
      if (is_bend (self, pipe, i) && distance (point_at (pipe, i - 1), point_at (pipe, i)) > 1e-6
          && distance (point_at (pipe, i), point_at (pipe, i + 1)) > 1e-6)
        add_arc (pipe, i, points);
      else
        g_array_append_val (points, *point_at (pipe, i));
      places[i] = points->len - 1;
    }
  for (guint i = 0; i < pipe->fittings->len; i++)
    {
      NappePipeFitting *fitting = &g_array_index (pipe->fittings, NappePipeFitting, i);
      fitting->point = places[fitting->point];
    }
  pipe->lead = pipe->lead > 0 ? places[pipe->lead] : 0;
  g_array_unref (pipe->points);
  pipe->points = points;
}

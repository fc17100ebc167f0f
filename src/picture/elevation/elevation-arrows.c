/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arrows along the water in pipes, standing or left to motion.h. */
#include "picture/elevation/elevation-private.h"

#include <math.h>

#include "picture/marks.h"

/* How fast arrows travel with water that fills its pipe [px a second, for 1 m/s]; slow water is still seen to move, and
 * fast water is not so fast that arrows seem to stand. */
#define PACE 70.0
#define SLOWEST 8.0
#define FASTEST 220.0
/* How near to a fitting's middle no arrow comes, moving and not [px]. */
#define CLEAR_MOVING 12.0
#define CLEAR 26.0

static const NappePipePoint *
point_at (const NappeDrawnPipe *pipe, guint index)
{
  return &g_array_index (pipe->points, NappePipePoint, index);
}

/* Whether a valve or a like sign stands near the place. */
static gboolean
near_fitting (const NappeElevation *self, const NappeDrawnPipe *pipe, double x, double y)
{
  for (guint i = 0; i < pipe->fittings->len; i++)
    {
      const NappePipeFitting *fitting = &g_array_index (pipe->fittings, NappePipeFitting, i);
      const NappePipePoint *point = point_at (pipe, fitting->point);
      if (hypot (nappe_elevation_x (self, point->x) - x, nappe_elevation_y (self, point->z) - y) < CLEAR)
        return TRUE;
    }
  return FALSE;
}

static double
arrow_size (const NappeElevation *self, const NappePipePoint *point)
{
  return CLAMP (nappe_elevation_bore_px (self, point) * 0.85, 4.5, 10);
}

static NappeRole
arrow_role (const NappeDrawnPipe *pipe)
{
  return pipe->water == NAPPE_ROLE_MOVING ? NAPPE_ROLE_ARROW : NAPPE_ROLE_SURFACE;
}

static double
arrow_speed (const NappeDrawnPipe *pipe, double bore)
{
  double speed = bore > 0 ? fabs (pipe->flow) / (G_PI / 4 * bore * bore) : 0;
  return pipe->water ? copysign (CLAMP (PACE * speed, SLOWEST, FASTEST), pipe->flow) : 0;
}

/* The line that arrows travel along, of still pipes too. */
static void
add_stream (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  const NappePipePoint *last = point_at (pipe, pipe->points->len - 1);
  NappeStream *stream
      = nappe_scene_stream (self->scene, arrow_role (pipe), arrow_size (self, last), arrow_speed (pipe, last->bore));
  for (guint i = pipe->lead; i < pipe->points->len; i++)
    {
      const NappePipePoint *point = point_at (pipe, i);
      NappeStreamPoint place = { nappe_elevation_x (self, point->x), nappe_elevation_y (self, point->z),
                                 i + 1 < pipe->points->len && nappe_elevation_is_behind (self, pipe, i) };
      g_array_append_val (stream->points, place);
    }
  for (guint i = 0; i < pipe->fittings->len; i++)
    {
      const NappePipePoint *point = point_at (pipe, g_array_index (pipe->fittings, NappePipeFitting, i).point);
      NappeStreamClear clear = { nappe_elevation_x (self, point->x), nappe_elevation_y (self, point->z), CLEAR_MOVING };
      g_array_append_val (stream->clear, clear);
    }
}

static void
draw_arrows (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  NappeRole role = arrow_role (pipe);
  double way = pipe->flow < 0 ? -1 : 1;
  for (guint i = pipe->lead; pipe->water && i + 1 < pipe->points->len; i++)
    {
      const NappePipePoint *from = point_at (pipe, i), *to = point_at (pipe, i + 1);
      double x1 = nappe_elevation_x (self, from->x), y1 = nappe_elevation_y (self, from->z);
      double dx = nappe_elevation_x (self, to->x) - x1, dy = nappe_elevation_y (self, to->z) - y1, length = hypot (dx, dy);
      guint count = length > 330 ? 3 : length > 170 ? 2 : length > 38 ? 1 : 0;
      double size = arrow_size (self, to);
      for (guint k = 1; k <= count; k++)
        {
          double share = (double) k / (count + 1), x = x1 + dx * share, y = y1 + dy * share;
          if (!near_fitting (self, pipe, x, y))
            nappe_mark_arrow (self->scene, NAPPE_LAYER_PIPE, x + way * dx / length * size / 2,
                              y + way * dy / length * size / 2, way * dx, way * dy, size, role);
        }
    }
}

void
nappe_elevation_draw_arrows (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  if (self->options->motion)
    add_stream (self, pipe);
  else
    draw_arrows (self, pipe);
}

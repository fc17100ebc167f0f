/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Return lines that join another at one of its tees. */
#include "picture/elevation/elevation-private.h"

#include <math.h>

/* Where a line that joins another ends on that line's axis. */
typedef struct
{
  double x, z, outside; /* of the other line there [m] */
} Join;

/* The tee with an id, as drawn. */
static gboolean
find_tee (const NappeElevation *self, const char *id, Join *join)
{
  for (guint i = 0; i < self->pipes->len; i++)
    {
      const NappeDrawnPipe *pipe = self->pipes->pdata[i];
      for (guint k = 0; k < pipe->fittings->len; k++)
        {
          const NappePipeFitting *fitting = &g_array_index (pipe->fittings, NappePipeFitting, k);
          const NappePipePoint *point = &g_array_index (pipe->points, NappePipePoint, fitting->point);
          if (!g_str_equal (nappe_elevation_id (fitting->leg->piece), id))
            continue;
          *join = (Join) { point->x, point->z, fitting->leg->outside };
          return TRUE;
        }
    }
  return FALSE;
}

/* The outlet by which a pipe, or the trunk under it, ends. */
static const NappeOutletLayout *
end_of (const NappeDrawnPipe *pipe)
{
  if (pipe->outlet)
    return pipe->outlet;
  for (guint i = 0; i < pipe->line->n_outlets; i++)
    if (pipe->line->outlets[i].tee_leg == -1 && pipe->line->outlets[i].route.n_legs == 0)
      return &pipe->line->outlets[i];
  return NULL;
}

static gboolean
find_join (const NappeElevation *self, const NappeDrawnPipe *pipe, Join *join)
{
  const NappeOutletLayout *outlet = pipe->drain ? NULL : end_of (pipe);
  return outlet && pipe->points->len > 1 && find_tee (self, outlet->part->into, join);
}

void
nappe_elevation_join_pipe (NappeElevation *self, NappeDrawnPipe *pipe)
{
  Join join;
  if (!find_join (self, pipe, &join))
    return;
  NappePipePoint *end = &g_array_index (pipe->points, NappePipePoint, pipe->points->len - 1), *before = end - 1;
  double length = hypot (end->x - before->x, end->z - before->z);
  double off = hypot (end->x - join.x, end->z - join.z);
  double back = join.outside / 2 - off;
  if (!(length > 0) || !(back > 0))
    return;
  double share = fmin (back / length, 0.5);
  end->x += (before->x - end->x) * share;
  end->z += (before->z - end->z) * share;
}

void
nappe_elevation_draw_join (NappeElevation *self, const NappeDrawnPipe *pipe)
{
  NappeStyle dashes = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE, .dashed = TRUE };
  Join join;
  if (!pipe->outlet || !find_join (self, pipe, &join))
    return;
  const NappePipePoint *end = &g_array_index (pipe->points, NappePipePoint, pipe->points->len - 1);
  if (hypot (end->x - join.x, end->z - join.z) > join.outside)
    nappe_scene_stroke (self->scene, NAPPE_LAYER_PIPE, nappe_elevation_x (self, end->x), nappe_elevation_y (self, end->z),
                        nappe_elevation_x (self, join.x), nappe_elevation_y (self, join.z), &dashes);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/motion.h"

#include <math.h>

#include "picture/picture-private.h"
#include "picture/scene-private.h"

/* From arrow to arrow [px]. */
#define PITCH 48.0
/* An arrow turns here, and would stick out of its pipe: it is left out this near, in its own sizes. */
#define CORNER 0.6
#define SHARP 0.5 /* of a corner [rad] */
/* How much is seen of an arrow behind something. */
#define VEILED 0.4

struct _NappeMotion
{
  GArray *ways; /* double, by stream: how far its arrows have gone, 0..PITCH [px] */
};

NappeMotion *
nappe_motion_new (void)
{
  NappeMotion *self = g_new0 (NappeMotion, 1);
  self->ways = g_array_new (FALSE, TRUE, sizeof (double));
  return self;
}

void
nappe_motion_free (NappeMotion *self)
{
  if (!self)
    return;
  g_array_unref (self->ways);
  g_free (self);
}

void
nappe_motion_advance (NappeMotion *self, NappePicture *picture, double seconds)
{
  const GPtrArray *streams = picture->scene->streams;
  double passed = isfinite (seconds) && seconds > 0 ? seconds : 0;
  g_array_set_size (self->ways, streams->len);
  for (guint i = 0; i < streams->len; i++)
    {
      double *way = &g_array_index (self->ways, double, i);
      const NappeStream *stream = streams->pdata[i];
      double gone = isfinite (stream->speed) ? fmod (*way + stream->speed * passed, PITCH) : *way;
      *way = gone < 0 ? gone + PITCH : gone;
    }
}

static const NappeStreamPoint *
point_at (const NappeStream *stream, guint index)
{
  return &g_array_index (stream->points, NappeStreamPoint, index);
}

/* Whether the line turns sharply at a point. */
static gboolean
is_corner (const NappeStream *stream, guint index)
{
  if (index == 0 || index + 1 >= stream->points->len)
    return TRUE;
  const NappeStreamPoint *a = point_at (stream, index - 1), *b = a + 1, *c = b + 1;
  double turn = atan2 (c->y - b->y, c->x - b->x) - atan2 (b->y - a->y, b->x - a->x);
  return fabs (remainder (turn, 2 * G_PI)) > SHARP;
}

/* What is written or marked on the paper stays legible. */
static gboolean
is_kept_clear (const NappeScene *scene, const NappeStream *stream, double x, double y)
{
  for (guint i = 0; i < stream->clear->len; i++)
    {
      const NappeStreamClear *place = &g_array_index (stream->clear, NappeStreamClear, i);
      if (hypot (place->x - x, place->y - y) < place->radius)
        return TRUE;
    }
  for (guint i = 0; i < scene->blocks->len; i++)
    {
      const NappeBlock *block = &g_array_index (scene->blocks, NappeBlock, i);
      NappeBox box = nappe_box_grown (block->box, stream->size / 2);
      gboolean legible = block->kind == NAPPE_BLOCK_MARK || block->kind == NAPPE_BLOCK_SIGN || block->kind == NAPPE_BLOCK_TEXT;
      if (legible && nappe_box_contains (&box, x, y))
        return TRUE;
    }
  return FALSE;
}

/* An arrow with its middle on x, y toward a unit vector, as nappe_mark_arrow paints it. */
static void
trace_arrow (cairo_t *cr, double x, double y, double ux, double uy, double size)
{
  double tip_x = x + ux * size / 2, tip_y = y + uy * size / 2;
  cairo_move_to (cr, tip_x, tip_y);
  cairo_line_to (cr, tip_x - (ux - uy * 0.5) * size, tip_y - (uy + ux * 0.5) * size);
  cairo_line_to (cr, tip_x - (ux + uy * 0.5) * size, tip_y - (uy - ux * 0.5) * size);
  cairo_close_path (cr);
}

static void
draw_stream (const NappeScene *scene, const NappeStream *stream, double way, cairo_t *cr)
{
  NappeColour colour = nappe_palette_colour (scene->palette, stream->role);
  double next = way, along = 0, sign = stream->speed < 0 ? -1 : 1;
  for (guint i = 0; i + 1 < stream->points->len; i++)
    {
      const NappeStreamPoint *from = point_at (stream, i), *to = from + 1;
      double dx = to->x - from->x, dy = to->y - from->y, length = hypot (dx, dy);
      double head = is_corner (stream, i) ? CORNER * stream->size : 0;
      double tail = is_corner (stream, i + 1) ? CORNER * stream->size : 0;
      for (; next < along + length; next += PITCH)
        {
          double here = next - along, x = from->x + dx * here / length, y = from->y + dy * here / length;
          if (here < head || here > length - tail || is_kept_clear (scene, stream, x, y))
            continue;
          trace_arrow (cr, x, y, sign * dx / length, sign * dy / length, stream->size);
          cairo_set_source_rgba (cr, colour.red, colour.green, colour.blue, colour.alpha * (from->veiled ? VEILED : 1));
          cairo_fill (cr);
        }
      along += length;
    }
}

void
nappe_motion_draw (const NappeMotion *self, NappePicture *picture, cairo_t *cr)
{
  const GPtrArray *streams = picture->scene->streams;
  cairo_save (cr);
  cairo_new_path (cr);
  for (guint i = 0; i < streams->len; i++)
    {
      const NappeStream *stream = streams->pdata[i];
      if (stream->speed != 0 && isfinite (stream->speed) && stream->size > 0)
        draw_stream (picture->scene, stream, i < self->ways->len ? g_array_index (self->ways, double, i) : 0, cr);
    }
  cairo_restore (cr);
}

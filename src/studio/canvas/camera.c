/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/camera.h"

#include <math.h>

/* Below this size [px] the labels of a picture no longer find room: it is drawn smaller instead. */
#define PICTURE_WIDTH_MIN 620.0
#define PICTURE_HEIGHT_MIN 420.0
/* A tall canvas leaves paper free rather than stretching the picture beyond this height over width. */
#define TALLEST 0.95

void
nappe_camera_init (NappeCamera *self)
{
  *self = (NappeCamera) { .zoom = 1.0, .scale = 1.0, .text_scale = 1.0 };
}

static double
clamp_offset (double offset, double picture, double view)
{
  return CLAMP (offset, 0.0, MAX (0.0, picture - view));
}

static void
clamp_view (NappeCamera *self)
{
  self->x = clamp_offset (self->x, self->picture_width * self->scale, self->view_width);
  self->y = clamp_offset (self->y, self->picture_height * self->scale, self->view_height);
}

/* Follows the zoom and the canvas. */
static gboolean
lay_out (NappeCamera *self)
{
  double width = self->view_width * self->zoom;
  double height = MIN (self->view_height, self->view_width * TALLEST) * self->zoom;
  double before_width = self->picture_width, before_height = self->picture_height;

  /* Half of what large letters take is made up for by a larger picture: so they find room, and are still read as larger. */
  double room = (1.0 + self->text_scale) / 2.0;

  self->scale = MIN (1.0, MIN (width / (PICTURE_WIDTH_MIN * room), height / (PICTURE_HEIGHT_MIN * room)));
  self->picture_width = floor (width / self->scale);
  self->picture_height = floor (height / self->scale);
  clamp_view (self);
  return before_width != self->picture_width || before_height != self->picture_height;
}

gboolean
nappe_camera_resize (NappeCamera *self, double width, double height)
{
  if (width < 1.0 || height < 1.0 || (width == self->view_width && height == self->view_height))
    return FALSE;
  self->view_width = width;
  self->view_height = height;
  return lay_out (self);
}

gboolean
nappe_camera_set_text_scale (NappeCamera *self, double text_scale)
{
  if (text_scale == self->text_scale)
    return FALSE;
  self->text_scale = text_scale;
  return self->view_width >= 1.0 && lay_out (self);
}

gboolean
nappe_camera_zoom_at (NappeCamera *self, double zoom, double x, double y)
{
  double wanted = CLAMP (zoom, 1.0, NAPPE_ZOOM_MAX);
  double origin_x, origin_y, share_x, share_y;

  if (wanted == self->zoom || self->picture_width < 1.0)
    return FALSE;
  nappe_camera_origin (self, &origin_x, &origin_y);
  share_x = (x - origin_x) / (self->picture_width * self->scale);
  share_y = (y - origin_y) / (self->picture_height * self->scale);
  self->zoom = wanted;
  lay_out (self);
  self->x = share_x * self->picture_width * self->scale - x;
  self->y = share_y * self->picture_height * self->scale - y;
  clamp_view (self);
  return TRUE;
}

gboolean
nappe_camera_pan (NappeCamera *self, double dx, double dy)
{
  double before_x = self->x, before_y = self->y;

  self->x += dx;
  self->y += dy;
  clamp_view (self);
  return before_x != self->x || before_y != self->y;
}

/* How far the view must move along one axis for an interval to be seen, its start first. */
static double
shift_for (double start, double end, double view)
{
  if (end > view)
    start = MIN (start, end - view);
  else if (start > 0.0)
    start = 0.0;
  return start;
}

gboolean
nappe_camera_reveal (NappeCamera *self, double x, double y, double width, double height)
{
  double origin_x, origin_y, left, top;

  nappe_camera_origin (self, &origin_x, &origin_y);
  left = origin_x + x * self->scale;
  top = origin_y + y * self->scale;
  return nappe_camera_pan (self, shift_for (left, left + width * self->scale, self->view_width),
                           shift_for (top, top + height * self->scale, self->view_height));
}

void
nappe_camera_origin (const NappeCamera *self, double *x, double *y)
{
  *x = floor (MAX (0.0, (self->view_width - self->picture_width * self->scale) / 2.0)) - self->x;
  *y = floor (MAX (0.0, (self->view_height - self->picture_height * self->scale) / 2.0)) - self->y;
}

void
nappe_camera_to_picture (const NappeCamera *self, double x, double y, double *picture_x, double *picture_y)
{
  double origin_x, origin_y;

  nappe_camera_origin (self, &origin_x, &origin_y);
  *picture_x = (x - origin_x) / self->scale;
  *picture_y = (y - origin_y) / self->scale;
}

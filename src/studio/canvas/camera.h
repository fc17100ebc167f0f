/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a picture sits in a canvas: its own size, its scale, and where the view has been moved to.
 * Plain numbers, so that it can be tested without a display. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define NAPPE_ZOOM_MAX 6.0

typedef struct
{
  double zoom;                       /* 1: the whole picture fits; up to NAPPE_ZOOM_MAX */
  double x, y;                       /* left and top of the view in the scaled picture [px] */
  double view_width, view_height;    /* of the canvas [px] */
  double text_scale;                 /* size of the picture's letters; 1: as usual */
  double scale;                      /* canvas pixels a unit of the picture */
  double picture_width, picture_height; /* to compose the picture in, its units */
} NappeCamera;

void nappe_camera_init (NappeCamera *self);

/* Takes a new size of the canvas. Returns whether the picture's size changed. */
gboolean nappe_camera_resize (NappeCamera *self, double width, double height);

/* Takes a size of letters [1 or more]. Returns whether the picture's size changed. */
gboolean nappe_camera_set_text_scale (NappeCamera *self, double text_scale);

/* Zooms to a value (clamped) and keeps what is under the point of the canvas where it is.
 * Returns whether anything changed. */
gboolean nappe_camera_zoom_at (NappeCamera *self, double zoom, double x, double y);

/* Moves the view by canvas pixels, as far as there is picture. Returns whether it moved. */
gboolean nappe_camera_pan (NappeCamera *self, double dx, double dy);

/* Moves the view so that a rectangle of the picture can be seen. Returns whether it moved. */
gboolean nappe_camera_reveal (NappeCamera *self, double x, double y, double width, double height);

/* Where the picture's corner lies in the canvas [px]; it is centred when smaller than the canvas. */
void nappe_camera_origin (const NappeCamera *self, double *x, double *y);

/* A point of the canvas in the picture's units. */
void nappe_camera_to_picture (const NappeCamera *self, double x, double y, double *picture_x, double *picture_y);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/picture-texture.h"

void
nappe_picture_place_apply (const NappePicturePlace *place, cairo_t *cr)
{
  cairo_translate (cr, place->x, place->y);
  cairo_scale (cr, place->scale, place->scale);
  cairo_rectangle (cr, 0.0, 0.0, place->width, place->height);
  cairo_clip (cr);
}

GdkTexture *
nappe_picture_texture_new (NappePicture *picture, GtkWidget *widget, const NappePicturePlace *place)
{
  int factor = gtk_widget_get_scale_factor (widget);
  int width = gtk_widget_get_width (widget) * factor, height = gtk_widget_get_height (widget) * factor;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) bytes = NULL;

  cairo_scale (cr, factor, factor);
  nappe_picture_place_apply (place, cr);
  nappe_picture_draw (picture, cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), stride * (gsize) height,
                                      (GDestroyNotify) cairo_surface_destroy, surface);
  return gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, bytes, stride);
}

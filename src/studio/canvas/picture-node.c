/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/picture-node.h"

void
nappe_picture_place_apply (const NappePicturePlace *place, cairo_t *cr)
{
  cairo_translate (cr, place->x, place->y);
  cairo_scale (cr, place->scale, place->scale);
  cairo_rectangle (cr, 0.0, 0.0, place->width, place->height);
  cairo_clip (cr);
}

static cairo_surface_t *
draw (NappePicture *picture, GtkWidget *widget, const NappePicturePlace *place)
{
  int factor = gtk_widget_get_scale_factor (widget);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, gtk_widget_get_width (widget) * factor,
                                                         gtk_widget_get_height (widget) * factor);
  cairo_t *cr;

  cairo_surface_set_device_scale (surface, factor, factor);
  cr = cairo_create (surface);
  nappe_picture_place_apply (place, cr);
  nappe_picture_draw (picture, cr);
  cairo_destroy (cr);
  return surface;
}

/* Not a texture: the toolkit's cairo renderer takes the pixels of a texture through floating point and back in every frame, which
 * costs more than making the picture. */
GskRenderNode *
nappe_picture_node_new (NappePicture *picture, GtkWidget *widget, const NappePicturePlace *place)
{
  GskRenderNode *node = gsk_cairo_node_new (&GRAPHENE_RECT_INIT (0, 0, (float) gtk_widget_get_width (widget),
                                                                 (float) gtk_widget_get_height (widget)));
  cairo_surface_t *surface = draw (picture, widget, place);
  cairo_t *cr = gsk_cairo_node_get_draw_context (node);

  cairo_set_source_surface (cr, surface, 0.0, 0.0);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return node;
}

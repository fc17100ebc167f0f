/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A picture drawn once into pixels, as a render node that frames in which it stays the same take up again. */
#pragma once

#include <gtk/gtk.h>

#include "picture/picture.h"

G_BEGIN_DECLS

/* Where a picture is seen in its widget: its top left corner [px of the widget], its enlargement, and its own size. */
typedef struct
{
  double x, y, scale;
  double width, height;
} NappePicturePlace;

/* As large as the widget, at the widget's scale factor. Transfer full. */
GskRenderNode *nappe_picture_node_new (NappePicture *picture, GtkWidget *widget, const NappePicturePlace *place);
/* Lets what is drawn next be in the picture's own units, cut off at its edge. */
void nappe_picture_place_apply (const NappePicturePlace *place, cairo_t *cr);

G_END_DECLS

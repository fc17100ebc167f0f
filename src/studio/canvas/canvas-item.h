/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands for one part of a picture towards keyboard and assistive technology: an empty widget
 * over the part, with its name and description. The picture itself is drawn by the canvas. */
#pragma once

#include <gtk/gtk.h>

#include "picture/picture.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_CANVAS_ITEM (nappe_canvas_item_get_type ())
G_DECLARE_FINAL_TYPE (NappeCanvasItem, nappe_canvas_item, NAPPE, CANVAS_ITEM, GtkWidget)

/* Signal `activated`: the person pressed Return or Space on it, or an assistive technology did. */
GtkWidget *nappe_canvas_item_new (void);

/* Takes over part, words and place, in the units of the picture. */
void nappe_canvas_item_describe (NappeCanvasItem *self, const NappePictureItem *item);

const char *nappe_canvas_item_get_part (NappeCanvasItem *self);
const char *nappe_canvas_item_get_label (NappeCanvasItem *self);
const char *nappe_canvas_item_get_description (NappeCanvasItem *self);
/* The place, in the units of the picture. */
const graphene_rect_t *nappe_canvas_item_get_place (NappeCanvasItem *self);

G_END_DECLS

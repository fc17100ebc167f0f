/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The children of a widget that shows a picture: one NappeCanvasItem for each part of the picture, so that keyboard and assistive
 * technology reach it. The widget gives its picture, measures and allocates; it unparents them with its other children. */
#pragma once

#include "studio/canvas/canvas-item.h"
#include "studio/canvas/picture-node.h"

G_BEGIN_DECLS

typedef struct _NappeCanvasItems NappeCanvasItems;

typedef struct
{
  void (*picked) (GtkWidget *owner, const char *part);               /* a person activated an item */
  void (*focused) (GtkWidget *owner,
                   const graphene_rect_t *place); /* the focus came to one; place: in the picture; NULL: nothing */
} NappeCanvasItemsCalls;

/* owner, calls: outlive it. */
NappeCanvasItems *nappe_canvas_items_new (GtkWidget *owner, const NappeCanvasItemsCalls *calls);
void nappe_canvas_items_free (NappeCanvasItems *self);

/* Makes the children agree with a picture, keeping those there are and with them the focus. picture: NULL: none. Not while sizes
 * are handed out. */
void nappe_canvas_items_match (NappeCanvasItems *self, NappePicture *picture);
/* That of a part; NULL: none. Owned by the widget. */
NappeCanvasItem *nappe_canvas_items_find (NappeCanvasItems *self, const char *part);
/* Children lie inside their widget whatever its size, but GTK wants each to be measured. */
void nappe_canvas_items_measure (NappeCanvasItems *self, GtkOrientation orientation);
void nappe_canvas_items_allocate (NappeCanvasItems *self, const NappePicturePlace *place);

G_END_DECLS

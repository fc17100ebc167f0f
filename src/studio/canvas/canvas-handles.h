/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The handles of the part that is picked in a canvas: shown, dragged, moved by keys, typed.
 *
 * What is dragged is a draft of the document (document.h): one step to undo when it is let go, nothing when it is taken
 * back. Beside it stand the number and what it changes. Points are in the canvas [px]. */
#pragma once

#include <gtk/gtk.h>

#include "studio/document/document.h"
#include "studio/canvas/picture-node.h"

G_BEGIN_DECLS

typedef struct _NappeCanvasHandles NappeCanvasHandles;

/* canvas: whose children the widgets are; not owned. */
NappeCanvasHandles *nappe_canvas_handles_new (GtkWidget *canvas, NappeDocument *document);
void nappe_canvas_handles_free (NappeCanvasHandles *self); /* after the canvas let go of its children */

/* After a picture was composed: shows the handles of the part. picture, part: NULL for none. */
void nappe_canvas_handles_match (NappeCanvasHandles *self, NappePicture *picture, const char *part);
/* While sizes are handed out, with the place of the picture. */
void nappe_canvas_handles_allocate (NappeCanvasHandles *self, const NappePicturePlace *place);
/* The guide that has caught what is dragged. */
void nappe_canvas_handles_snapshot (NappeCanvasHandles *self, GtkSnapshot *snapshot);

/* The pointer. */
gboolean nappe_canvas_handles_grab (NappeCanvasHandles *self, double x, double y); /* FALSE: there is none */
/* dx, dy: since it was grabbed. Shift: in coarse steps; Ctrl: in line with nothing. */
void nappe_canvas_handles_pull (NappeCanvasHandles *self, double dx, double dy, GdkModifierType keys);
void nappe_canvas_handles_let_go (NappeCanvasHandles *self);
void nappe_canvas_handles_take_back (NappeCanvasHandles *self);
gboolean nappe_canvas_handles_are_held (NappeCanvasHandles *self);
/* What the handle over a point changes, and its number now; NULL: there is no handle, or one is held. Transfer full. */
char *nappe_canvas_handles_tip (NappeCanvasHandles *self, double x, double y);
/* Name of the cursor over a point; NULL: there is no handle. */
const char *nappe_canvas_handles_cursor (NappeCanvasHandles *self, double x, double y);

/* Gives the first handle the focus of the keyboard. FALSE: there is none. */
gboolean nappe_canvas_handles_focus (NappeCanvasHandles *self);

G_END_DECLS

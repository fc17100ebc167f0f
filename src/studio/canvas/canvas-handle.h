/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A handle on a canvas, as a widget: takes the keyboard focus, is seen, and tells assistive technology what it moves.
 *
 * The pointer is the canvas’s business. Signals: `nudged` (int steps to the right, int steps up), `entered` (a number is to be
 * typed). Actions of its class: handle.more, handle.less, handle.enter. */
#pragma once

#include <gtk/gtk.h>

#include "picture/handles.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_CANVAS_HANDLE (nappe_canvas_handle_get_type ())
G_DECLARE_FINAL_TYPE (NappeCanvasHandle, nappe_canvas_handle, NAPPE, CANVAS_HANDLE, GtkWidget)

GtkWidget *nappe_canvas_handle_new (void);
/* name: of the part. Everything is copied. */
void nappe_canvas_handle_describe (NappeCanvasHandle *self, const NappeHandle *handle, const char *name, NappeUnitSystem units);
/* Owned by the widget and good until it is described anew. */
const NappeHandle *nappe_canvas_handle_get (NappeCanvasHandle *self);

G_END_DECLS

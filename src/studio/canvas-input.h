/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pointer and touch on a canvas: click, drag, scroll, Ctrl+scroll, pinch. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What a canvas does when asked. Points are in the canvas [px]. */
typedef struct
{
  void (*pick) (GtkWidget *canvas, double x, double y);
  void (*pan) (GtkWidget *canvas, double dx, double dy);
  void (*zoom) (GtkWidget *canvas, double factor, double x, double y);
} NappeCanvasInput;

/* Adds the controllers. The table is copied. */
void nappe_canvas_input_add (GtkWidget *canvas, const NappeCanvasInput *input);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pointer and touch on a canvas: click, drag, scroll, Ctrl+scroll, pinch; and Escape, which takes back what is being dragged. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What a canvas does when asked. Points are in the canvas [px]. */
typedef struct
{
  void (*pick) (GtkWidget *canvas, double x, double y);
  void (*pan) (GtkWidget *canvas, double dx, double dy);
  void (*zoom) (GtkWidget *canvas, double factor, double x, double y);
  /* What can be dragged comes before the view. FALSE: there is nothing at the point. */
  gboolean (*grab) (GtkWidget *canvas, double x, double y);
  void (*pull) (GtkWidget *canvas, double dx, double dy, GdkModifierType keys); /* since it was grabbed */
  void (*let_go) (GtkWidget *canvas);
  gboolean (*take_back) (GtkWidget *canvas); /* FALSE: nothing was grabbed */
  const char *(*cursor) (GtkWidget *canvas, double x, double y); /* its name; NULL: the usual one */
} NappeCanvasInput;

/* Adds the controllers. The table is copied. */
void nappe_canvas_input_add (GtkWidget *canvas, const NappeCanvasInput *input);

G_END_DECLS

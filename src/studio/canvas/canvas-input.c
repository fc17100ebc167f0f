/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/canvas-input.h"

#include <math.h>

/* Zoom of one notch of a wheel. */
#define NOTCH 1.2
/* A notch of a wheel without Ctrl moves the view that far [px]. */
#define SCROLL_STEP 48.0

/* Kept as long as the canvas. */
typedef struct
{
  NappeCanvasInput does;
  GtkWidget *canvas;
  double pointer_x, pointer_y; /* where the pointer was last seen */
  double dragged_x, dragged_y; /* offset of the drag under way that has been passed on */
  gboolean grabbed;            /* the drag under way has hold of something */
  double pinched;              /* scale of the pinch under way that has been passed on */
} Input;

static void
pointer_moved (GtkEventControllerMotion *motion, double x, double y, Input *input)
{
  input->pointer_x = x;
  input->pointer_y = y;
  gtk_widget_set_cursor_from_name (input->canvas, input->does.cursor (input->canvas, x, y));
}

static void
clicked (GtkGestureClick *click, int n_press, double x, double y, Input *input)
{
  input->does.pick (input->canvas, x, y);
}

static void
drag_begun (GtkGestureDrag *drag, double x, double y, Input *input)
{
  input->dragged_x = input->dragged_y = 0.0;
  input->grabbed = input->does.grab (input->canvas, x, y);
  if (input->grabbed)
    gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_CLAIMED);
}

static void
drag_ended (GtkGestureDrag *drag, double x, double y, Input *input)
{
  if (input->grabbed)
    input->does.let_go (input->canvas);
  input->grabbed = FALSE;
}

static void
drag_cancelled (GtkGesture *drag, GdkEventSequence *sequence, Input *input)
{
  input->does.take_back (input->canvas);
  input->grabbed = FALSE;
}

static gboolean
key_pressed (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state, Input *input)
{
  return key == GDK_KEY_Escape && input->does.take_back (input->canvas);
}

static void
dragged (GtkGestureDrag *drag, double x, double y, Input *input)
{
  if (input->grabbed)
    {
      input->does.pull (input->canvas, x, y, gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (drag)));
      return;
    }
  if (!gtk_drag_check_threshold (input->canvas, 0, 0, (int) x, (int) y) && input->dragged_x == 0.0
      && input->dragged_y == 0.0)
    return;
  /* It is no click any more. */
  gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_CLAIMED);
  input->does.pan (input->canvas, input->dragged_x - x, input->dragged_y - y);
  input->dragged_x = x;
  input->dragged_y = y;
}

static gboolean
scrolled (GtkEventControllerScroll *scroll, double dx, double dy, Input *input)
{
  GdkModifierType keys = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (scroll));

  if (keys & GDK_CONTROL_MASK)
    input->does.zoom (input->canvas, pow (NOTCH, -dy), input->pointer_x, input->pointer_y);
  else if (keys & GDK_SHIFT_MASK)
    input->does.pan (input->canvas, (dx + dy) * SCROLL_STEP, 0.0);
  else
    input->does.pan (input->canvas, dx * SCROLL_STEP, dy * SCROLL_STEP);
  return TRUE;
}

static void
pinch_begun (GtkGesture *pinch, GdkEventSequence *sequence, Input *input)
{
  input->pinched = 1.0;
}

static void
pinched (GtkGestureZoom *pinch, double scale, Input *input)
{
  double x, y;

  if (!gtk_gesture_get_bounding_box_center (GTK_GESTURE (pinch), &x, &y) || scale <= 0.0)
    return;
  input->does.zoom (input->canvas, scale / input->pinched, x, y);
  input->pinched = scale;
}

void
nappe_canvas_input_add (GtkWidget *canvas, const NappeCanvasInput *does)
{
  Input *input = g_new0 (Input, 1);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new (), *drag = gtk_gesture_drag_new (), *pinch = gtk_gesture_zoom_new ();

  input->does = *does;
  input->canvas = canvas;
  g_object_set_data_full (G_OBJECT (canvas), "nappe-canvas-input", input, g_free);
  g_signal_connect (motion, "motion", G_CALLBACK (pointer_moved), input);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scrolled), input);
  g_signal_connect (click, "released", G_CALLBACK (clicked), input);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begun), input);
  g_signal_connect (drag, "drag-update", G_CALLBACK (dragged), input);
  g_signal_connect (drag, "drag-end", G_CALLBACK (drag_ended), input);
  g_signal_connect (drag, "cancel", G_CALLBACK (drag_cancelled), input);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), input);
  g_signal_connect (pinch, "begin", G_CALLBACK (pinch_begun), input);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (pinched), input);
  /* Before the widget that has the focus. */
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_widget_add_controller (canvas, keys);
  gtk_widget_add_controller (canvas, motion);
  gtk_widget_add_controller (canvas, scroll);
  gtk_widget_add_controller (canvas, GTK_EVENT_CONTROLLER (pinch));
  gtk_widget_add_controller (canvas, GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (canvas, GTK_EVENT_CONTROLLER (click));
}

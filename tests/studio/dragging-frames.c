/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drags the end of a demo’s tank to and fro in its window, where nothing is near to line up with, and prints how long
 * the frames take and for how long the main thread stood still. Study, findings and picture are made anew in every frame.
 *   dragging-frames DEMO */
#include "frame-watch.h"
#include "studio-fixture.h"
#include "studio/canvas/canvas-handle.h"
#include "studio/canvas/canvas.h"
#include "studio/application/watchdog.h"

/* It is dragged to the right by so many px, and back. */
#define WAY 40

typedef struct
{
  NappeCanvas *canvas;
  GtkGesture *drag;
  const NappePicture *seen; /* when it last moved; compared alone */
  guint moves, pictures;
} Hand;

static GtkGesture *
find_drag (GtkWidget *canvas)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (canvas);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_GESTURE_DRAG (controller))
        return GTK_GESTURE (controller);
    }
  g_assert_not_reached ();
}

static GtkWidget *
find_handle (GtkWidget *canvas, const char *field)
{
  for (GtkWidget *child = gtk_widget_get_first_child (canvas); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (NAPPE_IS_CANVAS_HANDLE (child) && g_str_equal (nappe_canvas_handle_get (NAPPE_CANVAS_HANDLE (child))->field, field))
      return child;
  g_assert_not_reached ();
}

/* Where pointers tell of themselves: before the frame is laid out. */
static void
move (GdkFrameClock *clock, Hand *hand)
{
  guint place = hand->moves++ % (2 * WAY);
  const NappePicture *picture = nappe_canvas_get_picture (hand->canvas);

  hand->pictures += picture != hand->seen;
  hand->seen = picture;

  g_signal_emit_by_name (hand->drag, "drag-update", (double) (place < WAY ? place : 2 * WAY - place), 0.0);
  gdk_frame_clock_request_phase (clock, GDK_FRAME_CLOCK_PHASE_UPDATE);
}

static void
stalled (gint64 took, gpointer longest)
{
  *(gint64 *) longest = MAX (*(gint64 *) longest, took);
}

static void
drag (StudioFixture *self, const char *demo)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (self->window));
  GtkWidget *canvas;
  Hand hand = { 0 };
  FrameWatch watch;
  GSource *watchdog;
  gint64 longest = 0;
  graphene_rect_t place;

  studio_fixture_load (self, demo);
  canvas = studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_CANVAS, NULL);
  hand = (Hand) { .canvas = NAPPE_CANVAS (canvas), .drag = find_drag (canvas) };
  nappe_window_select (self->window, nappe_part_get_id (nappe_document_get_build (self->document)->tank));
  studio_fixture_settle (self);
  g_assert_true (gtk_widget_compute_bounds (find_handle (canvas, "length"), canvas, &place));
  g_signal_emit_by_name (hand.drag, "drag-begin", (double) (place.origin.x + place.size.width / 2),
                         (double) (place.origin.y + place.size.height / 2));
  g_assert_true (nappe_document_has_draft (self->document));
  frame_watch_begin (&watch, GTK_WIDGET (self->window));
  watchdog = nappe_watchdog_new (NULL, NAPPE_STALL, stalled, &longest);
  g_signal_connect (clock, "before-paint", G_CALLBACK (move), &hand);
  move (clock, &hand);
  while (watch.n < FRAME_WATCH_FRAMES)
    g_main_context_iteration (NULL, TRUE);
  g_signal_handlers_disconnect_by_data (clock, &hand);
  g_source_destroy (watchdog);
  g_print ("%s, its tank’s end dragged: %u pictures in %u moves\n", demo, hand.pictures, hand.moves);
  frame_watch_end (&watch);
  g_print ("  main thread stood still for at most %.0f ms (0: never above %d ms)\n", 1e-3 * (double) longest,
           (int) (NAPPE_STALL / G_TIME_SPAN_MILLISECOND));
  g_signal_emit_by_name (hand.drag, "drag-end", 0.0, 0.0);
}

int
main (int argc, char **argv)
{
  NappeApplication *application;

  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
  application = studio_fixture_application ();
  for (int i = 1; i < argc; i++)
    {
      StudioFixture fixture = { 0 };

      studio_fixture_open (&fixture, application);
      gtk_window_set_default_size (GTK_WINDOW (fixture.window), 1400, 900);
      drag (&fixture, argv[i]);
      studio_fixture_close (&fixture);
    }
  g_object_unref (application);
  return 0;
}

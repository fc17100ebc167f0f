/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Watching a case in the window: run, play, scrub, step, stop, export. */
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "studio-fixture.h"
#include "studio/canvas/canvas-item.h"
#include "studio/time/curves-view.h"
#include "studio/time/event-list.h"
#include "studio/window/export.h"
#include "studio/time/player.h"
#include "studio/time/time-view.h"

static GtkWidget *
find (StudioFixture *self, GType type)
{
  return studio_fixture_find (GTK_WIDGET (self->window), type, NULL);
}

static NappeCanvas *
time_canvas (StudioFixture *self)
{
  return nappe_time_view_get_canvas (NAPPE_TIME_VIEW (find (self, NAPPE_TYPE_TIME_VIEW)));
}

static NappePicture *
curves (StudioFixture *self)
{
  return nappe_curves_view_get_picture (NAPPE_CURVES_VIEW (find (self, NAPPE_TYPE_CURVES_VIEW)));
}

static NappeEventList *
events (StudioFixture *self)
{
  return NAPPE_EVENT_LIST (find (self, NAPPE_TYPE_EVENT_LIST));
}

static GtkRange *
slider (StudioFixture *self)
{
  return GTK_RANGE (studio_fixture_find (find (self, NAPPE_TYPE_TIME_VIEW), GTK_TYPE_SCALE, NULL));
}

static gboolean
is_drawn (StudioFixture *self)
{
  return curves (self) != NULL && nappe_canvas_get_shown (time_canvas (self)) == NAPPE_SHOW_MOMENT;
}

static void
run_case (StudioFixture *self, const char *demo, const char *id)
{
  studio_fixture_load (self, demo);
  studio_fixture_act (self, "win.view", "time");
  studio_fixture_act (self, "win.case", id);
  studio_fixture_act (self, "win.run-case", NULL);
  studio_fixture_wait (self, is_drawn);
  studio_fixture_settle (self);
}

/* Whether a label with this text is to be seen. */
static gboolean
shows_text (GtkWidget *widget, const char *text)
{
  if (GTK_IS_LABEL (widget) && gtk_widget_get_mapped (widget) && g_str_equal (gtk_label_get_text (GTK_LABEL (widget)), text))
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (shows_text (child, text))
      return TRUE;
  return FALSE;
}

/* Before anything runs there are cases, a picture at rest, words about what to do, and nothing to play. */
static void
test_at_rest (StudioFixture *self, gconstpointer data)
{
  GtkDropDown *chooser;

  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_act (self, "win.view", "time");
  studio_fixture_settle (self);
  chooser = GTK_DROP_DOWN (studio_fixture_find (find (self, NAPPE_TYPE_TIME_VIEW), GTK_TYPE_DROP_DOWN, NULL));
  g_assert_cmpuint (g_list_model_get_n_items (gtk_drop_down_get_model (chooser)), >, 8);
  g_assert_cmpint (nappe_canvas_get_shown (time_canvas (self)), ==, NAPPE_SHOW_RUNNING);
  g_assert_nonnull (nappe_canvas_get_picture (time_canvas (self)));
  g_assert_null (curves (self));
  g_assert_true (shows_text (GTK_WIDGET (self->window), "Nothing has happened yet"));
  g_assert_false (gtk_widget_get_mapped (find (self, NAPPE_TYPE_CURVES_VIEW)));
  studio_fixture_picture (self, "light-time-rest");
  studio_fixture_act (self, "win.run-case", NULL);
  studio_fixture_wait (self, is_drawn);
  studio_fixture_settle (self);
  g_assert_false (shows_text (GTK_WIDGET (self->window), "Nothing has happened yet"));
  g_assert_true (gtk_widget_get_mapped (find (self, NAPPE_TYPE_CURVES_VIEW)));
}

/* A trial that is written down in the build is among the cases, and is played. */
/* A case is picked from the open list as a click picks it: the list is still there afterwards. */
static void
test_pick_case (StudioFixture *self, gconstpointer data)
{
  GtkDropDown *chooser;
  GtkWidget *list;

  studio_fixture_load (self, "single-drain.nappe");
  studio_fixture_act (self, "win.view", "time");
  studio_fixture_settle (self);
  chooser = GTK_DROP_DOWN (studio_fixture_find (find (self, NAPPE_TYPE_TIME_VIEW), GTK_TYPE_DROP_DOWN, NULL));
  GListModel *cases = gtk_drop_down_get_model (chooser);
  gtk_widget_activate (GTK_WIDGET (chooser));
  studio_fixture_settle (self);
  list = studio_fixture_find (GTK_WIDGET (chooser), GTK_TYPE_LIST_VIEW, NULL);
  g_assert_nonnull (list);
  gtk_single_selection_set_selected (GTK_SINGLE_SELECTION (gtk_list_view_get_model (GTK_LIST_VIEW (list))), 2);
  g_signal_emit_by_name (list, "activate", 2u);
  studio_fixture_settle (self);
  g_assert_cmpuint (gtk_drop_down_get_selected (chooser), ==, 2);
  g_assert_true (gtk_drop_down_get_model (chooser) == cases);
}

static void
test_trial (StudioFixture *self, gconstpointer data)
{
  run_case (self, "two-drain.nappe", "quiet-evening");
  g_assert_cmpfloat (gtk_adjustment_get_upper (gtk_range_get_adjustment (slider (self))), ==, 1800.0);
  studio_fixture_act (self, "win.next-event", NULL);
  g_assert_cmpfloat (gtk_range_get_value (slider (self)), ==, 60.0);
}

/* When all happens in the first minutes the curves begin with those; the rest is a step away. */
static void
test_eventful_stretch (StudioFixture *self, gconstpointer data)
{
  NappeCurvesView *view;
  double first, last, end;

  run_case (self, "three-drain.nappe", "power-cut");
  view = NAPPE_CURVES_VIEW (find (self, NAPPE_TYPE_CURVES_VIEW));
  end = gtk_adjustment_get_upper (gtk_range_get_adjustment (slider (self)));
  nappe_curves_view_get_stretch (view, &first, &last);
  g_assert_cmpfloat (first, ==, 0.0);
  g_assert_cmpfloat (last, <, 0.5 * end);
  for (guint i = 0; i < 50; i++)
    studio_fixture_act (self, "win.next-event", NULL);
  g_assert_cmpfloat (gtk_range_get_value (slider (self)), <, last);
  gtk_range_set_value (slider (self), 0.9 * end);
  nappe_curves_view_get_stretch (view, &first, &last);
  g_assert_cmpfloat (last, ==, end);
}

static gboolean
is_flow (StudioFixture *self)
{
  NappePicture *picture = nappe_canvas_get_picture (time_canvas (self));
  guint n;
  const NappePictureItem *items = nappe_picture_items (picture, &n);

  /* It alone says where lines lead. */
  for (guint i = 0; i < n; i++)
    if (strstr (items[i].description, ", into ") != NULL)
      return TRUE;
  return FALSE;
}

/* The moment is seen in the flow diagram as well. */
static void
test_moving_flow (StudioFixture *self, gconstpointer data)
{
  run_case (self, "three-drain.nappe", "snail-and-power-cut");
  gtk_range_set_value (slider (self), 700.0);
  g_assert_false (is_flow (self));
  studio_fixture_act (self, "win.moving-picture", "flow");
  studio_fixture_wait (self, is_flow);
  g_assert_cmpint (nappe_canvas_get_shown (time_canvas (self)), ==, NAPPE_SHOW_MOMENT);
  studio_fixture_picture (self, "light-time-flow");
  studio_fixture_act (self, "win.moving-picture", "elevation");
  studio_fixture_settle (self);
  g_assert_false (is_flow (self));
}

/* Whether the picture leaves arrows to what is drawn over it in every frame. */
static gboolean
has_moving_arrows (StudioFixture *self)
{
  g_autoptr (NappeMotion) motion = nappe_motion_new ();
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  double x, y, width, height;

  nappe_motion_draw (motion, nappe_canvas_get_picture (time_canvas (self)), cr);
  cairo_destroy (cr);
  cairo_recording_surface_ink_extents (surface, &x, &y, &width, &height);
  cairo_surface_destroy (surface);
  return width > 0.0 && height > 0.0;
}

/* Arrows travel with the water, but not for who wants nothing to move. */
static void
test_motion (StudioFixture *self, gconstpointer data)
{
  GtkSettings *settings = gtk_widget_get_settings (GTK_WIDGET (self->window));

  run_case (self, "single-drain.nappe", "power-cut");
  g_assert_true (has_moving_arrows (self));
  g_object_set (settings, "gtk-enable-animations", FALSE, NULL);
  studio_fixture_settle (self);
  g_assert_false (has_moving_arrows (self));
  g_object_set (settings, "gtk-enable-animations", TRUE, NULL);
  studio_fixture_settle (self);
  g_assert_true (has_moving_arrows (self));
}

/* The restart is played: events are listed, stepping goes through them and both lists agree. */
static void
test_events (StudioFixture *self, gconstpointer data)
{
  double first;

  run_case (self, "three-drain.nappe", "restart");
  g_assert_cmpfloat (gtk_range_get_value (slider (self)), ==, 0.0);
  studio_fixture_act (self, "win.next-event", NULL);
  g_assert_cmpint (nappe_event_list_get_selected (events (self)), >=, 0);
  first = gtk_range_get_value (slider (self));
  g_assert_cmpfloat (first, >, 0.0);
  studio_fixture_act (self, "win.next-event", NULL);
  g_assert_cmpfloat (gtk_range_get_value (slider (self)), >, first);
  studio_fixture_act (self, "win.previous-event", NULL);
  g_assert_cmpfloat (gtk_range_get_value (slider (self)), ==, first);
  g_signal_emit_by_name (events (self), "chosen", 2u);
  g_assert_cmpint (nappe_event_list_get_selected (events (self)), >=, 2);
  g_assert_cmpfloat (gtk_range_get_value (slider (self)), >=, first);
  studio_fixture_picture (self, "light-time-events");
}

/* Curves and slider set the same moment. */
static void
test_scrub (StudioFixture *self, gconstpointer data)
{
  double end;

  run_case (self, "two-drain.nappe", "power-cut");
  end = gtk_adjustment_get_upper (gtk_range_get_adjustment (slider (self)));
  g_assert_cmpfloat (end, >, 60.0);
  g_signal_emit_by_name (find (self, NAPPE_TYPE_CURVES_VIEW), "scrubbed", end / 2);
  g_assert_cmpfloat_with_epsilon (gtk_range_get_value (slider (self)), end / 2, 1e-9);
  gtk_range_set_value (slider (self), end);
  studio_fixture_settle (self);
  g_assert_cmpint (nappe_canvas_get_shown (time_canvas (self)), ==, NAPPE_SHOW_MOMENT);
  g_signal_emit_by_name (find (self, NAPPE_TYPE_CURVES_VIEW), "scrubbed", -5.0);
  g_assert_cmpfloat (gtk_range_get_value (slider (self)), ==, 0.0);
}

/* A shorter time in the curves follows the moment. */
static void
test_shorter_time (StudioFixture *self, gconstpointer data)
{
  NappeCurvesView *view;
  double first, last;

  run_case (self, "three-drain.nappe", "restart");
  view = NAPPE_CURVES_VIEW (find (self, NAPPE_TYPE_CURVES_VIEW));
  gtk_range_set_value (slider (self), 12.0);
  for (guint i = 0; i < 6; i++)
    studio_fixture_act (self, "win.shorter-time", NULL);
  nappe_curves_view_get_stretch (view, &first, &last);
  g_assert_cmpfloat (last - first, <, 60.0);
  g_assert_cmpfloat (first, <=, 12.0);
  g_assert_cmpfloat (last, >=, 12.0);
  studio_fixture_picture (self, "light-time-shorter");
  gtk_range_set_value (slider (self), 620.0);
  nappe_curves_view_get_stretch (view, &first, &last);
  g_assert_cmpfloat (first, <=, 620.0);
  g_assert_cmpfloat (last, >=, 620.0);
  studio_fixture_act (self, "win.whole-time", NULL);
  nappe_curves_view_get_stretch (view, &first, &last);
  g_assert_cmpfloat (first, ==, 0.0);
  g_assert_cmpfloat (last, >=, 620.0);
}

static gboolean
has_moved (StudioFixture *self)
{
  return gtk_range_get_value (slider (self)) >= 60.0;
}

/* At 600 times its speed a minute passes in a tenth of a second, and the picture follows. */
static void
test_play (StudioFixture *self, gconstpointer data)
{
  run_case (self, "single-drain.nappe", "power-cut");
  studio_fixture_act (self, "win.speed", "600");
  studio_fixture_act (self, "win.play", NULL);
  studio_fixture_wait (self, has_moved);
  if (gtk_range_get_value (slider (self)) < gtk_adjustment_get_upper (gtk_range_get_adjustment (slider (self))))
    studio_fixture_act (self, "win.play", NULL);
  studio_fixture_settle (self);
}

static gboolean
says_litres (GtkWidget *view)
{
  for (GtkWidget *child = gtk_widget_get_first_child (view); child != NULL; child = gtk_widget_get_next_sibling (child))
    if ((GTK_IS_LABEL (child) && g_str_has_suffix (gtk_label_get_text (GTK_LABEL (child)), "on the floor"))
        || says_litres (child))
      return TRUE;
  return FALSE;
}

/* The blocked drain: in the end there is water on the floor, and the bar counts it. */
static void
test_flood (StudioFixture *self, gconstpointer data)
{
  run_case (self, "single-drain.nappe", "block-standpipe");
  g_assert_false (says_litres (find (self, NAPPE_TYPE_TIME_VIEW)));
  gtk_range_set_value (slider (self), gtk_adjustment_get_upper (gtk_range_get_adjustment (slider (self))));
  studio_fixture_settle (self);
  g_assert_true (says_litres (find (self, NAPPE_TYPE_TIME_VIEW)));
  studio_fixture_picture (self, "light-time-flood");
  studio_fixture_act (self, "app.style", "dark");
  studio_fixture_picture (self, "dark-time-flood");
  studio_fixture_act (self, "app.style", "light");
}

/* A part picked at a curve's name is picked in the window. */
static void
test_pick (StudioFixture *self, gconstpointer data)
{
  GtkWidget *item;

  run_case (self, "three-drain.nappe", "power-cut");
  item = studio_fixture_find (find (self, NAPPE_TYPE_CURVES_VIEW), NAPPE_TYPE_CANVAS_ITEM, NULL);
  g_assert_nonnull (item);
  g_assert_cmpstr (nappe_canvas_item_get_description (NAPPE_CANVAS_ITEM (item)), !=, "");
  g_assert_true (gtk_widget_activate_action (item, "item.select", NULL));
  g_assert_cmpstr (nappe_window_get_selected (self->window), ==, nappe_canvas_item_get_part (NAPPE_CANVAS_ITEM (item)));
}

/* A change of the build plays the same case of what it is now. */
static void
test_change (StudioFixture *self, gconstpointer data)
{
  NappePicture *before;
  NappePart *part;

  run_case (self, "three-drain.nappe", "power-cut");
  gtk_range_set_value (slider (self), 30.0);
  before = curves (self);
  part = g_ptr_array_index (nappe_document_get_build (self->document)->overflows, 0);
  g_assert_true (nappe_build_set_number (nappe_document_get_build (self->document), part, "weir_height", 0.48, NULL));
  for (gint64 end = g_get_monotonic_time () + 10 * G_USEC_PER_SEC; curves (self) == before && g_get_monotonic_time () < end;)
    studio_fixture_settle (self);
  g_assert_true (is_drawn (self));
  g_assert_cmpfloat_with_epsilon (gtk_range_get_value (slider (self)), 30.0, 1e-9);
  studio_fixture_act (self, "win.undo", NULL);
  studio_fixture_settle (self);
}

/* A window that goes away while a case runs does no harm: tear_down closes it at once. */
static void
test_close_while_running (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_act (self, "win.run-case", NULL);
  g_assert_nonnull (find (self, NAPPE_TYPE_TIME_VIEW));
}

static void
test_stop (StudioFixture *self, gconstpointer data)
{
  NappePlayer *player = nappe_player_new ();

  studio_fixture_load (self, "three-drain.nappe");
  nappe_player_set_outcome (player, nappe_document_get_outcome (self->document));
  g_assert_true (nappe_player_choose (player, "block-all"));
  g_assert_false (nappe_player_choose (player, "no-such-case"));
  nappe_player_run (player);
  g_assert_true (nappe_player_is_busy (player));
  nappe_player_cancel (player);
  while (nappe_player_is_busy (player))
    g_main_context_iteration (NULL, TRUE);
  /* Nothing, or what had been found. */
  g_assert_cmpfloat (nappe_player_get_time (player), ==, 0.0);
  nappe_player_set_outcome (player, NULL);
  g_assert_null (nappe_player_get_course (player));
  g_assert_false (nappe_player_step (player, 1));
  nappe_player_set_playing (player, TRUE);
  g_assert_false (nappe_player_is_playing (player));
  g_object_unref (player);
}

static void
written (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = nappe_export_finish (result, &error);

  g_assert_no_error (error);
  g_assert_nonnull (name);
  (*(guint *) user_data)++;
}

static void
test_export (StudioFixture *self, gconstpointer data)
{
  static const char *const names[] = { "curves.csv", "curves.svg", "curves.pdf", "moment.png", "moment.svg" };
  const guint n_curves = 3;
  NappeOutcome *outcome;
  g_autoptr (NappePlan) plan = NULL;
  g_autoptr (NappeSimulation) course = NULL;
  g_autoptr (GFile) frame = g_file_new_build_filename (g_get_tmp_dir (), "moment.png", NULL);
  g_autoptr (GFile) diagram = g_file_new_build_filename (g_get_tmp_dir (), "moment.svg", NULL);
  guint done = 0;

  studio_fixture_load (self, "three-drain.nappe");
  outcome = nappe_document_get_outcome (self->document);
  plan = nappe_plan_find (outcome->build, outcome->study, "power-cut", NULL);
  course = nappe_simulation_new (outcome->study, plan, 0.0, NULL, NULL, NULL, NULL);
  for (guint i = 0; i < n_curves; i++)
    {
      g_autoptr (GFile) file = g_file_new_build_filename (g_get_tmp_dir (), names[i], NULL);
      nappe_export_curves_async (outcome, course, file, written, &done);
    }
  nappe_export_moment_async (outcome, NAPPE_PICTURE_ELEVATION, course, 12.0, frame, written, &done);
  nappe_export_moment_async (outcome, NAPPE_PICTURE_FLOW, course, 12.0, diagram, written, &done);
  while (done < G_N_ELEMENTS (names))
    g_main_context_iteration (NULL, TRUE);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (g_get_tmp_dir (), names[i], NULL);
      GStatBuf status;
      g_assert_cmpint (g_stat (path, &status), ==, 0);
      g_assert_cmpint (status.st_size, >, 1000);
    }
}

/* It fits a window of 360 px. */
static void
test_narrow (StudioFixture *self, gconstpointer data)
{
  GtkWidget *window = GTK_WIDGET (self->window);
  int minimum;

  gtk_window_set_default_size (GTK_WINDOW (window), 360, 700);
  run_case (self, "three-drain.nappe", "restart");
  gtk_widget_measure (find (self, NAPPE_TYPE_TIME_VIEW), GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, 360);
  gtk_widget_measure (window, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, 360);
  studio_fixture_act (self, "win.side-panel", NULL);
  gtk_range_set_value (slider (self), 90.0);
  studio_fixture_picture (self, "narrow-events");
  studio_fixture_act (self, "win.side-panel", NULL);
  studio_fixture_picture (self, "narrow-time");
}

static const StudioTest tests[] = {
  { "/studio/time/at-rest", test_at_rest },
  { "/studio/time/pick-case", test_pick_case },
  { "/studio/time/trial", test_trial },
  { "/studio/time/eventful-stretch", test_eventful_stretch },
  { "/studio/time/moving-flow", test_moving_flow },
  { "/studio/time/motion", test_motion },
  { "/studio/time/events", test_events },
  { "/studio/time/scrub", test_scrub },
  { "/studio/time/shorter-time", test_shorter_time },
  { "/studio/time/play", test_play },
  { "/studio/time/flood", test_flood },
  { "/studio/time/pick", test_pick },
  { "/studio/time/change", test_change },
  { "/studio/time/close-while-running", test_close_while_running },
  { "/studio/time/stop", test_stop },
  { "/studio/time/export", test_export },
  { "/studio/time/narrow", test_narrow },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The charts from inside the window: chosen, followed, picked, exported. Pictures are left in the build folder. */
#include <glib/gstdio.h>

#include "studio-fixture.h"
#include "studio/canvas/canvas-item.h"
#include "studio/canvas/chart-view.h"
#include "studio/window/export.h"

static NappeChartView *
show_charts (StudioFixture *self, const char *demo)
{
  studio_fixture_load (self, demo);
  studio_fixture_act (self, "win.view", "charts");
  studio_fixture_settle (self);
  return NAPPE_CHART_VIEW (studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_CHART_VIEW, NULL));
}

static void
assert_shows (NappeChartView *view, NappeChartKind wanted, const char *wanted_part)
{
  NappeChartKind kind;
  const char *part;

  g_assert_true (nappe_chart_view_get_chart (view, &kind, &part));
  g_assert_cmpint (kind, ==, wanted);
  g_assert_cmpstr (part, ==, wanted_part);
}

static void
test_first (StudioFixture *self, gconstpointer data)
{
  NappeChartView *view = show_charts (self, "three-drain.nappe");
  guint n;

  assert_shows (view, NAPPE_CHART_PUMP, nappe_document_get_outcome (self->document)->study->pumps[0].id);
  g_assert_nonnull (nappe_canvas_get_picture (nappe_chart_view_get_canvas (view)));
  nappe_picture_items (nappe_canvas_get_picture (nappe_chart_view_get_canvas (view)), &n);
  g_assert_cmpuint (n, >=, 2);
  /* It has all the room that the elevation has. */
  g_assert_cmpint (gtk_widget_get_width (GTK_WIDGET (view)), ==,
                   gtk_widget_get_width (studio_fixture_find (GTK_WIDGET (self->window), ADW_TYPE_VIEW_STACK, NULL)));
  studio_fixture_picture (self, "light-chart-pump");
}

/* Each chart of the list can be chosen and is drawn, with items for the keyboard. */
static void
test_all_in_the_list (StudioFixture *self, gconstpointer data)
{
  NappeChartView *view = show_charts (self, "three-drain.nappe");
  GtkDropDown *chooser = GTK_DROP_DOWN (studio_fixture_find (GTK_WIDGET (view), GTK_TYPE_DROP_DOWN, NULL));
  guint n = g_list_model_get_n_items (gtk_drop_down_get_model (chooser));

  g_assert_cmpuint (n, >=, 6);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *name = g_strdup_printf ("light-chart-%u", i);

      gtk_drop_down_set_selected (chooser, i);
      studio_fixture_settle (self);
      g_assert_nonnull (studio_fixture_find (GTK_WIDGET (view), NAPPE_TYPE_CANVAS_ITEM, NULL));
      studio_fixture_picture (self, name);
    }
}

static void
test_follows (StudioFixture *self, gconstpointer data)
{
  NappeChartView *view = show_charts (self, "three-drain.nappe");
  const NappeOutcome *outcome = nappe_document_get_outcome (self->document);

  nappe_window_select (self->window, nappe_part_get_id (outcome->build->tank));
  assert_shows (view, NAPPE_CHART_RUN_DOWN, nappe_part_get_id (outcome->build->sump));
  nappe_window_select (self->window, "siphon");
  assert_shows (view, NAPPE_CHART_TUNING, "siphon");
  nappe_window_select (self->window, "siphon-valve");
  assert_shows (view, NAPPE_CHART_HEAD, "siphon");
  nappe_window_select (self->window, NULL);
  assert_shows (view, NAPPE_CHART_HEAD, "siphon");
}

/* What is picked in a chart is picked everywhere, and the chart stays. */
static void
test_pick_stays (StudioFixture *self, gconstpointer data)
{
  NappeChartView *view = show_charts (self, "three-drain.nappe");
  GtkWidget *item;

  nappe_window_select (self->window, nappe_part_get_id (nappe_document_get_build (self->document)->sump));
  studio_fixture_settle (self);
  item = gtk_widget_get_first_child (GTK_WIDGET (nappe_chart_view_get_canvas (view)));
  while (item != NULL && g_strcmp0 (nappe_canvas_item_get_part (NAPPE_CANVAS_ITEM (item)), "siphon") != 0)
    item = gtk_widget_get_next_sibling (item);
  g_assert_nonnull (item);
  g_assert_true (gtk_widget_activate_action (item, "item.select", NULL));
  g_assert_cmpstr (nappe_window_get_selected (self->window), ==, "siphon");
  assert_shows (view, NAPPE_CHART_RUN_DOWN, nappe_part_get_id (nappe_document_get_build (self->document)->sump));
}

/* A change of the build reaches the chart, and the chart stays the one that was chosen. */
static void
test_follows_the_build (StudioFixture *self, gconstpointer data)
{
  NappeChartView *view = show_charts (self, "three-drain.nappe");
  NappeBuild *build = nappe_document_get_build (self->document);
  g_autofree char *before = NULL, *after = NULL;
  guint n;

  nappe_window_select (self->window, "siphon");
  studio_fixture_settle (self);
  before = g_strdup (nappe_picture_items (nappe_canvas_get_picture (nappe_chart_view_get_canvas (view)), &n)[0].description);
  g_assert_true (nappe_build_set_number (build, nappe_build_find (build, "return-pump"), "speed", 0.97, NULL));
  studio_fixture_settle (self);
  assert_shows (view, NAPPE_CHART_TUNING, "siphon");
  after = g_strdup (nappe_picture_items (nappe_canvas_get_picture (nappe_chart_view_get_canvas (view)), &n)[0].description);
  g_assert_cmpstr (before, !=, after);
}

static void
written (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (GError) error = NULL;

  *(char **) user_data = nappe_export_finish (result, &error);
  g_assert_no_error (error);
}

static void
test_export (StudioFixture *self, gconstpointer data)
{
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "nappe-test-chart.pdf", NULL);
  g_autoptr (GFile) target = g_file_new_for_path (path);
  char *name = NULL;
  g_autofree char *bytes = NULL;

  show_charts (self, "three-drain.nappe");
  nappe_export_chart_async (nappe_document_get_outcome (self->document), NAPPE_CHART_TUNING, "siphon", target, written, &name);
  while (name == NULL)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpstr (name, ==, "nappe-test-chart.pdf");
  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));
  g_unlink (path);
  g_free (name);
}

static const StudioTest tests[] = {
  { "/studio/charts/first", test_first },
  { "/studio/charts/all-in-the-list", test_all_in_the_list },
  { "/studio/charts/follows", test_follows },
  { "/studio/charts/pick-stays", test_pick_stays },
  { "/studio/charts/follows-the-build", test_follows_the_build },
  { "/studio/charts/export", test_export },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}

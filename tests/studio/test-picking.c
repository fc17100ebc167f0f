/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is picked in one view is picked in all, and the way from a part to its chart. */
#include "studio-fixture.h"
#include "studio/canvas/canvas-item.h"
#include "studio/canvas/chart-view.h"

static const char *const views[] = { "elevation", "flow", "plan", "panes", "charts" };

/* The canvas on screen. */
static GtkWidget *
canvas_below (GtkWidget *root)
{
  GtkWidget *found = NAPPE_IS_CANVAS (root) && gtk_widget_get_mapped (root) ? root : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = canvas_below (child);
  return found;
}

static void
show (StudioFixture *self, const char *view)
{
  studio_fixture_act (self, "win.view", view);
  studio_fixture_settle (self);
}

/* What the picture on screen looks like. */
static char *
look (StudioFixture *self)
{
  NappePicture *picture = nappe_canvas_get_picture (NAPPE_CANVAS (canvas_below (GTK_WIDGET (self->window))));
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 1400, 900);
  cairo_t *cr = cairo_create (surface);
  char *sum;

  nappe_picture_draw (picture, cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  sum = g_compute_checksum_for_data (G_CHECKSUM_SHA256, cairo_image_surface_get_data (surface),
                                     (gsize) cairo_image_surface_get_stride (surface) * 900);
  cairo_surface_destroy (surface);
  return sum;
}

static void
activate (StudioFixture *self, const char *part)
{
  GtkWidget *item = gtk_widget_get_first_child (canvas_below (GTK_WIDGET (self->window)));

  while (item != NULL && !(NAPPE_IS_CANVAS_ITEM (item)
                           && g_strcmp0 (nappe_canvas_item_get_part (NAPPE_CANVAS_ITEM (item)), part) == 0))
    item = gtk_widget_get_next_sibling (item);
  g_assert_nonnull (item);
  g_assert_true (gtk_widget_activate_action (item, "item.select", NULL));
}

/* A siphon has an end in the sump, a hole in a pane and a chart of its own: it is seen, and can be picked, in every view. */
static void
test_everywhere (StudioFixture *self, gconstpointer data)
{
  char *plain[G_N_ELEMENTS (views)];

  studio_fixture_load (self, "three-drain.nappe");
  show (self, "charts");
  /* The charts follow what is picked, and stay when nothing is any more. */
  nappe_window_select (self->window, "siphon");
  nappe_window_select (self->window, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (views); i++)
    {
      show (self, views[i]);
      plain[i] = look (self);
    }
  for (guint from = 0; from < G_N_ELEMENTS (views); from++)
    {
      nappe_window_select (self->window, NULL);
      show (self, views[from]);
      activate (self, "siphon");
      g_assert_cmpstr (nappe_window_get_selected (self->window), ==, "siphon");
      for (guint to = 0; to < G_N_ELEMENTS (views); to++)
        {
          g_autofree char *picked = NULL, *name = g_strdup_printf ("light-picked-%s", views[to]);

          show (self, views[to]);
          picked = look (self);
          if (g_str_equal (picked, plain[to]))
            g_test_fail_printf ("picked in %s, not marked in %s", views[from], views[to]);
          if (from == 0)
            studio_fixture_picture (self, name);
        }
    }
  for (guint i = 0; i < G_N_ELEMENTS (views); i++)
    g_free (plain[i]);
}

static GtkWidget *
find_button (GtkWidget *root, const char *action)
{
  if (GTK_IS_BUTTON (root) && g_strcmp0 (gtk_actionable_get_action_name (GTK_ACTIONABLE (root)), action) == 0)
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_button (child, action);
      if (found != NULL)
        return found;
    }
  return NULL;
}

/* Of a part with a chart the panel has a button that leads there, whatever chart was looked at before. */
static void
test_to_chart (StudioFixture *self, gconstpointer data)
{
  static const struct
  {
    const char *part;
    NappeChartKind kind;
    const char *of;
  } ways[] = { { "return-pump", NAPPE_CHART_PUMP, "return-pump" }, { "siphon", NAPPE_CHART_TUNING, "siphon" },
               { "return", NAPPE_CHART_HEAD, "return" }, { "siphon-valve", NAPPE_CHART_HEAD, "siphon" } };
  GtkWidget *button, *view;

  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_act (self, "win.panel", "part");
  for (guint i = 0; i < G_N_ELEMENTS (ways); i++)
    {
      NappeChartKind kind;
      const char *of;

      show (self, "elevation");
      nappe_window_select (self->window, ways[i].part);
      studio_fixture_settle (self);
      button = find_button (GTK_WIDGET (self->window), "win.show-chart");
      g_assert_nonnull (button);
      g_assert_true (gtk_widget_get_mapped (button));
      g_signal_emit_by_name (button, "clicked");
      studio_fixture_settle (self);
      view = studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_CHART_VIEW, NULL);
      g_assert_true (gtk_widget_get_mapped (view));
      g_assert_true (nappe_chart_view_get_chart (NAPPE_CHART_VIEW (view), &kind, &of));
      g_assert_cmpint (kind, ==, ways[i].kind);
      g_assert_cmpstr (of, ==, ways[i].of);
    }
  studio_fixture_picture (self, "light-panel-to-chart");
  nappe_window_select (self->window, nappe_part_get_id (nappe_document_get_build (self->document)->stand));
  studio_fixture_settle (self);
  button = find_button (GTK_WIDGET (self->window), "win.show-chart");
  g_assert_false (gtk_widget_get_mapped (button));
}

static const StudioTest tests[] = {
  { "/studio/picking/everywhere", test_everywhere },
  { "/studio/picking/to-chart", test_to_chart },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints how much memory the studio holds above an empty window of the toolkit: with a demo open, and after every view and window
 * has been looked at and a case played.
 *   memory-above-empty DEMO */
#include <stdlib.h>
#include <string.h>

#include "studio-fixture.h"
#include "studio/canvas/canvas.h"
#include "studio/time/time-view.h"

#define AIM_MB 60.0
#define MB (1024.0 * 1024.0)

/* What of the process is in memory [MB]. */
static double
resident (void)
{
  g_autofree char *text = NULL;
  const char *line;

  g_assert_true (g_file_get_contents ("/proc/self/status", &text, NULL, NULL));
  line = strstr (text, "VmRSS:");
  g_assert_nonnull (line);
  return strtod (line + strlen ("VmRSS:"), NULL) * 1024.0 / MB;
}

static double
measure_empty (void)
{
  GtkWidget *window = adw_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  double held;

  gtk_box_append (GTK_BOX (box), adw_header_bar_new ());
  adw_window_set_content (ADW_WINDOW (window), box);
  gtk_window_set_default_size (GTK_WINDOW (window), 1400, 900);
  gtk_window_present (GTK_WINDOW (window));
  studio_fixture_pause (1.0);
  held = resident ();
  gtk_window_destroy (GTK_WINDOW (window));
  return held;
}

static void
tell (const char *when, double empty)
{
  g_print ("  %-36s %5.1f MB above it (at most %.0f)\n", when, resident () - empty, AIM_MB);
}

static gboolean
is_played (StudioFixture *self)
{
  GtkWidget *view = studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_TIME_VIEW, NULL);

  return nappe_canvas_get_shown (nappe_time_view_get_canvas (NAPPE_TIME_VIEW (view))) == NAPPE_SHOW_MOMENT;
}

static void
look_at_all (StudioFixture *self)
{
  static const char *const views[] = { "flow", "charts", "plan", "panes", "elevation", "time" };

  for (gsize i = 0; i < G_N_ELEMENTS (views); i++)
    {
      studio_fixture_act (self, "win.view", views[i]);
      studio_fixture_pause (0.5);
    }
  studio_fixture_act (self, "win.case", "restart");
  studio_fixture_act (self, "win.run-case", NULL);
  studio_fixture_wait (self, is_played);
  nappe_window_select (self->window, nappe_part_get_id (nappe_document_get_build (self->document)->sump));
  studio_fixture_act (self, "win.panel", "part");
  studio_fixture_act (self, "win.view", "elevation");
  studio_fixture_act (self, "win.add", NULL);
  studio_fixture_pause (1.0);
}

int
main (int argc, char **argv)
{
  NappeApplication *application;
  StudioFixture fixture = { 0 };
  double empty;

  gtk_test_init (&argc, &argv, NULL);
  if (argc < 2)
    return EXIT_FAILURE;
  adw_init ();
  empty = measure_empty ();
  application = studio_fixture_application ();
  g_print ("memory: an empty window holds %.1f MB\n", empty);
  studio_fixture_open (&fixture, application);
  gtk_window_set_default_size (GTK_WINDOW (fixture.window), 1400, 900);
  studio_fixture_load (&fixture, argv[1]);
  studio_fixture_pause (1.0);
  tell (argv[1], empty);
  look_at_all (&fixture);
  tell ("every view seen, a case played", empty);
  studio_fixture_close (&fixture);
  g_object_unref (application);
  return EXIT_SUCCESS;
}

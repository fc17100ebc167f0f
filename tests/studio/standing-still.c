/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Does what a person does with a demo, one thing after another, and prints for how long the main thread was busy at a
 * time: by its own clock, since another program may have the processor meanwhile. standing-still DEMO */
#include <time.h>

#include "studio-fixture.h"
#include "studio/application/watchdog.h"

/* Rounds of the main loop are watched for so long after a thing was done [s]. */
#define AFTER 1.2

typedef struct
{
  const char *action, *parameter; /* of the window */
  const char *part;               /* NULL: a text as parameter */
} Deed;

static double
thread_ms (void)
{
  struct timespec time;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &time);
  return 1e3 * (double) time.tv_sec + 1e-6 * (double) time.tv_nsec;
}

/* Lets the program run; the longest round [ms]. start: when the first of them began. */
static double
watch (double start)
{
  double longest = 0.0;

  for (gint64 end = g_get_monotonic_time () + (gint64) (AFTER * G_USEC_PER_SEC); g_get_monotonic_time () < end;)
    {
      if (!g_main_context_iteration (NULL, FALSE))
        g_usleep (200);
      longest = MAX (longest, thread_ms () - start);
      start = thread_ms ();
    }
  return longest;
}

static void
tell (const char *deed, const char *parameter, double longest)
{
  g_print ("  %6.1f ms%s  %s %s\n", longest, longest > 1e3 * NAPPE_STALL / G_USEC_PER_SEC ? " !" : "  ", deed,
           parameter != NULL ? parameter : "");
}

static void
close_others (StudioFixture *self)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *window = windows; window != NULL; window = window->next)
    if (window->data != self->window)
      gtk_window_destroy (window->data);
}

static void
act (StudioFixture *self, const Deed *deed)
{
  g_autoptr (GVariant) parameter = NULL;
  double start = thread_ms ();

  if (deed->parameter != NULL && deed->part != NULL)
    parameter = g_variant_ref_sink (g_variant_new ("(ss)", deed->parameter, deed->part));
  else if (deed->parameter != NULL)
    parameter = g_variant_ref_sink (g_variant_new_string (deed->parameter));
  gtk_widget_activate_action_variant (GTK_WIDGET (self->window), deed->action, parameter);
  tell (deed->action, deed->parameter, watch (start));
  close_others (self);
  watch (thread_ms ());
}

static void
apply_first_cure (StudioFixture *self)
{
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);
  const GPtrArray *findings = outcome->verdict->findings;
  double start;

  for (guint i = 0; i < findings->len && i < 3; i++)
    {
      Deed look = { "win.look-for-cures", nappe_finding_get_rule (findings->pdata[i]),
                    nappe_finding_get_part (findings->pdata[i]) };

      act (self, &look);
    }
  for (guint i = 0; i < 2; i++)
    {
      const char *const actions[] = { "win.preview-cure", "win.apply-cure" };

      start = thread_ms ();
      gtk_widget_activate_action_variant (GTK_WIDGET (self->window), actions[i], g_variant_new_uint32 (0));
      tell (actions[i], NULL, watch (start));
    }
}

static void
open_demo (StudioFixture *self, const char *demo)
{
  g_autoptr (GFile) file = g_file_new_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", demo, NULL);
  double start = thread_ms ();

  nappe_window_open_file (self->window, file);
  tell ("open", demo, watch (start));
  studio_fixture_settle (self);
}

static void
use (StudioFixture *self, const char *demo)
{
  static const Deed deeds[] = {
    { "win.view", "flow", NULL },    { "win.view", "plan", NULL },     { "win.view", "panes", NULL },
    { "win.view", "charts", NULL },  { "win.view", "time", NULL },     { "win.view", "elevation", NULL },
    { "win.panel", "part", NULL },   { "win.select", "tank", NULL },   { "win.select", "sump", NULL },
    { "win.select", "pump", NULL },  { "win.panel", "findings", NULL }, { "win.next-finding", NULL, NULL },
    { "win.toggle-state", NULL, NULL }, { "win.zoom-in", NULL, NULL }, { "win.add", NULL, NULL },
    { "win.select", "pump", NULL },  { "win.add", NULL, NULL },
    { "win.limits", NULL, NULL },    { "win.weigh-rule", "valve-coarse", NULL }, { "app.preferences", NULL, NULL },
    { "win.shortcuts", NULL, NULL }, { "win.about-rule", "tank-overflow", NULL },
    { "win.case", "power-cut", NULL }, { "win.run-case", NULL, NULL }, { "win.play", NULL, NULL },
    { "win.moving-picture", "flow", NULL }, { "win.play", NULL, NULL }, { "win.case", "restart", NULL },
    { "win.run-case", NULL, NULL },  { "win.view", "elevation", NULL }, { "win.save", NULL, NULL },
    { "win.undo", NULL, NULL },      { "win.redo", NULL, NULL },
  };

  g_print ("%s\n", demo);
  open_demo (self, demo);
  for (gsize i = 0; i < G_N_ELEMENTS (deeds); i++)
    act (self, &deeds[i]);
  apply_first_cure (self);
}

int
main (int argc, char **argv)
{
  NappeApplication *application;

  gtk_test_init (&argc, &argv, NULL);
  /* It measures; what the toolkit says meanwhile is for the tests. */
  g_log_set_always_fatal (G_LOG_FATAL_MASK);
  adw_init ();
  application = studio_fixture_application ();
  for (int i = 1; i < argc; i++)
    {
      StudioFixture fixture = { 0 };

      studio_fixture_open (&fixture, application);
      use (&fixture, argv[i]);
      studio_fixture_close (&fixture);
    }
  g_object_unref (application);
  return 0;
}

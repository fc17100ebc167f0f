/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plays a case in the window and prints how long the frames take: work on the main thread from the start of a frame to its end, and
 * the time from frame to frame. A display that shows 60 frames a second leaves 16.7 ms; one is missed when a frame takes half as
 * long again.
 *   playing-frames DEMO... */
#include <stdlib.h>
#include <time.h>

#include "studio-fixture.h"
#include "studio/canvas.h"
#include "studio/time-view.h"

#define FRAMES 300
#define FRAME_MS (1e3 / 60.0)
#define MISSED_MS (1.5 * FRAME_MS)

typedef struct
{
  double work[FRAMES], gap[FRAMES]; /* [ms] */
  double work_start, frame_start;   /* [ms] */
  guint n;
} Watch;

static double
now (clockid_t clock)
{
  struct timespec time;

  clock_gettime (clock, &time);
  return 1e3 * (double) time.tv_sec + 1e-6 * (double) time.tv_nsec;
}

static void
frame_begins (GdkFrameClock *clock, Watch *watch)
{
  double start = now (CLOCK_MONOTONIC);

  if (watch->n < FRAMES)
    watch->gap[watch->n] = start - watch->frame_start;
  watch->frame_start = start;
  watch->work_start = now (CLOCK_THREAD_CPUTIME_ID);
}

static void
frame_ends (GdkFrameClock *clock, Watch *watch)
{
  if (watch->n < FRAMES)
    watch->work[watch->n++] = now (CLOCK_THREAD_CPUTIME_ID) - watch->work_start;
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

static void
tell (const char *what, double *values, guint n)
{
  guint late = 0;

  for (guint i = 0; i < n; i++)
    late += values[i] > MISSED_MS;
  qsort (values, n, sizeof *values, compare);
  g_print ("%s: median %5.2f ms, 95 of 100 below %5.2f ms, longest %5.2f ms; %u of %u above %.0f ms\n", what, values[n / 2],
           values[n * 95 / 100], values[n - 1], late, n, MISSED_MS);
}

static gboolean
is_played (StudioFixture *self)
{
  GtkWidget *view = studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_TIME_VIEW, NULL);

  return nappe_canvas_get_shown (nappe_time_view_get_canvas (NAPPE_TIME_VIEW (view))) == NAPPE_SHOW_MOMENT;
}

static void
play (StudioFixture *self, const char *demo, const char *picture)
{
  Watch watch = { 0 };
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (self->window));
  gulong begins, ends;

  studio_fixture_load (self, demo);
  studio_fixture_act (self, "win.view", "time");
  studio_fixture_act (self, "win.moving-picture", picture);
  studio_fixture_act (self, "win.case", "restart");
  studio_fixture_act (self, "win.run-case", NULL);
  studio_fixture_wait (self, is_played);
  studio_fixture_settle (self);
  begins = g_signal_connect (clock, "before-paint", G_CALLBACK (frame_begins), &watch);
  ends = g_signal_connect (clock, "after-paint", G_CALLBACK (frame_ends), &watch);
  watch.frame_start = now (CLOCK_MONOTONIC);
  studio_fixture_act (self, "win.play", NULL);
  while (watch.n < FRAMES)
    g_main_context_iteration (NULL, TRUE);
  g_signal_handler_disconnect (clock, begins);
  g_signal_handler_disconnect (clock, ends);
  g_print ("%s, %s\n", demo, picture);
  tell ("  work in a frame    ", watch.work, watch.n);
  tell ("  from frame to frame", watch.gap, watch.n);
}

int
main (int argc, char **argv)
{
  static const char *const pictures[] = { "elevation", "flow" };
  NappeApplication *application;

  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
  application = studio_fixture_application ();
  for (int i = 1; i < argc; i++)
    for (gsize k = 0; k < G_N_ELEMENTS (pictures); k++)
      {
        StudioFixture fixture = { 0 };
        studio_fixture_open (&fixture, application);
        gtk_window_set_default_size (GTK_WINDOW (fixture.window), 1400, 900);
        play (&fixture, argv[i], pictures[k]);
        studio_fixture_close (&fixture);
      }
  g_object_unref (application);
  return 0;
}

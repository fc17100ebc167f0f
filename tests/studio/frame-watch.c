/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "frame-watch.h"

#include <stdlib.h>
#include <time.h>

#define FRAME_MS (1e3 / 60.0)
#define MISSED_MS (1.5 * FRAME_MS)

static double
now (clockid_t clock)
{
  struct timespec time;

  clock_gettime (clock, &time);
  return 1e3 * (double) time.tv_sec + 1e-6 * (double) time.tv_nsec;
}

static void
frame_begins (GdkFrameClock *clock, FrameWatch *watch)
{
  double start = now (CLOCK_MONOTONIC);

  if (watch->n < FRAME_WATCH_FRAMES)
    watch->gap[watch->n] = start - watch->frame_start;
  watch->frame_start = start;
  watch->work_start = now (CLOCK_THREAD_CPUTIME_ID);
}

static void
frame_ends (GdkFrameClock *clock, FrameWatch *watch)
{
  if (watch->n < FRAME_WATCH_FRAMES)
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

void
frame_watch_begin (FrameWatch *self, GtkWidget *window)
{
  self->n = 0;
  self->clock = gtk_widget_get_frame_clock (window);
  g_signal_connect (self->clock, "before-paint", G_CALLBACK (frame_begins), self);
  g_signal_connect (self->clock, "after-paint", G_CALLBACK (frame_ends), self);
  self->frame_start = now (CLOCK_MONOTONIC);
}

void
frame_watch_end (FrameWatch *self)
{
  g_signal_handlers_disconnect_by_data (self->clock, self);
  tell ("  work in a frame    ", self->work, self->n);
  tell ("  from frame to frame", self->gap, self->n);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stopwatch.h"

#include <stdlib.h>
#include <time.h>

static double
now (clockid_t clock)
{
  struct timespec time;

  clock_gettime (clock, &time);
  return (double) time.tv_sec + 1e-9 * (double) time.tv_nsec;
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

static void
run (clockid_t clock, const char *name, guint runs, double goal, StopwatchWork work, gpointer data)
{
  g_autofree double *taken = g_new0 (double, runs);

  work (data);
  for (guint i = 0; i < runs; i++)
    {
      double start = now (clock);

      work (data);
      taken[i] = now (clock) - start;
    }
  qsort (taken, runs, sizeof *taken, compare);
  g_print ("%-44s fastest %8.3f ms, median %8.3f ms, slowest %8.3f ms (goal %g ms)\n", name, 1e3 * taken[0],
           1e3 * taken[runs / 2], 1e3 * taken[runs - 1], 1e3 * goal);
}

void
stopwatch_run (const char *name, guint runs, double goal, StopwatchWork work, gpointer data)
{
  run (CLOCK_THREAD_CPUTIME_ID, name, runs, goal, work, data);
}

void
stopwatch_run_wall (const char *name, guint runs, double goal, StopwatchWork work, gpointer data)
{
  run (CLOCK_MONOTONIC, name, runs, goal, work, data);
}

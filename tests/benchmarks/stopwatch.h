/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times a piece of work over many runs and prints the median, which a busy machine disturbs least. */
#pragma once

#include <glib.h>

typedef void (*StopwatchWork) (gpointer data);

/* Runs the work `runs` times after one warm-up and prints fastest, median and slowest beside the goal [s]. The processor time of
 * this thread: what others do on the machine does not count. */
void stopwatch_run (const char *name, guint runs, double goal, StopwatchWork work, gpointer data);
/* The same by the clock on the wall, for work on several threads. */
void stopwatch_run_wall (const char *name, guint runs, double goal, StopwatchWork work, gpointer data);

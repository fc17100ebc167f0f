/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times a piece of work over many runs and prints the median, which a busy machine disturbs least. */
#pragma once

#include <glib.h>

typedef void (*StopwatchWork) (gpointer data);

/* Runs the work `runs` times after one warm-up and prints fastest, median and slowest beside the goal [s]. */
void stopwatch_run (const char *name, guint runs, double goal, StopwatchWork work, gpointer data);

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/application/watchdog.h"

/* Far above what a busy machine takes by itself, and what is asked for [us]. */
#define LONGEST (200 * G_TIME_SPAN_MILLISECOND)
#define STALL (450 * G_TIME_SPAN_MILLISECOND)

typedef struct
{
  guint n;
  gint64 took;
} Stalls;

static void
stalled (gint64 took, gpointer user_data)
{
  Stalls *stalls = user_data;

  stalls->n++;
  stalls->took = took;
}

static gboolean
stand_still (gpointer data)
{
  g_usleep (STALL);
  return G_SOURCE_REMOVE;
}

static gboolean
end (gpointer loop)
{
  g_main_loop_quit (loop);
  return G_SOURCE_REMOVE;
}

static void
add_to (GMainContext *context, guint delay, GSourceFunc function, gpointer data)
{
  g_autoptr (GSource) source = g_timeout_source_new (delay);

  g_source_set_callback (source, function, data, NULL);
  g_source_attach (source, context);
}

/* Work counts, sleep does not. */
static void
test_stall (void)
{
  g_autoptr (GMainContext) context = g_main_context_new ();
  g_autoptr (GMainLoop) loop = g_main_loop_new (context, FALSE);
  Stalls stalls = { 0 };
  GSource *watchdog = nappe_watchdog_new (context, LONGEST, stalled, &stalls);

  add_to (context, (guint) (2 * LONGEST / G_TIME_SPAN_MILLISECOND), end, loop);
  g_main_loop_run (loop);
  g_assert_cmpuint (stalls.n, ==, 0);
  add_to (context, 10, stand_still, NULL);
  add_to (context, (guint) (2 * STALL / G_TIME_SPAN_MILLISECOND), end, loop);
  g_main_loop_run (loop);
  g_assert_cmpuint (stalls.n, ==, 1);
  g_assert_cmpint (stalls.took, >=, STALL);
  g_source_destroy (watchdog);
  add_to (context, 10, stand_still, NULL);
  add_to (context, (guint) (2 * STALL / G_TIME_SPAN_MILLISECOND), end, loop);
  g_main_loop_run (loop);
  g_assert_cmpuint (stalls.n, ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/studio/watchdog/stall", test_stall);
  return g_test_run ();
}

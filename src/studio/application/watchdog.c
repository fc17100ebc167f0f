/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/application/watchdog.h"

/* A loop prepares its sources, sleeps, checks them and dispatches what is ready: work is done between a check and the next
 * preparation. */
typedef struct
{
  GSource source;
  gint64 longest;   /* [us] */
  gint64 awake;     /* since when the loop works; 0: it sleeps [us] */
  NappeStallFunc stalled;
  gpointer user_data;
} Watchdog;

static gboolean
prepare (GSource *source, int *timeout)
{
  Watchdog *self = (Watchdog *) source;
  gint64 took = self->awake != 0 ? g_get_monotonic_time () - self->awake : 0;

  *timeout = -1;
  self->awake = 0;
  if (took > self->longest)
    self->stalled (took, self->user_data);
  return FALSE;
}

static gboolean
check (GSource *source)
{
  ((Watchdog *) source)->awake = g_get_monotonic_time ();
  return FALSE;
}

static gboolean
dispatch (GSource *source, GSourceFunc callback, gpointer user_data)
{
  return G_SOURCE_CONTINUE;
}

GSource *
nappe_watchdog_new (GMainContext *context, gint64 longest, NappeStallFunc stalled, gpointer user_data)
{
  static GSourceFuncs functions = { .prepare = prepare, .check = check, .dispatch = dispatch };
  GSource *source = g_source_new (&functions, sizeof (Watchdog));
  Watchdog *self = (Watchdog *) source;

  self->longest = longest;
  self->stalled = stalled;
  self->user_data = user_data;
  /* Before all others: a loop looks at no more sources once a more urgent one is ready. */
  g_source_set_priority (source, G_MININT);
  g_source_attach (source, context);
  g_source_unref (source);
  return source;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Notices when a main loop stands still: when one round of it takes so long that a person feels it. For builds with debug
 * information; the application says on the domain's info level what it saw. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A person feels it [us]. */
#define NAPPE_STALL (50 * G_TIME_SPAN_MILLISECOND)

/* took: by the clock [us]. Called in the round after. */
typedef void (*NappeStallFunc) (gint64 took, gpointer user_data);

/* Watches rounds of a context (NULL: the default one) that take longer than that. Returns the source, not owned: destroyed with
 * g_source_destroy(). */
GSource *nappe_watchdog_new (GMainContext *context, gint64 longest, NappeStallFunc stalled, gpointer user_data);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Watching water in time: the side elevation at a moment, curves, and the bar with case, run, play and moment.
 *
 * Shows what a player plays; its buttons act through the window's actions. Signal `picked` (const char *part): NULL when
 * the person picked nothing. */
#pragma once

#include <gtk/gtk.h>

#include "studio/canvas/canvas.h"
#include "studio/time/player.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_TIME_VIEW (nappe_time_view_get_type ())
G_DECLARE_FINAL_TYPE (NappeTimeView, nappe_time_view, NAPPE, TIME_VIEW, GtkWidget)

GtkWidget *nappe_time_view_new (NappePlayer *player);

/* What is drawn while nothing is played. NULL empties it. */
void nappe_time_view_set_outcome (NappeTimeView *self, NappeOutcome *outcome);
void nappe_time_view_select (NappeTimeView *self, const char *part);
/* Shows a shorter (more than 1) or longer stretch of time in the curves, with the moment in it; 0: all of it. */
void nappe_time_view_zoom_curves (NappeTimeView *self, double factor);
NappeCanvas *nappe_time_view_get_canvas (NappeTimeView *self);

G_END_DECLS

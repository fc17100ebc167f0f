/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows the curves of a simulation with a line at the moment that is seen.
 *
 * Press or drag sets the moment; the wheel shows a shorter or longer stretch of time, with Shift an earlier or later one.
 * Every curve's name is also a child widget that takes the keyboard focus and carries the
 * name and a sentence about the curve. The curves are drawn once into pixels; the line alone moves.
 *
 * Signals: `scrubbed` (double time): the person wants that moment [s]; `picked` (const char *part). */
#pragma once

#include <gtk/gtk.h>

#include "picture/curves/curves.h"
#include "studio/document/outcome.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_CURVES_VIEW (nappe_curves_view_get_type ())
G_DECLARE_FINAL_TYPE (NappeCurvesView, nappe_curves_view, NAPPE, CURVES_VIEW, GtkWidget)

/* A simulation and what it was made from. NULL, NULL empties it. */
void nappe_curves_view_set_course (NappeCurvesView *self, NappeOutcome *outcome, NappeSimulation *course);
/* Makes the curve of a part stand out; NULL: none. */
void nappe_curves_view_select (NappeCurvesView *self, const char *part);
/* The moment that is seen [s]. One beside the stretch of time that is shown turns the page. */
void nappe_curves_view_set_time (NappeCurvesView *self, double time);
/* Shows a shorter (factor more than 1) or longer stretch of time with the moment in it; 0: all of it. */
void nappe_curves_view_zoom (NappeCurvesView *self, double factor);
void nappe_curves_view_get_stretch (NappeCurvesView *self, double *first, double *last); /* [s] */
/* The picture shown; NULL: none yet. Owned by the view. */
NappePicture *nappe_curves_view_get_picture (NappeCurvesView *self);

G_END_DECLS

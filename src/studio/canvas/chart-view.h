/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The charts of a build, one at a time: a choice above, the chart below, picked and read out as every picture is.
 *
 * The chart follows the picked part to the one that says most about it, unless the part was picked in the chart itself.
 * Signal `picked` (const char *part): as of the canvas. */
#pragma once

#include "studio/canvas/canvas.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_CHART_VIEW (nappe_chart_view_get_type ())
G_DECLARE_FINAL_TYPE (NappeChartView, nappe_chart_view, NAPPE, CHART_VIEW, GtkWidget)

GtkWidget *nappe_chart_view_new (void);
/* NULL empties it. The chosen chart stays, while the build has it. */
void nappe_chart_view_set_outcome (NappeChartView *self, NappeOutcome *outcome);
/* Marks a part, NULL: none, and follows it. */
void nappe_chart_view_select (NappeChartView *self, const char *part);
NappeCanvas *nappe_chart_view_get_canvas (NappeChartView *self);
/* The chart that is shown: kind, and id of its part (owned by the view). FALSE: there is none. */
gboolean nappe_chart_view_get_chart (NappeChartView *self, NappeChartKind *kind, const char **part);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pump's curve alone, before the pump is in any build: the curve that a study would take, its points, and the rows of a table
 * that it was chosen from. */
#pragma once

#include "physics/pump-curve.h"
#include "picture/charts/chart.h"

G_BEGIN_DECLS

/* flow, head: n rows in SI. Of the options only palette, units, size and text scale count. Transfer full, never NULL. */
NappePicture *nappe_chart_curve_new (const NappeChartOptions *options, const NappePumpCurve *curve, const double *flow,
                                     const double *head, guint n);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pump's curve as a study would take it, with the rows of the table that it is from. */
#pragma once

#include <gtk/gtk.h>

#include "catalogue/curve-table.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_CURVE_PREVIEW (nappe_curve_preview_get_type ())
G_DECLARE_FINAL_TYPE (NappeCurvePreview, nappe_curve_preview, NAPPE, CURVE_PREVIEW, GtkWidget)

/* flow, head: the table's n rows in SI, copied. curve NULL: there is nothing to show. */
void nappe_curve_preview_show (NappeCurvePreview *self, const NappePumpCurve *curve, const double *flow,
                               const double *head, guint n, NappeUnitSystem units);

G_END_DECLS

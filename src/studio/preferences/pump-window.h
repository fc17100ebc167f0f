/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Makes a pump of the user's own catalogue out of a table of flows and heads: units, name and power are put right by the
 * person, who sees the curve that a study would take. */
#pragma once

#include <adwaita.h>

#include "catalogue/curve-table.h"
#include "studio/application/preferences.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_PUMP_WINDOW (nappe_pump_window_get_type ())
G_DECLARE_FINAL_TYPE (NappePumpWindow, nappe_pump_window, NAPPE, PUMP_WINDOW, AdwWindow)

/* table: transfer full. */
GtkWindow *nappe_pump_window_new (GtkWindow *parent, NappePreferences *preferences, NappeCurveTable *table);

G_END_DECLS

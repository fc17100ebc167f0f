/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person chooses for the whole program: units, paper, style, files, margins, and the own part of the catalogue.
 * All holds at once and is kept. */
#pragma once

#include <adwaita.h>

#include "studio/application/preferences.h"
#include "studio/preferences/own-parts-page.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_PREFERENCES_WINDOW (nappe_preferences_window_get_type ())
G_DECLARE_FINAL_TYPE (NappePreferencesWindow, nappe_preferences_window, NAPPE, PREFERENCES_WINDOW, AdwPreferencesWindow)

/* parent: nullable. */
GtkWindow *nappe_preferences_window_new (GtkWindow *parent, NappePreferences *preferences);
/* Shows the own catalogue and reads a table for it: see nappe_own_parts_page_read_table. */
void nappe_preferences_window_import_curve (NappePreferencesWindow *self, GFile *file);
NappeOwnPartsPage *nappe_preferences_window_get_own_parts (NappePreferencesWindow *self);

G_END_DECLS

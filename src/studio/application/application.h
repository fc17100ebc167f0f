/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program: windows, files from the command line, preferences.
 *
 * Actions: app.new-window, app.units ("metric" or "us"), app.paper ("a4" or "letter"), app.style
 * ("system", "light" or "dark"), app.reopen, app.preferences, app.import-curve (s, the URI of a table), app.about,
 * app.quit. */
#pragma once

#include <adwaita.h>

#include "studio/application/preferences.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_APPLICATION (nappe_application_get_type ())
G_DECLARE_FINAL_TYPE (NappeApplication, nappe_application, NAPPE, APPLICATION, AdwApplication)

NappeApplication *nappe_application_new (void);
NappePreferences *nappe_application_get_preferences (NappeApplication *self);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person has chosen for the whole program. Kept in GSettings when the schema is installed
 * and for the life of the program otherwise, so that it runs from a checkout too. */
#pragma once

#include <gio/gio.h>

#include "sheet/sheet.h"
#include "units/quantity.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_STYLE_SYSTEM,
  NAPPE_STYLE_LIGHT,
  NAPPE_STYLE_DARK,
} NappeStyle;

#define NAPPE_TYPE_PREFERENCES (nappe_preferences_get_type ())
G_DECLARE_FINAL_TYPE (NappePreferences, nappe_preferences, NAPPE, PREFERENCES, GObject)

/* Properties, all readable and writable: `units`, `paper`, `style`: strings, the nicks of the schema
 * ("metric", "us"; "a4", "letter"; "system", "light", "dark"), so that actions can carry them; `currency`: string, ""
 * that of the locale; `reopen`: boolean, whether the builds that were open last are opened again; `recent-max`: int,
 * how many recent files are listed. Signal `own-parts-changed`: the user's own catalogue has been written. */
NappePreferences *nappe_preferences_new (void);

NappeUnitSystem nappe_preferences_get_units (NappePreferences *self);
NappePaper nappe_preferences_get_paper (NappePreferences *self);
NappeStyle nappe_preferences_get_style (NappePreferences *self);
/* What prices are in where a build does not tell; "": nobody knows. Owned by them. */
const char *nappe_preferences_get_currency (NappePreferences *self);
const char *nappe_preferences_get_usual_currency (NappePreferences *self); /* that of the locale, whatever was chosen */
gboolean nappe_preferences_get_reopen (NappePreferences *self);
/* How many recent files to list. */
guint nappe_preferences_get_recent_max (NappePreferences *self);

/* The person's own margins: a{sd} of the name of a limit (rules/rule-limits.h) and its value, SI; for margins.h alone, since
 * settings may hold anything. */
GVariant *nappe_preferences_get_margins (NappePreferences *self); /* transfer full */
void nappe_preferences_set_margins (NappePreferences *self, GVariant *margins); /* takes a floating one */

/* Tells all windows that rows were put into the user's own catalogue, or taken out. */
void nappe_preferences_own_parts_changed (NappePreferences *self);

/* Size of the window when it was last closed [px]. */
void nappe_preferences_get_window (NappePreferences *self, int *width, int *height, gboolean *maximized);
void nappe_preferences_set_window (NappePreferences *self, int width, int height, gboolean maximized);

/* What was open last: a(ss) of the URI of a file and the name of a view. */
GVariant *nappe_preferences_get_session (NappePreferences *self); /* transfer full */
void nappe_preferences_set_session (NappePreferences *self, GVariant *session); /* takes a floating one */
/* While it is held, windows that close one after another do not take themselves out of it. */
void nappe_preferences_hold_session (NappePreferences *self, gboolean hold);

/* Folder a file was last opened from or saved to; NULL: none. Transfer full. */
GFile *nappe_preferences_get_folder (NappePreferences *self);
void nappe_preferences_set_folder (NappePreferences *self, GFile *folder);

G_END_DECLS

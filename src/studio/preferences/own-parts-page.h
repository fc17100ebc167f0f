/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The user's own part of the catalogue: its rows with what is wrong with them, taking rows out, and putting pumps in whose curve
 * a table holds, which is chosen or dropped.
 *
 * Actions: own-parts.add-pump, own-parts.remove (u: place in the list), own-parts.show-folder. */
#pragma once

#include <adwaita.h>

#include "catalogue/catalogue.h"
#include "studio/application/preferences.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_OWN_PARTS_PAGE (nappe_own_parts_page_get_type ())
G_DECLARE_FINAL_TYPE (NappeOwnPartsPage, nappe_own_parts_page, NAPPE, OWN_PARTS_PAGE, AdwPreferencesPage)

void nappe_own_parts_page_set_preferences (NappeOwnPartsPage *self, NappePreferences *preferences);

/* The catalogue whose own rows are listed; NULL: it is being loaded. */
NappeCatalogue *nappe_own_parts_page_get_catalogue (NappeOwnPartsPage *self);

/* Reads a table and opens a window that makes a pump of it, or says why not. */
void nappe_own_parts_page_read_table (NappeOwnPartsPage *self, GFile *file);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chooses what to add to a build, and adds it where the picked part says. */
#pragma once

#include "studio/document/document.h"
#include "studio/parts/add-entry.h"

#include <adwaita.h>

G_BEGIN_DECLS

#define NAPPE_TYPE_ADD_WINDOW (nappe_add_window_get_type ())
G_DECLARE_FINAL_TYPE (NappeAddWindow, nappe_add_window, NAPPE, ADD_WINDOW, AdwWindow)

/* Signal `added` (const char *part): the id of what was added; the window closes then. It stays open, with the reason, where
 * nothing could be added.
 *  at  id of the picked part; NULL: none */
GtkWindow *nappe_add_window_new (GtkWindow *parent, NappeDocument *document, NappeUnitSystem units, const char *at);

/* Narrows the list, as a person does by typing and choosing. */
void nappe_add_window_search (NappeAddWindow *self, const char *text, NappeAddGroup group);
/* How many entries the list shows. */
guint nappe_add_window_get_n_shown (NappeAddWindow *self);

G_END_DECLS

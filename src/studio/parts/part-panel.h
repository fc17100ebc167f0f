/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything about one part: its numbers, its fields to edit, the part it belongs to and the parts
 * in it. Without a part it shows the build as a whole.
 *
 * Signal `picked` (const char *part): the person went to another part; NULL: to the whole build. */
#pragma once

#include <gtk/gtk.h>

#include "studio/document/document.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_PART_PANEL (nappe_part_panel_get_type ())
G_DECLARE_FINAL_TYPE (NappePartPanel, nappe_part_panel, NAPPE, PART_PANEL, GtkWidget)

GtkWidget *nappe_part_panel_new (NappeDocument *document);

/* NULL, or an id that nothing has: the whole build. */
void nappe_part_panel_set_part (NappePartPanel *self, const char *part);
void nappe_part_panel_set_units (NappePartPanel *self, NappeUnitSystem units);
/* What a price is in that is typed where the part names no currency; "": nobody knows. */
void nappe_part_panel_set_currency (NappePartPanel *self, const char *currency);

G_END_DECLS

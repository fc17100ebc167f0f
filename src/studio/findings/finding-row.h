/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One finding in a list: sign, title and part, and of what is fine its number and limit; opens to what it says, what cures
 * it, what somebody answered, how it was worked out and where the rule comes from. Its buttons speak to the window's actions. */
#pragma once

#include <gtk/gtk.h>

#include "studio/findings/cure-finder.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_FINDING_ROW (nappe_finding_row_get_type ())
G_DECLARE_FINAL_TYPE (NappeFindingRow, nappe_finding_row, NAPPE, FINDING_ROW, GtkListBoxRow)

/* part_name: what people call the finding's part; "" for the whole build. finder: of cures; NULL: none are offered. */
GtkWidget *nappe_finding_row_new (NappeFinding *finding, const char *part_name, NappeUnitSystem units,
                                  NappeCureFinder *finder);
/* Shows another finding, usually the same rule's of a newer study; open stays open. */
void nappe_finding_row_set_finding (NappeFindingRow *self, NappeFinding *finding, const char *part_name,
                                    NappeUnitSystem units);

NappeFinding *nappe_finding_row_get_finding (NappeFindingRow *self);
void nappe_finding_row_set_open (NappeFindingRow *self, gboolean open);
gboolean nappe_finding_row_get_open (NappeFindingRow *self);

G_END_DECLS

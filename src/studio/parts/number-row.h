/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A row with one computed number, its band, and on demand how it was reached. A list box that lets its rows be activated,
 * by click or key, toggles it. */
#pragma once

#include <gtk/gtk.h>

#include "studio/parts/part-numbers.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_NUMBER_ROW (nappe_number_row_get_type ())
G_DECLARE_FINAL_TYPE (NappeNumberRow, nappe_number_row, NAPPE, NUMBER_ROW, GtkListBoxRow)

GtkWidget *nappe_number_row_new (const NappePartNumber *number);

/* Shows another number in its place; what is open stays open. */
void nappe_number_row_show (NappeNumberRow *self, const NappePartNumber *number);
/* Key of the result shown; static. */
const char *nappe_number_row_get_key (NappeNumberRow *self);

void nappe_number_row_set_open (NappeNumberRow *self, gboolean open);
gboolean nappe_number_row_get_open (NappeNumberRow *self);

G_END_DECLS

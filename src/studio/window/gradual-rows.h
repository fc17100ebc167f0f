/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists of so many rows that the window could not be drawn while all are made: they come some at a time, in idle moments. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A new row for place `index`; NULL: it has none. */
typedef GtkWidget *(*NappeRowMaker) (guint index, gpointer data);

/* Gives a list rows for the places 0 to n - 1 instead of those that it has or is getting. Takes data, which `destroy` frees. */
void nappe_gradual_rows_fill (GtkListBox *list, guint n, NappeRowMaker make, gpointer data, GDestroyNotify destroy);
/* Takes all rows out of a list; those that it was getting do not come. */
void nappe_gradual_rows_clear (GtkListBox *list);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One cure: what one does, what comes of it, and buttons to look at it and to take it. */
#pragma once

#include <gtk/gtk.h>

#include "cures/cure.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_CURE_ROW (nappe_cure_row_get_type ())
G_DECLARE_FINAL_TYPE (NappeCureRow, nappe_cure_row, NAPPE, CURE_ROW, GtkWidget)

/* index: its place in the list of cures, for the window's actions. */
GtkWidget *nappe_cure_row_new (const NappeCure *cure, guint index);

G_END_DECLS

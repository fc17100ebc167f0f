/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a list of strings to choose from takes the room that it gets. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What is chosen is cut off on the button when there is no room for it, so that no long name makes a panel wider; in the
 * button's tooltip and in the list it is whole. The model's items are GtkStringObjects. */
void nappe_choice_labels_fit (GtkDropDown *drop_down);

G_END_DECLS

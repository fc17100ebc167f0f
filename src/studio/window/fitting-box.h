/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A row of children, of which as many are shown as there is room for: the last go first. What they do must be reached
 * by menu and key too. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define NAPPE_TYPE_FITTING_BOX (nappe_fitting_box_get_type ())
G_DECLARE_FINAL_TYPE (NappeFittingBox, nappe_fitting_box, NAPPE, FITTING_BOX, GtkWidget)

G_END_DECLS

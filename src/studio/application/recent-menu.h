/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The builds that were opened last, kept in the desktop's own list of recent files. */
#pragma once

#include <gtk/gtk.h>

#include "studio/application/preferences.h"

G_BEGIN_DECLS

/* Puts a file at the head of the list. */
void nappe_recent_menu_add (GFile *file);

/* Gives a button a menu of them, made each time it opens. */
void nappe_recent_menu_attach (GtkMenuButton *button, NappePreferences *preferences);

G_END_DECLS

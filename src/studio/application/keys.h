/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keys of the studio's actions: in force, and told in the tooltips of buttons. ui/shortcuts.ui lists them for people. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Puts the keys of all windows in force. */
void nappe_keys_install (GtkApplication *application);

/* A tooltip with the key of the action it stands for, "Undo (Ctrl+Z)"; without one, the text as it is. action: with its
 * target, "win.view::flow". Transfer full. */
char *nappe_keys_tooltip (const char *text, const char *action);

/* Adds the keys to the tooltips of all buttons below a widget; once, after its template was made. */
void nappe_keys_add_to_tooltips (GtkWidget *root);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/application/keys.h"

#include <glib/gi18n-lib.h>

typedef struct
{
  const char *action;
  const char *keys[3]; /* the first is the one that is told */
} Keys;

/* Views and pages of the side panel in the order of their switchers. */
static const Keys everywhere[] = {
  { "app.new-window", { "<Control>n" } },
  { "app.preferences", { "<Control>comma" } },
  { "app.quit", { "<Control>q" } },
  { "win.open", { "<Control>o" } },
  { "win.save", { "<Control>s" } },
  { "win.save-as", { "<Control><Shift>s" } },
  { "win.export-sheet", { "<Control>e" } },
  { "win.export-picture", { "<Control><Shift>e" } },
  { "win.undo", { "<Control>z" } },
  { "win.redo", { "<Control><Shift>z", "<Control>y" } },
  { "win.shortcuts", { "<Control>question" } },
  { "win.limits", { "<Control>l" } },
  { "win.toggle-state", { "<Control>t" } },
  { "win.show-chart", { "<Control>g" } },
  { "win.view::elevation", { "<Alt>1" } },
  { "win.view::flow", { "<Alt>2" } },
  { "win.view::time", { "<Alt>3" } },
  { "win.view::charts", { "<Alt>4" } },
  { "win.view::plan", { "<Alt>5" } },
  { "win.view::panes", { "<Alt>6" } },
  { "win.panel::findings", { "<Alt>7" } },
  { "win.panel::part", { "<Alt>8" } },
  { "win.panel::events", { "<Alt>9" } },
  { "win.run-case", { "F5" } },
  { "win.play", { "<Control>space" } },
  { "win.next-event", { "F7" } },
  { "win.previous-event", { "<Shift>F7" } },
  { "win.shorter-time", { "<Alt>plus", "<Alt>equal" } },
  { "win.longer-time", { "<Alt>minus" } },
  { "win.whole-time", { "<Alt>0" } },
  { "win.other-pane", { "F6" } },
  { "win.side-panel", { "F9" } },
  { "win.next-finding", { "F8" } },
  { "win.previous-finding", { "<Shift>F8" } },
  { "win.zoom-in", { "<Control>plus", "<Control>equal" } },
  { "win.zoom-out", { "<Control>minus" } },
  { "win.zoom-fit", { "<Control>0" } },
  { "win.close", { "<Control>w" } },
};

/* The window binds these itself, so that an entry with the focus has them first; here they are only told. */
static const Keys outside_entries[] = {
  { "win.add", { "Insert" } },
  { "win.remove", { "Delete" } },
};

void
nappe_keys_install (GtkApplication *application)
{
  for (gsize i = 0; i < G_N_ELEMENTS (everywhere); i++)
    gtk_application_set_accels_for_action (application, everywhere[i].action, everywhere[i].keys);
}

static const char *
find_key (const Keys *table, gsize n, const char *action)
{
  for (gsize i = 0; i < n; i++)
    if (g_str_equal (table[i].action, action))
      return table[i].keys[0];
  return NULL;
}

char *
nappe_keys_tooltip (const char *text, const char *action)
{
  const char *key = find_key (everywhere, G_N_ELEMENTS (everywhere), action);
  g_autofree char *label = NULL;
  GdkModifierType modifiers;
  guint value;

  if (key == NULL)
    key = find_key (outside_entries, G_N_ELEMENTS (outside_entries), action);
  if (key == NULL || !gtk_accelerator_parse (key, &value, &modifiers))
    return g_strdup (text);
  label = gtk_accelerator_get_label (value, modifiers);
  /* Translators: what a button does, and its key: “Undo (Ctrl+Z)”. */
  return g_strdup_printf (_("%s (%s)"), text, label);
}

static void
add_to_tooltip (GtkWidget *widget)
{
  const char *text = gtk_widget_get_tooltip_text (widget);
  const char *name = GTK_IS_ACTIONABLE (widget) ? gtk_actionable_get_action_name (GTK_ACTIONABLE (widget)) : NULL;
  g_autofree char *action = NULL, *told = NULL;

  if (text == NULL || name == NULL)
    return;
  action = g_action_print_detailed_name (name, gtk_actionable_get_action_target_value (GTK_ACTIONABLE (widget)));
  told = nappe_keys_tooltip (text, action);
  gtk_widget_set_tooltip_text (widget, told);
}

void
nappe_keys_add_to_tooltips (GtkWidget *root)
{
  add_to_tooltip (root);
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    nappe_keys_add_to_tooltips (child);
}

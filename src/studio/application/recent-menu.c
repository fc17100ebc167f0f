/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/application/recent-menu.h"

#include <glib/gi18n-lib.h>

#define GROUP "nappe-builds"

void
nappe_recent_menu_add (GFile *file)
{
  g_autofree char *uri = g_file_get_uri (file);
  char *groups[] = { (char *) GROUP, NULL };
  GtkRecentData data = {
    .mime_type = (char *) "application/x-nappe+json",
    .app_name = (char *) "Nappe",
    .app_exec = (char *) "nappe-studio %u",
    .groups = groups,
  };

  gtk_recent_manager_add_full (gtk_recent_manager_get_default (), uri, &data);
}

static int
newest_first (gconstpointer a, gconstpointer b)
{
  return g_date_time_compare (gtk_recent_info_get_modified ((GtkRecentInfo *) b),
                              gtk_recent_info_get_modified ((GtkRecentInfo *) a));
}

static void
append_file (GMenu *menu, GtkRecentInfo *info)
{
  g_autoptr (GMenuItem) item = g_menu_item_new (NULL, NULL);
  /* In a menu an underscore marks the letter that opens an item. */
  g_autoptr (GString) label = g_string_new (gtk_recent_info_get_display_name (info));

  g_string_replace (label, "_", "__", 0);
  g_menu_item_set_label (item, label->str);
  g_menu_item_set_action_and_target (item, "win.open-uri", "s", gtk_recent_info_get_uri (info));
  g_menu_append_item (menu, item);
}

static GMenu *
make_menu (guint most)
{
  GMenu *menu = g_menu_new ();
  GList *infos = g_list_sort (gtk_recent_manager_get_items (gtk_recent_manager_get_default ()), newest_first);
  guint n = 0;

  for (GList *info = infos; info != NULL && n < most; info = info->next)
    if (gtk_recent_info_has_group (info->data, GROUP) && gtk_recent_info_exists (info->data))
      {
        append_file (menu, info->data);
        n++;
      }
  g_list_free_full (infos, (GDestroyNotify) gtk_recent_info_unref);
  if (n == 0)
    g_menu_append (menu, _("No recent builds"), "win.none");
  return menu;
}

static void
fill (GtkMenuButton *button, gpointer user_data)
{
  g_autoptr (GMenu) menu = make_menu (nappe_preferences_get_recent_max (user_data));

  gtk_menu_button_set_menu_model (button, G_MENU_MODEL (menu));
}

void
nappe_recent_menu_attach (GtkMenuButton *button, NappePreferences *preferences)
{
  gtk_menu_button_set_create_popup_func (button, fill, g_object_ref (preferences), g_object_unref);
}

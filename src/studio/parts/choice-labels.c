/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/choice-labels.h"

/* Letters that a button shows at the least. */
#define LEAST_LETTERS 8

static GtkLabel *
add_label (GtkListItem *item)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_list_item_set_child (item, label);
  return GTK_LABEL (label);
}

static void
set_up_on_button (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  GtkLabel *label = add_label (item);

  gtk_label_set_ellipsize (label, PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (label, LEAST_LETTERS);
}

static void
set_up_in_list (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  GtkLabel *label = add_label (item);

  gtk_label_set_wrap (label, TRUE);
  gtk_label_set_wrap_mode (label, PANGO_WRAP_WORD_CHAR);
}

static const char *
text_of (GtkListItem *item)
{
  return gtk_string_object_get_string (GTK_STRING_OBJECT (gtk_list_item_get_item (item)));
}

static void
bind_on_button (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (item)), text_of (item));
  gtk_widget_set_tooltip_text (gtk_list_item_get_child (item), text_of (item));
}

static void
bind_in_list (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (item)), text_of (item));
}

static GtkListItemFactory *
new_factory (GCallback set_up, GCallback bind)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", set_up, NULL);
  g_signal_connect (factory, "bind", bind, NULL);
  return factory;
}

void
nappe_choice_labels_fit (GtkDropDown *drop_down)
{
  g_autoptr (GtkListItemFactory) button = new_factory (G_CALLBACK (set_up_on_button), G_CALLBACK (bind_on_button));
  g_autoptr (GtkListItemFactory) list = new_factory (G_CALLBACK (set_up_in_list), G_CALLBACK (bind_in_list));

  gtk_drop_down_set_factory (drop_down, button);
  gtk_drop_down_set_list_factory (drop_down, list);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/number-row.h"

#include <glib/gi18n-lib.h>

struct _NappeNumberRow
{
  GtkListBoxRow parent_instance;
  const char *key;
  char *working;
  GtkWidget *label, *value, *arrow, *revealer;
  GtkWidget *details; /* NULL until first opened: labels are costly and most are never opened */
};

G_DEFINE_FINAL_TYPE (NappeNumberRow, nappe_number_row, GTK_TYPE_LIST_BOX_ROW)

static void
nappe_number_row_finalize (GObject *object)
{
  g_free (NAPPE_NUMBER_ROW (object)->working);
  G_OBJECT_CLASS (nappe_number_row_parent_class)->finalize (object);
}

static void
toggle_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeNumberRow *self = NAPPE_NUMBER_ROW (widget);

  nappe_number_row_set_open (self, !nappe_number_row_get_open (self));
}

static void
nappe_number_row_class_init (NappeNumberRowClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = nappe_number_row_finalize;
  /* For assistive technology, which finds no action on a row otherwise. */
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "number.toggle", NULL, toggle_action);
}

static GtkWidget *
wrapped_label (float xalign)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  return label;
}

static void
nappe_number_row_init (NappeNumberRow *self)
{
  GtkWidget *content = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  self->label = wrapped_label (0.0f);
  self->value = wrapped_label (1.0f);
  /* A number that is broken is another number. */
  gtk_label_set_wrap_mode (GTK_LABEL (self->value), PANGO_WRAP_WORD);
  self->arrow = g_object_new (GTK_TYPE_IMAGE, "icon-name", "pan-down-symbolic", "accessible-role",
                              GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);
  self->revealer = gtk_revealer_new ();
  gtk_widget_set_hexpand (self->label, TRUE);
  /* A number is never broken. */
  gtk_label_set_wrap_mode (GTK_LABEL (self->value), PANGO_WRAP_WORD);
  gtk_label_set_justify (GTK_LABEL (self->value), GTK_JUSTIFY_RIGHT);
  gtk_widget_add_css_class (self->value, "numeric");
  gtk_widget_add_css_class (self->arrow, "arrow");
  gtk_widget_add_css_class (self->arrow, "dim-label");
  gtk_widget_add_css_class (line, "heading-line");
  gtk_box_append (GTK_BOX (line), self->label);
  gtk_box_append (GTK_BOX (line), self->value);
  gtk_box_append (GTK_BOX (line), self->arrow);
  gtk_box_append (GTK_BOX (content), line);
  gtk_box_append (GTK_BOX (content), self->revealer);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), content);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_EXPANDED, FALSE, -1);
}

GtkWidget *
nappe_number_row_new (const NappePartNumber *number)
{
  NappeNumberRow *self = g_object_new (NAPPE_TYPE_NUMBER_ROW, NULL);

  nappe_number_row_show (self, number);
  return GTK_WIDGET (self);
}

void
nappe_number_row_show (NappeNumberRow *self, const NappePartNumber *number)
{
  /* Translators: a computed number as read out: what it is, then its value: “Flow: 2 990 L/h”. */
  g_autofree char *name = g_strdup_printf (_("%s: %s"), number->label, number->value);
  g_autofree char *value = nappe_text_unbroken (number->value);

  self->key = number->key;
  g_free (self->working);
  self->working = g_strdup (number->working);
  gtk_label_set_text (GTK_LABEL (self->label), number->label);
  gtk_label_set_text (GTK_LABEL (self->value), value);
  if (self->details != NULL)
    gtk_label_set_text (GTK_LABEL (self->details), self->working);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

const char *
nappe_number_row_get_key (NappeNumberRow *self)
{
  return self->key;
}

void
nappe_number_row_set_open (NappeNumberRow *self, gboolean open)
{
  if (open && self->details == NULL)
    {
      self->details = wrapped_label (0.0f);
      gtk_label_set_selectable (GTK_LABEL (self->details), TRUE);
      gtk_label_set_text (GTK_LABEL (self->details), self->working);
      gtk_widget_add_css_class (self->details, "details");
      gtk_revealer_set_child (GTK_REVEALER (self->revealer), self->details);
    }
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), open);
  if (open)
    gtk_widget_add_css_class (self->arrow, "open");
  else
    gtk_widget_remove_css_class (self->arrow, "open");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_EXPANDED, open, -1);
}

gboolean
nappe_number_row_get_open (NappeNumberRow *self)
{
  return gtk_revealer_get_reveal_child (GTK_REVEALER (self->revealer));
}

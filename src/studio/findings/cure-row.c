/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/cure-row.h"

#include <glib/gi18n-lib.h>

struct _NappeCureRow
{
  GtkWidget parent_instance;
  GtkWidget *content, *label, *effect, *preview, *apply;
};

G_DEFINE_FINAL_TYPE (NappeCureRow, nappe_cure_row, GTK_TYPE_WIDGET)

static void
nappe_cure_row_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), NAPPE_TYPE_CURE_ROW);
  G_OBJECT_CLASS (nappe_cure_row_parent_class)->dispose (object);
}

static void
nappe_cure_row_class_init (NappeCureRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_cure_row_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/cure-row.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeCureRow, content);
  gtk_widget_class_bind_template_child (widget_class, NappeCureRow, label);
  gtk_widget_class_bind_template_child (widget_class, NappeCureRow, effect);
  gtk_widget_class_bind_template_child (widget_class, NappeCureRow, preview);
  gtk_widget_class_bind_template_child (widget_class, NappeCureRow, apply);
}

static void
nappe_cure_row_init (NappeCureRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
nappe_cure_row_new (const NappeCure *cure, guint index)
{
  NappeCureRow *self = g_object_new (NAPPE_TYPE_CURE_ROW, NULL);
  g_autofree char *label = nappe_text_unbroken (cure->label), *effect = nappe_text_unbroken (cure->effect);

  gtk_label_set_text (GTK_LABEL (self->label), label);
  gtk_label_set_text (GTK_LABEL (self->effect), effect);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (self->preview), "u", index);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (self->apply), "u", index);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, cure->label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, cure->effect, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->preview), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, cure->label, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->apply), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, cure->label, -1);
  return GTK_WIDGET (self);
}

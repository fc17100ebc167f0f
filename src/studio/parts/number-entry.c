/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/number-entry.h"

#include <glib/gi18n-lib.h>

#include "build/coupling.h"
#include "studio/parts/field-text.h"

struct _NappeNumberEntry
{
  GtkPopover parent_instance;
  NappeDocument *document;
  char *part;
  const NappeField *field; /* static */
  NappeUnitSystem units;
  GtkWidget *editor, *message;
};

G_DEFINE_FINAL_TYPE (NappeNumberEntry, nappe_number_entry, GTK_TYPE_POPOVER)

static void
show_error (NappeNumberEntry *self, const GError *error)
{
  gtk_label_set_text (GTK_LABEL (self->message), error != NULL ? error->message : "");
  gtk_widget_set_visible (self->message, error != NULL);
  if (error != NULL)
    gtk_widget_add_css_class (self->editor, "error");
  else
    gtk_widget_remove_css_class (self->editor, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->editor), GTK_ACCESSIBLE_STATE_INVALID,
                               error != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

static gboolean
read_value (NappeNumberEntry *self, double *value, GError **error)
{
  g_auto (GValue) typed = G_VALUE_INIT;

  if (!nappe_field_read_text (self->field, gtk_editable_get_text (GTK_EDITABLE (self->editor)), self->units, &typed, error))
    return FALSE;
  *value = g_value_get_double (&typed);
  return TRUE;
}

static void
changed (NappeNumberEntry *self)
{
  g_autoptr (GError) error = NULL;
  double value;

  show_error (self, read_value (self, &value, &error) ? NULL : error);
}

static void
activated (NappeNumberEntry *self)
{
  NappeBuild *build = nappe_document_get_build (self->document);
  /* The part may have gone while this stood open. */
  NappePart *part = build != NULL ? nappe_build_find (build, self->part) : NULL;
  g_autoptr (GError) error = NULL;
  double value;

  if (part != NULL && (!read_value (self, &value, &error)
                       || !nappe_build_set_coupled (build, part, self->field->name, value, &error)))
    show_error (self, error);
  else
    gtk_popover_popdown (GTK_POPOVER (self));
}

static gboolean
let_go (gpointer data)
{
  if (gtk_widget_get_parent (data) != NULL)
    gtk_widget_unparent (data);
  return G_SOURCE_REMOVE;
}

/* Not at once: the popover is still being closed. */
static void
closed (NappeNumberEntry *self)
{
  g_idle_add_full (G_PRIORITY_DEFAULT, let_go, g_object_ref (self), g_object_unref);
}

static void
nappe_number_entry_finalize (GObject *object)
{
  NappeNumberEntry *self = NAPPE_NUMBER_ENTRY (object);

  g_clear_object (&self->document);
  g_free (self->part);
  G_OBJECT_CLASS (nappe_number_entry_parent_class)->finalize (object);
}

static void
nappe_number_entry_class_init (NappeNumberEntryClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = nappe_number_entry_finalize;
}

static void
nappe_number_entry_init (NappeNumberEntry *self)
{
  g_signal_connect (self, "closed", G_CALLBACK (closed), NULL);
}

static void
fill (NappeNumberEntry *self, NappePart *part)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *label = gtk_label_new (_(self->field->label));
  g_autofree char *text = nappe_field_text (part, self->field, self->units);

  self->editor = gtk_entry_new ();
  self->message = gtk_label_new (NULL);
  gtk_editable_set_text (GTK_EDITABLE (self->editor), text);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->editor), 14);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->editor), GTK_ACCESSIBLE_PROPERTY_LABEL, _(self->field->label), -1);
  gtk_label_set_wrap (GTK_LABEL (self->message), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->message), 32);
  gtk_label_set_xalign (GTK_LABEL (self->message), 0.0f);
  gtk_widget_add_css_class (self->message, "error");
  gtk_widget_hide (self->message);
  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), self->editor);
  gtk_box_append (GTK_BOX (box), self->message);
  gtk_popover_set_child (GTK_POPOVER (self), box);
  g_signal_connect_swapped (self->editor, "changed", G_CALLBACK (changed), self);
  g_signal_connect_swapped (self->editor, "activate", G_CALLBACK (activated), self);
}

GtkWidget *
nappe_number_entry_new (NappeDocument *document, const char *part, const char *field, NappeUnitSystem units)
{
  NappeNumberEntry *self = g_object_new (NAPPE_TYPE_NUMBER_ENTRY, NULL);
  NappePart *owner = nappe_build_find (nappe_document_get_build (document), part);

  self->document = g_object_ref (document);
  self->part = g_strdup (part);
  self->field = nappe_part_find_field (owner, field);
  self->units = units;
  fill (self, owner);
  return GTK_WIDGET (self);
}

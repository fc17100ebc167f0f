/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/finding-row.h"

#include <glib/gi18n-lib.h>

#include "studio/severity-mark.h"

struct _NappeFindingRow
{
  GtkListBoxRow parent_instance;
  NappeFinding *finding;
  NappeUnitSystem units;
  GtkWidget *mark, *title, *part, *arrow, *revealer, *details;
  gboolean filled; /* the details have been made */
};

G_DEFINE_FINAL_TYPE (NappeFindingRow, nappe_finding_row, GTK_TYPE_LIST_BOX_ROW)

static void
nappe_finding_row_dispose (GObject *object)
{
  NappeFindingRow *self = NAPPE_FINDING_ROW (object);

  g_clear_object (&self->finding);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_FINDING_ROW);
  G_OBJECT_CLASS (nappe_finding_row_parent_class)->dispose (object);
}

static void
toggle_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeFindingRow *self = NAPPE_FINDING_ROW (widget);

  nappe_finding_row_set_open (self, !nappe_finding_row_get_open (self));
}

static void
nappe_finding_row_class_init (NappeFindingRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_finding_row_dispose;
  /* For assistive technology, which finds no action on a row otherwise. */
  gtk_widget_class_install_action (widget_class, "finding.toggle", NULL, toggle_action);
  g_type_ensure (NAPPE_TYPE_SEVERITY_MARK);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/finding-row.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeFindingRow, mark);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingRow, title);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingRow, part);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingRow, arrow);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingRow, revealer);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingRow, details);
}

static void
nappe_finding_row_init (NappeFindingRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static GtkWidget *
add_text (NappeFindingRow *self, const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  gtk_box_append (GTK_BOX (self->details), label);
  return label;
}

static void
add_section (NappeFindingRow *self, const char *heading, const char *text)
{
  if (text == NULL || *text == '\0')
    return;
  gtk_widget_add_css_class (add_text (self, heading, "caption-heading"), "section");
  add_text (self, text, NULL);
}

/* Labels are costly to make and most findings are never opened. */
static void
fill_details (NappeFindingRow *self)
{
  g_autofree char *working = nappe_finding_working_text (self->finding, self->units);

  self->filled = TRUE;
  add_text (self, nappe_finding_get_text (self->finding), NULL);
  add_section (self, _("Remedy"), nappe_finding_get_remedy (self->finding));
  add_section (self, _("Working"), working);
  add_section (self, _("Source"), nappe_finding_get_source (self->finding));
}

static void
empty_details (NappeFindingRow *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->details)) != NULL)
    gtk_box_remove (GTK_BOX (self->details), child);
  self->filled = FALSE;
}

static gboolean
has_same_details (NappeFindingRow *self, NappeFinding *finding, NappeUnitSystem units)
{
  g_autofree char *before = nappe_finding_working_text (self->finding, self->units);
  g_autofree char *after = nappe_finding_working_text (finding, units);

  return g_strcmp0 (nappe_finding_get_text (self->finding), nappe_finding_get_text (finding)) == 0
         && g_strcmp0 (nappe_finding_get_remedy (self->finding), nappe_finding_get_remedy (finding)) == 0
         && g_strcmp0 (nappe_finding_get_source (self->finding), nappe_finding_get_source (finding)) == 0
         && g_strcmp0 (before, after) == 0;
}

void
nappe_finding_row_set_finding (NappeFindingRow *self, NappeFinding *finding, const char *part_name,
                               NappeUnitSystem units)
{
  NappeSeverity severity = nappe_finding_get_severity (finding);
  g_autofree char *name = NULL;

  /* Text that somebody may be marking stays when it says the same. */
  if (self->filled && !has_same_details (self, finding, units))
    empty_details (self);
  g_set_object (&self->finding, finding);
  self->units = units;
  nappe_severity_mark_set (NAPPE_SEVERITY_MARK (self->mark), severity, nappe_finding_get_number (finding));
  gtk_label_set_text (GTK_LABEL (self->title), nappe_finding_get_title (finding));
  gtk_label_set_text (GTK_LABEL (self->part), part_name);
  gtk_widget_set_visible (self->part, *part_name != '\0');
  /* Translators: a finding as read out: its severity, then its title. */
  name = g_strdup_printf (_("%s: %s"), nappe_severity_label (severity), nappe_finding_get_title (finding));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, nappe_finding_get_text (finding), -1);
  if (!self->filled && nappe_finding_row_get_open (self))
    fill_details (self);
}

GtkWidget *
nappe_finding_row_new (NappeFinding *finding, const char *part_name, NappeUnitSystem units)
{
  NappeFindingRow *self = g_object_new (NAPPE_TYPE_FINDING_ROW, NULL);

  nappe_finding_row_set_finding (self, finding, part_name, units);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_EXPANDED, FALSE, -1);
  return GTK_WIDGET (self);
}

NappeFinding *
nappe_finding_row_get_finding (NappeFindingRow *self)
{
  return self->finding;
}

void
nappe_finding_row_set_open (NappeFindingRow *self, gboolean open)
{
  if (open && !self->filled)
    fill_details (self);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), open);
  if (open)
    gtk_widget_add_css_class (self->arrow, "open");
  else
    gtk_widget_remove_css_class (self->arrow, "open");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_EXPANDED, open, -1);
}

gboolean
nappe_finding_row_get_open (NappeFindingRow *self)
{
  return gtk_revealer_get_reveal_child (GTK_REVEALER (self->revealer));
}

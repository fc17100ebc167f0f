/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/finding-row.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "studio/findings/cure-list.h"
#include "studio/findings/severity-mark.h"

struct _NappeFindingRow
{
  GtkListBoxRow parent_instance;
  NappeFinding *finding;
  NappeUnitSystem units;
  NappeCureFinder *finder; /* NULL: the row offers no cures */
  GtkWidget *cures;        /* NappeCureList, of the details; NULL: none */
  GtkWidget *mark, *title, *part, *arrow, *revealer, *details;
  gboolean filled; /* the details have been made */
};

G_DEFINE_FINAL_TYPE (NappeFindingRow, nappe_finding_row, GTK_TYPE_LIST_BOX_ROW)

static void
nappe_finding_row_dispose (GObject *object)
{
  NappeFindingRow *self = NAPPE_FINDING_ROW (object);

  g_clear_object (&self->finding);
  g_clear_object (&self->finder);
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
details_clicked (GtkGesture *click)
{
  gtk_gesture_set_state (click, GTK_EVENT_SEQUENCE_CLAIMED);
}

/* A click between the words of an open finding is no click on the row, which would close it. */
static void
add_click (NappeFindingRow *self)
{
  GtkGesture *click = gtk_gesture_click_new ();

  g_signal_connect (click, "released", G_CALLBACK (details_clicked), NULL);
  gtk_widget_add_controller (self->details, GTK_EVENT_CONTROLLER (click));
}

static void
nappe_finding_row_init (NappeFindingRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  add_click (self);
}

static GtkWidget *
add_text (NappeFindingRow *self, const char *text, const char *css_class)
{
  g_autofree char *unbroken = nappe_text_unbroken (text);
  GtkWidget *label = gtk_label_new (unbroken);

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

/* Each step is a text of its own, so that one can be told from the next where they take several lines. */
static void
add_working (NappeFindingRow *self)
{
  g_autofree char *working = nappe_finding_working_text (self->finding, self->units);
  g_auto (GStrv) steps = g_strsplit (working, "\n", -1);

  for (guint i = 0; steps[i] != NULL; i++)
    if (i == 0)
      add_section (self, _("Working"), steps[i]);
    else
      gtk_widget_add_css_class (add_text (self, steps[i], NULL), "step");
}

static GtkWidget *
new_button (NappeFindingRow *self, const char *label, const char *tooltip, const char *action)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_set_tooltip_text (button, tooltip);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  return button;
}

/* A button whose action is told the rule and the part. */
static GtkWidget *
new_finding_button (NappeFindingRow *self, const char *label, const char *tooltip, const char *action)
{
  GtkWidget *button = new_button (self, label, tooltip, action);

  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "(ss)", nappe_finding_get_rule (self->finding),
                                    nappe_finding_get_part (self->finding));
  return button;
}

static gboolean
is_finding (NappeFinding *finding)
{
  return nappe_finding_get_severity (finding) != NAPPE_SEVERITY_FINE;
}

/* An answered finding that counts no more has no number, and cures are not sought for it. */
static gboolean
offers_cures (NappeFinding *finding)
{
  return nappe_finding_get_number (finding) > 0 && nappe_finding_get_levers (finding)->len > 0;
}

static void
add_answer (NappeFindingRow *self)
{
  const char *answer = nappe_finding_get_answer (self->finding);

  if (*answer == '\0')
    return;
  /* Translators: heading over the reason why somebody lets a finding stand. */
  add_section (self, _("Answer"), answer);
  gtk_box_append (GTK_BOX (self->details),
                  new_finding_button (self, _("Take Back"), _("Take the answer away, so that the finding counts again"),
                                      "win.take-back-answer"));
}

/* A button whose action is told the rule. */
static GtkWidget *
new_rule_button (NappeFindingRow *self, const char *label, const char *tooltip, const char *action)
{
  GtkWidget *button = new_button (self, label, tooltip, action);

  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", nappe_finding_get_rule (self->finding));
  return button;
}

/* Buttons in lines that break, so that they make the panel no wider. */
static void
append_to_lines (GtkWidget *lines, GtkWidget *button)
{
  gtk_flow_box_insert (GTK_FLOW_BOX (lines), button, -1);
  /* The focus would not get past one that cannot be pressed. */
  g_object_bind_property (button, "sensitive", gtk_widget_get_parent (button), "visible", G_BINDING_SYNC_CREATE);
  gtk_widget_set_focusable (gtk_widget_get_parent (button), FALSE);
}

static void
add_buttons (NappeFindingRow *self)
{
  GtkWidget *box = gtk_flow_box_new ();

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (box), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (box), 3);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (box), 6);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (box), 6);
  if (is_finding (self->finding))
    append_to_lines (box, new_finding_button (self, _("Answer…"), _("Say why it may stand"), "win.answer-finding"));
  append_to_lines (box, new_rule_button (self, _("Limits…"), _("Limits and weights of the rules for this build"),
                                         "win.weigh-rule"));
  /* Translators: opens the handbook's page of the rule. */
  append_to_lines (box, new_rule_button (self, _("About…"), _("What the handbook says about this rule"),
                                         "win.about-rule"));
  gtk_widget_add_css_class (box, "section");
  gtk_box_append (GTK_BOX (self->details), box);
}

/* Labels are costly to make and most findings are never opened. */
static void
fill_details (NappeFindingRow *self)
{
  self->filled = TRUE;
  add_text (self, nappe_finding_get_text (self->finding), NULL);
  add_section (self, _("Remedy"), nappe_finding_get_remedy (self->finding));
  if (self->finder != NULL && offers_cures (self->finding))
    {
      self->cures = nappe_cure_list_new (self->finder, self->finding);
      gtk_box_append (GTK_BOX (self->details), self->cures);
    }
  add_answer (self);
  add_section (self, _("Changed for this build"), nappe_finding_get_changed (self->finding));
  add_working (self);
  add_section (self, _("Source"), nappe_finding_get_source (self->finding));
  add_buttons (self);
}

static void
empty_details (NappeFindingRow *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->details)) != NULL)
    gtk_box_remove (GTK_BOX (self->details), child);
  self->cures = NULL;
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
         && g_strcmp0 (nappe_finding_get_answer (self->finding), nappe_finding_get_answer (finding)) == 0
         && g_strcmp0 (nappe_finding_get_changed (self->finding), nappe_finding_get_changed (finding)) == 0
         && is_finding (self->finding) == is_finding (finding) && offers_cures (self->finding) == offers_cures (finding)
         && g_strcmp0 (before, after) == 0;
}

/* What stands under the title: the part, and what a reader of a list wants to know without opening it. Transfer full. */
static char *
caption_text (NappeFinding *finding, const char *part_name, NappeUnitSystem units)
{
  NappeQuantity quantity = nappe_finding_get_quantity (finding);
  double value = nappe_finding_get_value (finding), limit = nappe_finding_get_limit (finding);
  const char *answer = nappe_finding_get_answer (finding);
  const char *between = *part_name != '\0' ? " · " : "", *changed = "";
  g_autofree char *value_text = NULL, *limit_text = NULL;

  if (*nappe_finding_get_changed (finding) != '\0')
    /* Translators: behind a finding's part: the rule's limit or weight is not the usual one. */
    changed = _(" · changed limit or weight");
  if (*answer != '\0')
    return g_strconcat (part_name, between, answer, changed, NULL);
  if (is_finding (finding) || (nappe_finding_get_checked (finding) && !isfinite (value)))
    return g_strconcat (part_name, changed, NULL);
  if (!nappe_finding_get_checked (finding))
    return g_strconcat (part_name, between, nappe_finding_get_text (finding), changed, NULL);
  value_text = nappe_rounded_text (quantity, value, units);
  limit_text = nappe_rounded_text (quantity, limit, units);
  if (!isfinite (limit))
    return g_strconcat (part_name, between, value_text, changed, NULL);
  /* Translators: a part and a dot, or nothing; its number; the limit it is held against; more, or nothing. */
  return g_strdup_printf (_("%s%s%s, limit %s%s"), part_name, between, value_text, limit_text, changed);
}

void
nappe_finding_row_set_finding (NappeFindingRow *self, NappeFinding *finding, const char *part_name,
                               NappeUnitSystem units)
{
  NappeSeverity severity = nappe_finding_get_severity (finding);
  g_autofree char *name = NULL, *caption = caption_text (finding, part_name, units), *unbroken = nappe_text_unbroken (caption);

  /* Text that somebody may be marking stays when it says the same. */
  if (self->filled && !has_same_details (self, finding, units))
    empty_details (self);
  g_set_object (&self->finding, finding);
  self->units = units;
  nappe_severity_mark_set (NAPPE_SEVERITY_MARK (self->mark), severity, nappe_finding_get_number (finding));
  gtk_label_set_text (GTK_LABEL (self->title), nappe_finding_get_title (finding));
  gtk_label_set_text (GTK_LABEL (self->part), unbroken);
  gtk_widget_set_visible (self->part, *caption != '\0');
  /* Translators: a finding as read out: its severity, then its title. */
  name = g_strdup_printf (_("%s: %s"), nappe_severity_label (severity), nappe_finding_get_title (finding));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, nappe_finding_get_text (finding), -1);
  if (self->cures != NULL)
    nappe_cure_list_set_finding (NAPPE_CURE_LIST (self->cures), finding);
  if (!self->filled && nappe_finding_row_get_open (self))
    fill_details (self);
}

GtkWidget *
nappe_finding_row_new (NappeFinding *finding, const char *part_name, NappeUnitSystem units, NappeCureFinder *finder)
{
  NappeFindingRow *self = g_object_new (NAPPE_TYPE_FINDING_ROW, NULL);

  g_set_object (&self->finder, finder);
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

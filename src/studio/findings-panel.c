/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings-panel.h"

#include <glib/gi18n-lib.h>

#include "studio/finding-row.h"
#include "studio/severity-mark.h"

struct _NappeFindingsPanel
{
  GtkWidget parent_instance;
  NappeOutcome *outcome;
  GtkWidget *content, *mark, *worst, *summary, *scroller, *list, *fine_expander, *fine_list;
  gboolean fine_filled;
};

G_DEFINE_FINAL_TYPE (NappeFindingsPanel, nappe_findings_panel, GTK_TYPE_WIDGET)

static guint picked_signal;

char *
nappe_findings_panel_summary (const NappeVerdict *verdict)
{
  g_autofree char *counts = nappe_verdict_counts_text (verdict);

  return g_strdup (*counts != '\0' ? counts : _("Nothing to say against this build"));
}

/* A row that was chosen by hand opens, or closes when it is open already. */
static void
row_activated (GtkListBox *list, GtkListBoxRow *row, NappeFindingsPanel *self)
{
  NappeFindingRow *chosen = NAPPE_FINDING_ROW (row);

  nappe_finding_row_set_open (chosen, !nappe_finding_row_get_open (chosen));
  g_signal_emit (self, picked_signal, 0, nappe_finding_get_part (nappe_finding_row_get_finding (chosen)));
}

/* Moving the selection, by arrow keys or assistive technology, picks the part and opens nothing. */
static void
row_selected (GtkListBox *list, GtkListBoxRow *row, NappeFindingsPanel *self)
{
  if (row == NULL)
    return;
  g_signal_emit (self, picked_signal, 0,
                 nappe_finding_get_part (nappe_finding_row_get_finding (NAPPE_FINDING_ROW (row))));
}

static GtkWidget *
make_row (NappeFindingsPanel *self, NappeFinding *finding)
{
  NappePart *part = nappe_outcome_find (self->outcome, nappe_finding_get_part (finding));

  return nappe_finding_row_new (finding, part != NULL ? nappe_part_display_name (part) : "", self->outcome->units);
}

static void
empty_list (GtkListBox *list)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (list, 0)) != NULL)
    gtk_list_box_remove (list, GTK_WIDGET (row));
}

/* The fine ones are many and seldom read: their rows are made when they are asked for. */
static void
fill_fine (NappeFindingsPanel *self)
{
  const GPtrArray *fine = self->outcome != NULL ? self->outcome->verdict->fine : NULL;

  if (self->fine_filled || fine == NULL || !gtk_expander_get_expanded (GTK_EXPANDER (self->fine_expander)))
    return;
  self->fine_filled = TRUE;
  for (guint i = 0; i < fine->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->fine_list), make_row (self, g_ptr_array_index (fine, i)));
}

static char *
key_of (NappeFinding *finding)
{
  return g_strdup_printf ("%s %s", nappe_finding_get_rule (finding), nappe_finding_get_part (finding));
}

/* Rule and part of the rows that are open. */
static GHashTable *
open_rows (NappeFindingsPanel *self)
{
  GHashTable *open = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), i)) != NULL; i++)
    if (nappe_finding_row_get_open (NAPPE_FINDING_ROW (row)))
      g_hash_table_add (open, key_of (nappe_finding_row_get_finding (NAPPE_FINDING_ROW (row))));
  return open;
}

static void
fill_list (NappeFindingsPanel *self)
{
  g_autoptr (GHashTable) open = open_rows (self);
  const GPtrArray *findings = self->outcome != NULL ? self->outcome->verdict->findings : NULL;

  g_signal_handlers_block_by_func (self->list, row_selected, self);
  empty_list (GTK_LIST_BOX (self->list));
  empty_list (GTK_LIST_BOX (self->fine_list));
  self->fine_filled = FALSE;
  for (guint i = 0; findings != NULL && i < findings->len; i++)
    {
      NappeFinding *finding = g_ptr_array_index (findings, i);
      GtkWidget *row = make_row (self, finding);
      g_autofree char *key = key_of (finding);

      gtk_list_box_append (GTK_LIST_BOX (self->list), row);
      if (g_hash_table_contains (open, key))
        nappe_finding_row_set_open (NAPPE_FINDING_ROW (row), TRUE);
    }
  g_signal_handlers_unblock_by_func (self->list, row_selected, self);
  gtk_widget_set_visible (self->list, findings != NULL && findings->len > 0);
}

static void
show_verdict (NappeFindingsPanel *self)
{
  const NappeVerdict *verdict = self->outcome->verdict;
  NappeSeverity worst = nappe_verdict_worst (verdict);
  g_autofree char *summary = nappe_findings_panel_summary (verdict);
  g_autofree char *fine = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u check passed", "%u checks passed", verdict->fine->len),
                                           verdict->fine->len);

  nappe_severity_mark_set (NAPPE_SEVERITY_MARK (self->mark), worst, 0);
  gtk_label_set_text (GTK_LABEL (self->worst), nappe_severity_label (worst));
  gtk_label_set_text (GTK_LABEL (self->summary), summary);
  gtk_expander_set_label (GTK_EXPANDER (self->fine_expander), fine);
  gtk_widget_set_visible (self->fine_expander, verdict->fine->len > 0);
}

static void
nappe_findings_panel_dispose (GObject *object)
{
  NappeFindingsPanel *self = NAPPE_FINDINGS_PANEL (object);

  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_FINDINGS_PANEL);
  G_OBJECT_CLASS (nappe_findings_panel_parent_class)->dispose (object);
}

static void
nappe_findings_panel_class_init (NappeFindingsPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_findings_panel_dispose;
  picked_signal = g_signal_new ("picked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_STRING);
  g_type_ensure (NAPPE_TYPE_SEVERITY_MARK);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/findings-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, content);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, mark);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, worst);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, summary);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, scroller);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, list);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, fine_expander);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, fine_list);
  gtk_widget_class_bind_template_callback (widget_class, row_activated);
  gtk_widget_class_bind_template_callback (widget_class, row_selected);
  gtk_widget_class_bind_template_callback (widget_class, fill_fine);
}

static void
nappe_findings_panel_init (NappeFindingsPanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
nappe_findings_panel_set_outcome (NappeFindingsPanel *self, NappeOutcome *outcome)
{
  NappeOutcome *before = self->outcome;

  self->outcome = outcome != NULL ? nappe_outcome_ref (outcome) : NULL;
  fill_list (self);
  if (outcome != NULL)
    show_verdict (self);
  gtk_widget_set_visible (self->content, outcome != NULL);
  fill_fine (self);
  g_clear_pointer (&before, nappe_outcome_unref);
}

void
nappe_findings_panel_select_part (NappeFindingsPanel *self, const char *part)
{
  GtkListBox *list = GTK_LIST_BOX (self->list);
  GtkListBoxRow *selected = gtk_list_box_get_selected_row (list), *row;

  /* Several findings can speak of one part; the one that was chosen stays. */
  if (selected != NULL
      && g_strcmp0 (nappe_finding_get_part (nappe_finding_row_get_finding (NAPPE_FINDING_ROW (selected))),
                    part != NULL ? part : "") == 0)
    return;
  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    if (part != NULL
        && g_strcmp0 (nappe_finding_get_part (nappe_finding_row_get_finding (NAPPE_FINDING_ROW (row))), part) == 0)
      break;
  g_signal_handlers_block_by_func (list, row_selected, self);
  gtk_list_box_select_row (list, row);
  g_signal_handlers_unblock_by_func (list, row_selected, self);
}

void
nappe_findings_panel_step (NappeFindingsPanel *self, int direction)
{
  GtkListBox *list = GTK_LIST_BOX (self->list);
  GtkListBoxRow *selected = gtk_list_box_get_selected_row (list), *row;
  int n = self->outcome != NULL ? (int) self->outcome->verdict->findings->len : 0;
  int next;

  if (n == 0)
    return;
  next = selected != NULL ? gtk_list_box_row_get_index (selected) + direction : direction > 0 ? 0 : n - 1;
  row = gtk_list_box_get_row_at_index (list, (next + n) % n);
  nappe_finding_row_set_open (NAPPE_FINDING_ROW (row), TRUE);
  gtk_list_box_select_row (list, row);
  gtk_widget_grab_focus (GTK_WIDGET (row));
}

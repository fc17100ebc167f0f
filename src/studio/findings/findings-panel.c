/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/findings-panel.h"

#include <glib/gi18n-lib.h>

#include "studio/findings/checks-list.h"
#include "studio/findings/finding-list.h"
#include "studio/findings/finding-row.h"
#include "studio/findings/severity-mark.h"

struct _NappeFindingsPanel
{
  GtkWidget parent_instance;
  NappeOutcome *outcome;
  NappeCureFinder *finder;
  NappeFinding *picked; /* that the person chose last; NULL: none. It has no row while its cases are played anew */
  GHashTable *open;     /* char *: open findings, also those that have no row just now, see studio/findings/finding-list.h */
  GtkWidget *content, *mark, *worst, *summary, *playing, *scroller, *list, *answered, *answered_list;
  NappeChecksList *checks;
};

G_DEFINE_FINAL_TYPE (NappeFindingsPanel, nappe_findings_panel, GTK_TYPE_WIDGET)

static guint picked_signal;

char *
nappe_findings_panel_summary (const NappeVerdict *verdict)
{
  g_autofree char *counts = nappe_verdict_counts_text (verdict);

  return g_strdup (*counts != '\0' ? counts : _("Nothing to say against this build"));
}

static void
pick (NappeFindingsPanel *self, NappeFinding *finding)
{
  g_set_object (&self->picked, finding);
  g_signal_emit (self, picked_signal, 0, nappe_finding_get_part (finding));
}

/* A row that was chosen by hand opens, or closes when it is open already. */
static void
row_activated (GtkListBox *list, GtkListBoxRow *row, NappeFindingsPanel *self)
{
  NappeFindingRow *chosen = NAPPE_FINDING_ROW (row);

  nappe_finding_row_set_open (chosen, !nappe_finding_row_get_open (chosen));
  pick (self, nappe_finding_list_finding_of (row));
}

/* Moving the selection, by arrow keys or assistive technology, picks the part and opens nothing. */
static void
row_selected (GtkListBox *list, GtkListBoxRow *row, NappeFindingsPanel *self)
{
  if (row != NULL)
    pick (self, nappe_finding_list_finding_of (row));
}

/* Which rows are open. Findings that only playing shows are away until cases have been played anew, and stay known. */
static void
remember_open (NappeFindingsPanel *self)
{
  if (self->outcome == NULL || self->outcome->timed)
    g_hash_table_remove_all (self->open);
  nappe_checks_list_remember_open (self->checks, self->open);
  nappe_finding_list_remember_open (GTK_LIST_BOX (self->answered_list), self->open);
  nappe_finding_list_remember_open (GTK_LIST_BOX (self->list), self->open);
}

/* The picked finding may be back, now that cases have been played. */
static void
restore_picked (NappeFindingsPanel *self)
{
  GtkListBoxRow *row = self->picked != NULL ? nappe_finding_list_row_of (GTK_LIST_BOX (self->list), self->picked) : NULL;

  if (row != NULL)
    gtk_list_box_select_row (GTK_LIST_BOX (self->list), row);
  else if (self->outcome->timed)
    g_clear_object (&self->picked);
}

static void
fill_lists (NappeFindingsPanel *self)
{
  const NappeFindingListMeans means = { self->outcome, self->finder, self->open };
  const NappeVerdict *verdict = self->outcome != NULL ? self->outcome->verdict : NULL;

  g_signal_handlers_block_by_func (self->list, row_selected, self);
  if (verdict != NULL)
    {
      nappe_finding_list_match (GTK_LIST_BOX (self->list), verdict->findings, &means);
      nappe_finding_list_match (GTK_LIST_BOX (self->answered_list), verdict->answered, &means);
      restore_picked (self);
    }
  else
    {
      nappe_finding_list_empty (GTK_LIST_BOX (self->list));
      nappe_finding_list_empty (GTK_LIST_BOX (self->answered_list));
      g_clear_object (&self->picked);
    }
  g_signal_handlers_unblock_by_func (self->list, row_selected, self);
  gtk_widget_set_visible (self->list, verdict != NULL && verdict->findings->len > 0);
  gtk_widget_set_visible (self->answered, verdict != NULL && verdict->answered->len > 0);
  nappe_checks_list_set_means (self->checks, &means);
}

static void
show_verdict (NappeFindingsPanel *self)
{
  const NappeVerdict *verdict = self->outcome->verdict;
  NappeSeverity worst = nappe_verdict_worst (verdict);
  g_autofree char *summary = nappe_findings_panel_summary (verdict);

  nappe_severity_mark_set (NAPPE_SEVERITY_MARK (self->mark), worst, 0);
  gtk_label_set_text (GTK_LABEL (self->worst), nappe_severity_label (worst));
  gtk_label_set_text (GTK_LABEL (self->summary), summary);
  /* The line keeps its height, so that nothing jumps when it goes. */
  /* Translators: some findings come only after cases such as a power cut have been simulated, which takes a moment. */
  gtk_label_set_text (GTK_LABEL (self->playing), self->outcome->timed ? "" : _("Playing cases in time …"));
}

/* A row that gets the focus is selected too. Coming in from outside is no choice yet: it leaves the picked part as it is. */
static gboolean
nappe_findings_panel_focus (GtkWidget *widget, GtkDirectionType direction)
{
  NappeFindingsPanel *self = NAPPE_FINDINGS_PANEL (widget);
  GtkListBoxRow *selected = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));
  gboolean entering = gtk_widget_get_focus_child (widget) == NULL, taken;

  if (entering)
    g_signal_handlers_block_by_func (self->list, row_selected, self);
  taken = GTK_WIDGET_CLASS (nappe_findings_panel_parent_class)->focus (widget, direction);
  if (entering)
    {
      gtk_list_box_select_row (GTK_LIST_BOX (self->list), selected);
      g_signal_handlers_unblock_by_func (self->list, row_selected, self);
    }
  return taken;
}

static void
nappe_findings_panel_dispose (GObject *object)
{
  NappeFindingsPanel *self = NAPPE_FINDINGS_PANEL (object);

  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  g_clear_object (&self->picked);
  g_clear_object (&self->finder);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_FINDINGS_PANEL);
  G_OBJECT_CLASS (nappe_findings_panel_parent_class)->dispose (object);
}

static void
nappe_findings_panel_finalize (GObject *object)
{
  g_hash_table_unref (NAPPE_FINDINGS_PANEL (object)->open);
  G_OBJECT_CLASS (nappe_findings_panel_parent_class)->finalize (object);
}

static void
nappe_findings_panel_class_init (NappeFindingsPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_findings_panel_dispose;
  G_OBJECT_CLASS (klass)->finalize = nappe_findings_panel_finalize;
  widget_class->focus = nappe_findings_panel_focus;
  picked_signal = g_signal_new ("picked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_STRING);
  g_type_ensure (NAPPE_TYPE_SEVERITY_MARK);
  g_type_ensure (NAPPE_TYPE_CHECKS_LIST);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/findings-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, content);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, mark);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, worst);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, summary);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, playing);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, scroller);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, list);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, answered);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, answered_list);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, checks);
  gtk_widget_class_bind_template_callback (widget_class, row_activated);
  gtk_widget_class_bind_template_callback (widget_class, row_selected);
  gtk_widget_class_bind_template_callback (widget_class, pick);
}

static void
nappe_findings_panel_init (NappeFindingsPanel *self)
{
  self->open = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
nappe_findings_panel_set_finder (NappeFindingsPanel *self, NappeCureFinder *finder)
{
  g_set_object (&self->finder, finder);
}

void
nappe_findings_panel_set_outcome (NappeFindingsPanel *self, NappeOutcome *outcome)
{
  NappeOutcome *before = self->outcome;

  remember_open (self);
  self->outcome = outcome != NULL ? nappe_outcome_ref (outcome) : NULL;
  fill_lists (self);
  if (outcome != NULL)
    show_verdict (self);
  gtk_widget_set_visible (self->content, outcome != NULL);
  g_clear_pointer (&before, nappe_outcome_unref);
}

void
nappe_findings_panel_select_part (NappeFindingsPanel *self, const char *part)
{
  GtkListBox *list = GTK_LIST_BOX (self->list);
  GtkListBoxRow *selected = gtk_list_box_get_selected_row (list), *row;

  if (self->picked != NULL && g_strcmp0 (nappe_finding_get_part (self->picked), part != NULL ? part : "") != 0)
    g_clear_object (&self->picked);
  /* Several findings can speak of one part; the one that was chosen stays. */
  if (selected != NULL
      && g_strcmp0 (nappe_finding_get_part (nappe_finding_list_finding_of (selected)), part != NULL ? part : "") == 0)
    return;
  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    if (part != NULL && g_strcmp0 (nappe_finding_get_part (nappe_finding_list_finding_of (row)), part) == 0)
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

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings-panel.h"

#include <glib/gi18n-lib.h>

#include "studio/finding-row.h"
#include "studio/severity-mark.h"

struct _NappeFindingsPanel
{
  GtkWidget parent_instance;
  NappeOutcome *outcome;
  NappeFinding *picked; /* that the person chose last; NULL: none. It has no row while its cases are played anew */
  GHashTable *open;     /* char *, key_of: open findings, also those that have no row just now */
  GtkWidget *content, *mark, *worst, *summary, *playing, *scroller, *list, *fine_expander, *fine_list;
};

G_DEFINE_FINAL_TYPE (NappeFindingsPanel, nappe_findings_panel, GTK_TYPE_WIDGET)

static guint picked_signal;

char *
nappe_findings_panel_summary (const NappeVerdict *verdict)
{
  g_autofree char *counts = nappe_verdict_counts_text (verdict);

  return g_strdup (*counts != '\0' ? counts : _("Nothing to say against this build"));
}

static NappeFinding *
finding_of (GtkListBoxRow *row)
{
  return nappe_finding_row_get_finding (NAPPE_FINDING_ROW (row));
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
  pick (self, finding_of (row));
}

/* Moving the selection, by arrow keys or assistive technology, picks the part and opens nothing. */
static void
row_selected (GtkListBox *list, GtkListBoxRow *row, NappeFindingsPanel *self)
{
  if (row != NULL)
    pick (self, finding_of (row));
}

static void
empty_list (GtkListBox *list)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (list, 0)) != NULL)
    gtk_list_box_remove (list, GTK_WIDGET (row));
}

static char *
key_of (NappeFinding *finding)
{
  return g_strdup_printf ("%s %s", nappe_finding_get_rule (finding), nappe_finding_get_part (finding));
}

/* Whether two findings, of different studies perhaps, are one rule's about one part. */
static gboolean
is_same (NappeFinding *a, NappeFinding *b)
{
  return g_strcmp0 (nappe_finding_get_rule (a), nappe_finding_get_rule (b)) == 0
         && g_strcmp0 (nappe_finding_get_part (a), nappe_finding_get_part (b)) == 0;
}

/* The row of a finding, or one that is left over from a finding before it about the same; NULL: none. */
static NappeFindingRow *
find_row (GtkListBox *list, GPtrArray *findings, NappeFinding *finding)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    {
      NappeFinding *shown = finding_of (row);

      if (shown == finding || (is_same (shown, finding) && !g_ptr_array_find (findings, shown, NULL)))
        return NAPPE_FINDING_ROW (row);
    }
  return NULL;
}

static int
compare_rows (GtkListBoxRow *a, GtkListBoxRow *b, gpointer findings)
{
  guint first = 0, second = 0;

  g_ptr_array_find (findings, finding_of (a), &first);
  g_ptr_array_find (findings, finding_of (b), &second);
  return (int) first - (int) second;
}

static const char *
part_name (NappeFindingsPanel *self, NappeFinding *finding)
{
  NappePart *part = nappe_outcome_find (self->outcome, nappe_finding_get_part (finding));

  return part != NULL ? nappe_part_display_name (part) : "";
}

/* Lets the rows there are show the findings, and takes away those that are about none. Gives the findings without a row. */
static GPtrArray *
reuse_rows (NappeFindingsPanel *self, GtkListBox *list, GPtrArray *findings)
{
  GPtrArray *fresh = g_ptr_array_new ();
  GtkListBoxRow *row;

  for (guint i = 0; i < findings->len; i++)
    {
      NappeFinding *finding = g_ptr_array_index (findings, i);
      NappeFindingRow *present = find_row (list, findings, finding);

      if (present != NULL)
        nappe_finding_row_set_finding (present, finding, part_name (self, finding), self->outcome->units);
      else
        g_ptr_array_add (fresh, finding);
    }
  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL;)
    if (g_ptr_array_find (findings, finding_of (row), NULL))
      i++;
    else
      gtk_list_box_remove (list, GTK_WIDGET (row));
  return fresh;
}

/* Makes the rows agree with findings of the outcome. A finding that was there before keeps its row, and with it the focus. */
static void
match_rows (NappeFindingsPanel *self, GtkListBox *list, GPtrArray *findings)
{
  g_autoptr (GPtrArray) fresh = reuse_rows (self, list, findings);

  gtk_list_box_set_sort_func (list, compare_rows, g_ptr_array_ref (findings), (GDestroyNotify) g_ptr_array_unref);
  for (guint i = 0; i < fresh->len; i++)
    {
      NappeFinding *finding = g_ptr_array_index (fresh, i);
      GtkWidget *row = nappe_finding_row_new (finding, part_name (self, finding), self->outcome->units);
      g_autofree char *key = key_of (finding);

      /* Before it is seen, so that it does not unfold. */
      if (g_hash_table_contains (self->open, key))
        nappe_finding_row_set_open (NAPPE_FINDING_ROW (row), TRUE);
      gtk_list_box_append (list, row);
    }
}

/* The fine ones are many and seldom read: their rows are made when they are asked for. */
static void
fill_fine (NappeFindingsPanel *self)
{
  if (self->outcome != NULL && gtk_expander_get_expanded (GTK_EXPANDER (self->fine_expander)))
    match_rows (self, GTK_LIST_BOX (self->fine_list), self->outcome->verdict->fine);
  else
    empty_list (GTK_LIST_BOX (self->fine_list));
}

/* Which rows are open. Findings that only playing shows are away until cases have been played anew, and stay known. */
static void
remember_open (NappeFindingsPanel *self)
{
  GtkWidget *const lists[] = { self->list, self->fine_list };
  GtkListBoxRow *row;

  if (self->outcome == NULL || self->outcome->timed)
    g_hash_table_remove_all (self->open);
  for (gsize l = 0; l < G_N_ELEMENTS (lists); l++)
    for (int i = 0; (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (lists[l]), i)) != NULL; i++)
      {
        g_autofree char *key = key_of (finding_of (row));

        if (nappe_finding_row_get_open (NAPPE_FINDING_ROW (row)))
          g_hash_table_add (self->open, g_steal_pointer (&key));
        else
          g_hash_table_remove (self->open, key);
      }
}

/* The picked finding may be back, now that cases have been played. */
static void
restore_picked (NappeFindingsPanel *self)
{
  GtkListBox *list = GTK_LIST_BOX (self->list);
  GtkListBoxRow *row = NULL;

  if (self->picked == NULL)
    return;
  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    if (is_same (finding_of (row), self->picked))
      {
        gtk_list_box_select_row (list, row);
        return;
      }
  if (self->outcome->timed)
    g_clear_object (&self->picked);
}

static void
fill_list (NappeFindingsPanel *self)
{
  GPtrArray *findings = self->outcome != NULL ? self->outcome->verdict->findings : NULL;

  g_signal_handlers_block_by_func (self->list, row_selected, self);
  if (findings != NULL)
    {
      match_rows (self, GTK_LIST_BOX (self->list), findings);
      restore_picked (self);
    }
  else
    {
      empty_list (GTK_LIST_BOX (self->list));
      g_clear_object (&self->picked);
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
  /* The line keeps its height, so that nothing jumps when it goes. */
  /* Translators: some findings come only after cases such as a power cut have been simulated, which takes a moment. */
  gtk_label_set_text (GTK_LABEL (self->playing), self->outcome->timed ? "" : _("Playing cases in time …"));
  gtk_expander_set_label (GTK_EXPANDER (self->fine_expander), fine);
  gtk_widget_set_visible (self->fine_expander, verdict->fine->len > 0);
}

static void
nappe_findings_panel_dispose (GObject *object)
{
  NappeFindingsPanel *self = NAPPE_FINDINGS_PANEL (object);

  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  g_clear_object (&self->picked);
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
  picked_signal = g_signal_new ("picked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_STRING);
  g_type_ensure (NAPPE_TYPE_SEVERITY_MARK);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/findings-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, content);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, mark);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, worst);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, summary);
  gtk_widget_class_bind_template_child (widget_class, NappeFindingsPanel, playing);
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
  self->open = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
nappe_findings_panel_set_outcome (NappeFindingsPanel *self, NappeOutcome *outcome)
{
  NappeOutcome *before = self->outcome;

  remember_open (self);
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

  if (self->picked != NULL && g_strcmp0 (nappe_finding_get_part (self->picked), part != NULL ? part : "") != 0)
    g_clear_object (&self->picked);
  /* Several findings can speak of one part; the one that was chosen stays. */
  if (selected != NULL && g_strcmp0 (nappe_finding_get_part (finding_of (selected)), part != NULL ? part : "") == 0)
    return;
  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    if (part != NULL && g_strcmp0 (nappe_finding_get_part (finding_of (row)), part) == 0)
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

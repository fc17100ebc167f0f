/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/checks-list.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "studio/findings/finding-row.h"

/* So many can be looked over without searching. */
#define FEW 8

struct _NappeChecksList
{
  GtkWidget parent_instance;
  NappeOutcome *outcome;
  GHashTable *open;
  GPtrArray *fine, *others; /* NappeFinding, of the outcome */
  char *wanted;             /* what is searched for, case-folded */
  GtkWidget *content, *search, *fine_expander, *fine_list, *others_expander, *others_list;
};

G_DEFINE_FINAL_TYPE (NappeChecksList, nappe_checks_list, GTK_TYPE_WIDGET)

static guint chosen_signal;

static void
row_activated (GtkListBox *list, GtkListBoxRow *row, NappeChecksList *self)
{
  NappeFindingRow *chosen = NAPPE_FINDING_ROW (row);

  nappe_finding_row_set_open (chosen, !nappe_finding_row_get_open (chosen));
  g_signal_emit (self, chosen_signal, 0, nappe_finding_row_get_finding (chosen));
}

/* They are many and seldom read: rows are made when they are asked for. */
static void
fill_list (NappeChecksList *self, GtkWidget *expander, GtkWidget *list, GPtrArray *findings)
{
  const NappeFindingListMeans means = { self->outcome, NULL, self->open };

  if (self->outcome != NULL && gtk_expander_get_expanded (GTK_EXPANDER (expander)))
    nappe_finding_list_match (GTK_LIST_BOX (list), findings, &means);
  else
    nappe_finding_list_empty (GTK_LIST_BOX (list));
}

static void
fill (NappeChecksList *self)
{
  fill_list (self, self->fine_expander, self->fine_list, self->fine);
  fill_list (self, self->others_expander, self->others_list, self->others);
}

static gboolean
holds (const char *text, const char *wanted)
{
  g_autofree char *folded = g_utf8_casefold (text, -1);

  return strstr (folded, wanted) != NULL;
}

static gboolean
is_wanted (GtkListBoxRow *row, gpointer user_data)
{
  const char *wanted = NAPPE_CHECKS_LIST (user_data)->wanted;
  NappeFinding *finding = nappe_finding_list_finding_of (row);

  return *wanted == '\0' || holds (nappe_finding_get_title (finding), wanted)
         || holds (nappe_finding_get_text (finding), wanted);
}

static void
search_changed (NappeChecksList *self)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->search))));

  g_free (self->wanted);
  self->wanted = g_utf8_casefold (text, -1);
  if (*self->wanted != '\0')
    {
      gtk_expander_set_expanded (GTK_EXPANDER (self->fine_expander), TRUE);
      gtk_expander_set_expanded (GTK_EXPANDER (self->others_expander), TRUE);
    }
  gtk_list_box_invalidate_filter (GTK_LIST_BOX (self->fine_list));
  gtk_list_box_invalidate_filter (GTK_LIST_BOX (self->others_list));
}

static void
show_count (GtkWidget *expander, const char *title, guint n)
{
  /* Translators: what a list holds, and how many of it. */
  g_autofree char *label = g_strdup_printf (_("%s: %u"), title, n);

  gtk_expander_set_label (GTK_EXPANDER (expander), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (expander), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_widget_set_visible (expander, n > 0);
}

static void
sort_out (NappeChecksList *self)
{
  const GPtrArray *all = self->outcome != NULL ? self->outcome->verdict->fine : NULL;

  g_clear_pointer (&self->fine, g_ptr_array_unref);
  g_clear_pointer (&self->others, g_ptr_array_unref);
  self->fine = g_ptr_array_new ();
  self->others = g_ptr_array_new ();
  for (guint i = 0; all != NULL && i < all->len; i++)
    g_ptr_array_add (nappe_finding_get_checked (all->pdata[i]) ? self->fine : self->others, all->pdata[i]);
}

static void
nappe_checks_list_dispose (GObject *object)
{
  NappeChecksList *self = NAPPE_CHECKS_LIST (object);

  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  g_clear_pointer (&self->open, g_hash_table_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_CHECKS_LIST);
  G_OBJECT_CLASS (nappe_checks_list_parent_class)->dispose (object);
}

static void
nappe_checks_list_finalize (GObject *object)
{
  NappeChecksList *self = NAPPE_CHECKS_LIST (object);

  g_clear_pointer (&self->fine, g_ptr_array_unref);
  g_clear_pointer (&self->others, g_ptr_array_unref);
  g_free (self->wanted);
  G_OBJECT_CLASS (nappe_checks_list_parent_class)->finalize (object);
}

static void
nappe_checks_list_class_init (NappeChecksListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_checks_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = nappe_checks_list_finalize;
  chosen_signal = g_signal_new ("chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, NAPPE_TYPE_FINDING);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/checks-list.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeChecksList, content);
  gtk_widget_class_bind_template_child (widget_class, NappeChecksList, search);
  gtk_widget_class_bind_template_child (widget_class, NappeChecksList, fine_expander);
  gtk_widget_class_bind_template_child (widget_class, NappeChecksList, fine_list);
  gtk_widget_class_bind_template_child (widget_class, NappeChecksList, others_expander);
  gtk_widget_class_bind_template_child (widget_class, NappeChecksList, others_list);
  gtk_widget_class_bind_template_callback (widget_class, row_activated);
  gtk_widget_class_bind_template_callback (widget_class, fill);
  gtk_widget_class_bind_template_callback (widget_class, search_changed);
}

static void
nappe_checks_list_init (NappeChecksList *self)
{
  self->wanted = g_strdup ("");
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_list_box_set_filter_func (GTK_LIST_BOX (self->fine_list), is_wanted, self, NULL);
  gtk_list_box_set_filter_func (GTK_LIST_BOX (self->others_list), is_wanted, self, NULL);
}

void
nappe_checks_list_set_means (NappeChecksList *self, const NappeFindingListMeans *means)
{
  NappeOutcome *before = self->outcome;

  self->outcome = means->outcome != NULL ? nappe_outcome_ref (means->outcome) : NULL;
  g_clear_pointer (&self->open, g_hash_table_unref);
  self->open = g_hash_table_ref (means->open);
  sort_out (self);
  show_count (self->fine_expander, _("Checked and fine"), self->fine->len);
  show_count (self->others_expander, _("Not checked or does not apply"), self->others->len);
  gtk_widget_set_visible (self->search, self->fine->len + self->others->len > FEW);
  fill (self);
  g_clear_pointer (&before, nappe_outcome_unref);
}

void
nappe_checks_list_remember_open (NappeChecksList *self, GHashTable *open)
{
  nappe_finding_list_remember_open (GTK_LIST_BOX (self->fine_list), open);
  nappe_finding_list_remember_open (GTK_LIST_BOX (self->others_list), open);
}

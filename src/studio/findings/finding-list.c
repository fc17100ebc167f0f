/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/finding-list.h"

#include "results/part-words.h"
#include "studio/findings/finding-row.h"

NappeFinding *
nappe_finding_list_finding_of (GtkListBoxRow *row)
{
  return nappe_finding_row_get_finding (NAPPE_FINDING_ROW (row));
}

void
nappe_finding_list_empty (GtkListBox *list)
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

GtkListBoxRow *
nappe_finding_list_row_of (GtkListBox *list, NappeFinding *finding)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    if (is_same (nappe_finding_list_finding_of (row), finding))
      return row;
  return NULL;
}

/* The row of a finding, or one that is left over from a finding before it about the same; NULL: none. */
static NappeFindingRow *
find_row (GtkListBox *list, GPtrArray *findings, NappeFinding *finding)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    {
      NappeFinding *shown = nappe_finding_list_finding_of (row);

      if (shown == finding || (is_same (shown, finding) && !g_ptr_array_find (findings, shown, NULL)))
        return NAPPE_FINDING_ROW (row);
    }
  return NULL;
}

static int
compare_rows (GtkListBoxRow *a, GtkListBoxRow *b, gpointer findings)
{
  guint first = 0, second = 0;

  g_ptr_array_find (findings, nappe_finding_list_finding_of (a), &first);
  g_ptr_array_find (findings, nappe_finding_list_finding_of (b), &second);
  return (int) first - (int) second;
}

/* Transfer full. */
static char *
part_name (NappeOutcome *outcome, NappeFinding *finding)
{
  return nappe_part_caption (outcome->build, nappe_finding_get_part (finding));
}

/* Lets the rows there are show the findings, and takes away those that are about none. Gives the findings without a row. */
static GPtrArray *
reuse_rows (GtkListBox *list, GPtrArray *findings, NappeOutcome *outcome)
{
  GPtrArray *fresh = g_ptr_array_new ();
  GtkListBoxRow *row;

  for (guint i = 0; i < findings->len; i++)
    {
      NappeFinding *finding = g_ptr_array_index (findings, i);
      NappeFindingRow *present = find_row (list, findings, finding);

      if (present != NULL)
        {
          g_autofree char *name = part_name (outcome, finding);
          nappe_finding_row_set_finding (present, finding, name, outcome->units);
        }
      else
        g_ptr_array_add (fresh, finding);
    }
  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL;)
    if (g_ptr_array_find (findings, nappe_finding_list_finding_of (row), NULL))
      i++;
    else
      gtk_list_box_remove (list, GTK_WIDGET (row));
  return fresh;
}

void
nappe_finding_list_match (GtkListBox *list, GPtrArray *findings, const NappeFindingListMeans *means)
{
  g_autoptr (GPtrArray) fresh = reuse_rows (list, findings, means->outcome);

  gtk_list_box_set_sort_func (list, compare_rows, g_ptr_array_ref (findings), (GDestroyNotify) g_ptr_array_unref);
  for (guint i = 0; i < fresh->len; i++)
    {
      NappeFinding *finding = g_ptr_array_index (fresh, i);
      g_autofree char *name = part_name (means->outcome, finding);
      GtkWidget *row = nappe_finding_row_new (finding, name, means->outcome->units,
                                              means->finder);
      g_autofree char *key = key_of (finding);

      /* Before it is seen, so that it does not unfold. */
      if (g_hash_table_contains (means->open, key))
        nappe_finding_row_set_open (NAPPE_FINDING_ROW (row), TRUE);
      gtk_list_box_append (list, row);
    }
}

void
nappe_finding_list_remember_open (GtkListBox *list, GHashTable *open)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    {
      g_autofree char *key = key_of (nappe_finding_list_finding_of (row));

      if (nappe_finding_row_get_open (NAPPE_FINDING_ROW (row)))
        g_hash_table_add (open, g_steal_pointer (&key));
      else
        g_hash_table_remove (open, key);
    }
}

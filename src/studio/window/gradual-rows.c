/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/window/gradual-rows.h"

/* Rows that are made at a time. */
#define PORTION 6u
/* What a list remembers of the filling that is under way. */
#define FILLING "nappe-filling"

typedef struct
{
  GWeakRef list;
  guint n, next; /* places, and the first that has not been looked at */
  NappeRowMaker make;
  gpointer data;
  GDestroyNotify destroy;
} Filling;

static void
filling_free (gpointer data)
{
  Filling *filling = data;

  g_weak_ref_clear (&filling->list);
  filling->destroy (filling->data);
  g_free (filling);
}

static gboolean
add_some (gpointer data)
{
  Filling *filling = data;
  g_autoptr (GtkListBox) list = g_weak_ref_get (&filling->list);

  /* The list has gone, or gets other rows by now. */
  if (list == NULL || g_object_get_data (G_OBJECT (list), FILLING) != filling)
    return G_SOURCE_REMOVE;
  for (guint made = 0; made < PORTION && filling->next < filling->n; filling->next++)
    {
      GtkWidget *row = filling->make (filling->next, filling->data);

      if (row == NULL)
        continue;
      gtk_list_box_append (list, row);
      made++;
    }
  if (filling->next < filling->n)
    return G_SOURCE_CONTINUE;
  g_object_set_data (G_OBJECT (list), FILLING, NULL);
  return G_SOURCE_REMOVE;
}

void
nappe_gradual_rows_fill (GtkListBox *list, guint n, NappeRowMaker make, gpointer data, GDestroyNotify destroy)
{
  Filling *filling = g_new0 (Filling, 1);

  nappe_gradual_rows_clear (list);
  g_weak_ref_init (&filling->list, list);
  filling->n = n;
  filling->make = make;
  filling->data = data;
  filling->destroy = destroy;
  g_object_set_data (G_OBJECT (list), FILLING, filling);
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, add_some, filling, filling_free);
}

void
nappe_gradual_rows_clear (GtkListBox *list)
{
  GtkListBoxRow *row;

  g_object_set_data (G_OBJECT (list), FILLING, NULL);
  while ((row = gtk_list_box_get_row_at_index (list, 0)) != NULL)
    gtk_list_box_remove (list, GTK_WIDGET (row));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/limit-rows.h"

#include <glib/gi18n-lib.h>

#include "results/working.h"
#include "rules/rule-limits.h"
#include "studio/parts/field-row.h"

/* Rows that are made at a time: all at once would keep the window from being drawn. */
#define PORTION 6u
/* What a list remembers of that. */
#define FILLING "nappe-filling"

static GtkWidget *
new_limit_row (NappeBuild *build, NappeLimitName name, NappeUnitSystem units)
{
  const NappeLimit *limit = nappe_limit (name);
  GtkWidget *row = nappe_field_row_new (build, build->limits, nappe_limit_field (name), NULL, units);
  g_autofree char *usual = nappe_rounded_text (limit->quantity, limit->value, units);
  /* Translators: the usual value of a limit; why it is where it is; where it is from, such as “common practice”. */
  g_autofree char *reason = g_strdup_printf (_("Usually %s. %s Source: %s."), usual, _(limit->reason), _(limit->source));

  nappe_field_row_explain (NAPPE_FIELD_ROW (row), usual, reason);
  return row;
}

/* A list that gets its rows. */
typedef struct
{
  GWeakRef list;
  NappeBuild *build;
  NappeUnitSystem units;
  NappeLimitName next; /* that has no row yet */
} Filling;

static void
filling_free (gpointer data)
{
  Filling *filling = data;

  g_weak_ref_clear (&filling->list);
  g_object_unref (filling->build);
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
  for (guint made = 0; made < PORTION && filling->next < NAPPE_LIMIT_N; filling->next++)
    if (nappe_limit_field (filling->next) != NULL)
      {
        gtk_list_box_append (list, new_limit_row (filling->build, filling->next, filling->units));
        made++;
      }
  return filling->next < NAPPE_LIMIT_N ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

void
nappe_limit_rows_fill (GtkListBox *list, NappeBuild *build, NappeUnitSystem units)
{
  Filling *filling = g_new0 (Filling, 1);

  g_weak_ref_init (&filling->list, list);
  filling->build = g_object_ref (build);
  filling->units = units;
  g_object_set_data (G_OBJECT (list), FILLING, filling);
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, add_some, filling, filling_free);
}

void
nappe_limit_rows_refresh (GtkListBox *list)
{
  for (GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (list)); row != NULL; row = gtk_widget_get_next_sibling (row))
    if (NAPPE_IS_FIELD_ROW (row))
      nappe_field_row_refresh (NAPPE_FIELD_ROW (row));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/limit-rows.h"

#include <glib/gi18n-lib.h>

#include "results/working.h"
#include "rules/rule-limits.h"
#include "studio/parts/field-row.h"
#include "studio/window/gradual-rows.h"

/* Whose limits a list shows. */
typedef struct
{
  NappeBuild *build;
  NappeUnitSystem units;
} Limits;

static void
limits_free (gpointer data)
{
  Limits *limits = data;

  g_object_unref (limits->build);
  g_free (limits);
}

/* NULL: a build cannot set this one. */
static GtkWidget *
new_limit_row (guint index, gpointer data)
{
  const Limits *limits = data;
  const NappeLimit *limit = nappe_limit ((NappeLimitName) index);
  const NappeField *field = nappe_limit_field ((NappeLimitName) index);

  if (field == NULL)
    return NULL;
  GtkWidget *row = nappe_field_row_new (limits->build, limits->build->limits, field, NULL, limits->units);
  g_autofree char *usual = nappe_rounded_text (limit->quantity, limit->value, limits->units);
  /* Translators: the usual value of a limit; why it is where it is; where it is from, such as “common practice”. */
  g_autofree char *reason = g_strdup_printf (_("Usually %s. %s Source: %s."), usual, _(limit->reason), _(limit->source));

  nappe_field_row_explain (NAPPE_FIELD_ROW (row), usual, reason);
  return row;
}

void
nappe_limit_rows_fill (GtkListBox *list, NappeBuild *build, NappeUnitSystem units)
{
  Limits *limits = g_new (Limits, 1);

  *limits = (Limits){ g_object_ref (build), units };
  nappe_gradual_rows_fill (list, NAPPE_LIMIT_N, new_limit_row, limits, limits_free);
}

void
nappe_limit_rows_refresh (GtkListBox *list)
{
  for (GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (list)); row != NULL; row = gtk_widget_get_next_sibling (row))
    if (NAPPE_IS_FIELD_ROW (row))
      nappe_field_row_refresh (NAPPE_FIELD_ROW (row));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/limit-rows.h"

#include <glib/gi18n-lib.h>

#include "results/working.h"
#include "rules/rule-limits.h"
#include "studio/parts/field-row.h"

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

void
nappe_limit_rows_fill (GtkListBox *list, NappeBuild *build, NappeUnitSystem units)
{
  for (NappeLimitName name = 0; name < NAPPE_LIMIT_N; name++)
    if (nappe_limit_field (name) != NULL)
      gtk_list_box_append (list, new_limit_row (build, name, units));
}

void
nappe_limit_rows_refresh (GtkListBox *list)
{
  for (GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (list)); row != NULL; row = gtk_widget_get_next_sibling (row))
    if (NAPPE_IS_FIELD_ROW (row))
      nappe_field_row_refresh (NAPPE_FIELD_ROW (row));
}

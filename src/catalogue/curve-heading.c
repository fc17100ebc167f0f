/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the heading of a table says about its columns. */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "catalogue/curve-heading.h"

#define HEADING_MAX_LENGTH 120 /* of one cell [bytes] */
#define WORDS_MAX 12u          /* of one cell */

const char *const nappe_curve_flow_units[] = { "L/h", "L/min", "L/s", "m³/h", "gal/h", "gal/min", NULL };
const char *const nappe_curve_head_units[] = { "m", "cm", "mm", "ft", "in", NULL };

/* How makers head these columns, in English and German, case-folded. Whole words. */
static const char *const flow_words[]
    = { "flow",         "flowrate",    "rate",       "discharge", "q",        "förderstrom",
        "volumenstrom", "fördermenge", "durchfluss", "menge",     "leistung", NULL };
static const char *const head_words[] = { "head", "height", "lift", "h", "förderhöhe", "höhe", NULL };

static const char *
shown_unit (NappeQuantity quantity, const char *unit)
{
  const char *const *known = quantity == NAPPE_QUANTITY_FLOW ? nappe_curve_flow_units : nappe_curve_head_units;
  double size = 0, other;

  if (!nappe_quantity_from_unit (quantity, 1, unit, &size, NULL))
    return unit;
  for (; *known != NULL; known++)
    if (nappe_quantity_from_unit (quantity, 1, *known, &other, NULL) && fabs (other - size) <= 1e-12 * size)
      return *known;
  return unit;
}

static gboolean
take_unit (NappeCurveColumn *column, NappeQuantity quantity, const char *unit)
{
  double size;

  if (!nappe_quantity_from_unit (quantity, 1, unit, &size, NULL))
    return FALSE;
  column->unit_of = quantity;
  g_free (column->unit);
  column->unit = g_strdup (shown_unit (quantity, unit));
  return TRUE;
}

/* The words of a cell in lower case, brackets and underscores aside. Transfer full. */
static char **
words_of (const char *cell)
{
  g_autofree char *text = g_utf8_casefold (cell, -1);
  g_auto (GStrv) all = NULL;
  GPtrArray *words = g_ptr_array_new ();

  g_strdelimit (text, "_()[]{},:;=|<>", ' ');
  all = g_strsplit (text, " ", -1);
  for (guint i = 0; all[i] != NULL && words->len < WORDS_MAX; i++)
    if (*all[i] != '\0')
      g_ptr_array_add (words, g_strdup (all[i]));
  g_ptr_array_add (words, NULL);
  return (char **) g_ptr_array_free (words, FALSE);
}

/* Words `from` to before `to` as a unit; none has digits at its front, as "50" of "at 50 Hz". */
static gboolean
try_unit (NappeCurveColumn *column, char **words, guint from, guint to)
{
  g_autoptr (GString) unit = g_string_new (NULL);

  for (guint i = from; i < to; i++)
    {
      if (g_ascii_isdigit (*words[i]))
        return FALSE;
      g_string_append_printf (unit, "%s%s", i > from ? " " : "", words[i]);
    }
  return take_unit (column, NAPPE_QUANTITY_FLOW, unit->str) || take_unit (column, NAPPE_QUANTITY_HEAD, unit->str)
         || take_unit (column, NAPPE_QUANTITY_PRESSURE, unit->str);
}

/* The last words that are a unit, and of these as many as are one: "flow in litres per hour". */
static void
find_unit (NappeCurveColumn *column, char **words)
{
  for (guint to = g_strv_length (words); to > 0; to--)
    for (guint from = 0; from < to; from++)
      if (try_unit (column, words, from, to))
        return;
}

void
nappe_curve_column_read (NappeCurveColumn *column, const char *cell)
{
  g_auto (GStrv) words = strlen (cell) <= HEADING_MAX_LENGTH ? words_of (cell) : NULL;

  if (words == NULL)
    return;
  find_unit (column, words);
  for (guint i = 0; words[i] != NULL; i++)
    {
      column->says_flow |= g_strv_contains (flow_words, words[i]);
      column->says_head |= g_strv_contains (head_words, words[i]);
    }
}

static gboolean
is_column_of (const NappeCurveColumn *column, NappeQuantity quantity)
{
  if (column->unit != NULL)
    return column->unit_of == quantity;
  /* A heading with words of both, such as "flow at no head", is told by its first unit or not at all. */
  return column->says_flow != column->says_head && (quantity == NAPPE_QUANTITY_FLOW ? column->says_flow : column->says_head);
}

int
nappe_curve_columns_find (const NappeCurveColumn *columns, guint n, NappeQuantity quantity)
{
  for (guint i = 0; i < n; i++)
    if (is_column_of (&columns[i], quantity))
      return (int) i;
  return -1;
}

void
nappe_curve_columns_clear (NappeCurveColumn *columns, guint n)
{
  for (guint i = 0; i < n; i++)
    g_clear_pointer (&columns[i].unit, g_free);
}

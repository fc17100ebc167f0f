/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/field-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Most digits of a number that is to be edited, and how near they must come to it, as a share: more
 * than anybody measures. */
#define EDITED_DIGITS_MAX 8
#define EDITED_ERROR_MAX 1e-7

/* A number with as few digits as tell it whole: "508.5 mm", "1 200 mm". */
static char *
number_text (NappeQuantity quantity, double si, NappeUnitSystem units)
{
  char *text = NULL;

  for (int digits = 1; digits <= EDITED_DIGITS_MAX; digits++)
    {
      double read;

      g_free (text);
      text = nappe_quantity_format (quantity, si, units, digits);
      if (nappe_quantity_parse (quantity, text, units, &read, NULL) && fabs (read - si) <= EDITED_ERROR_MAX * fabs (si))
        break;
    }
  return text;
}

char *
nappe_field_text (NappePart *part, const NappeField *field, NappeUnitSystem units)
{
  g_auto (GValue) value = G_VALUE_INIT;
  const NappeCurve *curve;

  nappe_part_read (part, field, &value);
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER:
      if (!nappe_is_given (g_value_get_double (&value)))
        return g_strdup ("");
      return number_text (field->quantity, g_value_get_double (&value), units);
    case NAPPE_FIELD_COUNT:
      return g_strdup_printf ("%d", g_value_get_int (&value));
    case NAPPE_FIELD_FLAG:
      return g_strdup (g_value_get_boolean (&value) ? _("yes") : _("no"));
    case NAPPE_FIELD_CHOICE:
      return g_strdup (_(field->choices[g_value_get_int (&value)].label));
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM:
      return g_value_dup_string (&value);
    case NAPPE_FIELD_CURVE:
      curve = g_value_get_boxed (&value);
      return curve != NULL
                 ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u point", "%u points", curve->n), curve->n)
                 : g_strdup ("");
    default:
      return g_strdup ("");
    }
}

static gboolean
read_number (const NappeField *field, const char *text, NappeUnitSystem units, GValue *value, GError **error)
{
  double si = NAN;

  if (*text == '\0' && field->optional)
    g_value_set_double (value, NAN);
  else if (nappe_quantity_parse (field->quantity, text, units, &si, error))
    g_value_set_double (value, si);
  else
    return FALSE;
  return TRUE;
}

static gboolean
read_count (const char *text, NappeUnitSystem units, GValue *value, GError **error)
{
  double number;

  if (!nappe_quantity_parse (NAPPE_QUANTITY_COUNT, text, units, &number, error))
    return FALSE;
  if (number != floor (number) || fabs (number) > G_MAXINT)
    {
      g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_TYPE, _("A whole number is wanted"));
      return FALSE;
    }
  g_value_set_int (value, (int) number);
  return TRUE;
}

gboolean
nappe_field_read_text (const NappeField *field, const char *text, NappeUnitSystem units, GValue *value, GError **error)
{
  g_autofree char *trimmed = g_strstrip (g_strdup (text));
  g_auto (GValue) typed = G_VALUE_INIT;

  g_value_init (&typed, nappe_field_value_type (field));
  if (field->type == NAPPE_FIELD_NUMBER)
    {
      if (!read_number (field, trimmed, units, &typed, error))
        return FALSE;
    }
  else if (field->type == NAPPE_FIELD_COUNT)
    {
      if (!read_count (trimmed, units, &typed, error))
        return FALSE;
    }
  else
    {
      g_value_set_string (&typed, trimmed);
    }
  if (!nappe_field_check (field, &typed, error))
    return FALSE;
  g_value_init (value, G_VALUE_TYPE (&typed));
  g_value_copy (&typed, value);
  return TRUE;
}

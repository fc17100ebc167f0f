/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a field accepts, and how its values are compared. */
#include "config.h"

#include "build/field.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n-lib.h>

#include "build/build.h"

/* Greater numbers are shown with an exponent, SI. */
#define SHOWN_MAX 1e6

G_DEFINE_QUARK (nappe-build-error-quark, nappe_build_error)
G_DEFINE_BOXED_TYPE (NappeCurve, nappe_curve, nappe_curve_copy, nappe_curve_free)

NappeCurve *
nappe_curve_copy (const NappeCurve *curve)
{
  return g_memdup2 (curve, sizeof *curve);
}

void
nappe_curve_free (NappeCurve *curve)
{
  g_free (curve);
}

gboolean
nappe_curve_equal (const NappeCurve *a, const NappeCurve *b)
{
  if (a == NULL || b == NULL)
    return a == b;
  if (a->n != b->n)
    return FALSE;
  for (guint i = 0; i < a->n; i++)
    if (a->flow[i] != b->flow[i] || a->head[i] != b->head[i])
      return FALSE;
  return TRUE;
}

const char *
nappe_field_key (const NappeField *field)
{
  const char *suffix = field->type == NAPPE_FIELD_NUMBER ? nappe_quantity_file_suffix (field->quantity) : NULL;
  g_autofree char *key = NULL;

  if (suffix == NULL || *suffix == '\0')
    return g_intern_string (field->name);
  key = g_strconcat (field->name, "_", suffix, NULL);
  return g_intern_string (key);
}

int
nappe_field_choice_index (const NappeField *field, const char *nick)
{
  for (int i = 0; field->choices != NULL && field->choices[i].nick != NULL; i++)
    if (strcmp (field->choices[i].nick, nick) == 0)
      return i;
  return -1;
}

gboolean
nappe_field_may_refer_to (const NappeField *field, const char *kind)
{
  g_auto (GStrv) kinds = NULL;

  if (field->refers_to == NULL)
    return TRUE;
  kinds = g_strsplit (field->refers_to, " ", -1);
  return g_strv_contains ((const char *const *) kinds, kind);
}

GType
nappe_field_value_type (const NappeField *field)
{
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER: return G_TYPE_DOUBLE;
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_CHOICE: return G_TYPE_INT;
    case NAPPE_FIELD_FLAG: return G_TYPE_BOOLEAN;
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM: return G_TYPE_STRING;
    case NAPPE_FIELD_CURVE: return NAPPE_TYPE_CURVE;
    }
  g_return_val_if_reached (G_TYPE_INVALID);
}

static gboolean
check_number (const NappeField *field, double value, GError **error)
{
  g_autofree char *least = NULL, *most = NULL, *given = NULL;

  if (isnan (value) && field->optional)
    return TRUE;
  if (!isfinite (value))
    {
      g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE,
                   /* Translators: %s is the label of a field, such as "Weir height". */
                   _ ("%s must be a finite number"), _ (field->label));
      return FALSE;
    }
  if (value >= field->minimum && value <= field->maximum)
    return TRUE;
  least = nappe_quantity_format (field->quantity, field->minimum, NAPPE_UNITS_METRIC, 0);
  most = nappe_quantity_format (field->quantity, field->maximum, NAPPE_UNITS_METRIC, 0);
  /* Hundreds of digits help nobody. */
  if (fabs (value) < SHOWN_MAX)
    given = nappe_quantity_format (field->quantity, value, NAPPE_UNITS_METRIC, 4);
  else
    given = g_strdup_printf ("%.3g", value);
  g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE,
               /* Translators: label of a field, least and greatest value, the refused value; with units. */
               _ ("%s must be from %s to %s, not %s"), _ (field->label), least, most, given);
  return FALSE;
}

static gboolean
check_count (const NappeField *field, int value, GError **error)
{
  if (value >= field->minimum && value <= field->maximum)
    return TRUE;
  if (field->type == NAPPE_FIELD_CHOICE)
    g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_TYPE,
                 /* Translators: the label of a field, and a number that stands for no alternative. */
                 _ ("%s has no alternative number %d"), _ (field->label), value);
  else
    g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE,
                 /* Translators: label of a field, least and greatest count, the refused count. */
                 _ ("%s must be from %d to %d, not %d"), _ (field->label), (int) field->minimum,
                 (int) field->maximum, value);
  return FALSE;
}

/* Control characters other than line ends and tabs would be lost or harmful on paper and screen. */
static gboolean
has_control_characters (const char *text)
{
  for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c))
    if (g_unichar_iscntrl (g_utf8_get_char (c)) && *c != '\n' && *c != '\t')
      return TRUE;
  return FALSE;
}

static gboolean
check_text (const NappeField *field, const char *text, GError **error)
{
  const char *label = _ (field->label);

  if (text == NULL || !g_utf8_validate (text, -1, NULL) || has_control_characters (text))
    {
      g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_TYPE,
                   _ ("%s must be text without control characters"), label);
      return FALSE;
    }
  if (strlen (text) > field->maximum)
    {
      g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE,
                   /* Translators: label of a field, length found, greatest length. */
                   _ ("%s has %d bytes; at most %d are kept"), label, (int) MIN (strlen (text), G_MAXINT),
                   (int) field->maximum);
      return FALSE;
    }
  if (field->type == NAPPE_FIELD_REFERENCE && *text != '\0' && !nappe_part_id_is_valid (text))
    {
      g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_ID, _ ("%s: “%s” cannot be the id of a part"), label,
                   text);
      return FALSE;
    }
  return TRUE;
}

static gboolean
check_curve (const NappeField *field, const NappeCurve *curve, GError **error)
{
  if (curve == NULL)
    return TRUE;
  if (curve->n < 2 || curve->n > NAPPE_CURVE_MAX)
    {
      g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE, _ ("%s must have from %d to %d points"),
                   _ (field->label), 2, NAPPE_CURVE_MAX);
      return FALSE;
    }
  for (guint i = 0; i < curve->n; i++)
    {
      gboolean in_range = curve->flow[i] >= 0 && curve->flow[i] <= 0.1 && curve->head[i] >= 0 && curve->head[i] <= 100;
      gboolean falls = i == 0 || (curve->flow[i] > curve->flow[i - 1] && curve->head[i] < curve->head[i - 1]);
      if (in_range && falls)
        continue;
      g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE,
                   in_range ? _ ("%s, point %u: flows must rise and heads must fall from point to point")
                            : _ ("%s, point %u: a flow from 0 to 360000 L/h and a head from 0 to 100 m are wanted"),
                   _ (field->label), i + 1);
      return FALSE;
    }
  return TRUE;
}

gboolean
nappe_field_check (const NappeField *field, const GValue *value, GError **error)
{
  if (!G_VALUE_HOLDS (value, nappe_field_value_type (field)))
    {
      g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_TYPE, _ ("%s holds another type of value"),
                   _ (field->label));
      return FALSE;
    }
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER: return check_number (field, g_value_get_double (value), error);
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_CHOICE: return check_count (field, g_value_get_int (value), error);
    case NAPPE_FIELD_FLAG: return TRUE;
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM: return check_text (field, g_value_get_string (value), error);
    case NAPPE_FIELD_CURVE: return check_curve (field, g_value_get_boxed (value), error);
    }
  g_return_val_if_reached (FALSE);
}

void
nappe_field_snap (const NappeField *field, GValue *value)
{
  if (field->type == NAPPE_FIELD_NUMBER && nappe_is_given (g_value_get_double (value)))
    {
      g_value_set_double (value, nappe_quantity_snap (field->quantity, g_value_get_double (value)));
    }
  else if (field->type == NAPPE_FIELD_CURVE && g_value_get_boxed (value) != NULL)
    {
      NappeCurve curve = *(const NappeCurve *) g_value_get_boxed (value);
      for (guint i = 0; i < curve.n; i++)
        {
          curve.flow[i] = nappe_quantity_snap (NAPPE_QUANTITY_FLOW, curve.flow[i]);
          curve.head[i] = nappe_quantity_snap (NAPPE_QUANTITY_HEAD, curve.head[i]);
        }
      g_value_set_boxed (value, &curve);
    }
}

static gboolean
number_equal (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

gboolean
nappe_field_value_equal (const NappeField *field, const GValue *a, const GValue *b)
{
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER: return number_equal (g_value_get_double (a), g_value_get_double (b));
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_CHOICE: return g_value_get_int (a) == g_value_get_int (b);
    case NAPPE_FIELD_FLAG: return g_value_get_boolean (a) == g_value_get_boolean (b);
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM: return g_strcmp0 (g_value_get_string (a), g_value_get_string (b)) == 0;
    case NAPPE_FIELD_CURVE: return nappe_curve_equal (g_value_get_boxed (a), g_value_get_boxed (b));
    }
  g_return_val_if_reached (FALSE);
}

gboolean
nappe_field_is_initial (const NappeField *field, const GValue *value)
{
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER: return number_equal (g_value_get_double (value), field->initial);
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_CHOICE: return g_value_get_int (value) == (int) field->initial;
    case NAPPE_FIELD_FLAG: return g_value_get_boolean (value) == (field->initial != 0);
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM: return *g_value_get_string (value) == '\0';
    case NAPPE_FIELD_CURVE: return g_value_get_boxed (value) == NULL;
    }
  g_return_val_if_reached (FALSE);
}

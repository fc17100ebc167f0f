/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the nodes of single values to fields. */
#include "config.h"

#include <math.h>

#include <glib/gi18n-lib.h>

#include "file/reader.h"
#include "file/unknown.h"

const char *
nappe_reader_kind_of (JsonNode *node)
{
  if (JSON_NODE_HOLDS_OBJECT (node))
    /* Translators: kinds of value in a file, in “… is wanted, not an object”. */
    return _ ("an object");
  if (JSON_NODE_HOLDS_ARRAY (node))
    return _ ("a list");
  if (JSON_NODE_HOLDS_NULL (node))
    return _ ("null");
  if (json_node_get_value_type (node) == G_TYPE_STRING)
    return _ ("a text");
  if (json_node_get_value_type (node) == G_TYPE_BOOLEAN)
    return _ ("true or false");
  return _ ("a number");
}

static gboolean
is_number (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && (json_node_get_value_type (node) == G_TYPE_INT64 ||
                                          json_node_get_value_type (node) == G_TYPE_DOUBLE);
}

static gboolean
is_of_type (JsonNode *node, GType type)
{
  return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == type;
}

static gboolean
fail_type (NappeReader *self, NappePart *part, const NappeField *field, const char *wanted, JsonNode *node)
{
  return nappe_reader_fail (self, part, nappe_field_key (field), NAPPE_FILE_ERROR_TYPE,
                            /* Translators: both %s are kinds of value, such as “a number” and “a text”. */
                            _ ("%s is wanted, not %s"), wanted, nappe_reader_kind_of (node));
}

static gboolean
read_count (NappeReader *self, NappePart *part, const NappeField *field, JsonNode *node, GValue *value)
{
  const double number = is_number (node) ? json_node_get_double (node) : NAN;

  if (!is_number (node))
    return fail_type (self, part, field, _ ("a whole number"), node);
  if (number != trunc (number))
    return nappe_reader_fail (self, part, nappe_field_key (field), NAPPE_FILE_ERROR_TYPE,
                              _ ("a whole number is wanted, not %g"), number);
  g_value_set_int (value, (int) CLAMP (number, G_MININT, G_MAXINT));
  return TRUE;
}

static gboolean
read_choice (NappeReader *self, NappePart *part, const NappeField *field, JsonNode *node, GValue *value)
{
  g_autoptr (GString) alternatives = g_string_new (NULL);
  g_autofree char *excerpt = NULL;
  int index;

  if (!is_of_type (node, G_TYPE_STRING))
    return fail_type (self, part, field, _ ("a text"), node);
  index = nappe_field_choice_index (field, json_node_get_string (node));
  if (index >= 0)
    {
      g_value_set_int (value, index);
      return TRUE;
    }
  for (const NappeChoice *choice = field->choices; choice->nick != NULL; choice++)
    g_string_append_printf (alternatives, "%s%s", choice == field->choices ? "" : ", ", choice->nick);
  excerpt = nappe_reader_excerpt (json_node_get_string (node));
  return nappe_reader_fail (self, part, nappe_field_key (field), NAPPE_FILE_ERROR_CHOICE,
                            /* Translators: the word that was found, and a list of words. */
                            _ ("“%s” is none of: %s"), excerpt, alternatives->str);
}

static gboolean
read_text (NappeReader *self, NappePart *part, const NappeField *field, JsonNode *node, GValue *value)
{
  if (!is_of_type (node, G_TYPE_STRING))
    return fail_type (self, part, field, _ ("a text"), node);
  g_value_set_string (value, json_node_get_string (node));
  return TRUE;
}

static gboolean
read_flag (NappeReader *self, NappePart *part, const NappeField *field, JsonNode *node, GValue *value)
{
  if (!is_of_type (node, G_TYPE_BOOLEAN))
    return fail_type (self, part, field, _ ("true or false"), node);
  g_value_set_boolean (value, json_node_get_boolean (node));
  return TRUE;
}

/* One coordinate of a point of a curve. */
static gboolean
read_coordinate (NappeReader *self, NappePart *part, const NappeField *field, JsonNode *point, guint index,
                 guint coordinate, double *number)
{
  const char *member = nappe_point_names[coordinate];
  g_autofree char *place = g_strdup_printf ("%s[%u].%s", nappe_field_key (field), index, member);
  JsonNode *node = json_object_get_member (json_node_get_object (point), member);

  if (node == NULL)
    return nappe_reader_fail (self, part, place, NAPPE_FILE_ERROR_MISSING, _ ("it must be given"));
  if (!is_number (node))
    return nappe_reader_fail (self, part, place, NAPPE_FILE_ERROR_TYPE, _ ("%s is wanted, not %s"), _ ("a number"),
                              nappe_reader_kind_of (node));
  *number = nappe_quantity_from_file (coordinate == 0 ? NAPPE_QUANTITY_FLOW : NAPPE_QUANTITY_HEAD,
                                      json_node_get_double (node));
  return TRUE;
}

static gboolean
read_curve (NappeReader *self, NappePart *part, const NappeField *field, JsonNode *node, GValue *value)
{
  NappeCurve curve = { 0 };
  JsonArray *points;

  if (!JSON_NODE_HOLDS_ARRAY (node))
    return fail_type (self, part, field, _ ("a list"), node);
  points = json_node_get_array (node);
  if (json_array_get_length (points) > NAPPE_CURVE_MAX)
    return nappe_reader_fail (self, part, nappe_field_key (field), NAPPE_FILE_ERROR_COUNT,
                              _ ("%u points; at most %d are kept"), json_array_get_length (points), NAPPE_CURVE_MAX);
  for (curve.n = 0; curve.n < json_array_get_length (points); curve.n++)
    {
      JsonNode *point = json_array_get_element (points, curve.n);
      g_autofree char *place = g_strdup_printf ("%s[%u]", nappe_field_key (field), curve.n);
      if (!JSON_NODE_HOLDS_OBJECT (point))
        return nappe_reader_fail (self, part, place, NAPPE_FILE_ERROR_TYPE, _ ("%s is wanted, not %s"),
                                  _ ("an object"), nappe_reader_kind_of (point));
      if (!read_coordinate (self, part, field, point, curve.n, 0, &curve.flow[curve.n]) ||
          !read_coordinate (self, part, field, point, curve.n, 1, &curve.head[curve.n]))
        return FALSE;
    }
  g_value_set_boxed (value, &curve);
  return TRUE;
}

gboolean
nappe_reader_read_value (NappeReader *self, NappePart *part, const NappeField *field, JsonNode *node, GValue *value)
{
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER:
      if (!is_number (node))
        return fail_type (self, part, field, _ ("a number"), node);
      g_value_set_double (value, nappe_quantity_from_file (field->quantity, json_node_get_double (node)));
      return TRUE;
    case NAPPE_FIELD_COUNT: return read_count (self, part, field, node, value);
    case NAPPE_FIELD_FLAG: return read_flag (self, part, field, node, value);
    case NAPPE_FIELD_CHOICE: return read_choice (self, part, field, node, value);
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM: return read_text (self, part, field, node, value);
    case NAPPE_FIELD_CURVE: return read_curve (self, part, field, node, value);
    }
  g_return_val_if_reached (FALSE);
}

static NappeFileError
code_of (const GError *error)
{
  switch ((NappeBuildError) error->code)
    {
    case NAPPE_BUILD_ERROR_RANGE: return NAPPE_FILE_ERROR_RANGE;
    case NAPPE_BUILD_ERROR_ID: return NAPPE_FILE_ERROR_ID;
    case NAPPE_BUILD_ERROR_TYPE:
    case NAPPE_BUILD_ERROR_PLACE: break;
    }
  return NAPPE_FILE_ERROR_TYPE;
}

gboolean
nappe_reader_read_field (NappeReader *self, NappePart *part, const NappeField *field, JsonNode *node)
{
  g_auto (GValue) value = G_VALUE_INIT;
  g_autoptr (GError) refusal = NULL;

  g_value_init (&value, nappe_field_value_type (field));
  if (!nappe_reader_read_value (self, part, field, node, &value))
    return FALSE;
  /* An optional number that was given must be one; "not given" is said by leaving it out. */
  if (field->type == NAPPE_FIELD_NUMBER && !isfinite (g_value_get_double (&value)))
    return nappe_reader_fail (self, part, nappe_field_key (field), NAPPE_FILE_ERROR_RANGE,
                              _ ("a finite number is wanted"));
  if (!nappe_field_check (field, &value, &refusal))
    return nappe_reader_fail (self, part, nappe_field_key (field), code_of (refusal), "%s", refusal->message);
  nappe_part_write (part, field, &value);
  return TRUE;
}

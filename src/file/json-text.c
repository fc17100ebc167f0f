/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "file/json-text.h"

#include <string.h>

#include "units/quantity.h"

/* Objects and lists of plain values stand on one line when that has at most so many characters. */
#define LINE_MAX_LENGTH 110
/* A longer text cannot have so few characters. */
#define LINE_MAX_BYTES (4 * LINE_MAX_LENGTH + 4)

static void append_value (GString *text, JsonNode *node, guint depth);

static void
append_string (GString *text, const char *string)
{
  g_string_append_c (text, '"');
  for (const char *c = string; *c != '\0'; c++)
    switch (*c)
      {
      case '"': g_string_append (text, "\\\""); break;
      case '\\': g_string_append (text, "\\\\"); break;
      case '\n': g_string_append (text, "\\n"); break;
      case '\r': g_string_append (text, "\\r"); break;
      case '\t': g_string_append (text, "\\t"); break;
      default:
        if ((guchar) *c < 0x20)
          g_string_append_printf (text, "\\u%04x", (guint) (guchar) *c);
        else
          g_string_append_c (text, *c);
      }
  g_string_append_c (text, '"');
}

static void
append_number (GString *text, JsonNode *node)
{
  g_autofree char *number = NULL;

  if (json_node_get_value_type (node) == G_TYPE_INT64)
    {
      g_string_append_printf (text, "%" G_GINT64_FORMAT, json_node_get_int (node));
      return;
    }
  number = nappe_quantity_file_text (NAPPE_QUANTITY_NUMBER, json_node_get_double (node));
  g_string_append (text, number);
  if (strpbrk (number, ".e") == NULL)
    g_string_append (text, ".0");
}

static void
append_plain (GString *text, JsonNode *node)
{
  if (JSON_NODE_HOLDS_NULL (node))
    g_string_append (text, "null");
  else if (json_node_get_value_type (node) == G_TYPE_BOOLEAN)
    g_string_append (text, json_node_get_boolean (node) ? "true" : "false");
  else if (json_node_get_value_type (node) == G_TYPE_STRING)
    append_string (text, json_node_get_string (node));
  else
    append_number (text, node);
}

static void
append_indentation (GString *text, guint depth)
{
  g_string_append_c (text, '\n');
  for (guint i = 0; i < depth; i++)
    g_string_append (text, "  ");
}

static gboolean
are_plain (GList *values)
{
  for (GList *value = values; value != NULL; value = value->next)
    if (JSON_NODE_HOLDS_OBJECT (value->data) || JSON_NODE_HOLDS_ARRAY (value->data))
      return FALSE;
  return TRUE;
}

/* Appends "{ "a": 1, "b": 2 }" or "[1, 2]", or nothing and returns FALSE when that would be too long.
 * names: of an object's members, or NULL for a list */
static gboolean
append_on_line (GString *text, GList *names, GList *values, guint depth)
{
  const gboolean is_object = names != NULL;
  const gsize start = text->len;
  glong length;

  g_string_append (text, is_object ? "{ " : "[");
  for (GList *value = values; value != NULL && text->len - start < LINE_MAX_BYTES; value = value->next)
    {
      if (is_object)
        {
          append_string (text, names->data);
          g_string_append (text, ": ");
          names = names->next;
        }
      append_plain (text, value->data);
      if (value->next != NULL)
        g_string_append (text, ", ");
    }
  g_string_append (text, is_object ? " }" : "]");
  length = g_utf8_strlen (text->str + start, (gssize) (text->len - start));
  if (text->len - start < LINE_MAX_BYTES && 2 * (glong) depth + length <= LINE_MAX_LENGTH)
    return TRUE;
  g_string_truncate (text, start);
  return FALSE;
}

static void
append_object (GString *text, JsonObject *object, guint depth)
{
  g_autoptr (GList) names = json_object_get_members (object);
  g_autoptr (GList) values = json_object_get_values (object);

  if (names == NULL)
    {
      g_string_append (text, "{}");
      return;
    }
  if (depth > 0 && are_plain (values) && append_on_line (text, names, values, depth))
    return;
  g_string_append_c (text, '{');
  for (GList *name = names; name != NULL; name = name->next)
    {
      append_indentation (text, depth + 1);
      append_string (text, name->data);
      g_string_append (text, ": ");
      append_value (text, json_object_get_member (object, name->data), depth + 1);
      if (name->next != NULL)
        g_string_append_c (text, ',');
    }
  append_indentation (text, depth);
  g_string_append_c (text, '}');
}

static void
append_array (GString *text, JsonArray *array, guint depth)
{
  const guint length = json_array_get_length (array);
  g_autoptr (GList) values = json_array_get_elements (array);

  if (are_plain (values) && append_on_line (text, NULL, values, depth))
    return;
  g_string_append_c (text, '[');
  for (guint i = 0; i < length; i++)
    {
      append_indentation (text, depth + 1);
      append_value (text, json_array_get_element (array, i), depth + 1);
      if (i + 1 < length)
        g_string_append_c (text, ',');
    }
  append_indentation (text, depth);
  g_string_append_c (text, ']');
}

static void
append_value (GString *text, JsonNode *node, guint depth)
{
  if (JSON_NODE_HOLDS_OBJECT (node))
    append_object (text, json_node_get_object (node), depth);
  else if (JSON_NODE_HOLDS_ARRAY (node))
    append_array (text, json_node_get_array (node), depth);
  else
    append_plain (text, node);
}

char *
nappe_file_json_text (JsonNode *root, gsize *length)
{
  GString *text = g_string_new (NULL);

  append_value (text, root, 0);
  g_string_append_c (text, '\n');
  if (length != NULL)
    *length = text->len;
  return g_string_free (text, FALSE);
}

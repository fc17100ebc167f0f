/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a build to JSON, by the tables of its parts. */
#include "config.h"

#include <math.h>

#include "file/file.h"
#include "file/json-text.h"
#include "file/part-path.h"
#include "file/unknown.h"
#include "file/writer.h"

static JsonNode *
node_of_object (JsonObject *object)
{
  JsonNode *node = json_node_new (JSON_NODE_OBJECT);

  json_node_take_object (node, object);
  return node;
}

/* Whole numbers up to this are exact as doubles. */
#define WHOLE_MAX 9007199254740992.0

/* Whole numbers are written without a decimal sign. */
static JsonNode *
node_of_number (double number)
{
  if (fabs (number) <= WHOLE_MAX && number == trunc (number))
    return json_node_init_int (json_node_alloc (), (gint64) number);
  return json_node_init_double (json_node_alloc (), number);
}

/* The members that a point of the curve as read had beyond flow and head. */
static void
add_unknown_of_point (NappePart *part, double flow, double head, JsonObject *point)
{
  const NappeUnknown *unknown = nappe_unknown_of (part);

  if (unknown == NULL || unknown->points == NULL)
    return;
  for (guint i = 0; i < json_array_get_length (unknown->points); i++)
    {
      JsonObject *read = json_array_get_object_element (unknown->points, i);
      if (json_object_get_double_member (read, nappe_point_names[0]) == flow &&
          json_object_get_double_member (read, nappe_point_names[1]) == head)
        nappe_unknown_add (read, nappe_point_names, point);
    }
}

static JsonNode *
node_of_curve (NappePart *part, const NappeCurve *curve)
{
  JsonArray *points = json_array_new ();
  JsonNode *node = json_node_new (JSON_NODE_ARRAY);

  for (guint i = 0; i < curve->n; i++)
    {
      JsonObject *point = json_object_new ();
      const double flow = nappe_quantity_to_file (NAPPE_QUANTITY_FLOW, curve->flow[i]);
      const double head = nappe_quantity_to_file (NAPPE_QUANTITY_HEAD, curve->head[i]);
      json_object_set_member (point, nappe_point_names[0], node_of_number (flow));
      json_object_set_member (point, nappe_point_names[1], node_of_number (head));
      add_unknown_of_point (part, flow, head, point);
      json_array_add_object_element (points, point);
    }
  json_node_take_array (node, points);
  return node;
}

/* The node of a value; NULL when it was not given. */
static JsonNode *
node_of_value (NappePart *part, const NappeField *field, const GValue *value)
{
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER:
      if (!nappe_is_given (g_value_get_double (value)))
        return NULL;
      return node_of_number (nappe_quantity_to_file (field->quantity, g_value_get_double (value)));
    case NAPPE_FIELD_COUNT: return json_node_init_int (json_node_alloc (), g_value_get_int (value));
    case NAPPE_FIELD_FLAG: return json_node_init_boolean (json_node_alloc (), g_value_get_boolean (value));
    case NAPPE_FIELD_CHOICE:
      return json_node_init_string (json_node_alloc (), field->choices[g_value_get_int (value)].nick);
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM: return json_node_init_string (json_node_alloc (), g_value_get_string (value));
    case NAPPE_FIELD_CURVE:
      return g_value_get_boxed (value) != NULL ? node_of_curve (part, g_value_get_boxed (value)) : NULL;
    }
  g_return_val_if_reached (NULL);
}

static void
add_fields (NappePart *part, JsonObject *object)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      g_auto (GValue) value = G_VALUE_INIT;
      JsonNode *node = NULL;
      nappe_part_read (part, field, &value);
      if (field->required || !nappe_field_is_initial (field, &value))
        node = node_of_value (part, field, &value);
      if (node != NULL)
        json_object_set_member (object, nappe_field_key (field), node);
    }
}

static void
add_list (JsonObject *object, const NappeSlot *slot, GPtrArray *parts)
{
  JsonArray *array;

  if (parts->len == 0)
    return;
  array = json_array_new ();
  for (guint i = 0; i < parts->len; i++)
    json_array_add_object_element (array, nappe_writer_object_of (g_ptr_array_index (parts, i)));
  json_object_set_array_member (object, slot->name, array);
}

static void
add_slots (NappePart *part, JsonObject *object)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_slots; i++)
    {
      const NappeSlot *slot = &klass->slots[i];
      JsonObject *single = slot->single ? nappe_writer_object_of (nappe_part_single (part, slot)) : NULL;
      if (single == NULL)
        add_list (object, slot, nappe_part_list (part, slot));
      else if (json_object_get_size (single) > 0)
        json_object_set_object_member (object, slot->name, single);
      else
        json_object_unref (single);
    }
}

static void
add_identity (NappePart *part, JsonObject *object)
{
  g_autofree char *usual = nappe_part_usual_id (part);

  if (g_strcmp0 (usual, nappe_part_get_id (part)) != 0)
    json_object_set_string_member (object, "id", nappe_part_get_id (part));
  if (*nappe_part_get_name (part) != '\0')
    json_object_set_string_member (object, "name", nappe_part_get_name (part));
}

static void
add_contents (NappePart *part, JsonObject *object)
{
  static const char *const nothing[] = { NULL };
  const NappeUnknown *unknown = nappe_unknown_of (part);

  add_fields (part, object);
  add_slots (part, object);
  if (unknown != NULL && unknown->members != NULL)
    nappe_unknown_add (unknown->members, nothing, object);
}

JsonObject *
nappe_writer_object_of (NappePart *part)
{
  JsonObject *object = json_object_new ();

  add_identity (part, object);
  add_contents (part, object);
  return object;
}

char *
nappe_file_write_text (NappeBuild *build, gsize *length)
{
  JsonObject *object = json_object_new ();
  g_autoptr (JsonNode) root = node_of_object (object);

  json_object_set_string_member (object, "format", NAPPE_FILE_FORMAT);
  json_object_set_int_member (object, "version", NAPPE_FILE_VERSION);
  add_contents (NAPPE_PART (build), object);
  return nappe_file_json_text (root, length);
}

char *
nappe_file_hash (NappeBuild *build)
{
  gsize length;
  g_autofree char *text = nappe_file_write_text (build, &length);

  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) text, length);
}

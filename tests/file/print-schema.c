/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints the JSON Schema of the build file, made from the tables of the parts. The shipped schema is
 * its output; a test holds the two against each other. */
#include "config.h"

#include "file/file.h"
#include "file/json-text.h"
#include "file/part-path.h"
#include "file/unknown.h"

#define ID_PATTERN "^[a-z0-9][a-z0-9._-]{0,63}$"

static JsonNode *
number_node (double number)
{
  if (number == (double) (gint64) number)
    return json_node_init_int (json_node_alloc (), (gint64) number);
  return json_node_init_double (json_node_alloc (), number);
}

static JsonObject *
typed (const char *type, const char *description)
{
  JsonObject *schema = json_object_new ();

  json_object_set_string_member (schema, "type", type);
  if (description != NULL)
    json_object_set_string_member (schema, "description", description);
  return schema;
}

static JsonObject *
number_schema (const NappeField *field)
{
  JsonObject *schema = typed ("number", field->label);

  json_object_set_member (schema, "minimum",
                          number_node (nappe_quantity_to_file (field->quantity, field->minimum)));
  json_object_set_member (schema, "maximum",
                          number_node (nappe_quantity_to_file (field->quantity, field->maximum)));
  if (!field->required && nappe_is_given (field->initial))
    json_object_set_member (schema, "default",
                            number_node (nappe_quantity_to_file (field->quantity, field->initial)));
  return schema;
}

static JsonObject *
count_schema (const NappeField *field)
{
  JsonObject *schema = typed ("integer", field->label);

  json_object_set_int_member (schema, "minimum", (gint64) field->minimum);
  json_object_set_int_member (schema, "maximum", (gint64) field->maximum);
  if (!field->required)
    json_object_set_int_member (schema, "default", (gint64) field->initial);
  return schema;
}

static JsonObject *
choice_schema (const NappeField *field)
{
  JsonObject *schema = typed ("string", field->label);
  JsonArray *nicks = json_array_new ();

  for (const NappeChoice *choice = field->choices; choice->nick != NULL; choice++)
    json_array_add_string_element (nicks, choice->nick);
  json_object_set_array_member (schema, "enum", nicks);
  if (!field->required)
    json_object_set_string_member (schema, "default", field->choices[(int) field->initial].nick);
  return schema;
}

static JsonObject *
reference_schema (const NappeField *field)
{
  JsonObject *schema = typed ("string", field->label);
  g_autofree char *comment = g_strdup_printf ("the id of a part of the kind: %s; or nothing",
                                              field->refers_to != NULL ? field->refers_to : "any");

  json_object_set_string_member (schema, "pattern", "^$|" ID_PATTERN);
  json_object_set_string_member (schema, "$comment", comment);
  return schema;
}

static void
add_required (JsonObject *schema, JsonArray *names)
{
  if (json_array_get_length (names) > 0)
    json_object_set_array_member (schema, "required", json_array_ref (names));
}

static JsonObject *
curve_schema (const NappeField *field)
{
  JsonObject *schema = typed ("array", field->label);
  JsonObject *point = typed ("object", NULL);
  JsonObject *properties = json_object_new ();
  g_autoptr (JsonArray) required = json_array_new ();

  for (const char *const *name = nappe_point_names; *name != NULL; name++)
    {
      JsonObject *number = typed ("number", NULL);
      json_object_set_int_member (number, "minimum", 0);
      json_object_set_object_member (properties, *name, number);
      json_array_add_string_element (required, *name);
    }
  add_required (point, required);
  json_object_set_object_member (point, "properties", properties);
  json_object_set_int_member (schema, "minItems", 2);
  json_object_set_int_member (schema, "maxItems", NAPPE_CURVE_MAX);
  json_object_set_object_member (schema, "items", point);
  return schema;
}

static JsonObject *
field_schema (const NappeField *field)
{
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER: return number_schema (field);
    case NAPPE_FIELD_COUNT: return count_schema (field);
    case NAPPE_FIELD_FLAG: return typed ("boolean", field->label);
    case NAPPE_FIELD_CHOICE: return choice_schema (field);
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_ITEM: return typed ("string", field->label);
    case NAPPE_FIELD_REFERENCE: return reference_schema (field);
    case NAPPE_FIELD_CURVE: return curve_schema (field);
    }
  g_return_val_if_reached (NULL);
}

static gboolean
has_required_fields (NappePartClass *klass)
{
  for (gsize i = 0; i < klass->n_fields; i++)
    if (klass->fields[i].required)
      return TRUE;
  return FALSE;
}

static JsonObject *kind_schema (NappePartClass *klass, gboolean needs_id, JsonObject *definitions);

/* Makes the definition of the kind that a slot holds, and returns a schema that points to it. */
static JsonObject *
slot_schema (const NappeSlot *slot, JsonObject *definitions, gboolean *required)
{
  g_autoptr (NappePartClass) klass = g_type_class_ref (slot->type ());
  g_autofree char *pointer = g_strdup_printf ("#/$defs/%s", klass->kind);
  JsonObject *reference = json_object_new ();
  JsonObject *list;

  *required = slot->single && has_required_fields (klass);
  if (!json_object_has_member (definitions, klass->kind))
    {
      /* The place first, so that outer kinds stand before inner ones. */
      json_object_set_null_member (definitions, klass->kind);
      json_object_set_object_member (definitions, klass->kind, kind_schema (klass, !slot->single, definitions));
    }
  json_object_set_string_member (reference, "$ref", pointer);
  if (slot->single)
    return reference;
  list = typed ("array", NULL);
  json_object_set_int_member (list, "maxItems", slot->maximum);
  json_object_set_object_member (list, "items", reference);
  return list;
}

static void
add_members (NappePartClass *klass, JsonObject *properties, JsonArray *required, JsonObject *definitions)
{
  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const char *key = nappe_field_key (&klass->fields[i]);
      json_object_set_object_member (properties, key, field_schema (&klass->fields[i]));
      if (klass->fields[i].required)
        json_array_add_string_element (required, key);
    }
  for (gsize i = 0; i < klass->n_slots; i++)
    {
      gboolean must = FALSE;
      json_object_set_object_member (properties, klass->slots[i].name,
                                     slot_schema (&klass->slots[i], definitions, &must));
      if (must)
        json_array_add_string_element (required, klass->slots[i].name);
    }
}

static JsonObject *
kind_schema (NappePartClass *klass, gboolean needs_id, JsonObject *definitions)
{
  JsonObject *schema = typed ("object", klass->label);
  JsonObject *properties = json_object_new ();
  JsonObject *id = typed ("string", NULL);
  g_autoptr (JsonArray) required = json_array_new ();

  json_object_set_string_member (id, "pattern", ID_PATTERN);
  json_object_set_object_member (properties, "id", id);
  json_object_set_object_member (properties, "name", typed ("string", NULL));
  if (needs_id)
    json_array_add_string_element (required, "id");
  add_members (klass, properties, required, definitions);
  add_required (schema, required);
  json_object_set_object_member (schema, "properties", properties);
  return schema;
}

static JsonObject *
constant (JsonNode *value)
{
  JsonObject *schema = json_object_new ();

  json_object_set_member (schema, "const", value);
  return schema;
}

static JsonObject *
root_schema (void)
{
  g_autoptr (NappePartClass) klass = g_type_class_ref (NAPPE_TYPE_BUILD);
  JsonObject *schema = json_object_new ();
  JsonObject *properties = json_object_new ();
  JsonObject *definitions = json_object_new ();
  g_autoptr (JsonArray) required = json_array_new ();

  json_object_set_string_member (schema, "$schema", "https://json-schema.org/draft/2020-12/schema");
  json_object_set_string_member (schema, "title", "Nappe build file, version 1");
  json_object_set_string_member (schema, "$comment",
                                 "Made from the program's own tables. Further members are allowed everywhere and "
                                 "kept. Beyond this schema: ids are unique, and a sump has one baffle less than "
                                 "chambers.");
  json_object_set_string_member (schema, "type", "object");
  json_array_add_string_element (required, "format");
  json_array_add_string_element (required, "version");
  json_object_set_object_member (properties, "format",
                                 constant (json_node_init_string (json_node_alloc (), NAPPE_FILE_FORMAT)));
  json_object_set_object_member (properties, "version",
                                 constant (json_node_init_int (json_node_alloc (), NAPPE_FILE_VERSION)));
  add_members (klass, properties, required, definitions);
  add_required (schema, required);
  json_object_set_object_member (schema, "properties", properties);
  json_object_set_object_member (schema, "$defs", definitions);
  return schema;
}

int
main (void)
{
  g_autoptr (JsonNode) root = json_node_new (JSON_NODE_OBJECT);
  g_autofree char *text = NULL;

  json_node_take_object (root, root_schema ());
  text = nappe_file_json_text (root, NULL);
  g_print ("%s", text);
  return 0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "file/variation.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n-lib.h>

#include "file/reader.h"

/* The part of an id, the root for "build". NULL with an error. */
static NappePart *
find_part (NappeReader *self, NappeBuild *build, const char *id)
{
  NappePart *part = strcmp (id, "build") == 0 ? NAPPE_PART (build) : nappe_build_find (build, id);
  g_autofree char *excerpt = nappe_reader_excerpt (id);

  if (part == NULL)
    g_set_error (self->error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_REFERENCE, _ ("%s: no part has the id “%s”"),
                 self->name, excerpt);
  return part;
}

static gboolean
fail_member (NappeReader *self, const char *member, const char *wanted)
{
  g_set_error (self->error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_TYPE,
               /* Translators: a file, a member in it, a kind of value. */
               _ ("%s: %s: %s is wanted"), self->name, member, wanted);
  return FALSE;
}

/* A list at a member; FALSE when something else stands there. *list: NULL when there is none. */
static gboolean
get_list (NappeReader *self, JsonObject *variation, const char *member, JsonArray **list)
{
  JsonNode *node = json_object_get_member (variation, member);

  *list = NULL;
  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return fail_member (self, member, _ ("a list"));
  *list = json_node_get_array (node);
  return TRUE;
}

static const char *
get_text (JsonNode *node)
{
  return node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_string (node) : NULL;
}

static gboolean
remove_parts (NappeReader *self, NappeBuild *build, JsonObject *variation)
{
  JsonArray *list;

  if (!get_list (self, variation, "remove", &list))
    return FALSE;
  for (guint i = 0; list != NULL && i < json_array_get_length (list); i++)
    {
      const char *id = get_text (json_array_get_element (list, i));
      NappePart *part = id != NULL ? find_part (self, build, id) : NULL;
      if (id == NULL)
        return fail_member (self, "remove", _ ("a text"));
      if (part == NULL || !nappe_build_remove (build, part, self->error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
add_part (NappeReader *self, NappeBuild *build, JsonObject *addition)
{
  const char *to = get_text (json_object_get_member (addition, "to"));
  const char *name = get_text (json_object_get_member (addition, "slot"));
  JsonNode *at = json_object_get_member (addition, "at"), *node = json_object_get_member (addition, "part");
  NappePart *owner = to != NULL ? find_part (self, build, to) : NULL;
  const NappeSlot *slot = owner != NULL && name != NULL ? nappe_part_find_slot (owner, name) : NULL;

  if (to == NULL || name == NULL || node == NULL)
    return fail_member (self, "add", "“to”, “slot”, “part”");
  if (owner == NULL)
    return FALSE;
  if (slot == NULL || slot->single)
    return fail_member (self, "slot", _ ("a list of parts"));
  g_autoptr (NappePart) part = g_object_new (slot->type (), NULL);
  guint index = at != NULL && JSON_NODE_HOLDS_VALUE (at) ? (guint)CLAMP (json_node_get_int (at), 0, G_MAXINT) : G_MAXUINT;
  return nappe_reader_read_part (self, part, node)
         && nappe_build_insert (build, owner, name, index, part, self->error);
}

static gboolean
add_parts (NappeReader *self, NappeBuild *build, JsonObject *variation)
{
  JsonArray *list;

  if (!get_list (self, variation, "add", &list))
    return FALSE;
  for (guint i = 0; list != NULL && i < json_array_get_length (list); i++)
    {
      JsonNode *node = json_array_get_element (list, i);
      if (!JSON_NODE_HOLDS_OBJECT (node))
        return fail_member (self, "add", _ ("an object"));
      if (!add_part (self, build, json_node_get_object (node)))
        return FALSE;
    }
  return TRUE;
}

static const NappeField *
field_of_key (NappePart *part, const char *key)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    if (strcmp (nappe_field_key (&klass->fields[i]), key) == 0)
      return &klass->fields[i];
  return NULL;
}

static gboolean
set_member (NappeReader *self, NappeBuild *build, NappePart *part, const char *key, JsonNode *node)
{
  const NappeField *field = field_of_key (part, key);
  g_auto (GValue) value = G_VALUE_INIT;

  if (field == NULL)
    return nappe_reader_fail (self, part, key, NAPPE_FILE_ERROR_MISSING, _ ("there is no such member"));
  if (JSON_NODE_HOLDS_NULL (node) && field->optional)
    return nappe_build_set_number (build, part, field->name, NAN, self->error);
  g_value_init (&value, nappe_field_value_type (field));
  return nappe_reader_read_value (self, part, field, node, &value)
         && nappe_build_set (build, part, field->name, &value, self->error);
}

static gboolean
set_members (NappeReader *self, NappeBuild *build, JsonObject *variation)
{
  JsonNode *node = json_object_get_member (variation, "set");
  JsonObjectIter parts, members;
  const char *id, *key;
  JsonNode *values, *value;

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail_member (self, "set", _ ("an object"));
  json_object_iter_init (&parts, json_node_get_object (node));
  while (json_object_iter_next (&parts, &id, &values))
    {
      NappePart *part = find_part (self, build, id);
      if (part == NULL)
        return FALSE;
      if (!JSON_NODE_HOLDS_OBJECT (values))
        return fail_member (self, id, _ ("an object"));
      json_object_iter_init (&members, json_node_get_object (values));
      while (json_object_iter_next (&members, &key, &value))
        if (!set_member (self, build, part, key, value))
          return FALSE;
    }
  return TRUE;
}

gboolean
nappe_file_vary (NappeBuild *build, JsonObject *variation, const char *name, GError **error)
{
  NappeReader reader = { name, NULL, error };
  gboolean done;

  nappe_build_begin (build, name);
  done = remove_parts (&reader, build, variation) && add_parts (&reader, build, variation)
         && set_members (&reader, build, variation);
  if (done)
    nappe_build_commit (build);
  else
    nappe_build_roll_back (build);
  return done;
}

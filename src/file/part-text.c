/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "file/part-text.h"

#include <string.h>

#include <glib/gi18n-lib.h>

#include "build/build.h"
#include "file/json-text.h"
#include "file/reader.h"
#include "file/writer.h"

#define FORMAT "nappe-part"

char *
nappe_file_write_part_text (NappePart *part)
{
  JsonObject *object = json_object_new ();
  g_autoptr (JsonNode) root = json_node_new (JSON_NODE_OBJECT);

  json_object_set_string_member (object, "format", FORMAT);
  json_object_set_int_member (object, "version", NAPPE_FILE_VERSION);
  json_object_set_string_member (object, "kind", nappe_part_get_kind (part));
  json_object_set_object_member (object, "part", nappe_writer_object_of (part));
  json_node_take_object (root, object);
  return nappe_file_json_text (root, NULL);
}

/* The type of the parts of a kind, among the slots of a type and below; G_TYPE_INVALID: there is none. */
static GType
type_of_kind (GType owner, const char *kind)
{
  NappePartClass *klass = g_type_class_ref (owner);
  GType found = strcmp (klass->kind, kind) == 0 ? owner : G_TYPE_INVALID;

  for (gsize i = 0; found == G_TYPE_INVALID && i < klass->n_slots; i++)
    found = type_of_kind (klass->slots[i].type (), kind);
  g_type_class_unref (klass);
  return found;
}

static NappePart *
read_object (JsonObject *object, GError **error)
{
  const char *name = _("the pasted text");
  NappeReader reader = { name, NULL, error };
  JsonNode *format = json_object_get_member (object, "format"), *kind = json_object_get_member (object, "kind");
  JsonNode *node = json_object_get_member (object, "part");
  gboolean known = format != NULL && JSON_NODE_HOLDS_VALUE (format) && g_strcmp0 (json_node_get_string (format), FORMAT) == 0;
  const char *word = kind != NULL && JSON_NODE_HOLDS_VALUE (kind) ? json_node_get_string (kind) : NULL;
  GType type = known && word != NULL ? type_of_kind (NAPPE_TYPE_BUILD, word) : G_TYPE_INVALID;

  if (type == G_TYPE_INVALID || type == NAPPE_TYPE_BUILD || node == NULL)
    {
      g_set_error (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_FORMAT, _("What was copied is no part of a build"));
      return NULL;
    }
  g_autoptr (NappePart) part = g_object_new (type, NULL);
  return nappe_reader_read_part (&reader, part, node) ? g_steal_pointer (&part) : NULL;
}

NappePart *
nappe_file_read_part_text (const char *text, GError **error)
{
  const NappeJsonLimits limits = { .max_size = NAPPE_PART_TEXT_MAX };
  gsize length = strlen (text);
  g_autoptr (NappeJsonPlaces) places = nappe_json_guard_with_places (text, length, &limits, NULL);
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  JsonNode *root = places != NULL && json_parser_load_from_data (parser, text, (gssize) length, NULL)
                       ? json_parser_get_root (parser)
                       : NULL;

  if (root != NULL && JSON_NODE_HOLDS_OBJECT (root))
    return read_object (json_node_get_object (root), error);
  g_set_error (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_FORMAT, _("What was copied is no part of a build"));
  return NULL;
}

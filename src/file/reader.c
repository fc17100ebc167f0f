/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From text to a build. The guard of the units room sees the text first, since the parser is lenient
 * and recurses; then the tables of the parts say what may stand where. */
#include "config.h"

#include "file/reader.h"

#include <stdarg.h>
#include <string.h>

#include <glib/gi18n-lib.h>

#include "file/part-path.h"
#include "file/unknown.h"

G_DEFINE_QUARK (nappe-file-error-quark, nappe_file_error)

/* What messages quote of a text [characters]. */
#define EXCERPT_MAX 40

gboolean
nappe_reader_fail (NappeReader *self, NappePart *part, const char *member, NappeFileError code, const char *format,
                   ...)
{
  g_autofree char *path = nappe_part_path (part, member);
  g_autofree char *reason = NULL, *place = NULL;
  va_list arguments;

  va_start (arguments, format);
  reason = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  if (self->places != NULL)
    place = g_strdup_printf ("%s:%u", self->name, nappe_json_places_nearest_line (self->places, path));
  g_set_error (self->error, NAPPE_FILE_ERROR, (int) code, *path != '\0' ? "%s: %s: %s" : "%s: %s%s",
               place != NULL ? place : self->name, path, reason);
  return FALSE;
}

char *
nappe_reader_excerpt (const char *text)
{
  GString *excerpt = g_string_new (NULL);
  const char *c = text;

  for (guint i = 0; i < EXCERPT_MAX && *c != '\0'; i++, c = g_utf8_next_char (c))
    g_string_append_unichar (excerpt, g_unichar_isprint (g_utf8_get_char (c)) ? g_utf8_get_char (c) : 0xfffd);
  if (*c != '\0')
    g_string_append (excerpt, "…");
  return g_string_free (excerpt, FALSE);
}

static gboolean
has_required_fields (NappePart *part)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    if (klass->fields[i].required)
      return TRUE;
  return FALSE;
}

static gboolean
fail_missing (NappeReader *self, NappePart *part, const char *member)
{
  return nappe_reader_fail (self, part, member, NAPPE_FILE_ERROR_MISSING, _ ("it must be given"));
}

static gboolean
fail_kind (NappeReader *self, NappePart *part, const char *member, const char *wanted, JsonNode *node)
{
  return nappe_reader_fail (self, part, member, NAPPE_FILE_ERROR_TYPE, _ ("%s is wanted, not %s"), wanted,
                            nappe_reader_kind_of (node));
}

/* The text at a member, or NULL when there is none. FALSE when something else stands there. */
static gboolean
read_string (NappeReader *self, NappePart *part, JsonObject *object, const char *member, const char **text)
{
  JsonNode *node = json_object_get_member (object, member);

  *text = NULL;
  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING)
    return fail_kind (self, part, member, _ ("a text"), node);
  *text = json_node_get_string (node);
  return TRUE;
}

static gboolean
fail_id (NappeReader *self, NappePart *part, const char *id)
{
  g_autofree char *excerpt = nappe_reader_excerpt (id);

  return nappe_reader_fail (self, part, "id", NAPPE_FILE_ERROR_ID,
                            _ ("“%s” cannot be an id: 1 to %d of a–z, 0–9, “-”, “_”, “.” are wanted, the first a "
                               "letter or digit"),
                            excerpt, NAPPE_PART_ID_MAX);
}

static gboolean
read_identity (NappeReader *self, NappePart *part, JsonObject *object)
{
  g_autofree char *usual = nappe_part_usual_id (part);
  const char *id, *name;

  if (!read_string (self, part, object, "id", &id) || !read_string (self, part, object, "name", &name))
    return FALSE;
  if (id == NULL && usual == NULL)
    return fail_missing (self, part, "id");
  if (id == NULL)
    id = usual;
  if (!nappe_part_id_is_valid (id))
    return fail_id (self, part, id);
  if (name != NULL && !nappe_part_check_name (name, NULL))
    return nappe_reader_fail (self, part, "name", NAPPE_FILE_ERROR_TYPE,
                              _ ("one line of text of at most %d bytes is wanted"), NAPPE_PART_NAME_MAX);
  nappe_part_set_id (part, id);
  nappe_part_set_name (part, name);
  return TRUE;
}

static gboolean
read_fields (NappeReader *self, NappePart *part, JsonObject *object)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      JsonNode *node = json_object_get_member (object, nappe_field_key (field));
      if (node == NULL && field->required)
        return fail_missing (self, part, nappe_field_key (field));
      if (node != NULL && !nappe_reader_read_field (self, part, field, node))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_single (NappeReader *self, NappePart *part, const NappeSlot *slot, JsonNode *node)
{
  NappePart *single = nappe_part_single (part, slot);
  g_autofree char *usual = nappe_part_usual_id (single);

  if (node != NULL)
    return nappe_reader_read_part (self, single, node);
  if (has_required_fields (single))
    return fail_missing (self, part, slot->name);
  nappe_part_set_id (single, usual);
  return TRUE;
}

static gboolean
read_list (NappeReader *self, NappePart *part, const NappeSlot *slot, JsonNode *node)
{
  JsonArray *array;

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return fail_kind (self, part, slot->name, _ ("a list"), node);
  array = json_node_get_array (node);
  if (json_array_get_length (array) > slot->maximum)
    return nappe_reader_fail (self, part, slot->name, NAPPE_FILE_ERROR_COUNT,
                              /* Translators: two counts of parts. */
                              _ ("%u of them; at most %u are kept"), json_array_get_length (array), slot->maximum);
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      g_autoptr (NappePart) child = g_object_new (slot->type (), NULL);
      /* Attached first, so that the child knows its place when something is wrong with it. */
      nappe_part_attach (part, slot, G_MAXUINT, child);
      if (!nappe_reader_read_part (self, child, json_array_get_element (array, i)))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_slots (NappeReader *self, NappePart *part, JsonObject *object)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_slots; i++)
    {
      const NappeSlot *slot = &klass->slots[i];
      JsonNode *node = json_object_get_member (object, slot->name);
      if (!(slot->single ? read_single (self, part, slot, node) : read_list (self, part, slot, node)))
        return FALSE;
    }
  return TRUE;
}

gboolean
nappe_reader_read_part (NappeReader *self, NappePart *part, JsonNode *node)
{
  JsonObject *object;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail_kind (self, part, NULL, _ ("an object"), node);
  object = json_node_get_object (node);
  if (!read_identity (self, part, object) || !read_fields (self, part, object) || !read_slots (self, part, object))
    return FALSE;
  nappe_unknown_keep (part, object, NULL);
  return TRUE;
}

static gboolean
read_format (NappeReader *self, NappePart *root, JsonObject *object)
{
  g_autofree char *excerpt = NULL;
  const char *format;

  if (!read_string (self, root, object, "format", &format))
    return FALSE;
  if (format == NULL)
    return nappe_reader_fail (self, root, "format", NAPPE_FILE_ERROR_FORMAT,
                              _ ("this is no build file: it does not say \"format\": \"%s\""), NAPPE_FILE_FORMAT);
  if (strcmp (format, NAPPE_FILE_FORMAT) == 0)
    return TRUE;
  excerpt = nappe_reader_excerpt (format);
  return nappe_reader_fail (self, root, "format", NAPPE_FILE_ERROR_FORMAT,
                            _ ("this is no build file: its format is “%s”, not “%s”"), excerpt, NAPPE_FILE_FORMAT);
}

static gboolean
read_version (NappeReader *self, NappePart *root, JsonObject *object)
{
  JsonNode *node = json_object_get_member (object, "version");
  g_autofree char *shown = NULL;
  gint64 version;

  if (node == NULL)
    return fail_missing (self, root, "version");
  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_INT64)
    return fail_kind (self, root, "version", _ ("a whole number"), node);
  version = json_node_get_int (node);
  shown = g_strdup_printf ("%" G_GINT64_FORMAT, version);
  if (version > NAPPE_FILE_VERSION)
    return nappe_reader_fail (self, root, "version", NAPPE_FILE_ERROR_VERSION,
                              /* Translators: version of a file, and the newest version that is known. */
                              _ ("the file is of version %s; this program reads versions up to %d: a newer program "
                                 "is needed"),
                              shown, NAPPE_FILE_VERSION);
  /* A step that turns an older version's object into the next one's belongs after this, one for each. */
  if (version < 1)
    return nappe_reader_fail (self, root, "version", NAPPE_FILE_ERROR_VERSION,
                              _ ("there is no version %s"), shown);
  return TRUE;
}

static NappeBuild *
read_root (NappeReader *self, JsonNode *node)
{
  static const char *const known[] = { "format", "version", NULL };
  g_autoptr (NappeBuild) build = nappe_build_new ();
  NappePart *root = NAPPE_PART (build);
  JsonObject *object;

  if (node == NULL || !JSON_NODE_HOLDS_OBJECT (node))
    {
      nappe_reader_fail (self, root, NULL, NAPPE_FILE_ERROR_FORMAT, _ ("this is no build file: it is no object"));
      return NULL;
    }
  object = json_node_get_object (node);
  if (!read_format (self, root, object) || !read_version (self, root, object) ||
      !read_fields (self, root, object) || !read_slots (self, root, object))
    return NULL;
  nappe_unknown_keep (root, object, known);
  if (!nappe_reader_check_whole (self, build))
    return NULL;
  return g_steal_pointer (&build);
}

static NappeFileError
code_of_guard (const GError *error)
{
  switch ((NappeJsonError) error->code)
    {
    case NAPPE_JSON_ERROR_TOO_LARGE: return NAPPE_FILE_ERROR_SIZE;
    case NAPPE_JSON_ERROR_NUL:
    case NAPPE_JSON_ERROR_NOT_UTF8: return NAPPE_FILE_ERROR_ENCODING;
    case NAPPE_JSON_ERROR_TOO_DEEP: return NAPPE_FILE_ERROR_DEPTH;
    case NAPPE_JSON_ERROR_DUPLICATE_MEMBER: return NAPPE_FILE_ERROR_DUPLICATE;
    case NAPPE_JSON_ERROR_NUMBER:
    case NAPPE_JSON_ERROR_EMPTY:
    case NAPPE_JSON_ERROR_SYNTAX:
    case NAPPE_JSON_ERROR_STRING:
    case NAPPE_JSON_ERROR_SEVERAL_ROOTS: break;
    }
  return NAPPE_FILE_ERROR_NOT_JSON;
}

/* "line 14, column 3: …" of the guard becomes "name:14: column 3: …"; in other languages than English
 * the guard's words stay as they are. */
static void
set_guard_error (GError **error, const char *name, const GError *refusal)
{
  const char *line = g_str_has_prefix (refusal->message, "line ") ? refusal->message + strlen ("line ") : "";
  const gsize digits = strspn (line, "0123456789");

  if (digits > 0 && g_str_has_prefix (line + digits, ", "))
    g_set_error (error, NAPPE_FILE_ERROR, (int) code_of_guard (refusal), "%s:%.*s: %s", name, (int) digits, line,
                 line + digits + strlen (", "));
  else
    g_set_error (error, NAPPE_FILE_ERROR, (int) code_of_guard (refusal), "%s: %s", name, refusal->message);
}

NappeBuild *
nappe_file_read_text (const char *text, gsize length, const char *name, GError **error)
{
  const NappeJsonLimits limits = { .max_size = NAPPE_FILE_SIZE_MAX };
  g_autoptr (GError) refusal = NULL;
  g_autoptr (NappeJsonPlaces) places = nappe_json_guard_with_places (text, length, &limits, &refusal);
  g_autoptr (JsonParser) parser = NULL;
  NappeReader reader = { name, places, error };

  if (places == NULL)
    {
      set_guard_error (error, name, refusal);
      return NULL;
    }
  parser = json_parser_new_immutable ();
  if (json_parser_load_from_data (parser, text, (gssize) length, &refusal))
    return read_root (&reader, json_parser_get_root (parser));
  g_set_error (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_NOT_JSON, "%s: %s", name, refusal->message);
  return NULL;
}

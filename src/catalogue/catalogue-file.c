/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include "catalogue/catalogue-private.h"
#include "units/json-guard.h"

/* A catalogue file:
 *   { "format": "nappe-catalogue", "version": 1,
 *     "sources": { "short name": "full text", … },   (may be absent)
 *     "items": [ { "id": …, "kind": …, "source": …, … }, … ] } */

#define FORMAT "nappe-catalogue"
#define VERSION 1
#define SHOWN_TEXT 60                   /* [characters] */
#define GREATEST_SIZE (4 * 1024 * 1024) /* [bytes] */

typedef struct
{
  const char *path;
  char *shown;      /* the file's name for messages */
  gboolean own;
  gboolean lenient; /* a bad row is left out and says so, the others stay */
  GStringChunk *strings;
  GPtrArray *rows;
  NappeJsonPlaces *places;
  JsonParser *parser;
  GError **error;
} Reader;

char *
nappe_catalogue_short_text (const char *text)
{
  return g_utf8_substring (text, 0, MIN (g_utf8_strlen (text, -1), SHOWN_TEXT));
}

static gboolean
fail (Reader *reader, NappeCatalogueError code, const char *place, const char *what)
{
  guint line = reader->places != NULL ? nappe_json_places_nearest_line (reader->places, place) : 0;

  if (line == 0)
    g_set_error (reader->error, NAPPE_CATALOGUE_ERROR, code, "%s: %s", reader->shown, what);
  else if (*place == '\0')
    /* Translators: file, line, what is wrong. */
    g_set_error (reader->error, NAPPE_CATALOGUE_ERROR, code, _("%s, line %u: %s"), reader->shown, line, what);
  else
    /* Translators: file, line, member, what is wrong. */
    g_set_error (reader->error, NAPPE_CATALOGUE_ERROR, code, _("%s, line %u, %s: %s"), reader->shown, line, place,
                 what);
  return FALSE;
}

/* A pipe or device under this name could block or never end: plain files only. */
static gboolean
load_text (Reader *reader, char **text, gsize *length)
{
  g_autoptr (GError) cause = NULL;
  GStatBuf status;

  if (g_stat (reader->path, &status) == 0)
    {
      if (!S_ISREG (status.st_mode))
        return fail (reader, NAPPE_CATALOGUE_ERROR_READ, "", _("this is not a plain file"));
      if (status.st_size > GREATEST_SIZE)
        return fail (reader, NAPPE_CATALOGUE_ERROR_READ, "", _("the file is larger than 4 MiB"));
    }
  if (!g_file_get_contents (reader->path, text, length, &cause))
    return fail (reader, NAPPE_CATALOGUE_ERROR_READ, "", cause->message);
  return TRUE;
}

static gboolean
parse (Reader *reader, const char *text, gsize length)
{
  const NappeJsonLimits limits = { .max_size = GREATEST_SIZE };
  g_autoptr (GError) cause = NULL;

  reader->places = nappe_json_guard_with_places (text, length, &limits, &cause);
  if (reader->places == NULL || !json_parser_load_from_data (reader->parser, text, (gssize) length, &cause))
    {
      g_clear_pointer (&reader->places, nappe_json_places_free);
      return fail (reader, NAPPE_CATALOGUE_ERROR_JSON, "", cause->message);
    }
  return TRUE;
}

static gboolean
check_head (Reader *reader, JsonObject *root)
{
  JsonNode *format = json_object_get_member (root, "format");
  JsonNode *version = json_object_get_member (root, "version");

  if (format == NULL || !JSON_NODE_HOLDS_VALUE (format) || g_strcmp0 (json_node_get_string (format), FORMAT) != 0)
    return fail (reader, NAPPE_CATALOGUE_ERROR_FORMAT, "format", _("“nappe-catalogue” is wanted here"));
  if (version == NULL || !JSON_NODE_HOLDS_VALUE (version) || json_node_get_value_type (version) != G_TYPE_INT64)
    return fail (reader, NAPPE_CATALOGUE_ERROR_FORMAT, "version", _("a whole number is wanted"));
  if (json_node_get_int (version) != VERSION)
    return fail (reader, NAPPE_CATALOGUE_ERROR_FORMAT, "version", _("this program reads version 1 only"));
  return TRUE;
}

void
nappe_file_row_free (gpointer data)
{
  NappeFileRow *row = data;

  nappe_item_free (row->item);
  g_free (row->id);
  g_free (row->problem);
  g_free (row);
}

/* The id that a row gives, as far as it gives one. */
static const char *
id_of (JsonNode *node)
{
  JsonNode *id = JSON_NODE_HOLDS_OBJECT (node) ? json_object_get_member (json_node_get_object (node), "id") : NULL;
  const char *text = id != NULL && JSON_NODE_HOLDS_VALUE (id) ? json_node_get_string (id) : NULL;

  return text != NULL ? text : "";
}

/* Refuses a row: as its problem if others may stand beside it, else as the error. */
static gboolean
refuse_row (Reader *reader, NappeFileRow *row, const char *member, const GError *cause)
{
  g_autofree char *shown_member = nappe_catalogue_short_text (member != NULL ? member : "");
  g_autofree char *shown_id = nappe_catalogue_short_text (row->id);
  g_autofree char *place = g_strdup_printf ("items[%u]%s%s", row->index, member != NULL ? "." : "", shown_member);
  g_autofree char *what = g_strconcat (shown_id, *shown_id != '\0' ? ": " : "", cause->message, NULL);
  g_autoptr (GError) located = NULL;
  GError **outer = reader->error;

  if (!reader->lenient)
    return fail (reader, cause->code, place, what);
  reader->error = &located;
  fail (reader, cause->code, place, what);
  reader->error = outer;
  row->problem = g_strdup (located->message);
  return TRUE;
}

static gboolean
read_row (Reader *reader, guint index, JsonNode *node, JsonObject *sources)
{
  NappeFileRow *row = g_new0 (NappeFileRow, 1);
  g_autofree char *place = g_strdup_printf ("items[%u]", index);
  g_autofree char *member = NULL;
  g_autoptr (GError) cause = NULL;

  row->index = index;
  row->line = nappe_json_places_nearest_line (reader->places, place);
  row->id = g_strdup (id_of (node));
  g_ptr_array_add (reader->rows, row);
  if (JSON_NODE_HOLDS_OBJECT (node))
    row->item = nappe_item_read (json_node_get_object (node), sources, reader->own, reader->strings, &member, &cause);
  else
    g_set_error_literal (&cause, NAPPE_CATALOGUE_ERROR, NAPPE_CATALOGUE_ERROR_FORMAT, _("an object is wanted"));
  return row->item != NULL || refuse_row (reader, row, member, cause);
}

static gboolean
refuse_unknown_members (Reader *reader, JsonObject *root)
{
  static const char *const known[] = { "format", "version", "sources", "items", "note", NULL };
  g_autoptr (GList) names = json_object_get_members (root);

  for (GList *each = names; each != NULL; each = each->next)
    if (!g_strv_contains (known, each->data))
      {
        g_autofree char *shown = nappe_catalogue_short_text (each->data);

        return fail (reader, NAPPE_CATALOGUE_ERROR_FORMAT, shown, _("there is no such member"));
      }
  return TRUE;
}

static gboolean
read_rows (Reader *reader)
{
  JsonNode *root = json_parser_get_root (reader->parser);
  JsonObject *object = JSON_NODE_HOLDS_OBJECT (root) ? json_node_get_object (root) : NULL;
  JsonObject *known_sources;
  JsonNode *sources, *items;
  JsonArray *rows;

  if (object == NULL)
    return fail (reader, NAPPE_CATALOGUE_ERROR_FORMAT, "", _("an object is wanted"));
  if (!check_head (reader, object) || !refuse_unknown_members (reader, object))
    return FALSE;
  sources = json_object_get_member (object, "sources");
  if (sources != NULL && !JSON_NODE_HOLDS_OBJECT (sources))
    return fail (reader, NAPPE_CATALOGUE_ERROR_FORMAT, "sources", _("an object is wanted"));
  items = json_object_get_member (object, "items");
  if (items == NULL || !JSON_NODE_HOLDS_ARRAY (items))
    return fail (reader, NAPPE_CATALOGUE_ERROR_FORMAT, "items", _("a list of items is wanted"));
  rows = json_node_get_array (items);
  known_sources = sources != NULL ? json_node_get_object (sources) : NULL;
  for (guint i = 0; i < json_array_get_length (rows); i++)
    if (!read_row (reader, i, json_array_get_element (rows, i), known_sources))
      return FALSE;
  return TRUE;
}

static gboolean
read_text (Reader *reader, const char *text, gsize length)
{
  gboolean good = parse (reader, text, length) && read_rows (reader);

  g_clear_pointer (&reader->places, nappe_json_places_free);
  return good;
}

gboolean
nappe_catalogue_file_read (const char *path, gboolean own, GStringChunk *strings, GPtrArray *rows, GError **error)
{
  g_autofree char *text = NULL, *shown = g_filename_display_basename (path);
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  Reader reader = { path, shown, own, own, strings, rows, NULL, parser, error };
  gsize length = 0;

  return load_text (&reader, &text, &length) && read_text (&reader, text, length);
}

gboolean
nappe_catalogue_file_load (const char *path, char **text, gsize *length, GError **error)
{
  g_autofree char *shown = g_filename_display_basename (path);
  Reader reader = { .path = path, .shown = shown, .error = error };

  return load_text (&reader, text, length);
}

gboolean
nappe_catalogue_text_read (const char *text, gsize length, const char *shown, GStringChunk *strings, GPtrArray *rows,
                           GError **error)
{
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  Reader reader = { NULL, (char *) shown, TRUE, TRUE, strings, rows, NULL, parser, error };

  return read_text (&reader, text, length);
}

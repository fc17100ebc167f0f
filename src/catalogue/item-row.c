/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "catalogue/catalogue-private.h"
#include "catalogue/item-members-private.h"

/* From a row's JSON members to the item's fields, by the table of members. */

#define TEXT_LENGTH 1000 /* [bytes] */
#define ID_LENGTH 64     /* [bytes] */

typedef struct
{
  JsonObject *row;
  GStringChunk *strings;
  NappeItem *item;
  GArray *lists[NAPPE_LIST_COUNT]; /* of double, SI; NULL if the row has none */
  char **member;
  GError **error;
} Row;

static gboolean G_GNUC_PRINTF (4, 5)
fail (Row *row, const char *member, NappeCatalogueError code, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list arguments;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error_literal (row->error, NAPPE_CATALOGUE_ERROR, code, message);
  *row->member = g_strdup (member);
  return FALSE;
}

/* ---- one value ---- */

static gboolean
node_is (JsonNode *node, GType type)
{
  return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == type;
}

/* The text of a member that must have one; NULL with an error. */
static const char *
read_text (Row *row, const char *name)
{
  JsonNode *node = json_object_get_member (row->row, name);
  const char *text;

  if (node == NULL)
    {
      fail (row, name, NAPPE_CATALOGUE_ERROR_FORMAT, _("this member is missing"));
      return NULL;
    }
  text = node_is (node, G_TYPE_STRING) ? json_node_get_string (node) : NULL;
  if (text == NULL || *text == '\0' || strlen (text) > TEXT_LENGTH)
    {
      fail (row, name, NAPPE_CATALOGUE_ERROR_FORMAT, _("a text of 1 to %d characters is wanted"), TEXT_LENGTH);
      return NULL;
    }
  return text;
}

static gboolean
check_word (Row *row, const char *name, const char *text, const char *const *only)
{
  g_autofree char *list = NULL, *shown = NULL;

  if (only == NULL || g_strv_contains (only, text))
    return TRUE;
  list = g_strjoinv (", ", (char **) only);
  shown = nappe_catalogue_short_text (text);
  return fail (row, name, NAPPE_CATALOGUE_ERROR_FORMAT, _("“%s” is none of: %s"), shown, list);
}

static gboolean
read_number (Row *row, const NappeItemMember *member, const char *name, JsonNode *node, double *value)
{
  double written;

  if (!node_is (node, G_TYPE_INT64) && !node_is (node, G_TYPE_DOUBLE))
    return fail (row, name, NAPPE_CATALOGUE_ERROR_FORMAT, _("a number is wanted"));
  written = json_node_get_double (node);
  *value = nappe_quantity_from_file (member->quantity, written);
  if (!(*value >= member->least && *value <= member->most))
    {
      g_autofree char *least = nappe_quantity_file_text (member->quantity, member->least);
      g_autofree char *most = nappe_quantity_file_text (member->quantity, member->most);

      return fail (row, name, NAPPE_CATALOGUE_ERROR_RANGE, _("%.10g is not between %s and %s"), written, least, most);
    }
  return TRUE;
}

static gboolean
read_list (Row *row, const NappeItemMember *member, const char *name, JsonNode *node)
{
  JsonArray *array = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;
  guint count = array != NULL ? json_array_get_length (array) : 0;
  GArray *list;

  if (count < 2 || count > 100)
    return fail (row, name, NAPPE_CATALOGUE_ERROR_FORMAT, _("a list of 2 to 100 numbers is wanted"));
  list = row->lists[member->offset] = g_array_sized_new (FALSE, FALSE, sizeof (double), count);
  for (guint i = 0; i < count; i++)
    {
      double value;

      if (!read_number (row, member, name, json_array_get_element (array, i), &value))
        return FALSE;
      g_array_append_val (list, value);
    }
  return TRUE;
}

static gboolean
read_member (Row *row, const NappeItemMember *member, const char *name, JsonNode *node)
{
  gpointer place = G_STRUCT_MEMBER_P (row->item, member->offset);
  const char *text;

  switch (member->type)
    {
    case NAPPE_MEMBER_TEXT:
      text = read_text (row, name);
      if (text == NULL || !check_word (row, name, text, member->only))
        return FALSE;
      *(const char **) place = g_string_chunk_insert_const (row->strings, text);
      return TRUE;
    case NAPPE_MEMBER_NUMBER:
      return read_number (row, member, name, node, place);
    case NAPPE_MEMBER_BOOLEAN:
      if (!node_is (node, G_TYPE_BOOLEAN))
        return fail (row, name, NAPPE_CATALOGUE_ERROR_FORMAT, _("true or false is wanted"));
      *(gboolean *) place = json_node_get_boolean (node);
      return TRUE;
    case NAPPE_MEMBER_LIST:
      return read_list (row, member, name, node);
    }
  g_return_val_if_reached (FALSE);
}

/* ---- the row ---- */

static gboolean
read_id (Row *row)
{
  const char *id = read_text (row, "id");

  if (id == NULL)
    return FALSE;
  for (const char *at = id; *at != '\0'; at++)
    if (!g_ascii_isalnum (*at) && strchr ("-._", *at) == NULL)
      return fail (row, "id", NAPPE_CATALOGUE_ERROR_FORMAT,
                   _("an id has letters a to z, digits, “-”, “.” and “_” only"));
  if (strlen (id) > ID_LENGTH)
    return fail (row, "id", NAPPE_CATALOGUE_ERROR_FORMAT, _("an id has at most %d characters"), ID_LENGTH);
  row->item->id = g_string_chunk_insert_const (row->strings, id);
  return TRUE;
}

static gboolean
read_kind (Row *row)
{
  const char *kind = read_text (row, "kind");

  if (kind == NULL || !check_word (row, "kind", kind, nappe_item_kind_words))
    return FALSE;
  for (guint i = 0; nappe_item_kind_words[i] != NULL; i++)
    if (g_str_equal (kind, nappe_item_kind_words[i]))
      row->item->kind = (NappeItemKind) i;
  return TRUE;
}

/* A source is the short name of one in the file's list, or a text of its own. */
static gboolean
read_source (Row *row, JsonObject *sources)
{
  const char *source = read_text (row, "source");
  JsonNode *full = source != NULL && sources != NULL ? json_object_get_member (sources, source) : NULL;

  if (source == NULL)
    return FALSE;
  if (full != NULL)
    source = node_is (full, G_TYPE_STRING) ? json_node_get_string (full) : "";
  if (*source == '\0' || strlen (source) > TEXT_LENGTH)
    return fail (row, "source", NAPPE_CATALOGUE_ERROR_FORMAT, _("a text of 1 to %d characters is wanted"), TEXT_LENGTH);
  row->item->source = g_string_chunk_insert_const (row->strings, source);
  return TRUE;
}

/* Reads the member `name`; adds its bit to *found. A misspelt member is refused, for it would
 * otherwise silently leave its number at 0. */
static gboolean
read_named_member (Row *row, const char *name, guint64 *found)
{
  static const char *const read_apart[] = { "id", "kind", "source", "note", NULL };
  guint i = 0;

  if (g_strv_contains (read_apart, name))
    return TRUE;
  while (i < nappe_item_member_count && !nappe_item_member_is_named (&nappe_item_members[i], name))
    i++;
  if (i == nappe_item_member_count)
    return fail (row, name, NAPPE_CATALOGUE_ERROR_FORMAT, _("there is no such member; is its unit right?"));
  if ((nappe_item_members[i].kinds & 1u << row->item->kind) == 0)
    return fail (row, name, NAPPE_CATALOGUE_ERROR_FORMAT, _("an item of this kind has no such member"));
  *found |= G_GUINT64_CONSTANT (1) << i;
  return read_member (row, &nappe_item_members[i], name, json_object_get_member (row->row, name));
}

static gboolean
read_members (Row *row)
{
  g_autoptr (GList) names = json_object_get_members (row->row);
  guint64 found = 0;

  for (GList *each = names; each != NULL; each = each->next)
    if (!read_named_member (row, each->data, &found))
      return FALSE;
  for (guint i = 0; i < nappe_item_member_count; i++)
    if ((nappe_item_members[i].needed & 1u << row->item->kind) != 0 && (found & G_GUINT64_CONSTANT (1) << i) == 0)
      {
        g_autofree char *name = nappe_item_member_file_name (&nappe_item_members[i]);

        return fail (row, name, NAPPE_CATALOGUE_ERROR_FORMAT, _("this member is missing"));
      }
  return TRUE;
}

/* ---- lists into the item ---- */

static gboolean
check_pair (Row *row, NappeItemList first, NappeItemList second, const char *name)
{
  GArray *one = row->lists[first], *other = row->lists[second];

  if ((one == NULL) != (other == NULL) || (one != NULL && one->len != other->len))
    return fail (row, name, NAPPE_CATALOGUE_ERROR_FORMAT, _("the two lists must be equally long"));
  return TRUE;
}

static gboolean
take_lists (Row *row)
{
  NappeItem *item = row->item;

  if (!check_pair (row, NAPPE_LIST_OPENING, NAPPE_LIST_K, "k")
      || !check_pair (row, NAPPE_LIST_FLOW, NAPPE_LIST_HEAD, "curve_head_metres"))
    return FALSE;
  if (row->lists[NAPPE_LIST_K] != NULL)
    {
      NappeValvePoint *points = g_new (NappeValvePoint, row->lists[NAPPE_LIST_K]->len);

      item->points = points;
      item->n_points = row->lists[NAPPE_LIST_K]->len;
      for (guint i = 0; i < item->n_points; i++)
        {
          points[i].opening = g_array_index (row->lists[NAPPE_LIST_OPENING], double, i);
          points[i].k = g_array_index (row->lists[NAPPE_LIST_K], double, i);
        }
    }
  if (row->lists[NAPPE_LIST_FLOW] != NULL)
    {
      item->n_curve = row->lists[NAPPE_LIST_FLOW]->len;
      item->curve_flow = (double *) g_array_steal (row->lists[NAPPE_LIST_FLOW], NULL);
      item->curve_head = (double *) g_array_steal (row->lists[NAPPE_LIST_HEAD], NULL);
    }
  return TRUE;
}

static gboolean
read_row (Row *row, JsonObject *sources)
{
  NappeItem *item = row->item;

  if (!read_id (row) || !read_kind (row) || !read_source (row, sources) || !read_members (row) || !take_lists (row))
    return FALSE;
  if (item->fittings_family == NULL)
    item->fittings_family = item->family;
  if (item->bore_out <= 0)
    item->bore_out = item->bore;
  return nappe_item_check (item, row->member, row->error);
}

NappeItem *
nappe_item_read (JsonObject *object, JsonObject *sources, gboolean own, GStringChunk *strings, char **member,
                 GError **error)
{
  Row row = { .row = object, .strings = strings, .item = g_new0 (NappeItem, 1), .member = member, .error = error };
  gboolean good;

  *member = NULL;
  row.item->own = own;
  good = read_row (&row, sources);
  for (guint i = 0; i < NAPPE_LIST_COUNT; i++)
    g_clear_pointer (&row.lists[i], g_array_unref);
  if (good)
    return row.item;
  nappe_item_free (row.item);
  return NULL;
}

void
nappe_item_free (NappeItem *item)
{
  if (item == NULL)
    return;
  g_free ((gpointer) item->points);
  g_free ((gpointer) item->curve_flow);
  g_free ((gpointer) item->curve_head);
  g_free (item);
}

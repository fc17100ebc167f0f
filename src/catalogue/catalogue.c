/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/catalogue.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "catalogue/catalogue-private.h"
#include "units/data-folder.h"

struct _NappeCatalogue
{
  gatomicrefcount references;
  GStringChunk *strings; /* every text of every item */
  GPtrArray *items;      /* of NappeItem, owned */
  GHashTable *index_of;  /* id -> place in items + 1; keys belong to strings */
  GPtrArray *own_parts;  /* of NappeOwnPart */
};

static const char *const shipped_files[] = { "pipes.json",     "hoses.json", "fittings.json", "valves.json",
                                             "bulkheads.json", "pumps.json", "equipment.json" };

G_DEFINE_QUARK (nappe-catalogue-error-quark, nappe_catalogue_error)
G_DEFINE_BOXED_TYPE (NappeCatalogue, nappe_catalogue, nappe_catalogue_ref, nappe_catalogue_unref)

/* ---- gathering ---- */

static guint
place_of (const NappeCatalogue *catalogue, const char *id)
{
  return GPOINTER_TO_UINT (g_hash_table_lookup (catalogue->index_of, id));
}

static void
append (NappeCatalogue *catalogue, NappeItem *item)
{
  g_ptr_array_add (catalogue->items, item);
  g_hash_table_replace (catalogue->index_of, (gpointer) item->id, GUINT_TO_POINTER (catalogue->items->len));
}

static gboolean
load_shipped (NappeCatalogue *catalogue, const char *folder, const char *file, GError **error)
{
  g_autofree char *path = g_build_filename (folder, file, NULL);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (nappe_file_row_free);

  if (!nappe_catalogue_file_read (path, FALSE, catalogue->strings, rows, error))
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      NappeFileRow *row = g_ptr_array_index (rows, i);

      if (place_of (catalogue, row->item->id) != 0)
        {
          g_set_error (error, NAPPE_CATALOGUE_ERROR, NAPPE_CATALOGUE_ERROR_DUPLICATE_ID,
                       _("%s, line %u: the id “%s” is in the catalogue twice"), file, row->line, row->id);
          return FALSE;
        }
      append (catalogue, g_steal_pointer (&row->item));
    }
  return TRUE;
}

/* Puts a user's item in; FALSE with the reason if it may not be. Takes the item if it may. */
static gboolean
take_own (NappeCatalogue *catalogue, NappeItem *item, const char **reason)
{
  guint place = place_of (catalogue, item->id);
  NappeItem *there = place > 0 ? g_ptr_array_index (catalogue->items, place - 1) : NULL;

  if (there == NULL)
    {
      append (catalogue, item);
      return TRUE;
    }
  *reason = there->own ? _("this id is in your catalogue twice") : _("the shipped item of this id is of another kind");
  if (there->own || there->kind != item->kind)
    return FALSE;
  nappe_item_free (there);
  catalogue->items->pdata[place - 1] = item;
  g_hash_table_replace (catalogue->index_of, (gpointer) item->id, GUINT_TO_POINTER (place));
  return TRUE;
}

static void
own_part_free (gpointer data)
{
  NappeOwnPart *part = data;

  g_free (part->path);
  g_free (part->id);
  g_free (part->problem);
  g_free (part);
}

/* path NULL: the folder. problem: transfer full. */
static NappeOwnPart *
add_own_part (NappeCatalogue *catalogue, const char *path, guint index, guint line, const char *id, char *problem)
{
  NappeOwnPart *part = g_new0 (NappeOwnPart, 1);

  part->path = g_strdup (path);
  part->index = index;
  part->line = line;
  part->id = g_strdup (id);
  part->problem = problem;
  g_ptr_array_add (catalogue->own_parts, part);
  return part;
}

static void
load_own_row (NappeCatalogue *catalogue, const char *path, const char *shown, NappeFileRow *row)
{
  NappeOwnPart *part = add_own_part (catalogue, path, row->index, row->line, row->id, g_steal_pointer (&row->problem));
  const char *reason = NULL;

  if (row->item != NULL && take_own (catalogue, row->item, &reason))
    part->item = g_steal_pointer (&row->item);
  else if (row->item != NULL)
    /* Translators: file, line, id of an item, what is wrong. */
    part->problem = g_strdup_printf (_("%s, line %u, %s: %s"), shown, row->line, row->id, reason);
}

static void
load_own (NappeCatalogue *catalogue, const char *path)
{
  g_autofree char *shown = g_filename_display_basename (path);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (nappe_file_row_free);
  g_autoptr (GError) error = NULL;

  if (!nappe_catalogue_file_read (path, TRUE, catalogue->strings, rows, &error))
    add_own_part (catalogue, path, NAPPE_OWN_PART_FILE, 0, "", g_strdup (error->message));
  for (guint i = 0; i < rows->len; i++)
    load_own_row (catalogue, path, shown, g_ptr_array_index (rows, i));
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static void
load_own_folder (NappeCatalogue *catalogue, const char *folder)
{
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) dir = g_dir_open (folder, 0, &error);
  const char *name;

  if (dir == NULL)
    {
      if (!g_error_matches (error, G_FILE_ERROR, G_FILE_ERROR_NOENT))
        add_own_part (catalogue, NULL, NAPPE_OWN_PART_FILE, 0, "", g_strdup (error->message));
      return;
    }
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".json") && *name != '.')
      g_ptr_array_add (paths, g_build_filename (folder, name, NULL));
  g_ptr_array_sort (paths, compare_names);
  for (guint i = 0; i < paths->len; i++)
    load_own (catalogue, g_ptr_array_index (paths, i));
}

/* ---- public ---- */

static NappeCatalogue *
catalogue_new (void)
{
  NappeCatalogue *catalogue = g_new0 (NappeCatalogue, 1);

  g_atomic_ref_count_init (&catalogue->references);
  catalogue->strings = g_string_chunk_new (4096);
  catalogue->items = g_ptr_array_new_with_free_func ((GDestroyNotify) nappe_item_free);
  catalogue->index_of = g_hash_table_new (g_str_hash, g_str_equal);
  catalogue->own_parts = g_ptr_array_new_with_free_func (own_part_free);
  return catalogue;
}

static GPtrArray *
problems_of (const NappeCatalogue *catalogue)
{
  GPtrArray *problems = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < catalogue->own_parts->len; i++)
    {
      const NappeOwnPart *part = g_ptr_array_index (catalogue->own_parts, i);

      if (part->problem != NULL)
        g_ptr_array_add (problems, g_strdup (part->problem));
    }
  return problems;
}

NappeCatalogue *
nappe_catalogue_load (const char *data_dir, const char *user_dir, GPtrArray **warnings, GError **error)
{
  g_autoptr (NappeCatalogue) catalogue = catalogue_new ();

  g_return_val_if_fail (data_dir != NULL, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (shipped_files); i++)
    if (!load_shipped (catalogue, data_dir, shipped_files[i], error))
      return NULL;
  if (user_dir != NULL)
    load_own_folder (catalogue, user_dir);
  if (warnings != NULL)
    *warnings = problems_of (catalogue);
  return g_steal_pointer (&catalogue);
}

NappeCatalogue *
nappe_catalogue_load_default (GPtrArray **warnings, GError **error)
{
  g_autofree char *data_dir = nappe_catalogue_default_dir ();
  g_autofree char *user_dir = nappe_catalogue_user_dir ();

  return nappe_catalogue_load (data_dir, user_dir, warnings, error);
}

char *
nappe_catalogue_default_dir (void)
{
  return nappe_data_folder ("catalogue");
}

char *
nappe_catalogue_user_dir (void)
{
  return g_build_filename (g_get_user_data_dir (), "nappe", "catalogue", NULL);
}

NappeCatalogue *
nappe_catalogue_ref (NappeCatalogue *catalogue)
{
  g_return_val_if_fail (catalogue != NULL, NULL);
  g_atomic_ref_count_inc (&catalogue->references);
  return catalogue;
}

void
nappe_catalogue_unref (NappeCatalogue *catalogue)
{
  g_return_if_fail (catalogue != NULL);
  if (!g_atomic_ref_count_dec (&catalogue->references))
    return;
  g_hash_table_unref (catalogue->index_of);
  g_ptr_array_unref (catalogue->items);
  g_ptr_array_unref (catalogue->own_parts);
  g_string_chunk_free (catalogue->strings);
  g_free (catalogue);
}

const NappeItem *
nappe_catalogue_find (const NappeCatalogue *catalogue, const char *id)
{
  guint place;

  g_return_val_if_fail (catalogue != NULL, NULL);
  place = id != NULL ? place_of (catalogue, id) : 0;
  return place > 0 ? g_ptr_array_index (catalogue->items, place - 1) : NULL;
}

guint
nappe_catalogue_count (const NappeCatalogue *catalogue)
{
  g_return_val_if_fail (catalogue != NULL, 0);
  return catalogue->items->len;
}

const NappeItem *
nappe_catalogue_nth (const NappeCatalogue *catalogue, guint index)
{
  g_return_val_if_fail (catalogue != NULL && index < catalogue->items->len, NULL);
  return g_ptr_array_index (catalogue->items, index);
}

const GPtrArray *
nappe_catalogue_own_parts (const NappeCatalogue *catalogue)
{
  g_return_val_if_fail (catalogue != NULL, NULL);
  return catalogue->own_parts;
}

GPtrArray *
nappe_catalogue_of_kind (const NappeCatalogue *catalogue, NappeItemKind kind)
{
  GPtrArray *chosen = g_ptr_array_new ();

  g_return_val_if_fail (catalogue != NULL, chosen);
  for (guint i = 0; i < catalogue->items->len; i++)
    {
      NappeItem *item = g_ptr_array_index (catalogue->items, i);

      if (item->kind == kind)
        g_ptr_array_add (chosen, item);
    }
  return chosen;
}

const NappeItem *
nappe_catalogue_match (const NappeCatalogue *catalogue, NappeItemKind kind, const char *family, const char *detail,
                       const char *nominal)
{
  g_return_val_if_fail (catalogue != NULL, NULL);
  for (guint i = 0; i < catalogue->items->len; i++)
    {
      const NappeItem *item = g_ptr_array_index (catalogue->items, i);
      const char *own_detail = item->shape != NULL ? item->shape : item->valve_kind;

      if (item->kind == kind && g_strcmp0 (item->family, family) == 0 && g_strcmp0 (own_detail, detail) == 0
          && g_strcmp0 (item->nominal, nominal) == 0)
        return item;
    }
  return NULL;
}

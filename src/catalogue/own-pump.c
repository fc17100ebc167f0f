/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/own-pump.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "catalogue/catalogue-private.h"

#define EMPTY_FILE "{\n  \"format\": \"nappe-catalogue\",\n  \"version\": 1,\n  \"items\": [\n  ]\n}\n"
#define ID_STEM_MAX 48 /* [bytes] */
/* How long another program is waited for [us], and how often is looked. */
#define PATIENCE (2 * G_USEC_PER_SEC)
#define LOOK_AGAIN 20000

static gboolean
fail (GError **error, NappeCatalogueError code, const char *path, const char *why)
{
  g_autofree char *shown = g_filename_display_basename (path);

  g_set_error (error, NAPPE_CATALOGUE_ERROR, code, "%s: %s", shown, why);
  return FALSE;
}

/* ---- the text of a row ---- */

static gboolean
is_line (const char *text)
{
  if (!g_utf8_validate (text, -1, NULL) || strlen (text) > NAPPE_OWN_PUMP_TEXT_MAX)
    return FALSE;
  for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
    if (g_unichar_iscntrl (g_utf8_get_char (at)))
      return FALSE;
  return *text != '\0' && !g_unichar_isspace (g_utf8_get_char (text));
}

const char *
nappe_own_pump_check (const NappeOwnPump *pump)
{
  if (!is_line (pump->name))
    return _("A name of one line is wanted, at most 200 characters");
  if (!is_line (pump->source))
    return _("A source of one line is wanted, at most 200 characters");
  if (!(pump->power > 0))
    return _("The power that the pump draws is wanted");
  return NULL;
}

static void
append_string (GString *text, const char *name, const char *value)
{
  g_autoptr (JsonNode) node = json_node_init_string (json_node_alloc (), value);
  g_autofree char *written = json_to_string (node, FALSE);

  g_string_append_printf (text, "\"%s\": %s", name, written);
}

static void
append_list (GString *text, const char *name, NappeQuantity quantity, const double *values, gsize n)
{
  g_string_append_printf (text, ",\n     \"%s_%s\": [", name, nappe_quantity_file_suffix (quantity));
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *number = nappe_quantity_file_text (quantity, values[i]);

      g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", number);
    }
  g_string_append_c (text, ']');
}

static void
append_number (GString *text, const char *name, NappeQuantity quantity, double value)
{
  g_autofree char *number = nappe_quantity_file_text (quantity, value);

  g_string_append_printf (text, ", \"%s_%s\": %s", name, nappe_quantity_file_suffix (quantity), number);
}

/* Transfer full. */
static char *
row_text (const NappeOwnPump *pump, const char *id)
{
  GString *text = g_string_new ("{");

  append_string (text, "id", id);
  g_string_append (text, ", \"kind\": \"pump\", ");
  append_string (text, "name", pump->name);
  g_string_append_printf (text, ", \"variable_speed\": %s", pump->variable_speed ? "true" : "false");
  append_list (text, "curve_flow", NAPPE_QUANTITY_FLOW, pump->curve.flow, pump->curve.n);
  append_list (text, "curve_head", NAPPE_QUANTITY_HEAD, pump->curve.head, pump->curve.n);
  g_string_append (text, ",\n     ");
  append_string (text, "source", pump->source);
  append_number (text, "power", NAPPE_QUANTITY_POWER, pump->power);
  if (pump->outlet_bore > 0)
    append_number (text, "outlet_bore", NAPPE_QUANTITY_LENGTH, pump->outlet_bore);
  g_string_append_c (text, '}');
  return g_string_free (text, FALSE);
}

static gboolean
has_id (const NappeCatalogue *catalogue, const GPtrArray *rows, const char *id)
{
  if (nappe_catalogue_find (catalogue, id) != NULL)
    return TRUE;
  for (guint i = 0; i < rows->len; i++)
    if (g_str_equal (((const NappeFileRow *) rows->pdata[i])->id, id))
      return TRUE;
  return FALSE;
}

/* "own-reef-pump-4000" of "Reef pump 4000". Transfer full. */
static char *
free_id (const char *name, const NappeCatalogue *catalogue, const GPtrArray *rows)
{
  g_autofree char *plain = g_str_to_ascii (name, "C"), *stem = NULL;
  g_autoptr (GString) id = g_string_new ("own");

  for (const char *at = plain; *at != '\0' && id->len < ID_STEM_MAX; at++)
    if (g_ascii_isalnum (*at))
      {
        if (at == plain || !g_ascii_isalnum (at[-1]))
          g_string_append_c (id, '-');
        g_string_append_c (id, g_ascii_tolower (*at));
      }
  if (id->len <= strlen ("own"))
    g_string_append (id, "-pump");
  stem = g_strdup (id->str);
  for (guint i = 2; has_id (catalogue, rows, id->str); i++)
    g_string_printf (id, "%s-%u", stem, i);
  return g_string_free (g_steal_pointer (&id), FALSE);
}

/* ---- files ---- */

/* Holds a folder against other programs that change it the same way. Returns a descriptor to be closed, or -1. */
static int
hold_folder (const char *folder)
{
  int descriptor = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  gint64 end = g_get_monotonic_time () + PATIENCE;

  /* Where a file system knows no locks nobody is waited for. */
  while (descriptor >= 0 && flock (descriptor, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK && g_get_monotonic_time () < end)
    g_usleep (LOOK_AGAIN);
  return descriptor;
}

/* A file that is being changed. */
typedef struct
{
  char *path, *shown;
  char *text;
  gsize length;
  GStringChunk *strings;
  GPtrArray *rows; /* of NappeFileRow, in text */
  GArray *spans;   /* of theirs */
  NappeTextSpan list;
} OwnFile;

static void
own_file_clear (OwnFile *self)
{
  g_free (self->path);
  g_free (self->shown);
  g_free (self->text);
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  g_clear_pointer (&self->spans, g_array_unref);
  g_clear_pointer (&self->strings, g_string_chunk_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OwnFile, own_file_clear)

static gboolean
parse_file (OwnFile *self, GError **error)
{
  self->strings = g_string_chunk_new (1024);
  self->rows = g_ptr_array_new_with_free_func (nappe_file_row_free);
  if (!nappe_catalogue_text_read (self->text, self->length, self->shown, self->strings, self->rows, error))
    return FALSE;
  self->spans = nappe_row_spans (self->text, self->length, &self->list);
  return (self->spans != NULL && self->spans->len == self->rows->len)
         || fail (error, NAPPE_CATALOGUE_ERROR_FORMAT, self->path,
                  _("“items” is written in a way that this program does not change"));
}

/* What is at the end of symbolic links, so that it is the file that is replaced and not a link to it. */
static gboolean
read_file (OwnFile *self, const char *path, GError **error)
{
  char *real = realpath (path, NULL);

  self->path = g_strdup (real != NULL ? real : path);
  free (real);
  self->shown = g_filename_display_basename (self->path);
  if (g_access (self->path, F_OK) != 0)
    {
      self->text = g_strdup (EMPTY_FILE);
      self->length = strlen (self->text);
    }
  else if (g_access (self->path, W_OK) != 0)
    return fail (error, NAPPE_CATALOGUE_ERROR_READ, self->path, g_strerror (errno));
  else if (!nappe_catalogue_file_load (self->path, &self->text, &self->length, error))
    return FALSE;
  return parse_file (self, error);
}

/* Writes a text that has been found good. */
static gboolean
write_text (const OwnFile *self, const char *text, gsize length, GError **error)
{
  g_autoptr (GError) cause = NULL;
  GStatBuf status;
  int mode = g_stat (self->path, &status) == 0 ? (int) (status.st_mode & 0777) : 0666;

  if (g_file_set_contents_full (self->path, text, (gssize) length, G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE,
                                mode, &cause))
    return TRUE;
  return fail (error, NAPPE_CATALOGUE_ERROR_WRITE, self->path, cause->message);
}

/* ---- putting in ---- */

static char *
text_with_row (const OwnFile *self, const char *row)
{
  gboolean first = self->spans->len == 0;
  gsize at = first ? self->list.start : g_array_index (self->spans, NappeTextSpan, self->spans->len - 1).end;

  return g_strdup_printf ("%.*s%s\n    %s%s", (int) at, self->text, first ? "" : ",", row, self->text + at);
}

/* That the file as it would be reads back with all its rows and the new one, which nothing is wrong with. */
static gboolean
check_text (const OwnFile *self, const char *text, GError **error)
{
  g_autoptr (GStringChunk) strings = g_string_chunk_new (1024);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (nappe_file_row_free);
  const NappeFileRow *last;

  if (!nappe_catalogue_text_read (text, strlen (text), self->shown, strings, rows, error))
    return FALSE;
  g_return_val_if_fail (rows->len == self->rows->len + 1, FALSE);
  last = g_ptr_array_index (rows, rows->len - 1);
  if (last->problem == NULL)
    return TRUE;
  g_set_error_literal (error, NAPPE_CATALOGUE_ERROR, NAPPE_CATALOGUE_ERROR_RANGE, last->problem);
  return FALSE;
}

static char *
add_to_file (const char *path, const NappeCatalogue *catalogue, const NappeOwnPump *pump, GError **error)
{
  g_auto (OwnFile) file = { 0 };
  g_autofree char *id = NULL, *row = NULL, *text = NULL;

  if (!read_file (&file, path, error))
    return NULL;
  id = free_id (pump->name, catalogue, file.rows);
  row = row_text (pump, id);
  text = text_with_row (&file, row);
  if (!check_text (&file, text, error) || !write_text (&file, text, strlen (text), error))
    return NULL;
  return g_steal_pointer (&id);
}

char *
nappe_own_pump_add (const char *folder, const NappeCatalogue *catalogue, const NappeOwnPump *pump, GError **error)
{
  g_autofree char *path = g_build_filename (folder, NAPPE_OWN_PUMPS_FILE, NULL);
  const char *wrong = nappe_own_pump_check (pump);
  char *id;
  int held;

  if (wrong != NULL)
    {
      g_set_error_literal (error, NAPPE_CATALOGUE_ERROR, NAPPE_CATALOGUE_ERROR_FORMAT, wrong);
      return NULL;
    }
  if (g_mkdir_with_parents (folder, 0755) != 0)
    {
      fail (error, NAPPE_CATALOGUE_ERROR_WRITE, folder, g_strerror (errno));
      return NULL;
    }
  held = hold_folder (folder);
  id = add_to_file (path, catalogue, pump, error);
  if (held >= 0)
    close (held);
  return id;
}

/* ---- taking out ---- */

/* With the row goes one comma and the space on its side. */
static char *
text_without_row (const OwnFile *self, guint index)
{
  const NappeTextSpan *spans = (const NappeTextSpan *) (void *) self->spans->data;
  gsize from = index > 0 ? spans[index - 1].end : spans[index].start;
  gsize to = index > 0 || index + 1 == self->spans->len ? spans[index].end : spans[index + 1].start;

  return g_strdup_printf ("%.*s%s", (int) from, self->text, self->text + to);
}

static gboolean
remove_from_file (const NappeOwnPart *part, GError **error)
{
  g_auto (OwnFile) file = { 0 };
  g_autofree char *text = NULL;
  const NappeFileRow *row;

  if (!read_file (&file, part->path, error))
    return FALSE;
  row = part->index < file.rows->len ? g_ptr_array_index (file.rows, part->index) : NULL;
  if (row == NULL || row->line != part->line || !g_str_equal (row->id, part->id))
    return fail (error, NAPPE_CATALOGUE_ERROR_READ, part->path, _("the file has changed meanwhile; nothing was taken out"));
  text = text_without_row (&file, part->index);
  return write_text (&file, text, strlen (text), error);
}

gboolean
nappe_own_part_remove (const NappeOwnPart *part, GError **error)
{
  g_autofree char *folder = NULL;
  gboolean good;
  int held;

  g_return_val_if_fail (part->path != NULL && part->index != NAPPE_OWN_PART_FILE, FALSE);
  folder = g_path_get_dirname (part->path);
  held = hold_folder (folder);
  good = remove_from_file (part, error);
  if (held >= 0)
    close (held);
  return good;
}

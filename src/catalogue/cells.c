/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From bytes to the cells of a table. */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "catalogue/curve-table-private.h"

#define LINE_MAX_LENGTH 4000 /* [bytes] */
#define CELLS_MAX 64         /* in a line */
#define LINES_LOOKED_AT 50   /* for the separator */
#define BYTE_ORDER_MARK "\357\273\277"

gboolean
nappe_table_refuse (GError **error, NappeCatalogueError code, const char *name, guint line, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list arguments;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  if (line > 0)
    /* Translators: file, line, what is wrong. */
    g_set_error (error, NAPPE_CATALOGUE_ERROR, code, _("%s, line %u: %s"), name, line, message);
  else
    g_set_error (error, NAPPE_CATALOGUE_ERROR, code, "%s: %s", name, message);
  return FALSE;
}

/* Whether all characters are such as a table of numbers has. */
static gboolean
is_text (const char *text, gsize length)
{
  for (const char *at = text; at < text + length; at = g_utf8_next_char (at))
    if (g_unichar_iscntrl (g_utf8_get_char (at)) && strchr ("\t\r\n", *at) == NULL)
      return FALSE;
  return TRUE;
}

/* The text in UTF-8 without a byte-order mark. Transfer full. */
static char *
decode (const char *text, gsize length, const char *name, GError **error)
{
  g_autofree char *decoded = NULL;
  gsize size = 0;

  if (length > NAPPE_CURVE_TABLE_SIZE_MAX)
    {
      nappe_table_refuse (error, NAPPE_CATALOGUE_ERROR_READ, name, 0, _("the file is larger than 256 KiB; a curve needs less"));
      return NULL;
    }
  if (memchr (text, '\0', length) == NULL && g_utf8_validate (text, (gssize) length, NULL))
    {
      gsize mark = length >= 3 && memcmp (text, BYTE_ORDER_MARK, 3) == 0 ? 3 : 0;

      size = length - mark;
      decoded = g_strndup (text + mark, size);
    }
  else if (memchr (text, '\0', length) == NULL)
    decoded = g_convert (text, (gssize) length, "UTF-8", "ISO-8859-1", NULL, &size, NULL);
  if (decoded != NULL && is_text (decoded, size))
    return g_steal_pointer (&decoded);
  nappe_table_refuse (error, NAPPE_CATALOGUE_ERROR_FORMAT, name, 0,
                      _("this is no table of values; save it as comma-separated values (UTF-8)"));
  return NULL;
}

/* How often a character stands outside of quotes. */
static guint
count_outside (const char *line, char wanted)
{
  gboolean quoted = FALSE;
  guint n = 0;

  for (const char *at = line; *at != '\0'; at++)
    {
      if (*at == '"')
        quoted = !quoted;
      else if (!quoted && *at == wanted)
        n++;
    }
  return n;
}

static gboolean
is_left_out (const char *line)
{
  line += strspn (line, " \t,;");
  return *line == '\0' || *line == '#';
}

/* The first of semicolon, tab and comma that most lines have. */
static char
find_separator (char **lines)
{
  static const char separators[] = { ';', '\t', ',' };
  guint counts[G_N_ELEMENTS (separators)] = { 0 }, looked_at = 0;

  for (guint i = 0; lines[i] != NULL && looked_at < LINES_LOOKED_AT; i++)
    {
      if (is_left_out (lines[i]))
        continue;
      looked_at++;
      for (guint s = 0; s < G_N_ELEMENTS (separators); s++)
        counts[s] += count_outside (lines[i], separators[s]) > 0;
    }
  for (guint s = 0; s < G_N_ELEMENTS (separators); s++)
    if (counts[s] > 0 && 2 * counts[s] >= looked_at)
      return separators[s];
  return ',';
}

static gboolean
end_cell (GPtrArray *cells, GString *cell)
{
  if (cells->len == CELLS_MAX)
    return FALSE;
  g_ptr_array_add (cells, g_strdup (g_strstrip (cell->str)));
  g_string_truncate (cell, 0);
  return TRUE;
}

/* NULL: what is wrong with the line. */
static char **
split_line (const char *line, char separator, const char **wrong)
{
  g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GString) cell = g_string_new (NULL);
  gboolean quoted = FALSE;

  *wrong = _("too many columns");
  for (const char *at = line; *at != '\0'; at++)
    {
      if (*at == '"' && quoted && at[1] == '"')
        g_string_append_c (cell, *at++);
      else if (*at == '"')
        quoted = !quoted;
      else if (*at != separator || quoted)
        g_string_append_c (cell, *at);
      else if (!end_cell (cells, cell))
        return NULL;
    }
  if (quoted)
    {
      *wrong = _("a quotation is not closed in its line");
      return NULL;
    }
  if (!end_cell (cells, cell))
    return NULL;
  g_ptr_array_add (cells, NULL);
  return (char **) g_ptr_array_steal (cells, NULL);
}

static void
cell_line_free (gpointer data)
{
  NappeCellLine *line = data;

  g_strfreev (line->cells);
  g_free (line);
}

/* A heading may part its columns otherwise than the numbers do. */
static char
separator_of (const char *line, char separator)
{
  for (const char *other = ";\t,"; count_outside (line, separator) == 0 && *other != '\0'; other++)
    if (count_outside (line, *other) > 0)
      return *other;
  return separator;
}

static gboolean
add_line (GPtrArray *read, const char *text, char separator, const char *name, guint number, GError **error)
{
  NappeCellLine *line;
  const char *wrong = NULL;
  char **cells = NULL;

  if (strlen (text) > LINE_MAX_LENGTH)
    wrong = _("the line is too long");
  else
    cells = split_line (text, separator_of (text, separator), &wrong);
  if (cells == NULL)
    return nappe_table_refuse (error, NAPPE_CATALOGUE_ERROR_FORMAT, name, number, "%s", wrong);
  line = g_new0 (NappeCellLine, 1);
  line->cells = cells;
  line->n = g_strv_length (cells);
  line->line = number;
  g_ptr_array_add (read, line);
  return TRUE;
}

GPtrArray *
nappe_cells_read (const char *text, gsize length, const char *name, char *separator, GError **error)
{
  g_autoptr (GPtrArray) read = g_ptr_array_new_with_free_func (cell_line_free);
  g_autofree char *decoded = decode (text, length, name, error);
  g_autoptr (GString) plain = NULL;
  g_auto (GStrv) lines = NULL;

  if (decoded == NULL)
    return NULL;
  plain = g_string_new (decoded);
  g_string_replace (plain, "\r\n", "\n", 0);
  g_strdelimit (plain->str, "\r", '\n');
  lines = g_strsplit (plain->str, "\n", -1);
  *separator = find_separator (lines);
  for (guint i = 0; lines[i] != NULL; i++)
    if (!is_left_out (lines[i]) && !add_line (read, lines[i], *separator, name, i + 1, error))
      return NULL;
  return g_steal_pointer (&read);
}

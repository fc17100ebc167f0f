/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "published-rows.h"

#include <math.h>
#include <string.h>

enum {
  COLUMN_ID, COLUMN_TOPIC, COLUMN_INPUTS, COLUMN_EXPECTED,
  COLUMN_UNIT, COLUMN_TOLERANCE, COLUMN_SOURCE, COLUMN_STATUS,
  N_COLUMNS
};

void
published_row_free (gpointer data)
{
  PublishedRow *row = data;

  g_free (row->id);
  g_free (row->inputs);
  g_free (row->tolerance);
  g_free (row->source);
  g_free (row);
}

/* Fields of a line, quotes taken off (RFC 4180 without line breaks in a field). */
static GPtrArray *
split_line (const char *line)
{
  GPtrArray *fields = g_ptr_array_new_with_free_func (g_free);
  GString *field = g_string_new (NULL);
  gboolean quoted = FALSE;

  for (; *line != '\0'; line++)
    {
      if (quoted && line[0] == '"' && line[1] == '"')
        g_string_append_c (field, *line++);
      else if (*line == '"')
        quoted = !quoted;
      else if (*line == ',' && !quoted)
        {
          g_ptr_array_add (fields, g_string_free (field, FALSE));
          field = g_string_new (NULL);
        }
      else
        g_string_append_c (field, *line);
    }
  g_ptr_array_add (fields, g_string_free (field, FALSE));
  return fields;
}

static PublishedRow *
read_row (const char *line)
{
  g_autoptr (GPtrArray) fields = split_line (line);
  PublishedRow *row = g_new0 (PublishedRow, 1);
  char *end;

  g_assert_cmpuint (fields->len, ==, N_COLUMNS);
  row->id = g_strdup (fields->pdata[COLUMN_ID]);
  row->inputs = g_strdup (fields->pdata[COLUMN_INPUTS]);
  row->expected = g_ascii_strtod (fields->pdata[COLUMN_EXPECTED], &end);
  g_assert_true (*end == '\0');
  row->tolerance = g_strdup (fields->pdata[COLUMN_TOLERANCE]);
  row->source = g_strdup (fields->pdata[COLUMN_SOURCE]);
  return row;
}

GPtrArray *
published_rows_read (void)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func (published_row_free);
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "physics", "published-values.csv", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) lines = NULL;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  lines = g_strsplit (text, "\n", -1);
  for (gsize i = 1; lines[i] != NULL; i++)
    if (*lines[i] != '\0')
      g_ptr_array_add (rows, read_row (lines[i]));
  return rows;
}

double
published_row_input (const PublishedRow *row,
                     const char         *name)
{
  g_auto (GStrv) inputs = g_strsplit (row->inputs, ";", -1);
  gsize length = strlen (name);

  for (gsize i = 0; inputs[i] != NULL; i++)
    if (strncmp (inputs[i], name, length) == 0 && inputs[i][length] == '=')
      return g_ascii_strtod (inputs[i] + length + 1, NULL);
  g_error ("row %s has no input %s", row->id, name);
}

gboolean
published_row_agrees (const PublishedRow *row,
                      double              found)
{
  double tolerance = g_ascii_strtod (row->tolerance + 4, NULL);

  g_assert_cmpfloat (tolerance, >, 0.0);
  if (g_str_has_prefix (row->tolerance, "rel:"))
    tolerance *= fabs (row->expected);
  else
    g_assert_true (g_str_has_prefix (row->tolerance, "abs:"));
  return fabs (found - row->expected) <= tolerance;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/text-table.h"

#define GUTTER 3u

struct _NappeTextTable
{
  guint n_columns;
  gboolean *left;
  GPtrArray *cells; /* char *, row by row */
};

NappeTextTable *
nappe_text_table_new (guint n_columns)
{
  NappeTextTable *self = g_new0 (NappeTextTable, 1);

  g_return_val_if_fail (n_columns > 0, self);
  self->n_columns = n_columns;
  self->left = g_new0 (gboolean, n_columns);
  self->left[0] = TRUE;
  self->cells = g_ptr_array_new_with_free_func (g_free);
  return self;
}

void
nappe_text_table_free (NappeTextTable *self)
{
  g_clear_pointer (&self->cells, g_ptr_array_unref);
  g_free (self->left);
  g_free (self);
}

void
nappe_text_table_set_left (NappeTextTable *self, guint column)
{
  g_return_if_fail (column < self->n_columns);
  self->left[column] = TRUE;
}

void
nappe_text_table_add (NappeTextTable *self, const char *text)
{
  nappe_text_table_take (self, g_strdup (text != NULL ? text : ""));
}

void
nappe_text_table_take (NappeTextTable *self, char *text)
{
  g_ptr_array_add (self->cells, text);
}

/* Columns that a text takes on a terminal. */
static guint
text_width (const char *text)
{
  guint width = 0;

  for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c))
    {
      gunichar letter = g_utf8_get_char (c);

      if (!g_unichar_iszerowidth (letter))
        width += g_unichar_iswide (letter) ? 2 : 1;
    }
  return width;
}

static guint
column_width (const NappeTextTable *self, guint column)
{
  guint width = 0;

  for (guint i = column; i < self->cells->len; i += self->n_columns)
    width = MAX (width, text_width (g_ptr_array_index (self->cells, i)));
  return width;
}

static void
append_blanks (GString *to, guint n)
{
  for (guint i = 0; i < n; i++)
    g_string_append_c (to, ' ');
}

static void
end_line (GString *to)
{
  while (to->len > 0 && to->str[to->len - 1] == ' ')
    g_string_truncate (to, to->len - 1);
  g_string_append_c (to, '\n');
}

void
nappe_text_table_print (const NappeTextTable *self, guint indent, GString *to)
{
  g_autofree guint *widths = g_new0 (guint, self->n_columns);

  for (guint c = 0; c < self->n_columns; c++)
    widths[c] = column_width (self, c);
  for (guint i = 0; i < self->cells->len; i++)
    {
      const char *cell = g_ptr_array_index (self->cells, i);
      guint column = i % self->n_columns;
      guint pad = widths[column] - text_width (cell);

      append_blanks (to, column == 0 ? indent : GUTTER);
      append_blanks (to, self->left[column] ? 0 : pad);
      g_string_append (to, cell);
      append_blanks (to, self->left[column] ? pad : 0);
      if (column + 1 == self->n_columns)
        end_line (to);
    }
}

static void
wrap_line (const char *line, guint indent, guint width, GString *to)
{
  g_auto (GStrv) words = g_strsplit (line, " ", -1);
  guint used = indent;

  append_blanks (to, indent);
  for (guint i = 0; words[i] != NULL; i++)
    {
      guint wide = text_width (words[i]);

      if (used > indent && used + 1 + wide > width)
        {
          end_line (to);
          append_blanks (to, indent);
          used = indent;
        }
      else if (i > 0)
        {
          g_string_append_c (to, ' ');
          used++;
        }
      g_string_append (to, words[i]);
      used += wide;
    }
  end_line (to);
}

void
nappe_text_wrap (const char *text, guint indent, guint width, GString *to)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    if (*lines[i] != '\0' || lines[i + 1] != NULL)
      wrap_line (lines[i], indent, width, to);
}

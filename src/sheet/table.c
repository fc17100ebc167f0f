/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheet/table.h"

#include <string.h>

#define GAP 14.0        /* between columns [pt] */
#define ROUNDING 0.25   /* added to every column: Pango's rounding must not wrap a line that just fits [pt] */
#define PADDING 2.5     /* over and under a row's text [pt] */
#define HEAD_WIDTH 62.0  /* up to which a head widens its column; a longer one is wrapped [pt] */
#define ROWS_TOGETHER 3u /* that stay with the head; their texts are taken as one line each */
#define WIDEST_SHARE 0.5 /* of the table that one column's long texts may ask for */
#define WIDEST_WORD 90.0 /* a longer word may be broken rather than squeeze the other columns [pt] */

typedef struct
{
  char *head;
  gboolean figures;
  double natural, least; /* width without wrapping, width of the longest word [pt] */
  double x, width;
} Column;

struct _NappeTable
{
  guint n_columns;
  Column *columns;
  GPtrArray *cells;      /* char *, row by row */
  GHashTable *emphasised; /* row number + 1 */
  gboolean measured;
};

NappeTable *
nappe_table_new (const char *kinds, const char *const *heads)
{
  NappeTable *self = g_new0 (NappeTable, 1);

  self->n_columns = (guint) strlen (kinds);
  self->columns = g_new0 (Column, self->n_columns);
  for (guint i = 0; i < self->n_columns; i++)
    {
      self->columns[i].figures = kinds[i] == 'n';
      self->columns[i].head = g_strdup (heads[i]);
    }
  self->cells = g_ptr_array_new_with_free_func (g_free);
  self->emphasised = g_hash_table_new (g_direct_hash, g_direct_equal);
  return self;
}

void
nappe_table_free (NappeTable *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; i < self->n_columns; i++)
    g_free (self->columns[i].head);
  g_free (self->columns);
  g_ptr_array_unref (self->cells);
  g_hash_table_unref (self->emphasised);
  g_free (self);
}

void
nappe_table_take (NappeTable *self, char *text)
{
  g_ptr_array_add (self->cells, text);
}

void
nappe_table_add (NappeTable *self, const char *text)
{
  nappe_table_take (self, g_strdup (text != NULL ? text : ""));
}

guint
nappe_table_n_rows (const NappeTable *self)
{
  return (self->cells->len + self->n_columns - 1) / self->n_columns;
}

void
nappe_table_emphasise (NappeTable *self)
{
  g_hash_table_add (self->emphasised, GUINT_TO_POINTER (nappe_table_n_rows (self)));
}

static gboolean
is_emphasised (const NappeTable *self, guint row)
{
  return g_hash_table_contains (self->emphasised, GUINT_TO_POINTER (row + 1));
}

static const char *
cell (const NappeTable *self, guint row, guint column)
{
  guint index = row * self->n_columns + column;
  return index < self->cells->len ? g_ptr_array_index (self->cells, index) : "";
}

static double
longest_word (NappePages *pages, NappeLettering lettering, const char *text)
{
  return MIN (nappe_letters_longest_word (nappe_pages_letters (pages), lettering, text), WIDEST_WORD);
}

/* A figure is not broken; other texts are, between words. */
static void
measure_text (NappeTable *self, NappePages *pages, guint column, NappeLettering lettering, const char *text)
{
  Column *c = &self->columns[column];
  double natural = nappe_letters_width (nappe_pages_letters (pages), lettering, text);

  c->natural = MAX (c->natural, natural);
  if (natural > c->least)
    c->least = MAX (c->least, c->figures ? MIN (natural, WIDEST_WORD) : longest_word (pages, lettering, text));
}

static void
measure_head (NappeTable *self, NappePages *pages, guint column)
{
  Column *c = &self->columns[column];
  double natural = nappe_letters_width (nappe_pages_letters (pages), NAPPE_LETTERING_SOFT, c->head);

  c->least = longest_word (pages, NAPPE_LETTERING_SOFT, c->head);
  c->natural = MIN (natural, MAX (HEAD_WIDTH, c->least));
}

/* Width that a column would take if it could, but for one with a long text, which may wrap. */
static double
wished_width (const Column *column, double available)
{
  return MAX (column->least, MIN (column->natural, WIDEST_SHARE * available));
}

/* What is left over goes to columns that still wrap, then a little to all. */
static void
share_spare (NappeTable *self, double spare)
{
  for (guint i = 0; i < self->n_columns && spare > 0.0; i++)
    {
      double more = CLAMP (self->columns[i].natural - self->columns[i].width, 0.0, spare);
      self->columns[i].width += more;
      spare -= more;
    }
  for (guint i = 0; i < self->n_columns; i++)
    self->columns[i].width += CLAMP (spare / self->n_columns, 0.0, 40.0);
}

/* Every column gets its longest word, then the rest is shared out by how much more each would like. */
static void
share_width (NappeTable *self, double available)
{
  double least = 0.0, wish = 0.0, x = 0.0, factor;

  available -= GAP * (self->n_columns - 1) + ROUNDING * self->n_columns;
  for (guint i = 0; i < self->n_columns; i++)
    {
      least += self->columns[i].least;
      wish += wished_width (&self->columns[i], available) - self->columns[i].least;
    }
  factor = wish > 0.0 ? CLAMP ((available - least) / wish, 0.0, 1.0) : 0.0;
  for (guint i = 0; i < self->n_columns; i++)
    {
      Column *c = &self->columns[i];
      c->width = least > available ? c->least * available / least
                                   : c->least + factor * (wished_width (c, available) - c->least);
    }
  share_spare (self, available - least - wish);
  for (guint i = 0; i < self->n_columns; i++)
    {
      self->columns[i].width += ROUNDING;
      self->columns[i].x = x;
      x += self->columns[i].width + GAP;
    }
}

static void
measure (NappeTable *self, NappePages *pages)
{
  if (self->measured)
    return;
  for (guint column = 0; column < self->n_columns; column++)
    {
      measure_head (self, pages, column);
      for (guint row = 0; row < nappe_table_n_rows (self); row++)
        measure_text (self, pages, column, is_emphasised (self, row) ? NAPPE_LETTERING_STRONG : NAPPE_LETTERING_BODY,
                      cell (self, row, column));
    }
  share_width (self, nappe_pages_right (pages) - nappe_pages_left (pages));
  self->measured = TRUE;
}

/* Lines of the row's tallest cell. */
static int
row_lines (NappeTable *self, NappePages *pages, NappeLettering lettering, const char *const *texts,
           PangoLayout **layouts)
{
  int lines = 1;

  for (guint i = 0; i < self->n_columns; i++)
    {
      layouts[i] = nappe_letters_layout (nappe_pages_letters (pages), lettering, self->columns[i].width, 0, texts[i]);
      lines = MAX (lines, pango_layout_get_line_count (layouts[i]));
    }
  return lines;
}

static double
table_right (NappeTable *self, NappePages *pages)
{
  const Column *last = &self->columns[self->n_columns - 1];
  return nappe_pages_left (pages) + last->x + last->width;
}

/* Draws lines first .. last - 1 of all cells at the current place. */
static void
draw_row_part (NappeTable *self, NappePages *pages, NappeLettering lettering, PangoLayout **layouts, int first,
               int last)
{
  double y = nappe_pages_y (pages) + PADDING;

  for (guint i = 0; i < self->n_columns; i++)
    nappe_pages_draw_lines (pages, layouts[i], lettering, nappe_pages_left (pages) + self->columns[i].x, y, first,
                            last, self->columns[i].figures);
  nappe_pages_set_y (pages, y + (last - first) * nappe_lettering_line_height (lettering) + PADDING);
}

static double
draw_head (NappeTable *self, NappePages *pages, gboolean draw)
{
  g_autofree PangoLayout **layouts = g_new0 (PangoLayout *, self->n_columns);
  g_autofree const char **texts = g_new0 (const char *, self->n_columns);
  int lines;

  for (guint i = 0; i < self->n_columns; i++)
    texts[i] = self->columns[i].head;
  lines = row_lines (self, pages, NAPPE_LETTERING_SOFT, texts, layouts);
  if (draw)
    {
      draw_row_part (self, pages, NAPPE_LETTERING_SOFT, layouts, 0, lines);
      nappe_pages_rule (pages, nappe_pages_left (pages), nappe_pages_y (pages), table_right (self, pages),
                        nappe_pages_y (pages), 0.8, NAPPE_ROLE_INK);
    }
  return lines * nappe_lettering_line_height (NAPPE_LETTERING_SOFT) + 2.0 * PADDING;
}

/* A row stays together unless it is taller than a page: then it goes on under a repeated head. */
static void
draw_row (NappeTable *self, NappePages *pages, guint row)
{
  g_autofree PangoLayout **layouts = g_new0 (PangoLayout *, self->n_columns);
  g_autofree const char **texts = g_new0 (const char *, self->n_columns);
  gboolean heavy = is_emphasised (self, row);
  NappeLettering lettering = heavy ? NAPPE_LETTERING_STRONG : NAPPE_LETTERING_BODY;
  double step = nappe_lettering_line_height (lettering);
  int lines, first = 0;

  for (guint i = 0; i < self->n_columns; i++)
    texts[i] = cell (self, row, i);
  lines = row_lines (self, pages, lettering, texts, layouts);
  if (nappe_pages_y (pages) + lines * step + 2.0 * PADDING > nappe_pages_bottom (pages))
    {
      nappe_pages_begin (pages);
      draw_head (self, pages, TRUE);
    }
  while (first < lines)
    {
      int room = (int) ((nappe_pages_bottom (pages) - nappe_pages_y (pages) - 2.0 * PADDING) / step);
      int last = MIN (lines, first + MAX (room, 1));
      draw_row_part (self, pages, lettering, layouts, first, last);
      first = last;
      if (first < lines)
        {
          nappe_pages_begin (pages);
          draw_head (self, pages, TRUE);
        }
    }
  nappe_pages_rule (pages, nappe_pages_left (pages), nappe_pages_y (pages), table_right (self, pages),
                    nappe_pages_y (pages), 0.5, NAPPE_ROLE_HAIR);
}

double
nappe_table_first_height (NappeTable *self, NappePages *pages)
{
  measure (self, pages);
  guint rows = MIN (nappe_table_n_rows (self), ROWS_TOGETHER);
  return draw_head (self, pages, FALSE) + rows * (nappe_lettering_line_height (NAPPE_LETTERING_BODY) + 2.0 * PADDING);
}

void
nappe_table_draw (NappeTable *self, NappePages *pages)
{
  measure (self, pages);
  nappe_pages_need (pages, nappe_table_first_height (self, pages));
  draw_head (self, pages, TRUE);
  for (guint row = 0; row < nappe_table_n_rows (self); row++)
    draw_row (self, pages, row);
}

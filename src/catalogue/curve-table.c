/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/curve-table.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "catalogue/catalogue-private.h"
#include "catalogue/curve-heading.h"

#define HEADING_LINES_MAX 20u
#define COLUMNS_MAX 64 /* as many as cells.c lets a line have */

typedef struct
{
  const char *name;
  GPtrArray *lines; /* of NappeCellLine */
  char separator;
  guint first;      /* line of numbers */
  NappeCurveColumn columns[COLUMNS_MAX];
  guint n_columns;  /* 0: there is no heading */
  guint flow, head; /* columns */
  gboolean told;
  GError **error;
} Reader;

static gboolean
has_number (const NappeCellLine *line)
{
  for (guint i = 0; i < line->n; i++)
    if (nappe_cell_is_number (line->cells[i]))
      return TRUE;
  return FALSE;
}

/* How many cells of a line are not empty at its end. */
static guint
used_cells (const NappeCellLine *line)
{
  guint n = line->n;

  while (n > 0 && *line->cells[n - 1] == '\0')
    n--;
  return n;
}

static gboolean
read_heading (Reader *reader)
{
  for (; reader->first < reader->lines->len; reader->first++)
    {
      const NappeCellLine *line = g_ptr_array_index (reader->lines, reader->first);
      guint n;

      if (has_number (line))
        return TRUE;
      if (reader->first == HEADING_LINES_MAX)
        break;
      /* A line of one cell is a title: "pump of 3000 L/h" says nothing of the column below it. */
      n = used_cells (line);
      for (guint i = 0; i < n && n > 1; i++)
        nappe_curve_column_read (&reader->columns[i], line->cells[i]);
      if (n > 1)
        reader->n_columns = MAX (reader->n_columns, n);
    }
  return nappe_table_refuse (reader->error, NAPPE_CATALOGUE_ERROR_FORMAT, reader->name, 0,
                             _("there are no numbers; a column of flows and one of heads are wanted"));
}

static gboolean
refuse_columns (Reader *reader, guint n, int flow, int head)
{
  const NappeCellLine *line = g_ptr_array_index (reader->lines, reader->first);
  int pressure = nappe_curve_columns_find (reader->columns, reader->n_columns, NAPPE_QUANTITY_PRESSURE);

  if (head < 0 && pressure >= 0)
    return nappe_table_refuse (reader->error, NAPPE_CATALOGUE_ERROR_FORMAT, reader->name, line->line,
                               _("“%s” is a pressure; a head is wanted, such as m or ft of water"),
                               reader->columns[pressure].unit);
  if (n < 2)
    return nappe_table_refuse (reader->error, NAPPE_CATALOGUE_ERROR_FORMAT, reader->name, line->line,
                               _("there is one column; flows and heads are wanted, parted by commas, semicolons or tabs"));
  return nappe_table_refuse (reader->error, NAPPE_CATALOGUE_ERROR_FORMAT, reader->name, line->line,
                             _("there are %u columns, and no heading tells which are flow and head"), n);
}

/* Of two columns one tells what the other is; of more both must be told. */
static gboolean
choose_columns (Reader *reader)
{
  const NappeCellLine *line = g_ptr_array_index (reader->lines, reader->first);
  guint n = MAX (used_cells (line), reader->n_columns);
  int flow = nappe_curve_columns_find (reader->columns, reader->n_columns, NAPPE_QUANTITY_FLOW);
  int head = nappe_curve_columns_find (reader->columns, reader->n_columns, NAPPE_QUANTITY_HEAD);
  int pressure = nappe_curve_columns_find (reader->columns, reader->n_columns, NAPPE_QUANTITY_PRESSURE);

  reader->told = flow >= 0 || head >= 0;
  if ((flow < 0 || head < 0) && (n != 2 || pressure >= 0))
    return refuse_columns (reader, n, flow, head);
  if (!reader->told)
    flow = 0;
  reader->flow = (guint) (flow >= 0 ? flow : 1 - head);
  reader->head = (guint) (head >= 0 ? head : 1 - flow);
  return TRUE;
}

/* The cells of flow and head of all lines, one after the other; lines: (out) of each pair. */
static gboolean
gather_cells (Reader *reader, GPtrArray *cells, GPtrArray *lines)
{
  for (guint i = reader->first; i < reader->lines->len; i++)
    {
      const NappeCellLine *line = g_ptr_array_index (reader->lines, i);
      guint n = used_cells (line);

      if (n <= MAX (reader->flow, reader->head))
        return nappe_table_refuse (reader->error, NAPPE_CATALOGUE_ERROR_FORMAT, reader->name, line->line,
                                   _("a flow and a head are wanted"));
      if (n > MAX (2, reader->n_columns) && (reader->separator == ',' || reader->n_columns == 0))
        return nappe_table_refuse (reader->error, NAPPE_CATALOGUE_ERROR_FORMAT, reader->name, line->line,
                                   _("there are more values than columns; with decimal commas part columns by semicolons"));
      if (lines->len == NAPPE_CURVE_TABLE_ROWS_MAX)
        return nappe_table_refuse (reader->error, NAPPE_CATALOGUE_ERROR_FORMAT, reader->name, line->line,
                                   _("there are more than %d rows"), NAPPE_CURVE_TABLE_ROWS_MAX);
      g_ptr_array_add (cells, line->cells[reader->flow]);
      g_ptr_array_add (cells, line->cells[reader->head]);
      g_ptr_array_add (lines, (gpointer) line);
    }
  if (lines->len >= 2)
    return TRUE;
  return nappe_table_refuse (reader->error, NAPPE_CATALOGUE_ERROR_FORMAT, reader->name,
                             ((const NappeCellLine *) lines->pdata[0])->line,
                             _("one point makes no curve; at least two are wanted"));
}

static gboolean
read_number (Reader *reader, const NappeCellLine *line, const char *cell, const NappeNumberSigns *signs, double *number)
{
  const char *wrong = nappe_cell_number (cell, signs, number);
  g_autofree char *shown = wrong != NULL ? nappe_catalogue_short_text (cell) : NULL;

  return wrong == NULL
         /* Translators: what stands in a table, and what is wrong with it: “abc”: not a number */
         || nappe_table_refuse (reader->error, NAPPE_CATALOGUE_ERROR_FORMAT, reader->name, line->line, _("“%s”: %s"),
                                shown, wrong);
}

static int
by_flow (gconstpointer a, gconstpointer b, gpointer user_data)
{
  const NappeCurveRow *one = a, *other = b;

  return (one->flow > other->flow) - (one->flow < other->flow);
}

static void
sort_rows (NappeCurveTable *table)
{
  g_qsort_with_data (table->rows, (int) table->n, sizeof (NappeCurveRow), by_flow, NULL);
}

static gboolean
read_numbers (Reader *reader, NappeCurveTable *table)
{
  g_autoptr (GPtrArray) cells = g_ptr_array_new (), lines = g_ptr_array_new ();
  NappeNumberSigns signs;
  guint blamed;

  if (!gather_cells (reader, cells, lines))
    return FALSE;
  if (!nappe_cells_find_signs (cells, &signs, &blamed))
    {
      const NappeCellLine *line = g_ptr_array_index (lines, blamed / 2);
      g_autofree char *shown = nappe_catalogue_short_text (g_ptr_array_index (cells, blamed));

      return nappe_table_refuse (reader->error, NAPPE_CATALOGUE_ERROR_FORMAT, reader->name, line->line,
                                 _("“%s” can be read in two ways; write the thousands without a sign between them"), shown);
    }
  table->n = lines->len;
  table->rows = g_new0 (NappeCurveRow, table->n);
  for (guint i = 0; i < table->n; i++)
    {
      NappeCurveRow *row = &table->rows[i];
      const NappeCellLine *line = g_ptr_array_index (lines, i);

      row->line = line->line;
      if (!read_number (reader, line, g_ptr_array_index (cells, 2 * i), &signs, &row->flow)
          || !read_number (reader, line, g_ptr_array_index (cells, 2 * i + 1), &signs, &row->head))
        return FALSE;
    }
  sort_rows (table);
  return TRUE;
}

/* The unit of a column, where its heading has one of the quantity. */
static char *
unit_of (const Reader *reader, guint column, NappeQuantity quantity)
{
  const NappeCurveColumn *found = &reader->columns[column];

  return found->unit != NULL && found->unit_of == quantity ? g_strdup (found->unit) : NULL;
}

NappeCurveTable *
nappe_curve_table_read (const char *text, gsize length, const char *name, GError **error)
{
  g_autoptr (NappeCurveTable) table = g_new0 (NappeCurveTable, 1);
  g_autofree Reader *reader = g_new0 (Reader, 1);
  gboolean good;

  reader->name = name;
  reader->error = error;
  reader->lines = nappe_cells_read (text, length, name, &reader->separator, error);
  if (reader->lines == NULL)
    return NULL;
  good = read_heading (reader) && choose_columns (reader) && read_numbers (reader, table);
  if (good)
    {
      table->name = g_strdup (name);
      table->told = reader->told;
      table->flow_unit = unit_of (reader, reader->flow, NAPPE_QUANTITY_FLOW);
      table->head_unit = unit_of (reader, reader->head, NAPPE_QUANTITY_HEAD);
    }
  nappe_curve_columns_clear (reader->columns, COLUMNS_MAX);
  g_ptr_array_unref (reader->lines);
  return good ? g_steal_pointer (&table) : NULL;
}

NappeCurveTable *
nappe_curve_table_load (const char *path, GError **error)
{
  g_autofree char *name = g_filename_display_basename (path), *text = NULL;
  g_autoptr (GError) cause = NULL;
  GStatBuf status;
  gsize length;

  if (g_stat (path, &status) == 0 && !S_ISREG (status.st_mode))
    nappe_table_refuse (error, NAPPE_CATALOGUE_ERROR_READ, name, 0, _("this is not a plain file"));
  else if (g_stat (path, &status) == 0 && status.st_size > NAPPE_CURVE_TABLE_SIZE_MAX)
    nappe_table_refuse (error, NAPPE_CATALOGUE_ERROR_READ, name, 0, _("the file is larger than 256 KiB; a curve needs less"));
  else if (!g_file_get_contents (path, &text, &length, &cause))
    nappe_table_refuse (error, NAPPE_CATALOGUE_ERROR_READ, name, 0, "%s", cause->message);
  else
    return nappe_curve_table_read (text, length, name, error);
  return NULL;
}

void
nappe_curve_table_swap (NappeCurveTable *self)
{
  char *unit = self->flow_unit;

  self->flow_unit = self->head_unit;
  self->head_unit = unit;
  for (guint i = 0; i < self->n; i++)
    {
      double flow = self->rows[i].flow;

      self->rows[i].flow = self->rows[i].head;
      self->rows[i].head = flow;
    }
  sort_rows (self);
}

void
nappe_curve_table_free (NappeCurveTable *self)
{
  g_free (self->name);
  g_free (self->rows);
  g_free (self->flow_unit);
  g_free (self->head_unit);
  g_free (self);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files that read a table of a curve share. */
#pragma once

#include "catalogue/curve-table.h"

G_BEGIN_DECLS

/* The cells of a text, line by line: blank lines, and those that begin with "#", are left out. */
typedef struct
{
  char **cells; /* trimmed and without quotes; NULL at the end */
  guint n;
  guint line;   /* from 1 */
} NappeCellLine;

/* of NappeCellLine; separator: (out) ',', ';' or tab. NULL with an error in NAPPE_CATALOGUE_ERROR. Transfer full. */
GPtrArray *nappe_cells_read (const char *text, gsize length, const char *name, char *separator, GError **error);

/* How numbers are written in a text. */
typedef struct
{
  char decimal;  /* '.' or ',' */
  char grouping; /* the other one where it parts thousands, else 0 */
} NappeNumberSigns;

/* Whether a cell begins like a number. */
gboolean nappe_cell_is_number (const char *cell);
/* Finds out from all cells (of char *) how numbers are written. FALSE, with the index of a cell to blame: it can be read in
 * two ways. */
gboolean nappe_cells_find_signs (const GPtrArray *cells, NappeNumberSigns *signs, guint *blamed);
/* NULL: fine; else what is wrong, translated and static. */
const char *nappe_cell_number (const char *cell, const NappeNumberSigns *signs, double *number);

/* Sets an error that names file and line. Always FALSE. */
gboolean nappe_table_refuse (GError **error, NappeCatalogueError code, const char *name, guint line, const char *format, ...)
    G_GNUC_PRINTF (5, 6);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pump's curve out of a table that somebody else wrote: a text of comma-, semicolon- or tab-separated values with a column of
 * flows and one of heads, such as "flow l/h, head m".
 *
 * Taken are UTF-8 with or without byte-order mark and ISO 8859-1, any line ends, quotes, further columns, lines that begin with
 * "#", headings with words and units in up to 20 lines, decimal points, and decimal commas where no comma separates columns. The
 * lines may stand in any order. What can be read in two ways is refused, and so is whatever else a text may hold: every error
 * names the line. The time is linear in the size of the text, which is limited. */
#pragma once

#include "catalogue/catalogue.h"
#include "physics/pump-curve.h"

G_BEGIN_DECLS

#define NAPPE_CURVE_TABLE_SIZE_MAX (256 * 1024) /* [bytes] */
#define NAPPE_CURVE_TABLE_ROWS_MAX 1000

typedef struct
{
  double flow, head; /* as written, in the units of their columns */
  guint line;
} NappeCurveRow;

typedef struct
{
  char *name;        /* of the file, for messages */
  guint n;           /* rows, at least 2 */
  NappeCurveRow *rows; /* with rising flow as far as the text allows */
  gboolean told;     /* the heading tells which column is which */
  char *flow_unit, *head_unit; /* as the heading gives them, one of the lists below where it is the same; NULL: not given */
} NappeCurveTable;

/* Units to choose from, NULL at the end; nappe_curve_table_fit() takes any other that the units room knows, too. */
extern const char *const nappe_curve_flow_units[];
extern const char *const nappe_curve_head_units[];

/* name: shown in messages. Where no heading tells the columns apart the first is the flow. NULL with an error in
 * NAPPE_CATALOGUE_ERROR. Transfer full. */
NappeCurveTable *nappe_curve_table_read (const char *text, gsize length, const char *name, GError **error);
/* The same from a file: a plain one, never a device or a pipe. */
NappeCurveTable *nappe_curve_table_load (const char *path, GError **error);
/* Takes the column of flows for that of heads, and the other way round. */
void nappe_curve_table_swap (NappeCurveTable *self);
void nappe_curve_table_free (NappeCurveTable *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeCurveTable, nappe_curve_table_free)

/* A curve of at most NAPPE_PUMP_CURVE_MAX points of a table. */
typedef struct
{
  NappePumpCurve curve; /* SI, its points on values that a file holds exactly */
  guint left_out;       /* rows that are not points of it */
  double departure;     /* of the row that is furthest from it [m] */
} NappeCurveFit;

/* Takes the rows in the given units for a pump's curve. Of more rows than a curve holds points those are chosen that keep the
 * curve close to all others: first both ends, then again and again the row that departs most. FALSE with an error in
 * NAPPE_CATALOGUE_ERROR that names the line: a unit is not known, flows or heads are negative, beyond what any pump gives,
 * or not falling. */
gboolean nappe_curve_table_fit (const NappeCurveTable *self, const char *flow_unit, const char *head_unit, NappeCurveFit *fit,
                                GError **error);

/* Row `index` in SI. FALSE: a unit is not known. */
gboolean nappe_curve_table_row (const NappeCurveTable *self, guint index, const char *flow_unit, const char *head_unit,
                                double *flow, double *head, GError **error);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

/* One row of published-values.csv. */
typedef struct {
  char  *id;
  char  *inputs;    /* "name=number;name=number", unit in the name where it is not SI */
  double expected;  /* in the row's unit, which the law's test gives too */
  char  *tolerance; /* "rel:0.001" or "abs:0.5" */
  char  *source;
} PublishedRow;

void published_row_free (gpointer row);

/* Rows of tests/physics/published-values.csv (element-type PublishedRow) (transfer full). */
GPtrArray *published_rows_read (void);

/* Input of that name; a test error when the row has none. */
double published_row_input (const PublishedRow *row,
                            const char         *name);

gboolean published_row_agrees (const PublishedRow *row,
                               double              found);

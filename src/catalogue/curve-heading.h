/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the heading of a table says about its columns; for the files that read a table of a curve. */
#pragma once

#include "catalogue/curve-table-private.h"

G_BEGIN_DECLS

typedef struct
{
  char *unit;            /* NULL: none is given */
  NappeQuantity unit_of; /* flow, head or, to be refused, pressure */
  gboolean says_flow, says_head;
} NappeCurveColumn;

/* Adds what a cell of a heading says; a unit takes the place of one further up. */
void nappe_curve_column_read (NappeCurveColumn *column, const char *cell);
/* The first column that is of a quantity for certain, or -1. */
int nappe_curve_columns_find (const NappeCurveColumn *columns, guint n, NappeQuantity quantity);
void nappe_curve_columns_clear (NappeCurveColumn *columns, guint n);

G_END_DECLS

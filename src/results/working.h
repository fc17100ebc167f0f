/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A working: how a number was reached. The same for every number and every finding. */
#pragma once

#include "units/quantity.h"

G_BEGIN_DECLS

/* One line of it: a named quantity that went in. */
typedef struct
{
  char *symbol;           /* "h", "Q" as used in the formula; "" when it stands for itself */
  char *label;            /* translated: "level in the box" */
  double value;           /* SI */
  NappeQuantity quantity;
} NappeWorkingInput;

typedef struct
{
  char *formula;          /* "31.4 L − 22.0 L", or "V/√(gD)", translated where it has words; "" for none */
  GArray *inputs;         /* NappeWorkingInput */
} NappeWorking;

/* An empty one; to be cleared. */
void nappe_working_init (NappeWorking *self);
void nappe_working_clear (NappeWorking *self);

void nappe_working_set_formula (NappeWorking *self, const char *formula);
/* symbol may be "". What is not finite is not known, or does not exist: it is no input. value in SI. */
void nappe_working_add (NappeWorking *self, const char *symbol, const char *label, double value, NappeQuantity quantity);

/* The formula, then a line for each input: "h, level in the box: 12 mm". Transfer full; "" for an empty one. */
char *nappe_working_text (const NappeWorking *self, NappeUnitSystem units);

/* Significant digits that the laws allow a number [SI] at best: 3 for flows, 2 for plain numbers ...; 0: its quantity's
 * usual resolution. */
int nappe_rounded_digits (NappeQuantity quantity, double value, NappeUnitSystem units);
/* A number in these digits: flows in three, lengths in whole mm, plain numbers in two,
 * volumes to 0.1 L below 100 L. For numbers in sentences and workings, which carry no band of their own. value in SI.
 * Transfer full. */
char *nappe_rounded_text (NappeQuantity quantity, double value, NappeUnitSystem units);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "units/quantity.h"

G_BEGIN_DECLS

/* Private to this room: the one table of units and conversion factors. */

/* SI = (number + offset) * numerator / divisor. Numerator and divisor are kept apart because 1/1000 is not a double,
 * and x / 1000 is correctly rounded where x * 0.001 is not. */
typedef struct {
  NappeQuantity quantity;  /* LENGTH also serves HEAD */
  const char   *symbol;    /* as shown, with its superscript */
  const char   *spellings; /* as typed: lower case, compatibility-normalised, between '|' */
  double        numerator;
  double        divisor;
  double        offset;
} NappeUnit;

typedef struct {
  const char      *file_suffix;
  const NappeUnit *file_unit;
  const NappeUnit *display[2];     /* by NappeUnitSystem */
  int              decimals[2];    /* shown by default, by NappeUnitSystem; -1: by significant */
  int              significant;    /* digits shown by default */
  const char      *noun;           /* untranslated, with its article: "a length" */
  const char      *example;        /* untranslated: "300 mm or 12 in" */
} NappeQuantityTraits;

/* Critical message and the plain number's traits for a value that is no quantity. */
const NappeQuantityTraits *nappe_quantity_traits (NappeQuantity quantity);

double nappe_unit_to_si (const NappeUnit *unit,
                         double           number);
double nappe_unit_from_si (const NappeUnit *unit,
                           double           si);

/* The unit whose spelling text starts with, the longest that ends at a word's end; NULL if none.
 * text: lower case, normalised. length: (out) bytes of the spelling. */
const NappeUnit *nappe_unit_find (const char *text,
                                  gsize      *length);

/* Whether a number in unit can be meant as quantity. */
gboolean nappe_unit_measures (const NappeUnit *unit,
                              NappeQuantity    quantity);

G_END_DECLS

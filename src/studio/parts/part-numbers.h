/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was computed about one part, as lines for people. Needs no display. */
#pragma once

#include "studio/document/outcome.h"

G_BEGIN_DECLS

typedef struct
{
  const char *key; /* of the result (results/result.h), static */
  char *label;     /* translated: "Water level" */
  char *value;     /* with its unit and, where it is known, its band, in the outcome's units: "2 990 L/h (2 750–3 190)" */
  char *working;   /* law, formula, inputs, source and where the band is from, a line each */
} NappePartNumber;

/* part: its id. Lines that make no sense for the part, or whose number is unknown, are left out.
 * An unknown part counts as the whole build. Transfer full: NappePartNumber, freed with the array; empty when there is
 * nothing to say. */
GPtrArray *nappe_part_numbers (const NappeOutcome *outcome, const char *part);

G_END_DECLS

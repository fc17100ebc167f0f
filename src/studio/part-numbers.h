/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was computed about one part, as lines for people. Needs no display. */
#pragma once

#include "studio/outcome.h"

G_BEGIN_DECLS

typedef struct
{
  char *label; /* translated: "Water level" */
  char *value; /* with its unit, in the outcome's units */
} NappePartNumber;

/* part: its id. Lines that make no sense for the part, or whose number is unknown, are left out.
 * Transfer full: NappePartNumber, freed with the array; empty when there is nothing to say. */
GPtrArray *nappe_part_numbers (const NappeOutcome *outcome, const char *part);

G_END_DECLS

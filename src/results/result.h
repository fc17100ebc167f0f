/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A result: one number that is known of a part, with its working; and the list of all of a part.
 *
 * Digits. A number is shown down to the last place that its band's half-width is worth: to the second digit of a
 * half-width that begins with 100..354, to the first of one that begins with 355..949, and 950..999 counts as 1000
 * (Particle Data Group, Review of Particle Physics, introduction, on rounding); and in three digits at most; lengths
 * never finer than the usual whole mm above one mm, since a level is measured from an arbitrary zero. 2990 L/h within
 * 275 is "2 990", within 1500 "3 000". Without a band the usual resolution of the quantity holds.
 *
 * Bands are by sampling where the spread was computed, and by first order from the law's own uncertainty where the
 * result is one law's value and not a sampled one (NappeBandMethod). */
#pragma once

#include "build/build.h"
#include "results/laws.h"
#include "results/working.h"
#include "study/heat.h"
#include "study/loads.h"
#include "study/spread.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_BAND_NONE,        /* not known, or the number is exact */
  NAPPE_BAND_SAMPLED,     /* 5 and 95 in a hundred samples lie below and above; also what follows from it in proportion */
  NAPPE_BAND_FIRST_ORDER, /* the law's uncertainty alone */
} NappeBandMethod;

typedef struct
{
  const char *key;         /* stable, for JSON: "capacity_full"; unique within a part but for lines of a head ledger */
  char *label;             /* translated: "Full bore carries at most" */
  NappeQuantity quantity;
  double value;            /* SI; NaN: not known, or a word stands instead; INFINITY: without bound */
  NappeBand band;          /* SI; NaN: none */
  NappeBandMethod method;
  int digits;              /* significant digits that the band allows, 1..3 (lengths 1..6); 0: the usual resolution */
  const char *word;        /* translated and static, instead of a number: "full bore"; NULL: a number */
  const NappeLaw *law;     /* static */
  NappeWorking working;    /* its formula is the law's, translated */
} NappeResult;

/* Whether there is anything to show: a word, or a number (an infinite one counts). */
gboolean nappe_result_is_known (const NappeResult *self);
/* "2 990 L/h", in the digits that the band allows; the word; "—" for an unknown number. Transfer full. */
char *nappe_result_value_text (const NappeResult *self, NappeUnitSystem units);
/* "2 700–3 250", without a unit, down to the same place; NULL without a band. Transfer full. */
char *nappe_result_band_text (const NappeResult *self, NappeUnitSystem units);
/* Both: "2 990 L/h (2 700–3 250)". Transfer full. */
char *nappe_result_text (const NappeResult *self, NappeUnitSystem units);
/* Law, formula, inputs, source and where the band comes from, a line each. Transfer full. */
char *nappe_result_working_text (const NappeResult *self, NappeUnitSystem units);

/* What results are taken from. All but the first two may be NULL: then their numbers are left out. */
typedef struct
{
  NappeBuild *build;
  const NappeStudy *study; /* of the build */
  const NappeSpread *spread;
  const NappeHeat *heat;
  const NappeLoads *loads;
} NappeResultSources;

/* Everything of one part in the order that people read it in; those that make sense for its kind, though their value
 * may not be known. part: its id; "" for the whole build; the id of an overflow's inner box (network.h).
 * Transfer full: NappeResult, freed with the array; empty for an unknown id. */
GPtrArray *nappe_results_of_part (const NappeResultSources *sources, const char *part);
/* The one with a key, or NULL. */
const NappeResult *nappe_results_find (const GPtrArray *results, const char *key);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A build file with all that was computed about it: what every subcommand begins with. */
#pragma once

#include "command/command.h"
#include "results/result.h"
#include "rules/rules.h"

G_BEGIN_DECLS

typedef struct
{
  NappeCatalogue *catalogue;
  NappeBuild *build;
  NappeLayout *layout;
  NappeStudy *study;
  NappeVerdict *verdict;
  NappeHeat *heat;       /* these three: NULL until nappe_case_add_results */
  NappeLoads *loads;
  NappeSpread *spread;   /* NULL as well when there is no steady state */
  NappeUnitSystem units; /* that texts and numbers for people use */
  char *name;            /* of the file without its folder; "standard input" in words for "-" */
} NappeCase;

/* Reads and computes. Complains about what is wrong with the user's own catalogue and goes on.
 *  path   of the file; "-" is standard input
 *  units  asked for; when not given, those the build's author thinks in
 * Transfer full; NULL after a complaint when the file or the catalogue cannot be read. */
NappeCase *nappe_case_open (const char *path, const NappeUnitsOption *units);
void nappe_case_free (NappeCase *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeCase, nappe_case_free)

/* Computes besides what only reports want: heat, loads and the bands of all numbers. */
void nappe_case_add_results (NappeCase *self);
/* Plays what the rules look at in time, and runs them again with it. */
void nappe_case_play (NappeCase *self);
/* Computes and judges the build anew after it was changed; in_time: as nappe_case_play does. Other results are dropped. */
void nappe_case_judge_again (NappeCase *self, gboolean in_time);
/* Everything of one part (results/result.h). Transfer full. */
GPtrArray *nappe_case_results (const NappeCase *self, const char *part);
/* What people call a vessel, drain or pump with an id: also the inner box of an overflow. Transfer full. */
char *nappe_case_name (const NappeCase *self, const char *id);

/* The exit status that the worst finding asks for. */
NappeExit nappe_case_exit (const NappeCase *self);

/* A number in the units of the case. Transfer full. */
char *nappe_case_number (const NappeCase *self, NappeQuantity quantity, double si);

G_END_DECLS

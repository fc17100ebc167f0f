/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A build file with all that was computed about it: what every subcommand begins with. */
#pragma once

#include "command/command.h"
#include "rules/rules.h"

G_BEGIN_DECLS

typedef struct
{
  NappeCatalogue *catalogue;
  NappeBuild *build;
  NappeLayout *layout;
  NappeStudy *study;
  NappeVerdict *verdict;
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

/* The exit status that the worst finding asks for. */
NappeExit nappe_case_exit (const NappeCase *self);

/* A number in the units of the case. Transfer full. */
char *nappe_case_number (const NappeCase *self, NappeQuantity quantity, double si);

G_END_DECLS

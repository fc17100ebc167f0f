/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The power cuts that a study has, and words for what runs down in them: the same in charts and papers. */
#pragma once

#include "build/build.h"
#include "study/study.h"

G_BEGIN_DECLS

typedef struct
{
  const char *head;         /* translated: "check valve failed" */
  const NappePowerCut *cut; /* of the study; may be not known */
} NappeCutCase;

#define NAPPE_CUT_CASES_MOST 3u
/* The design case first. Without a check valve there is none that could hold. Returns how many there are. */
guint nappe_cut_cases (const NappeStudy *study, NappeCutCase cases[NAPPE_CUT_CASES_MOST]);

/* All that came from the source of a ledger's line: a line of several pipes has an entry for each [m3]. NaN: not known. */
double nappe_cut_volume (const NappePowerCut *cut, const NappeLedgerLine *source);
/* Whether the source of a line came up before: in an earlier case, or earlier in this one. */
gboolean nappe_cut_was_listed (const NappeCutCase *cases, guint index, guint line);
/* "Display", "pipes of Return", "taken up by Skimmer chamber". Transfer full. */
char *nappe_cut_source_words (NappeBuild *build, const NappeLedgerLine *source);

G_END_DECLS

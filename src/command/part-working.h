/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `nappe check --working PART` says: every number of one part with its law, formula, inputs, source and band. */
#pragma once

#include "command/case.h"

G_BEGIN_DECLS

/* The word that stands for the whole build. */
#define NAPPE_WHOLE_BUILD "build"

/* The id that a word names: of a part, of the inner box of an overflow, "" for the whole build; NULL: none. */
const char *nappe_part_working_id (const NappeCase *self, const char *word);

/* Transfer full. */
char *nappe_part_working_text (const NappeCase *self, const char *part);
char *nappe_part_working_json (const NappeCase *self, const char *part);

G_END_DECLS

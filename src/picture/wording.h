/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words for what a study and a build say in numbers, the same in pictures and papers.
 * All texts are translated and static unless said otherwise. */
#pragma once

#include "build/build.h"
#include "study/study.h"

G_BEGIN_DECLS

/* "dry", "quiet", "full bore": how a drain runs. */
const char *nappe_wording_drain_state (NappeDrainState state);

/* Why there is no running state to show, one or two sentences; NULL when there is one. */
const char *nappe_wording_rest (NappeRest rest);

/* Whether a line has a check valve that may hold or fail in a power cut. */
gboolean nappe_wording_has_check_valve (const NappeNetwork *network);

/* The label of a part's choice, "Siphon"; "" when the part has no such field or the value is unknown. */
const char *nappe_wording_choice (NappePart *part, const char *field);

/* What people call a vessel of the network: its part's name, of an inner box with its overflow's. Transfer full. */
char *nappe_wording_vessel (NappeBuild *build, const NappeNode *node);

/* What people call the part with an id; "the whole build" for "", the id itself when nobody has it. */
const char *nappe_wording_part (NappeBuild *build, const char *id);

G_END_DECLS

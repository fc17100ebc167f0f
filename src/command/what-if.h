/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The two forms of what `nappe what-if` says. */
#pragma once

#include "command/case.h"
#include "study/scenario.h"

G_BEGIN_DECLS

/* changes: n of them, as they were asked for (NappeScenarioChange), that the scenario was made with. Transfer full. */
char *nappe_what_if_text (const NappeCase *self, const NappeScenario *scenario, const GArray *changes);
char *nappe_what_if_json (const NappeCase *self, const NappeScenario *scenario, const GArray *changes);

/* A change as people put it: wear as the share that it has taken, all others as they are. [share] */
double nappe_what_if_share (const NappeScenarioChange *change);

G_END_DECLS

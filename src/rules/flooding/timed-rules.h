/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the rules share that look at courses of the time simulation. */
#pragma once

#include "rules/rule-context.h"

G_BEGIN_DECLS

/* Id of the case in which the power comes back (study/plans.c). */
#define NAPPE_RULE_RESTART "restart"

/* When the last thing of a case happens [s]. */
double nappe_rule_happens_at (const NappeSimulation *course);
/* Whether a course tells anything: adds the finding that says why not. What was not followed to its end may yet flood. */
gboolean nappe_rule_is_played (NappeRuleContext *context, const NappeSimulation *course, const char *part);
/* Whether there is a running, dry system to begin with; if not, adds the finding that says so. */
gboolean nappe_rule_can_begin (NappeRuleContext *context);

G_END_DECLS

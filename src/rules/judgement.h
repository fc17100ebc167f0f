/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What people decided about the rules of one build, put on what the rules found; for the engine alone. */
#pragma once

#include "rules/rule-context.h"

G_BEGIN_DECLS

/* After the running rule: its findings, those from the two places on, take the weight that the build gives the rule and
 * tell which changed limits it looked at. */
void nappe_judge_rule (NappeRuleContext *context, guint first_finding, guint first_fine);

/* After all rules: answered findings other than dangers go from the findings to the answered ones; a danger keeps its
 * place and bears its answer, and so does a finding that has become worse since. */
void nappe_judge_answers (NappeRuleContext *context);

G_END_DECLS

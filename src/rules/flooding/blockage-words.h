/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of a way down that is blocked, whichever it is. */
#pragma once

#include "rules/rule-context.h"

G_BEGIN_DECLS

/* How bad a flood is goes by how many things must fail at once before it: one is a danger, two a problem, more only advice. */
NappeSeverity nappe_severity_of_faults (guint faults);
/* What floods, when, and how much, with its working. what: a sentence's start, "With “Main siphon” blocked,". */
void nappe_say_blockage_flood (NappeRuleContext *context, NappeFinding *finding, const NappeBlockage *blockage,
                               const char *what);
/* How the display stands, against the planner's freeboard; of more than one drain blocked against the rim. Returns the
 * finding when there is one, still without a cure; NULL: all is fine, and that is said. title: translated. */
NappeFinding *nappe_report_blockage_held (NappeRuleContext *context, const NappeBlockage *blockage, const char *part,
                                          const char *what, const char *title);
/* The solver gave up: said aloud, for silence would mean that it is fine. */
void nappe_report_blockage_unknown (NappeRuleContext *context, const char *part, const char *what);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making findings; for the rules alone. A finding is never changed after its rule has run. */
#pragma once

#include "rules/finding.h"

G_BEGIN_DECLS

/* rule: static id. title, source: static and translated (kept, not copied). part: an id, "" for the
 * whole build. Transfer full. */
NappeFinding *nappe_finding_new (const char *rule, const char *title, const char *source, NappeSeverity severity,
                                 const char *part);

void nappe_finding_set_title (NappeFinding *self, const char *title); /* static and translated */
void nappe_finding_set_checked (NappeFinding *self, gboolean checked);
void nappe_finding_set_severity (NappeFinding *self, NappeSeverity severity);
void nappe_finding_set_changed (NappeFinding *self, const char *changed);
void nappe_finding_set_answer (NappeFinding *self, const char *answer);
void nappe_finding_set_number (NappeFinding *self, guint number);

/* The number and what it was held against, SI; NaN for none. */
void nappe_finding_measure (NappeFinding *self, double value, double limit, NappeQuantity quantity);

/* What people read. A second call adds a sentence, with a blank between. */
void nappe_finding_say (NappeFinding *self, const char *format, ...) G_GNUC_PRINTF (2, 3);
void nappe_finding_cure (NappeFinding *self, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* Offers a lever (taken); the likeliest first. */
void nappe_finding_offer (NappeFinding *self, NappeLever *lever);

/* The working: its formula, then each input. symbol may be "". An input that is not finite is left out. */
void nappe_finding_formula (NappeFinding *self, const char *formula);
void nappe_finding_input (NappeFinding *self, const char *symbol, const char *label, double value,
                          NappeQuantity quantity);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A finding: what a rule has to say about one part, with its working, source and remedy. */
#pragma once

#include "build/build.h"
#include "results/working.h"
#include "rules/lever.h"
#include "study/study.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_SEVERITY_FINE,    /* checked, nothing to say */
  NAPPE_SEVERITY_ADVICE,  /* works, could be better */
  NAPPE_SEVERITY_PROBLEM, /* will not work as drawn */
  NAPPE_SEVERITY_DANGER,  /* water on the floor, harm to a person or to animals */
} NappeSeverity;

/* Every getter is a read-only property of the same name too: "rule", "title", "text", "remedy",
 * "source", "part", "severity" (int, a NappeSeverity), "number" (uint), "checked" (boolean), "changed",
 * "answer". */
#define NAPPE_TYPE_FINDING (nappe_finding_get_type ())
G_DECLARE_FINAL_TYPE (NappeFinding, nappe_finding, NAPPE, FINDING, GObject)

const char *nappe_finding_get_rule (NappeFinding *self);     /* stable id, "power-cut-fits" */
const char *nappe_finding_get_title (NappeFinding *self);    /* translated, short: "Power cut floods the sump" */
const char *nappe_finding_get_text (NappeFinding *self);     /* translated sentences with numbers in the user's units */
const char *nappe_finding_get_remedy (NappeFinding *self);   /* translated; "" for fine */
const char *nappe_finding_get_source (NappeFinding *self);   /* book, standard, or "common practice" */
const char *nappe_finding_get_part (NappeFinding *self);     /* id of the part, "" for the whole build */
/* FALSE for a fine finding whose rule had nothing to look at, or nothing sure to look at: there is
 * no such part, or no steady state was found. Its text says which; its value is NaN. */
gboolean nappe_finding_get_checked (NappeFinding *self);
NappeSeverity nappe_finding_get_severity (NappeFinding *self);
guint nappe_finding_get_number (NappeFinding *self);         /* 1.. in order of severity; 0 for fine */
double nappe_finding_get_value (NappeFinding *self);         /* SI; NaN: none */
double nappe_finding_get_limit (NappeFinding *self);         /* SI; NaN: none */
NappeQuantity nappe_finding_get_quantity (NappeFinding *self);
const NappeWorking *nappe_finding_get_working (NappeFinding *self);
/* Translated sentences that say which limits or weight were changed for this build; "" for none. */
const char *nappe_finding_get_changed (NappeFinding *self);
/* Why it may stand, as somebody wrote it down with who and when, translated around; "" without an answer. */
const char *nappe_finding_get_answer (NappeFinding *self);
/* Levers that may put it right: NappeLever, maybe none. Owned by the finding. */
const GPtrArray *nappe_finding_get_levers (NappeFinding *self);
char *nappe_finding_working_text (NappeFinding *self, NappeUnitSystem units); /* several lines; transfer full */

const char *nappe_severity_nick (NappeSeverity severity);  /* "danger", for JSON */
const char *nappe_severity_label (NappeSeverity severity); /* translated: "Danger" */

G_END_DECLS

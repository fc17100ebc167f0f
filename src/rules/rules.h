/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The engine: runs every rule over a build and its study. */
#pragma once

#include "rules/finding.h"

G_BEGIN_DECLS

typedef struct
{
  GPtrArray *findings; /* NappeFinding, worst first, then in the order of the rules; numbered 1.. */
  GPtrArray *fine;     /* NappeFinding of severity fine: checked and fine, with number and limit */
  guint n_danger, n_problem, n_advice;
} NappeVerdict;

/* Transfer full. The texts use the given units. */
NappeVerdict *nappe_rules_run (NappeBuild *build, const NappeStudy *study, NappeUnitSystem units);
void nappe_verdict_free (NappeVerdict *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeVerdict, nappe_verdict_free)
/* The worst severity among the findings. */
NappeSeverity nappe_verdict_worst (const NappeVerdict *self);

/* The rules, for lists and the handbook. */
typedef struct
{
  const char *id;     /* "power-cut-fits" */
  const char *title;  /* English, marked N_() */
  const char *source; /* English, marked N_() */
} NappeRuleInfo;
const NappeRuleInfo *nappe_rules_list (gsize *n);

G_END_DECLS

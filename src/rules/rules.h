/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The engine: runs every rule over a build and its study. */
#pragma once

#include "rules/finding.h"

G_BEGIN_DECLS

/* What all rules together say. Owns its findings. */
typedef struct
{
  GPtrArray *findings; /* NappeFinding, worst first, then in the order of the rules; numbered 1.. */
  GPtrArray *answered; /* NappeFinding that are no danger and that somebody answered: they count no more */
  GPtrArray *fine;     /* NappeFinding of severity fine: checked and fine, with number and limit */
  guint n_danger, n_problem, n_advice;
} NappeVerdict;

/* Transfer full, never NULL. The study must be of this build; neither is kept. The texts use the
 * given units and the locale at hand. A study without a steady state gives the findings that say so;
 * rules that would need one then tell that they were not checked. Rules that need the time simulation are
 * left out. */
NappeVerdict *nappe_rules_run (NappeBuild *build, const NappeStudy *study, NappeUnitSystem units);
/* The same with them. courses: NappeSimulation of this study, as nappe_rules_play gives them; of what is missing or NULL it
 * is said that it was not checked. Not kept. */
NappeVerdict *nappe_rules_run_timed (NappeBuild *build, const NappeStudy *study, const GPtrArray *courses,
                                     NappeUnitSystem units);
/* Plays the cases that the rules look at: the power cuts, the restart, each drain blocked. Takes its time, on 1..8 threads.
 * evaporation: see study/simulation.h [m3/s]. cancellable may be NULL; cancelled, some are NULL. Transfer full. */
GPtrArray *nappe_rules_play (NappeBuild *build, const NappeStudy *study, double evaporation, guint threads,
                             GCancellable *cancellable);
void nappe_verdict_free (NappeVerdict *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeVerdict, nappe_verdict_free)
/* What people decided in a build (build/kinds.h): the answer that holds for a rule's finding about a part, which is the
 * last one, and the weight of a rule, which is the first one; NULL: none. Not owned. */
NappeAnswer *nappe_rules_answer_in (NappeBuild *build, const char *rule, const char *part);
NappeWeighing *nappe_rules_weighing_in (NappeBuild *build, const char *rule);
/* The worst severity among the findings. */
NappeSeverity nappe_verdict_worst (const NappeVerdict *self);
/* How many rules looked at something and found it fine. */
guint nappe_verdict_count_checked (const NappeVerdict *self);
/* "2 dangers, 1 problem", translated, or "" without findings. Transfer full. */
char *nappe_verdict_counts_text (const NappeVerdict *self);

/* The rules, for lists and the handbook. */
typedef struct _NappeRuleContext NappeRuleContext;
typedef struct
{
  const char *id;     /* "power-cut-fits", never changes */
  const char *title;  /* what holds when all is fine, English, marked N_() */
  const char *source; /* of its limits: a book, a standard, or "common practice"; English, marked N_() */
  void (*run) (NappeRuleContext *context); /* for the engine: adds findings, at least one fine one */
  gboolean timed;     /* needs the time simulation */
} NappeRuleInfo;
const NappeRuleInfo *nappe_rules_list (gsize *n); /* static */
const NappeRuleInfo *nappe_rules_find (const char *id); /* or NULL */

G_END_DECLS

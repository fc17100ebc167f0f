/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One case of a build being simulated on a worker, with what the build was when it began. */
#pragma once

#include "studio/document/outcome.h"
#include "study/simulation.h"

G_BEGIN_DECLS

typedef struct _NappeCaseRun NappeCaseRun;

/* It has ended. course: NULL when it failed, or was stopped before there was anything; both are borrowed. error: NULL
 * unless it failed. The run is gone when this returns. */
typedef void (*NappeCaseRunDone) (NappeOutcome *outcome, NappeSimulation *course, const GError *error, gpointer data);

/* Begins. The run is its own: it lives until it is done or dropped. The plan is copied. */
NappeCaseRun *nappe_case_run_start (NappeOutcome *outcome, const NappePlan *plan, NappeCaseRunDone done, gpointer data);
/* Ends it soon: done is called with what was found until then. */
void nappe_case_run_stop (NappeCaseRun *self);
/* Ends it soon and forgets it: done is not called. */
void nappe_case_run_drop (NappeCaseRun *self);
/* How much of it has run, 0..1. */
double nappe_case_run_get_progress (const NappeCaseRun *self);

G_END_DECLS

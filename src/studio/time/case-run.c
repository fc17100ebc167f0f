/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/time/case-run.h"

#include <math.h>

/* Owned by its task. */
struct _NappeCaseRun
{
  NappeOutcome *outcome;
  NappePlan *plan;
  NappeSimulation *course; /* what came out; NULL: nothing */
  GCancellable *cancellable;
  int share;               /* that has run, in thousandths; read by the main thread, atomically */
  NappeCaseRunDone done;   /* NULL: it was dropped */
  gpointer data;           /* of done */
};

static void
case_run_free (gpointer data)
{
  NappeCaseRun *self = data;

  nappe_outcome_unref (self->outcome);
  nappe_plan_free (self->plan);
  g_clear_pointer (&self->course, nappe_simulation_unref);
  g_object_unref (self->cancellable);
  g_free (self);
}

static void
note_progress (double share, gpointer data)
{
  g_atomic_int_set (&((NappeCaseRun *) data)->share, (int) lround (CLAMP (share, 0.0, 1.0) * 1000.0));
}

static void
simulate (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  NappeCaseRun *self = data;
  const NappeHeat *heat = self->outcome->heat;
  double evaporation = heat != NULL && heat->known && isfinite (heat->evaporation) ? fmax (heat->evaporation, 0.0) : 0.0;
  GError *error = NULL;

  self->course = nappe_simulation_new (self->outcome->study, self->plan, evaporation, note_progress, self, cancellable, &error);
  if (self->course != NULL)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
finished (GObject *source, GAsyncResult *result, gpointer user_data)
{
  NappeCaseRun *self = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;

  g_task_propagate_boolean (G_TASK (result), &error);
  if (self->done == NULL)
    return;
  /* A person who stops a run has no use for the news that it was stopped. */
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    g_clear_error (&error);
  self->done (self->outcome, self->course, error, self->data);
}

NappeCaseRun *
nappe_case_run_start (NappeOutcome *outcome, const NappePlan *plan, NappeCaseRunDone done, gpointer data)
{
  NappeCaseRun *self = g_new0 (NappeCaseRun, 1);
  g_autoptr (GTask) task = NULL;

  self->outcome = nappe_outcome_ref (outcome);
  self->plan = nappe_plan_copy (plan);
  self->cancellable = g_cancellable_new ();
  self->done = done;
  self->data = data;
  /* The task lives until finished has returned, and the run with it. */
  task = g_task_new (NULL, self->cancellable, finished, NULL);
  g_task_set_check_cancellable (task, FALSE);
  g_task_set_source_tag (task, nappe_case_run_start);
  g_task_set_task_data (task, self, case_run_free);
  g_task_run_in_thread (task, simulate);
  return self;
}

void
nappe_case_run_stop (NappeCaseRun *self)
{
  g_cancellable_cancel (self->cancellable);
}

void
nappe_case_run_drop (NappeCaseRun *self)
{
  self->done = NULL;
  g_cancellable_cancel (self->cancellable);
}

double
nappe_case_run_get_progress (const NappeCaseRun *self)
{
  return g_atomic_int_get (&self->share) / 1000.0;
}

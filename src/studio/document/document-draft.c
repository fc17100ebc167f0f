/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A number being tried: the document's build stays as it is until the person lets go. */
#include "studio/document/document-private.h"

#include "build/coupling.h"

/* A study that takes longer is left to a worker, and what was overtaken meanwhile is skipped [us]: with the picture the
 * frame would come too late. */
#define QUICK 8000

struct _NappeDraft
{
  NappeBuild *build;      /* a copy, changed from its start for each value */
  NappePart *part;        /* of it */
  char *field;
  double value;
  NappeOutcome *outcome;  /* of the last value that was computed; NULL: none yet */
  GCancellable *cancellable; /* of the study on a worker; NULL: none is under way */
  gboolean overtaken;     /* by another value, which waits */
  gint64 cost;            /* of the last study [us] */
};

/* What a worker needs and gives back. Owned by its task. */
typedef struct
{
  NappeBuild *build;
  NappeCatalogue *catalogue;
  NappeUnitSystem units;
  NappeOutcome *outcome;
  gint64 cost;
} DraftJob;

static void
draft_job_free (gpointer data)
{
  DraftJob *job = data;

  g_clear_object (&job->build);
  nappe_catalogue_unref (job->catalogue);
  g_clear_pointer (&job->outcome, nappe_outcome_unref);
  g_free (job);
}

static void
run_draft (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  DraftJob *job = data;
  gint64 start = g_get_monotonic_time ();

  job->outcome = nappe_outcome_new (g_steal_pointer (&job->build), job->catalogue, job->units, cancellable);
  job->cost = g_get_monotonic_time () - start;
  g_task_return_boolean (task, job->outcome != NULL);
}

static void
take_outcome (NappeDocument *self, NappeOutcome *outcome, gint64 cost)
{
  g_clear_pointer (&self->draft->outcome, nappe_outcome_unref);
  self->draft->outcome = outcome;
  self->draft->cost = cost;
  g_signal_emit_by_name (self, "drafted");
}

static void start_worker (NappeDocument *self);

static void
draft_done (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeDocument) self = user_data;
  GTask *task = G_TASK (result);
  DraftJob *job = g_task_get_task_data (task);

  if (self->draft == NULL || self->draft->cancellable != g_task_get_cancellable (task))
    return;
  g_clear_object (&self->draft->cancellable);
  if (!g_task_propagate_boolean (task, NULL))
    return;
  if (self->draft->overtaken)
    start_worker (self);
  take_outcome (self, g_steal_pointer (&job->outcome), job->cost);
}

static void
start_worker (NappeDocument *self)
{
  DraftJob *job = g_new0 (DraftJob, 1);
  g_autoptr (GTask) task = NULL;

  self->draft->overtaken = FALSE;
  job->build = nappe_build_copy (self->draft->build);
  job->catalogue = nappe_catalogue_ref (self->catalogue);
  job->units = self->units;
  self->draft->cancellable = g_cancellable_new ();
  task = g_task_new (NULL, self->draft->cancellable, draft_done, g_object_ref (self));
  g_task_set_source_tag (task, start_worker);
  g_task_set_task_data (task, job, draft_job_free);
  g_task_run_in_thread (task, run_draft);
}

static void
compute (NappeDocument *self)
{
  NappeDraft *draft = self->draft;
  gint64 start = g_get_monotonic_time ();
  NappeOutcome *outcome;

  if (draft->cancellable != NULL)
    {
      draft->overtaken = TRUE;
      return;
    }
  if (draft->cost > QUICK)
    {
      start_worker (self);
      return;
    }
  outcome = nappe_outcome_new (nappe_build_copy (draft->build), self->catalogue, self->units, NULL);
  take_outcome (self, outcome, g_get_monotonic_time () - start);
}

gboolean
nappe_document_begin_draft (NappeDocument *self, const char *part, const char *field)
{
  NappeDraft *draft;
  NappePart *original = self->build != NULL ? nappe_build_find (self->build, part) : NULL;
  const NappeField *number = original != NULL ? nappe_part_find_field (original, field) : NULL;

  if (self->draft != NULL || self->catalogue == NULL || number == NULL || number->type != NAPPE_FIELD_NUMBER)
    return FALSE;
  draft = g_new0 (NappeDraft, 1);
  draft->build = nappe_build_copy (self->build);
  draft->part = nappe_build_find (draft->build, part);
  draft->field = g_strdup (field);
  draft->value = nappe_part_number (draft->part, number);
  draft->cost = self->study_cost;
  self->draft = draft;
  /* It would take the processors that the frames need. */
  nappe_document_pause_refinement (self);
  nappe_document_notify_history (self);
  return TRUE;
}

gboolean
nappe_document_move_draft (NappeDocument *self, double value, GError **error)
{
  NappeDraft *draft = self->draft;

  g_return_val_if_fail (draft != NULL, FALSE);
  if (value == draft->value)
    return TRUE;
  /* Always from the start, as it will be when the person lets go. */
  if (nappe_build_can_undo (draft->build))
    nappe_build_undo (draft->build);
  if (!nappe_build_set_coupled (draft->build, draft->part, draft->field, value, error))
    return FALSE;
  draft->value = value;
  compute (self);
  return TRUE;
}

static void
draft_free (NappeDraft *draft)
{
  if (draft->cancellable != NULL)
    g_cancellable_cancel (draft->cancellable);
  g_clear_object (&draft->cancellable);
  g_clear_pointer (&draft->outcome, nappe_outcome_unref);
  g_object_unref (draft->build);
  g_free (draft->field);
  g_free (draft);
}

void
nappe_document_drop_draft (NappeDocument *self)
{
  if (self->draft == NULL)
    return;
  g_clear_pointer (&self->draft, draft_free);
  nappe_document_resume_refinement (self);
  nappe_document_notify_history (self);
  g_signal_emit_by_name (self, "drafted");
}

gboolean
nappe_document_keep_draft (NappeDocument *self, GError **error)
{
  NappeDraft *draft = g_steal_pointer (&self->draft);
  NappePart *part;
  guint changes = self->changes;
  gboolean done;

  g_return_val_if_fail (draft != NULL, FALSE);
  part = nappe_build_find (self->build, nappe_part_get_id (draft->part));
  done = nappe_build_set_coupled (self->build, part, draft->field, draft->value, error);
  draft_free (draft);
  nappe_document_notify_history (self);
  if (self->changes == changes)
    {
      nappe_document_resume_refinement (self);
      g_signal_emit_by_name (self, "drafted");
    }
  return done;
}

gboolean
nappe_document_has_draft (NappeDocument *self)
{
  return self->draft != NULL;
}

NappeOutcome *
nappe_document_get_shown_outcome (NappeDocument *self)
{
  return self->draft != NULL && self->draft->outcome != NULL ? self->draft->outcome : self->outcome;
}

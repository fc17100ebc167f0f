/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/document/document-private.h"

#include <glib/gi18n-lib.h>

G_DEFINE_FINAL_TYPE (NappeDocument, nappe_document, G_TYPE_OBJECT)

enum
{
  PROP_TITLE = 1,
  PROP_MODIFIED,
  PROP_BUSY,
  PROP_CAN_UNDO,
  PROP_CAN_REDO,
  N_PROPS
};
static GParamSpec *properties[N_PROPS];

enum
{
  SIGNAL_REPLACED,
  SIGNAL_CHANGED,
  SIGNAL_COMPUTED,
  SIGNAL_REFINED,
  SIGNAL_DRAFTED,
  SIGNAL_CATALOGUE_CHANGED,
  SIGNAL_DISK_CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* What a study needs and gives back. Owned by its task. */
typedef struct
{
  NappeBuild *build;
  NappeCatalogue *catalogue; /* NULL: load it */
  gboolean loads;
  GPtrArray *warnings;
  NappeUnitSystem units;
  NappeOutcome *outcome;
  gint64 cost; /* [us] */
  guint serial;
} StudyJob;

static void
study_job_free (gpointer data)
{
  StudyJob *job = data;

  g_clear_object (&job->build);
  g_clear_pointer (&job->catalogue, nappe_catalogue_unref);
  g_clear_pointer (&job->warnings, g_ptr_array_unref);
  g_clear_pointer (&job->outcome, nappe_outcome_unref);
  g_free (job);
}

static void
run_study (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  StudyJob *job = data;
  GError *error = NULL;
  gint64 start;

  if (job->catalogue == NULL)
    job->catalogue = nappe_catalogue_load_default (&job->warnings, &error);
  if (job->catalogue == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  start = g_get_monotonic_time ();
  job->outcome = nappe_outcome_new (g_steal_pointer (&job->build), job->catalogue, job->units, cancellable);
  job->cost = g_get_monotonic_time () - start;
  if (!g_task_return_error_if_cancelled (task))
    g_task_return_boolean (task, job->outcome != NULL);
}

/* What the refinement of an outcome needs and gives back. Owned by its task. */
typedef struct
{
  NappeOutcome *outcome, *refined;
} RefineJob;

static void
refine_job_free (gpointer data)
{
  RefineJob *job = data;

  g_clear_pointer (&job->outcome, nappe_outcome_unref);
  g_clear_pointer (&job->refined, nappe_outcome_unref);
  g_free (job);
}

static void
run_refinement (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  RefineJob *job = data;

  job->refined = nappe_outcome_refine (job->outcome, cancellable);
  g_task_return_boolean (task, job->refined != NULL);
}

static void
refinement_done (GObject *source, GAsyncResult *result, gpointer user_data)
{
  GWeakRef *document = user_data;
  g_autoptr (NappeDocument) self = g_weak_ref_get (document);
  RefineJob *job = g_task_get_task_data (G_TASK (result));

  g_weak_ref_clear (document);
  g_free (document);
  if (self == NULL || self->refine_cancellable != g_task_get_cancellable (G_TASK (result)))
    return;
  g_clear_object (&self->refine_cancellable);
  if (!g_task_propagate_boolean (G_TASK (result), NULL))
    return;
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  self->outcome = g_steal_pointer (&job->refined);
  g_signal_emit (self, signals[SIGNAL_REFINED], 0);
}

/* The window shows what is quick at once, and cases played in time and bands of numbers when they are there. A document that
 * goes meanwhile is not held: it cancels them. */
static void
start_refinement (NappeDocument *self)
{
  RefineJob *job = g_new0 (RefineJob, 1);
  GWeakRef *document = g_new (GWeakRef, 1);
  g_autoptr (GTask) task = NULL;

  job->outcome = nappe_outcome_ref (self->outcome);
  self->refine_cancellable = g_cancellable_new ();
  g_weak_ref_init (document, self);
  task = g_task_new (NULL, self->refine_cancellable, refinement_done, document);
  g_task_set_source_tag (task, start_refinement);
  g_task_set_task_data (task, job, refine_job_free);
  g_task_run_in_thread (task, run_refinement);
}

void
nappe_document_pause_refinement (NappeDocument *self)
{
  if (self->refine_cancellable != NULL)
    g_cancellable_cancel (self->refine_cancellable);
  g_clear_object (&self->refine_cancellable);
}

void
nappe_document_resume_refinement (NappeDocument *self)
{
  if (self->build != NULL && self->draft == NULL && self->refine_cancellable == NULL && self->study_cancellable == NULL
      && self->outcome != NULL && !self->outcome->timed)
    start_refinement (self);
}

static void
take_catalogue (NappeDocument *self, StudyJob *job)
{
  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
  g_clear_pointer (&self->warnings, g_ptr_array_unref);
  self->catalogue = g_steal_pointer (&job->catalogue);
  self->warnings = g_steal_pointer (&job->warnings);
  self->catalogue_stale = FALSE;
  g_signal_emit (self, signals[SIGNAL_CATALOGUE_CHANGED], 0);
}

static void
study_done (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeDocument) self = user_data;
  StudyJob *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  gboolean done = g_task_propagate_boolean (G_TASK (result), &error);

  if (job->serial != self->serial)
    return;
  g_clear_object (&self->study_cancellable);
  g_clear_error (&self->error);
  if (done)
    {
      if (job->loads)
        take_catalogue (self, job);
      g_clear_pointer (&self->outcome, nappe_outcome_unref);
      self->outcome = g_steal_pointer (&job->outcome);
      self->study_cost = job->cost;
      nappe_document_resume_refinement (self);
    }
  else
    {
      self->error = g_steal_pointer (&error);
    }
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_BUSY]);
  g_signal_emit (self, signals[SIGNAL_COMPUTED], 0);
}

static void
cancel_study (NappeDocument *self)
{
  self->serial++;
  if (self->study_cancellable != NULL)
    g_cancellable_cancel (self->study_cancellable);
  g_clear_object (&self->study_cancellable);
  nappe_document_pause_refinement (self);
}

static void
start_study (NappeDocument *self)
{
  StudyJob *job;
  g_autoptr (GTask) task = NULL;

  cancel_study (self);
  if (self->build == NULL)
    return;
  job = g_new0 (StudyJob, 1);
  job->build = nappe_build_copy (self->build);
  job->loads = self->catalogue == NULL || self->catalogue_stale;
  job->catalogue = job->loads ? NULL : nappe_catalogue_ref (self->catalogue);
  job->units = self->units;
  job->serial = self->serial;
  self->study_cancellable = g_cancellable_new ();
  /* A task may be freed on its thread, and its source object with it; what is handed to the callback
     is not. */
  task = g_task_new (NULL, self->study_cancellable, study_done, g_object_ref (self));
  g_task_set_source_tag (task, start_study);
  g_task_set_task_data (task, job, study_job_free);
  g_task_run_in_thread (task, run_study);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_BUSY]);
}

void
nappe_document_notify_history (NappeDocument *self)
{
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_MODIFIED]);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_CAN_UNDO]);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_CAN_REDO]);
}

void
nappe_document_notify_file (NappeDocument *self)
{
  g_free (self->title);
  if (self->file != NULL)
    {
      g_autofree char *base = g_file_get_basename (self->file);

      self->title = g_filename_display_name (base);
    }
  else
    {
      self->title = g_strdup (self->build != NULL ? _("Unsaved build") : "");
    }
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_TITLE]);
  nappe_document_notify_history (self);
}

static void
build_changed (NappeBuild *build, NappeDocument *self)
{
  self->changes++;
  nappe_document_drop_draft (self);
  nappe_document_notify_history (self);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
  start_study (self);
}

static void
release_build (NappeDocument *self)
{
  if (self->build != NULL)
    g_signal_handlers_disconnect_by_func (self->build, build_changed, self);
  g_clear_object (&self->build);
}

void
nappe_document_put_in (NappeDocument *self, NappeBuild *build, GFile *file, char *base, gboolean apart)
{
  nappe_document_drop_draft (self);
  release_build (self);
  self->apart = apart;
  self->build = g_object_ref (build);
  g_signal_connect (build, "changed", G_CALLBACK (build_changed), self);
  g_set_object (&self->file, file);
  nappe_document_know_file (self, base);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  self->changes++;
  nappe_document_notify_file (self);
  g_signal_emit (self, signals[SIGNAL_REPLACED], 0);
  start_study (self);
}

static void
nappe_document_get_property (GObject *object, guint property, GValue *value, GParamSpec *pspec)
{
  NappeDocument *self = NAPPE_DOCUMENT (object);

  switch (property)
    {
    case PROP_TITLE:
      g_value_set_string (value, nappe_document_get_title (self));
      break;
    case PROP_MODIFIED:
      g_value_set_boolean (value, nappe_document_is_modified (self));
      break;
    case PROP_BUSY:
      g_value_set_boolean (value, nappe_document_is_busy (self));
      break;
    case PROP_CAN_UNDO:
      g_value_set_boolean (value, nappe_document_can_undo (self));
      break;
    case PROP_CAN_REDO:
      g_value_set_boolean (value, nappe_document_can_redo (self));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, property, pspec);
    }
}

static void
nappe_document_dispose (GObject *object)
{
  NappeDocument *self = NAPPE_DOCUMENT (object);

  nappe_document_stop_watching (self);
  release_build (self);
  nappe_document_drop_draft (self);
  cancel_study (self);
  G_OBJECT_CLASS (nappe_document_parent_class)->dispose (object);
}

static void
nappe_document_finalize (GObject *object)
{
  NappeDocument *self = NAPPE_DOCUMENT (object);

  g_clear_object (&self->file);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
  g_clear_pointer (&self->warnings, g_ptr_array_unref);
  g_clear_error (&self->error);
  g_free (self->title);
  g_free (self->base);
  g_free (self->seen);
  G_OBJECT_CLASS (nappe_document_parent_class)->finalize (object);
}

static void
nappe_document_class_init (NappeDocumentClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  const char *const names[N_SIGNALS] = { "replaced", "changed", "computed", "refined", "drafted",
                                        "catalogue-changed", "disk-changed" };

  object_class->get_property = nappe_document_get_property;
  object_class->dispose = nappe_document_dispose;
  object_class->finalize = nappe_document_finalize;
  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, NULL, flags);
  properties[PROP_MODIFIED] = g_param_spec_boolean ("modified", NULL, NULL, FALSE, flags);
  properties[PROP_BUSY] = g_param_spec_boolean ("busy", NULL, NULL, FALSE, flags);
  properties[PROP_CAN_UNDO] = g_param_spec_boolean ("can-undo", NULL, NULL, FALSE, flags);
  properties[PROP_CAN_REDO] = g_param_spec_boolean ("can-redo", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  for (guint i = 0; i < N_SIGNALS; i++)
    signals[i] = g_signal_new (names[i], G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                               G_TYPE_NONE, 0);
}

static void
nappe_document_init (NappeDocument *self)
{
  self->title = g_strdup ("");
}

NappeDocument *
nappe_document_new (void)
{
  return g_object_new (NAPPE_TYPE_DOCUMENT, NULL);
}

NappeBuild *
nappe_document_get_build (NappeDocument *self)
{
  return self->build;
}

NappeOutcome *
nappe_document_get_outcome (NappeDocument *self)
{
  return self->outcome;
}

GFile *
nappe_document_get_file (NappeDocument *self)
{
  return self->file;
}

NappeCatalogue *
nappe_document_get_catalogue (NappeDocument *self)
{
  return self->catalogue;
}

void
nappe_document_reload_catalogue (NappeDocument *self)
{
  self->catalogue_stale = TRUE;
  start_study (self);
}

const char *
nappe_document_get_title (NappeDocument *self)
{
  return self->title;
}

gboolean
nappe_document_is_modified (NappeDocument *self)
{
  return self->build != NULL && (self->apart || self->disk == NAPPE_DISK_GONE || nappe_build_is_modified (self->build));
}

gboolean
nappe_document_is_busy (NappeDocument *self)
{
  return self->study_cancellable != NULL;
}

const GError *
nappe_document_get_error (NappeDocument *self)
{
  return self->error;
}

const GPtrArray *
nappe_document_get_warnings (NappeDocument *self)
{
  return self->warnings;
}

void
nappe_document_set_units (NappeDocument *self, NappeUnitSystem units)
{
  if (self->units == units)
    return;
  self->units = units;
  start_study (self);
}

void
nappe_document_set_build (NappeDocument *self, NappeBuild *build)
{
  nappe_document_put_in (self, build, NULL, NULL, FALSE);
}

void
nappe_document_restore (NappeDocument *self, NappeBuild *build, GFile *file, const char *base)
{
  nappe_document_put_in (self, build, file, g_strdup (base), TRUE);
  /* The file was not looked at yet. */
  nappe_document_check_soon (self);
}

gboolean
nappe_document_can_undo (NappeDocument *self)
{
  return self->build != NULL && self->draft == NULL && nappe_build_can_undo (self->build);
}

gboolean
nappe_document_can_redo (NappeDocument *self)
{
  return self->build != NULL && self->draft == NULL && nappe_build_can_redo (self->build);
}

void
nappe_document_undo (NappeDocument *self)
{
  if (nappe_document_can_undo (self))
    nappe_build_undo (self->build);
}

void
nappe_document_redo (NappeDocument *self)
{
  if (nappe_document_can_redo (self))
    nappe_build_redo (self->build);
}

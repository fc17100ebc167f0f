/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/document/autosave.h"

#include <glib/gi18n-lib.h>

struct _NappeAutosave
{
  GObject parent_instance;
  NappeDocument *document; /* NULL: ended */
  NappeRescue *rescue;     /* NULL: none, or the worker has it */
  guint timer;             /* source that will write; 0: none */
  gboolean writing;        /* the worker is at it */
  gboolean unwanted;       /* what the worker writes is to be taken away */
  gboolean failing;        /* the person has been told */
};

G_DEFINE_FINAL_TYPE (NappeAutosave, nappe_autosave, G_TYPE_OBJECT)

static guint failed_signal;

/* What is written. Owned by its task. */
typedef struct
{
  NappeBuild *build;
  GFile *origin;
  char *base;
  NappeRescue *rescue;
} KeepJob;

static void
keep_job_free (gpointer data)
{
  KeepJob *job = data;

  g_object_unref (job->build);
  g_clear_object (&job->origin);
  g_free (job->base);
  g_clear_pointer (&job->rescue, nappe_rescue_free);
  g_free (job);
}

/* Whether the copy says that the build came from where it does. */
static gboolean
is_of_origin (KeepJob *job)
{
  GFile *origin = nappe_rescue_get_origin (job->rescue);
  gboolean same = origin == job->origin
                  || (origin != NULL && job->origin != NULL && g_file_equal (origin, job->origin));

  return same && g_strcmp0 (nappe_rescue_get_base (job->rescue), job->base) == 0;
}

static void
write_copy (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  KeepJob *job = data;
  g_autofree char *folder = nappe_rescue_folder ();
  NappeRescue *old = job->rescue != NULL && !is_of_origin (job) ? g_steal_pointer (&job->rescue) : NULL;
  GError *error = NULL;

  if (job->rescue == NULL)
    job->rescue = nappe_rescue_new (folder, job->origin, job->base, &error);
  if (job->rescue != NULL && nappe_rescue_write (job->rescue, job->build, &error))
    {
      g_clear_pointer (&old, nappe_rescue_discard);
      g_task_return_boolean (task, TRUE);
      return;
    }
  /* An older copy is better than none. */
  if (old != NULL)
    {
      g_clear_pointer (&job->rescue, nappe_rescue_discard);
      job->rescue = old;
    }
  g_task_return_error (task, error);
}

static void
tell_failure (NappeAutosave *self, const GError *error)
{
  /* Translators: %s says why. */
  g_autofree char *text = g_strdup_printf (_("Unsaved changes would be lost in a power cut, since no copy of them can "
                                             "be kept: %s"), error->message);

  if (!self->failing && self->document != NULL)
    g_signal_emit (self, failed_signal, 0, text);
  self->failing = TRUE;
}

static void
copy_written (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeAutosave) self = user_data;
  KeepJob *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;

  self->writing = FALSE;
  if (g_task_propagate_boolean (G_TASK (result), &error))
    self->failing = FALSE;
  else
    tell_failure (self, error);
  if (self->unwanted)
    g_clear_pointer (&job->rescue, nappe_rescue_discard);
  self->unwanted = FALSE;
  if (self->document != NULL)
    self->rescue = g_steal_pointer (&job->rescue);
  /* The program must not end between the writing and the taking away. */
  if (g_application_get_default () != NULL)
    g_application_release (g_application_get_default ());
}

static gboolean
write_now (gpointer data)
{
  NappeAutosave *self = data;
  KeepJob *job;
  GFile *origin = nappe_document_get_file (self->document);
  g_autoptr (GTask) task = NULL;

  if (self->writing)
    return G_SOURCE_CONTINUE;
  self->timer = 0;
  job = g_new0 (KeepJob, 1);
  job->build = nappe_build_copy (nappe_document_get_build (self->document));
  job->origin = origin != NULL ? g_object_ref (origin) : NULL;
  job->base = g_strdup (nappe_document_get_base (self->document));
  job->rescue = g_steal_pointer (&self->rescue);
  self->writing = TRUE;
  if (g_application_get_default () != NULL)
    g_application_hold (g_application_get_default ());
  task = g_task_new (NULL, NULL, copy_written, g_object_ref (self));
  g_task_set_source_tag (task, write_now);
  g_task_set_task_data (task, job, keep_job_free);
  g_task_run_in_thread (task, write_copy);
  return G_SOURCE_REMOVE;
}

/* Changes that go on and on do not put it off. */
static void
schedule (NappeAutosave *self)
{
  if (self->timer == 0)
    self->timer = g_timeout_add_seconds (NAPPE_AUTOSAVE_DELAY, write_now, self);
}

static void
forget (NappeAutosave *self)
{
  g_clear_handle_id (&self->timer, g_source_remove);
  g_clear_pointer (&self->rescue, nappe_rescue_discard);
  self->unwanted = self->writing;
}

static void
modified_changed (NappeAutosave *self)
{
  if (nappe_document_is_modified (self->document))
    schedule (self);
  else
    forget (self);
}

/* What is kept is of another build, and says that it came from another file. */
static void
replaced (NappeAutosave *self)
{
  forget (self);
  modified_changed (self);
}

void
nappe_autosave_adopt (NappeAutosave *self, NappeRescue *rescue)
{
  g_clear_pointer (&self->rescue, nappe_rescue_discard);
  self->rescue = rescue;
}

void
nappe_autosave_end (NappeAutosave *self, gboolean keep)
{
  if (self->document == NULL)
    return;
  g_signal_handlers_disconnect_by_data (self->document, self);
  if (keep)
    g_clear_handle_id (&self->timer, g_source_remove);
  else
    forget (self);
  g_clear_pointer (&self->rescue, nappe_rescue_free);
  g_clear_object (&self->document);
}

static void
nappe_autosave_dispose (GObject *object)
{
  nappe_autosave_end (NAPPE_AUTOSAVE (object), TRUE);
  G_OBJECT_CLASS (nappe_autosave_parent_class)->dispose (object);
}

static void
nappe_autosave_class_init (NappeAutosaveClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = nappe_autosave_dispose;
  failed_signal = g_signal_new ("failed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
nappe_autosave_init (NappeAutosave *self)
{
}

NappeAutosave *
nappe_autosave_new (NappeDocument *document)
{
  NappeAutosave *self = g_object_new (NAPPE_TYPE_AUTOSAVE, NULL);

  self->document = g_object_ref (document);
  g_signal_connect_swapped (document, "notify::modified", G_CALLBACK (modified_changed), self);
  g_signal_connect_swapped (document, "replaced", G_CALLBACK (replaced), self);
  return self;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading and writing the document's file on a worker. */
#include "studio/document/document-private.h"

#include <glib/gi18n-lib.h>

#include "file/file.h"

static void
worker_done (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (GTask) task = user_data;
  GError *error = NULL;

  if (g_task_propagate_boolean (G_TASK (result), &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

/* Lets a worker do the job of a task. The task itself, and with it the document, is only touched on
 * this thread. */
static void
run_on_worker (GTask *task, GTaskThreadFunc job)
{
  g_autoptr (GTask) worker = g_task_new (NULL, g_task_get_cancellable (task), worker_done, g_object_ref (task));

  g_task_set_task_data (worker, g_task_get_task_data (task), NULL);
  g_task_run_in_thread (worker, job);
}

/* What is read. Owned by its task. */
typedef struct
{
  GFile *file;
  NappeBuild *build;
  char *base;
} OpenJob;

static void
open_job_free (gpointer data)
{
  OpenJob *job = data;

  g_clear_object (&job->file);
  g_clear_object (&job->build);
  g_free (job->base);
  g_free (job);
}

static void
read_file (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  OpenJob *job = data;
  GError *error = NULL;

  job->build = nappe_file_read (job->file, cancellable, &error);
  if (job->build == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  job->base = nappe_file_hash (job->build);
  g_task_return_boolean (task, TRUE);
}

void
nappe_document_open_async (NappeDocument *self, GFile *file, GCancellable *cancellable,
                           GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (self, cancellable, callback, user_data);
  OpenJob *job = g_new0 (OpenJob, 1);

  job->file = g_object_ref (file);
  g_task_set_source_tag (task, nappe_document_open_async);
  g_task_set_task_data (task, job, open_job_free);
  run_on_worker (task, read_file);
}

gboolean
nappe_document_open_finish (NappeDocument *self, GAsyncResult *result, GError **error)
{
  OpenJob *job = g_task_get_task_data (G_TASK (result));

  if (!g_task_propagate_boolean (G_TASK (result), error))
    return FALSE;
  nappe_build_mark_saved (job->build);
  nappe_document_put_in (self, job->build, job->file, g_steal_pointer (&job->base), FALSE);
  return TRUE;
}

/* What is written, and what the document looked like then. Owned by its task. */
typedef struct
{
  NappeBuild *original, *copy;
  GFile *file;
  guint changes;
  char *base; /* what the file must have for it to be overwritten; NULL: whatever it has */
  char *seen; /* what it has instead */
  char *hash; /* of what is written */
} SaveJob;

static void
save_job_free (gpointer data)
{
  SaveJob *job = data;

  g_clear_object (&job->original);
  g_clear_object (&job->copy);
  g_clear_object (&job->file);
  g_free (job->base);
  g_free (job->seen);
  g_free (job->hash);
  g_free (job);
}

/* Whether the file may be overwritten: it has what the document knows of, or is not there. */
static gboolean
is_as_known (SaveJob *job, GCancellable *cancellable, GError **error)
{
  g_autofree char *name = NULL;

  if (job->base == NULL)
    return TRUE;
  job->seen = nappe_document_hash_file (job->file, cancellable);
  if (job->seen == NULL || g_str_equal (job->seen, job->base))
    return TRUE;
  name = g_file_get_basename (job->file);
  /* Translators: %s is the name of a file. */
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_WRONG_ETAG, _("%s: not saved: another program has changed the file"), name);
  return FALSE;
}

static void
write_file (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  SaveJob *job = data;
  GError *error = NULL;

  if (!is_as_known (job, cancellable, &error) || !nappe_file_write (job->copy, job->file, cancellable, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  job->hash = nappe_file_hash (job->copy);
  g_task_return_boolean (task, TRUE);
}

/* One after another: each finds in the file what the one before has written. */
static void
start_next_save (NappeDocument *self)
{
  GTask *task = g_queue_peek_head (&self->saves);
  SaveJob *job = task != NULL ? g_task_get_task_data (task) : NULL;

  if (task == NULL)
    return;
  if (self->file != NULL && g_file_equal (self->file, job->file))
    job->base = g_strdup (self->base);
  run_on_worker (task, write_file);
}

void
nappe_document_save_async (NappeDocument *self, GFile *file, GCancellable *cancellable,
                           GAsyncReadyCallback callback, gpointer user_data)
{
  GTask *task;
  SaveJob *job;

  g_return_if_fail (self->build != NULL);
  task = g_task_new (self, cancellable, callback, user_data);
  job = g_new0 (SaveJob, 1);
  job->original = g_object_ref (self->build);
  job->copy = nappe_build_copy (self->build);
  job->file = g_object_ref (file);
  job->changes = self->changes;
  g_task_set_source_tag (task, nappe_document_save_async);
  g_task_set_task_data (task, job, save_job_free);
  g_queue_push_tail (&self->saves, task);
  if (self->saves.length == 1)
    start_next_save (self);
}

static gboolean
take_saved (NappeDocument *self, GAsyncResult *result, GError **error)
{
  SaveJob *job = g_task_get_task_data (G_TASK (result));

  if (!g_task_propagate_boolean (G_TASK (result), error))
    {
      if (job->seen != NULL && job->original == self->build && !g_str_equal (job->seen, job->base))
        nappe_document_take_seen (self, g_steal_pointer (&job->seen));
      return FALSE;
    }
  /* Another build may have been opened meanwhile. */
  if (job->original != self->build)
    return TRUE;
  g_set_object (&self->file, job->file);
  self->apart = FALSE;
  nappe_document_know_file (self, g_steal_pointer (&job->hash));
  /* What was changed while the file was written is not in it. */
  if (job->changes == self->changes)
    nappe_build_mark_saved (self->build);
  nappe_document_notify_file (self);
  return TRUE;
}

gboolean
nappe_document_save_finish (NappeDocument *self, GAsyncResult *result, GError **error)
{
  gboolean done = take_saved (self, result, error);

  g_object_unref (g_queue_pop_head (&self->saves));
  start_next_save (self);
  return done;
}

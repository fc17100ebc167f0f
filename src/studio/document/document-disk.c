/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What other programs do to the document's file.
 *
 * Builds are compared, not times: a file that was touched, copied back or saved by this program is the
 * same. Where nobody tells of changes, as on some network folders, they are found on saving. */
#include "studio/document/document-private.h"

#include "file/file.h"

/* A program that writes a file in pieces is left to end [ms]. */
#define QUIET 400
#define UNREADABLE "unreadable"

char *
nappe_document_hash_file (GFile *file, GCancellable *cancellable)
{
  g_autoptr (NappeBuild) build = NULL;

  if (!g_file_query_exists (file, cancellable))
    return NULL;
  build = nappe_file_read (file, cancellable, NULL);
  return build != NULL ? nappe_file_hash (build) : g_strdup (UNREADABLE);
}

static void
set_disk (NappeDocument *self, NappeDiskState state)
{
  if (self->disk == state)
    return;
  self->disk = state;
  nappe_document_notify_file (self);
  g_signal_emit_by_name (self, "disk-changed");
}

void
nappe_document_take_seen (NappeDocument *self, char *seen)
{
  g_free (self->seen);
  self->seen = seen;
  if (seen == NULL)
    set_disk (self, NAPPE_DISK_GONE);
  else
    set_disk (self, self->base == NULL || g_str_equal (seen, self->base) ? NAPPE_DISK_SAME : NAPPE_DISK_CHANGED);
}

/* A look at the file. Owned by its task. */
typedef struct
{
  GFile *file;
  char *seen;
} Look;

static void
look_free (gpointer data)
{
  Look *look = data;

  g_object_unref (look->file);
  g_free (look->seen);
  g_free (look);
}

static void
look_at_file (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Look *look = data;

  look->seen = nappe_document_hash_file (look->file, cancellable);
  g_task_return_boolean (task, TRUE);
}

static void
looked (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeDocument) self = user_data;
  Look *look = g_task_get_task_data (G_TASK (result));

  /* The document has gone, or has another file. */
  if (self->build == NULL || self->file == NULL || !g_file_equal (self->file, look->file))
    return;
  /* The look was too early. */
  if (!g_queue_is_empty (&self->saves))
    nappe_document_check_soon (self);
  else
    nappe_document_take_seen (self, g_steal_pointer (&look->seen));
}

static gboolean
check_now (gpointer data)
{
  NappeDocument *self = data;
  Look *look;
  g_autoptr (GTask) task = NULL;

  if (!g_queue_is_empty (&self->saves))
    return G_SOURCE_CONTINUE;
  self->check = 0;
  look = g_new0 (Look, 1);
  look->file = g_object_ref (self->file);
  task = g_task_new (NULL, NULL, looked, g_object_ref (self));
  g_task_set_source_tag (task, check_now);
  g_task_set_task_data (task, look, look_free);
  g_task_run_in_thread (task, look_at_file);
  return G_SOURCE_REMOVE;
}

void
nappe_document_check_soon (NappeDocument *self)
{
  g_clear_handle_id (&self->check, g_source_remove);
  if (self->file != NULL)
    self->check = g_timeout_add (QUIET, check_now, self);
}

void
nappe_document_stop_watching (NappeDocument *self)
{
  g_clear_handle_id (&self->check, g_source_remove);
  if (self->monitor != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->monitor, self);
      g_file_monitor_cancel (self->monitor);
    }
  g_clear_object (&self->monitor);
}

void
nappe_document_know_file (NappeDocument *self, char *base)
{
  nappe_document_stop_watching (self);
  g_free (self->base);
  self->base = base;
  if (self->file != NULL)
    self->monitor = g_file_monitor_file (self->file, G_FILE_MONITOR_NONE, NULL, NULL);
  if (self->monitor != NULL)
    g_signal_connect_swapped (self->monitor, "changed", G_CALLBACK (nappe_document_check_soon), self);
  set_disk (self, NAPPE_DISK_SAME);
}

void
nappe_document_keep_mine (NappeDocument *self)
{
  if (self->disk != NAPPE_DISK_CHANGED)
    return;
  g_free (self->base);
  self->base = g_strdup (self->seen);
  self->apart = TRUE;
  set_disk (self, NAPPE_DISK_SAME);
}

NappeDiskState
nappe_document_get_disk (NappeDocument *self)
{
  return self->disk;
}

const char *
nappe_document_get_base (NappeDocument *self)
{
  return self->base;
}

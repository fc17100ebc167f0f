/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window does to open files: read them one a window, be stopped, take what is dropped. */
#include "studio/window/window-private.h"

#include <glib/gi18n-lib.h>

#include "studio/application/recent-menu.h"
#include "studio/application/session.h"

void
nappe_window_remember_file (NappeWindow *self)
{
  GFile *file = nappe_document_get_file (self->document);
  g_autoptr (GFile) folder = g_file_get_parent (file);

  nappe_recent_menu_add (file);
  if (folder != NULL)
    nappe_preferences_set_folder (self->preferences, folder);
  nappe_session_remember (gtk_window_get_application (GTK_WINDOW (self)), self->preferences, NULL);
}

/* A window that waits to be drawn or reads, and the file that it opens. */
typedef struct
{
  NappeWindow *window;
  GFile *file;
  GCancellable *cancellable;
} Reading;

static void
reading_free (gpointer data)
{
  Reading *reading = data;

  g_object_unref (reading->window);
  g_object_unref (reading->file);
  g_object_unref (reading->cancellable);
  g_free (reading);
}

/* Nothing is read any more. */
static void
end_loading (NappeWindow *self)
{
  g_clear_object (&self->loading);
  g_clear_object (&self->loading_file);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.stop-loading", FALSE);
  if (nappe_document_get_build (self->document) == NULL)
    gtk_stack_set_visible_child_name (self->pages, "empty");
}

static void
opened (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Reading *reading = user_data;
  NappeWindow *self = reading->window;
  g_autoptr (GError) error = NULL;
  gboolean done = nappe_document_open_finish (NAPPE_DOCUMENT (source), result, &error);

  /* The window may have been told to read something else, or nothing since it was closed. */
  if (self->loading == reading->cancellable && !nappe_window_is_closed (self))
    {
      end_loading (self);
      if (done)
        nappe_window_remember_file (self);
      else
        nappe_window_show_error (self, error->message);
    }
  reading_free (reading);
}

static gboolean
start_reading (gpointer data)
{
  Reading *reading = data;

  if (reading->window->loading == reading->cancellable)
    nappe_document_open_async (reading->window->document, reading->file, reading->cancellable, opened, reading);
  else
    reading_free (reading);
  return G_SOURCE_REMOVE;
}

/* Reading and computing would take time from the first frame, so they wait for a quiet moment. */
static void
read_into (NappeWindow *self, GFile *file)
{
  Reading *reading = g_new (Reading, 1);

  nappe_window_stop_loading (self);
  self->loading = g_cancellable_new ();
  self->loading_file = g_object_ref (file);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.stop-loading", TRUE);
  if (nappe_document_get_build (self->document) == NULL)
    gtk_stack_set_visible_child_name (self->pages, "loading");
  reading->window = g_object_ref (self);
  reading->file = g_object_ref (file);
  reading->cancellable = g_object_ref (self->loading);
  g_idle_add_full (G_PRIORITY_LOW, start_reading, reading, NULL);
}

/* A file system that does not answer keeps a worker, not the window. */
void
nappe_window_stop_loading (NappeWindow *self)
{
  if (self->loading == NULL)
    return;
  g_cancellable_cancel (self->loading);
  end_loading (self);
}

void
nappe_window_reload (NappeWindow *self)
{
  read_into (self, nappe_document_get_file (self->document));
}

void
nappe_window_open_file (NappeWindow *self, GFile *file)
{
  NappeWindow *target = self, *open = nappe_window_find (gtk_window_get_application (GTK_WINDOW (self)), file);

  nappe_preferences_hold_session (self->preferences, FALSE);
  /* Two windows on one file would write over each other. */
  if (open != NULL)
    {
      gtk_window_present (GTK_WINDOW (open));
      return;
    }
  /* An open build, or one that is on its way, is not thrown away: the file gets a window of its own. */
  if (nappe_document_get_build (self->document) != NULL || self->loading != NULL)
    {
      target = nappe_window_new (gtk_window_get_application (GTK_WINDOW (self)), self->preferences);
      gtk_window_present (GTK_WINDOW (target));
    }
  read_into (target, file);
}

/* By its name, as a table of numbers has it: no build is called so. */
static gboolean
is_table (GFile *file)
{
  g_autofree char *name = g_file_get_basename (file), *plain = name != NULL ? g_ascii_strdown (name, -1) : NULL;

  return plain != NULL && (g_str_has_suffix (plain, ".csv") || g_str_has_suffix (plain, ".tsv"));
}

/* A table is no build, and may be the curve of a pump. */
static void
open_build_or_table (NappeWindow *self, GFile *file)
{
  g_autofree char *uri = is_table (file) ? g_file_get_uri (file) : NULL;

  if (uri != NULL)
    gtk_widget_activate_action (GTK_WIDGET (self), "app.import-curve", "s", uri);
  else
    nappe_window_open_file (self, file);
}

void
nappe_window_open_files (NappeWindow *self, GFile *const *files, guint n)
{
  g_autofree char *text = NULL;

  for (guint i = 0; i < MIN (n, NAPPE_WINDOW_FILES_MAX); i++)
    open_build_or_table (self, files[i]);
  if (n <= NAPPE_WINDOW_FILES_MAX)
    return;
  /* Translators: how many files were opened, and how many there were. */
  text = g_strdup_printf (_("Only the first %u of %u files are opened: each has a window of its own"), NAPPE_WINDOW_FILES_MAX, n);
  nappe_window_say (self, text);
}

static void
open_uri_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_autoptr (GFile) file = g_file_new_for_uri (g_variant_get_string (parameter, NULL));

  nappe_window_open_file (NAPPE_WINDOW (widget), file);
}

static void
stop_loading_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  nappe_window_stop_loading (NAPPE_WINDOW (widget));
}

static gboolean
dropped (GtkDropTarget *target, const GValue *value, double x, double y, NappeWindow *self)
{
  g_autoptr (GPtrArray) files = g_ptr_array_new ();

  for (GSList *file = g_value_get_boxed (value); file != NULL; file = file->next)
    g_ptr_array_add (files, file->data);
  nappe_window_open_files (self, (GFile *const *) files->pdata, files->len);
  return files->len > 0;
}

void
nappe_window_add_drop_target (NappeWindow *self)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  g_signal_connect (target, "drop", G_CALLBACK (dropped), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}

void
nappe_window_install_open_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.open-uri", "s", open_uri_action);
  gtk_widget_class_install_action (widget_class, "win.stop-loading", NULL, stop_loading_action);
}

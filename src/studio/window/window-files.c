/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window does with files: choose, save, export, and asking before changes are lost. */
#include "studio/window/window-private.h"

#include <glib/gi18n-lib.h>

#include <string.h>

#include "studio/window/export.h"

/* File choosers */

static void
add_filter (GtkFileChooser *chooser, const char *name, const char *pattern)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, name);
  gtk_file_filter_add_pattern (filter, pattern);
  gtk_file_chooser_add_filter (chooser, filter);
}

static GtkFileChooser *
new_chooser (NappeWindow *self, const char *title, GtkFileChooserAction action, const char *accept, GCallback response)
{
  g_autoptr (GFile) folder = nappe_preferences_get_folder (self->preferences);

  if (self->chooser != NULL)
    gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  self->chooser = gtk_file_chooser_native_new (title, GTK_WINDOW (self), action, accept, NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (self->chooser), TRUE);
  if (folder != NULL)
    gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (self->chooser), folder, NULL);
  g_signal_connect (self->chooser, "response", response, self);
  return GTK_FILE_CHOOSER (self->chooser);
}

/* The file that was chosen, transfer full; NULL: none. The chooser goes. */
static GFile *
take_choice (NappeWindow *self, int response)
{
  GFile *file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (self->chooser)) : NULL;

  gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  return file;
}

/* The chosen file with an ending that says its format. Transfer full. */
static GFile *
with_ending (GFile *file, const char *const *endings)
{
  g_autofree char *base = g_file_get_basename (file);
  g_autofree char *name = NULL;
  g_autoptr (GFile) folder = g_file_get_parent (file);

  for (gsize i = 0; endings[i] != NULL; i++)
    if (g_str_has_suffix (base, endings[i]))
      return g_object_ref (file);
  name = g_strconcat (base, endings[0], NULL);
  return folder != NULL ? g_file_get_child (folder, name) : g_object_ref (file);
}

static void
open_chosen (GtkNativeDialog *dialog, int response, NappeWindow *self)
{
  g_autoptr (GFile) file = take_choice (self, response);

  if (file != NULL)
    nappe_window_open_file (self, file);
}

static void
open_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  GtkFileChooser *chooser = new_chooser (NAPPE_WINDOW (widget), _("Open a Build"), GTK_FILE_CHOOSER_ACTION_OPEN,
                                         _("_Open"), G_CALLBACK (open_chosen));

  add_filter (chooser, _("Builds"), "*.nappe");
  add_filter (chooser, _("All Files"), "*");
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

/* Saving */

/* If the window was to close, or the program to end, it goes on. */
static void
stay_open (NappeWindow *self)
{
  self->closing = FALSE;
  nappe_preferences_hold_session (self->preferences, FALSE);
}

static void
tell_saved (NappeWindow *self)
{
  gboolean closing = self->closing;

  nappe_window_remember_file (self);
  nappe_window_show_error (self, NULL);
  /* What was changed while the file was written is asked about again. */
  self->closing = closing && !nappe_document_is_modified (self->document);
  if (closing)
    gtk_window_close (GTK_WINDOW (self));
  else
    nappe_window_say (self, _("Saved"));
}

static void
tell_not_saved (NappeWindow *self, const GError *error)
{
  stay_open (self);
  /* Where another program has changed the file there is a choice, and the window offers it. */
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_WRONG_ETAG))
    nappe_window_say (self, error->message);
  else
    nappe_window_show_error (self, error->message);
}

static void
saved (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeWindow) self = user_data;
  g_autoptr (GError) error = NULL;
  gboolean done = nappe_document_save_finish (NAPPE_DOCUMENT (source), result, &error);

  if (!nappe_window_is_closed (self) && done)
    tell_saved (self);
  else if (!nappe_window_is_closed (self))
    tell_not_saved (self, error);
  g_application_release (g_application_get_default ());
}

static void
save_to (NappeWindow *self, GFile *file)
{
  /* The program must not end before the file is whole. */
  g_application_hold (g_application_get_default ());
  nappe_document_save_async (self->document, file, NULL, saved, g_object_ref (self));
}

static void
save_chosen (GtkNativeDialog *dialog, int response, NappeWindow *self)
{
  static const char *const endings[] = { ".nappe", NULL };
  g_autoptr (GFile) file = take_choice (self, response);
  g_autoptr (GFile) target = file != NULL ? with_ending (file, endings) : NULL;

  if (target != NULL)
    save_to (self, target);
  else
    stay_open (self);
}

static void
suggest_name (NappeWindow *self, GtkFileChooser *chooser, const char *ending)
{
  GFile *file = nappe_document_get_file (self->document);
  g_autofree char *base = file != NULL ? g_file_get_basename (file) : g_strdup (_("build"));
  g_autofree char *name = NULL;

  if (g_str_has_suffix (base, ".nappe"))
    base[strlen (base) - strlen (".nappe")] = '\0';
  name = g_strconcat (base, ending, NULL);
  gtk_file_chooser_set_current_name (chooser, name);
}

static void
save_as_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  GtkFileChooser *chooser = new_chooser (self, _("Save the Build"), GTK_FILE_CHOOSER_ACTION_SAVE, _("_Save"),
                                         G_CALLBACK (save_chosen));

  suggest_name (self, chooser, ".nappe");
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

static void
save_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  GFile *file = nappe_document_get_file (self->document);

  if (file != NULL)
    save_to (self, file);
  else
    save_as_action (widget, name, parameter);
}

/* Exporting */

void
nappe_window_ask_target (NappeWindow *self, const char *title, const char *ending, GCallback response)
{
  GtkFileChooser *chooser = new_chooser (self, title, GTK_FILE_CHOOSER_ACTION_SAVE, _("_Export"), response);

  suggest_name (self, chooser, ending);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

GFile *
nappe_window_take_target (NappeWindow *self, int response, const char *const *endings)
{
  g_autoptr (GFile) file = take_choice (self, response);

  return file != NULL ? with_ending (file, endings) : NULL;
}

void
nappe_window_exported (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeWindow) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *file_name = nappe_export_finish (result, &error);

  if (nappe_window_is_closed (self))
    return;
  if (file_name != NULL)
    {
      /* Translators: %s is the name of a file. */
      g_autofree char *text = g_strdup_printf (_("Exported to %s"), file_name);
      nappe_window_say (self, text);
    }
  else
    {
      nappe_window_show_error (self, error->message);
    }
}

static void
export_sheet_chosen (GtkNativeDialog *dialog, int response, NappeWindow *self)
{
  static const char *const endings[] = { ".pdf", NULL };
  g_autoptr (GFile) target = nappe_window_take_target (self, response, endings);
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);

  /* Another build may have come in while the person chose. */
  if (target != NULL && outcome != NULL)
    nappe_export_sheet_async (outcome, nappe_document_get_title (self->document),
                              nappe_preferences_get_paper (self->preferences), target, nappe_window_exported,
                              g_object_ref (self));
}

static void
export_sheet_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  nappe_window_ask_target (NAPPE_WINDOW (widget), _("Export the Specification Sheet"), ".pdf",
                           G_CALLBACK (export_sheet_chosen));
}

/* The chart that is looked at. FALSE: none is. */
static gboolean
shows_chart (NappeWindow *self, NappeChartKind *kind, const char **part)
{
  return self->chart_view != NULL && nappe_window_visible_canvas (self) == nappe_chart_view_get_canvas (self->chart_view)
         && nappe_chart_view_get_chart (self->chart_view, kind, part);
}

static void
export_picture_chosen (GtkNativeDialog *dialog, int response, NappeWindow *self)
{
  static const char *const endings[] = { ".svg", ".png", ".pdf", NULL };
  g_autoptr (GFile) target = nappe_window_take_target (self, response, endings);
  NappeCanvas *canvas = nappe_window_visible_canvas (self);
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);
  NappeChartKind kind;
  const char *part;

  if (target == NULL || outcome == NULL)
    return;
  if (shows_chart (self, &kind, &part))
    nappe_export_chart_async (outcome, kind, part, target, nappe_window_exported, g_object_ref (self));
  else if (nappe_canvas_get_shown (canvas) == NAPPE_SHOW_MOMENT)
    nappe_window_export_moment_to (self, target);
  else
    nappe_export_picture_async (outcome, nappe_canvas_get_kind (canvas), nappe_canvas_get_shown (canvas), target,
                                nappe_window_exported, g_object_ref (self));
}

static void
export_picture_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  static const char *const endings[] = {
    [NAPPE_PICTURE_ELEVATION] = "-elevation.svg",
    [NAPPE_PICTURE_FLOW] = "-flow.svg",
    [NAPPE_PICTURE_PLAN] = "-plan.svg",
    [NAPPE_PICTURE_PANELS] = "-panels.svg",
  };
  NappePictureKind kind = nappe_canvas_get_kind (nappe_window_visible_canvas (self));
  NappeChartKind chart;
  const char *part;

  if (shows_chart (self, &chart, &part))
    {
      g_autofree char *ending = g_strdup_printf ("-%s.svg", nappe_chart_nick (chart));

      nappe_window_ask_target (self, _("Export the Chart"), ending, G_CALLBACK (export_picture_chosen));
      return;
    }
  nappe_window_ask_target (self, _("Export the Picture"), endings[kind], G_CALLBACK (export_picture_chosen));
}

/* History */

static void
undo_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  nappe_document_undo (NAPPE_WINDOW (widget)->document);
}

static void
redo_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  nappe_document_redo (NAPPE_WINDOW (widget)->document);
}

/* Closing */

static void
close_answered (AdwMessageDialog *dialog, const char *response, NappeWindow *self)
{
  g_clear_weak_pointer (&self->close_question);
  if (g_str_equal (response, "cancel"))
    {
      stay_open (self);
      return;
    }
  self->closing = TRUE;
  /* The dialog is still on its way out and must not look for a window that has gone. */
  gtk_window_set_transient_for (GTK_WINDOW (dialog), NULL);
  if (g_str_equal (response, "save"))
    gtk_widget_activate_action (GTK_WIDGET (self), "win.save", NULL);
  else
    gtk_window_close (GTK_WINDOW (self));
}

void
nappe_window_ask_before_closing (NappeWindow *self)
{
  GtkWidget *dialog;

  /* Asked again before it was answered. */
  if (self->close_question != NULL)
    {
      gtk_window_present (GTK_WINDOW (self->close_question));
      return;
    }
  dialog = adw_message_dialog_new (GTK_WINDOW (self), _("Save changes?"), NULL);
  g_set_weak_pointer (&self->close_question, dialog);
  /* Translators: %s is the name of a file. */
  adw_message_dialog_format_body (ADW_MESSAGE_DIALOG (dialog),
                                  _("“%s” has changes that are not saved. They are lost if they are not saved now."),
                                  nappe_document_get_title (self->document));
  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "cancel", _("_Cancel"), "discard", _("_Discard"),
                                    "save", _("_Save"), NULL);
  adw_message_dialog_set_response_appearance (ADW_MESSAGE_DIALOG (dialog), "discard", ADW_RESPONSE_DESTRUCTIVE);
  adw_message_dialog_set_response_appearance (ADW_MESSAGE_DIALOG (dialog), "save", ADW_RESPONSE_SUGGESTED);
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "save");
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  g_signal_connect_object (dialog, "response", G_CALLBACK (close_answered), self, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
close_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_window_close (GTK_WINDOW (widget));
}

void
nappe_window_install_file_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.open", NULL, open_action);
  gtk_widget_class_install_action (widget_class, "win.save", NULL, save_action);
  gtk_widget_class_install_action (widget_class, "win.save-as", NULL, save_as_action);
  gtk_widget_class_install_action (widget_class, "win.export-sheet", NULL, export_sheet_action);
  gtk_widget_class_install_action (widget_class, "win.export-picture", NULL, export_picture_action);
  gtk_widget_class_install_action (widget_class, "win.undo", NULL, undo_action);
  gtk_widget_class_install_action (widget_class, "win.redo", NULL, redo_action);
  gtk_widget_class_install_action (widget_class, "win.close", NULL, close_action);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/application/recovery.h"

#include <glib/gi18n-lib.h>

#include "file/file.h"

#define LIST_MARGIN 4 /* [px] */
/* Room for so many copies before the list scrolls, and for each [px]: a name and three lines of where it came from. */
#define ROWS_SHOWN 3u
#define ROW_HEIGHT 76

/* One copy that was left. */
typedef struct
{
  NappeRescue *rescue; /* NULL: restored or thrown away */
  NappeBuild *build;   /* NULL: it cannot be read */
  GError *error;
} Left;

typedef struct
{
  GtkApplication *application;
  NappePreferences *preferences;
  GPtrArray *left;
} Offer;

static void
left_free (gpointer data)
{
  Left *left = data;

  g_clear_pointer (&left->rescue, nappe_rescue_free);
  g_clear_object (&left->build);
  g_clear_error (&left->error);
  g_free (left);
}

static void
offer_free (gpointer data)
{
  Offer *offer = data;

  g_object_unref (offer->application);
  g_object_unref (offer->preferences);
  g_clear_pointer (&offer->left, g_ptr_array_unref);
  g_free (offer);
}

static void
look_for_left (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autofree char *folder = nappe_rescue_folder ();
  g_autoptr (GPtrArray) rescues = nappe_rescue_claim_all (folder);
  GPtrArray *all = g_ptr_array_new_with_free_func (left_free);

  while (rescues->len > 0)
    {
      Left *left = g_new0 (Left, 1);

      left->rescue = g_ptr_array_steal_index (rescues, 0);
      left->build = nappe_file_read (nappe_rescue_get_file (left->rescue), NULL, &left->error);
      g_ptr_array_add (all, left);
    }
  g_task_return_pointer (task, all, (GDestroyNotify) g_ptr_array_unref);
}

/* Asking */

static char *
name_of (Left *left)
{
  GFile *origin = nappe_rescue_get_origin (left->rescue);
  g_autofree char *base = origin != NULL ? g_file_get_basename (origin) : NULL;

  return base != NULL ? g_filename_display_name (base) : g_strdup (_("Unsaved build"));
}

static char *
describe (Left *left)
{
  GFile *origin = nappe_rescue_get_origin (left->rescue);
  g_autoptr (GFile) folder = origin != NULL ? g_file_get_parent (origin) : NULL;
  g_autofree char *place = folder != NULL ? g_file_get_parse_name (folder) : g_strdup (_("never saved"));
  g_autoptr (GDateTime) time = nappe_rescue_get_time (left->rescue);
  g_autofree char *when = time != NULL ? g_date_time_format (time, "%x %X") : g_strdup ("?");

  if (left->error != NULL)
    return g_strdup (left->error->message);
  /* Translators: date and time of unsaved changes; folder of their file, or “never saved”. */
  return g_strdup_printf (_("Changed on %s · %s"), when, place);
}

static GtkWidget *
new_row (Left *left)
{
  GtkWidget *row = adw_action_row_new ();
  g_autofree char *name = name_of (left), *description = describe (left);
  g_autofree char *title = g_markup_escape_text (name, -1), *subtitle = g_markup_escape_text (description, -1);

  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (row), title);
  adw_action_row_set_subtitle (ADW_ACTION_ROW (row), subtitle);
  adw_action_row_set_subtitle_lines (ADW_ACTION_ROW (row), 3);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  return row;
}

static GtkWidget *
new_list (Offer *offer)
{
  GtkWidget *list = gtk_list_box_new (), *scrolled = gtk_scrolled_window_new ();

  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (list, "boxed-list");
  /* The shadow round the list is outside of it. */
  gtk_widget_set_margin_top (list, LIST_MARGIN);
  gtk_widget_set_margin_bottom (list, LIST_MARGIN);
  gtk_widget_set_margin_start (list, LIST_MARGIN);
  gtk_widget_set_margin_end (list, LIST_MARGIN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Unsaved builds"), -1);
  for (guint i = 0; i < offer->left->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (list), new_row (g_ptr_array_index (offer->left, i)));
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled),
                                              ROW_HEIGHT * (int) MIN (offer->left->len, ROWS_SHOWN));
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), ROW_HEIGHT * (int) ROWS_SHOWN);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), list);
  return scrolled;
}

/* Answering */

/* A window that shows the file without changes, else one that shows nothing, else a new one. */
static NappeWindow *
window_for (Offer *offer, GFile *origin)
{
  NappeWindow *window = origin != NULL ? nappe_window_find (offer->application, origin) : NULL;
  GtkWindow *active = gtk_application_get_active_window (offer->application);

  if (window != NULL && !nappe_document_is_modified (nappe_window_get_document (window)))
    return window;
  if (NAPPE_IS_WINDOW (active) && nappe_window_is_empty (NAPPE_WINDOW (active)))
    return NAPPE_WINDOW (active);
  return nappe_window_new (offer->application, offer->preferences);
}

static void
restore_all (Offer *offer)
{
  for (guint i = 0; i < offer->left->len; i++)
    {
      Left *left = g_ptr_array_index (offer->left, i);
      NappeWindow *window;

      /* What cannot be read stays where it is, for somebody to look at. */
      if (left->build == NULL)
        continue;
      window = window_for (offer, nappe_rescue_get_origin (left->rescue));
      gtk_window_present (GTK_WINDOW (window));
      nappe_window_restore (window, left->build, g_steal_pointer (&left->rescue));
    }
}

static void
answered (AdwMessageDialog *dialog, const char *response, Offer *offer)
{
  if (g_str_equal (response, "restore"))
    restore_all (offer);
  for (guint i = 0; g_str_equal (response, "discard") && i < offer->left->len; i++)
    g_clear_pointer (&((Left *) g_ptr_array_index (offer->left, i))->rescue, nappe_rescue_discard);
  /* What is left is let go of, and offered by the next run. */
  g_ptr_array_set_size (offer->left, 0);
}

static void
ask (Offer *offer, GtkWindow *parent)
{
  GtkWidget *dialog = adw_message_dialog_new (parent, _("Restore unsaved changes?"),
                                              _("The program ended before these builds were saved. Restoring opens "
                                                "them with their changes; no file is written until you save."));

  adw_message_dialog_set_extra_child (ADW_MESSAGE_DIALOG (dialog), new_list (offer));
  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "later", _("_Later"), "discard", _("_Discard"),
                                    "restore", _("_Restore"), NULL);
  adw_message_dialog_set_response_appearance (ADW_MESSAGE_DIALOG (dialog), "discard", ADW_RESPONSE_DESTRUCTIVE);
  adw_message_dialog_set_response_appearance (ADW_MESSAGE_DIALOG (dialog), "restore", ADW_RESPONSE_SUGGESTED);
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "restore");
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "later");
  g_signal_connect (dialog, "response", G_CALLBACK (answered), offer);
  g_object_set_data_full (G_OBJECT (dialog), "offer", offer, offer_free);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
found (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Offer *offer = user_data;
  GtkWindow *parent = gtk_application_get_active_window (offer->application);

  offer->left = g_task_propagate_pointer (G_TASK (result), NULL);
  if (offer->left != NULL && offer->left->len > 0 && parent != NULL)
    ask (offer, parent);
  else
    offer_free (offer);
}

void
nappe_recovery_offer (GtkApplication *application, NappePreferences *preferences)
{
  Offer *offer = g_new0 (Offer, 1);
  g_autoptr (GTask) task = g_task_new (NULL, NULL, found, offer);

  offer->application = g_object_ref (application);
  offer->preferences = g_object_ref (preferences);
  g_task_set_source_tag (task, nappe_recovery_offer);
  g_task_run_in_thread (task, look_for_left);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/preferences/own-parts-page.h"

#include <glib/gi18n-lib.h>

#include "catalogue/own-pump.h"
#include "studio/preferences/pump-window.h"
#include "studio/window/gradual-rows.h"

/* A list that is longer is no list for people, and a row has many widgets. */
#define ROWS_MAX 200u

struct _NappeOwnPartsPage
{
  AdwPreferencesPage parent_instance;
  NappePreferences *preferences;
  NappeCatalogue *catalogue;
  GCancellable *loading; /* NULL: nothing is under way */
  GtkFileChooserNative *chooser;
  GtkWidget *list, *more;
};

G_DEFINE_FINAL_TYPE (NappeOwnPartsPage, nappe_own_parts_page, ADW_TYPE_PREFERENCES_PAGE)

static GtkWindow *
window_of (NappeOwnPartsPage *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  return root != NULL ? GTK_WINDOW (root) : NULL;
}

static void
say (NappeOwnPartsPage *self, const char *heading, const char *text)
{
  GtkWidget *dialog = adw_message_dialog_new (window_of (self), heading, text);

  adw_message_dialog_add_response (ADW_MESSAGE_DIALOG (dialog), "close", _("_Close"));
  gtk_window_present (GTK_WINDOW (dialog));
}

/* ---- the list ---- */

/* Transfer full. */
static char *
title_of (const NappeOwnPart *part, NappeUnitSystem units)
{
  if (part->item != NULL)
    return nappe_item_label (part->item, units);
  if (*part->id != '\0')
    return g_utf8_make_valid (part->id, -1);
  return part->path != NULL ? g_filename_display_basename (part->path) : g_strdup (_("The folder of your catalogue"));
}

/* Transfer full. */
static char *
detail_of (const NappeOwnPart *part)
{
  g_autofree char *file = NULL;

  if (part->problem != NULL)
    /* Translators: of a part of the person's own catalogue; %s is the reason with its place. */
    return g_strdup_printf (_("Left out: %s"), part->problem);
  file = g_filename_display_basename (part->path);
  /* Translators: file, line, and the source of a part's numbers. */
  return g_strdup_printf (_("%s, line %u. Source: %s"), file, part->line, part->item->source);
}

/* NULL: the catalogue is being loaded anew, and the list will be another one. */
static GtkWidget *
new_row (guint index, gpointer page)
{
  NappeOwnPartsPage *self = page;

  if (self->catalogue == NULL)
    return NULL;
  const NappeOwnPart *part = g_ptr_array_index (nappe_catalogue_own_parts (self->catalogue), index);
  g_autofree char *title = title_of (part, nappe_preferences_get_units (self->preferences)), *detail = detail_of (part);
  /* Not every version of the toolkit's library leaves the markup of a subtitle alone when it is told to. */
  g_autofree char *safe_title = g_markup_escape_text (title, -1), *safe_detail = g_markup_escape_text (detail, -1);
  GtkWidget *row = g_object_new (ADW_TYPE_ACTION_ROW, "title", safe_title, "subtitle", safe_detail, "title-lines", 0,
                                 "subtitle-lines", 0, NULL);

  if (part->problem != NULL)
    adw_action_row_add_prefix (ADW_ACTION_ROW (row), gtk_image_new_from_icon_name ("dialog-warning-symbolic"));
  if (part->index != NAPPE_OWN_PART_FILE)
    {
      GtkWidget *button = gtk_button_new_from_icon_name ("user-trash-symbolic");
      /* Translators: a button; %s is the name of a part. */
      g_autofree char *words = g_strdup_printf (_("Remove “%s”"), title);

      gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
      gtk_widget_add_css_class (button, "flat");
      gtk_widget_set_tooltip_text (button, words);
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
      gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "u", index);
      gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "own-parts.remove");
      adw_action_row_add_suffix (ADW_ACTION_ROW (row), button);
    }
  return row;
}

static void
list_parts (NappeOwnPartsPage *self)
{
  guint n = nappe_catalogue_own_parts (self->catalogue)->len;

  nappe_gradual_rows_fill (GTK_LIST_BOX (self->list), MIN (n, ROWS_MAX), new_row, g_object_ref (self), g_object_unref);
  if (n > ROWS_MAX)
    {
      g_autofree char *text
          = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "and %u more", "and %u more", n - ROWS_MAX), n - ROWS_MAX);

      gtk_label_set_text (GTK_LABEL (self->more), text);
    }
  gtk_widget_set_visible (self->more, n > ROWS_MAX);
}

static void
load_catalogue (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  NappeCatalogue *catalogue = nappe_catalogue_load_default (NULL, &error);

  if (catalogue != NULL)
    g_task_return_pointer (task, catalogue, (GDestroyNotify) nappe_catalogue_unref);
  else
    g_task_return_error (task, error);
}

static void
catalogue_loaded (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeOwnPartsPage) self = user_data;
  g_autoptr (GError) error = NULL;
  NappeCatalogue *catalogue = g_task_propagate_pointer (G_TASK (result), &error);

  /* It may have gone, or another one is being loaded. */
  if (self->loading != g_task_get_cancellable (G_TASK (result)))
    {
      g_clear_pointer (&catalogue, nappe_catalogue_unref);
      return;
    }
  g_clear_object (&self->loading);
  if (catalogue == NULL)
    {
      say (self, _("The catalogue cannot be read"), error->message);
      return;
    }
  self->catalogue = catalogue;
  list_parts (self);
}

static void
reload (NappeOwnPartsPage *self)
{
  g_autoptr (GTask) task = NULL;

  if (self->loading != NULL)
    g_cancellable_cancel (self->loading);
  g_clear_object (&self->loading);
  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
  self->loading = g_cancellable_new ();
  task = g_task_new (NULL, self->loading, catalogue_loaded, g_object_ref (self));
  g_task_set_source_tag (task, reload);
  g_task_run_in_thread (task, load_catalogue);
}

/* ---- taking a row out ---- */

/* A row that a person is asked about; it keeps the catalogue that it is in. */
typedef struct
{
  NappeCatalogue *catalogue;
  const NappeOwnPart *part;
  NappePreferences *preferences;
} Removal;

static void
removal_free (gpointer data)
{
  Removal *removal = data;

  nappe_catalogue_unref (removal->catalogue);
  g_object_unref (removal->preferences);
  g_free (removal);
}

static void
remove_row (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;

  if (nappe_own_part_remove (((Removal *) data)->part, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
row_removed (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeOwnPartsPage) self = user_data;
  Removal *removal = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;

  g_application_release (g_application_get_default ());
  if (!g_task_propagate_boolean (G_TASK (result), &error) && window_of (self) != NULL)
    say (self, _("The part is not removed"), error->message);
  /* Also where the file turned out to be another than was listed. */
  nappe_preferences_own_parts_changed (removal->preferences);
}

static void
removal_answered (AdwMessageDialog *dialog, const char *response, NappeOwnPartsPage *self)
{
  Removal *removal = g_object_steal_data (G_OBJECT (dialog), "removal");
  g_autoptr (GTask) task = NULL;

  if (removal == NULL)
    return;
  if (!g_str_equal (response, "remove"))
    {
      removal_free (removal);
      return;
    }
  g_application_hold (g_application_get_default ());
  task = g_task_new (NULL, NULL, row_removed, g_object_ref (self));
  g_task_set_source_tag (task, removal_answered);
  g_task_set_task_data (task, removal, removal_free);
  g_task_run_in_thread (task, remove_row);
}

static void
remove_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeOwnPartsPage *self = NAPPE_OWN_PARTS_PAGE (widget);
  const GPtrArray *parts = self->catalogue != NULL ? nappe_catalogue_own_parts (self->catalogue) : NULL;
  guint index = g_variant_get_uint32 (parameter);
  g_autofree char *title = NULL;
  GtkWidget *dialog;
  Removal *removal;

  if (parts == NULL || index >= parts->len || ((const NappeOwnPart *) parts->pdata[index])->index == NAPPE_OWN_PART_FILE)
    return;
  removal = g_new0 (Removal, 1);
  removal->catalogue = nappe_catalogue_ref (self->catalogue);
  removal->part = parts->pdata[index];
  removal->preferences = g_object_ref (self->preferences);
  title = title_of (removal->part, nappe_preferences_get_units (self->preferences));
  dialog = adw_message_dialog_new (window_of (self), _("Remove the part?"), NULL);
  /* Translators: %s is the name of a part. */
  adw_message_dialog_format_body (
      ADW_MESSAGE_DIALOG (dialog),
      _("“%s” is taken out of your catalogue. Builds that use it find it no more. This cannot be undone."), title);
  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "cancel", _("_Cancel"), "remove", _("_Remove"), NULL);
  adw_message_dialog_set_response_appearance (ADW_MESSAGE_DIALOG (dialog), "remove", ADW_RESPONSE_DESTRUCTIVE);
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  g_object_set_data_full (G_OBJECT (dialog), "removal", removal, removal_free);
  g_signal_connect_object (dialog, "response", G_CALLBACK (removal_answered), self, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

/* ---- putting a pump in ---- */

static void
load_table (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autofree char *path = g_file_get_path (data);
  GError *error = NULL;
  NappeCurveTable *table;

  if (path == NULL)
    {
      g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED,
                               _("This place is not a folder of this computer; copy the file to one first."));
      return;
    }
  table = nappe_curve_table_load (path, &error);
  if (table != NULL)
    g_task_return_pointer (task, table, (GDestroyNotify) nappe_curve_table_free);
  else
    g_task_return_error (task, error);
}

static void
table_loaded (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeOwnPartsPage) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCurveTable) table = g_task_propagate_pointer (G_TASK (result), &error);

  if (window_of (self) == NULL)
    return;
  if (table != NULL)
    gtk_window_present (nappe_pump_window_new (window_of (self), self->preferences, g_steal_pointer (&table)));
  else
    say (self, _("No curve can be read"), error->message);
}

void
nappe_own_parts_page_read_table (NappeOwnPartsPage *self, GFile *file)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, table_loaded, g_object_ref (self));

  g_task_set_source_tag (task, nappe_own_parts_page_read_table);
  g_task_set_task_data (task, g_object_ref (file), g_object_unref);
  g_task_run_in_thread (task, load_table);
}

static void
table_chosen (GtkNativeDialog *dialog, int response, NappeOwnPartsPage *self)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;

  gtk_native_dialog_destroy (dialog);
  g_clear_object (&self->chooser);
  if (file != NULL)
    nappe_own_parts_page_read_table (self, file);
}

static void
add_filter (GtkFileChooser *chooser, const char *name, const char *const *patterns)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, name);
  for (; *patterns != NULL; patterns++)
    gtk_file_filter_add_pattern (filter, *patterns);
  gtk_file_chooser_add_filter (chooser, filter);
}

static void
add_pump_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  static const char *const tables[] = { "*.csv", "*.tsv", "*.txt", NULL }, *const all[] = { "*", NULL };
  NappeOwnPartsPage *self = NAPPE_OWN_PARTS_PAGE (widget);

  if (self->chooser != NULL)
    return;
  self->chooser = gtk_file_chooser_native_new (_("Choose a Table"), window_of (self), GTK_FILE_CHOOSER_ACTION_OPEN,
                                               _("_Open"), NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (self->chooser), TRUE);
  add_filter (GTK_FILE_CHOOSER (self->chooser), _("Tables"), tables);
  add_filter (GTK_FILE_CHOOSER (self->chooser), _("All Files"), all);
  g_signal_connect (self->chooser, "response", G_CALLBACK (table_chosen), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

static gboolean
dropped (GtkDropTarget *target, const GValue *value, double x, double y, NappeOwnPartsPage *self)
{
  GSList *files = g_value_get_boxed (value);

  if (files == NULL)
    return FALSE;
  if (files->next != NULL)
    say (self, _("No curve can be read"), _("These are several files; one table at a time is taken."));
  else
    nappe_own_parts_page_read_table (self, files->data);
  return TRUE;
}

static void
show_folder_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeOwnPartsPage *self = NAPPE_OWN_PARTS_PAGE (widget);
  g_autofree char *folder = nappe_catalogue_user_dir ();
  g_autoptr (GError) error = NULL;
  g_autofree char *uri = g_filename_to_uri (folder, NULL, &error);

  if (uri == NULL || g_mkdir_with_parents (folder, 0755) != 0)
    {
      say (self, _("The folder of your catalogue cannot be made"), folder);
      return;
    }
  gtk_show_uri (window_of (self), uri, GDK_CURRENT_TIME);
}

/* ---- the page ---- */

static void
nappe_own_parts_page_dispose (GObject *object)
{
  NappeOwnPartsPage *self = NAPPE_OWN_PARTS_PAGE (object);

  if (self->preferences != NULL)
    g_signal_handlers_disconnect_by_data (self->preferences, self);
  if (self->loading != NULL)
    g_cancellable_cancel (self->loading);
  g_clear_object (&self->loading);
  if (self->chooser != NULL)
    gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
  g_clear_object (&self->preferences);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_OWN_PARTS_PAGE);
  G_OBJECT_CLASS (nappe_own_parts_page_parent_class)->dispose (object);
}

static void
nappe_own_parts_page_class_init (NappeOwnPartsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_own_parts_page_dispose;
  gtk_widget_class_install_action (widget_class, "own-parts.add-pump", NULL, add_pump_action);
  gtk_widget_class_install_action (widget_class, "own-parts.remove", "u", remove_action);
  gtk_widget_class_install_action (widget_class, "own-parts.show-folder", NULL, show_folder_action);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/own-parts-page.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeOwnPartsPage, list);
  gtk_widget_class_bind_template_child (widget_class, NappeOwnPartsPage, more);
}

static void
nappe_own_parts_page_init (NappeOwnPartsPage *self)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect (target, "drop", G_CALLBACK (dropped), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}

void
nappe_own_parts_page_set_preferences (NappeOwnPartsPage *self, NappePreferences *preferences)
{
  self->preferences = g_object_ref (preferences);
  g_signal_connect_swapped (preferences, "own-parts-changed", G_CALLBACK (reload), self);
  reload (self);
}

NappeCatalogue *
nappe_own_parts_page_get_catalogue (NappeOwnPartsPage *self)
{
  return self->catalogue;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window says and offers when another program has changed or taken away the document's file. */
#include "studio/window/window-private.h"

#include <glib/gi18n-lib.h>

static void
show_bar (NappeWindow *self, gboolean gone)
{
  const char *title = nappe_document_get_title (self->document);
  /* Translators: %s is the name of a file. */
  g_autofree char *gone_text = g_strdup_printf (_("“%s” has been deleted or moved. The build is in this window alone "
                                                  "until you save it."), title);
  /* Translators: %s is the name of a file. */
  g_autofree char *changed_text = g_strdup_printf (_("Another program has changed “%s”. This window shows the build as "
                                                     "it was before."), title);

  gtk_label_set_text (self->disk_text, gone ? gone_text : changed_text);
  gtk_widget_set_visible (self->reload_button, !gone);
  gtk_widget_set_visible (self->keep_button, !gone);
  gtk_widget_set_visible (self->save_button, gone);
}

void
nappe_window_update_disk (NappeWindow *self)
{
  NappeDiskState disk = nappe_document_get_disk (self->document);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.reload", disk == NAPPE_DISK_CHANGED);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.keep-mine", disk == NAPPE_DISK_CHANGED);
  if (disk != NAPPE_DISK_SAME)
    show_bar (self, disk == NAPPE_DISK_GONE);
  gtk_info_bar_set_revealed (self->disk_bar, disk != NAPPE_DISK_SAME);
}

static void
reload_answered (AdwMessageDialog *dialog, const char *response, NappeWindow *self)
{
  if (g_str_equal (response, "reload"))
    nappe_window_reload (self);
}

static void
ask_before_reloading (NappeWindow *self)
{
  GtkWidget *dialog = adw_message_dialog_new (GTK_WINDOW (self), _("Reload and lose your changes?"), NULL);

  adw_message_dialog_format_body (ADW_MESSAGE_DIALOG (dialog),
                                  /* Translators: %s is the name of a file. */
                                  _("“%s” has changes of yours that are not saved. Reloading puts what the other program "
                                    "has written in their place. To have both, save yours under another name first."),
                                  nappe_document_get_title (self->document));
  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "cancel", _("_Cancel"), "reload", _("_Reload"), NULL);
  adw_message_dialog_set_response_appearance (ADW_MESSAGE_DIALOG (dialog), "reload", ADW_RESPONSE_DESTRUCTIVE);
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  g_signal_connect_object (dialog, "response", G_CALLBACK (reload_answered), self, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
reload_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);

  if (nappe_document_is_modified (self->document))
    ask_before_reloading (self);
  else
    nappe_window_reload (self);
}

static void
keep_mine_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  nappe_document_keep_mine (NAPPE_WINDOW (widget)->document);
}

void
nappe_window_install_disk_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.reload", NULL, reload_action);
  gtk_widget_class_install_action (widget_class, "win.keep-mine", NULL, keep_mine_action);
}

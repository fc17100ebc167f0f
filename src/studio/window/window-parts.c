/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adding, taking away and copying parts. */
#include "studio/window/window-private.h"

#include <glib/gi18n-lib.h>

#include "assembly/assembly.h"
#include "studio/parts/add-window.h"

/* What is picked in a build that may be changed; NULL: nothing. */
static NappePart *
picked_part (NappeWindow *self)
{
  NappeBuild *build = nappe_document_get_build (self->document);

  return build != NULL && self->selected != NULL ? nappe_build_find (build, self->selected) : NULL;
}

void
nappe_window_update_part_actions (NappeWindow *self)
{
  gboolean editable = nappe_document_get_build (self->document) != NULL && self->preview == NULL
                      && nappe_document_get_catalogue (self->document) != NULL;
  NappePart *part = picked_part (self);
  gboolean listed = part != NULL && nappe_assembly_can_remove (part);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.add", editable);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.add-at", editable);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.paste", editable);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.remove", editable && listed);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.duplicate", editable && listed);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.copy", listed);
  nappe_window_update_chart_action (self);
}

static void
show_added (NappeWindow *self, const char *part)
{
  NappeBuild *build = nappe_document_get_build (self->document);

  nappe_window_picked_in_picture (self, part);
  if (nappe_build_undo_label (build) != NULL)
    nappe_window_say_undoable (self, nappe_build_undo_label (build));
}

static void
open_add_window (NappeWindow *self, const char *at)
{
  GtkWindow *window
      = nappe_add_window_new (GTK_WINDOW (self), self->document, nappe_preferences_get_units (self->preferences), at);

  g_signal_connect_object (window, "added", G_CALLBACK (show_added), self, G_CONNECT_SWAPPED);
  gtk_window_present (window);
}

static void
add_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);

  open_add_window (self, parameter != NULL ? g_variant_get_string (parameter, NULL) : self->selected);
}

static void
remove_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  NappeBuild *build = nappe_document_get_build (self->document);
  NappePart *part = picked_part (self);
  g_autoptr (NappeBuild) before = part != NULL ? nappe_build_copy (build) : NULL;
  g_autofree char *id = part != NULL ? g_strdup (nappe_part_get_id (part)) : NULL, *text = NULL;
  g_autoptr (GError) error = NULL;

  if (part == NULL)
    return;
  if (!nappe_assembly_remove (build, nappe_document_get_catalogue (self->document), part, &error))
    {
      nappe_window_say (self, error->message);
      return;
    }
  text = nappe_assembly_tell_removed (before, build, id);
  nappe_window_select (self, NULL);
  nappe_window_say_undoable (self, text);
}

static void
duplicate_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  NappePart *part = picked_part (self), *copy;
  g_autoptr (GError) error = NULL;

  if (part == NULL)
    return;
  copy = nappe_assembly_duplicate (nappe_document_get_build (self->document), nappe_document_get_catalogue (self->document),
                                   part, &error);
  if (copy != NULL)
    show_added (self, nappe_part_get_id (copy));
  else
    nappe_window_say (self, error->message);
}

static void
copy_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  NappePart *part = picked_part (self);
  g_autofree char *text = part != NULL ? nappe_assembly_copy (part) : NULL, *message = NULL;

  if (part == NULL)
    return;
  if (text != NULL)
    gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
  /* Translators: %s is the name of a part. */
  message = g_strdup_printf (text != NULL ? _("“%s” is copied") : _("No copy can be made of “%s”"),
                             nappe_part_display_name (part));
  nappe_window_say (self, message);
}

static void
paste_text (NappeWindow *self, const char *text)
{
  NappeBuild *build = nappe_document_get_build (self->document);
  NappeCatalogue *catalogue = nappe_document_get_catalogue (self->document);
  g_autoptr (GError) error = NULL;
  NappePart *copy;

  if (build == NULL || catalogue == NULL || self->preview != NULL)
    return;
  copy = nappe_assembly_paste (build, catalogue, text, picked_part (self), &error);
  if (copy != NULL)
    show_added (self, nappe_part_get_id (copy));
  else
    nappe_window_say (self, error->message);
}

static void
text_read (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeWindow) self = NAPPE_WINDOW (user_data);
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);

  if (!nappe_window_is_closed (self))
    paste_text (self, text != NULL ? text : "");
}

static void
paste_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (widget), NULL, text_read, g_object_ref (widget));
}

/* The keys reach the window only where no entry took them for its text. */
void
nappe_window_install_part_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.add", NULL, add_action);
  gtk_widget_class_install_action (widget_class, "win.add-at", "s", add_action);
  gtk_widget_class_install_action (widget_class, "win.remove", NULL, remove_action);
  gtk_widget_class_install_action (widget_class, "win.duplicate", NULL, duplicate_action);
  gtk_widget_class_install_action (widget_class, "win.copy", NULL, copy_action);
  gtk_widget_class_install_action (widget_class, "win.paste", NULL, paste_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Insert, 0, "win.add", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Delete, 0, "win.remove", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_d, GDK_CONTROL_MASK, "win.duplicate", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_c, GDK_CONTROL_MASK, "win.copy", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_v, GDK_CONTROL_MASK, "win.paste", NULL);
}

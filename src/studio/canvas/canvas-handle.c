/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/canvas-handle.h"

#include <glib/gi18n-lib.h>

/* Shift and an arrow key go so many steps. */
#define FAST 10

struct _NappeCanvasHandle
{
  GtkWidget parent_instance;
  NappeHandle handle; /* words are in `words` */
  GStringChunk *words;
};

G_DEFINE_FINAL_TYPE (NappeCanvasHandle, nappe_canvas_handle, GTK_TYPE_WIDGET)

enum
{
  SIGNAL_NUDGED,
  SIGNAL_ENTERED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void
nudge (GtkWidget *widget, int right, int up)
{
  g_signal_emit (widget, signals[SIGNAL_NUDGED], 0, right, up);
}

static void
nudge_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  int right, up;

  g_variant_get (parameter, "(ii)", &right, &up);
  nudge (widget, right, up);
}

/* More of the number, whichever way that is. */
static void
step_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  const NappeHandle *handle = &NAPPE_CANVAS_HANDLE (widget)->handle;
  int way = (g_str_has_suffix (name, "more") ? 1 : -1) * (handle->per_pixel > 0 ? 1 : -1);

  nudge (widget, handle->upright ? 0 : way, handle->upright ? way : 0);
}

static void
enter_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_signal_emit (widget, signals[SIGNAL_ENTERED], 0);
}

static void
nappe_canvas_handle_finalize (GObject *object)
{
  g_string_chunk_free (NAPPE_CANVAS_HANDLE (object)->words);
  G_OBJECT_CLASS (nappe_canvas_handle_parent_class)->finalize (object);
}

static void
bind_arrow (GtkWidgetClass *klass, guint key, guint pad_key, int right, int up)
{
  gtk_widget_class_add_binding_action (klass, key, 0, "handle.nudge", "(ii)", right, up);
  gtk_widget_class_add_binding_action (klass, pad_key, 0, "handle.nudge", "(ii)", right, up);
  gtk_widget_class_add_binding_action (klass, key, GDK_SHIFT_MASK, "handle.nudge", "(ii)", FAST * right, FAST * up);
  gtk_widget_class_add_binding_action (klass, pad_key, GDK_SHIFT_MASK, "handle.nudge", "(ii)", FAST * right, FAST * up);
}

static void
nappe_canvas_handle_class_init (NappeCanvasHandleClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = nappe_canvas_handle_finalize;
  signals[SIGNAL_NUDGED] = g_signal_new ("nudged", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                         2, G_TYPE_INT, G_TYPE_INT);
  signals[SIGNAL_ENTERED] = g_signal_new ("entered", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 0);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_SPIN_BUTTON);
  gtk_widget_class_set_css_name (widget_class, "canvashandle");
  gtk_widget_class_install_action (widget_class, "handle.nudge", "(ii)", nudge_action);
  gtk_widget_class_install_action (widget_class, "handle.more", NULL, step_action);
  gtk_widget_class_install_action (widget_class, "handle.less", NULL, step_action);
  gtk_widget_class_install_action (widget_class, "handle.enter", NULL, enter_action);
  bind_arrow (widget_class, GDK_KEY_Left, GDK_KEY_KP_Left, -1, 0);
  bind_arrow (widget_class, GDK_KEY_Right, GDK_KEY_KP_Right, 1, 0);
  bind_arrow (widget_class, GDK_KEY_Up, GDK_KEY_KP_Up, 0, 1);
  bind_arrow (widget_class, GDK_KEY_Down, GDK_KEY_KP_Down, 0, -1);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Return, 0, "handle.enter", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_KP_Enter, 0, "handle.enter", NULL);
}

static void
nappe_canvas_handle_init (NappeCanvasHandle *self)
{
  self->words = g_string_chunk_new (128);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
}

GtkWidget *
nappe_canvas_handle_new (void)
{
  return g_object_new (NAPPE_TYPE_CANVAS_HANDLE, NULL);
}

void
nappe_canvas_handle_describe (NappeCanvasHandle *self, const NappeHandle *handle, const char *name, NappeUnitSystem units)
{
  g_autofree char *value = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, handle->value, units, 0);
  g_autofree char *label = NULL;

  self->handle = *handle;
  g_string_chunk_clear (self->words);
  nappe_handle_keep_words (&self->handle, self->words);
  /* Translators: name of a handle in a picture: the name of a part, and the number of it that the handle changes */
  label = g_strdup_printf (_("%1$s: %2$s"), name, handle->label);
  gtk_widget_remove_css_class (GTK_WIDGET (self), handle->upright ? "across" : "upright");
  gtk_widget_add_css_class (GTK_WIDGET (self), handle->upright ? "upright" : "across");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, value, GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, value,
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_NOW, handle->value, GTK_ACCESSIBLE_PROPERTY_VALUE_MIN,
                                  handle->least, GTK_ACCESSIBLE_PROPERTY_VALUE_MAX, handle->most, -1);
}

const NappeHandle *
nappe_canvas_handle_get (NappeCanvasHandle *self)
{
  return &self->handle;
}

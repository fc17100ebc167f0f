/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/canvas-item.h"

struct _NappeCanvasItem
{
  GtkWidget parent_instance;
  char *part, *label, *description;
  graphene_rect_t place;
};

G_DEFINE_FINAL_TYPE (NappeCanvasItem, nappe_canvas_item, GTK_TYPE_WIDGET)

static guint activated_signal;

static void
select_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_signal_emit (widget, activated_signal, 0);
}

static void
nappe_canvas_item_finalize (GObject *object)
{
  NappeCanvasItem *self = NAPPE_CANVAS_ITEM (object);

  g_free (self->part);
  g_free (self->label);
  g_free (self->description);
  G_OBJECT_CLASS (nappe_canvas_item_parent_class)->finalize (object);
}

static void
nappe_canvas_item_class_init (NappeCanvasItemClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  const guint keys[] = { GDK_KEY_Return, GDK_KEY_KP_Enter, GDK_KEY_space };

  G_OBJECT_CLASS (klass)->finalize = nappe_canvas_item_finalize;
  activated_signal = g_signal_new ("activated", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 0);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_BUTTON);
  gtk_widget_class_set_css_name (widget_class, "canvasitem");
  /* Assistive technology finds a widget's actions only when its class installs them. */
  gtk_widget_class_install_action (widget_class, "item.select", NULL, select_action);
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding_action (widget_class, keys[i], 0, "item.select", NULL);
}

static void
nappe_canvas_item_init (NappeCanvasItem *self)
{
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  /* The pointer is the canvas's business: it knows which of two overlapping parts is on top. */
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
}

GtkWidget *
nappe_canvas_item_new (void)
{
  return g_object_new (NAPPE_TYPE_CANVAS_ITEM, NULL);
}

static void
replace (char **place, const char *text)
{
  char *copy = g_strdup (text != NULL ? text : "");

  g_free (*place);
  *place = copy;
}

void
nappe_canvas_item_describe (NappeCanvasItem *self, const NappePictureItem *item)
{
  replace (&self->part, item->part);
  replace (&self->label, item->label);
  replace (&self->description, item->description);
  graphene_rect_init (&self->place, (float) item->x, (float) item->y, (float) item->width, (float) item->height);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, self->label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, self->description, -1);
}

const char *
nappe_canvas_item_get_part (NappeCanvasItem *self)
{
  return self->part;
}

const char *
nappe_canvas_item_get_label (NappeCanvasItem *self)
{
  return self->label;
}

const char *
nappe_canvas_item_get_description (NappeCanvasItem *self)
{
  return self->description;
}

const graphene_rect_t *
nappe_canvas_item_get_place (NappeCanvasItem *self)
{
  return &self->place;
}

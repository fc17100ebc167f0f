/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/canvas-items.h"

struct _NappeCanvasItems
{
  GtkWidget *owner; /* not owned */
  const NappeCanvasItemsCalls *calls;
  GPtrArray *items; /* NappeCanvasItem, not owned: children of the owner */
};

NappeCanvasItems *
nappe_canvas_items_new (GtkWidget *owner, const NappeCanvasItemsCalls *calls)
{
  NappeCanvasItems *self = g_new (NappeCanvasItems, 1);

  *self = (NappeCanvasItems) { owner, calls, g_ptr_array_new () };
  return self;
}

void
nappe_canvas_items_free (NappeCanvasItems *self)
{
  g_ptr_array_unref (self->items);
  g_free (self);
}

static void
item_activated (NappeCanvasItem *item, NappeCanvasItems *self)
{
  self->calls->picked (self->owner, nappe_canvas_item_get_part (item));
}

static void
item_focused (GtkEventControllerFocus *focus, NappeCanvasItems *self)
{
  GtkWidget *item = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (focus));

  self->calls->focused (self->owner, nappe_canvas_item_get_place (NAPPE_CANVAS_ITEM (item)));
}

static NappeCanvasItem *
add_item (NappeCanvasItems *self)
{
  GtkWidget *item = nappe_canvas_item_new ();

  g_signal_connect (item, "activated", G_CALLBACK (item_activated), self);
  if (self->calls->focused != NULL)
    {
      GtkEventController *focus = gtk_event_controller_focus_new ();

      g_signal_connect (focus, "enter", G_CALLBACK (item_focused), self);
      gtk_widget_add_controller (item, focus);
    }
  gtk_widget_set_parent (item, self->owner);
  g_ptr_array_add (self->items, item);
  return NAPPE_CANVAS_ITEM (item);
}

void
nappe_canvas_items_match (NappeCanvasItems *self, NappePicture *picture)
{
  guint n = 0;
  const NappePictureItem *items = picture != NULL ? nappe_picture_items (picture, &n) : NULL;

  while (self->items->len > n)
    {
      gtk_widget_unparent (g_ptr_array_index (self->items, self->items->len - 1));
      g_ptr_array_set_size (self->items, (int) self->items->len - 1);
    }
  for (guint i = 0; i < n; i++)
    nappe_canvas_item_describe (i < self->items->len ? g_ptr_array_index (self->items, i) : add_item (self), &items[i]);
}

NappeCanvasItem *
nappe_canvas_items_find (NappeCanvasItems *self, const char *part)
{
  for (guint i = 0; i < self->items->len; i++)
    {
      NappeCanvasItem *item = g_ptr_array_index (self->items, i);

      if (g_strcmp0 (nappe_canvas_item_get_part (item), part) == 0)
        return item;
    }
  return NULL;
}

void
nappe_canvas_items_measure (NappeCanvasItems *self, GtkOrientation orientation)
{
  for (guint i = 0; i < self->items->len; i++)
    gtk_widget_measure (g_ptr_array_index (self->items, i), orientation, -1, NULL, NULL, NULL, NULL);
}

void
nappe_canvas_items_allocate (NappeCanvasItems *self, const NappePicturePlace *place)
{
  for (guint i = 0; i < self->items->len; i++)
    {
      GtkWidget *item = g_ptr_array_index (self->items, i);
      const graphene_rect_t *there = nappe_canvas_item_get_place (NAPPE_CANVAS_ITEM (item));
      const GtkAllocation allocation = {
        (int) (place->x + there->origin.x * place->scale),
        (int) (place->y + there->origin.y * place->scale),
        MAX (1, (int) (there->size.width * place->scale)),
        MAX (1, (int) (there->size.height * place->scale)),
      };

      gtk_widget_size_allocate (item, &allocation, -1);
    }
}

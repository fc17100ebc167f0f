/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Widgets that are touched, texts that are typed, handles that are dragged. */
#include "monkey.h"

#include <string.h>

#include "file/file.h"
#include "studio/canvas/canvas-handle.h"
#include "studio/canvas/canvas.h"

/* Things done while something is dragged, at most so deep. */
#define DEEPEST 2

GPtrArray *
monkey_parts (Monkey *self)
{
  NappeBuild *build = nappe_document_get_build (self->fixture.document);
  g_autoptr (GRegex) regex = g_regex_new ("\"id\": \"([^\"]+)\"", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  g_autofree char *text = build != NULL ? nappe_file_write_text (build, NULL) : g_strdup ("");
  GPtrArray *parts = g_ptr_array_new_with_free_func (g_free);

  for (g_regex_match (regex, text, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL))
    g_ptr_array_add (parts, g_match_info_fetch (match, 1));
  return parts;
}

void
monkey_pick_part (Monkey *self)
{
  g_autoptr (GPtrArray) parts = monkey_parts (self);
  const char *part = monkey_text (self, parts);

  g_string_append_printf (self->did, " %s", part);
  nappe_window_select (self->fixture.window, part);
}

/* Widgets */

static gboolean
is_menu_item (GtkWidget *widget)
{
  return g_str_equal (G_OBJECT_TYPE_NAME (widget), "GtkModelButton");
}

/* What leads out of the program, or would bring the window under the pointer that stands still beside it. */
static gboolean
is_forbidden (GtkWidget *widget)
{
  const char *action = GTK_IS_ACTIONABLE (widget) ? gtk_actionable_get_action_name (GTK_ACTIONABLE (widget)) : NULL;
  g_autofree char *text = NULL;

  if (is_menu_item (widget))
    g_object_get (widget, "text", &text, NULL);
  return GTK_IS_LINK_BUTTON (widget) || g_strcmp0 (action, "window.toggle-maximized") == 0
         || g_strcmp0 (action, "window.minimize") == 0 || (action != NULL && monkey_chooses_file (action))
         || (text != NULL && g_str_has_suffix (text, "…"));
}

/* Whether a pointer would meet it. */
static gboolean
is_on_top (GtkWidget *widget)
{
  GtkWidget *native = GTK_WIDGET (gtk_widget_get_native (widget)), *met;
  graphene_rect_t place;

  if (native == NULL || !gtk_widget_compute_bounds (widget, native, &place))
    return FALSE;
  met = gtk_widget_pick (native, place.origin.x + place.size.width / 2, place.origin.y + place.size.height / 2, GTK_PICK_DEFAULT);
  return met != NULL && (met == widget || gtk_widget_is_ancestor (met, widget));
}

static gboolean
takes_touch (GtkWidget *widget)
{
  return GTK_IS_BUTTON (widget) || GTK_IS_TEXT (widget) || GTK_IS_DROP_DOWN (widget) || GTK_IS_SWITCH (widget)
         || GTK_IS_RANGE (widget) || GTK_IS_LIST_BOX_ROW (widget) || GTK_IS_CHECK_BUTTON (widget)
         || NAPPE_IS_CANVAS_HANDLE (widget) || is_menu_item (widget);
}

static void
collect (GtkWidget *widget, GPtrArray *found)
{
  if (!gtk_widget_get_mapped (widget) || !gtk_widget_is_sensitive (widget))
    return;
  if (takes_touch (widget) && !is_forbidden (widget) && is_on_top (widget))
    g_ptr_array_add (found, widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    collect (child, found);
}

/* One that takes the pointer away from all else. */
static GtkWidget *
find_popover (GtkWidget *root)
{
  GtkWidget *found = NULL;

  if (!gtk_widget_get_mapped (root))
    return NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find_popover (child);
  return found != NULL ? found : GTK_IS_POPOVER (root) && gtk_popover_get_autohide (GTK_POPOVER (root)) ? root : NULL;
}

/* A popover is used, or clicked away. TRUE: there is one that waits. */
static gboolean
collect_from_popover (Monkey *self, GtkWidget *window, GPtrArray *found)
{
  GtkWidget *popover = find_popover (window);

  if (popover == NULL)
    return FALSE;
  if (monkey_pick (self, 3) == 0)
    gtk_popover_popdown (GTK_POPOVER (popover));
  else
    collect (popover, found);
  return TRUE;
}

static void
collect_from (Monkey *self, GtkWidget *window, GPtrArray *found)
{
  if (!collect_from_popover (self, window, found))
    collect (window, found);
}

static void
type_into (Monkey *self, GtkWidget *text)
{
  g_autoptr (GPtrArray) numbers = g_ptr_array_new_with_free_func (g_free);
  const char *typed;

  for (guint i = 0; i < 3; i++)
    g_ptr_array_add (numbers, g_strdup_printf (i == 2 ? "%u mm" : "%u", monkey_pick (self, i == 0 ? 10 : 2000)));
  typed = monkey_text (self, numbers);
  g_string_append_printf (self->did, " “%s”", typed);
  gtk_editable_set_text (GTK_EDITABLE (text), typed);
  if (monkey_pick (self, 3) > 0)
    g_signal_emit_by_name (text, "activate");
}

static void
touch (Monkey *self, GtkWidget *widget)
{
  const char *action = GTK_IS_ACTIONABLE (widget) ? gtk_actionable_get_action_name (GTK_ACTIONABLE (widget)) : NULL;

  g_string_append_printf (self->did, " %s %s", G_OBJECT_TYPE_NAME (widget), action != NULL ? action : "");
  if (GTK_IS_TEXT (widget))
    type_into (self, widget);
  else if (GTK_IS_BUTTON (widget))
    g_signal_emit_by_name (widget, "clicked");
  else if (GTK_IS_SWITCH (widget))
    gtk_switch_set_active (GTK_SWITCH (widget), !gtk_switch_get_active (GTK_SWITCH (widget)));
  else if (GTK_IS_CHECK_BUTTON (widget))
    gtk_check_button_set_active (GTK_CHECK_BUTTON (widget), !gtk_check_button_get_active (GTK_CHECK_BUTTON (widget)));
  else if (GTK_IS_DROP_DOWN (widget))
    {
      GListModel *model = gtk_drop_down_get_model (GTK_DROP_DOWN (widget));
      guint n = model != NULL ? g_list_model_get_n_items (model) : 0;

      if (n > 0)
        gtk_drop_down_set_selected (GTK_DROP_DOWN (widget), monkey_pick (self, n));
    }
  else if (GTK_IS_RANGE (widget))
    gtk_range_set_value (GTK_RANGE (widget), g_rand_double_range (self->rand, -10.0, 1e4));
  else if (NAPPE_IS_CANVAS_HANDLE (widget))
    g_signal_emit_by_name (widget, monkey_pick (self, 3) == 0 ? "entered" : "nudged", 1 - (int) monkey_pick (self, 3),
                           1 - (int) monkey_pick (self, 3));
  else
    gtk_widget_activate (widget);
}

/* In the window, or rather in what stands before it. */
void
monkey_touch_widget (Monkey *self)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  g_autoptr (GPtrArray) found = g_ptr_array_new ();
  GtkWidget *chosen;

  for (GList *window = windows; window != NULL; window = window->next)
    if (window->data != self->fixture.window && !NAPPE_IS_WINDOW (window->data))
      collect_from (self, window->data, found);
  if (found->len == 0 || monkey_pick (self, 3) == 0)
    collect_from (self, GTK_WIDGET (self->fixture.window), found);
  if (found->len == 0)
    return;
  chosen = g_object_ref (found->pdata[monkey_pick (self, found->len)]);
  touch (self, chosen);
  g_object_unref (chosen);
}

/* Dragging */

static GtkWidget *
shown_canvas (GtkWidget *root)
{
  GtkWidget *found = NULL;

  if (NAPPE_IS_CANVAS (root))
    return gtk_widget_get_mapped (root) ? root : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = shown_canvas (child);
  return found;
}

static GtkGesture *
drag_of (GtkWidget *canvas)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (canvas);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkGesture) gesture = g_list_model_get_item (controllers, i);

      if (GTK_IS_GESTURE_DRAG (gesture))
        return gesture;
    }
  return NULL;
}

/* A point: the middle of a handle, or any. */
static void
choose_point (Monkey *self, GtkWidget *canvas, double *x, double *y)
{
  g_autoptr (GPtrArray) handles = g_ptr_array_new ();
  graphene_rect_t place;

  for (GtkWidget *child = gtk_widget_get_first_child (canvas); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (NAPPE_IS_CANVAS_HANDLE (child))
      g_ptr_array_add (handles, child);
  *x = g_rand_double_range (self->rand, 0, gtk_widget_get_width (canvas) + 1);
  *y = g_rand_double_range (self->rand, 0, gtk_widget_get_height (canvas) + 1);
  if (handles->len == 0 || !gtk_widget_compute_bounds (handles->pdata[monkey_pick (self, handles->len)], canvas, &place))
    return;
  *x = place.origin.x + place.size.width / 2.0;
  *y = place.origin.y + place.size.height / 2.0;
}

static double
way (Monkey *self)
{
  return monkey_pick (self, 10) == 0 ? g_rand_double_range (self->rand, -1e6, 1e6) : g_rand_double_range (self->rand, -80, 80);
}

/* Real gestures end with the widget; so does this one. FALSE: it has. */
static gboolean
can_go_on (Monkey *self, GtkWidget *canvas)
{
  return gtk_widget_get_mapped (canvas) && gtk_widget_get_native (canvas) == GTK_NATIVE (self->fixture.window);
}

static void
pull_about (Monkey *self, GtkWidget *canvas, GtkGesture *drag)
{
  for (guint moves = monkey_pick (self, 6); moves > 0 && can_go_on (self, canvas); moves--)
    {
      g_signal_emit_by_name (drag, "drag-update", way (self), way (self));
      monkey_breathe (self, monkey_pick (self, 4));
      if (self->fixture.window != NULL && can_go_on (self, canvas) && monkey_pick (self, 6) == 0)
        {
          g_string_append (self->did, " [meanwhile ");
          monkey_act (self);
          g_string_append (self->did, "]");
        }
      if (self->fixture.window == NULL)
        return;
    }
}

static void
end_drag (Monkey *self, GtkWidget *canvas, GtkGesture *drag)
{
  guint way_out = monkey_pick (self, 4);

  if (gtk_widget_get_native (canvas) == NULL)
    return;
  if (way_out == 0 || !can_go_on (self, canvas))
    g_signal_emit_by_name (drag, "cancel", NULL);
  else
    g_signal_emit_by_name (drag, "drag-end", way (self), way (self));
}

void
monkey_drag_handle (Monkey *self)
{
  GtkWidget *canvas = shown_canvas (GTK_WIDGET (self->fixture.window));
  GtkGesture *drag = canvas != NULL ? drag_of (canvas) : NULL;
  double x, y;

  /* There is but one pointer. */
  if (drag == NULL || self->depth == DEEPEST || nappe_document_has_draft (self->fixture.document))
    return;
  self->depth++;
  g_object_ref (canvas);
  g_object_ref (drag);
  choose_point (self, canvas, &x, &y);
  g_signal_emit_by_name (drag, "drag-begin", x, y);
  g_string_append_printf (self->did, " at %.0f %.0f%s", x, y,
                          nappe_document_has_draft (self->fixture.document) ? " (a handle)" : "");
  pull_about (self, canvas, drag);
  end_drag (self, canvas, drag);
  g_object_unref (drag);
  g_object_unref (canvas);
  self->depth--;
}

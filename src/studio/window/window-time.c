/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window does with time: cases, playing, events, and the exports of curves and moments. */
#include "studio/window/window-private.h"

#include <glib/gi18n-lib.h>

#include "studio/window/export.h"

/* By how much one step changes the stretch of time in the curves. */
#define TIME_ZOOM_STEP 2.0

static void
choose_event (NappeWindow *self, guint event)
{
  nappe_player_show_event (self->player, event);
}

static void
course_changed (NappeWindow *self)
{
  nappe_event_list_set_course (self->events, nappe_player_get_outcome (self->player), nappe_player_get_course (self->player));
  nappe_event_list_select (self->events, nappe_player_get_event (self->player));
  nappe_window_update_time_actions (self);
}

static void
moment_changed (NappeWindow *self)
{
  nappe_event_list_select (self->events, nappe_player_get_event (self->player));
}

static void
case_changed (NappeWindow *self)
{
  g_object_notify (G_OBJECT (self), "case");
  nappe_window_update_time_actions (self);
}

static void
speed_changed (NappeWindow *self)
{
  g_object_notify (G_OBJECT (self), "speed");
}

static void
run_failed (NappeWindow *self, const char *text)
{
  nappe_window_show_error (self, text);
}

void
nappe_window_make_time (NappeWindow *self)
{
  GtkWidget *view, *events;
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);

  if (self->time_view != NULL)
    return;
  self->player = nappe_player_new ();
  view = nappe_time_view_new (self->player);
  events = nappe_event_list_new ();
  self->time_view = NAPPE_TIME_VIEW (view);
  self->events = NAPPE_EVENT_LIST (events);
  gtk_widget_set_hexpand (view, TRUE);
  gtk_widget_set_vexpand (view, TRUE);
  gtk_widget_set_hexpand (events, TRUE);
  g_signal_connect_swapped (view, "picked", G_CALLBACK (nappe_window_picked_in_picture), self);
  g_signal_connect_swapped (events, "chosen", G_CALLBACK (choose_event), self);
  g_signal_connect_swapped (self->player, "course-changed", G_CALLBACK (course_changed), self);
  g_signal_connect_swapped (self->player, "cases-changed", G_CALLBACK (case_changed), self);
  g_signal_connect_swapped (self->player, "failed", G_CALLBACK (run_failed), self);
  g_signal_connect_swapped (self->player, "notify::time", G_CALLBACK (moment_changed), self);
  g_signal_connect_swapped (self->player, "notify::speed", G_CALLBACK (speed_changed), self);
  g_signal_connect_swapped (self->player, "notify::busy", G_CALLBACK (nappe_window_update_time_actions), self);
  gtk_box_append (self->time_place, view);
  gtk_box_append (self->events_place, events);
  nappe_time_view_select (self->time_view, self->selected);
  nappe_window_set_time_outcome (self, outcome);
  speed_changed (self);
}

void
nappe_window_set_time_outcome (NappeWindow *self, NappeOutcome *outcome)
{
  if (self->time_view == NULL)
    return;
  nappe_time_view_set_outcome (self->time_view, outcome);
  nappe_player_set_outcome (self->player, outcome);
  nappe_window_update_time_actions (self);
}

void
nappe_window_drop_time (NappeWindow *self)
{
  if (self->player == NULL)
    return;
  g_signal_handlers_disconnect_by_data (self->player, self);
  /* What is still being computed is for nobody any more. */
  nappe_player_set_outcome (self->player, NULL);
  g_clear_object (&self->player);
}

void
nappe_window_update_time_actions (NappeWindow *self)
{
  gboolean busy = self->player != NULL && nappe_player_is_busy (self->player);
  gboolean ready = nappe_document_get_outcome (self->document) != NULL
                   && (self->player == NULL || nappe_player_get_case (self->player) >= 0);
  gboolean played = self->player != NULL && nappe_player_get_course (self->player) != NULL;
  const char *const need_course[] = { "win.play", "win.next-event", "win.previous-event", "win.export-curves",
                                      "win.export-moment", "win.shorter-time", "win.longer-time", "win.whole-time" };

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.run-case", ready && !busy);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.stop-case", busy);
  for (gsize i = 0; i < G_N_ELEMENTS (need_course); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), need_course[i], played);
}

const char *
nappe_window_get_case (NappeWindow *self)
{
  int index = self->player != NULL ? nappe_player_get_case (self->player) : -1;

  return index >= 0 ? ((const NappePlan *) g_ptr_array_index (nappe_player_get_plans (self->player), index))->id : "";
}

void
nappe_window_choose_case (NappeWindow *self, const char *id)
{
  nappe_window_make_time (self);
  nappe_player_choose (self->player, id);
}

const char *
nappe_window_get_moving_picture (NappeWindow *self)
{
  NappeCanvas *canvas = self->time_view != NULL ? nappe_time_view_get_canvas (self->time_view) : NULL;

  return canvas != NULL && nappe_canvas_get_kind (canvas) == NAPPE_PICTURE_FLOW ? "flow" : "elevation";
}

void
nappe_window_set_moving_picture (NappeWindow *self, const char *name)
{
  nappe_window_make_time (self);
  nappe_canvas_set_kind (nappe_time_view_get_canvas (self->time_view),
                         g_strcmp0 (name, "flow") == 0 ? NAPPE_PICTURE_FLOW : NAPPE_PICTURE_ELEVATION);
}

char *
nappe_window_get_speed (NappeWindow *self)
{
  return self->player != NULL ? g_strdup_printf ("%.0f", nappe_player_get_speed (self->player)) : g_strdup ("");
}

void
nappe_window_set_speed (NappeWindow *self, const char *speed)
{
  nappe_window_make_time (self);
  nappe_player_set_speed (self->player, g_ascii_strtod (speed, NULL));
}

static void
run_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);

  nappe_window_make_time (self);
  nappe_window_show_error (self, NULL);
  adw_view_stack_set_visible_child_name (self->views, "time");
  gtk_stack_set_visible_child_name (self->panels, "events");
  nappe_player_run (self->player);
}

static void
stop_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  nappe_player_cancel (NAPPE_WINDOW (widget)->player);
}

static void
play_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappePlayer *player = NAPPE_WINDOW (widget)->player;

  nappe_player_set_playing (player, !nappe_player_is_playing (player));
}

static void
step_event_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  nappe_player_step (NAPPE_WINDOW (widget)->player, g_str_equal (name, "win.next-event") ? 1 : -1);
}

/* Shorter and longer stretches of time in the curves. */
static void
stretch_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  double factor = g_str_equal (name, "win.shorter-time") ? TIME_ZOOM_STEP
                  : g_str_equal (name, "win.longer-time") ? 1.0 / TIME_ZOOM_STEP : 0.0;

  nappe_time_view_zoom_curves (NAPPE_WINDOW (widget)->time_view, factor);
}

/* Exporting */

static void
export_curves_chosen (GtkNativeDialog *dialog, int response, NappeWindow *self)
{
  static const char *const endings[] = { ".csv", ".svg", ".pdf", ".png", NULL };
  g_autoptr (GFile) target = nappe_window_take_target (self, response, endings);
  NappeSimulation *course = self->player != NULL ? nappe_player_get_course (self->player) : NULL;

  /* Another build may have come in while the person chose. */
  if (target != NULL && course != NULL)
    nappe_export_curves_async (nappe_player_get_outcome (self->player), course, target, nappe_window_exported,
                               g_object_ref (self));
}

static void
export_curves_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  g_autofree char *ending = g_strdup_printf ("-%s.csv", nappe_window_get_case (self));

  nappe_window_ask_target (self, _("Export the Curves (CSV, SVG, PDF or PNG)"), ending, G_CALLBACK (export_curves_chosen));
}

void
nappe_window_export_moment_to (NappeWindow *self, GFile *target)
{
  NappeSimulation *course = self->player != NULL ? nappe_player_get_course (self->player) : NULL;

  if (course != NULL)
    nappe_export_moment_async (nappe_player_get_outcome (self->player),
                               nappe_canvas_get_kind (nappe_time_view_get_canvas (self->time_view)), course,
                               nappe_player_get_time (self->player), target, nappe_window_exported, g_object_ref (self));
}

static void
export_moment_chosen (GtkNativeDialog *dialog, int response, NappeWindow *self)
{
  static const char *const endings[] = { ".png", ".svg", ".pdf", NULL };
  g_autoptr (GFile) target = nappe_window_take_target (self, response, endings);

  if (target != NULL)
    nappe_window_export_moment_to (self, target);
}

static void
export_moment_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  g_autofree char *ending = g_strdup_printf ("-%s-%.0f-s.png", nappe_window_get_case (self),
                                             nappe_player_get_time (self->player));

  nappe_player_set_playing (self->player, FALSE);
  nappe_window_ask_target (self, _("Export This Moment"), ending, G_CALLBACK (export_moment_chosen));
}

void
nappe_window_install_time_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_property_action (widget_class, "win.case", "case");
  gtk_widget_class_install_property_action (widget_class, "win.speed", "speed");
  gtk_widget_class_install_property_action (widget_class, "win.moving-picture", "moving-picture");
  gtk_widget_class_install_action (widget_class, "win.run-case", NULL, run_action);
  gtk_widget_class_install_action (widget_class, "win.stop-case", NULL, stop_action);
  gtk_widget_class_install_action (widget_class, "win.play", NULL, play_action);
  gtk_widget_class_install_action (widget_class, "win.next-event", NULL, step_event_action);
  gtk_widget_class_install_action (widget_class, "win.previous-event", NULL, step_event_action);
  gtk_widget_class_install_action (widget_class, "win.shorter-time", NULL, stretch_action);
  gtk_widget_class_install_action (widget_class, "win.longer-time", NULL, stretch_action);
  gtk_widget_class_install_action (widget_class, "win.whole-time", NULL, stretch_action);
  gtk_widget_class_install_action (widget_class, "win.export-curves", NULL, export_curves_action);
  gtk_widget_class_install_action (widget_class, "win.export-moment", NULL, export_moment_action);
}

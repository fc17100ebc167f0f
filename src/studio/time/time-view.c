/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/time/time-view.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/curves/course-words.h"
#include "studio/application/keys.h"
#include "studio/parts/choice-labels.h"
#include "studio/time/curves-view.h"
#include "studio/time/time-stage.h"

/* Steps of the slider, by arrow and by page, as shares of the whole time. */
#define STEP_SHARE (1.0 / 200.0)
#define PAGE_SHARE (1.0 / 20.0)
/* A longer pause between two frames was none of the person's: the program did not get to draw [s]. */
#define LONGEST_FRAME 0.25

struct _NappeTimeView
{
  GtkWidget parent_instance;
  NappePlayer *player;
  NappeOutcome *outcome; /* drawn while there is no course */
  GtkWidget *content, *canvas, *curves, *curve_pages, *progress, *case_chooser, *run_pages, *slider, *transport, *play_button;
  NappeTimeStage *stage;
  GtkLabel *clock, *floor, *speed_label;
  GtkAdjustment *moment;
  guint play_tick;       /* 0: stands still */
  gint64 last_frame;     /* of the frame clock [us] */
  gboolean filling;      /* widgets change by the player's doing */
};

G_DEFINE_FINAL_TYPE (NappeTimeView, nappe_time_view, GTK_TYPE_WIDGET)

static guint picked_signal;

static void
say_floor (NappeTimeView *self)
{
  NappeSimulation *course = nappe_player_get_course (self->player);
  double litres = course != NULL ? nappe_simulation_on_floor (course, nappe_player_get_time (self->player)) : 0.0;
  g_autofree char *text = NULL;

  if (litres > 0.0)
    {
      g_autofree char *volume = nappe_quantity_format (NAPPE_QUANTITY_VOLUME, litres,
                                                       nappe_player_get_outcome (self->player)->units, 0);
      /* Translators: %s is a volume of water */
      text = g_strdup_printf (_("%s on the floor"), volume);
      gtk_widget_add_css_class (GTK_WIDGET (self->floor), "error");
    }
  else
    {
      text = g_strdup (course != NULL ? _("The floor is dry") : "");
      gtk_widget_remove_css_class (GTK_WIDGET (self->floor), "error");
    }
  gtk_label_set_text (self->floor, text);
  gtk_widget_set_visible (GTK_WIDGET (self->floor), course != NULL);
}

static void
moment_changed (NappeTimeView *self)
{
  NappeSimulation *course = nappe_player_get_course (self->player);
  double time = nappe_player_get_time (self->player);
  g_autofree char *clock = nappe_course_clock_text (time);

  self->filling = TRUE;
  gtk_adjustment_set_value (self->moment, time);
  self->filling = FALSE;
  gtk_label_set_text (self->clock, clock);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->slider), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, clock, -1);
  nappe_canvas_set_moment (NAPPE_CANVAS (self->canvas), course, time);
  nappe_curves_view_set_time (NAPPE_CURVES_VIEW (self->curves), time);
  say_floor (self);
}

static void
course_changed (NappeTimeView *self)
{
  NappeSimulation *course = nappe_player_get_course (self->player);
  NappeOutcome *outcome = nappe_player_get_outcome (self->player);
  /* A slider without a range is not drawn. */
  double length = course != NULL ? course->end_time : 1.0;

  self->filling = TRUE;
  gtk_adjustment_configure (self->moment, 0.0, 0.0, length, length * STEP_SHARE, length * PAGE_SHARE, 0.0);
  self->filling = FALSE;
  gtk_widget_set_sensitive (self->slider, course != NULL);
  nappe_canvas_set_outcome (NAPPE_CANVAS (self->canvas), course != NULL ? outcome : self->outcome);
  nappe_curves_view_set_course (NAPPE_CURVES_VIEW (self->curves), outcome, course);
  gtk_stack_set_visible_child_name (GTK_STACK (self->curve_pages), course != NULL ? "curves" : "empty");
  moment_changed (self);
}

/* Whether the chooser lists the plans already. */
static gboolean
lists_plans (NappeTimeView *self, const GPtrArray *plans)
{
  GListModel *titles = gtk_drop_down_get_model (GTK_DROP_DOWN (self->case_chooser));
  gboolean same = titles != NULL && g_list_model_get_n_items (titles) == plans->len;

  for (guint i = 0; same && i < plans->len; i++)
    same = g_strcmp0 (gtk_string_list_get_string (GTK_STRING_LIST (titles), i),
                      ((const NappePlan *) g_ptr_array_index (plans, i))->title) == 0;
  return same;
}

/* A list is put in only when it is another one: this may run while the chooser hands on what was picked from the one it
 * has, and GTK 4.8 does not live through losing that then. */
static void
cases_changed (NappeTimeView *self)
{
  const GPtrArray *plans = nappe_player_get_plans (self->player);
  int chosen = nappe_player_get_case (self->player);

  self->filling = TRUE;
  if (!lists_plans (self, plans))
    {
      g_autoptr (GtkStringList) titles = gtk_string_list_new (NULL);
      for (guint i = 0; i < plans->len; i++)
        gtk_string_list_append (titles, ((const NappePlan *) g_ptr_array_index (plans, i))->title);
      gtk_drop_down_set_model (GTK_DROP_DOWN (self->case_chooser), G_LIST_MODEL (titles));
    }
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->case_chooser),
                              chosen >= 0 ? (guint) chosen : GTK_INVALID_LIST_POSITION);
  self->filling = FALSE;
}

static void
case_selected (NappeTimeView *self)
{
  const GPtrArray *plans = self->player != NULL ? nappe_player_get_plans (self->player) : NULL;
  guint index = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->case_chooser));

  if (!self->filling && plans != NULL && index < plans->len)
    nappe_player_choose (self->player, ((const NappePlan *) g_ptr_array_index (plans, index))->id);
}

static void
slider_moved (NappeTimeView *self)
{
  if (!self->filling && self->player != NULL)
    nappe_player_set_time (self->player, gtk_adjustment_get_value (self->moment));
}

static void
busy_changed (NappeTimeView *self)
{
  gboolean busy = nappe_player_is_busy (self->player);

  gtk_stack_set_visible_child_name (GTK_STACK (self->run_pages), busy ? "stop" : "run");
  gtk_widget_set_visible (self->progress, busy);
}

static void
progress_changed (NappeTimeView *self)
{
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), nappe_player_get_progress (self->player));
}

static gboolean
play_on (GtkWidget *widget, GdkFrameClock *clock, gpointer user_data)
{
  NappeTimeView *self = NAPPE_TIME_VIEW (widget);
  gint64 now = gdk_frame_clock_get_frame_time (clock);
  double seconds = self->last_frame > 0 ? (double) (now - self->last_frame) / G_USEC_PER_SEC : 0.0;

  self->last_frame = now;
  seconds = fmin (seconds, LONGEST_FRAME);
  nappe_player_advance (self->player, seconds);
  nappe_canvas_advance (NAPPE_CANVAS (self->canvas), seconds);
  return G_SOURCE_CONTINUE;
}

static void
playing_changed (NappeTimeView *self)
{
  gboolean playing = nappe_player_is_playing (self->player);
  const char *label = playing ? _("Pause") : _("Play");
  g_autofree char *tooltip = nappe_keys_tooltip (label, "win.play");

  if (playing && self->play_tick == 0)
    {
      self->last_frame = 0;
      self->play_tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), play_on, NULL, NULL);
    }
  else if (!playing && self->play_tick != 0)
    {
      gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->play_tick);
      self->play_tick = 0;
    }
  gtk_button_set_icon_name (GTK_BUTTON (self->play_button),
                            playing ? "media-playback-pause-symbolic" : "media-playback-start-symbolic");
  gtk_widget_set_tooltip_text (self->play_button, tooltip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->play_button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

static void
speed_changed (NappeTimeView *self)
{
  g_autofree char *number = nappe_quantity_format (NAPPE_QUANTITY_COUNT, nappe_player_get_speed (self->player),
                                                   NAPPE_UNITS_METRIC, 0);
  g_autofree char *text = g_strdup_printf ("×%s", number);

  gtk_label_set_text (self->speed_label, text);
}

static void
picked (NappeTimeView *self, const char *part)
{
  g_signal_emit (self, picked_signal, 0, part);
}

static void
scrubbed (NappeTimeView *self, double time)
{
  nappe_player_set_time (self->player, time);
}

static void
nappe_time_view_dispose (GObject *object)
{
  NappeTimeView *self = NAPPE_TIME_VIEW (object);

  if (self->player != NULL)
    g_signal_handlers_disconnect_by_data (self->player, self);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_TIME_VIEW);
  g_clear_object (&self->player);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  G_OBJECT_CLASS (nappe_time_view_parent_class)->dispose (object);
}

static void
nappe_time_view_class_init (NappeTimeViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_time_view_dispose;
  g_type_ensure (NAPPE_TYPE_TIME_STAGE);
  g_type_ensure (NAPPE_TYPE_CURVES_VIEW);
  picked_signal = g_signal_new ("picked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                1, G_TYPE_STRING);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/time-view.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, content);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, stage);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, curves);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, curve_pages);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, progress);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, case_chooser);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, run_pages);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, slider);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, transport);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, play_button);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, clock);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, floor);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, speed_label);
  gtk_widget_class_bind_template_child (widget_class, NappeTimeView, moment);
  gtk_widget_class_bind_template_callback (widget_class, case_selected);
  gtk_widget_class_bind_template_callback (widget_class, slider_moved);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

/* Time runs as it does in the curves, whichever way people write. */
static void
run_to_the_right (GtkWidget *widget)
{
  gtk_widget_set_direction (widget, GTK_TEXT_DIR_LTR);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    run_to_the_right (child);
}

static void
nappe_time_view_init (NappeTimeView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  nappe_keys_add_to_tooltips (GTK_WIDGET (self));
  run_to_the_right (self->slider);
  run_to_the_right (self->transport);
  self->canvas = g_object_new (NAPPE_TYPE_CANVAS, "kind", NAPPE_PICTURE_ELEVATION, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->canvas), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Moving water"), -1);
  g_signal_connect_object (self->canvas, "picked", G_CALLBACK (picked), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->curves, "picked", G_CALLBACK (picked), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->curves, "scrubbed", G_CALLBACK (scrubbed), self, G_CONNECT_SWAPPED);
  nappe_time_stage_set_children (self->stage, self->canvas, self->curve_pages);
  nappe_choice_labels_fit (GTK_DROP_DOWN (self->case_chooser));
}

GtkWidget *
nappe_time_view_new (NappePlayer *player)
{
  NappeTimeView *self = g_object_new (NAPPE_TYPE_TIME_VIEW, NULL);

  self->player = g_object_ref (player);
  g_signal_connect_swapped (player, "cases-changed", G_CALLBACK (cases_changed), self);
  g_signal_connect_swapped (player, "course-changed", G_CALLBACK (course_changed), self);
  g_signal_connect_swapped (player, "notify::time", G_CALLBACK (moment_changed), self);
  g_signal_connect_swapped (player, "notify::playing", G_CALLBACK (playing_changed), self);
  g_signal_connect_swapped (player, "notify::speed", G_CALLBACK (speed_changed), self);
  g_signal_connect_swapped (player, "notify::busy", G_CALLBACK (busy_changed), self);
  g_signal_connect_swapped (player, "notify::progress", G_CALLBACK (progress_changed), self);
  cases_changed (self);
  course_changed (self);
  playing_changed (self);
  speed_changed (self);
  busy_changed (self);
  return GTK_WIDGET (self);
}

void
nappe_time_view_set_outcome (NappeTimeView *self, NappeOutcome *outcome)
{
  if (outcome != NULL)
    nappe_outcome_ref (outcome);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  self->outcome = outcome;
  if (nappe_player_get_course (self->player) == NULL)
    nappe_canvas_set_outcome (NAPPE_CANVAS (self->canvas), outcome);
}

void
nappe_time_view_select (NappeTimeView *self, const char *part)
{
  nappe_canvas_select (NAPPE_CANVAS (self->canvas), part);
  nappe_curves_view_select (NAPPE_CURVES_VIEW (self->curves), part);
}

void
nappe_time_view_zoom_curves (NappeTimeView *self, double factor)
{
  nappe_curves_view_zoom (NAPPE_CURVES_VIEW (self->curves), factor);
}

NappeCanvas *
nappe_time_view_get_canvas (NappeTimeView *self)
{
  return NAPPE_CANVAS (self->canvas);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/time/curves-view.h"

#include <math.h>

#include "studio/canvas/canvas-items.h"
#include "studio/canvas/screen.h"

/* Width of the line at the moment, and of the handle on it [px]. */
#define LINE 1.5
#define HANDLE 9.0
/* One notch of the wheel: the stretch of time is so much shorter, or with Shift it goes by such a share of itself. */
#define NOTCH 1.25
#define NOTCH_SHARE 0.1
/* Shortest stretch of time that is shown [s]. */
#define SHORTEST 1.0
/* Until so much later than the last event something is to be seen, and when that is less than such a share of the whole, all
 * that follows is left out at first. */
#define EVENTFUL 1.5
#define EVENTFUL_SHARE 0.5
/* Where the moment stands on a new page. */
#define PAGE_SHARE 0.05
/* And after a zoom: what follows from it is of more interest than what was before. */
#define ZOOM_SHARE 0.3

struct _NappeCurvesView
{
  GtkWidget parent_instance;
  NappeOutcome *outcome;
  NappeSimulation *course;
  double time;
  double first, last;  /* stretch of time that is shown [s] */
  gboolean by_itself;  /* nobody has chosen the stretch */
  char *selected;      /* id of the picked part; NULL: none */
  double pointer_x;    /* where the pointer was last seen [px] */
  NappePicture *picture;
  int width, height;   /* that the picture was made for [px] */
  GskRenderNode *node; /* NULL: to be drawn */
  NappeCanvasItems *items;
  guint compose_tick;  /* 0: the picture is up to date */
};

G_DEFINE_FINAL_TYPE (NappeCurvesView, nappe_curves_view, GTK_TYPE_WIDGET)

static guint scrubbed_signal, picked_signal;

static void
compose (NappeCurvesView *self)
{
  const NappeCurvesOptions options = {
    .palette = nappe_screen_palette (),
    .units = self->outcome->units,
    .width = self->width,
    .height = self->height,
    .text_scale = nappe_screen_text_scale (),
    .selected = self->selected,
    .cursor = NAN,
    .first = self->first,
    .last = self->last,
  };

  self->picture = nappe_curves_new (&options, self->outcome->build, self->course);
}

static void
item_picked (GtkWidget *widget, const char *part)
{
  g_signal_emit (widget, picked_signal, 0, part);
}

static NappePicturePlace
place_of (const NappeCurvesView *self)
{
  return (NappePicturePlace) { .scale = 1.0, .width = self->width, .height = self->height };
}

static gboolean
compose_now (GtkWidget *widget, GdkFrameClock *clock, gpointer user_data)
{
  NappeCurvesView *self = NAPPE_CURVES_VIEW (widget);

  self->compose_tick = 0;
  g_clear_pointer (&self->picture, nappe_picture_free);
  g_clear_pointer (&self->node, gsk_render_node_unref);
  if (self->course != NULL && self->width > 0 && self->height > 0)
    compose (self);
  nappe_canvas_items_match (self->items, self->picture);
  gtk_widget_queue_allocate (widget);
  gtk_widget_queue_draw (widget);
  return G_SOURCE_REMOVE;
}

/* At the start of the next frame, as the canvas does. */
static void
queue_compose (NappeCurvesView *self)
{
  if (self->compose_tick == 0)
    self->compose_tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), compose_now, NULL, NULL);
}

static void
forget_node (NappeCurvesView *self)
{
  g_clear_pointer (&self->node, gsk_render_node_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* A line with a handle at the foot of the panels. */
static void
draw_moment (NappeCurvesView *self, GtkSnapshot *snapshot)
{
  double x = nappe_curves_x (self->picture, self->time), top, bottom;
  GskRoundedRect handle;
  GdkRGBA colour;

  nappe_curves_span (self->picture, &top, &bottom);
  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self)), &colour);
  gtk_snapshot_append_color (snapshot, &colour, &GRAPHENE_RECT_INIT ((float) (x - LINE / 2), (float) top, (float) LINE,
                                                                     (float) (bottom - top)));
  gsk_rounded_rect_init_from_rect (&handle, &GRAPHENE_RECT_INIT ((float) (x - HANDLE / 2), (float) (bottom - HANDLE / 2),
                                                                 (float) HANDLE, (float) HANDLE), (float) (HANDLE / 2));
  gtk_snapshot_push_rounded_clip (snapshot, &handle);
  gtk_snapshot_append_color (snapshot, &colour, &handle.bounds);
  gtk_snapshot_pop (snapshot);
}

static void
nappe_curves_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  NappeCurvesView *self = NAPPE_CURVES_VIEW (widget);

  if (self->picture != NULL)
    {
      const NappePicturePlace place = place_of (self);

      if (self->node == NULL)
        self->node = nappe_picture_node_new (self->picture, widget, &place);
      gtk_snapshot_append_node (snapshot, self->node);
      if (self->time >= self->first && self->time <= self->last)
        draw_moment (self, snapshot);
    }
  GTK_WIDGET_CLASS (nappe_curves_view_parent_class)->snapshot (widget, snapshot);
}

static void
nappe_curves_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  NappeCurvesView *self = NAPPE_CURVES_VIEW (widget);
  NappePicturePlace place;

  if (self->width != width || self->height != height)
    {
      self->width = width;
      self->height = height;
      queue_compose (self);
    }
  place = place_of (self);
  nappe_canvas_items_allocate (self->items, &place);
}

static void
nappe_curves_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                           int *minimum_baseline, int *natural_baseline)
{
  nappe_canvas_items_measure (NAPPE_CURVES_VIEW (widget)->items, orientation);
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 280 : 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 600 : 320;
}

static void
scrub_to (NappeCurvesView *self, double x)
{
  if (self->picture != NULL)
    g_signal_emit (self, scrubbed_signal, 0, nappe_curves_time (self->picture, x));
}

/* A name picks its part; everywhere else the moment goes where the pointer is. */
static void
drag_begun (GtkGestureDrag *drag, double x, double y, NappeCurvesView *self)
{
  const char *part = self->picture != NULL ? nappe_picture_pick (self->picture, x, y) : NULL;

  if (part != NULL)
    {
      g_signal_emit (self, picked_signal, 0, part);
      gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_CLAIMED);
  scrub_to (self, x);
}

static void
dragged (GtkGestureDrag *drag, double dx, double dy, NappeCurvesView *self)
{
  double x, y;

  if (gtk_gesture_drag_get_start_point (drag, &x, &y))
    scrub_to (self, x + dx);
}

/* Brought into the course and to a length that can be shown. From now on it is chosen. */
static void
set_stretch (NappeCurvesView *self, double first, double length)
{
  double end = self->course != NULL ? self->course->end_time : 0.0;
  double shown = CLAMP (length, MIN (SHORTEST, end), end);
  double from = CLAMP (first, 0.0, end - shown);

  self->by_itself = FALSE;
  if (from == self->first && from + shown == self->last)
    return;
  self->first = from;
  self->last = from + shown;
  queue_compose (self);
}

static void
pointer_moved (GtkEventControllerMotion *motion, double x, double y, NappeCurvesView *self)
{
  self->pointer_x = x;
}

/* The place of a time stays where it is. */
static void
zoom_at (NappeCurvesView *self, double factor, double time)
{
  set_stretch (self, time - (time - self->first) / factor, (self->last - self->first) / factor);
}

static gboolean
scrolled (GtkEventControllerScroll *scroll, double dx, double dy, NappeCurvesView *self)
{
  GdkModifierType keys = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (scroll));

  if (self->picture == NULL)
    return FALSE;
  if ((keys & GDK_SHIFT_MASK) != 0 || fabs (dx) > fabs (dy))
    set_stretch (self, self->first + (dx + dy) * NOTCH_SHARE * (self->last - self->first), self->last - self->first);
  else
    zoom_at (self, pow (NOTCH, -dy), nappe_curves_time (self->picture, self->pointer_x));
  return TRUE;
}

static void
nappe_curves_view_dispose (GObject *object)
{
  NappeCurvesView *self = NAPPE_CURVES_VIEW (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  g_clear_pointer (&self->items, nappe_canvas_items_free);
  g_clear_pointer (&self->picture, nappe_picture_free);
  g_clear_pointer (&self->course, nappe_simulation_unref);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  g_clear_pointer (&self->node, gsk_render_node_unref);
  g_clear_pointer (&self->selected, g_free);
  G_OBJECT_CLASS (nappe_curves_view_parent_class)->dispose (object);
}

static void
nappe_curves_view_class_init (NappeCurvesViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_curves_view_dispose;
  widget_class->snapshot = nappe_curves_view_snapshot;
  widget_class->size_allocate = nappe_curves_view_size_allocate;
  widget_class->measure = nappe_curves_view_measure;
  scrubbed_signal = g_signal_new ("scrubbed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_DOUBLE);
  picked_signal = g_signal_new ("picked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                1, G_TYPE_STRING);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "curves");
}

static void
nappe_curves_view_init (NappeCurvesView *self)
{
  static const NappeCanvasItemsCalls calls = { item_picked, NULL };
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);

  self->items = nappe_canvas_items_new (GTK_WIDGET (self), &calls);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begun), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (dragged), self);
  g_signal_connect (motion, "motion", G_CALLBACK (pointer_moved), self);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scrolled), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);
  g_signal_connect (self, "notify::scale-factor", G_CALLBACK (forget_node), NULL);
  nappe_screen_watch (G_OBJECT (self), G_CALLBACK (queue_compose));
}

static double
eventful_end (const NappeSimulation *course)
{
  double end = course->n_events > 0 ? EVENTFUL * course->events[course->n_events - 1].time : 0.0;

  return end > SHORTEST && end < EVENTFUL_SHARE * course->end_time ? end : course->end_time;
}

static gboolean
is_same_case (const NappeSimulation *a, const NappeSimulation *b)
{
  return a != NULL && b != NULL && a->end_time == b->end_time && g_str_equal (a->plan->id, b->plan->id);
}

void
nappe_curves_view_set_course (NappeCurvesView *self, NappeOutcome *outcome, NappeSimulation *course)
{
  gboolean same = is_same_case (course, self->course);

  g_return_if_fail ((outcome == NULL) == (course == NULL));
  if (course != NULL)
    {
      nappe_outcome_ref (outcome);
      nappe_simulation_ref (course);
    }
  g_clear_pointer (&self->course, nappe_simulation_unref);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  self->outcome = outcome;
  self->course = course;
  if (!same)
    {
      self->by_itself = TRUE;
      self->first = 0.0;
      self->last = course != NULL ? eventful_end (course) : 0.0;
    }
  queue_compose (self);
}

void
nappe_curves_view_select (NappeCurvesView *self, const char *part)
{
  if (g_strcmp0 (self->selected, part) == 0)
    return;
  g_free (self->selected);
  self->selected = g_strdup (part);
  queue_compose (self);
}

void
nappe_curves_view_set_time (NappeCurvesView *self, double time)
{
  if (self->time == time)
    return;
  self->time = time;
  /* Who goes on after the last event sees all there is, not page after page in which nothing happens. */
  if (time > self->last && self->by_itself)
    set_stretch (self, 0.0, INFINITY);
  else if (time < self->first || time > self->last)
    set_stretch (self, time - PAGE_SHARE * (self->last - self->first), self->last - self->first);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
nappe_curves_view_zoom (NappeCurvesView *self, double factor)
{
  double end = self->course != NULL ? self->course->end_time : 0.0;
  double length = factor > 0.0 ? (self->last - self->first) / factor : end;

  set_stretch (self, self->time - ZOOM_SHARE * length, length);
}

void
nappe_curves_view_get_stretch (NappeCurvesView *self, double *first, double *last)
{
  *first = self->first;
  *last = self->last;
}

NappePicture *
nappe_curves_view_get_picture (NappeCurvesView *self)
{
  return self->picture;
}

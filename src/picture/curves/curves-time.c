/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The axis of time, the marks of the events, and the cursor. */
#include "picture/curves/curves-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"

#define MINUTE 60.0
#define HOUR 3600.0
#define DAY 86400.0
/* Least distance of two times on the axis, and of two marks [px]. */
#define TIME_PITCH 52.0
#define MARK_GAP 2.0
/* Height of a mark, and room beside its number [px]. */
#define MARK_HEIGHT 16.0
#define MARK_PADDING 5.0
/* More lines down from marks would hide the curves. */
#define MOST_LINES 60u

typedef struct
{
  double seconds;
  const char *name;
} TimeUnit;

/* The unit in which the axis counts. */
static TimeUnit
unit_of (double length)
{
  if (length <= 3 * MINUTE)
    /* Translators: unit of the axis of time: seconds; minutes, hours, days below */
    return (TimeUnit) { 1, _("s") };
  if (length <= 3 * HOUR)
    return (TimeUnit) { MINUTE, _("min") };
  if (length <= 4 * DAY)
    return (TimeUnit) { HOUR, _("h") };
  return (TimeUnit) { DAY, _("d") };
}

/* Hours and minutes are cut as clocks are. */
static double
time_step (double span, double seconds, guint n)
{
  static const double sixtieths[] = { 1, 2, 5, 10, 15, 30, 60, 120 };
  static const double hours[] = { 1, 2, 3, 6, 12, 24, 48 };
  gboolean by_hours = seconds == HOUR;
  const double *steps = by_hours ? hours : sixtieths;
  guint n_steps = by_hours ? G_N_ELEMENTS (hours) : G_N_ELEMENTS (sixtieths);
  if (seconds < DAY)
    for (guint i = 0; i < n_steps; i++)
      if (span / steps[i] <= n && span >= 2 * steps[i])
        return steps[i];
  return nappe_curves_step (span, n);
}

void
nappe_curves_draw_time (NappeCurves *self)
{
  TimeUnit unit = unit_of (self->length), long_unit = unit_of ((self->first + self->length) / 12);
  unit = long_unit.seconds > unit.seconds ? long_unit : unit;
  double scale = self->options->text_scale, span = self->length / unit.seconds, y = self->bottom + 5;
  double step = time_step (span, unit.seconds, (guint) fmax (floor ((self->right - self->left) / (TIME_PITCH * scale)), 1));
  NappeStyle tick = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  NappeStyle line = { .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  NappeTextStyle style = { .y = y, .align_x = 0.5, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT };
  NappeTextStyle last = style;
  double begin = self->first / unit.seconds;
  for (double k = ceil (begin / step - 1e-9); k * step <= (begin + span) * (1 + 1e-9); k++)
    {
      g_autofree char *text = nappe_curves_number (k * step, step);
      style.x = nappe_curves_place (self, k * step * unit.seconds);
      nappe_scene_stroke (self->scene, NAPPE_LAYER_NOTE, style.x, self->bottom, style.x, self->bottom + 4, &tick);
      for (guint i = 0; i < self->n_panels; i++)
        nappe_scene_stroke (self->scene, NAPPE_LAYER_GROUND, style.x, self->panels[i].top, style.x,
                            self->panels[i].bottom, &line);
      nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, text, &style, 1, NULL);
    }
  last.x = self->right + 10;
  last.align_x = 0;
  if (!nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, unit.name, &last, 1, NULL))
    {
      last.x = self->right + 20;
      nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, unit.name, &last, 1, NULL);
    }
}

/* Events whose marks would overlap, as one mark. */
typedef struct
{
  guint first, last;      /* indices */
  double x_first, x_last; /* [px] */
  gboolean over_rim, happening;
} Cluster;

static char *
number_of (const Cluster *cluster)
{
  if (cluster->first == cluster->last)
    return g_strdup_printf ("%u", cluster->first + 1);
  return g_strdup_printf ("%u–%u", cluster->first + 1, cluster->last + 1);
}

static NappeTextStyle
number_style (const NappeCurves *self, const Cluster *cluster)
{
  return (NappeTextStyle) {
    .x = (cluster->x_first + cluster->x_last) / 2, .y = self->top - (MARK_HEIGHT / 2 + 22) * self->options->text_scale,
    .align_x = 0.5, .align_y = 0.5, .size = NAPPE_TEXT_SMALL, .weight = NAPPE_TEXT_STRONG,
    .role = cluster->over_rim ? NAPPE_ROLE_ON_DANGER : cluster->happening ? NAPPE_ROLE_PAPER : NAPPE_ROLE_INK,
  };
}

static NappeBox
mark_box (NappeCurves *self, const Cluster *cluster)
{
  g_autofree char *number = number_of (cluster);
  NappeTextStyle style = number_style (self, cluster);
  NappeBox box = nappe_scene_measure (self->scene, number, &style);
  double height = MARK_HEIGHT * self->options->text_scale, width = fmax (box.width + 2 * MARK_PADDING, height);
  return (NappeBox) { style.x - width / 2, style.y - height / 2, width, height };
}

/* No mark is narrower than it is high, so that most of thousands need not be measured. */
static gboolean
marks_meet (NappeCurves *self, const Cluster *before, const Cluster *next)
{
  if (next->x_first - before->x_last < MARK_HEIGHT * self->options->text_scale)
    return TRUE;
  NappeBox left = mark_box (self, before), right = mark_box (self, next);
  return left.x + left.width + MARK_GAP > right.x;
}

/* Marks stand side by side: one that reaches into the one before it becomes a part of that one. */
static GArray *
gather (NappeCurves *self)
{
  const NappeSimulation *course = self->course;
  GArray *clusters = g_array_new (FALSE, FALSE, sizeof (Cluster));
  for (guint i = 0; i < course->n_events; i++)
    {
      double x = nappe_curves_place (self, course->events[i].time);
      if (!nappe_curves_shows (self, course->events[i].time))
        continue;
      Cluster cluster = { i, i, x, x, course->events[i].kind == NAPPE_EVENT_OVER_RIM,
                          course->events[i].kind == NAPPE_EVENT_HAPPENING };
      while (clusters->len > 0)
        {
          Cluster *before = &g_array_index (clusters, Cluster, clusters->len - 1);
          if (!marks_meet (self, before, &cluster))
            break;
          cluster.first = before->first;
          cluster.x_first = before->x_first;
          cluster.over_rim = cluster.over_rim || before->over_rim;
          cluster.happening = cluster.happening || before->happening;
          g_array_set_size (clusters, clusters->len - 1);
        }
      g_array_append_val (clusters, cluster);
    }
  return clusters;
}

/* A happening is a filled mark, what follows from it a hollow one, water over a rim a red one. */
static void
draw_mark (NappeCurves *self, const Cluster *cluster)
{
  g_autofree char *number = number_of (cluster);
  NappeTextStyle style = number_style (self, cluster);
  NappeBox box = mark_box (self, cluster);
  NappeStyle plate = { .fill = cluster->over_rim ? NAPPE_ROLE_DANGER : cluster->happening ? NAPPE_ROLE_INK : NAPPE_ROLE_PLATE,
                       .stroke = cluster->over_rim ? NAPPE_ROLE_DANGER : NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
  double radius = box.height / 2, middle = box.y + radius, right = box.x + box.width - radius;
  nappe_scene_move (self->scene, right, box.y);
  nappe_scene_arc (self->scene, right, middle, radius, -G_PI_2, G_PI_2);
  nappe_scene_line (self->scene, box.x + radius, box.y + box.height);
  nappe_scene_arc (self->scene, box.x + radius, middle, radius, G_PI_2, 3 * G_PI_2);
  nappe_scene_close (self->scene);
  nappe_scene_paint (self->scene, NAPPE_LAYER_MARK, &plate);
  nappe_scene_text (self->scene, NAPPE_LAYER_MARK, number, &style);
}

static void
draw_lines (NappeCurves *self)
{
  NappeStyle line = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR, .dashed = TRUE };
  const NappeSimulation *course = self->course;
  double before = -INFINITY;
  for (guint i = 0, n = 0; i < course->n_events && n < MOST_LINES; i++)
    {
      double x = nappe_curves_place (self, course->events[i].time);
      if (x - before < 1.5 || !nappe_curves_shows (self, course->events[i].time))
        continue;
      before = x;
      n++;
      for (guint k = 0; k < self->n_panels; k++)
        nappe_scene_stroke (self->scene, NAPPE_LAYER_VESSEL, x, self->panels[k].top, x, self->panels[k].bottom, &line);
    }
}

void
nappe_curves_draw_events (NappeCurves *self)
{
  g_autoptr (GArray) clusters = gather (self);
  draw_lines (self);
  for (guint i = 0; i < clusters->len; i++)
    draw_mark (self, &g_array_index (clusters, Cluster, i));
}

void
nappe_curves_draw_cursor (NappeCurves *self)
{
  NappeStyle line = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
  double x = nappe_curves_place (self, self->options->cursor);
  if (nappe_curves_shows (self, self->options->cursor))
    nappe_scene_stroke (self->scene, NAPPE_LAYER_NOTE, x, self->top, x, self->bottom, &line);
}

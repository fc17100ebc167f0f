/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Puts the panels on the paper; what is in them is in the files beside this one. */
#include "picture/curves/curves-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/curves/course-words.h"
#include "picture/label-layout.h"
#include "picture/picture-private.h"

/* Paper around the panels [px]. */
#define EDGE 12.0
/* Room for the numbers of the scale, for the names of the curves, for the marks of the events, for the axis of time, and
 * over each panel for its heading [px]. */
#define SCALE_WIDTH 48.0
#define NAMES_WIDTH 156.0
#define EVENTS_HEIGHT 24.0
#define AXIS_HEIGHT 26.0
#define HEADING_HEIGHT 20.0
/* A panel that is lower says nothing [px]. */
#define LOWEST_PANEL 34.0

double
nappe_curves_place (const NappeCurves *self, double time)
{
  return self->left + (self->right - self->left) * (time - self->first) / self->length;
}

gboolean
nappe_curves_shows (const NappeCurves *self, double time)
{
  return time >= self->first && time <= self->first + self->length;
}

guint
nappe_curves_last_frame (const NappeCurves *self)
{
  const NappeSimulation *course = self->course;
  guint frame = course->n_frames - 1;
  while (frame > 0 && course->time[frame] > self->first + self->length)
    frame--;
  return frame;
}

double
nappe_curves_height (const NappeCurvesPanel *panel, double value)
{
  double share = (value - panel->low) / (panel->high - panel->low);
  return panel->bottom - (panel->bottom - panel->top) * CLAMP (share, 0, 1);
}

/* How much of the height a panel gets. */
static double
weight_of (const NappeCurvesPanel *panel)
{
  return panel->quantity == NAPPE_QUANTITY_LENGTH ? 1 : panel->quantity == NAPPE_QUANTITY_FLOW ? 0.85 : 0.5;
}

/* Litres on the floor are dearer than flows, and levels than both; the upper vessels stand first. */
static void
drop_panel (NappeCurves *self)
{
  guint least = self->n_panels - 1;
  for (guint i = 1; i < self->n_panels; i++)
    if (self->panels[i].quantity == NAPPE_QUANTITY_FLOW)
      least = i;
  for (guint k = 0; k < self->panels[least].n; k++)
    g_free (self->panels[least].curves[k].name);
  for (guint i = least; i + 1 < self->n_panels; i++)
    self->panels[i] = self->panels[i + 1];
  self->n_panels--;
}

static void
place_panels (NappeCurves *self)
{
  double scale = self->options->text_scale, heading = HEADING_HEIGHT * scale, sum = 0;
  while (self->n_panels > 1 && (self->bottom - self->top) / self->n_panels < LOWEST_PANEL + heading)
    drop_panel (self);
  for (guint i = 0; i < self->n_panels; i++)
    sum += weight_of (&self->panels[i]);
  double room = fmax (self->bottom - self->top - heading * self->n_panels, 4), y = self->top;
  for (guint i = 0; i < self->n_panels; i++)
    {
      NappeCurvesPanel *panel = &self->panels[i];
      panel->top = y + heading;
      panel->bottom = y = panel->top + room * weight_of (panel) / sum;
    }
}

static double
draw_title (NappeCurves *self)
{
  double scale = self->options->text_scale, widest = self->options->width - 2 * EDGE;
  NappeTextStyle head = { .x = EDGE, .y = 8, .size = NAPPE_TEXT_HEAD, .weight = NAPPE_TEXT_STRONG, .role = NAPPE_ROLE_INK };
  NappeTextStyle under = { .x = EDGE, .y = 8 + 20 * scale, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT };
  const NappeSimulation *course = self->course;
  g_autofree char *name = nappe_label_shorten (self->scene, course->plan && course->plan->title ? course->plan->title : "",
                                               &head, widest);
  g_autofree char *whole = nappe_course_verdict_text (self->build, course, self->options->units);
  g_autofree char *verdict = nappe_label_shorten (self->scene, whole, &under, widest);
  if (course->spilled > 0)
    under.role = NAPPE_ROLE_DANGER;
  nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, name, &head);
  nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, verdict, &under);
  return 44 * scale;
}

static void
say_nothing (NappeCurves *self)
{
  NappeTextStyle style = { .x = self->options->width / 2, .y = self->options->height / 2, .align_x = 0.5, .align_y = 0.5,
                           .size = NAPPE_TEXT_BODY, .role = NAPPE_ROLE_SOFT };
  g_autofree char *text = nappe_label_shorten (self->scene, _("There are no curves to show."), &style,
                                               self->options->width - 2 * EDGE);
  nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, text, &style);
}

static void
compose (NappeCurves *self)
{
  double scale = self->options->text_scale, width = self->options->width, head = self->options->title ? draw_title (self) : 0;
  self->left = EDGE + fmin (SCALE_WIDTH * scale, width * 0.25);
  self->right = fmax (width - EDGE - fmin (NAMES_WIDTH * scale, width * 0.3), self->left + 4);
  self->top = head + EVENTS_HEIGHT * scale;
  self->bottom = fmax (self->options->height - AXIS_HEIGHT * scale, self->top + 4);
  nappe_curves_choose (self);
  if (self->n_panels == 0)
    {
      say_nothing (self);
      return;
    }
  place_panels (self);
  self->top = self->panels[0].top;
  for (guint i = 0; i < self->n_panels; i++)
    nappe_curves_draw_panel (self, &self->panels[i]);
  nappe_curves_draw_time (self);
  nappe_curves_draw_events (self);
  nappe_curves_draw_cursor (self);
}

/* The stretch of time that is shown. */
static void
set_stretch (NappeCurves *self)
{
  double end = self->course->end_time, first = self->options->first, last = self->options->last;
  self->length = end > 0 && isfinite (end) ? end : 1;
  if (!isfinite (first) || !isfinite (last) || !(last > first) || last <= 0 || first >= self->length)
    return;
  self->first = fmax (first, 0);
  self->length = fmin (last, self->length) - self->first;
}

NappePicture *
nappe_curves_new (const NappeCurvesOptions *options, NappeBuild *build, const NappeSimulation *course)
{
  NappePicture *picture = g_new0 (NappePicture, 1);
  NappeCurvesOptions sane = *options;
  NappeCurves self = { .options = &sane, .build = build, .course = course };
  sane.width = nappe_picture_side (options->width);
  sane.height = nappe_picture_side (options->height);
  sane.text_scale = nappe_picture_text_scale (options->text_scale);
  picture->width = sane.width;
  picture->height = sane.height;
  picture->title = g_strdup (build->title);
  picture->scene = self.scene = nappe_scene_new (sane.palette, sane.width, sane.height, sane.text_scale);
  set_stretch (&self);
  compose (&self);
  nappe_scene_say_lost (self.scene);
  picture->plot = (NappePlot) { self.left, self.right, self.top, self.bottom, self.first, self.length };
  nappe_curves_clear (&self);
  return picture;
}

double
nappe_curves_x (const NappePicture *self, double time)
{
  const NappePlot *plot = &self->plot;
  return plot->left + (plot->right - plot->left) * CLAMP ((time - plot->first) / plot->length, 0, 1);
}

double
nappe_curves_time (const NappePicture *self, double x)
{
  const NappePlot *plot = &self->plot;
  return plot->first + CLAMP ((x - plot->left) / (plot->right - plot->left), 0, 1) * plot->length;
}

void
nappe_curves_span (const NappePicture *self, double *top, double *bottom)
{
  *top = self->plot.top;
  *bottom = self->plot.bottom;
}

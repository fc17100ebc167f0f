/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the curves share. */
#pragma once

#include "picture/curves/curves.h"
#include "picture/scene.h"

/* More curves in one panel cannot be told apart. */
#define NAPPE_CURVES_MOST 6u
/* Upper and lower vessels, flows, litres on the floor. */
#define NAPPE_CURVES_PANELS 4u

/* One curve. Its values lie in the course. */
typedef struct
{
  const char *part;     /* id; "": none */
  char *name;
  const double *values; /* of the first frame, the next `width` further on */
  gsize width;
  guint style;          /* number of its stroke */
  double low, high;     /* of all frames; NaN: none is known */
  double low_time, high_time; /* [s] */
  double rim;           /* of a vessel, z [m]; NaN: none */
} NappeCourseCurve;

typedef struct
{
  NappeQuantity quantity;
  const char *heading;  /* translated; NULL: none but the unit */
  NappeCourseCurve curves[NAPPE_CURVES_MOST];
  guint n;
  double low, high;     /* what its height stands for, SI */
  double top, bottom;   /* [px] */
} NappeCurvesPanel;

typedef struct
{
  NappeScene *scene;
  const NappeCurvesOptions *options;
  NappeBuild *build;
  const NappeSimulation *course;
  NappeCurvesPanel panels[NAPPE_CURVES_PANELS];
  guint n_panels;
  double left, right, top, bottom; /* of all panels [px] */
  double first, length;            /* time at the left edge, and from there to the right one, > 0 [s] */
} NappeCurves;

/* curves-choice.c: which curves, and in which panels. */
void nappe_curves_choose (NappeCurves *self);
void nappe_curves_clear (NappeCurves *self);
double nappe_curve_value (const NappeCourseCurve *curve, guint frame);

double nappe_curves_place (const NappeCurves *self, double time);          /* x, which may lie beside the panels [px] */
gboolean nappe_curves_shows (const NappeCurves *self, double time);
guint nappe_curves_last_frame (const NappeCurves *self); /* the last one that is shown */
double nappe_curves_height (const NappeCurvesPanel *panel, double value);                 /* y [px] */

/* curves-panel.c: scale, rims, curves and their names. */
void nappe_curves_draw_panel (NappeCurves *self, const NappeCurvesPanel *panel);
/* The step of 1, 2 or 5 times a power of ten that cuts a span into at most n pieces. */
double nappe_curves_step (double span, guint n);
/* A number of a scale with such a step, with no more digits than the step has. Transfer full. */
char *nappe_curves_number (double value, double step);

/* curves-time.c: the axis of time, events, cursor. */
void nappe_curves_draw_time (NappeCurves *self);
void nappe_curves_draw_events (NappeCurves *self);
void nappe_curves_draw_cursor (NappeCurves *self);

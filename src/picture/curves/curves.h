/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves of a time simulation: levels, flows and the litres on the floor against time, one panel under the other.
 *
 * Levels stand in millimetres (or inches) over the room's floor. Vessels far above the others, as a display over its sump,
 * get a panel of their own, so that a rise by a few millimetres shows. Rims are thin dashed lines, events numbered marks
 * at the top, in the order of the course's events and from 1 on; what stands too close shares a mark, "3–7". */
#pragma once

#include "picture/picture.h"
#include "study/simulation.h"

G_BEGIN_DECLS

typedef struct
{
  NappePaletteKind palette;
  NappeUnitSystem units;
  double width, height;       /* of the paper or canvas [px at 96 dpi] */
  double text_scale;          /* 1 normal */
  gboolean title;             /* the case's name and how it ends */
  const char *const *vessels; /* ids of the vessels whose levels are drawn, NULL ends them; NULL: those that matter most */
  const char *selected;       /* id of the picked part, whose curve is always drawn, and thick; NULL: none */
  double cursor;              /* a line at this time [s]; NaN: none */
  double first, last;         /* the stretch of time that is shown [s]; last not after first: all */
} NappeCurvesOptions;

/* A picture like any other: drawn, exported, picked, its items a text twin of the curves. Reads build and course only
 * while it is made. Transfer full; never NULL. */
NappePicture *nappe_curves_new (const NappeCurvesOptions *options, NappeBuild *build, const NappeSimulation *course);

/* Of such a picture alone: the place of a time [s], and the time at a place, brought into what is shown [px], [s]. */
double nappe_curves_x (const NappePicture *self, double time);
double nappe_curves_time (const NappePicture *self, double x);
/* Upper and lower edge of the panels [px]. */
void nappe_curves_span (const NappePicture *self, double *top, double *bottom);

G_END_DECLS

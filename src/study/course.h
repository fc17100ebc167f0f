/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a finished time simulation means: did it end well, did a pump run dry, how high did each vessel stand. */
#pragma once

#include "study/simulation.h"

G_BEGIN_DECLS

/* How a course ends, worst first. */
typedef enum
{
  NAPPE_COURSE_FLOODS,     /* water on the floor */
  NAPPE_COURSE_UNFINISHED, /* cancelled, or the computation gave up */
  NAPPE_COURSE_DRAWS_AIR,  /* a pump with power has drawn air */
  NAPPE_COURSE_CYCLES,     /* a siphon makes and breaks again and again */
  NAPPE_COURSE_LOST,       /* the power is back and nothing else was changed, but the old state is not */
  NAPPE_COURSE_MOVING,     /* levels still move when the time is over */
  NAPPE_COURSE_SETTLES,    /* at rest, elsewhere than before */
  NAPPE_COURSE_RETURNS,    /* at rest as before */
} NappeCourseEnd;

NappeCourseEnd nappe_course_end (const NappeSimulation *self);
const char *nappe_course_end_nick (NappeCourseEnd end); /* "floods", for JSON */

/* Whether the power is on at a time [s]; at the very moment of a switch: afterwards. */
gboolean nappe_course_has_power (const NappePlan *plan, double time);

/* Whether all that a plan does is undone at its end, so that the old state should come back: the power fails and returns.
 * Blocked holes and stuck check valves make no difference to a running system. */
gboolean nappe_course_should_return (const NappePlan *plan);

/* The first event in which a pump with power draws air; NULL: none does. Not owned. */
const NappeEvent *nappe_course_air (const NappeSimulation *self);

/* The first event of a kind at or after a time [s], of a link or node, or of any with G_MAXUINT. NULL: none. Not owned. */
const NappeEvent *nappe_course_find_event (const NappeSimulation *self, NappeEventKind kind, guint index, double after);

G_END_DECLS

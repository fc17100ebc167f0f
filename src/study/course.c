/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/course.h"

#include <math.h>

gboolean
nappe_course_has_power (const NappePlan *plan, double time)
{
  gboolean power = TRUE;

  for (guint i = 0; i < plan->n && plan->happenings[i].at <= time; i++)
    {
      if (plan->happenings[i].kind == NAPPE_HAPPEN_POWER_OFF)
        power = FALSE;
      else if (plan->happenings[i].kind == NAPPE_HAPPEN_POWER_ON)
        power = TRUE;
    }
  return power;
}

gboolean
nappe_course_should_return (const NappePlan *plan)
{
  gboolean failed = FALSE;

  for (guint i = 0; i < plan->n; i++)
    switch (plan->happenings[i].kind)
      {
      case NAPPE_HAPPEN_POWER_OFF:
        failed = TRUE;
        break;
      case NAPPE_HAPPEN_POWER_ON:
      case NAPPE_HAPPEN_BLOCK_HOLE:
      case NAPPE_HAPPEN_CHECK_STICKS:
        break;
      default:
        return FALSE;
      }
  return failed && nappe_course_has_power (plan, plan->length);
}

const NappeEvent *
nappe_course_find_event (const NappeSimulation *self, NappeEventKind kind, guint index, double after)
{
  for (guint i = 0; i < self->n_events; i++)
    {
      const NappeEvent *event = &self->events[i];

      if (event->kind == kind && event->time >= after && (index == G_MAXUINT || event->index == index))
        return event;
    }
  return NULL;
}

const NappeEvent *
nappe_course_air (const NappeSimulation *self)
{
  for (guint i = 0; i < self->n_events; i++)
    if (self->events[i].kind == NAPPE_EVENT_PUMP_AIR && nappe_course_has_power (self->plan, self->events[i].time))
      return &self->events[i];
  return NULL;
}

NappeCourseEnd
nappe_course_end (const NappeSimulation *self)
{
  if (isfinite (self->first_drop))
    return NAPPE_COURSE_FLOODS;
  /* What cycles for longer than can be followed is known to cycle. */
  if (self->end != NAPPE_END_REACHED && !(self->end == NAPPE_END_TOO_MUCH && self->cycles))
    return NAPPE_COURSE_UNFINISHED;
  if (nappe_course_air (self) != NULL)
    return NAPPE_COURSE_DRAWS_AIR;
  if (self->cycles)
    return NAPPE_COURSE_CYCLES;
  if (self->returns)
    return NAPPE_COURSE_RETURNS;
  if (nappe_course_should_return (self->plan))
    return NAPPE_COURSE_LOST;
  return self->settles ? NAPPE_COURSE_SETTLES : NAPPE_COURSE_MOVING;
}

static const char *const nicks[] = {
  [NAPPE_COURSE_FLOODS] = "floods",       [NAPPE_COURSE_UNFINISHED] = "unfinished", [NAPPE_COURSE_DRAWS_AIR] = "draws-air",
  [NAPPE_COURSE_CYCLES] = "cycles",       [NAPPE_COURSE_LOST] = "lost",             [NAPPE_COURSE_MOVING] = "moving",
  [NAPPE_COURSE_SETTLES] = "settles",     [NAPPE_COURSE_RETURNS] = "returns",
};

const char *
nappe_course_end_nick (NappeCourseEnd end)
{
  return nicks[end];
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/curves/course-words.h"

#include "picture/wording.h"
#include "results/working.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define MINUTE 60.0
#define HOUR 3600.0
#define DAY 86400.0

/* Formats come from small tables of translated texts. */
#pragma GCC diagnostic ignored "-Wformat-nonliteral"

/* Whole units and the rest of a time, "12 min 30 s"; without a rest, "12 min". */
static char *
two_units (double seconds, double large, double small, const char *both, const char *whole)
{
  gint64 smalls = (gint64) llround (seconds / small), per = (gint64) llround (large / small);

  return smalls % per == 0 ? g_strdup_printf (whole, (int) (smalls / per))
                           : g_strdup_printf (both, (int) (smalls / per), (int) (smalls % per));
}

char *
nappe_course_time_text (double seconds, NappeUnitSystem units)
{
  if (isnan (seconds))
    return nappe_rounded_text (NAPPE_QUANTITY_DURATION, seconds, units);
  if (isinf (seconds))
    /* Translators: of a time that never comes. */
    return g_strdup (_ ("never"));
  if (seconds < 2 * MINUTE)
    return nappe_rounded_text (NAPPE_QUANTITY_DURATION, seconds, units);
  if (seconds < 2 * HOUR)
    /* Translators: a time in minutes and seconds. */
    return two_units (seconds, MINUTE, 1, _ ("%d min %d s"), _ ("%d min"));
  if (seconds < 2 * DAY)
    /* Translators: a time in hours and minutes. */
    return two_units (seconds, HOUR, MINUTE, _ ("%d h %d min"), _ ("%d h"));
  /* Translators: a time in days and hours. */
  return two_units (seconds, DAY, HOUR, _ ("%d d %d h"), _ ("%d d"));
}

char *
nappe_course_clock_text (double seconds)
{
  gint64 tenths = isfinite (seconds) ? (gint64) llround (10 * fmax (seconds, 0)) : 0;
  gint64 whole = tenths / 10;

  return g_strdup_printf ("%d:%02d:%02d.%d", (int) (whole / 3600), (int) (whole / 60 % 60), (int) (whole % 60),
                          (int) (tenths % 10));
}

/* What people call a part; of an inner box, with its overflow's name. */
static char *
name_of (NappeBuild *build, const char *id)
{
  NappeNode node = { 0 };

  g_strlcpy (node.id, id, sizeof node.id);
  return nappe_wording_vessel (build, &node);
}

static const char *
change_format (NappeChangeKind kind)
{
  switch (kind)
    {
    case NAPPE_CHANGE_BLOCK:
      /* Translators: what is changed: a part, then a share: “Main siphon: 50% blocked”. So in the texts below. */
      return _ ("%s: %s blocked");
    case NAPPE_CHANGE_BLOCK_JOINT:
      return _ ("%s: %s of what joins its boxes blocked");
    case NAPPE_CHANGE_OPENING:
      return _ ("%s: valve %s open");
    case NAPPE_CHANGE_SPEED:
      return _ ("%s: at %s of full speed");
    case NAPPE_CHANGE_WEAR:
      return _ ("%s: %s of its head lost to wear");
    case NAPPE_CHANGE_LOAD:
    default:
      return _ ("%s: %s of its cloth closed");
    }
}

static char *
change_text (NappeBuild *build, const NappeHappening *happening, NappeUnitSystem units)
{
  const NappeScenarioChange *change = &happening->change;
  g_autofree char *name = name_of (build, change->part);
  g_autofree char *share = nappe_rounded_text (NAPPE_QUANTITY_SHARE,
                                               change->kind == NAPPE_CHANGE_WEAR ? 1 - change->value : change->value, units);
  g_autofree char *what = g_strdup_printf (change_format (change->kind), name, share);
  g_autofree char *time = nappe_course_time_text (happening->over, units);

  if (happening->over <= 0)
    return g_steal_pointer (&what);
  /* Translators: what is changed, then a time: “Main siphon: 100% blocked, growing over 4 h”. */
  return g_strdup_printf (_ ("%s, growing over %s"), what, time);
}

static char *
leak_text (NappeBuild *build, const NappeHappening *happening, NappeUnitSystem units)
{
  g_autofree char *name = name_of (build, happening->change.part);
  g_autofree char *bore = nappe_rounded_text (NAPPE_QUANTITY_LENGTH, happening->bore, units);
  g_autofree char *height = nappe_rounded_text (NAPPE_QUANTITY_LENGTH, happening->height, units);

  /* Translators: a vessel, the bore of the hole, and its height over the vessel's floor. */
  return g_strdup_printf (_ ("%s leaks through a hole of %s, %s over its floor"), name, bore, height);
}

/* Of a part when one is named. well: the format when it is in order again. */
static char *
stuck_text (NappeBuild *build, const NappeHappening *happening, const char *all, const char *all_well, const char *one,
            const char *one_well)
{
  gboolean well = happening->change.value <= 0;
  g_autofree char *name = NULL;

  if (*happening->change.part == '\0')
    return g_strdup (well ? all_well : all);
  name = name_of (build, happening->change.part);
  return g_strdup_printf (well ? one_well : one, name);
}

static char *
speed_text (const NappeHappening *happening, NappeUnitSystem units)
{
  g_autofree char *share = nappe_rounded_text (NAPPE_QUANTITY_SHARE, happening->change.value, units);

  /* Translators: %s is a share. */
  return g_strdup_printf (_ ("All pumps at %s of full speed"), share);
}

char *
nappe_course_happening_text (NappeBuild *build, const NappeHappening *happening, NappeUnitSystem units)
{
  gboolean well = happening->change.value <= 0;

  switch (happening->kind)
    {
    case NAPPE_HAPPEN_POWER_OFF:
      return g_strdup (_ ("The power fails"));
    case NAPPE_HAPPEN_POWER_ON:
      return g_strdup (_ ("The power comes back"));
    case NAPPE_HAPPEN_CHANGE:
      return change_text (build, happening, units);
    case NAPPE_HAPPEN_BLOCK_HOLE:
      return stuck_text (build, happening, _ ("All siphon-break holes are blocked"), _ ("All siphon-break holes are open again"),
                         /* Translators: %s is an outlet of a return line. */
                         _ ("%s: the siphon-break hole is blocked"), _ ("%s: the siphon-break hole is open again"));
    case NAPPE_HAPPEN_CHECK_STICKS:
      return stuck_text (build, happening, _ ("All check valves are stuck open"), _ ("All check valves hold again"),
                         /* Translators: %s is a return line. */
                         _ ("%s: the check valve is stuck open"), _ ("%s: the check valve holds again"));
    case NAPPE_HAPPEN_TOP_OFF_STICKS:
      return g_strdup (well ? _ ("The top-off minds its float again") : _ ("The top-off is stuck on"));
    case NAPPE_HAPPEN_NO_TOP_OFF:
      return g_strdup (well ? _ ("The reservoir is filled again") : _ ("The reservoir is empty"));
    case NAPPE_HAPPEN_LEAK:
      return leak_text (build, happening, units);
    case NAPPE_HAPPEN_SPEED:
      return speed_text (happening, units);
    default:
      return g_strdup ("");
    }
}

/* Sentences about the part of an event. NULL: it has no part to speak of. */
static const char *
event_format (NappeEventKind kind)
{
  switch (kind)
    {
    case NAPPE_EVENT_PRIMES:
      /* Translators: what a drain does at a time; %s is a part, so in the sentences below. */
      return _ ("%s runs full");
    case NAPPE_EVENT_BREAKS:
      return _ ("%s has drawn air and runs full no more");
    case NAPPE_EVENT_INLET_WET:
      return _ ("Water reaches the inlet of %s");
    case NAPPE_EVENT_INLET_DRY:
      return _ ("Water leaves the inlet of %s");
    case NAPPE_EVENT_AIR_IN_RETURN:
      return _ ("%s draws air: nothing siphons back any more");
    case NAPPE_EVENT_RETURN_FULL:
      return _ ("%s is full again: water comes out of it");
    case NAPPE_EVENT_PUMP_AIR:
      return _ ("%s draws air");
    case NAPPE_EVENT_PUMP_COVERED:
      return _ ("%s is covered with water again");
    case NAPPE_EVENT_OVER_RIM:
      return _ ("%s runs over its rim");
    case NAPPE_EVENT_WEIR_DRY:
      return _ ("%s: nothing runs over the weir any more");
    case NAPPE_EVENT_WEIR_WET:
      return _ ("%s: water runs over the weir");
    default:
      return NULL;
    }
}

char *
nappe_course_event_text (NappeBuild *build, const NappeSimulation *course, const NappeEvent *event, NappeUnitSystem units)
{
  const char *format = event_format (event->kind);
  g_autofree char *name = NULL;

  switch (event->kind)
    {
    case NAPPE_EVENT_HAPPENING:
      return event->index < course->plan->n
                 ? nappe_course_happening_text (build, &course->plan->happenings[event->index], units)
                 : g_strdup ("");
    case NAPPE_EVENT_FLOAT_CALLS:
      return g_strdup (_ ("The top-off starts"));
    case NAPPE_EVENT_FLOAT_RESTS:
      return g_strdup (_ ("The top-off stops"));
    case NAPPE_EVENT_RESERVOIR_EMPTY:
      return g_strdup (_ ("The reservoir has run empty"));
    default:
      break;
    }
  if (format == NULL)
    return g_strdup ("");
  name = name_of (build, event->part);
  return g_strdup_printf (format, name);
}

const char *
nappe_course_end_word (NappeCourseEnd end)
{
  switch (end)
    {
    case NAPPE_COURSE_FLOODS:
      /* Translators: how a case of the time simulation ends; so in the texts below. */
      return _ ("water on the floor");
    case NAPPE_COURSE_UNFINISHED:
      return _ ("not simulated to its end");
    case NAPPE_COURSE_DRAWS_AIR:
      return _ ("a pump draws air");
    case NAPPE_COURSE_CYCLES:
      return _ ("never comes to rest");
    case NAPPE_COURSE_LOST:
      return _ ("does not come back by itself");
    case NAPPE_COURSE_MOVING:
      return _ ("levels still move");
    case NAPPE_COURSE_SETTLES:
      return _ ("comes to rest at other levels");
    case NAPPE_COURSE_RETURNS:
      return _ ("comes back to its old state");
    default:
      return "";
    }
}

static void
add_floor (GString *text, const NappeSimulation *course, NappeUnitSystem units)
{
  g_autofree char *litres = nappe_rounded_text (NAPPE_QUANTITY_VOLUME, course->spilled, units);
  g_autofree char *first = nappe_course_time_text (course->first_drop, units);

  if (isfinite (course->first_drop))
    /* Translators: a time, then a volume. */
    g_string_append_printf (text, _ ("Water reaches the floor: the first drop after %s, in the end %s."), first, litres);
  else if (nappe_course_end (course) == NAPPE_COURSE_UNFINISHED)
    /* Translators: of a case that was not followed to its end. */
    g_string_append (text, _ ("As far as it was followed, no water reaches the floor."));
  else
    g_string_append (text, _ ("No water reaches the floor."));
}

static void
add_air (GString *text, NappeBuild *build, const NappeSimulation *course, NappeUnitSystem units)
{
  const NappeEvent *air = nappe_course_air (course);
  g_autofree char *name = NULL;
  g_autofree char *time = NULL;

  if (air == NULL)
    return;
  name = name_of (build, air->part);
  time = nappe_course_time_text (air->time, units);
  g_string_append_c (text, ' ');
  /* Translators: a pump, then a time. */
  g_string_append_printf (text, _ ("%s draws air after %s."), name, time);
}

/* How far it got, when that is not the end. */
static void
add_stop (GString *text, const NappeSimulation *course, NappeUnitSystem units)
{
  g_autofree char *time = nappe_course_time_text (course->end_time, units);

  if (course->end == NAPPE_END_REACHED)
    return;
  g_string_append_c (text, ' ');
  if (course->end == NAPPE_END_CANCELLED)
    /* Translators: %s is a time; so in the sentences below. */
    g_string_append_printf (text, _ ("It was stopped after %s."), time);
  else if (course->end == NAPPE_END_TOO_MUCH)
    g_string_append_printf (text, _ ("So much happens that it was followed for %s only."), time);
  else
    g_string_append_printf (text, _ ("The computation gave up after %s; what came before stands."), time);
}

static void
add_rest (GString *text, const NappeSimulation *course, NappeUnitSystem units)
{
  g_autofree char *period = nappe_course_time_text (course->period, units);
  g_autofree char *swing = nappe_rounded_text (NAPPE_QUANTITY_LENGTH, course->swing, units);

  if (course->cycles)
    {
      g_string_append_c (text, ' ');
      /* Translators: a time, then a height. */
      g_string_append_printf (text, _ ("It never comes to rest: a siphon makes and breaks every %s, and the level swings by %s."),
                              period, swing);
      return;
    }
  if (course->end != NAPPE_END_REACHED)
    return;
  g_string_append_c (text, ' ');
  if (course->returns)
    g_string_append (text, _ ("In the end all runs as it did before."));
  else if (nappe_course_should_return (course->plan))
    g_string_append (text, _ ("It does not come back to its old state by itself."));
  else if (course->settles)
    g_string_append (text, _ ("It comes to rest at other levels than before."));
  else
    g_string_append (text, _ ("Levels still move when the time is over."));
}

char *
nappe_course_verdict_text (NappeBuild *build, const NappeSimulation *course, NappeUnitSystem units)
{
  GString *text = g_string_new (NULL);

  add_floor (text, course, units);
  add_air (text, build, course, units);
  add_rest (text, course, units);
  add_stop (text, course, units);
  return g_string_free (text, FALSE);
}

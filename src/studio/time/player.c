/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/time/player.h"

#include <math.h>

#include "studio/time/case-run.h"

/* How often the progress is asked for [ms]. */
#define PROGRESS_EVERY 60
/* Events that lie closer count as one moment [s]. */
#define SAME_TIME 1e-6
#define FIRST_SPEED 10.0

struct _NappePlayer
{
  GObject parent_instance;
  NappeOutcome *next;      /* that cases are run on; NULL: none */
  GPtrArray *plans;        /* NappePlan, of `next` */
  int chosen;              /* index; -1: none */
  NappeOutcome *outcome;   /* that `course` was made from */
  NappeSimulation *course; /* NULL: none */
  double time, speed;
  gboolean playing;
  NappeCaseRun *run;       /* that is under way; NULL: none */
  gboolean anew;           /* it plays the same case of a changed build: the moment is kept */
  guint progress_source;   /* 0: none */
};

G_DEFINE_FINAL_TYPE (NappePlayer, nappe_player, G_TYPE_OBJECT)

enum
{
  PROP_TIME = 1,
  PROP_PLAYING,
  PROP_SPEED,
  PROP_BUSY,
  PROP_PROGRESS,
  N_PROPS
};
static GParamSpec *properties[N_PROPS];

enum
{
  SIGNAL_CASES_CHANGED,
  SIGNAL_COURSE_CHANGED,
  SIGNAL_FAILED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void
put_in (NappePlayer *self, NappeSimulation *course, NappeOutcome *outcome)
{
  g_clear_pointer (&self->course, nappe_simulation_unref);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  self->course = course != NULL ? nappe_simulation_ref (course) : NULL;
  self->outcome = outcome != NULL ? nappe_outcome_ref (outcome) : NULL;
}

static void
end_run (NappePlayer *self)
{
  g_clear_handle_id (&self->progress_source, g_source_remove);
  self->run = NULL;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_BUSY]);
}

static void
run_done (NappeOutcome *outcome, NappeSimulation *course, const GError *error, gpointer data)
{
  g_autoptr (NappePlayer) self = g_object_ref (data);
  double time = self->time;

  end_run (self);
  if (course == NULL && error == NULL)
    return;
  put_in (self, course, course != NULL ? outcome : NULL);
  if (!self->anew)
    nappe_player_set_playing (self, FALSE);
  nappe_player_set_time (self, self->anew ? time : 0.0);
  g_signal_emit (self, signals[SIGNAL_COURSE_CHANGED], 0);
  if (error != NULL)
    g_signal_emit (self, signals[SIGNAL_FAILED], 0, error->message);
}

static gboolean
tell_progress (gpointer data)
{
  g_object_notify_by_pspec (G_OBJECT (data), properties[PROP_PROGRESS]);
  return G_SOURCE_CONTINUE;
}

/* Drops the run under way. */
static void
forget_run (NappePlayer *self)
{
  if (self->run == NULL)
    return;
  nappe_case_run_drop (self->run);
  end_run (self);
}

static void
start_run (NappePlayer *self, gboolean anew)
{
  forget_run (self);
  if (self->next == NULL || self->chosen < 0)
    return;
  self->anew = anew;
  self->run = nappe_case_run_start (self->next, g_ptr_array_index (self->plans, self->chosen), run_done, self);
  self->progress_source = g_timeout_add (PROGRESS_EVERY, tell_progress, self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_BUSY]);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PROGRESS]);
}

static int
find_plan (const GPtrArray *plans, const char *id)
{
  for (guint i = 0; id != NULL && i < plans->len; i++)
    if (g_str_equal (((const NappePlan *) g_ptr_array_index (plans, i))->id, id))
      return (int) i;
  return -1;
}

void
nappe_player_set_outcome (NappePlayer *self, NappeOutcome *outcome)
{
  const NappePlan *before = self->chosen >= 0 ? g_ptr_array_index (self->plans, self->chosen) : NULL;
  g_autofree char *chosen = before != NULL ? g_strdup (before->id) : NULL;
  gboolean again = self->course != NULL || self->run != NULL;

  /* The same build with the bands of its numbers: its water runs as before. */
  if (outcome != NULL && self->next != NULL && outcome->study == self->next->study)
    return;
  forget_run (self);
  g_clear_pointer (&self->next, nappe_outcome_unref);
  g_clear_pointer (&self->plans, g_ptr_array_unref);
  self->next = outcome != NULL ? nappe_outcome_ref (outcome) : NULL;
  self->plans = outcome != NULL ? nappe_plans_of (outcome->build, outcome->study)
                                : g_ptr_array_new_with_free_func ((GDestroyNotify) nappe_plan_free);
  self->chosen = find_plan (self->plans, chosen);
  again = again && self->chosen >= 0;
  if (self->chosen < 0 && self->plans->len > 0)
    self->chosen = 0;
  g_signal_emit (self, signals[SIGNAL_CASES_CHANGED], 0);
  if (again)
    {
      start_run (self, TRUE);
      return;
    }
  put_in (self, NULL, NULL);
  nappe_player_set_playing (self, FALSE);
  nappe_player_set_time (self, 0.0);
  g_signal_emit (self, signals[SIGNAL_COURSE_CHANGED], 0);
}

const GPtrArray *
nappe_player_get_plans (NappePlayer *self)
{
  return self->plans;
}

int
nappe_player_get_case (NappePlayer *self)
{
  return self->chosen;
}

gboolean
nappe_player_choose (NappePlayer *self, const char *id)
{
  int index = find_plan (self->plans, id);

  if (index < 0)
    return FALSE;
  if (index == self->chosen)
    return TRUE;
  self->chosen = index;
  g_signal_emit (self, signals[SIGNAL_CASES_CHANGED], 0);
  return TRUE;
}

void
nappe_player_run (NappePlayer *self)
{
  start_run (self, FALSE);
}

void
nappe_player_cancel (NappePlayer *self)
{
  if (self->run != NULL)
    nappe_case_run_stop (self->run);
}

gboolean
nappe_player_is_busy (NappePlayer *self)
{
  return self->run != NULL;
}

double
nappe_player_get_progress (NappePlayer *self)
{
  return self->run != NULL ? nappe_case_run_get_progress (self->run) : 0.0;
}

NappeSimulation *
nappe_player_get_course (NappePlayer *self)
{
  return self->course;
}

NappeOutcome *
nappe_player_get_outcome (NappePlayer *self)
{
  return self->outcome;
}

double
nappe_player_get_time (NappePlayer *self)
{
  return self->time;
}

void
nappe_player_set_time (NappePlayer *self, double time)
{
  double end = self->course != NULL ? self->course->end_time : 0.0;
  double inside = isfinite (time) ? CLAMP (time, 0.0, end) : 0.0;

  if (inside == self->time)
    return;
  self->time = inside;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_TIME]);
}

gboolean
nappe_player_is_playing (NappePlayer *self)
{
  return self->playing;
}

void
nappe_player_set_playing (NappePlayer *self, gboolean playing)
{
  gboolean wanted = playing && self->course != NULL;

  if (wanted == self->playing)
    return;
  if (wanted && self->time >= self->course->end_time)
    nappe_player_set_time (self, 0.0);
  self->playing = wanted;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PLAYING]);
}

double
nappe_player_get_speed (NappePlayer *self)
{
  return self->speed;
}

void
nappe_player_set_speed (NappePlayer *self, double speed)
{
  if (!(speed > 0.0) || !isfinite (speed) || speed == self->speed)
    return;
  self->speed = speed;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_SPEED]);
}

void
nappe_player_advance (NappePlayer *self, double seconds)
{
  if (!self->playing)
    return;
  nappe_player_set_time (self, self->time + seconds * self->speed);
  if (self->time >= self->course->end_time)
    nappe_player_set_playing (self, FALSE);
}

gboolean
nappe_player_step (NappePlayer *self, int way)
{
  guint n = self->course != NULL ? self->course->n_events : 0;

  for (guint k = 0; k < n; k++)
    {
      const guint i = way > 0 ? k : n - 1 - k;
      const double time = self->course->events[i].time;

      if (way > 0 ? time <= self->time + SAME_TIME : time >= self->time - SAME_TIME)
        continue;
      nappe_player_show_event (self, i);
      return TRUE;
    }
  return FALSE;
}

void
nappe_player_show_event (NappePlayer *self, guint event)
{
  if (self->course == NULL || event >= self->course->n_events)
    return;
  nappe_player_set_playing (self, FALSE);
  nappe_player_set_time (self, self->course->events[event].time);
}

int
nappe_player_get_event (NappePlayer *self)
{
  guint low = 0, high = self->course != NULL ? self->course->n_events : 0;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;

      if (self->course->events[middle].time <= self->time + SAME_TIME)
        low = middle + 1;
      else
        high = middle;
    }
  return (int) low - 1;
}

static void
nappe_player_get_property (GObject *object, guint property, GValue *value, GParamSpec *pspec)
{
  NappePlayer *self = NAPPE_PLAYER (object);

  switch (property)
    {
    case PROP_TIME:
      g_value_set_double (value, self->time);
      break;
    case PROP_PLAYING:
      g_value_set_boolean (value, self->playing);
      break;
    case PROP_SPEED:
      g_value_set_double (value, self->speed);
      break;
    case PROP_BUSY:
      g_value_set_boolean (value, nappe_player_is_busy (self));
      break;
    case PROP_PROGRESS:
      g_value_set_double (value, nappe_player_get_progress (self));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, property, pspec);
    }
}

static void
nappe_player_set_property (GObject *object, guint property, const GValue *value, GParamSpec *pspec)
{
  NappePlayer *self = NAPPE_PLAYER (object);

  switch (property)
    {
    case PROP_TIME:
      nappe_player_set_time (self, g_value_get_double (value));
      break;
    case PROP_PLAYING:
      nappe_player_set_playing (self, g_value_get_boolean (value));
      break;
    case PROP_SPEED:
      nappe_player_set_speed (self, g_value_get_double (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, property, pspec);
    }
}

static void
nappe_player_dispose (GObject *object)
{
  NappePlayer *self = NAPPE_PLAYER (object);

  forget_run (self);
  put_in (self, NULL, NULL);
  g_clear_pointer (&self->next, nappe_outcome_unref);
  G_OBJECT_CLASS (nappe_player_parent_class)->dispose (object);
}

static void
nappe_player_finalize (GObject *object)
{
  g_ptr_array_unref (NAPPE_PLAYER (object)->plans);
  G_OBJECT_CLASS (nappe_player_parent_class)->finalize (object);
}

static void
nappe_player_class_init (NappePlayerClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags both = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY;
  const GParamFlags reading = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->get_property = nappe_player_get_property;
  object_class->set_property = nappe_player_set_property;
  object_class->dispose = nappe_player_dispose;
  object_class->finalize = nappe_player_finalize;
  properties[PROP_TIME] = g_param_spec_double ("time", NULL, NULL, 0.0, G_MAXDOUBLE, 0.0, both);
  properties[PROP_PLAYING] = g_param_spec_boolean ("playing", NULL, NULL, FALSE, both);
  properties[PROP_SPEED] = g_param_spec_double ("speed", NULL, NULL, 0.0, G_MAXDOUBLE, FIRST_SPEED, both);
  properties[PROP_BUSY] = g_param_spec_boolean ("busy", NULL, NULL, FALSE, reading);
  properties[PROP_PROGRESS] = g_param_spec_double ("progress", NULL, NULL, 0.0, 1.0, 0.0, reading);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  signals[SIGNAL_CASES_CHANGED] = g_signal_new ("cases-changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                                NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_COURSE_CHANGED] = g_signal_new ("course-changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL,
                                                 NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_FAILED] = g_signal_new ("failed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                         G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
nappe_player_init (NappePlayer *self)
{
  self->plans = g_ptr_array_new_with_free_func ((GDestroyNotify) nappe_plan_free);
  self->chosen = -1;
  self->speed = FIRST_SPEED;
}

NappePlayer *
nappe_player_new (void)
{
  return g_object_new (NAPPE_TYPE_PLAYER, NULL);
}

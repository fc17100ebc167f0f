/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs a network in time: from the running state, happening by happening, with CVODE (BDF, dense Newton, root finding;
 * Hindmarsh et al., SUNDIALS, ACM TOMS 31, 2005). The equations are those of simulation-flows.c, the events those of
 * simulation-switches.c. Work is bounded: steps, restarts and events each have an end. */
#include "study/simulation-private.h"

#include "study/scenario.h"

#include <cvode/cvode.h>
#include <cvode/cvode_ls.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>
#include <nvector/nvector_serial.h>
#include <sunmatrix/sunmatrix_dense.h>

/* An error of a step as a share of a state: what counts is the absolute one (simulation-start.c). */
#define RELATIVE_TOLERANCE 1e-9
/* Bounds of work: enough for a siphon that makes and breaks every four seconds over six hours. */
#define MOST_STEPS 600000
/* BDF of a higher order is stable for all steps only where nothing swings. Orders above 2 held on to a swing between levels
 * near to rest, in steps of a millisecond, until all steps were spent. */
#define HIGHEST_ORDER 2
#define MOST_FAILURES 40
/* Calls of the progress function. */
#define PROGRESS_CALLS 200

typedef struct
{
  NappeTime time;
  SUNContext context;
  void *cvode;
  N_Vector y, middle;
  SUNMatrix matrix;
  SUNLinearSolver solver;
  int *roots;
  long steps, evaluations, jacobians; /* before the last restart */
  guint failures;
} Run;

static int
rates (double t, N_Vector y, N_Vector rate, void *data)
{
  Run *run = data;
  double *out = N_VGetArrayPointer (rate);

  nappe_time_evaluate (&run->time, t, N_VGetArrayPointer (y), out);
  for (guint i = 0; i < run->time.n_states; i++)
    if (!isfinite (out[i]))
      return 1; /* a shorter step may do */
  return 0;
}

static int
slopes (double t, N_Vector y, N_Vector rate, SUNMatrix matrix, void *data, N_Vector a, N_Vector b, N_Vector c)
{
  Run *run = data;

  /* CVODE has emptied the matrix. */
  nappe_time_slopes (&run->time, t, N_VGetArrayPointer (y), SM_COLS_D (matrix));
  return 0;
}

static int
watch (double t, N_Vector y, double *value, void *data)
{
  Run *run = data;

  nappe_time_watch (&run->time, t, N_VGetArrayPointer (y), run->time.watched);
  memcpy (value, run->time.watched, run->time.n_watches * sizeof *value);
  return 0;
}

/* Failures are told by return values. */
static void
stay_silent (int code, const char *module, const char *function, char *text, void *data)
{
}

static gboolean
start_cvode (Run *run)
{
  NappeTime *time = &run->time;
  sunindextype n = (sunindextype) time->n_states;

  SUNContext_Create (NULL, &run->context);
  run->y = N_VNew_Serial (n, run->context);
  N_VEnableFusedOps_Serial (run->y, SUNTRUE);
  run->middle = N_VNew_Serial (n, run->context);
  run->matrix = nappe_time_matrix_new (n, run->context);
  run->solver = nappe_time_solver_new (n, run->context);
  run->cvode = CVodeCreate (CV_BDF, run->context);
  run->roots = g_new0 (int, MAX (time->n_watches, 1));
  return run->cvode != NULL;
}

static gboolean
set_up_cvode (Run *run)
{
  NappeTime *time = &run->time;
  N_Vector tolerance = N_VMake_Serial ((sunindextype) time->n_states, time->tolerance, run->context);
  gboolean good = CVodeInit (run->cvode, rates, 0, run->y) == CV_SUCCESS
                  && CVodeSetUserData (run->cvode, run) == CV_SUCCESS
                  && CVodeSVtolerances (run->cvode, RELATIVE_TOLERANCE, tolerance) == CV_SUCCESS
                  && CVodeSetLinearSolver (run->cvode, run->solver, run->matrix) == CV_SUCCESS
                  && CVodeRootInit (run->cvode, (int) time->n_watches, watch) == CV_SUCCESS;

  good = good && CVodeSetJacFn (run->cvode, slopes) == CV_SUCCESS;
  good = good && CVodeSetMaxOrd (run->cvode, HIGHEST_ORDER) == CV_SUCCESS;
  CVodeSetErrHandlerFn (run->cvode, stay_silent, NULL);
  CVodeSetNoInactiveRootWarn (run->cvode);
  CVodeSetLSetupFrequency (run->cvode, 1);
  CVodeSetJacEvalFrequency (run->cvode, 1);
  N_VDestroy (tolerance);
  return good;
}

static void
free_cvode (Run *run)
{
  CVodeFree (&run->cvode);
  SUNLinSolFree (run->solver);
  SUNMatDestroy (run->matrix);
  N_VDestroy (run->y);
  N_VDestroy (run->middle);
  SUNContext_Free (&run->context);
  g_free (run->roots);
}

/* Takes what CVODE has counted since it was last started. */
static void
count_work (Run *run)
{
  long steps = 0, evaluations = 0, more = 0, jacobians = 0;

  CVodeGetNumSteps (run->cvode, &steps);
  CVodeGetNumRhsEvals (run->cvode, &evaluations);
  CVodeGetNumLinRhsEvals (run->cvode, &more);
  CVodeGetNumJacEvals (run->cvode, &jacobians);
  run->steps += steps;
  run->evaluations += evaluations + more;
  run->jacobians += jacobians;
}

static void
restart (Run *run, double t)
{
  count_work (run);
  CVodeReInit (run->cvode, t, run->y);
}

/* Of the watches that fell in a step, acts on all. Returns whether the equations have changed. */
static gboolean
act_on_roots (Run *run, double t)
{
  NappeTime *time = &run->time;
  double *y = N_VGetArrayPointer (run->y);
  gboolean changed = FALSE;

  CVodeGetRootInfo (run->cvode, run->roots);
  nappe_time_take_levels (time, y);
  for (guint i = 0; i < time->n_watches; i++)
    if (run->roots[i] < 0)
      changed |= nappe_time_act (time, i, t, y);
  return changed;
}

/* A switch that began at 0 is no root for CVODE. */
static gboolean
has_fallen (const Run *run)
{
  for (guint i = 0; i < run->time.n_watches; i++)
    if (run->time.watched[i] < -1e-6 && nappe_time_is_switch (&run->time.watches[i]))
      return TRUE;
  return FALSE;
}

typedef struct
{
  double t;
  guint next;          /* happening */
  double told;         /* progress */
  long steps;
} Clock;

static double
next_stop (const Run *run, const Clock *clock)
{
  const NappePlan *plan = run->time.plan;
  double stop = fmin (plan->length, nappe_time_ramp_end (&run->time, clock->t));

  return clock->next < plan->n ? fmin (stop, plan->happenings[clock->next].at) : stop;
}

/* Reports what holds from the start on. */
static void
start_reports (Run *run)
{
  NappeTime *time = &run->time;
  double *y = N_VGetArrayPointer (run->y);
  guint n_events = time->result->n_events;

  nappe_time_watch (time, 0, y, time->watched);
  for (guint i = 0; i < time->n_watches; i++)
    {
      NappeWatchKind kind = time->watches[i].kind;

      if (time->watched[i] >= 0 || nappe_time_is_switch (&time->watches[i]))
        continue;
      nappe_time_act (time, i, 0, y);
      if (kind == NAPPE_WATCH_INLET || kind == NAPPE_WATCH_WEIR)
        time->result->n_events = n_events; /* wet as ever */
      n_events = time->result->n_events;
    }
}

/* What the plan brings at the clock's time. */
static void
happen (Run *run, Clock *clock, NappeRecord *record)
{
  NappeTime *time = &run->time;
  double *y = N_VGetArrayPointer (run->y);

  if (time->ramps->len > 0)
    nappe_time_drop_ramps (time, clock->t, y);
  nappe_time_evaluate (time, clock->t, y, NULL);
  clock->next = nappe_time_happen (time, clock->next, clock->t, y);
  nappe_time_settle (time, clock->t, y);
  nappe_record_keep (record, clock->t, y);
  restart (run, clock->t);
}

static gboolean
tell (Clock *clock, double length, NappeProgress progress, gpointer data, GCancellable *cancellable)
{
  double share = clock->t / length;

  if (progress != NULL && share - clock->told > 1.0 / PROGRESS_CALLS)
    {
      clock->told = share;
      progress (share, data);
    }
  return cancellable == NULL || !g_cancellable_is_cancelled (cancellable);
}

/* Hands the step from `before` to the record, as finely as it bends. */
static void
record_step (Run *run, NappeRecord *record, double before, double now)
{
  double *middle = N_VGetArrayPointer (run->middle), *y = N_VGetArrayPointer (run->y);
  guint pieces = 1;

  if (CVodeGetDky (run->cvode, 0.5 * (before + now), 0, run->middle) == CV_SUCCESS)
    pieces = nappe_record_pieces (record, middle, y);
  for (guint i = 1; i < pieces; i++)
    {
      double t = before + i * (now - before) / pieces;

      if (CVodeGetDky (run->cvode, t, 0, run->middle) == CV_SUCCESS)
        nappe_record_pass (record, t, middle);
    }
  nappe_record_pass (record, now, y);
}

/* One step. FALSE: the integrator has given up for good. */
static gboolean
step (Run *run, Clock *clock, NappeRecord *record)
{
  NappeTime *time = &run->time;
  double stop = next_stop (run, clock), before = clock->t, now;
  double *y = N_VGetArrayPointer (run->y);

  if (stop <= clock->t)
    {
      happen (run, clock, record);
      return TRUE;
    }
  CVodeSetStopTime (run->cvode, stop);
  int result = CVode (run->cvode, stop, run->y, &clock->t, CV_ONE_STEP);
  clock->steps++;
  if (result < 0)
    {
      clock->t = before;
      restart (run, before);
      return ++run->failures < MOST_FAILURES;
    }
  now = clock->t;
  record_step (run, record, before, now);
  /* What jumps at an event, such as the flow of a drain that is cleared, keeps its value until then. */
  if (result == CV_ROOT_RETURN || now >= stop)
    nappe_record_keep (record, nextafter (now, before), y);
  gboolean rooted = result == CV_ROOT_RETURN, changed = rooted && act_on_roots (run, now);
  if (changed || (!rooted && has_fallen (run)))
    changed |= nappe_time_settle (time, now, y);
  if (rooted || changed)
    nappe_record_keep (record, now, y);
  if (changed)
    restart (run, now);
  if (now >= stop && stop < time->plan->length)
    happen (run, clock, record);
  return TRUE;
}

static NappeSimulationEnd
go (Run *run, NappeRecord *record, NappeProgress progress, gpointer data, GCancellable *cancellable, double *end_time)
{
  NappeTime *time = &run->time;
  Clock clock = { 0 };
  NappeSimulationEnd end = NAPPE_END_REACHED;

  happen (run, &clock, record);
  while (clock.t < time->plan->length && end == NAPPE_END_REACHED)
    {
      if (!tell (&clock, time->plan->length, progress, data, cancellable))
        end = NAPPE_END_CANCELLED;
      else if (clock.steps >= MOST_STEPS || time->result->n_events >= NAPPE_SIMULATION_EVENTS_MAX)
        end = NAPPE_END_TOO_MUCH;
      else if (!step (run, &clock, record))
        end = NAPPE_END_FAILED;
    }
  nappe_record_keep (record, clock.t, N_VGetArrayPointer (run->y));
  if (progress != NULL && end == NAPPE_END_REACHED)
    progress (1, data);
  count_work (run);
  *end_time = clock.t;
  return end;
}

static void
simulate (Run *run, const NappeStudy *study, NappeProgress progress, gpointer data, GCancellable *cancellable)
{
  NappeTime *time = &run->time;
  NappeSimulation *result = time->result;
  double *y = N_VGetArrayPointer (run->y);

  nappe_time_start (time, &study->running, y);
  for (guint i = 0; i < time->n_lines; i++)
    result->primed[time->lines[i].root] = time->lines[i].drain && time->lines[i].mode == NAPPE_LINE_FULL;
  start_reports (run);
  g_autofree double *start = g_memdup2 (y, time->n_states * sizeof *y);
  NappeRecord *record = nappe_record_new (time);
  result->end = NAPPE_END_FAILED;
  if (set_up_cvode (run))
    result->end = go (run, record, progress, data, cancellable, &result->end_time);
  nappe_record_end (record);
  nappe_time_judge (time, start, y, result->end_time);
  result->steps = run->steps;
  result->evaluations = run->evaluations;
  result->jacobians = run->jacobians;
  nappe_record_free (record);
}

static gboolean
can_start (const NappeStudy *study, const NappePlan *plan, GError **error)
{
  if (study->running.rest != NAPPE_REST_FOUND && study->running.rest != NAPPE_REST_CYCLES)
    {
      g_set_error_literal (error, NAPPE_SCENARIO_ERROR, NAPPE_SCENARIO_ERROR_PART,
                           _ ("The system has no running state that a simulation could start from."));
      return FALSE;
    }
  return nappe_plan_check (plan, study->network, error);
}

NappeSimulation *
nappe_simulation_new (const NappeStudy *study, const NappePlan *plan, double evaporation, NappeProgress progress, gpointer data,
                      GCancellable *cancellable, GError **error)
{
  return nappe_simulation_new_finely (study, plan, evaporation, 1, progress, data, cancellable, error);
}

NappeSimulation *
nappe_simulation_new_finely (const NappeStudy *study, const NappePlan *plan, double evaporation, double share,
                             NappeProgress progress, gpointer data, GCancellable *cancellable, GError **error)
{
  Run run = { 0 };

  if (!can_start (study, plan, error))
    return NULL;
  NappeSimulation *result = g_new0 (NappeSimulation, 1);
  g_atomic_ref_count_init (&result->references);
  result->plan = nappe_plan_copy (plan);
  result->network = nappe_network_copy (study->network);
  result->primed = g_new0 (gboolean, MAX (study->network->n_links, 1));
  result->first_drop = INFINITY;
  run.time.result = result;
  nappe_time_init (&run.time, study, result->plan, evaporation);
  run.time.share = share;
  if (start_cvode (&run))
    simulate (&run, study, progress, data, cancellable);
  free_cvode (&run);
  nappe_time_clear (&run.time);
  return result;
}

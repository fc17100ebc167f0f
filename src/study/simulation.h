/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same network run in time.
 *
 * States are volumes of vessels and pipes, flows of full columns, and whether each drain runs full. Laws are those of
 * law.h; every flow leaves one volume and enters another in the same expression, so that water is kept to rounding.
 * Integrated by SUNDIALS CVODE (BDF) with its root finding. See simulation.c for the equations. */
#pragma once

#include "study/happening.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_EVENT_HAPPENING,      /* one of the plan; number: its index */
  NAPPE_EVENT_PRIMES,         /* a drain runs full */
  NAPPE_EVENT_BREAKS,         /* a full drain has drawn air */
  NAPPE_EVENT_INLET_WET,      /* water stands a film over a drain's crest; dry: half of it */
  NAPPE_EVENT_INLET_DRY,
  NAPPE_EVENT_AIR_IN_RETURN,  /* the surface falls to a nozzle or siphon-break hole: the line no longer siphons */
  NAPPE_EVENT_RETURN_FULL,    /* the line has filled again and water comes out of its nozzle */
  NAPPE_EVENT_PUMP_AIR,       /* the pump's inlet is uncovered */
  NAPPE_EVENT_PUMP_COVERED,
  NAPPE_EVENT_OVER_RIM,       /* water reaches a vessel's rim: on the floor from here on; first crossing only */
  NAPPE_EVENT_FLOAT_CALLS,    /* top-off starts */
  NAPPE_EVENT_FLOAT_RESTS,
  NAPPE_EVENT_RESERVOIR_EMPTY,
  NAPPE_EVENT_WEIR_DRY,       /* nothing goes over a box's weir any more */
  NAPPE_EVENT_WEIR_WET,
} NappeEventKind;

typedef struct
{
  double time;      /* [s] */
  NappeEventKind kind;
  guint index;      /* link of a drain, pump, outlet or weir; node of a vessel; number of a happening */
  char part[NAPPE_PART_ID_MAX + 1]; /* id of the part; "" for a happening of the whole system */
} NappeEvent;

typedef enum
{
  NAPPE_END_REACHED,     /* the whole length was simulated */
  NAPPE_END_CANCELLED,
  NAPPE_END_TOO_MUCH,    /* steps or events ran out (a cycling siphon over weeks): what was found until then stands */
  NAPPE_END_FAILED,      /* the integrator gave up at end_time; what was found until then stands */
} NappeSimulationEnd;

typedef struct
{
  gatomicrefcount references;
  NappePlan *plan;           /* owned copy */
  NappeNetwork *network;     /* owned copy: as at the start */
  NappeSimulationEnd end;
  double end_time;           /* [s] */
  /* Frames: rising times, one at least at every event; between them levels and flows are joined by the integrator's own
     polynomial, sampled so densely that straight lines are good to 0.1 mm and 1 % of the pump's flow. */
  guint n_frames;
  double *time;              /* by frame [s] */
  double *level;             /* by frame and node, frame * n_nodes + node, z [m]; junctions: NaN */
  double *flow;              /* by frame and link, frame * n_links + link [m3/s] */
  double *on_floor;          /* by frame [m3] */
  gboolean *primed;          /* by link, of drains: at the start; events say how it goes on */
  guint n_events;
  NappeEvent *events;        /* by time, then by part's id */
  double *peak, *peak_time, *lowest, *lowest_time; /* by node, z [m], [s] */
  double spilled;            /* on the floor at the end [m3] */
  double first_drop;         /* time at which the first drop falls over a rim or out of a leak [s]; INFINITY: dry */
  double added;              /* by the top-off, out of its reservoir, which is one of the vessels [m3] */
  double evaporated;         /* out of the system [m3] */
  double balance_error;      /* all water at the end, with what has evaporated, less all at the start, over all [-] */
  gboolean returns;          /* ends in its old steady state: every level within 2 mm, every drain as primed as before */
  gboolean settles;          /* no level moves faster than 0.1 mm a minute at the end */
  gboolean cycles;           /* a siphon makes and breaks again and again */
  double period, swing;      /* of it [s], [m]; NaN */
  long steps, evaluations, jacobians; /* of the integrator */
} NappeSimulation;

/* May be NULL. share: 0..1. Called from the thread that simulates, some hundred times. */
typedef void (*NappeProgress) (double share, gpointer data);

/* Starts from the study's running state. NULL with NAPPE_SCENARIO_ERROR when the plan names no part or an absurd number, or when
 * the study has no running state to start from (it is not runnable or no rest was found; a cycling system starts unprimed).
 * evaporation: of all open water, as heat.h gives it; taken from the return chamber [m3/s], >= 0.
 * Of the study only network and running are read. Transfer full. Memory: at most NAPPE_SIMULATION_FRAMES_MAX frames. */
NappeSimulation *nappe_simulation_new (const NappeStudy *study, const NappePlan *plan, double evaporation,
                                       NappeProgress progress, gpointer data, GCancellable *cancellable, GError **error);
NappeSimulation *nappe_simulation_ref (NappeSimulation *self);
void nappe_simulation_unref (NappeSimulation *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeSimulation, nappe_simulation_unref)

#define NAPPE_SIMULATION_FRAMES_MAX 20000
#define NAPPE_SIMULATION_EVENTS_MAX 20000

/* Between frames, straight. time is brought into 0..end_time. */
double nappe_simulation_level (const NappeSimulation *self, guint node, double time);
double nappe_simulation_flow (const NappeSimulation *self, guint link, double time);
double nappe_simulation_on_floor (const NappeSimulation *self, double time);
/* A whole state at a time, for pictures: into one that is initialised for the network (state.h). */
void nappe_simulation_state (const NappeSimulation *self, double time, NappeState *state);

const char *nappe_event_nick (NappeEventKind kind); /* "primes", for JSON and CSV */

G_END_DECLS

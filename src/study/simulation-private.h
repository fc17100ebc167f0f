/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of the time simulation share.
 *
 * States y, all at fixed places: the volume of every vessel and of the floor, what has evaporated, what the top-off has
 * brought; for each line (pipes, pumps and one drain joined by junctions) the flows of its independent loops, the water
 * in it, and the water in those of its ends that have drawn air.
 * A line is FULL (rigid column, flows by inertia), OPEN (a drain running with a free surface; a return line whose water has
 * fallen: a column that stands in it), or SWEPT (a drain that is filling, its air on the way out).
 * Switches between them move whole states from one place to another, so that water is kept to rounding. */
#pragma once

#include <sundials/sundials_linearsolver.h>
#include <sundials/sundials_nvector.h>

#include "network/law.h"
#include "study/simulation.h"

G_BEGIN_DECLS

/* Share of a line end's water below which suction holds the rest back; the law needs some water to act on. */
#define NAPPE_TIME_DREGS 0.02
/* Line ends that hold less are pipes without water of their own: they never draw air, but pass nothing back [m3]. */
#define NAPPE_TIME_LEAST_CONTENT 1e-6

typedef enum { NAPPE_LINE_FULL, NAPPE_LINE_OPEN, NAPPE_LINE_SWEPT } NappeLineMode;

/* Level of water standing in pipes against its volume: straight between points. */
typedef struct
{
  guint n;
  double *z, *volume; /* rising, from 0 on [m], [m3] */
} NappeColumn;

/* The last section of a line, into a vessel. */
typedef struct
{
  guint link;
  gboolean airy;       /* has drawn air: its water stands in it, and comes out of it no more */
  gboolean holds;      /* enough water to draw air at all */
  guint content;       /* state: its water while airy; 0 else */
  NappeColumn column;
} NappeLineEndState;

typedef struct
{
  guint n_links, *links;
  gboolean drain;      /* begins with a drain; else pumps, or pipes alone */
  guint root;          /* its drain, else its first link */
  NappeLineMode mode;
  guint n_ends;
  NappeLineEndState *ends;
  NappeColumn column;  /* of all its water */
  guint content;       /* state: its water, without that of airy ends */
  guint first_flow, most_flows, n_flows; /* states: flows of the loops */
  guint *chord;        /* by loop: place in `links` of the section whose flow it is */
  double *loop;        /* by loop and place in `links`: flow there for a flow in the loop, -1, 0, 1 */
  double *mass;        /* by loop and loop: inverse of inertia [m3/s2 for each metre of head] */
  double *drive;       /* by loop, scratch: head that drives it [m] */
  double inlet, inflow; /* of an open drain, as last evaluated: what its inlet lets in, and its pipes with it [m3/s] */
  double backing;      /* of an open drain: 1 where its pipes carry just what the inlet lets in; root of the head that this
                          would lose over the head that there is [-] */
  double inflow_by_level, inflow_by_end; /* slopes of the inflow by the box's level and by that of its end [m2/s] */
  double outflow_by_content; /* slope of the outflow [1/s] */
  double junction;     /* head below an open drain's inlet, where the next search begins [m] */
  double *share;       /* by end: of what comes out when the line has filled */
} NappeLine;

typedef struct
{
  guint link;
  double target, from, since; /* speed that it goes to, came from, and since when [s] */
  double own;          /* speed with power on */
} NappePumpSpeed;

/* A happening that takes time. */
typedef struct
{
  const NappeHappening *happening;
  double from;
} NappeRamp;

typedef struct
{
  guint node;
  double area, height; /* [m2], z [m] */
} NappeLeak;

typedef enum
{
  NAPPE_WATCH_DRAIN,    /* switches: these change the equations */
  NAPPE_WATCH_END,
  NAPPE_WATCH_COLUMN,
  NAPPE_WATCH_CHECK,
  NAPPE_WATCH_FLOAT,
  NAPPE_WATCH_INLET,    /* reports */
  NAPPE_WATCH_PUMP_AIR,
  NAPPE_WATCH_RIM,
  NAPPE_WATCH_WEIR,
  NAPPE_WATCH_RESERVOIR,
  NAPPE_WATCH_STEP,     /* of a vessel's plan area */
} NappeWatchKind;

typedef struct
{
  NappeWatchKind kind;
  guint index;  /* line, pump, link or node */
  guint end;    /* of a line */
  gboolean on;  /* what it says now: wet, in air, over, calls */
} NappeWatch;

typedef struct
{
  const NappePlan *plan;
  NappeNetwork *network;        /* changed as the plan says */
  const NappeNetwork *original;
  NappeSimulation *result;
  guint n_states, n_lines, n_pumps, n_watches;
  guint *volume;       /* by node: state; G_MAXUINT for junctions */
  guint air, topped;   /* states */
  NappeLine *lines;
  NappePumpSpeed *pumps;
  NappeWatch *watches;
  double *watched;     /* by watch: as last evaluated */
  gint *line_of;       /* by link, or -1 */
  guint *plain;        /* links that are no part of a line */
  guint n_plain;
  GArray *ramps;       /* NappeRamp */
  GArray *leaks;       /* NappeLeak */
  double evaporation;
  gboolean power, top_off_on, top_off_stuck, no_top_off;
  double float_level;  /* that the top-off keeps, z [m] */
  double pump_flow;    /* scale of flows [m3/s] */
  /* As last evaluated. */
  double *level;       /* by node */
  double *flow;        /* by link */
  NappeLinkMode *guess; /* by link */
  NappeLinkFlow *law;  /* by link: of vessels' links and of pumps into a column, with slopes */
  double *head_by_flow; /* by link, of full lines: slope of a section's head by its flow [s/m2] */
  double *head_by_level; /* by link, of full lines: of its head by the level it comes from [-] */
  double *shut_at;     /* by link: when its check valve last shut or opened [s] */
  gboolean *check_shut; /* by link: its check valve holds water back, at present */
  double *seen, seen_at; /* states and time of the last evaluation */
  double *tolerance;   /* by state */
  double share;        /* of the usual tolerances */
} NappeTime;

/* simulation.c */
/* As nappe_simulation_new, with errors of a step, and of the lines between frames, that are a share of the usual ones:
 * to tell how good those are. share: > 0, 1 is usual. */
NappeSimulation *nappe_simulation_new_finely (const NappeStudy *study, const NappePlan *plan, double evaporation, double share,
                                              NappeProgress progress, gpointer data, GCancellable *cancellable, GError **error);

/* simulation-columns.c */
void nappe_column_init (NappeColumn *self, const NappeNetwork *network, const guint *links, guint n);
void nappe_column_clear (NappeColumn *self);
/* Level at a volume; past both ends straight on. */
double nappe_column_level (const NappeColumn *self, double volume, double *slope); /* slope: (nullable) [1/m2] */
double nappe_column_whole (const NappeColumn *self);

/* simulation-start.c */
void nappe_time_init (NappeTime *self, const NappeStudy *study, const NappePlan *plan, double evaporation);
void nappe_time_clear (NappeTime *self);
/* Fills the states, and the tolerances of their errors. */
void nappe_time_start (NappeTime *self, const NappeState *running, double *y);

/* simulation-lines.c: topology. */
void nappe_time_find_lines (NappeTime *self);
void nappe_time_clear_lines (NappeTime *self);
/* Whether water can pass a link at all. */
gboolean nappe_time_is_open (const NappeTime *self, guint link);
/* Length over area times g [s2/m2]: head that an acceleration of the flow through a link takes. */
double nappe_time_inertia (const NappeTime *self, guint link);
/* Finds the loops of a full line anew, as valves are shut or not, and keeps the flows of its sections. */
void nappe_line_find_loops (NappeTime *self, NappeLine *line, double *y);
/* Flows of a full line's sections into self->flow. */
void nappe_line_spread_flows (NappeTime *self, const NappeLine *line, const double *y);
/* Water of a drain's pipes that stands under the surfaces it ends in [m3]. */
double nappe_line_tail (const NappeTime *self, const NappeLine *line);
double nappe_line_bore_of (const NappeTime *self, const NappeLine *line);

/* simulation-flows.c: the equations. */
void nappe_time_evaluate (NappeTime *self, double t, const double *y, double *rate);
/* Slopes of the rates by the states, column by column: jacobian[by][of]. */
void nappe_time_slopes (NappeTime *self, double t, const double *y, double **jacobian);
const NappeLineEndState *nappe_line_find_end (const NappeLine *line, guint link);
/* Level of the water in an end that has drawn air. */
double nappe_line_airy_level (const NappeLineEndState *end, double content, double *slope);
void nappe_time_take_speeds (NappeTime *self, double t);
void nappe_time_take_levels (NappeTime *self, const double *y);
/* Head at a node of a full line as its flows are, not by way of one link; the flows must be spread. NaN: cut off. */
double nappe_line_head_at (NappeTime *self, NappeLine *line, guint node, guint without, double t, const double *y);
/* What an open drain takes in at the levels last taken. */
void nappe_line_find_inflow (NappeTime *self, NappeLine *line);
void nappe_line_run_open_drain (NappeTime *self, NappeLine *line, const double *y, double *rate);
double nappe_time_pump_speed (const NappePumpSpeed *pump, double t, double *standing);

/* simulation-branches.c: an open drain with tees. */
/* The lowest head from which water runs out of a junction. INFINITY: from none. */
double nappe_line_lowest_end (const NappeTime *self, const NappeLine *line, guint junction);
double nappe_line_head_for (NappeTime *self, NappeLine *line, guint junction, double flow, double start);
/* What an open drain's pipes carry full with its box at a level, and the head at the first junction. */
double nappe_line_full_flow (NappeTime *self, NappeLine *line, double level, double *head, double *slope);
double nappe_line_flow_at (NappeTime *self, NappeLine *line, guint junction, double head, double *slope);

/* simulation-switches.c: events. */
void nappe_time_find_watches (NappeTime *self);
void nappe_time_watch (NappeTime *self, double t, const double *y, double *value);
/* A watch has fallen below 0. Returns whether the equations have changed. */
gboolean nappe_time_act (NappeTime *self, guint watch, double t, double *y);
/* Acts on every switch that has fallen below 0, again and again until none has. */
gboolean nappe_time_settle (NappeTime *self, double t, double *y);
gboolean nappe_time_is_switch (const NappeWatch *watch);
void nappe_line_open (NappeTime *self, NappeLine *line, double *y);

/* simulation-happenings.c */
/* Does what the plan says for t, from happening `next` on. Returns the next one that is still to come. */
guint nappe_time_happen (NappeTime *self, guint next, double t, double *y);
void nappe_time_run_ramps (NappeTime *self, double t);
/* The end of the next ramp after t, or INFINITY. */
double nappe_time_ramp_end (const NappeTime *self, double t);
void nappe_time_drop_ramps (NappeTime *self, double t, double *y);

/* simulation-linear.c: a dense matrix of n rows, and a solver for it. Freed as SUNDIALS' own are. */
SUNMatrix nappe_time_matrix_new (sunindextype n, SUNContext context);
SUNLinearSolver nappe_time_solver_new (sunindextype n, SUNContext context);

/* simulation-record.c */
typedef struct _NappeRecord NappeRecord;
NappeRecord *nappe_record_new (NappeTime *time);
void nappe_record_free (NappeRecord *self);
void nappe_record_event (NappeTime *self, double t, NappeEventKind kind, guint index, const char *part);
/* Of the step that has just ended: how many pieces a polygon needs to follow it. middle: half way through it. */
guint nappe_record_pieces (const NappeRecord *self, const double *middle, const double *end);
/* A point of the solution. Points come in order; the state at an event is kept in any case. */
void nappe_record_pass (NappeRecord *self, double t, const double *y);
void nappe_record_keep (NappeRecord *self, double t, const double *y);
void nappe_record_end (NappeRecord *self);

/* simulation-verdict.c */
void nappe_time_judge (NappeTime *self, const double *start, const double *end, double t);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A study: everything that is computed about a build, as one value.
 *
 * Made from a snapshot on any thread, never changed afterwards, shared by reference count. All
 * numbers are SI; z [m] above the room's floor. Indices are those of study->network. */
#pragma once

#include <gio/gio.h>

#include "network/law.h"
#include "network/network.h"
#include "physics/drop-inlet.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_REST_FOUND,      /* every balance holds */
  NAPPE_REST_CYCLES,     /* no steady state: a siphon primes, empties its box, breaks and starts again */
  NAPPE_REST_NOT_FOUND,  /* the solver gave up: see residual and worst_node */
  NAPPE_REST_NOT_RUNNABLE, /* the network lacks something (its problems say what), or nothing flows */
} NappeRest;

/* One state of the whole system. */
typedef struct
{
  NappeRest rest;
  double *level;     /* by node: free surface, or head of a junction, z [m] */
  double *flow;      /* by link [m3/s] */
  gboolean *primed;  /* by link, drains */
  double pump_flow;  /* all pumps together [m3/s] */
  double display_flow; /* into the display [m3/s] */
  double vessels;    /* water in all vessels without the floor [m3] */
  double pipes;      /* water in the pipes [m3] */
  double spilled;    /* on the floor [m3] */
  gboolean draws_air; /* the pump's inlet is uncovered: its flow is throttled by what arrives */
  double residual;   /* largest imbalance of a node [m3/s] */
  guint worst_node;
  guint iterations;
} NappeState;

typedef enum
{
  NAPPE_DRAIN_DRY,        /* no flow */
  NAPPE_DRAIN_QUIET,      /* unprimed, full-bore Froude number below 0.3 */
  NAPPE_DRAIN_ENTRAINING, /* 0.3 to 1: draws air, surges, loud */
  NAPPE_DRAIN_SWEEPING,   /* above about 1: air is swept down; primes unless vented */
  NAPPE_DRAIN_FULL,       /* full bore */
} NappeDrainState;

/* How a siphon sits between the levels that would upset it. Shares of the pump's flow: -0.07 means
 * that the bound is met when the flow falls by 7 %. NaN: there is no such bound. */
typedef struct
{
  gboolean known;
  double breaks;        /* siphon draws air and breaks */
  double channel_dry;   /* open channel runs dry */
  double channel_loud;  /* open channel leaves its quiet range */
  double emergency_wet; /* water reaches the emergency inlet */
  double down, up;      /* the nearest bounds: window is down .. up, down <= 0 <= up when it holds */
  double rise_per_percent; /* of the box's level when the valve closes by a hundredth of its travel [m]; NaN */
  char channel[NAPPE_PART_ID_MAX + 1], emergency[NAPPE_PART_ID_MAX + 1]; /* the drains whose inlets these bounds are; "": none */
} NappeTuningWindow;

/* A siphon that finds no rest: unprimed it lets the box rise until it primes, primed it empties the box until it breaks.
 * By filling and emptying the box between these two levels with the other drains as they are; the display's part of the
 * swing is left out. */
typedef struct
{
  gboolean cycles;
  double primes_at, breaks_at; /* levels of the box, z [m] */
  double swing;                /* of the box's level [m] */
  double period;               /* [s]; INFINITY: by itself it does not fill and empty the box, only together with others */
  double flow_full;            /* while it is primed, on the mean [m3/s] */
} NappeSiphonCycle;

/* One drain in the running state. */
typedef struct
{
  guint link;
  char id[NAPPE_PART_ID_MAX + 1];
  int role;               /* NappeDrainRole */
  NappeDrainState state;  /* of the pipe */
  NappeInletControl control; /* what holds its flow down */
  double flow;            /* [m3/s] */
  double velocity;        /* flow over the full bore [m/s] */
  double froude;          /* V/sqrt(g D) */
  double head_over_inlet; /* box level above the crest, negative when below [m] */
  double quiet_flow;      /* flow at Froude 0.3 [m3/s] */
  double capacity_inlet;  /* through its inlet with the display at its rim, unprimed [m3/s] */
  double capacity_full;   /* full bore with the display at its rim [m3/s] */
  double reserve;         /* what it could carry more than now: the safe one of both capacities less flow [m3/s] */
  double exit_submergence; /* exit below the surface it ends in; negative: in air [m] */
  char valve[NAPPE_PART_ID_MAX + 1]; /* id of the piece that is its first valve; "" without one */
  char valve_kind[16];    /* "gate", "ball", ... */
  double opening;         /* of that valve, share; NaN: no valve */
  double opening_wanted;  /* that tunes it as study text says; NaN: none does */
  double flow_valve_open; /* full bore with the valve fully open, box level as now [m3/s]; NaN: no valve */
  NappeTuningWindow window; /* of a valved siphon */
  double prime_level; /* level of the box at which it primes, unprimed until then, z [m]; NaN: vented, or never below
                         the rim */
  double prime_margin;    /* after a power cut, with the running flow: the greatest of Froude number over what sweeps the air,
                             and inlet flow over full-bore flow, as the box fills with all its drains unprimed; above 1 it
                             starts by itself; NaN: no siphon */
  NappeSiphonCycle cycle; /* of a siphon without a rest */
  double rise_per_turn;   /* of the box's level for one turn of its valve's stem (gate, globe, diaphragm) or one degree of its
                             handle (ball) towards shut [m]; NaN */
} NappeDrainReport;

/* One pump at its operating point. */
typedef struct
{
  guint link;
  char id[NAPPE_PART_ID_MAX + 1];   /* of the pump */
  char line[NAPPE_PART_ID_MAX + 1];
  double flow, head;       /* [m3/s], [m] */
  double static_head;      /* display's level, or highest exit, over the return chamber's [m] */
  double shut_off_head;    /* at its speed and wear [m] */
  double end_flow;         /* last point of its curve at its speed, of equal pumps together [m3/s] */
  double submergence;      /* water over the middle of its inlet [m] */
  double submergence_wanted; /* ANSI/HI 9.8 advice [m]; NaN: inlet bore unknown */
  double lift_head;        /* highest point of the line over the return level: what a restart must lift [m] */
} NappePumpReport;

/* One sideways pipe of a drain: how full it runs when unprimed. */
typedef struct
{
  guint link;
  char drain[NAPPE_PART_ID_MAX + 1], piece[NAPPE_PART_ID_MAX + 1];
  double flow;       /* [m3/s] */
  double bore, fall; /* [m], [m/m] along the flow; negative: it climbs */
  double depth;      /* of the water by Manning's law [m]; the bore when it runs full or has no fall */
  double full_flow;  /* that it carries full by Manning's law [m3/s] */
  gboolean full;     /* primed, or the flow is more than a free surface allows */
} NappeLevelRun;

/* One chamber of the sump in the running state. */
typedef struct
{
  guint node;
  char id[NAPPE_PART_ID_MAX + 1];
  int role;           /* NappeChamberRole */
  double level, depth; /* z [m], [m] */
  double volume;      /* [m3] */
  double flow;        /* through it: all that enters [m3/s] */
  double speed_along; /* flow over the wetted cross-section [m/s]; NaN: dry, or no baffle tells the direction */
  double speed_down;  /* flow over the plan [m/s] */
  double residence;   /* volume over flow [s]; INFINITY without flow */
  double turnover;    /* [1/s] */
  double bubble_stopped; /* smallest bubble that still rises against speed_down [m]; 0 without flow */
  double level_low,
      level_high; /* of a chamber behind an adjustable baffle: level at its lowest and highest setting; NaN: none [m] */
} NappeChamberReport;

/* Weir of a box. */
typedef struct
{
  guint link;
  char id[NAPPE_PART_ID_MAX + 1]; /* of the overflow */
  double flow;      /* [m3/s] */
  double film;      /* head of the display's level over the crest [m] */
  double fall;      /* crest above the box's level [m] */
  double film_low, film_high; /* film at the weir law's uncertainty, +-20 % in coefficient [m] */
} NappeWeirReport;

/* What runs down when the power fails, by where it comes from. */
typedef enum { NAPPE_LEDGER_DISPLAY, NAPPE_LEDGER_BOX, NAPPE_LEDGER_DRAIN_PIPES, NAPPE_LEDGER_RETURN_PIPES, NAPPE_LEDGER_CHAMBER,
  NAPPE_LEDGER_VESSEL } NappeLedgerKind;
typedef struct
{
  NappeLedgerKind kind;
  char id[NAPPE_PART_ID_MAX + 1]; /* tank, overflow (with its inner box), drain, return line, chamber or sock, side vessel */
  double volume;                  /* that leaves it [m3]; negative: it takes up water (a chamber, a vessel beside the sump) */
} NappeLedgerLine;

typedef struct
{
  gboolean known;
  gboolean check_valve_holds; /* counted as holding; else as failed */
  gboolean siphon_break_open; /* the holes let air in; else counted as blocked */
  NappeState state;           /* levels at rest; flow is all zero */
  guint n_ledger;
  NappeLedgerLine *ledger;
  double run_back;            /* all that came down into the sump; without what went over rims above it [m3] */
  double sump_free;           /* that the sump could take above its running levels up to the rim [m3] */
  double sump_margin;         /* sump rim over the highest chamber at rest; negative never: it spills [m] */
  guint display_stops_at;     /* link whose edge stopped the display: weir, or a return outlet */
} NappePowerCut;

/* Drains blocked while the pump runs. */
typedef struct
{
  guint n_blocked;
  guint blocked[2];           /* links of drains, of a weir or of a passage; n_blocked = 2 is a pair; all: see all_drains */
  gboolean all_drains;
  double open_share;          /* that is left of the inlet, the crest, the tubes or the cloth [0..1) */
  NappeState state;           /* where it ends: a new rest, or the pump starved */
  gboolean floods;            /* the display or a box went over its rim */
  double display_rise;        /* display's end level over its running level [m] */
  double freeboard;           /* rim over the end level [m]; 0 when it floods */
  double time_to_rim; /* at the earliest: free volume of what brims over the pump's flow, or over what feeds a side vessel
                         whose own spout is blocked [s]; INFINITY: never; 0: it ran
                         over before, and all that goes over until it rests is in state.spilled */
  gboolean runs_down;         /* no pump lifts any more: the state is that of a power cut with the check valve failed */
  double top_off_added;       /* fresh water that the top-off adds meanwhile [m3] */
} NappeBlockage;

/* A top-off that sticks on while the pump runs: its reservoir ends in the return chamber, whatever level is kept there. */
typedef struct
{
  gboolean known;             /* there is a top-off with a reservoir that holds water, and a rest with it and without */
  double added;               /* all that the reservoir holds [m3] */
  NappeState running;         /* where it ends; spilled: on the floor while the pump runs on */
  NappePowerCut cut;          /* a power cut from there, check valve failed; spilled: what it alone puts on the floor */
} NappeTopOffStuck;

typedef struct
{
  gatomicrefcount references;
  NappeNetwork *network;      /* owned */
  NappeState running;
  guint n_drains, n_pumps, n_weirs, n_blockages, n_passages, n_level_runs, n_chambers;
  NappeDrainReport *drains;
  NappePumpReport *pumps;
  NappeWeirReport *weirs;
  NappeLevelRun *level_runs;
  NappeChamberReport *chambers;
  NappePowerCut cut_check_failed;    /* check valve failed, holes open: the design case */
  NappePowerCut cut_check_holds;
  NappePowerCut cut_break_blocked;   /* check valve failed, siphon-break holes blocked */
  NappeBlockage *blockages;   /* each drain whole, each pair when three or more, all */
  NappeBlockage *weir_blocked; /* half of a display's weir closed: n_weirs of them, in the order of `weirs` */
  NappeBlockage *passage_blocked; /* n_passages of them, each wholly closed, by link: siphon tubes of a box that have lost
                                 their siphon, cloth of filter socks, the spout of a side vessel */
  NappeTopOffStuck top_off_stuck;
  double display_turnover;    /* [1/s] */
  double display_volume;      /* [m3] running */
  double pump_liftable;       /* that the pump can lift out of its chamber before it draws air [m3] */
  double display_free;        /* that display and boxes hold between running level and rim [m3] */
} NappeStudy;

/* Runs every static case. Transfer full; NULL only when cancelled. Takes the network. */
NappeStudy *nappe_study_new (NappeNetwork *network, GCancellable *cancellable);
/* Layout, compile and study of a build in one go. */
NappeStudy *nappe_study_build (NappeBuild *build, NappeCatalogue *catalogue);
NappeStudy *nappe_study_ref (NappeStudy *self);
void nappe_study_unref (NappeStudy *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeStudy, nappe_study_unref)

const NappeDrainReport *nappe_study_drain (const NappeStudy *self, const char *id);   /* or NULL */
const NappePumpReport *nappe_study_pump (const NappeStudy *self, const char *line_or_pump_id);
const NappeWeirReport *nappe_study_weir (const NappeStudy *self, const char *overflow_id);
const NappeChamberReport *nappe_study_chamber (const NappeStudy *self, const char *id);
/* Level of a vessel in a state, z [m]; NaN for an unknown id. */
double nappe_study_level (const NappeStudy *self, const NappeState *state, const char *id);
/* Flow of one part: an outlet, a drain, a pump, a return line, an overflow, a baffle (positive to the right) [m3/s];
 * NaN unknown. */
double nappe_study_flow (const NappeStudy *self, const NappeState *state, const char *id);
/* The blockage of one drain, or of all (id NULL); or NULL. */
const NappeBlockage *nappe_study_blockage (const NappeStudy *self, const char *drain_id);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every law that a result may rest on: one table, so that screen, sheet and command name the same formula and the
 * same source for the same number. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  /* Still water, sums and shares. */
  NAPPE_LAW_BALANCE,
  NAPPE_LAW_STILL_WATER,
  NAPPE_LAW_SUM,
  NAPPE_LAW_HEIGHT,
  NAPPE_LAW_VOLUME,
  NAPPE_LAW_TURNOVER,
  NAPPE_LAW_RESIDENCE,
  NAPPE_LAW_MEAN_SPEED,
  NAPPE_LAW_TIME_TO_FILL,
  NAPPE_LAW_GIVEN,
  NAPPE_LAW_SAMPLED_SHARE,
  /* Weirs and openings. */
  NAPPE_LAW_WEIR,
  NAPPE_LAW_SLOT_WEIR,
  NAPPE_LAW_GAP,
  NAPPE_LAW_SOCK,
  /* Pipes. */
  NAPPE_LAW_FULL_PIPE,
  NAPPE_LAW_FRICTION,
  NAPPE_LAW_FITTING,
  NAPPE_LAW_VALVE,
  NAPPE_LAW_ENTRANCE,
  NAPPE_LAW_EXIT,
  NAPPE_LAW_BORE,
  NAPPE_LAW_BEND,
  NAPPE_LAW_BRANCH,
  NAPPE_LAW_MANNING,
  /* Drains. */
  NAPPE_LAW_INLET_CREST,
  NAPPE_LAW_INLET_ORIFICE,
  NAPPE_LAW_INLET_LEAST,
  NAPPE_LAW_FROUDE,
  NAPPE_LAW_QUIET,
  NAPPE_LAW_STACK,
  NAPPE_LAW_RESERVE,
  NAPPE_LAW_VALVE_TUNING,
  NAPPE_LAW_WINDOW,
  NAPPE_LAW_PRIMING,
  NAPPE_LAW_CYCLE,
  /* Pumps and bubbles. */
  NAPPE_LAW_PUMP,
  NAPPE_LAW_SUBMERGENCE,
  NAPPE_LAW_BUBBLE,
  /* Properties of water. */
  NAPPE_LAW_DENSITY,
  NAPPE_LAW_VISCOSITY,
  NAPPE_LAW_VAPOUR,
  NAPPE_LAW_SPECIFIC_HEAT,
  /* Heat and power. */
  NAPPE_LAW_EVAPORATION,
  NAPPE_LAW_HEAT_OF_EVAPORATION,
  NAPPE_LAW_SURFACE_HEAT,
  NAPPE_LAW_WALL_HEAT,
  NAPPE_LAW_HEAT_PUT_IN,
  NAPPE_LAW_HEAT_BALANCE,
  NAPPE_LAW_COOLING,
  NAPPE_LAW_LEVEL_FALL,
  NAPPE_LAW_POWER,
  NAPPE_LAW_ENERGY,
  NAPPE_LAW_COST,
  /* Loads. */
  NAPPE_LAW_MASS,
  NAPPE_LAW_FLOOR_PRESSURE,
  NAPPE_LAW_PLATE_STRESS,
  NAPPE_LAW_PLATE_DEFLECTION,
  NAPPE_LAW_PLATE_SAFETY,
  NAPPE_LAW_N
} NappeLawName;

typedef struct
{
  const char *id;      /* stable, for JSON: "full-pipe" */
  const char *name;    /* English, marked N_(): "Full pipe" */
  const char *formula; /* English where it has words, marked N_() */
  const char *source;  /* book, standard, "common practice" or "definition"; English, marked N_() */
  /* Relative half-width of a result for exact inputs: 0.2 means that the truth is likely between value / 1.2 and
     value * 1.2, 1 a factor of two. 0: exact, by definition or by geometry. */
  double uncertainty;
} NappeLaw;

/* Static. */
const NappeLaw *nappe_law (NappeLawName name);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every limit that the rules hold a build against, apart from the planner's own targets: one table. Most can be set
 * otherwise for one build. */
#pragma once

#include "build/build.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_LIMIT_SPILL,           /* [m3] */
  NAPPE_LIMIT_TRICKLE,         /* [m3/s] */
  NAPPE_LIMIT_BARE_MARGIN,     /* [m] */
  NAPPE_LIMIT_NOZZLE_DEPTH,    /* [m] */
  NAPPE_LIMIT_EMERGENCY_CLEAR, /* [m] */
  NAPPE_LIMIT_FROUDE_QUIET,    /* [1] */
  NAPPE_LIMIT_FROUDE_PRIME,    /* [1] */
  NAPPE_LIMIT_VALVE_LEAST,     /* share of travel */
  NAPPE_LIMIT_VALVE_MOST,      /* share of travel */
  NAPPE_LIMIT_VALVE_DRAWN,     /* share of travel */
  NAPPE_LIMIT_FILM_THIN,       /* [m] */
  NAPPE_LIMIT_FILM_THICK,      /* [m] */
  NAPPE_LIMIT_PUMP_LEAST,      /* share of the last flow of its curve */
  NAPPE_LIMIT_PUMP_MOST,       /* share of the last flow of its curve */
  NAPPE_LIMIT_PUMP_COVER,      /* [m] */
  NAPPE_LIMIT_MISFIT,          /* [m] */
  NAPPE_LIMIT_PIPE_END,        /* [m] */
  NAPPE_LIMIT_BORE,            /* [m] */
  NAPPE_LIMIT_DILUTION,        /* fall of the salinity [g/kg] */
  NAPPE_LIMIT_DILUTION_HARM,   /* the same [g/kg] */
  NAPPE_LIMIT_DRY_TIME,        /* [s] */
  NAPPE_LIMIT_OUTLET_DEPTH,    /* [m] */
  NAPPE_LIMIT_OUTLET_DROP,     /* [m] */
  NAPPE_LIMIT_LEVEL_RUN,       /* [m] */
  NAPPE_LIMIT_SHORT_RUN,       /* [m] */
  NAPPE_LIMIT_RUN_FALL,        /* share of the length */
  NAPPE_LIMIT_MOUTH_COVER,     /* bores */
  NAPPE_LIMIT_SLOT_LEAST,      /* [m] */
  NAPPE_LIMIT_WEIR_DROP,       /* [m] */
  NAPPE_LIMIT_SPEED_PRESSURE,  /* [m/s] */
  NAPPE_LIMIT_SPEED_SUCTION,   /* [m/s] */
  NAPPE_LIMIT_SPEED_DRAIN,     /* [m/s] */
  NAPPE_LIMIT_PUMP_NEAR_SHUT,  /* share of the last flow of its curve */
  NAPPE_LIMIT_PUMP_SLOW,       /* share of full speed */
  NAPPE_LIMIT_HIGH_SPOT,       /* [m] */
  NAPPE_LIMIT_HOSE_PLAY,       /* [m] */
  NAPPE_LIMIT_HOSE_BEND,       /* outside diameters */
  NAPPE_LIMIT_HOSE_SUCTION,    /* times the suction */
  NAPPE_LIMIT_VALVE_REACH,     /* [m] */
  NAPPE_LIMIT_HOLE_CLEAR,      /* diameters of the hole */
  NAPPE_LIMIT_HOLE_GLASS,      /* thicknesses of the pane */
  NAPPE_LIMIT_CEMENT_COLD,     /* [°C] */
  NAPPE_LIMIT_CEMENT_HOT,      /* [°C] */
  NAPPE_LIMIT_CEMENT_WAIT,     /* [s] */
  NAPPE_LIMIT_TRAP_SHARE, /* share of the flow into the pump’s chamber */
  NAPPE_LIMIT_BUBBLE_MISSED, /* times the bubble size wanted */
  NAPPE_LIMIT_GAP_SPEED, /* m/s */
  NAPPE_LIMIT_GAP_SHARE, /* share of the depth beside it */
  NAPPE_LIMIT_PROBE_COVER, /* m */
  NAPPE_LIMIT_CUP_CLEARANCE, /* m */
  NAPPE_LIMIT_SERVICE_HEIGHT, /* m */
  NAPPE_LIMIT_REFUGIUM_TURNOVER, /* 1/s */
  NAPPE_LIMIT_REFUGIUM_WET, /* share of the running depth */
  NAPPE_LIMIT_WATER_COLD, /* °C */
  NAPPE_LIMIT_WATER_WARM, /* °C */
  NAPPE_LIMIT_WATER_HOT, /* °C */
  NAPPE_LIMIT_CIRCUIT_SHARE, /* share of the rating */
  NAPPE_LIMIT_FLOOR_USUAL, /* Pa */
  NAPPE_LIMIT_PANEL_SAFETY, /* strength over stress */
  NAPPE_LIMIT_PANEL_BREAKS, /* strength over stress */
  NAPPE_LIMIT_N
} NappeLimitName;

typedef struct
{
  const char *name;       /* "film-thin" */
  double value;           /* SI */
  NappeQuantity quantity;
  const char *source;     /* book or "common practice", English, marked N_() */
  const char *reason;     /* why it is where it is, English, marked N_() */
} NappeLimit;

/* Static. */
const NappeLimit *nappe_limit (NappeLimitName name);

/* Its value alone. */
double nappe_limit_value (NappeLimitName name);

/* The field of a build's limits (build/kinds.h) in which a planner may set it otherwise, or NULL: it is fixed, since it
 * is a matter of the computation's accuracy. The field bears the limit's name with '_' for '-'. */
const NappeField *nappe_limit_field (NappeLimitName name);
/* As it holds for a build: what the planner set, else its own value. SI */
double nappe_limit_in_build (NappeLimitName name, NappeBuild *build);

G_END_DECLS

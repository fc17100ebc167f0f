/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heat, evaporation, electric power and its cost, by the day and the year. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

/* One user of electricity. */
typedef struct
{
  char part[NAPPE_PART_ID_MAX + 1]; /* pump or equipment */
  double power;      /* drawn while it runs, all equal ones together [W] */
  double duty;       /* share of the day */
  double heat_share; /* of its power that warms the water */
} NappePowerLine;

typedef struct
{
  gboolean known;          /* the surfaces and temperatures make sense, a steady state is there */
  double surface;          /* of all open water, less covers [m2] */
  double evaporation_low, evaporation, evaporation_high; /* of fresh water [m3/s]: published formulas differ by 2.5 */
  double heat_evaporation; /* lost [W] */
  double heat_convection_radiation; /* lost from surfaces [W]; negative in a warm room */
  double heat_walls;       /* lost through the glass [W] */
  double heat_pumps, heat_lights, heat_other; /* put in, over the day [W]; heaters not counted */
  double heat_wanted;      /* that heaters must give; negative: a chiller must take it away [W] */
  double heater_power;     /* that is there [W] */
  double heater_power_one_failed; /* without the largest one [W] */
  double equilibrium;      /* water temperature without heaters and chillers [°C] */
  double volume;           /* of water [m3] */
  double cooling_rate;     /* of the water with no heat put in at all, at first [K/s] */
  double reservoir;        /* water that can be added [m3]; 0: none */
  double reservoir_lasts;  /* [s]; INFINITY without evaporation; 0 without a reservoir */
  double level_fall_rate;  /* of the return chamber when nothing is added [m/s] */
  double time_to_air;      /* until the pump draws air when nothing is added [s] */
  double power;            /* mean over the day, heaters as wanted [W] */
  double energy_year;      /* [J] */
  double cost_year;        /* in the money of the room's price; NaN: no price */
  guint n_power;
  NappePowerLine *lines;   /* largest first */
} NappeHeat;

/* Transfer full, never NULL. */
NappeHeat *nappe_heat_new (NappeBuild *build, NappeCatalogue *catalogue, const NappeStudy *study);
void nappe_heat_free (NappeHeat *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeHeat, nappe_heat_free)

G_END_DECLS

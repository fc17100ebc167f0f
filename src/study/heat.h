/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heat, evaporation, electric power and its cost, by the day and the year. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

/* One user of electricity. */
typedef struct
{
  char part[NAPPE_PART_ID_MAX + 1]; /* pump or equipment */
  double power;      /* drawn while it runs, all equal ones together [W]; of a pump at its speed */
  double duty;       /* share of the day; of heaters and chillers what the water wants of them, NaN while not known */
  double heat_share; /* of its power that warms the water; of a chiller negative: what it takes out over what it draws */
} NappePowerLine;

typedef struct
{
  gboolean known;          /* a steady state with open water is there. Else all but the lines is NaN */
  double surface;          /* of all open water, less covers [m2] */
  /* Of fresh water, never negative [m3/s]: published formulas differ by 2.5 (physics/evaporation.h). All that follows
     from evaporation below takes the middle one. */
  double evaporation_low, evaporation, evaporation_high;
  double heat_evaporation; /* lost [W]; negative where damp air condenses on cold water */
  double heat_convection_radiation; /* lost from surfaces, open and covered [W]; negative in a warm room */
  double heat_walls;       /* lost through the upright panels as far as they are wet [W] */
  double heat_pumps, heat_lights, heat_other; /* put in, over the day [W]; heaters and chillers not counted */
  double heat_wanted;      /* that heaters must give; negative: a chiller must take it away [W] */
  double heater_power;     /* that heaters can give to the water [W] */
  double heater_power_one_failed; /* without the largest single one [W] */
  double chiller_power;    /* that chillers can take from the water [W] */
  double equilibrium;      /* water temperature without heaters and chillers [°C]; NaN: not between 0 and 60 */
  double equilibrium_heated; /* with all heaters on all the time, no chillers [°C]; NaN as above */
  double equilibrium_one_failed; /* with all but the largest single one [°C]; NaN as above */
  double equilibrium_stuck; /* with the largest single one on all the time alone, as when its thermostat sticks [°C] */
  double volume;           /* of water in vessels and pipes, without the reservoir [m3] */
  double cooling_rate;     /* of the water with no heat put in at all, at first [K/s]; negative: it warms */
  double reservoir;        /* water that can be added [m3]; 0: none */
  double reservoir_lasts;  /* [s]; INFINITY without evaporation; 0 without a reservoir */
  /* While the pump runs weirs and overflow hold every other level, so that all that evaporates is missing in the return
     chamber, and in what stands in open connection with it: under a baffle, over a drowned one, through a sock. */
  double level_fall_rate;  /* of the return chamber when nothing is added [m/s] */
  double time_to_air;      /* until the first pump there draws air when nothing is added [s]; INFINITY: never */
  double power;            /* mean over the day, heaters and chillers as wanted [W] */
  double energy_year;      /* in 365 days [J] */
  double cost_year;        /* in the money of the room's price; NaN: no price */
  guint n_power_unknown;   /* pumps and equipment that draw power, but how much is not given: not counted */
  guint n_power;
  NappePowerLine *lines;   /* largest mean power first */
} NappeHeat;

/* The balance of heat at the water's temperature in the room of the build: what surfaces and panels lose (physics/evaporation.h,
 * surface-heat.h) against what pumps, lights and other equipment put in. A sump in a stand is counted as in the open room,
 * and floors of vessels as lying on wood, through which next to nothing goes. The study must be one of this build. */
/* Transfer full, never NULL. */
NappeHeat *nappe_heat_new (NappeBuild *build, NappeCatalogue *catalogue, const NappeStudy *study);
void nappe_heat_free (NappeHeat *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeHeat, nappe_heat_free)

G_END_DECLS

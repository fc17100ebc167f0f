/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/heat.h"

#include "physics/evaporation.h"
#include "physics/surface-heat.h"
#include "study/open-water.h"
#include "study/power-lines.h"

#include <math.h>

#define DAYS_A_YEAR 365.0
#define DAY 86400.0          /* [s] */
#define KILOWATT_HOUR 3.6e6  /* [J] */
/* Ends of the search for the water's own temperature: what the properties of water reach over [°C]. */
#define COLDEST 0.0
#define WARMEST 60.0

/* What loses heat where. */
typedef struct
{
  NappeOpenWater water;
  NappeAir air;
  double salinity; /* [g/kg] */
} Losses;

/* What the surfaces lose with the water at one temperature [W]. */
typedef struct
{
  NappeEvaporation evaporation; /* [kg/s] */
  double by_evaporation, by_surface, by_walls, all;
} Loss;

static Loss
loss_at (const Losses *self, double temperature)
{
  NappeWater water;
  Loss loss;
  double room = self->air.temperature;

  nappe_water_init (&water, temperature, self->salinity);
  nappe_evaporation_range (&water, &self->air, &loss.evaporation);
  loss.evaporation.low *= self->water.open;
  loss.evaporation.middle *= self->water.open;
  loss.evaporation.high *= self->water.open;
  /* Signed: damp air that condenses on cold water warms it. */
  loss.by_evaporation = loss.evaporation.middle * nappe_latent_heat (temperature);
  loss.by_surface = self->water.open * nappe_open_surface_heat (temperature, room)
                    + self->water.covered * nappe_covered_surface_heat (temperature, room);
  loss.by_walls = self->water.wall_transmittance * (temperature - room);
  loss.all = loss.by_evaporation + loss.by_surface + loss.by_walls;
  return loss;
}

/* Where the losses equal the heat that is put in. They rise with the temperature, every term does, so that halving
 * the interval finds the one place. NaN when it lies outside. */
static double
find_equilibrium (const Losses *losses, double heat)
{
  double low = COLDEST, high = WARMEST;

  if (loss_at (losses, low).all > heat || loss_at (losses, high).all < heat)
    return NAN;
  while (high - low > 1e-9)
    {
      double middle = 0.5 * (low + high);

      if (loss_at (losses, middle).all < heat)
        low = middle;
      else
        high = middle;
    }
  return 0.5 * (low + high);
}

static void
set_unknown (NappeHeat *self)
{
  double *numbers[] = {
    &self->surface, &self->evaporation_low, &self->evaporation, &self->evaporation_high, &self->heat_evaporation,
    &self->heat_convection_radiation, &self->heat_walls, &self->heat_pumps, &self->heat_lights, &self->heat_other,
    &self->heat_wanted, &self->heater_power, &self->heater_power_one_failed, &self->equilibrium, &self->volume,
    &self->cooling_rate, &self->reservoir, &self->reservoir_lasts, &self->level_fall_rate, &self->time_to_air, &self->power,
    &self->energy_year, &self->cost_year,
  };

  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    *numbers[i] = NAN;
}

static void
lose_heat (NappeHeat *self, const Losses *losses, double temperature)
{
  Loss loss = loss_at (losses, temperature);
  NappeWater fresh;

  /* It is made up for by fresh water out of the same room. */
  nappe_water_init (&fresh, losses->air.temperature, 0);
  self->surface = losses->water.open;
  self->evaporation_low = fmax (0, loss.evaporation.low) / fresh.density;
  self->evaporation = fmax (0, loss.evaporation.middle) / fresh.density;
  self->evaporation_high = fmax (0, loss.evaporation.high) / fresh.density;
  self->heat_evaporation = loss.by_evaporation;
  self->heat_convection_radiation = loss.by_surface;
  self->heat_walls = loss.by_walls;
}

/* Sums by use. */
static void
add_sources (NappeHeat *self, const GArray *entries)
{
  double largest = 0;

  self->heat_pumps = self->heat_lights = self->heat_other = self->heater_power = self->chiller_power = 0;
  for (guint i = 0; i < entries->len; i++)
    {
      const NappePowerEntry *entry = &g_array_index (entries, NappePowerEntry, i);
      double heat = entry->line.power * entry->line.heat_share;

      switch (entry->use)
        {
        case NAPPE_POWER_PUMP:
          self->heat_pumps += heat * entry->line.duty;
          break;
        case NAPPE_POWER_LIGHT:
          self->heat_lights += heat * entry->line.duty;
          break;
        case NAPPE_POWER_OTHER:
          self->heat_other += heat * entry->line.duty;
          break;
        case NAPPE_POWER_HEATER:
          /* A thermostat switches it, whatever share of the day is written beside it. */
          self->heater_power += heat;
          largest = fmax (largest, entry->single * entry->line.heat_share);
          break;
        case NAPPE_POWER_CHILLER:
          self->chiller_power -= heat;
          break;
        }
    }
  self->heater_power_one_failed = self->heater_power - largest;
}

/* Heaters, and chillers, share what is wanted by what they can do, and no more than that. */
static void
run_thermostats (GArray *entries, const NappeHeat *self)
{
  for (guint i = 0; i < entries->len; i++)
    {
      NappePowerEntry *entry = &g_array_index (entries, NappePowerEntry, i);
      double wanted = entry->use == NAPPE_POWER_HEATER ? self->heat_wanted : -self->heat_wanted;
      double able = entry->use == NAPPE_POWER_HEATER ? self->heater_power : self->chiller_power;

      if (entry->use != NAPPE_POWER_HEATER && entry->use != NAPPE_POWER_CHILLER)
        continue;
      if (!self->known)
        entry->line.duty = NAN;
      else
        entry->line.duty = able > 0 ? CLAMP (wanted / able, 0, 1) : 0;
    }
}

/* Where the water's temperature goes by itself, and by heaters that stay on or fail. */
static void
find_temperatures (NappeHeat *self, const Losses *losses, double put_in)
{
  double largest = self->heater_power - self->heater_power_one_failed;

  self->equilibrium = find_equilibrium (losses, put_in);
  self->equilibrium_heated = self->equilibrium_one_failed = self->equilibrium_stuck = self->equilibrium;
  if (self->heater_power <= 0)
    return;
  self->equilibrium_heated = find_equilibrium (losses, put_in + self->heater_power);
  self->equilibrium_one_failed = find_equilibrium (losses, put_in + self->heater_power_one_failed);
  self->equilibrium_stuck = find_equilibrium (losses, put_in + largest);
}

static void
add_cost (NappeHeat *self, const GArray *entries, const NappeRoom *room)
{
  self->power = 0;
  for (guint i = 0; i < entries->len; i++)
    {
      const NappePowerLine *line = &g_array_index (entries, NappePowerEntry, i).line;

      self->power += line->power * line->duty;
    }
  self->energy_year = self->power * DAYS_A_YEAR * DAY;
  self->cost_year = self->energy_year / KILOWATT_HOUR * room->electricity_price;
}

/* What evaporation does to the levels. */
static void
lower_levels (NappeHeat *self, const NappeStudy *study)
{
  const double step = 1e-3;
  double by_step = nappe_open_water_fallen (study, step), to_air = nappe_open_water_depth_to_air (study);

  self->reservoir = study->network->reservoir_volume;
  if (self->reservoir <= 0)
    self->reservoir = self->reservoir_lasts = 0;
  else
    self->reservoir_lasts = self->evaporation > 0 ? self->reservoir / self->evaporation : INFINITY;
  self->level_fall_rate = by_step > 0 ? step * self->evaporation / by_step : 0;
  if (to_air <= 0)
    self->time_to_air = 0;
  else if (isinf (to_air) || self->evaporation <= 0)
    self->time_to_air = INFINITY;
  else
    self->time_to_air = nappe_open_water_fallen (study, to_air) / self->evaporation;
}

static void
balance (NappeHeat *self, NappeBuild *build, const NappeStudy *study, const Losses *losses, GArray *entries)
{
  const NappeWater *water = &study->network->water;
  double warmth;

  lose_heat (self, losses, water->temperature_c);
  add_sources (self, entries);
  double lost = self->heat_evaporation + self->heat_convection_radiation + self->heat_walls;
  double put_in = self->heat_pumps + self->heat_lights + self->heat_other;
  self->heat_wanted = lost - put_in;
  find_temperatures (self, losses, put_in);
  self->volume = nappe_open_water_volume (study);
  warmth = water->density * self->volume * water->specific_heat;
  self->cooling_rate = warmth > 0 ? lost / warmth : NAN;
  lower_levels (self, study);
  run_thermostats (entries, self);
  add_cost (self, entries, NAPPE_BUILD_ROOM (build));
}

NappeHeat *
nappe_heat_new (NappeBuild *build, NappeCatalogue *catalogue, const NappeStudy *study)
{
  NappeHeat *self = g_new0 (NappeHeat, 1);
  const NappeRoom *room = NAPPE_BUILD_ROOM (build);
  Losses losses = { .air = { room->temperature, room->humidity, NAPPE_AIR_STILL }, .salinity = study->network->water.salinity };
  g_autoptr (GArray) entries = nappe_power_entries (build, catalogue, &self->n_power_unknown);

  self->known = (study->running.rest == NAPPE_REST_FOUND || study->running.rest == NAPPE_REST_CYCLES)
                && nappe_open_water_measure (&losses.water, build, study);
  if (self->known)
    balance (self, build, study, &losses, entries);
  else
    {
      set_unknown (self);
      run_thermostats (entries, self);
    }
  nappe_power_sort (entries);
  self->n_power = entries->len;
  self->lines = g_new0 (NappePowerLine, MAX (entries->len, 1));
  for (guint i = 0; i < entries->len; i++)
    self->lines[i] = g_array_index (entries, NappePowerEntry, i).line;
  return self;
}

void
nappe_heat_free (NappeHeat *self)
{
  if (self == NULL)
    return;
  g_free (self->lines);
  g_free (self);
}

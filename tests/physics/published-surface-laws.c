/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Panels, evaporation and heat of surfaces. */
#include "published-laws.h"

#include "physics/evaporation.h"
#include "physics/gravity.h"
#include "physics/plate.h"
#include "physics/surface-heat.h"

#include <math.h>

#define DAY 86400.0

/* A panel whose stress and deflection are the factors of the tables: everything is 1 but its length. */
static NappePlateResult
unit_panel (double   length,
            double   poisson,
            double   load_top,
            gboolean top_free)
{
  NappePlate plate = { .length = length, .height = 1, .thickness = 1, .elasticity = 1, .poisson = poisson,
                       .load_bottom = 1, .load_top = load_top, .top_free = top_free };
  NappePlateResult result;

  nappe_plate_solve (&plate, &result);
  return result;
}

static double
even_stress (const PublishedRow *row)
{
  return unit_panel (IN ("L"), IN ("nu"), 1, FALSE).stress_middle;
}

static double
even_deflection (const PublishedRow *row)
{
  return unit_panel (IN ("L"), IN ("nu"), 1, FALSE).deflection;
}

/* The table's factor belongs to the length of the free edge: a is the panel's height, b its length. */
static double
even_stress_top_free (const PublishedRow *row)
{
  double length = 1 / IN ("ab");

  return unit_panel (length, IN ("nu"), 1, TRUE).stress_middle / (length * length);
}

static double
water_stress_top_free (const PublishedRow *row)
{
  return unit_panel (IN ("L"), IN ("nu"), 0, TRUE).stress_middle;
}

static double
water_deflection_top_free (const PublishedRow *row)
{
  return unit_panel (IN ("L"), IN ("nu"), 0, TRUE).deflection;
}

static double
water_stress_four_edges (const PublishedRow *row)
{
  return unit_panel (IN ("L"), IN ("nu"), 0, FALSE).stress_middle;
}

static double
water_deflection_four_edges (const PublishedRow *row)
{
  return unit_panel (IN ("L"), IN ("nu"), 0, FALSE).deflection;
}

static NappePlateResult
tank_panel (const PublishedRow *row)
{
  NappePlate plate = { .length = IN ("L"), .height = IN ("H"), .thickness = IN ("t"), .elasticity = 70e9, .poisson = IN ("nu"),
                       .load_bottom = IN ("rho") * NAPPE_GRAVITY * IN ("H"), .top_free = TRUE };
  NappePlateResult result;

  nappe_plate_solve (&plate, &result);
  return result;
}

static double
tank_panel_stress (const PublishedRow *row)
{
  return tank_panel (row).stress_middle / 1e6;
}

static double
tank_panel_deflection (const PublishedRow *row)
{
  return tank_panel (row).deflection * 1e3;
}

static NappeWater
water_of (const PublishedRow *row)
{
  NappeWater water;

  nappe_water_init (&water, IN ("T"), IN ("S"));
  return water;
}

static NappeAir
air_of (const PublishedRow *row)
{
  return (NappeAir){ IN ("Ta"), IN ("RH"), IN ("V") };
}

/* Power that Carrier's form takes from a square metre for each pascal of pressure difference [W/(m2 Pa)]. */
static double
carrier_power (double speed)
{
  NappeWater water;
  NappeAir air = { .temperature = 22, .humidity = 0.5, .speed = speed };

  nappe_water_init (&water, 25, 0);
  return nappe_evaporation_carrier (&water, &air) * nappe_latent_heat (25)
         / (water.vapour_pressure - nappe_air_vapour_pressure (&air));
}

#define KJ_PER_HOUR_AND_MMHG (3600.0 / 1000.0 * 133.322)

static double
carrier_still (const PublishedRow *row)
{
  return carrier_power (IN ("V")) * KJ_PER_HOUR_AND_MMHG;
}

static double
carrier_more_by_speed (const PublishedRow *row)
{
  return (carrier_power (IN ("V")) - carrier_power (0)) / IN ("V") * KJ_PER_HOUR_AND_MMHG;
}

/* Btu/(h ft2) is 3.154591 W/m2, an inch of mercury 3386.39 Pa. */
static double
carrier_in_feet (const PublishedRow *row)
{
  return carrier_power (IN ("v") * FOOT / 60.0) / 3.154591 * 3386.39;
}

static double
undisturbed_share (const PublishedRow *row)
{
  NappeWater water = water_of (row);
  NappeAir air = air_of (row);
  NappeEvaporation range;

  nappe_evaporation_range (&water, &air, &range);
  return range.middle / nappe_evaporation_carrier (&water, &air);
}

static double
by_given_contents (const PublishedRow *row)
{
  return nappe_evaporation_by_content (IN ("v"), IN ("xs"), IN ("x")) * IN ("A");
}

static double
carrier_a_day (const PublishedRow *row)
{
  NappeWater water = water_of (row);
  NappeAir air = air_of (row);

  return nappe_evaporation_carrier (&water, &air) * DAY;
}

static double
simplified_a_day (const PublishedRow *row)
{
  NappeWater water = water_of (row);
  NappeAir air = air_of (row);

  return nappe_evaporation_simplified (&water, &air, 0.5) * DAY;
}

static double
shah_a_day (const PublishedRow *row)
{
  NappeWater water = water_of (row);
  NappeAir air = air_of (row);

  return nappe_evaporation_shah (&water, &air) * DAY;
}

static double
by_content_a_day (const PublishedRow *row)
{
  NappeWater water = water_of (row);
  NappeAir air = air_of (row);

  return nappe_evaporation_by_content (air.speed, nappe_vapour_content (water.vapour_pressure),
                                       nappe_vapour_content (nappe_air_vapour_pressure (&air)))
         * DAY;
}

static double
power_of_a_kilogram_a_day (const PublishedRow *row)
{
  return nappe_latent_heat (IN ("T")) / DAY;
}

static double
radiation (const PublishedRow *row)
{
  return nappe_radiation_coefficient (IN ("eps"), IN ("T"), IN ("T"));
}

static double
transmittance (const PublishedRow *row)
{
  return nappe_panel_transmittance (IN ("t"), IN ("k"));
}

static double
resistance_upwards (const PublishedRow *row)
{
  return (IN ("T") - IN ("Ta")) / nappe_open_surface_heat (IN ("T"), IN ("Ta"));
}

static double
warming_power (const PublishedRow *row)
{
  NappeWater water = water_of (row);

  return water.density * IN ("V") * water.specific_heat * IN ("dT") / IN ("t");
}

const PublishedLaw published_surface_laws[] = {
  { "PL-4SS-b-", even_stress },
  { "PL-4SS-a-", even_deflection },
  { "PL-3U-b-", even_stress_top_free },
  { "PL-3H-b-", water_stress_top_free },
  { "PL-3H-a-", water_deflection_top_free },
  { "PL-4H-b-", water_stress_four_edges },
  { "PL-4H-a-", water_deflection_four_edges },
  { "PL-EX-S", tank_panel_stress },
  { "PL-EX-W", tank_panel_deflection },
  { "EV-ASH-A", carrier_still },
  { "EV-ASH-B", carrier_more_by_speed },
  { "EV-ASH-US", carrier_in_feet },
  { "EV-UNDIST", undisturbed_share },
  { "EV-ETB", by_given_contents },
  { "EV-CA-", carrier_a_day },
  { "EV-SI-", simplified_a_day },
  { "EV-SH-", shah_a_day },
  { "EV-CO-", by_content_a_day },
  { "EV-LAT", power_of_a_kilogram_a_day },
  { "HT-HR", radiation },
  { "HT-6946-HR", radiation },
  { "HT-U10", transmittance },
  { "HT-6946-RSI", resistance_upwards },
  { "HT-HEAT", warming_power },
  { NULL, NULL },
};

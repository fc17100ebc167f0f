/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "published-laws.h"

#include "physics/bubble.h"
#include "physics/gravity.h"

#include <math.h>

static NappeWater
water_of_row (const PublishedRow *row)
{
  NappeWater water;

  nappe_water_init (&water, IN ("T"), IN ("S"));
  return water;
}

static double
density (const PublishedRow *row)
{
  return water_of_row (row).density;
}

static double
specific_heat (const PublishedRow *row)
{
  return water_of_row (row).specific_heat;
}

static double
viscosity (const PublishedRow *row)
{
  return water_of_row (row).viscosity;
}

static double
saturation (const PublishedRow *row)
{
  return nappe_saturation_pressure (IN ("T"));
}

static double
salt_lowering (const PublishedRow *row)
{
  return water_of_row (row).vapour_pressure / saturation (row);
}

static double
latent_heat (const PublishedRow *row)
{
  return nappe_latent_heat (IN ("T"));
}

static double
latent_heat_kj (const PublishedRow *row)
{
  return nappe_latent_heat (IN ("T")) / 1000.0;
}

static double
pressure_kpa (const PublishedRow *row)
{
  return water_of_row (row).density * NAPPE_GRAVITY * IN ("h") / 1000.0;
}

static double
bubble_speed (const PublishedRow *row)
{
  NappeWater water = published_usual_seawater ();

  return nappe_bubble_rise_speed (IN ("d_mm") / 1000.0, &water);
}

static double
reynolds_left (double              diameter,
               const PublishedRow *row)
{
  NappeWater water = published_usual_seawater ();

  return IN ("Re") - nappe_bubble_rise_speed (diameter, &water) * diameter / water.kinematic;
}

/* The drag coefficient that the speed of a bubble of that Reynolds number implies. */
static double
bubble_drag (const PublishedRow *row)
{
  NappeWater water = published_usual_seawater ();
  double diameter = published_falling_root (reynolds_left, row, 1e-9, 0.1);
  double speed = nappe_bubble_rise_speed (diameter, &water);

  return 4.0 / 3.0 * NAPPE_GRAVITY * (water.density - 1.18) / water.density * diameter / (speed * speed);
}

const PublishedLaw published_water_laws[] = {
  { "SW-EOS-", density },
  { "SW-T10-rho-", density },
  { "SW-T10-cp-", specific_heat },
  { "SW-08-", density },
  { "SW-MU-", viscosity },
  { "W-MU-", viscosity },
  { "W-RHO-", density },
  { "W-PS-", saturation },
  { "W-HFG-", latent_heat_kj },
  { "SW-LV-", latent_heat },
  { "SW-PV", salt_lowering },
  { "FL-WATER", pressure_kpa },
  { "BUB-", bubble_speed },
  { "DRAG-", bubble_drag },
  { NULL, NULL },
};

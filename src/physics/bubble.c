/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/bubble.h"

#include "physics/gravity.h"

#include <math.h>

/* Air at 25 °C and one atmosphere [kg/m3]; a thousandth of water, so its changes do not matter. */
#define AIR_DENSITY 1.18
/* Drag of a ball above Re 1000 (Newton's law). */
#define LEAST_DRAG 0.44

/* Drag coefficient times Re^2 over 24, which starts as Re and rises with it. */
static double
drag_group (double reynolds)
{
  double sticky = reynolds * (1.0 + 0.15 * pow (reynolds, 0.687));

  return MAX (sticky, LEAST_DRAG / 24.0 * reynolds * reynolds);
}

/* Buoyant acceleration [m/s2] of air in water. */
static double
lift (const NappeWater *water)
{
  return NAPPE_GRAVITY * (water->density - AIR_DENSITY) / water->density;
}

/* Root of a rising function between low and high, in ln x, to rounding. */
static double
solve_rising (double (*function) (double x, const NappeWater *water),
              const NappeWater *water,
              double            wanted,
              double            low,
              double            high)
{
  for (int step = 0; step < 200 && high - low > 4e-16 * high; step++)
    {
      double middle = sqrt (low * high);

      if (middle <= low || middle >= high)
        break;
      if (function (middle, water) < wanted)
        low = middle;
      else
        high = middle;
    }
  return high;
}

static double
drag_group_of_reynolds (double            reynolds,
                        const NappeWater *water)
{
  return drag_group (reynolds);
}

double
nappe_bubble_rise_speed (double            diameter,
                         const NappeWater *water)
{
  double nu = water->kinematic, wanted, reynolds;

  if (!(diameter > 0.0))
    return 0.0;
  /* Drag balances lift: Cd Re^2 = 4/3 lift d^3 / nu^2. */
  wanted = lift (water) * diameter * diameter * diameter / (18.0 * nu * nu);
  /* Cd Re^2 / 24 is never below Re, so Re lies below what is wanted. */
  reynolds = solve_rising (drag_group_of_reynolds, water, wanted, wanted * 1e-12, wanted);
  return reynolds * nu / diameter;
}

double
nappe_bubble_diameter_for_speed (double            speed,
                                 const NappeWater *water)
{
  double smallest, largest;

  if (!(speed > 0.0))
    return 0.0;
  /* Drag is never below that of Stokes, so no smaller ball is so fast. */
  smallest = sqrt (18.0 * water->kinematic * speed / lift (water));
  largest = smallest * 2.0;
  while (nappe_bubble_rise_speed (largest, water) < speed)
    largest *= 2.0;
  return solve_rising (nappe_bubble_rise_speed, water, speed, smallest * (1.0 - 1e-12), largest);
}

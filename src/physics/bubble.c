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

/* The Reynolds number at which the rising drag group is as wanted, by halving in ln Re, to rounding. */
static double
reynolds_for_drag_group (double wanted)
{
  /* The group is never below Re, so Re lies below what is wanted. */
  double low = wanted * 1e-12, high = wanted;

  for (int step = 0; step < 200 && high - low > 4e-16 * high; step++)
    {
      double middle = sqrt (low * high);

      if (middle <= low || middle >= high)
        break;
      if (drag_group (middle) < wanted)
        low = middle;
      else
        high = middle;
    }
  return high;
}

double
nappe_bubble_rise_speed (double            diameter,
                         const NappeWater *water)
{
  double nu = water->kinematic, wanted;

  if (!(diameter > 0.0))
    return 0.0;
  /* Drag balances lift: Cd Re^2 = 4/3 lift d^3 / nu^2. */
  wanted = lift (water) * diameter * diameter * diameter / (18.0 * nu * nu);
  return reynolds_for_drag_group (wanted) * nu / diameter;
}

/* Drag balances lift: lift d^2 / (18 nu V) = drag group / Re, with Re = V d / nu. The left side rises as d^2, the right
 * side at most as d, so that Newton's iteration on the difference of their logarithms, whose slope lies between 1 and
 * 2, cannot miss the one root. */
double
nappe_bubble_diameter_for_speed (double            speed,
                                 const NappeWater *water)
{
  double nu = water->kinematic, pull, x;

  if (!(speed > 0.0))
    return 0.0;
  pull = lift (water) / (18.0 * nu * speed);
  /* Drag is never below that of Stokes, so no smaller ball is so fast. */
  x = -0.5 * log (pull);
  for (int step = 0; step < 50; step++)
    {
      double diameter = exp (x), reynolds = speed * diameter / nu;
      double sticky = 0.15 * pow (reynolds, 0.687), blunt = LEAST_DRAG / 24.0 * reynolds;
      double drag = MAX (1.0 + sticky, blunt);
      double slope = 2.0 - (blunt > 1.0 + sticky ? 1.0 : 0.687 * sticky / drag);
      double miss = log (drag) - log (pull) - 2.0 * x;

      x += miss / slope;
      if (fabs (miss) < 4e-15)
        break;
    }
  return exp (x);
}

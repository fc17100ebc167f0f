/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "published-laws.h"

#include <math.h>

double
published_area (double bore)
{
  return G_PI_4 * bore * bore;
}

/* Water of which only the viscosity matters. */
NappeWater
published_water_of_kinematic (double kinematic)
{
  NappeWater water;

  nappe_water_init (&water, 20.0, 0.0);
  water.kinematic = kinematic;
  water.viscosity = kinematic * water.density;
  return water;
}

NappeWater
published_usual_seawater (void)
{
  NappeWater water;

  nappe_water_init (&water, 25.0, 35.0);
  return water;
}

/* Where a function that falls through 0 between low and high does so. */
double
published_falling_root (double (*function) (double x, const PublishedRow *row),
                        const PublishedRow *row,
                        double              low,
                        double              high)
{
  for (int step = 0; step < 100; step++)
    {
      double middle = 0.5 * (low + high);

      if (function (middle, row) > 0.0)
        low = middle;
      else
        high = middle;
    }
  return 0.5 * (low + high);
}

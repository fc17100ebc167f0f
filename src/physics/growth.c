/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/growth.h"

/* Roughness of slime [m]. */
#define SLIME_ROUGHNESS 0.0003
/* Relative roughness at which the friction law ends. */
#define ROUGHEST 0.05

double
nappe_growth_bore (double bore,
                   double thickness)
{
  return MAX (bore - 2.0 * MAX (thickness, 0.0), NAPPE_GROWTH_LEAST_OPEN * bore);
}

double
nappe_growth_roughness (double bore,
                        double roughness,
                        double thickness)
{
  double slime = MIN (thickness, SLIME_ROUGHNESS);

  return MAX (roughness, MIN (slime, ROUGHEST * nappe_growth_bore (bore, thickness)));
}

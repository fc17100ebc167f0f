/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/orifice.h"

#include "physics/gravity.h"

#include <math.h>

/* Difference of head [m] below which the root is replaced: its slope has no bound at 0. */
#define STRAIGHT_HEAD 1e-5

double
nappe_orifice_flow (double  area,
                    double  coefficient,
                    double  head_difference,
                    double *slope)
{
  double scale = coefficient * area * sqrt (2.0 * NAPPE_GRAVITY);
  double size = fabs (head_difference);
  double root, rate;

  if (size >= STRAIGHT_HEAD)
    {
      root = sqrt (size);
      rate = 0.5 / root;
    }
  else
    {
      /* h (5 - (h/h0)^2) / (4 sqrt h0): value and slope of the root at h0. */
      double part = size / STRAIGHT_HEAD;
      double steep = 0.25 / sqrt (STRAIGHT_HEAD);

      root = steep * size * (5.0 - part * part);
      rate = steep * (5.0 - 3.0 * part * part);
    }
  if (slope)
    *slope = scale * rate;
  return copysign (scale * root, head_difference);
}

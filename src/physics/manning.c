/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/manning.h"

#include <math.h>

/* Angle at the centre [rad] that the surface spans when a round pipe carries most: the root of
 * d (A^5/P^2) = 0, 3 a - 5 a cos a + 2 sin a = 0 (depth 0.938 of the bore). */
#define ANGLE_OF_MOST 5.2781074

/* Flow for the water that spans angle at the centre, 0..2 pi. */
static double
flow_at_angle (double bore,
               double angle,
               double fall,
               double manning_n)
{
  double area = (angle - sin (angle)) * bore * bore / 8.0;
  double radius = angle > 0.0 ? area / (0.5 * angle * bore) : 0.0;

  return area * cbrt (radius * radius) * sqrt (MAX (fall, 0.0)) / manning_n;
}

static double
angle_at_depth (double bore,
                double depth)
{
  return 2.0 * acos (CLAMP (1.0 - 2.0 * depth / bore, -1.0, 1.0));
}

double
nappe_part_full_area (double bore,
                      double depth)
{
  double angle = angle_at_depth (bore, depth);

  return (angle - sin (angle)) * bore * bore / 8.0;
}

double
nappe_manning_full_flow (double bore,
                         double fall,
                         double manning_n)
{
  return flow_at_angle (bore, 2.0 * G_PI, fall, manning_n);
}

double
nappe_manning_flow (double bore,
                    double depth,
                    double fall,
                    double manning_n)
{
  return flow_at_angle (bore, angle_at_depth (bore, depth), fall, manning_n);
}

double
nappe_manning_depth (double bore,
                     double flow,
                     double fall,
                     double manning_n)
{
  double low = 0.0, high = ANGLE_OF_MOST;

  if (!(flow > 0.0))
    return 0.0;
  if (flow > flow_at_angle (bore, high, fall, manning_n))
    return bore;
  for (int step = 0; step < 100 && high - low > 1e-15; step++)
    {
      double middle = 0.5 * (low + high);

      if (flow_at_angle (bore, middle, fall, manning_n) < flow)
        low = middle;
      else
        high = middle;
    }
  return bore * 0.5 * (1.0 - cos (0.5 * high));
}

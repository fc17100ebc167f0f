/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/bend.h"

#include <math.h>

/* Radius over bore of the sharpest bend that the law knows: its inner edge is a corner. */
#define SHARPEST 0.5

NappeBend
nappe_bend (double angle,
            double radius_ratio)
{
  double turn = CLAMP (angle, 0.0, G_PI);
  double s = sin (0.5 * turn);
  double separation = 6.6 * (sqrt (s) + s) * pow (MAX (radius_ratio, SHARPEST), -4.0 * turn / G_PI);

  return (NappeBend){ 0.10 * s, 2.4 * s + separation };
}

double
nappe_bend_k (double angle,
              double radius_ratio,
              double friction)
{
  NappeBend bend = nappe_bend (angle, radius_ratio);
  double arc = CLAMP (angle, 0.0, G_PI) * MAX (radius_ratio, SHARPEST);

  return bend.k + friction * (bend.diameters + arc);
}

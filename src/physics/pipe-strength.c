/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/pipe-strength.h"

#include <math.h>

#define HOUR 3600.0
/* Between the outside diameters of 1-1/4 and 1-1/2 inch (40 and 50 mm) pipe, and of 2 and 2-1/2 inch (63 and 75 mm) [m]. */
#define SMALL_PIPE 0.045
#define MIDDLE_PIPE 0.066
#define WARM 15.6 /* [°C] */
#define COLD 4.4  /* [°C] */

double
nappe_pipe_pressure (double stress, double outside, double wall)
{
  return wall > 0 && outside > wall ? 2 * stress * wall / (outside - wall) : NAN;
}

double
nappe_pvc_warmth_share (double temperature)
{
  static const double points[][2] = { { 22.8, 1 },    { 26.7, 0.88 }, { 32.2, 0.75 }, { 37.8, 0.62 },
                                      { 43.3, 0.51 }, { 48.9, 0.40 }, { 60, 0.22 } };

  if (!(temperature > points[0][0]))
    return isnan (temperature) ? NAN : 1;
  for (gsize i = 1; i < G_N_ELEMENTS (points); i++)
    if (temperature <= points[i][0])
      return points[i - 1][1]
             + (points[i][1] - points[i - 1][1]) * (temperature - points[i - 1][0]) / (points[i][0] - points[i - 1][0]);
  return 0;
}

double
nappe_tube_collapse (double elasticity, double poisson, double outside, double wall)
{
  double middle = outside - wall;
  return wall > 0 && middle > 0 ? 2 * elasticity / (1 - poisson * poisson) * pow (wall / middle, 3) : NAN;
}

double
nappe_cement_cure (double outside, double temperature)
{
  double hours = outside <= SMALL_PIPE ? 6 : outside <= MIDDLE_PIPE ? 12 : 24;
  return HOUR * hours * (temperature >= WARM ? 1 : temperature >= COLD ? 2 : 8);
}

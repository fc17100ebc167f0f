/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/friction.h"

#include <math.h>

/* Bounds of the gap between the laminar and the turbulent law. */
#define LAMINAR_END 2000.0
#define TURBULENT_START 4000.0

#define TWO_LG (2.0 / G_LN10) /* 2 lg x = TWO_LG ln x */

/* Solves Colebrook and White for f Re^2; slope receives its derivative by Re. */
static double
turbulent_group (double  reynolds,
                 double  relative_roughness,
                 double *slope)
{
  double rough = relative_roughness / 3.7;
  double smooth = 2.51 / reynolds;
  /* Serghides 1984 is within 0.3 % everywhere, so two Newton steps leave nothing but rounding. */
  double a = -TWO_LG * log (rough + 12.0 / reynolds);
  double b = -TWO_LG * log (rough + smooth * a);
  double x = a - (b - a) * (a - 4.781) / (b - 2.0 * a + 4.781);
  double inside = 0, gain = 0, f;

  /* The first form of Serghides divides by nearly nothing in places; b alone is near enough there. */
  if (!(fabs (x - b) < 0.1 * b))
    x = b;
  for (int step = 0; step < 2; step++)
    {
      inside = rough + smooth * x;
      gain = TWO_LG * smooth / inside;
      x -= (x + TWO_LG * log (inside)) / (1.0 + gain);
    }
  f = 1.0 / (x * x);
  /* x + TWO_LG ln (rough + 2.51 x / Re) = 0 gives dx/dRe = gain x / Re / (1 + gain). */
  *slope = 2.0 * f * reynolds / (1.0 + gain);
  return f * reynolds * reynolds;
}

double
nappe_friction_group (double  reynolds,
                      double  relative_roughness,
                      double *slope)
{
  double value, rate;

  if (reynolds <= LAMINAR_END)
    {
      rate = 64.0;
      value = 64.0 * reynolds;
    }
  else if (reynolds >= TURBULENT_START)
    value = turbulent_group (reynolds, relative_roughness, &rate);
  else
    {
      /* Cubic of Hermite. Both end slopes stay below three times the chord, so it rises (Fritsch and Carlson). */
      const double width = TURBULENT_START - LAMINAR_END;
      double end_slope;
      double end = turbulent_group (TURBULENT_START, relative_roughness, &end_slope);
      double start = 64.0 * LAMINAR_END;
      double chord = (end - start) / width;
      double part = reynolds - LAMINAR_END;
      double square = (3.0 * chord - 2.0 * 64.0 - end_slope) / width;
      double cube = (64.0 + end_slope - 2.0 * chord) / (width * width);

      value = start + part * (64.0 + part * (square + part * cube));
      rate = 64.0 + part * (2.0 * square + part * 3.0 * cube);
    }
  if (slope)
    *slope = rate;
  return value;
}

double
nappe_friction_factor (double reynolds,
                       double relative_roughness)
{
  if (!(reynolds > 0.0))
    return INFINITY;
  return nappe_friction_group (reynolds, relative_roughness, NULL) / (reynolds * reynolds);
}

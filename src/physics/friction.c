/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/friction.h"

#include <math.h>

/* Bounds of the gap between the laminar and the turbulent law. */
#define LAMINAR_END 2000.0
#define TURBULENT_START 4000.0

#define TWO_LG (2.0 / G_LN10) /* 2 lg x = TWO_LG ln x */
/* Colebrook and White in natural logarithms: with F = x / TWO_LG, x = 1 / sqrt f, F + ln ((rough + F) SCALE / Re) = 0. */
#define SCALE (2.51 * TWO_LG)

/* ln to 0.03, which is near enough to start from. */
static double
rough_logarithm (double value)
{
  int exponent;
  double part = frexp (value, &exponent);

  return exponent * G_LN2 + 2.0 * (part - 1.0) / (part + 1.0);
}

/* Solves Colebrook and White for f Re^2; slope receives its derivative by Re.
 * Two steps of fourth order leave nothing but rounding (Clamond, Ind. Eng. Chem. Res. 48, 2009). */
static double
turbulent_group (double  reynolds,
                 double  relative_roughness,
                 double *slope)
{
  double inverse = SCALE / reynolds;
  double rough = relative_roughness / (3.7 * inverse);
  double root = rough_logarithm (reynolds / SCALE) - 0.2;
  double inside, gain, x, f;

  for (int step = 0; step < 2; step++)
    {
      double sum = rough + root;
      double miss = (log (sum * inverse) + root) / (1.0 + sum);

      root -= (1.0 + sum + 0.5 * miss) * miss * sum / (1.0 + sum + miss * (1.0 + miss / 3.0));
    }
  x = TWO_LG * root;
  f = 1.0 / (x * x);
  /* x + TWO_LG ln (e / 3.7 + 2.51 x / Re) = 0 gives dx/dRe = gain x / Re / (1 + gain). */
  inside = rough + root;
  gain = 1.0 / inside;
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

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/fitting.h"

#include <math.h>

double
nappe_k_darby_fixed (double ki,
                     double kd,
                     double nominal_inches)
{
  return ki * (1.0 + kd / pow (nominal_inches, 0.3));
}

double
nappe_k_darby (double k1,
               double ki,
               double kd,
               double nominal_inches,
               double reynolds)
{
  return k1 / reynolds + nappe_k_darby_fixed (ki, kd, nominal_inches);
}

double
nappe_k_hooper (double k1,
                double k_infinite,
                double bore_inches,
                double reynolds)
{
  return k1 / reynolds + k_infinite * (1.0 + 1.0 / bore_inches);
}

/* 1 - beta^2: share of the large section that the small one lacks. */
static double
lacking_share (double bore_large,
               double bore_small)
{
  double beta = bore_small / bore_large;

  return MAX (1.0 - beta * beta, 0.0);
}

double
nappe_k_contraction (double bore_large,
                     double bore_small)
{
  return 0.5 * lacking_share (bore_large, bore_small);
}

double
nappe_k_expansion (double bore_large,
                   double bore_small)
{
  double lacking = lacking_share (bore_large, bore_small);

  return lacking * lacking;
}

double
nappe_k_entrance (NappeEntrance entrance)
{
  switch (entrance)
    {
    case NAPPE_ENTRANCE_FLUSH:
      return 0.5;
    case NAPPE_ENTRANCE_PROJECTING:
      return 0.8;
    case NAPPE_ENTRANCE_DOWNTURNED_ELBOW:
      return 1.2;
    case NAPPE_ENTRANCE_STRAINER:
      return 1.3;
    default:
      g_return_val_if_reached (0.5);
    }
}

double
nappe_k_exit (void)
{
  return 1.0;
}

double
nappe_k_plate (double open_share)
{
  double shut, ratio;

  if (open_share <= 0.0)
    return INFINITY;
  shut = MAX (1.0 - open_share, 0.0);
  /* Idelchik's 0.707 is sqrt (1/2). */
  ratio = (shut + G_SQRT2 / 2.0 * sqrt (shut)) / open_share;
  return ratio * ratio;
}

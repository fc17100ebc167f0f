/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/valve.h"

#include <math.h>

/* Exponent m of K ~ opening^-m below the first row. */
static double
narrow_exponent (const NappeValvePoint *points,
                 gsize                  n)
{
  double m = 2.0;

  if (n > 1)
    m = log (points[0].k / points[1].k) / log (points[1].opening / points[0].opening);
  return MAX (m, 2.0);
}

double
nappe_valve_k (const NappeValvePoint *points,
               gsize                  n,
               double                 opening)
{
  gsize i = 1;
  double part;

  g_return_val_if_fail (n > 0, INFINITY);
  if (!(opening > 0.0))
    return INFINITY;
  if (opening >= points[n - 1].opening)
    return points[n - 1].k;
  if (opening < points[0].opening)
    return points[0].k * pow (points[0].opening / opening, narrow_exponent (points, n));
  while (points[i].opening < opening)
    i++;
  part = (opening - points[i - 1].opening) / (points[i].opening - points[i - 1].opening);
  return points[i - 1].k * pow (points[i].k / points[i - 1].k, part);
}

double
nappe_valve_opening_for_k (const NappeValvePoint *points,
                           gsize                  n,
                           double                 k)
{
  gsize i = 1;
  double part;

  g_return_val_if_fail (n > 0, 0.0);
  if (!(k > points[n - 1].k))
    return points[n - 1].opening;
  if (k > points[0].k)
    return points[0].opening * pow (k / points[0].k, -1.0 / narrow_exponent (points, n));
  while (points[i].k > k)
    i++;
  part = log (k / points[i - 1].k) / log (points[i].k / points[i - 1].k);
  return points[i - 1].opening + part * (points[i].opening - points[i - 1].opening);
}

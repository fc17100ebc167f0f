/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "properties.h"

#include <math.h>

double
random_log (double low,
            double high)
{
  return exp (g_test_rand_double_range (log (low), log (high)));
}

gboolean
slope_agrees (double slope,
              double value_below,
              double value_above,
              double step,
              double share,
              double noise)
{
  double measured = (value_above - value_below) / (2.0 * step);

  return fabs (slope - measured) <= share * fabs (measured) + noise;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/submergence.h"

#include "physics/drop-inlet.h"

#include <math.h>

double
nappe_submergence_hi (double diameter,
                      double flow)
{
  return diameter * (1.0 + 2.3 * fabs (nappe_full_bore_froude (flow, diameter)));
}

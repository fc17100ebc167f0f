/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

/* A number between low and high, even in its logarithm. */
double random_log (double low,
                   double high);

/* Whether slope is what the two values either side of x, each step away, suggest: within share, or within noise. */
gboolean slope_agrees (double slope,
                       double value_below,
                       double value_above,
                       double step,
                       double share,
                       double noise);

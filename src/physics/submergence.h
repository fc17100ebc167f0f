/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Depth of water [m] advised over the rim of an inlet of diameter [m] drawing flow [m3/s] against vortices:
 * D (1 + 2.3 Fr), Fr = V / sqrt (g D) (ANSI/HI 9.8). Advice for pump intakes; never the level at which a
 * siphon breaks: made for large intakes, it asks more than most overflow boxes are deep. */
double nappe_submergence_hi (double diameter,
                             double flow);

G_END_DECLS

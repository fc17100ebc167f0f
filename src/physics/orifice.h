/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Discharge coefficient of a sharp-edged hole or gap (Torricelli's law with contraction; 0.59..0.62 in print, SWMM 0.6). */
#define NAPPE_ORIFICE_COEFFICIENT 0.6

/* Flow [m3/s] through area [m2] under a difference of head [m], sign of the difference:
 * coefficient * area * sqrt (2 g h). Below 0.01 mm the root is replaced by an odd cubic with its value and slope at the end,
 * so that slope: (out) (nullable) dQ/dh [m2/s] is finite and > 0 everywhere. */
double nappe_orifice_flow (double  area,
                           double  coefficient,
                           double  head_difference,
                           double *slope);

G_END_DECLS

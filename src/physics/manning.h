/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Flow of a nearly level round pipe with a free surface, Q = A R^(2/3) sqrt (S) / n (Manning; open-channel texts).
 * bore [m] > 0; fall S [m/m] >= 0; n of Manning [s/m^(1/3)] > 0, smooth plastic 0.009..0.011.
 */

/* Flow [m3/s] of the full pipe. */
double nappe_manning_full_flow (double bore,
                                double fall,
                                double manning_n);

/* Flow [m3/s] at depth [m] over the invert, brought into 0..bore. Most at 0.938 of the bore, 7.6 % over the full pipe. */
double nappe_manning_flow (double bore,
                           double depth,
                           double fall,
                           double manning_n);

/* Depth [m] at which flow [m3/s] runs; the lesser one where there are two; bore when the pipe cannot carry it
 * with a free surface. */
double nappe_manning_depth (double bore,
                            double flow,
                            double fall,
                            double manning_n);

/* Wetted area [m2] at depth [m]. */
double nappe_part_full_area (double bore,
                             double depth);

G_END_DECLS

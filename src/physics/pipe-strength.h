/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What pressure, warmth and suction do to plastic pipe and hose. */

/* Pressure that a pipe carries for years [Pa]: 2 s t / (d - t), as ISO 161-1 and ASTM D1785 have it.
 * stress: design stress of its material [Pa]; outside: diameter [m] > wall; wall [m]. NaN for anything else. */
double nappe_pipe_pressure (double stress,
                            double outside,
                            double wall);

/* The share of its pressure at 23 °C that PVC pipe still carries in warm water: 1 up to 22.8 °C (73 °F), 0.88 at 26.7 °C
 * (80 °F), 0.75 at 32.2 °C, 0.62 at 37.8 °C, 0.51 at 43.3 °C, 0.40 at 48.9 °C, 0.22 at 60 °C (140 °F), then 0; straight lines
 * between. Factors commonly printed beside the tables of ASTM D1785 pipe, from memory. temperature [°C] */
double nappe_pvc_warmth_share (double temperature);

/* Suction at which a long round tube flattens [Pa]: 2 E / (1 - n²) (t/D)³, D to the middle of the wall (Timoshenko and
 * Gere, Theory of Elastic Stability, chapter 7). A tube that is bent or not round flattens earlier.
 * elasticity: Young's modulus E [Pa]; poisson: n; outside [m] > wall; wall t [m]. NaN for anything else. */
double nappe_tube_collapse (double elasticity,
                            double poisson,
                            double outside,
                            double wall);

/* How long joints of solvent cement stand before water and pressure [s], for a pipe's outside diameter [m] and the room's
 * temperature [°C]: 6, 12 or 24 hours from 15.6 °C (60 °F) upwards, twice that from 4.4 °C (40 °F) upwards, eight times that
 * in the cold, for pipe up to 1-1/4, 2 and 8 inches. Tables that go with cement of ASTM D2564 and joints of ASTM D2855, for
 * the higher pressures and dry air, from memory: the tin's own comes first. */
double nappe_cement_cure (double outside,
                          double temperature);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What grows on the wall of a pipe in seawater: slime, and later worms and sponges. It narrows the bore by its thickness
 * on both sides and makes the wall rough. */

/* Least share of the bore that is left open, however much grows: a pipe closed further is a blocked pipe. */
#define NAPPE_GROWTH_LEAST_OPEN 0.1

/* The bore left [m]. bore: of the clean pipe [m], > 0. thickness: of the growth [m], >= 0. Never below
 * NAPPE_GROWTH_LEAST_OPEN of the bore. */
double nappe_growth_bore (double bore,
                          double thickness);

/* Height of roughness of the grown wall [m]; roughness: of the clean wall [m]. A pipe with slime has 0.3 mm at speeds about
 * 1 m/s (rising mains in normal condition; HR Wallingford, Tables for the Hydraulic Design of Pipes, from memory: 0.15 mm
 * good, 0.6 mm poor). Growth thinner than that is as rough as it is thick. Never less than the clean wall's, nor more than
 * a twentieth of the bore left, where the friction law ends (Moody 1944). */
double nappe_growth_roughness (double bore,
                               double roughness,
                               double thickness);

G_END_DECLS

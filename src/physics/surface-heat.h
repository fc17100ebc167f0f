/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Heat that leaves water for a room beside what evaporation takes. Temperatures in °C, heat per square metre [W/m2],
 * positive out of the water. Walls and furniture of the room are as warm as its air. */

#define NAPPE_CONDUCTIVITY_GLASS 1.0    /* [W/(m K)], soda-lime glass, EN 572-1 */
#define NAPPE_CONDUCTIVITY_ACRYLIC 0.19 /* [W/(m K)], common handbook value */

/* Between two faces that see each other alone or a small face and a room: e sigma (T1^2 + T2^2) (T1 + T2), [W/(m2 K)];
 * Stefan and Boltzmann. emissivity: share. */
double nappe_radiation_coefficient (double emissivity,
                                    double temperature_c,
                                    double other_c);

/* Open water to the air above: convection by EN ISO 6946, annex C (5.0 W/(m2 K) upwards from warm water, 0.7 downwards into
 * cold, from memory) and radiation with emissivity 0.95. Rises with the water's temperature. */
double nappe_open_surface_heat (double water_c,
                                double room_c);

/* Water under a lid: still air between them (0.16 m2 K/W upwards, 0.21 downwards, EN ISO 6946, from memory) and the surface
 * resistance above (0.10 and 0.17). The lid itself and gaps in it are left out. */
double nappe_covered_surface_heat (double water_c,
                                   double room_c);

/* Heat through an upright panel of thickness [m] and conductivity [W/(m K)] for each kelvin [W/(m2 K)]: 500 W/(m2 K) in the
 * water (common practice), the panel, and 0.13 m2 K/W to the room (EN ISO 6946, sideways). */
double nappe_panel_transmittance (double thickness,
                                  double conductivity);

G_END_DECLS

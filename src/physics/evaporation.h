/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "physics/water.h"

#include <glib.h>

G_BEGIN_DECLS

/* The air over the water. */
typedef struct {
  double temperature; /* [°C] */
  double humidity;    /* relative, share 0..1 */
  double speed;       /* along the surface [m/s], >= 0 */
} NappeAir;

/* Speed of the air over still water in a room without a fan [m/s] (common practice). */
#define NAPPE_AIR_STILL 0.1

/* What measurements on undisturbed water gave of the formula by Carrier: 74 % (ASHRAE Transactions 104, 1998, paper 4146). */
#define NAPPE_EVAPORATION_UNDISTURBED 0.74

/* Pressure of the vapour in the air [Pa]. */
double nappe_air_vapour_pressure (const NappeAir *air);

/* Kilograms of water vapour to a kilogram of dry air, at one atmosphere. vapour_pressure [Pa], below 90 kPa. */
double nappe_vapour_content (double vapour_pressure);

/* Evaporation from a square metre of open water [kg/(m2 s)], four published forms. All are driven by what the vapour
 * over the water (lowered by its salt, see NappeWater) has more than the air's. Negative: the air has more, and vapour
 * condenses on the water. The surface is taken as warm as the water. */

/* (p_water - p_air) (0.089 + 0.0782 v) / latent heat, in kPa, m/s and kJ/kg: Carrier 1918, ASHRAE Handbook HVAC
 * Applications, natatoriums. For rough or aired surfaces: too much over still water. */
double nappe_evaporation_carrier (const NappeWater *water,
                                  const NappeAir   *air);

/* 4e-5 activity (p_water - p_air), kPa: the same handbook's simplified form; activity 0.5 is a private pool or one at rest,
 * 1 a public one (from memory). */
double nappe_evaporation_simplified (const NappeWater *water,
                                     const NappeAir   *air,
                                     double            activity);

/* The greater of what rises by itself, 35 d_room (d_room - d_surface)^(1/3) (w_surface - w_room) kg/(m2 h), and what the room's
 * draught takes, 5e-5 (p_water - p_air) kg/(m2 h), Pa. d: dry air in moist air [kg/m3], w: vapour content; the surface is
 * saturated. Shah, ASHRAE Transactions 2014 (factors from memory). The first factor's density is that of the
 * saturated air at the surface. */
double nappe_evaporation_shah (const NappeWater *water,
                               const NappeAir   *air);

/* (25 + 19 v) (w_surface - w_air) kg/(m2 h): common in building practice. content_surface, content_air: kilograms of vapour
 * to one of dry air; speed of the air [m/s]. */
double nappe_evaporation_by_content (double speed,
                                     double content_surface,
                                     double content_air);

/* [kg/(m2 s)], low <= middle <= high, all of one sign. */
typedef struct {
  double low;    /* the least of the four forms and `middle` */
  double middle; /* Carrier's for undisturbed water */
  double high;   /* the greatest of them */
} NappeEvaporation;

/* The published forms differ by a factor of about 2.5, and so does a tank from the next one: its pumps ruffle the
 * surface, its lights warm the air. Rises with the water's temperature, falls with humidity. While vapour condenses low is
 * the strongest condensation. */
void nappe_evaporation_range (const NappeWater *water,
                              const NappeAir   *air,
                              NappeEvaporation *range);

G_END_DECLS

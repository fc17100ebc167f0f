/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Properties of fresh water or seawater at one atmosphere. */
typedef struct {
  double temperature_c;   /* [°C] */
  double salinity;        /* [g/kg], absolute and practical salinity taken as equal (0.5 % apart) */
  double density;         /* [kg/m3] */
  double viscosity;       /* dynamic [Pa s] */
  double kinematic;       /* viscosity / density [m2/s] */
  double vapour_pressure; /* over the water, lowered by its salt [Pa] */
  double specific_heat;   /* at constant pressure [J/(kg K)] */
} NappeWater;

/* Fills water for temperature_c [°C] and salinity [g/kg].
 * Density: one-atmosphere equation of EOS-80 (UNESCO technical paper 44, 1983), S 0..42, -2..40 °C.
 * Viscosity: Sharqawy, Lienhard and Zubair 2010. Specific heat: Millero, in UNESCO 44.
 * Vapour pressure: saturation equation of IAPWS-IF97 (region 4), lowered by Raoult's law
 * 1 / (1 + 0.57357 S / (1000 - S)) (Sharqawy 2010).
 * Arguments outside 0..60 °C and 0..80 g/kg are brought to the nearest end, and the struct holds
 * the values used. */
void nappe_water_init (NappeWater *water,
                       double      temperature_c,
                       double      salinity_g_per_kg);

/* Pressure of saturated vapour over fresh water [Pa] at temperature_c [°C]: IAPWS-IF97 region 4,
 * 0..373 °C; below 0 °C the equation is carried on (supercooled water), not below -40 °C. */
double nappe_saturation_pressure (double temperature_c);

/* Heat that one kilogram of vapour takes with it from water of temperature_c [°C], [J/kg]. Polynomial for
 * fresh water, 0..100 °C, 0.05 % (Sharqawy, Lienhard and Zubair 2010, from IAPWS); salt changes it by 0.1 %. */
double nappe_latent_heat (double temperature_c);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/surface-heat.h"

#define STEFAN_BOLTZMANN 5.670374419e-8 /* [W/(m2 K4)], CODATA 2018 */
#define ZERO_CELSIUS 273.15             /* [K] */
#define WATER_EMISSIVITY 0.95

double
nappe_radiation_coefficient (double emissivity,
                             double temperature_c,
                             double other_c)
{
  double warm = temperature_c + ZERO_CELSIUS, cold = other_c + ZERO_CELSIUS;

  return emissivity * STEFAN_BOLTZMANN * (warm * warm + cold * cold) * (warm + cold);
}

double
nappe_open_surface_heat (double water_c,
                         double room_c)
{
  double convection = water_c > room_c ? 5.0 : 0.7;

  return (convection + nappe_radiation_coefficient (WATER_EMISSIVITY, water_c, room_c)) * (water_c - room_c);
}

double
nappe_covered_surface_heat (double water_c,
                            double room_c)
{
  double resistance = water_c > room_c ? 0.16 + 0.10 : 0.21 + 0.17;

  return (water_c - room_c) / resistance;
}

double
nappe_panel_transmittance (double thickness,
                           double conductivity)
{
  return 1.0 / (1.0 / 500.0 + thickness / conductivity + 0.13);
}

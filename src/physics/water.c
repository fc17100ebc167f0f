/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/water.h"

#include <math.h>

/* One-atmosphere density [kg/m3] of EOS-80, UNESCO technical papers in marine science 44 (1983). */
static double
density_of (double t,
            double s)
{
  double fresh = 999.842594
                 + t * (6.793952e-2 + t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
  double a = 0.824493 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
  double b = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6);

  return fresh + s * (a + b * sqrt (s) + 4.8314e-4 * s);
}

/* Dynamic viscosity [Pa s], Sharqawy, Lienhard and Zubair, Desalination and Water Treatment 16 (2010), eq. 22-23. */
static double
viscosity_of (double t,
              double s)
{
  double warm = t + 64.993;
  double fresh = 4.2844e-5 + 1.0 / (0.157 * warm * warm - 91.296);
  double a = 1.541 + t * (1.998e-2 - t * 9.52e-5);
  double b = 7.974 + t * (-7.561e-2 + t * 4.724e-4);
  double share = s / 1000.0;

  return fresh * (1.0 + share * (a + b * share));
}

/* Specific heat [J/(kg K)] at one atmosphere, Millero, Perron and Desnoyers 1973 as given in UNESCO 44. */
static double
specific_heat_of (double t,
                  double s)
{
  double fresh = 4217.4 + t * (-3.720283 + t * (0.1412855 + t * (-2.654387e-3 + t * 2.093236e-5)));
  double a = -7.643575 + t * (0.1072763 - t * 1.38385e-3);
  double b = 0.1770383 + t * (-4.07718e-3 + t * 5.148e-5);

  return fresh + s * (a + b * sqrt (s));
}

double
nappe_saturation_pressure (double temperature_c)
{
  /* IAPWS-IF97 (2007 release), table 34 and equation 30. */
  static const double n[] = {
    0.11670521452767e4,  -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5,
    -0.32325550322333e7, 0.14915108613530e2,  -0.48232657361591e4, 0.40511340542057e6,
    -0.23855557567849,   0.65017534844798e3,
  };
  double kelvin = CLAMP (temperature_c, -40.0, 373.0) + 273.15;
  double theta = kelvin + n[8] / (kelvin - n[9]);
  double a = theta * (theta + n[0]) + n[1];
  double b = theta * (theta * n[2] + n[3]) + n[4];
  double c = theta * (theta * n[5] + n[6]) + n[7];
  double root = 2.0 * c / (-b + sqrt (b * b - 4.0 * a * c));

  return 1e6 * root * root * root * root;
}

double
nappe_latent_heat (double temperature_c)
{
  double t = CLAMP (temperature_c, 0.0, 100.0);

  return 2.501e6 + t * (-2.369e3 + t * (2.678e-1 + t * (-8.103e-3 - t * 2.079e-5)));
}

void
nappe_water_init (NappeWater *water,
                  double      temperature_c,
                  double      salinity_g_per_kg)
{
  double t = CLAMP (temperature_c, 0.0, 60.0);
  double s = CLAMP (salinity_g_per_kg, 0.0, 80.0);

  water->temperature_c = t;
  water->salinity = s;
  water->density = density_of (t, s);
  water->viscosity = viscosity_of (t, s);
  water->kinematic = water->viscosity / water->density;
  water->vapour_pressure = nappe_saturation_pressure (t) / (1.0 + 0.57357 * s / (1000.0 - s));
  water->specific_heat = specific_heat_of (t, s);
}

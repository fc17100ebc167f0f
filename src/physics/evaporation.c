/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/evaporation.h"

#include <math.h>

#define ATMOSPHERE 101325.0       /* [Pa] */
#define HOUR 3600.0               /* [s] */
#define VAPOUR_TO_AIR 0.62198     /* molar masses, ASHRAE Handbook Fundamentals */
#define DRY_AIR_CONSTANT 287.042  /* [J/(kg K)], the same */
#define ACTIVITY_AT_REST 0.5
/* Water at 60 °C stays far below; nothing else asks for more. */
#define VAPOUR_PRESSURE_MOST 90e3 /* [Pa] */

double
nappe_air_vapour_pressure (const NappeAir *air)
{
  return air->humidity * nappe_saturation_pressure (air->temperature);
}

double
nappe_vapour_content (double vapour_pressure)
{
  double vapour = CLAMP (vapour_pressure, 0.0, VAPOUR_PRESSURE_MOST);

  return VAPOUR_TO_AIR * vapour / (ATMOSPHERE - vapour);
}

static double
pressure_drop (const NappeWater *water,
               const NappeAir   *air)
{
  return water->vapour_pressure - nappe_air_vapour_pressure (air);
}

double
nappe_evaporation_carrier (const NappeWater *water,
                           const NappeAir   *air)
{
  /* kPa over kJ/kg is Pa over J/kg. */
  return pressure_drop (water, air) * (0.089 + 0.0782 * air->speed) / nappe_latent_heat (water->temperature_c);
}

double
nappe_evaporation_simplified (const NappeWater *water,
                              const NappeAir   *air,
                              double            activity)
{
  return 4e-5 * activity * pressure_drop (water, air) / 1000.0;
}

/* Dry air in a cubic metre of moist air [kg/m3]. */
static double
dry_air_density (double temperature_c,
                 double vapour_pressure)
{
  return (ATMOSPHERE - vapour_pressure) / (DRY_AIR_CONSTANT * (temperature_c + 273.15));
}

double
nappe_evaporation_shah (const NappeWater *water,
                        const NappeAir   *air)
{
  double in_air = nappe_air_vapour_pressure (air);
  double draught = 5e-5 * (water->vapour_pressure - in_air) / HOUR;
  double at_surface = dry_air_density (water->temperature_c, water->vapour_pressure);
  double lift = dry_air_density (air->temperature, in_air) - at_surface;

  /* Heavy air on the water lies still, and condensing vapour does not rise. */
  if (draught <= 0.0 || lift <= 0.0)
    return draught;
  double more = nappe_vapour_content (water->vapour_pressure) - nappe_vapour_content (in_air);
  return fmax (draught, 35.0 * at_surface * cbrt (lift) * more / HOUR);
}

double
nappe_evaporation_by_content (double speed,
                              double content_surface,
                              double content_air)
{
  return (25.0 + 19.0 * speed) * (content_surface - content_air) / HOUR;
}

void
nappe_evaporation_range (const NappeWater *water,
                         const NappeAir   *air,
                         NappeEvaporation *range)
{
  double carrier = nappe_evaporation_carrier (water, air);
  const double forms[] = {
    carrier,
    nappe_evaporation_simplified (water, air, ACTIVITY_AT_REST),
    nappe_evaporation_shah (water, air),
    nappe_evaporation_by_content (air->speed, nappe_vapour_content (water->vapour_pressure),
                                  nappe_vapour_content (nappe_air_vapour_pressure (air))),
  };

  range->low = range->middle = range->high = NAPPE_EVAPORATION_UNDISTURBED * carrier;
  for (gsize i = 0; i < G_N_ELEMENTS (forms); i++)
    {
      range->low = fmin (range->low, forms[i]);
      range->high = fmax (range->high, forms[i]);
    }
}

/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Properties of evaporation and of heat through surfaces that the balance relies upon. */

#include "properties.h"

#include "physics/evaporation.h"
#include "physics/surface-heat.h"

#include <math.h>

static NappeAir
random_air (void)
{
  return (NappeAir){ g_test_rand_double_range (0, 45), g_test_rand_double_range (0, 1), g_test_rand_double_range (0, 1) };
}

static NappeEvaporation
range_of (double temperature, double salinity, NappeAir air)
{
  NappeWater water;
  NappeEvaporation range;

  nappe_water_init (&water, temperature, salinity);
  nappe_evaporation_range (&water, &air, &range);
  g_assert_true (isfinite (range.low) && isfinite (range.middle) && isfinite (range.high));
  g_assert_cmpfloat (range.low, <=, range.middle);
  g_assert_cmpfloat (range.middle, <=, range.high);
  g_assert_true (range.low * range.high >= 0);
  return range;
}

static void
assert_not_above (NappeEvaporation a, NappeEvaporation b)
{
  g_assert_cmpfloat (a.low, <=, b.low + 1e-15);
  g_assert_cmpfloat (a.middle, <=, b.middle + 1e-15);
  g_assert_cmpfloat (a.high, <=, b.high + 1e-15);
}

/* Damper air or more salt: less; warmer water or more wind: more. */
static void
test_evaporation_order (void)
{
  for (int i = 0; i < 20000; i++)
    {
      double temperature = g_test_rand_double_range (0, 59), salinity = g_test_rand_double_range (0, 45);
      double more = random_log (1e-6, 1.0);
      NappeAir air = random_air (), damp = air, windy = air;
      NappeEvaporation here = range_of (temperature, salinity, air);

      damp.humidity = fmin (1, air.humidity + more);
      assert_not_above (range_of (temperature, salinity, damp), here);
      assert_not_above (range_of (temperature, salinity + 10 * more, air), here);
      assert_not_above (here, range_of (temperature + more, salinity, air));
      windy.speed += more;
      if (here.low >= 0)
        assert_not_above (here, range_of (temperature, salinity, windy));
    }
}

/* Where water and air are in balance nothing evaporates by any form, and a little aside it is little. */
static void
test_evaporation_balance (void)
{
  for (double temperature = 5; temperature < 45; temperature += 1)
    {
      NappeAir air = { temperature, 1.0, 0.1 };

      NappeEvaporation fresh = range_of (temperature, 0, air), salt = range_of (temperature, 35, air);
      g_assert_cmpfloat (fmax (fabs (fresh.low), fabs (fresh.high)), <=, 1e-18);
      /* The sea dries the air over it to 98 %. */
      g_assert_cmpfloat (salt.high, <, 0);
      air.humidity = 0.98;
      salt = range_of (temperature, 35, air);
      g_assert_cmpfloat (fmax (fabs (salt.low), fabs (salt.high)), <=, 2e-7);
    }
}

static void
test_content (void)
{
  /* 50 % at 22 °C: 8.2 g of vapour to a kilogram of dry air (psychrometric charts at one atmosphere). */
  NappeAir air = { 22, 0.5, 0 };
  double last = -1;

  g_assert_cmpfloat_with_epsilon (nappe_vapour_content (nappe_air_vapour_pressure (&air)), 0.0082, 0.0001);
  for (double pressure = 0; pressure < 120e3; pressure += 500)
    {
      double content = nappe_vapour_content (pressure);

      g_assert_true (isfinite (content));
      g_assert_cmpfloat (content, >=, last);
      last = content;
    }
}

/* Heat flows from warm to cold, more the farther apart, without a jump at rest; a lid holds it back. */
static void
test_surfaces (void)
{
  for (int i = 0; i < 20000; i++)
    {
      double water = g_test_rand_double_range (0, 60), room = g_test_rand_double_range (0, 45);
      double more = random_log (1e-6, 1.0);
      double open = nappe_open_surface_heat (water, room), covered = nappe_covered_surface_heat (water, room);

      g_assert_true (open * (water - room) >= 0 && covered * (water - room) >= 0);
      g_assert_cmpfloat (nappe_open_surface_heat (water + more, room), >, open);
      g_assert_cmpfloat (nappe_covered_surface_heat (water + more, room), >, covered);
      g_assert_cmpfloat (fabs (covered), <=, fabs (open));
    }
  g_assert_cmpfloat (nappe_open_surface_heat (20, 20), ==, 0.0);
  g_assert_cmpfloat (nappe_covered_surface_heat (20, 20), ==, 0.0);
  g_assert_cmpfloat (fabs (nappe_open_surface_heat (20 + 1e-9, 20)), <=, 1e-7);
}

static void
test_panels (void)
{
  double last = INFINITY;

  for (double thickness = 0; thickness < 0.05; thickness += 0.001)
    {
      double glass = nappe_panel_transmittance (thickness, NAPPE_CONDUCTIVITY_GLASS);

      g_assert_cmpfloat (glass, <, last);
      g_assert_cmpfloat (nappe_panel_transmittance (thickness, NAPPE_CONDUCTIVITY_ACRYLIC), <=, glass);
      last = glass;
    }
  for (int i = 0; i < 1000; i++)
    {
      double a = g_test_rand_double_range (0, 60), b = g_test_rand_double_range (0, 60);

      g_assert_cmpfloat (nappe_radiation_coefficient (0.9, a, b), ==, nappe_radiation_coefficient (0.9, b, a));
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/physics/heat/evaporation-order", test_evaporation_order);
  g_test_add_func ("/physics/heat/evaporation-balance", test_evaporation_balance);
  g_test_add_func ("/physics/heat/content", test_content);
  g_test_add_func ("/physics/heat/surfaces", test_surfaces);
  g_test_add_func ("/physics/heat/panels", test_panels);
  return g_test_run ();
}

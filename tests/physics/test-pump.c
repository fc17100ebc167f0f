/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Properties of pump curves, bubbles, nearly level pipes and water. */

#include "properties.h"

#include "physics/bubble.h"
#include "physics/manning.h"
#include "physics/pump-curve.h"
#include "physics/water.h"

#include <math.h>

static NappePumpCurve
random_curve (void)
{
  NappePumpCurve curve;
  double flows[NAPPE_PUMP_CURVE_MAX], heads[NAPPE_PUMP_CURVE_MAX];
  gsize n = (gsize) g_test_rand_int_range (2, NAPPE_PUMP_CURVE_MAX + 1);
  double flow = g_test_rand_bit () ? 0.0 : random_log (1e-6, 1e-4), head = random_log (1.0, 12.0);

  for (gsize i = 0; i < n; i++)
    {
      flows[i] = flow;
      heads[i] = head;
      flow += random_log (1e-6, 5e-4);
      head -= random_log (1e-3, 1.0);
    }
  g_assert_true (nappe_pump_curve_init (&curve, flows, heads, n));
  for (gsize i = 0; i < n; i++)
    g_assert_cmpfloat (fabs (nappe_pump_head (&curve, flows[i], 1.0, 1.0, NULL) - heads[i]), <, 1e-12);
  return curve;
}

static void
test_pump_falls (void)
{
  for (int i = 0; i < 2000; i++)
    {
      NappePumpCurve curve = random_curve ();
      double most = curve.flow[curve.n - 1], speed = g_test_rand_double_range (0.2, 1.2),
             wear = g_test_rand_double_range (0.5, 1);
      double before = INFINITY;

      for (int j = -20; j <= 150; j++)
        {
          double flow = most * j / 100.0, step = most * 1e-7, slope, back;
          double head = nappe_pump_head (&curve, flow, speed, wear, &slope);

          g_assert_cmpfloat (head, <, before);
          g_assert_cmpfloat (slope, <, 0.0);
          g_assert_true (slope_agrees (slope, nappe_pump_head (&curve, flow - step, speed, wear, NULL),
                                       nappe_pump_head (&curve, flow + step, speed, wear, NULL), step, 1e-2, 1e-6 / most));
          back = nappe_pump_flow_at_head (&curve, head, speed, wear, NULL);
          g_assert_cmpfloat (fabs (nappe_pump_head (&curve, back, speed, wear, NULL) - head), <, 1e-12 * (1.0 + fabs (head)));
          before = head;
        }
    }
}

static void
test_pump_inverse_slope (void)
{
  NappePumpCurve curve = random_curve ();
  double flow = curve.flow[0] + 0.37 * (curve.flow[curve.n - 1] - curve.flow[0]), down, up;
  double head = nappe_pump_head (&curve, flow, 1.0, 0.9, &down);

  g_assert_cmpfloat (fabs (nappe_pump_flow_at_head (&curve, head, 1.0, 0.9, &up) / flow - 1.0), <, 1e-9);
  g_assert_cmpfloat (fabs (up * down - 1.0), <, 1e-6);
  g_assert_cmpfloat (nappe_pump_head (&curve, 1e-4, 0.0, 1.0, NULL), ==, 0.0);
  g_assert_cmpfloat (nappe_pump_flow_at_head (&curve, 1.0, 0.0, 1.0, NULL), ==, 0.0);
}

static void
test_pump_refuses (void)
{
  NappePumpCurve curve;
  const double rising[] = { 0, 1, 2 }, falling[] = { 3, 2, 1 }, flat[] = { 3, 3, 1 }, repeated[] = { 0, 1, 1 };
  const double negative[] = { -1, 0, 1 }, broken[] = { 0, 1, NAN };
  double many[NAPPE_PUMP_CURVE_MAX + 1] = { 0 };

  g_assert_true (nappe_pump_curve_init (&curve, rising, falling, 3));
  g_assert_false (nappe_pump_curve_init (&curve, rising, falling, 1));
  g_assert_false (nappe_pump_curve_init (&curve, many, many, NAPPE_PUMP_CURVE_MAX + 1));
  g_assert_false (nappe_pump_curve_init (&curve, rising, rising, 3));
  g_assert_false (nappe_pump_curve_init (&curve, rising, flat, 3));
  g_assert_false (nappe_pump_curve_init (&curve, repeated, falling, 3));
  g_assert_false (nappe_pump_curve_init (&curve, negative, falling, 3));
  g_assert_false (nappe_pump_curve_init (&curve, broken, falling, 3));
  g_assert_false (nappe_pump_curve_init (&curve, rising, broken, 3));
}

static void
test_bubble (void)
{
  NappeWater water;
  double before = 0.0;

  nappe_water_init (&water, 25.0, 35.0);
  g_assert_cmpfloat (nappe_bubble_rise_speed (0.0, &water), ==, 0.0);
  g_assert_cmpfloat (nappe_bubble_diameter_for_speed (0.0, &water), ==, 0.0);
  for (int i = 0; i <= 600; i++)
    {
      double diameter = pow (10.0, -7.0 + i / 100.0);
      double speed = nappe_bubble_rise_speed (diameter, &water);

      g_assert_cmpfloat (speed, >, before);
      g_assert_cmpfloat (fabs (nappe_bubble_diameter_for_speed (speed, &water) / diameter - 1.0), <, 1e-9);
      before = speed;
    }
}

static void
test_manning (void)
{
  double bore = 0.05, fall = 0.02, n = 0.009, before = 0.0;
  double full = nappe_manning_full_flow (bore, fall, n);

  g_assert_cmpfloat (nappe_manning_depth (bore, 0.0, fall, n), ==, 0.0);
  g_assert_cmpfloat (nappe_manning_depth (bore, 2.0 * full, fall, n), ==, bore);
  g_assert_cmpfloat (nappe_manning_flow (bore, 2.0 * bore, fall, n), ==, full);
  /* Half full carries half; the most is 1.076 of full at 0.938 of the bore (open-channel texts). */
  g_assert_cmpfloat (fabs (nappe_manning_flow (bore, bore / 2, fall, n) / full - 0.5), <, 1e-12);
  g_assert_cmpfloat (fabs (nappe_manning_flow (bore, 0.938 * bore, fall, n) / full - 1.076), <, 5e-4);
  g_assert_cmpfloat (fabs (nappe_part_full_area (bore, bore) - G_PI_4 * bore * bore), <, 1e-15);
  for (int i = 1; i <= 938; i++)
    {
      double depth = bore * i / 1000.0, flow = nappe_manning_flow (bore, depth, fall, n);

      g_assert_cmpfloat (flow, >, before);
      g_assert_cmpfloat (fabs (nappe_manning_depth (bore, flow, fall, n) - depth), <, 1e-7 * bore);
      before = flow;
    }
}

static void
test_water_bounds (void)
{
  NappeWater water;

  nappe_water_init (&water, -300.0, 1e6);
  g_assert_cmpfloat (water.temperature_c, ==, 0.0);
  g_assert_cmpfloat (water.salinity, ==, 80.0);
  g_assert_true (isfinite (water.density) && isfinite (water.kinematic) && water.vapour_pressure > 0.0);
  for (int i = 0; i < 1000; i++)
    {
      double t = g_test_rand_double_range (5.0, 34.0), s = g_test_rand_double_range (0.0, 42.0);
      NappeWater warmer, saltier;

      nappe_water_init (&water, t, s);
      nappe_water_init (&warmer, t + 1.0, s);
      nappe_water_init (&saltier, t, s + 1.0);
      g_assert_cmpfloat (warmer.density, <, water.density);
      g_assert_cmpfloat (warmer.viscosity, <, water.viscosity);
      g_assert_cmpfloat (warmer.vapour_pressure, >, water.vapour_pressure);
      g_assert_cmpfloat (saltier.density, >, water.density);
      g_assert_cmpfloat (saltier.viscosity, >, water.viscosity);
      g_assert_cmpfloat (saltier.vapour_pressure, <, water.vapour_pressure);
      g_assert_cmpfloat (saltier.specific_heat, <, water.specific_heat);
      g_assert_cmpfloat (fabs (water.kinematic * water.density / water.viscosity - 1.0), <, 1e-14);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/physics/pump/falls", test_pump_falls);
  g_test_add_func ("/physics/pump/inverse-slope", test_pump_inverse_slope);
  g_test_add_func ("/physics/pump/refuses", test_pump_refuses);
  g_test_add_func ("/physics/bubble/monotone", test_bubble);
  g_test_add_func ("/physics/manning/part-full", test_manning);
  g_test_add_func ("/physics/water/bounds", test_water_bounds);
  return g_test_run ();
}

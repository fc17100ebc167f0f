/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Properties of friction, runs of pipe, fittings and valves that the solver relies upon. */

#include "properties.h"

#include "physics/bend.h"
#include "physics/fitting.h"
#include "physics/friction.h"
#include "physics/gravity.h"
#include "physics/growth.h"
#include "physics/stretch.h"
#include "physics/valve.h"

#include <math.h>

static void
test_friction_solves_colebrook (void)
{
  for (int i = 0; i < 20000; i++)
    {
      double reynolds = random_log (4000.0, 1e8);
      double rough = g_test_rand_bit () ? random_log (1e-7, 0.05) : 0.0;
      double x = 1.0 / sqrt (nappe_friction_factor (reynolds, rough));
      double right = -2.0 * log10 (rough / 3.7 + 2.51 * x / reynolds);

      g_assert_cmpfloat (fabs (x - right), <, 1e-10 * x);
    }
}

static void
test_friction_rises (void)
{
  const double roughnesses[] = { 0.0, 1e-6, 6e-5, 1e-3, 0.05 };

  for (gsize r = 0; r < G_N_ELEMENTS (roughnesses); r++)
    {
      double before = 0.0, before_slope = 64.0;

      for (int i = 0; i <= 70000; i++)
        {
          double reynolds = pow (10.0, i / 10000.0);
          double slope, group = nappe_friction_group (reynolds, roughnesses[r], &slope);

          g_assert_cmpfloat (group, >, before);
          g_assert_cmpfloat (slope, >, 0.0);
          /* A step of 0.02 % changes the slope by less than 1 %, unless it jumps: laminar to turbulent would be 260 %. */
          g_assert_cmpfloat (fabs (slope / before_slope - 1.0), <, 1e-2);
          before = group;
          before_slope = slope;
        }
    }
}

static void
test_friction_joints (void)
{
  const double joints[] = { 2000.0, 4000.0 };

  for (gsize i = 0; i < G_N_ELEMENTS (joints); i++)
    {
      double below, above;
      double low = nappe_friction_group (joints[i] * (1 - 1e-9), 1e-4, &below);
      double high = nappe_friction_group (joints[i] * (1 + 1e-9), 1e-4, &above);

      g_assert_cmpfloat (fabs (high / low - 1.0), <, 1e-8);
      g_assert_cmpfloat (fabs (above / below - 1.0), <, 1e-6);
    }
  /* Laminar to the last bit below. */
  g_assert_cmpfloat (nappe_friction_factor (1500.0, 0.01), ==, 64.0 / 1500.0);
  g_assert_true (isinf (nappe_friction_factor (0.0, 0.0)));
}

static NappeWater
random_water (void)
{
  NappeWater water;

  nappe_water_init (&water, g_test_rand_double_range (0.0, 35.0), g_test_rand_double_range (0.0, 42.0));
  return water;
}

/* Stretches from a lone fitting to a long thin hose; always with some loss. */
static gsize
random_run (NappeStretch *run)
{
  gsize n = (gsize) g_test_rand_int_range (1, 6);

  for (gsize i = 0; i < n; i++)
    {
      run[i].bore = random_log (0.004, 0.1);
      run[i].length = g_test_rand_bit () ? random_log (0.001, 20.0) : 0.0;
      run[i].roughness = g_test_rand_bit () ? random_log (1e-7, 1e-4) : 0.0;
      run[i].k = g_test_rand_bit () || run[i].length == 0.0 ? random_log (1e-3, 1e4) : 0.0;
      run[i].k1 = g_test_rand_bit () ? random_log (1.0, 2000.0) : 0.0;
    }
  return n;
}

static void
test_run_inverts (void)
{
  for (int i = 0; i < 20000; i++)
    {
      NappeStretch run[6];
      NappeWater water = random_water ();
      gsize n = random_run (run);
      double flow = random_log (1e-12, 1e-2);
      double up, down, guess = g_test_rand_bit () ? random_log (1e-12, 1e-2) : 0.0;
      double head = nappe_run_head (run, n, flow, &water, &up);
      double back = nappe_run_flow (run, n, head, &water, guess, &down);

      g_assert_cmpfloat (fabs (back / flow - 1.0), <, 2e-12);
      g_assert_cmpfloat (fabs (up * down - 1.0), <, 1e-9);
      g_assert_cmpfloat (nappe_run_head (run, n, -flow, &water, NULL), ==, -head);
      g_assert_cmpfloat (fabs (nappe_run_flow (run, n, -head, &water, guess, NULL) + back), <=, 1e-15 * back);
    }
}

static void
test_run_rises_smoothly (void)
{
  for (int i = 0; i < 20000; i++)
    {
      NappeStretch run[6];
      NappeWater water = random_water ();
      gsize n = random_run (run);
      double flow = random_log (1e-9, 1e-2), step = flow * 1e-5;
      double slope, head = nappe_run_head (run, n, flow, &water, &slope);
      double below = nappe_run_head (run, n, flow - step, &water, NULL);
      double above = nappe_run_head (run, n, flow + step, &water, NULL);

      g_assert_cmpfloat (below, <, head);
      g_assert_cmpfloat (head, <, above);
      g_assert_true (slope_agrees (slope, below, above, step, 1e-3, 0.0));
    }
}

static void
test_run_at_rest (void)
{
  NappeWater water = random_water ();
  NappeStretch fitting = { .bore = 0.025, .k = 2.0 };
  double slope, flow;

  g_assert_cmpfloat (nappe_run_head (&fitting, 1, 0.0, &water, &slope), ==, 0.0);
  g_assert_cmpfloat (slope, >, 0.0);
  g_assert_true (isfinite (slope));
  g_assert_cmpfloat (nappe_run_flow (&fitting, 1, 0.0, &water, 0.0, &slope), ==, 0.0);
  g_assert_true (isfinite (slope) && slope > 0.0);
  /* From 0.01 mm on the fitting is Torricelli's to rounding (energy equation). */
  flow = nappe_run_flow (&fitting, 1, 1.01e-5, &water, 0.0, NULL);
  g_assert_cmpfloat (fabs (flow / (G_PI_4 * 0.025 * 0.025 * sqrt (NAPPE_GRAVITY * 1.01e-5)) - 1.0), <, 1e-12);
}

static void
test_shut_run (void)
{
  NappeWater water = random_water ();
  NappeStretch run[2] = { { .bore = 0.025, .length = 1.0 }, { .bore = 0.025, .k = INFINITY } };
  double slope;

  g_assert_cmpfloat (nappe_run_flow (run, 2, 1.0, &water, 0.0, &slope), ==, 0.0);
  g_assert_cmpfloat (slope, ==, 0.0);
  g_assert_cmpfloat (nappe_run_head (run, 2, 0.0, &water, NULL), ==, 0.0);
  g_assert_true (isinf (nappe_run_head (run, 2, -1e-4, &water, NULL)));
}

static void
test_lossless_run (void)
{
  NappeWater water = random_water ();
  NappeStretch nothing = { .bore = 0.025, .k = -0.5 };

  g_test_expect_message (G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*without any loss*");
  g_assert_cmpfloat (nappe_run_flow (&nothing, 1, 1.0, &water, 0.0, NULL), ==, 0.0);
  g_test_assert_expected_messages ();
}

static void
test_plate (void)
{
  double before = INFINITY;

  g_assert_true (isinf (nappe_k_plate (0.0)));
  g_assert_cmpfloat (nappe_k_plate (1.0), ==, 0.0);
  g_assert_cmpfloat (fabs (nappe_k_plate (0.5) - 4.0), <, 1e-12);
  for (int i = 1; i <= 1000; i++)
    {
      double k = nappe_k_plate (i / 1000.0);

      g_assert_cmpfloat (k, <, before);
      before = k;
    }
}

static void
test_change_of_bore (void)
{
  g_assert_cmpfloat (nappe_k_contraction (0.02, 0.02), ==, 0.0);
  g_assert_cmpfloat (nappe_k_expansion (0.02, 0.03), ==, 0.0);
  g_assert_cmpfloat (nappe_k_expansion (1.0, 1e-6), >, 0.999999);
  for (int entrance = NAPPE_ENTRANCE_FLUSH; entrance <= NAPPE_ENTRANCE_STRAINER; entrance++)
    g_assert_cmpfloat (nappe_k_entrance ((NappeEntrance) entrance), >=, 0.5);
}

static void
test_valve (void)
{
  const NappeValvePoint gate[] = { { 0.25, 17 }, { 0.5, 2.1 }, { 0.75, 0.26 }, { 1, 0.15 } };
  const NappeValvePoint single[] = { { 1, 0.2 } }, flat[] = { { 0.5, 1.1 }, { 1, 1 } };
  double before = INFINITY;

  g_assert_true (isinf (nappe_valve_k (gate, 4, 0.0)));
  g_assert_true (isinf (nappe_valve_k (gate, 4, -1.0)));
  g_assert_cmpfloat (nappe_valve_k (gate, 4, 2.0), ==, 0.15);
  g_assert_cmpfloat (nappe_valve_opening_for_k (gate, 4, 0.01), ==, 1.0);
  g_assert_cmpfloat (nappe_valve_opening_for_k (gate, 4, INFINITY), ==, 0.0);
  for (int i = 1; i <= 10000; i++)
    {
      double opening = i / 10000.0, k = nappe_valve_k (gate, 4, opening);

      g_assert_cmpfloat (k, <, before);
      g_assert_cmpfloat (fabs (nappe_valve_opening_for_k (gate, 4, k) - opening), <, 1e-12);
      before = k;
    }
  /* A table of one row, or a flat one, narrows like a slot: half open, four times the loss. */
  g_assert_cmpfloat (fabs (nappe_valve_k (flat, 2, 0.25) - 4.4), <, 1e-12);
  g_assert_cmpfloat (fabs (nappe_valve_k (single, 1, 0.5) - 0.8), <, 1e-12);
}

/* Sharper bends lose more by their turning, at every angle; no turn loses nothing. */
static void
test_bend (void)
{
  for (int degrees = 5; degrees <= 180; degrees += 5)
    {
      double angle = degrees * G_PI / 180.0, before = INFINITY;

      for (int i = 50; i <= 1000; i++)
        {
          NappeBend bend = nappe_bend (angle, i / 100.0);

          g_assert_cmpfloat (bend.diameters, <, before);
          g_assert_cmpfloat (bend.diameters, >, 0.0);
          g_assert_cmpfloat (bend.k, ==, 0.10 * sin (0.5 * angle));
          g_assert_cmpfloat (nappe_bend_k (angle, i / 100.0, 0.02), >, bend.k);
          before = bend.diameters;
        }
    }
  g_assert_cmpfloat (nappe_bend_k (0.0, 3.0, 0.03), ==, 0.0);
  g_assert_cmpfloat (nappe_bend (4.0, 1.0).diameters, ==, nappe_bend (G_PI, 1.0).diameters);
  g_assert_cmpfloat (nappe_bend (1.0, 0.1).diameters, ==, nappe_bend (1.0, 0.5).diameters);
}

/* The thicker the growth the more a pipe loses, without a step, until a tenth of its bore is left. */
static void
test_growth (void)
{
  const double bore = 0.025, roughness = 1.5e-6;
  NappeWater water = random_water ();
  double before = 0.0;

  g_assert_cmpfloat (nappe_growth_bore (bore, 0.0), ==, bore);
  g_assert_cmpfloat (nappe_growth_roughness (bore, roughness, 0.0), ==, roughness);
  g_assert_cmpfloat (nappe_growth_roughness (bore, 0.002, 0.001), ==, 0.002);
  for (int i = 0; i <= 1000; i++)
    {
      double thickness = i * 11.25e-6, left = nappe_growth_bore (bore, thickness);
      NappeStretch pipe = { .bore = left, .length = 1.0, .roughness = nappe_growth_roughness (bore, roughness, thickness) };
      double head = nappe_stretch_head (&pipe, 2e-4, &water);

      g_assert_cmpfloat (head, >, before);
      if (i > 0)
        g_assert_cmpfloat (head, <, 1.2 * before);
      g_assert_cmpfloat (pipe.roughness, <=, 0.05 * left * (1 + 1e-12));
      before = head;
    }
  g_assert_cmpfloat_with_epsilon (nappe_growth_bore (bore, 1.0), 0.1 * bore, 1e-15);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/physics/friction/solves-colebrook", test_friction_solves_colebrook);
  g_test_add_func ("/physics/friction/rises", test_friction_rises);
  g_test_add_func ("/physics/friction/joints", test_friction_joints);
  g_test_add_func ("/physics/run/inverts", test_run_inverts);
  g_test_add_func ("/physics/run/rises-smoothly", test_run_rises_smoothly);
  g_test_add_func ("/physics/run/at-rest", test_run_at_rest);
  g_test_add_func ("/physics/run/shut", test_shut_run);
  g_test_add_func ("/physics/run/lossless", test_lossless_run);
  g_test_add_func ("/physics/fitting/plate", test_plate);
  g_test_add_func ("/physics/fitting/change-of-bore", test_change_of_bore);
  g_test_add_func ("/physics/valve/monotone", test_valve);
  g_test_add_func ("/physics/bend/monotone", test_bend);
  g_test_add_func ("/physics/growth/monotone", test_growth);
  return g_test_run ();
}

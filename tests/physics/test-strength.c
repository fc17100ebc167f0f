/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pipe under pressure, warmth and suction, and the wait for cement. */
#include "properties.h"

#include "physics/pipe-strength.h"

#include <math.h>

#define INCH 0.0254
#define PSI 6894.757

/* Three-inch pipe of schedule 40 and 80 (3.5 in; 0.216 and 0.300 in): ASTM D1785 prints 260 and 370 psi, in tens. */
static void
test_pressure (void)
{
  g_assert_cmpfloat_with_epsilon (nappe_pipe_pressure (2000 * PSI, 3.5 * INCH, 0.216 * INCH) / PSI, 260, 5.1);
  g_assert_cmpfloat_with_epsilon (nappe_pipe_pressure (2000 * PSI, 3.5 * INCH, 0.300 * INCH) / PSI, 370, 5.1);
  g_assert_true (isnan (nappe_pipe_pressure (1e7, 0.02, 0)));
  g_assert_true (isnan (nappe_pipe_pressure (1e7, 0.02, 0.03)));
}

/* The published factors by degrees Fahrenheit, and between them nothing but a fall. */
static void
test_warmth (void)
{
  static const double points[][2] = { { 73, 1 },     { 80, 0.88 },  { 90, 0.75 },  { 100, 0.62 },
                                      { 110, 0.51 }, { 120, 0.40 }, { 140, 0.22 } };
  double before = 1;

  for (gsize i = 0; i < G_N_ELEMENTS (points); i++)
    g_assert_cmpfloat_with_epsilon (nappe_pvc_warmth_share ((points[i][0] - 32) / 1.8), points[i][1], 0.002);
  for (double temperature = 0; temperature < 80; temperature += 0.1)
    {
      double share = nappe_pvc_warmth_share (temperature);
      g_assert_cmpfloat (share, <=, before);
      g_assert_cmpfloat (share, >=, 0);
      before = share;
    }
  g_assert_cmpfloat (before, ==, 0);
  g_assert_true (isnan (nappe_pvc_warmth_share (NAN)));
}

/* Against the ring that buckles under 3 E I / R³ for each metre of its length (Timoshenko and Gere), as a plate. */
static void
test_collapse (void)
{
  for (guint i = 0; i < 200; i++)
    {
      double wall = random_log (0.0005, 0.005), outside = wall * random_log (5, 40), elasticity = random_log (1e6, 1e10);
      double radius = 0.5 * (outside - wall), poisson = g_test_rand_double_range (0, 0.49);
      double stiffness = elasticity * pow (wall, 3) / 12 / (1 - poisson * poisson);
      g_assert_cmpfloat_with_epsilon (nappe_tube_collapse (elasticity, poisson, outside, wall)
                                          / (3 * stiffness / pow (radius, 3)), 1, 1e-9);
    }
  g_assert_true (isnan (nappe_tube_collapse (1e7, 0.4, 0.01, 0.02)));
}

static void
test_cement (void)
{
  g_assert_cmpfloat (nappe_cement_cure (0.0334, 21), ==, 6 * 3600);
  g_assert_cmpfloat (nappe_cement_cure (0.0483, 21), ==, 12 * 3600);
  g_assert_cmpfloat (nappe_cement_cure (0.063, 21), ==, 12 * 3600);
  g_assert_cmpfloat (nappe_cement_cure (0.0889, 21), ==, 24 * 3600);
  g_assert_cmpfloat (nappe_cement_cure (0.0334, 10), ==, 12 * 3600);
  g_assert_cmpfloat (nappe_cement_cure (0.0334, 2), ==, 48 * 3600);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/physics/strength/pressure", test_pressure);
  g_test_add_func ("/physics/strength/warmth", test_warmth);
  g_test_add_func ("/physics/strength/collapse", test_collapse);
  g_test_add_func ("/physics/strength/cement", test_cement);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Panels under water: what must hold for every panel, and limits known from simpler laws. */

#include "properties.h"

#include "physics/plate.h"

#include <math.h>

static NappePlate
random_panel (void)
{
  return (NappePlate){
    .length = random_log (0.05, 5.0),
    .height = random_log (0.05, 1.5),
    .thickness = random_log (0.004, 0.03),
    .elasticity = random_log (1e9, 1e11),
    .poisson = g_test_rand_double_range (0.0, 0.45),
    .load_bottom = random_log (100, 2e4),
    .load_top = g_test_rand_bit () ? 0.0 : random_log (100, 2e4),
    .top_free = g_test_rand_bit (),
  };
}

static NappePlateResult
solve (NappePlate plate)
{
  NappePlateResult result;

  nappe_plate_solve (&plate, &result);
  g_assert_true (isfinite (result.stress) && isfinite (result.stress_middle) && isfinite (result.deflection));
  g_assert_cmpfloat (result.stress, >=, result.stress_middle);
  g_assert_cmpfloat (result.stress_middle, >, 0.0);
  g_assert_cmpfloat (result.deflection, >, 0.0);
  return result;
}

static void
assert_near (double found, double expected, double share)
{
  g_assert_cmpfloat (fabs (found - expected), <=, share * fabs (expected));
}

/* Stress falls as thickness^-2 and deflection as thickness^-3; both rise with the load; size alone changes no stress. */
static void
test_scaling (void)
{
  for (int i = 0; i < 150; i++)
    {
      NappePlate plate = random_panel (), other = plate;
      NappePlateResult here = solve (plate), there;
      double factor = random_log (0.3, 3.0);

      other.thickness *= factor;
      there = solve (other);
      assert_near (there.stress * factor * factor, here.stress, 1e-6);
      assert_near (there.deflection * pow (factor, 3), here.deflection, 1e-6);
      g_assert_true (here.small == (here.deflection < 0.5 * plate.thickness));
      other = plate;
      other.load_bottom *= factor;
      other.load_top *= factor;
      other.elasticity *= factor;
      there = solve (other);
      assert_near (there.stress, factor * here.stress, 1e-6);
      assert_near (there.deflection, here.deflection, 1e-6);
      other = plate;
      other.length *= factor;
      other.height *= factor;
      other.thickness *= factor;
      there = solve (other);
      assert_near (there.stress, here.stress, 1e-6);
    }
}

/* A longer panel is stressed more and bends more, and small changes make small changes. */
static void
test_longer_is_worse (void)
{
  for (int i = 0; i < 24; i++)
    {
      NappePlate plate = random_panel ();
      NappePlateResult last;

      plate.load_top = 0;
      plate.length = 0.2 * plate.height;
      plate.top_free = i % 2;
      last = solve (plate);
      for (double ratio = 0.21; ratio < 8.0; ratio *= 1.15)
        {
          plate.length = ratio * plate.height;
          NappePlateResult next = solve (plate);

          g_assert_cmpfloat (next.deflection, >=, last.deflection * (1 - 1e-6));
          /* With four edges and much cross strain the stress of a long panel falls by some hundredths to its limit. */
          g_assert_cmpfloat (next.stress, >=, last.stress * (plate.top_free ? 1 - 1e-6 : 0.97));
          g_assert_cmpfloat (next.stress, <=, last.stress * 1.5);
          plate.length *= 1 + 1e-6;
          assert_near (solve (plate).stress, next.stress, 2e-4);
          last = next;
        }
    }
}

/* A held top edge, and the load's mirror image. */
static void
test_edges (void)
{
  for (int i = 0; i < 150; i++)
    {
      NappePlate plate = random_panel (), other;

      plate.load_top = fmin (plate.load_top, plate.load_bottom);
      plate.top_free = FALSE;
      other = plate;
      other.top_free = TRUE;
      g_assert_cmpfloat (solve (other).deflection, >=, solve (plate).deflection * (1 - 1e-4));
      other = plate;
      other.load_bottom = plate.load_top > 0 ? plate.load_top : 0;
      other.load_top = plate.load_bottom;
      assert_near (solve (other).stress, solve (plate).stress, 1e-3);
      assert_near (solve (other).deflection, solve (plate).deflection, 1e-3);
    }
}

/* Even load on four edges: turned by a quarter it is the same panel. The series runs along the length alone, so that
 * this checks it against itself in the other direction. */
static void
test_quarter_turn (void)
{
  for (int i = 0; i < 100; i++)
    {
      NappePlate plate = random_panel (), other;

      plate.load_top = plate.load_bottom;
      plate.top_free = FALSE;
      other = plate;
      other.length = plate.height;
      other.height = plate.length;
      assert_near (solve (other).deflection, solve (plate).deflection, 1e-3);
      assert_near (solve (other).stress_middle, solve (plate).stress_middle, 0.03);
      assert_near (solve (other).stress, solve (plate).stress, 3e-3);
    }
}

/* Long panels become beams. On four edges the upright strip under a triangular load: M = q H^2 / (9 sqrt 3), w =
 * 0.00652 q H^4 / D (Timoshenko, Strength of Materials; Roark, table 8.1). With a free top the edge's strip hangs
 * between the ends only, and the pull of the water about the bottom edge, q H^2 / 6 for each metre, goes to the two
 * ends by twisting a strip of width H: torque q H^2 L / 12 = 2 H times the twisting moment (Saint-Venant), hence stress
 * q L H / (4 t^2). */
static void
test_long_panels (void)
{
  NappePlate plate = { .length = 40, .height = 1, .thickness = 0.01, .elasticity = 7e10, .poisson = 0.23, .load_bottom = 1000 };
  double stiffness = 7e10 * 1e-6 / (12 * (1 - 0.23 * 0.23));
  NappePlateResult braced = solve (plate);
  NappePlateResult once, twice;

  assert_near (braced.stress, 6.0 * 1000 / (9 * sqrt (3)) / 1e-4, 1e-3);
  assert_near (braced.deflection, 0.00652 * 1000 / stiffness, 2e-3);
  plate.top_free = TRUE;
  plate.length = 10;
  once = solve (plate);
  plate.length = 20;
  twice = solve (plate);
  assert_near (twice.stress - once.stress, 1000 * 10 / (4 * 1e-4), 1e-3);
  /* The middle line, which tables show, has reached its limit long before. */
  assert_near (twice.stress_middle, once.stress_middle, 1e-3);
}

/* A tall panel far from its top is one of even load held on both sides: M = q L^2 / 8 at most. */
static void
test_tall_panels (void)
{
  NappePlate plate = { .length = 0.05, .height = 2.5, .thickness = 0.01, .elasticity = 7e10, .poisson = 0.23,
                       .load_bottom = 1000, .load_top = 1000, .top_free = FALSE };

  assert_near (solve (plate).stress, 6.0 * 1000 * 0.05 * 0.05 / 8 / 1e-4, 5e-3);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/physics/plate/scaling", test_scaling);
  g_test_add_func ("/physics/plate/longer-is-worse", test_longer_is_worse);
  g_test_add_func ("/physics/plate/edges", test_edges);
  g_test_add_func ("/physics/plate/quarter-turn", test_quarter_turn);
  g_test_add_func ("/physics/plate/long-panels", test_long_panels);
  g_test_add_func ("/physics/plate/tall-panels", test_tall_panels);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Properties of weirs, orifices and drop inlets that the solver relies upon. */

#include "properties.h"

#include "physics/drop-inlet.h"
#include "physics/gravity.h"
#include "physics/orifice.h"
#include "physics/weir.h"

#include <math.h>

static NappeWeir
random_weir (void)
{
  NappeWeir weir = {
    .length = random_log (0.02, 2.0),
    .height = g_test_rand_bit () ? random_log (0.005, 1.0) : 0.0,
    .thickness = g_test_rand_bit () ? random_log (0.002, 0.02) : 0.0,
    .open_share = g_test_rand_bit () ? 1.0 : g_test_rand_double_range (0.05, 1.0),
  };

  if (g_test_rand_bit ())
    {
      weir.slot_count = (guint) g_test_rand_int_range (1, 60);
      weir.slot_width = weir.length / weir.slot_count * g_test_rand_double_range (0.1, 1.0);
      weir.slot_depth = random_log (0.003, 0.05);
    }
  return weir;
}

static double
random_head (void)
{
  return g_test_rand_bit () ? g_test_rand_double_range (-0.02, 0.08) : random_log (1e-7, 0.1);
}

static double
flow (const NappeWeir *weir,
      double           up,
      double           down)
{
  return nappe_weir_flow (weir, up, down, NULL, NULL);
}

static void
test_weir_rest (void)
{
  for (int i = 0; i < 1000; i++)
    {
      NappeWeir weir = random_weir ();
      double head = random_head (), up, down;

      g_assert_cmpfloat (nappe_weir_flow (&weir, 0.0, -1.0, &up, &down), ==, 0.0);
      g_assert_true (up == 0.0 && down == 0.0);
      g_assert_cmpfloat (flow (&weir, -0.01, -0.5), ==, 0.0);
      g_assert_cmpfloat (flow (&weir, head, head), ==, 0.0);
      g_assert_cmpfloat (flow (&weir, 1e-300, 1e-301), ==, 0.0);
    }
}

static void
test_weir_monotone (void)
{
  for (int i = 0; i < 100000; i++)
    {
      NappeWeir weir = random_weir ();
      double up = random_head (), down = g_test_rand_bit () ? random_head () : up + 1e-4 * g_test_rand_double_range (-1, 1);
      double more = random_log (1e-9, 1e-2);
      double slope_up, slope_down;
      double here = nappe_weir_flow (&weir, up, down, &slope_up, &slope_down);

      g_assert_cmpfloat (flow (&weir, up + more, down), >=, here);
      g_assert_cmpfloat (flow (&weir, up, down + more), <=, here);
      g_assert_cmpfloat (flow (&weir, down, up), ==, -here);
      g_assert_cmpfloat (slope_up, >=, 0.0);
      g_assert_cmpfloat (slope_down, <=, 0.0);
      g_assert_true (isfinite (slope_up) && isfinite (slope_down));
      if (up > down + 1e-6 && up > 1e-6)
        g_assert_cmpfloat (here, >, 0.0);
    }
}

/* How far the levels are from each other and from the heights at which the law changes: within a small part of that
 * it is nearly straight. */
static double
straight_distance (const NappeWeir *weir,
                   double           up,
                   double           down)
{
  double depth = weir->slot_count > 0 ? weir->slot_depth : 0.0;
  double distance = fabs (up - down);

  distance = MIN (distance, MIN (fabs (up), fabs (down)));
  return MIN (distance, MIN (fabs (up - depth), fabs (down - depth)));
}

static void
test_weir_slopes (void)
{
  for (int i = 0; i < 100000; i++)
    {
      NappeWeir weir = random_weir ();
      double up = random_head (), down = random_head ();
      double step = 1e-4 * straight_distance (&weir, up, down), slope_up, slope_down, noise;

      if (step == 0.0)
        continue;
      /* Rounding of the three terms of a toothed weir. */
      noise = 4e-15 * flow (&weir, MAX (up, down), -1.0) / step;
      nappe_weir_flow (&weir, up, down, &slope_up, &slope_down);
      g_assert_true (slope_agrees (slope_up, flow (&weir, up - step, down), flow (&weir, up + step, down), step, 1e-4, noise));
      g_assert_true (slope_agrees (slope_down, flow (&weir, up, down - step), flow (&weir, up, down + step), step, 1e-4, noise));
    }
}

/* Slopes do not jump where the law changes: levels meeting, crest, top of the slots, end of the faded millimetre. */
static void
test_weir_joints (void)
{
  NappeWeir weir = { .length = 0.5, .height = 0.4, .thickness = 0.01, .slot_count = 25, .slot_width = 0.008,
                     .slot_depth = 0.02, .open_share = 1.0 };
  const double joints[][2] = { { 0.0, -1.0 }, { 0.003, -1.0 }, { 0.02, -1.0 }, { 0.023, -1.0 }, { 0.015, 0.0 },
                               { 0.03, 0.02 }, { 0.01, 0.01 }, { 0.03, 0.03 }, { 0.02, 0.02 } };

  for (gsize i = 0; i < G_N_ELEMENTS (joints); i++)
    for (int side = 0; side < 2; side++)
      {
        double shift = 1e-12, one_up, one_down, other_up, other_down;

        nappe_weir_flow (&weir, joints[i][0] - (side ? 0 : shift), joints[i][1] - (side ? shift : 0), &one_up, &one_down);
        nappe_weir_flow (&weir, joints[i][0] + (side ? 0 : shift), joints[i][1] + (side ? shift : 0), &other_up, &other_down);
        g_assert_cmpfloat (fabs (one_up - other_up), <, 1e-4 * fabs (one_up) + 1e-5);
        g_assert_cmpfloat (fabs (one_down - other_down), <, 1e-4 * fabs (one_down) + 1e-5);
      }
}

static void
test_weir_inverts (void)
{
  for (int i = 0; i < 10000; i++)
    {
      NappeWeir weir = random_weir ();
      double head = random_log (1e-5, 0.2);
      double found = nappe_weir_head_for_flow (&weir, flow (&weir, head, -1.0));

      g_assert_cmpfloat (fabs (found / head - 1.0), <, 1e-9);
    }
}

static void
test_weir_blocked (void)
{
  NappeWeir weir = { .length = 0.5, .height = 0.4, .open_share = 1.0 };
  double clean = flow (&weir, 0.02, -1.0);

  weir.open_share = 0.0;
  g_assert_cmpfloat (flow (&weir, 0.02, -1.0), ==, 0.0);
  g_assert_true (isinf (nappe_weir_head_for_flow (&weir, 1e-4)));
  weir.open_share = 0.5;
  g_assert_cmpfloat (fabs (flow (&weir, 0.02, -1.0) / clean - 0.5), <, 0.005);
  weir.slot_count = 30;
  weir.slot_width = 0.008;
  weir.slot_depth = 0.025;
  weir.open_share = 0.0;
  /* With all slots blocked the wall's top still lets water over. */
  g_assert_cmpfloat (flow (&weir, 0.02, -1.0), ==, 0.0);
  g_assert_cmpfloat (flow (&weir, 0.03, -1.0), >, 0.0);
  weir.length = 0.0;
  g_assert_cmpfloat (flow (&weir, 0.03, -1.0), ==, 0.0);
}

static void
test_weir_thick_crest (void)
{
  NappeWeir sharp = { .length = 0.5, .height = 0.4, .open_share = 1.0 }, thick = sharp;

  thick.thickness = 0.01;
  /* Sharp above h/t 2, 0.79 of it below 1/2: EPA SWMM Reference Manual II table 6-3. */
  g_assert_cmpfloat (flow (&thick, 0.025, -1.0) / flow (&sharp, 0.025, -1.0), >, 0.98);
  g_assert_cmpfloat (fabs (flow (&thick, 0.005, -1.0) / flow (&sharp, 0.005, -1.0) - 2.63 / 3.32), <, 0.01);
}

static void
test_slots (void)
{
  NappeWeir comb = { .length = 0.5, .height = 0.4, .slot_count = 25, .slot_width = 0.008, .slot_depth = 0.02, .open_share = 1.0 };
  NappeWeir gap = { .length = 25 * 0.008, .height = 0.4, .open_share = 1.0 };
  double in_slots = flow (&comb, 0.01, -1.0), over_gap = flow (&gap, 0.01, -1.0);
  double deep = 10.0, top_only, through;

  /* Contraction takes 2 % off the coefficient (0.592 against 0.602), the extra width gives about as much back. */
  g_assert_cmpfloat (fabs (in_slots / over_gap - 1.0), <, 0.03);
  /* Far under water each slot is an orifice, Cd about 0.6 on its area: a second way to the same flow. */
  top_only = (comb.open_share = 0.0, flow (&comb, deep, -1.0));
  through = (comb.open_share = 1.0, flow (&comb, deep, -1.0)) - top_only;
  g_assert_cmpfloat (fabs (through / (25 * 0.008 * 0.02 * sqrt (2 * NAPPE_GRAVITY * (deep - 0.01))) - 0.61), <, 0.04);
}

static void
test_orifice (void)
{
  double before = -INFINITY;

  for (int i = -20000; i <= 20000; i++)
    {
      double head = i * 1e-9, slope, value = nappe_orifice_flow (1e-3, 0.6, head, &slope);

      g_assert_cmpfloat (value, >, before);
      g_assert_cmpfloat (slope, >, 0.0);
      g_assert_cmpfloat (value, ==, -nappe_orifice_flow (1e-3, 0.6, -head, NULL));
      before = value;
    }
  /* The joint at 0.01 mm. */
  {
    double below, above;
    double low = nappe_orifice_flow (1e-3, 0.6, 1e-5 * (1 - 1e-9), &below);
    double high = nappe_orifice_flow (1e-3, 0.6, 1e-5 * (1 + 1e-9), &above);

    g_assert_cmpfloat (fabs (high / low - 1.0), <, 1e-8);
    g_assert_cmpfloat (fabs (above / below - 1.0), <, 1e-7);
  }
}

static void
test_drop_inlet (void)
{
  for (int i = 0; i < 200; i++)
    {
      NappeDropInlet inlet = { .bore = random_log (0.01, 0.1), .rim_diameter = 0.0 };
      double change, before = 0.0;

      if (g_test_rand_bit ())
        inlet.rim_diameter = inlet.bore * g_test_rand_double_range (1.0, 2.5);
      change = nappe_drop_inlet_change_head (&inlet);
      for (int j = 1; j <= 2000; j++)
        {
          double head = change * j / 500.0, step = head * 1e-6, slope;
          double value = nappe_drop_inlet_flow (&inlet, head, &slope);
          double rim = 1.84 * G_PI * MAX (inlet.rim_diameter, inlet.bore) * head * sqrt (head);
          double mouth = 0.6 * G_PI_4 * inlet.bore * inlet.bore * sqrt (2 * NAPPE_GRAVITY * head);
          double least = MIN (rim, mouth);

          g_assert_cmpfloat (value, >, before);
          g_assert_cmpfloat (value, <=, least * (1 + 1e-12));
          g_assert_cmpfloat (value, >, least * (fabs (log (head / change)) > log (1.3) ? 1 - 1e-9 : 0.93));
          g_assert_true (slope_agrees (slope, nappe_drop_inlet_flow (&inlet, head - step, NULL),
                                       nappe_drop_inlet_flow (&inlet, head + step, NULL), step, 1e-4, 0.0));
          before = value;
        }
    }
}

static void
test_inlet_control (void)
{
  NappeDropInlet inlet = { .bore = 0.04 };

  g_assert_cmpfloat (nappe_drop_inlet_flow (&inlet, 0.0, NULL), ==, 0.0);
  g_assert_cmpint (nappe_drop_inlet_control (&inlet, 0.0, INFINITY), ==, NAPPE_INLET_DRY);
  g_assert_cmpint (nappe_drop_inlet_control (&inlet, 0.005, INFINITY), ==, NAPPE_INLET_CREST);
  g_assert_cmpint (nappe_drop_inlet_control (&inlet, 0.05, INFINITY), ==, NAPPE_INLET_ORIFICE);
  g_assert_cmpint (nappe_drop_inlet_control (&inlet, 0.05, 1e-5), ==, NAPPE_INLET_FULL);
}

static void
test_stack_and_froude (void)
{
  double bore = 0.0409;

  g_assert_cmpfloat (fabs (nappe_stack_wetted_share (bore, nappe_stack_flow (bore, 0.29)) - 0.29), <, 1e-12);
  g_assert_cmpfloat (nappe_stack_wetted_share (bore, -1.0), ==, 0.0);
  g_assert_cmpfloat (fabs (nappe_full_bore_froude (nappe_froude_flow (0.7, bore), bore) - 0.7), <, 1e-12);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/physics/weir/rest", test_weir_rest);
  g_test_add_func ("/physics/weir/monotone", test_weir_monotone);
  g_test_add_func ("/physics/weir/slopes", test_weir_slopes);
  g_test_add_func ("/physics/weir/joints", test_weir_joints);
  g_test_add_func ("/physics/weir/inverts", test_weir_inverts);
  g_test_add_func ("/physics/weir/blocked", test_weir_blocked);
  g_test_add_func ("/physics/weir/thick-crest", test_weir_thick_crest);
  g_test_add_func ("/physics/weir/slots", test_slots);
  g_test_add_func ("/physics/orifice/odd-and-smooth", test_orifice);
  g_test_add_func ("/physics/drop-inlet/least-of-two", test_drop_inlet);
  g_test_add_func ("/physics/drop-inlet/control", test_inlet_control);
  g_test_add_func ("/physics/drop-inlet/stack-and-froude", test_stack_and_froude);
  return g_test_run ();
}

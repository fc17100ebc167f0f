/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Power cut, check valve, nozzles, rims: each rule a hair to either side of its limit. */
#include "rule-fixture.h"

#include <math.h>

#define SUMP_RIM 0.410 /* of sound.nappe, over the room's floor [m] */

/* What runs down and what the sump holds, in the words that people read. */
static void
test_power_cut_floods_in_all (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  NappePowerCut *cut = &fixture->study->cut_check_failed;

  cut->run_back = 31.4 * LITRE;
  cut->sump_free = 22.0 * LITRE;
  cut->state.spilled = 9.4 * LITRE;
  /* The valve is no help either, so that only one rule speaks. */
  fixture->study->cut_check_holds.state.spilled = 1 * LITRE;
  fixture_run (fixture);
  NappeFinding *finding = fixture_expect (fixture, "power-cut-fits", "sump", NAPPE_SEVERITY_DANGER);
  fixture_expect_text (finding,
                       "In a power cut 31.4 L run down; the sump holds 22.0 L above its running levels, so 9.4 L reach "
                       "the floor.",
                       NULL);
  /* Room for 9.4 L and 25 mm over (300 + 280 + 190) × 400 mm: 9.4 + 7.7 = 17.1 L. */
  fixture_expect_text (finding, "another 17.1 L", "25 mm", NULL);
  g_assert_cmpfloat_with_epsilon (nappe_finding_get_value (finding), 31.4 * LITRE, 1e-12);
  g_assert_cmpfloat_with_epsilon (nappe_finding_get_limit (finding), 22.0 * LITRE, 1e-12);
  g_assert_cmpuint (nappe_finding_get_quantity (finding), ==, NAPPE_QUANTITY_VOLUME);
  fixture_expect_fine (fixture, "check-valve-relied-on");
}

/* The sump as a whole has room, but one chamber behind high baffles has not. */
static void
test_power_cut_floods_one_chamber (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  NappePowerCut *cut = &fixture->study->cut_check_failed;

  *fixture_level (fixture, &cut->state, "drain-chamber") = SUMP_RIM;
  cut->state.spilled = 2 * LITRE;
  fixture_run (fixture);
  NappeFinding *finding = fixture_expect (fixture, "power-cut-fits", "drain-chamber", NAPPE_SEVERITY_DANGER);
  fixture_expect_text (finding, "20.0 L run down", "room for 60.0 L", "“Drain chamber” runs over first",
                       "2.0 L reach the floor", NULL);
}

/* One millilitre is rounding. */
static void
test_power_cut_spill_limit (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  *fixture_level (fixture, &fixture->study->cut_check_failed.state, "drain-chamber") = SUMP_RIM - 0.026;
  fixture->study->cut_check_failed.state.spilled = 1e-6;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "power-cut-fits");
  fixture->study->cut_check_failed.state.spilled = 1.001e-6;
  fixture_run (fixture);
  fixture_expect (fixture, "power-cut-fits", "drain-chamber", NAPPE_SEVERITY_DANGER);
}

/* Freeboard against the planner's 25 mm, and against the 10 mm to which levels are known. */
static void
test_power_cut_margin (void)
{
  static const struct
  {
    double margin; /* [m] */
    NappeSeverity severity;
  } cases[] = {
    { 0.025 + HAIR, NAPPE_SEVERITY_FINE },   { 0.025 - HAIR, NAPPE_SEVERITY_ADVICE },
    { 0.010 + HAIR, NAPPE_SEVERITY_ADVICE }, { 0.010 - HAIR, NAPPE_SEVERITY_PROBLEM },
    { 0.002, NAPPE_SEVERITY_PROBLEM },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      *fixture_level (fixture, &fixture->study->cut_check_failed.state, "skimmer-chamber") = SUMP_RIM - cases[i].margin;
      fixture_run (fixture);
      if (cases[i].severity == NAPPE_SEVERITY_FINE)
        {
          fixture_expect_fine (fixture, "power-cut-fits");
          continue;
        }
      NappeFinding *finding = fixture_expect (fixture, "power-cut-fits", "skimmer-chamber", cases[i].severity);
      g_assert_cmpfloat_with_epsilon (nappe_finding_get_value (finding), cases[i].margin, 1e-9);
      g_assert_cmpfloat_with_epsilon (nappe_finding_get_limit (finding), 0.025, 1e-9);
      fixture_expect_text (finding, "“Skimmer chamber” then stands", "You asked for 25 mm", NULL);
    }
}

/* A reservoir that is kept full to the brim has nothing to do with a power cut. */
static void
test_full_reservoir_is_no_matter (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  *fixture_level (fixture, &fixture->study->running, "reservoir") = SUMP_RIM - 0.001;
  *fixture_level (fixture, &fixture->study->cut_check_failed.state, "reservoir") = SUMP_RIM - 0.001;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "power-cut-fits");
}

/* How much lower the return chamber must be kept: 1.155 L over its 300 × 400 mm is 10 mm. */
static void
test_power_cut_lower_level (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  *fixture_level (fixture, &fixture->study->cut_check_failed.state, "return") = SUMP_RIM - 0.025 + 0.00389610;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "power-cut-fits", "return", NAPPE_SEVERITY_ADVICE), "another 1.2 L",
                       "Keeping “Return” lower by 10 mm alone gives it.", NULL);
}

static void
test_check_valve (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  NappePowerCut *failed = &fixture->study->cut_check_failed, *holds = &fixture->study->cut_check_holds;

  failed->state.spilled = 5.5 * LITRE;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "check-valve-relied-on", "line-check", NAPPE_SEVERITY_PROBLEM),
                       "“Check valve”", "5.5 L reach the floor", NULL);
  /* When it floods in any case, or in none, the valve is not to blame. */
  holds->state.spilled = 1.001e-6;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "check-valve-relied-on");
  failed->state.spilled = 1e-6;
  holds->state.spilled = 0;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "check-valve-relied-on");
  fixture_remove (fixture, "line-check");
  fixture_run (fixture);
  fixture_expect_unchecked (fixture, "check-valve-relied-on");
}

/* The hole's depth against the inch of common practice. Display: 1000 × 500 mm less the box with its 6 mm walls, 206 ×
 * 156 mm, leaves 0.468 m2; weir at 450 mm over its floor, running level at 458 mm. A hole at 433 mm is 25 mm under the
 * surface and costs 17 mm × 0.468 m2 = 8.0 L. */
static void
test_nozzle_depth (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "nozzle", "siphon_break_height", 0.4331);
  fixture_restudy (fixture);
  fixture_run (fixture);
  fixture_expect_fine (fixture, "nozzle-siphon");
  fixture_set (fixture, "nozzle", "siphon_break_height", 0.4329);
  fixture_restudy (fixture);
  fixture_run (fixture);
  NappeFinding *finding = fixture_expect (fixture, "nozzle-siphon", "nozzle", NAPPE_SEVERITY_ADVICE);
  fixture_expect_text (finding, "siphon-break hole of “Nozzle” lies 25 mm under", "lets 8.0 L run back", NULL);
  g_assert_cmpfloat_with_epsilon (nappe_finding_get_value (finding), 0.0251, 1e-9);
  g_assert_cmpfloat_with_epsilon (nappe_finding_get_limit (finding), 0.025, 1e-9);
}

/* The same hole matters more when the sump has not enough room. */
static void
test_nozzle_in_a_tight_sump (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "line-pipe-3", "length", 0.200);
  fixture_set (fixture, "nozzle", "siphon_break_height", 0.400);
  fixture_restudy (fixture);
  fixture->study->cut_check_failed.sump_margin = 0.025 - HAIR;
  fixture_run (fixture);
  fixture_expect (fixture, "nozzle-siphon", "nozzle", NAPPE_SEVERITY_PROBLEM);
  fixture->study->cut_check_failed.sump_margin = 0.025 + HAIR;
  fixture_run (fixture);
  /* 50 mm × 0.468 m2 below the weir; 58 mm below the surface. */
  fixture_expect_text (fixture_expect (fixture, "nozzle-siphon", "nozzle", NAPPE_SEVERITY_ADVICE), "23.4 L",
                       "up to 58 mm higher", NULL);
}

/* Without a hole the mouth counts: at 1.240 m it lies 28 mm under the surface and 20 mm under the weir. */
static void
test_nozzle_without_hole (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "nozzle", "siphon_break_height", NAN);
  fixture_restudy (fixture);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "nozzle-siphon", "nozzle", NAPPE_SEVERITY_ADVICE),
                       "“Nozzle” ends 28 mm under", "no siphon-break hole", "9.4 L run back", NULL);
  /* A nozzle above the weir costs nothing however deep the film over it. */
  *fixture_level (fixture, &fixture->study->running, "tank") = 1.300;
  fixture_set (fixture, "line-pipe-3", "length", 0.060);
  fixture_restudy (fixture);
  *fixture_level (fixture, &fixture->study->running, "tank") = 1.300;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "nozzle-siphon");
}

/* A hole that clogs. */
static void
test_clogged_hole (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->study->cut_break_blocked.state.spilled = 3.3 * LITRE;
  fixture_run (fixture);
  /* From the weir at 1.260 to the mouth at 1.240 m: 20 mm × 0.468 m2. */
  fixture_expect_text (fixture_expect (fixture, "siphon-break-relied-on", "nozzle", NAPPE_SEVERITY_PROBLEM), "9.4 L run back",
                       "3.3 L reach the floor", NULL);
  fixture->study->cut_break_blocked.state.spilled = 1e-6;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "siphon-break-relied-on");
  /* When it floods with the hole open, the hole is not to blame. */
  fixture->study->cut_break_blocked.state.spilled = 3.3 * LITRE;
  fixture->study->cut_check_failed.state.spilled = 2 * LITRE;
  fixture_run (fixture);
  fixture_expect_unchecked (fixture, "siphon-break-relied-on");
}

static void
test_no_nozzle (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_remove (fixture, "nozzle");
  fixture_run (fixture);
  fixture_expect_unchecked (fixture, "nozzle-siphon");
}

/* A litre an hour is rounding; more is water on the floor. */
static void
test_overflow_running (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  NappeState *running = &fixture->study->running;
  NappeLink *rim = NULL;

  for (guint i = 0; i < fixture->network->n_links; i++)
    {
      NappeLink *link = &fixture->network->links[i];
      if (link->kind == NAPPE_LINK_RIM && g_str_equal (fixture->network->nodes[link->from].id, "skimmer-chamber"))
        rim = link;
    }
  g_assert_nonnull (rim);
  running->flow[rim - fixture->network->links] = 1.01 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect (fixture, "sump-overflows-running", "skimmer-chamber", NAPPE_SEVERITY_DANGER);
  running->flow[rim - fixture->network->links] = 250 * LITRE_PER_HOUR;
  fixture_run (fixture);
  /* What a mishap would add to it is not worth telling. */
  fixture_expect_unchecked (fixture, "power-cut-fits");
  fixture_expect_unchecked (fixture, "check-valve-relied-on");
  fixture_expect_unchecked (fixture, "drain-blocked");
  fixture_expect_unchecked (fixture, "all-drains-blocked");
  fixture_expect_text (fixture_expect (fixture, "sump-overflows-running", "skimmer-chamber", NAPPE_SEVERITY_DANGER),
                       "“Skimmer chamber” runs over its rim", "250 L/h", NULL);
  running->flow[rim - fixture->network->links] = 0.99 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "sump-overflows-running");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/power-cut/floods-in-all", test_power_cut_floods_in_all);
  g_test_add_func ("/rules/power-cut/floods-one-chamber", test_power_cut_floods_one_chamber);
  g_test_add_func ("/rules/power-cut/spill-limit", test_power_cut_spill_limit);
  g_test_add_func ("/rules/power-cut/margin", test_power_cut_margin);
  g_test_add_func ("/rules/power-cut/full-reservoir", test_full_reservoir_is_no_matter);
  g_test_add_func ("/rules/power-cut/lower-level", test_power_cut_lower_level);
  g_test_add_func ("/rules/check-valve", test_check_valve);
  g_test_add_func ("/rules/nozzle/depth", test_nozzle_depth);
  g_test_add_func ("/rules/nozzle/tight-sump", test_nozzle_in_a_tight_sump);
  g_test_add_func ("/rules/nozzle/without-hole", test_nozzle_without_hole);
  g_test_add_func ("/rules/nozzle/clogged-hole", test_clogged_hole);
  g_test_add_func ("/rules/nozzle/none", test_no_nozzle);
  g_test_add_func ("/rules/overflow-running", test_overflow_running);
  return g_test_run ();
}

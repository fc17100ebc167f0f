/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Blocked drains and the single drain. */
#include "rule-fixture.h"

#include <math.h>

static void
flood (NappeBlockage *blockage, double spilled)
{
  blockage->floods = TRUE;
  blockage->freeboard = 0;
  blockage->time_to_rim = 95;
  blockage->state.spilled = spilled;
}

/* One fault that floods is a danger, two are a problem, three an advice. */
static void
test_severity_by_faults (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  flood (fixture_blockage (fixture, "siphon", NULL), 7.5 * LITRE);
  fixture_run (fixture);
  NappeFinding *finding = fixture_expect (fixture, "drain-blocked", "siphon", NAPPE_SEVERITY_DANGER);
  fixture_expect_text (
      finding,
      "With “Siphon” blocked, the water reaches the rim after 95 s at the earliest, and 7.5 L reach the floor.",
      "2 000 L/h", "7.5 L sooner", NULL);
  g_assert_cmpfloat_with_epsilon (nappe_finding_get_value (finding), 7.5 * LITRE, 1e-12);
  fixture_restudy (fixture);

  flood (fixture_blockage (fixture, "channel", "emergency"), 4 * LITRE);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "drain-blocked", "channel", NAPPE_SEVERITY_PROBLEM),
                       "With “Channel” and “Emergency” blocked at once, the water reaches the rim", "4.0 L", NULL);
  fixture_restudy (fixture);

  flood (fixture_blockage (fixture, NULL, NULL), 6 * LITRE);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "all-drains-blocked", "tank", NAPPE_SEVERITY_ADVICE),
                       "With every drain blocked,", "6.0 L less", NULL);
  fixture_expect_fine (fixture, "drain-blocked");
}

/* With two drains, both blocked are two faults. */
static void
test_two_drains (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_remove (fixture, "channel");
  fixture_restudy (fixture);
  flood (fixture_blockage (fixture, NULL, NULL), 6 * LITRE);
  fixture_run (fixture);
  fixture_expect (fixture, "all-drains-blocked", "tank", NAPPE_SEVERITY_PROBLEM);
}

/* Freeboard with one drain blocked against the planner's 10 mm, and against the 5 mm to which levels are known. */
static void
test_freeboard (void)
{
  static const struct
  {
    double freeboard; /* [m] */
    NappeSeverity severity;
  } cases[] = {
    { 0.010 + HAIR, NAPPE_SEVERITY_FINE },
    { 0.010 - HAIR, NAPPE_SEVERITY_ADVICE },
    { 0.005 + HAIR, NAPPE_SEVERITY_ADVICE },
    { 0.005 - HAIR, NAPPE_SEVERITY_PROBLEM },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      fixture_blockage (fixture, "channel", NULL)->freeboard = cases[i].freeboard;
      /* Pairs and all together need only stay below the rim. */
      fixture_blockage (fixture, "siphon", "channel")->freeboard = 0.001;
      fixture_blockage (fixture, NULL, NULL)->freeboard = 0.001;
      fixture_run (fixture);
      fixture_expect_fine (fixture, "all-drains-blocked");
      if (cases[i].severity == NAPPE_SEVERITY_FINE)
        fixture_expect_fine (fixture, "drain-blocked");
      else
        fixture_expect_text (fixture_expect (fixture, "drain-blocked", "channel", cases[i].severity),
                             "With “Channel” blocked, the display rises 12 mm and stands", "You asked for 10 mm", NULL);
    }
}

static void
test_top_off_is_said (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  NappeBlockage *blockage = fixture_blockage (fixture, "siphon", NULL);

  flood (blockage, 9.8 * LITRE);
  blockage->top_off_added = 4.2 * LITRE;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "drain-blocked", "siphon", NAPPE_SEVERITY_DANGER), "9.8 L",
                       "counts 4.2 L which the top-off adds", NULL);
}

/* What the solver could not find is no reason to be silent. */
static void
test_not_found (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_blockage (fixture, "siphon", NULL)->state.rest = NAPPE_REST_NOT_FOUND;
  fixture_blockage (fixture, NULL, NULL)->state.rest = NAPPE_REST_NOT_FOUND;
  fixture_run (fixture);
  fixture_expect (fixture, "drain-blocked", "siphon", NAPPE_SEVERITY_PROBLEM);
  fixture_expect (fixture, "all-drains-blocked", "tank", NAPPE_SEVERITY_PROBLEM);
}

static Fixture *
make_single (void)
{
  Fixture *fixture = fixture_new ();

  fixture_remove (fixture, "siphon");
  fixture_remove (fixture, "emergency");
  fixture_restudy (fixture);
  return fixture;
}

/* Always said; danger a hair beyond the room in the display. The top-off counts: 300 mm over 100 × 400 mm hold 12 L, of
 * which the network says how much can be added. */
static void
test_single_drain (void)
{
  g_autoptr (Fixture) fixture = make_single ();
  NappeStudy *study = fixture->study;

  fixture->network->reservoir_volume = 4 * LITRE;
  study->display_free = 20 * LITRE;
  study->pump_liftable = 16 * LITRE;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "single-drain", "channel", NAPPE_SEVERITY_ADVICE), "by “Channel” alone",
                       "up to 20.0 L rise into the display", "room for 20.0 L", NULL);
  study->pump_liftable += 3 * LITRE;
  study->blockages[0].floods = TRUE;
  study->blockages[0].time_to_rim = 600;
  fixture_run (fixture);
  NappeFinding *finding = fixture_expect (fixture, "single-drain", "channel", NAPPE_SEVERITY_DANGER);
  fixture_expect_text (finding, "up to 23.0 L rise", "Up to 3.0 L reach the floor", "10 minutes", "3.0 L less", NULL);
  study->pump_liftable = 16 * LITRE + HAIR * LITRE;
  fixture_run (fixture);
  fixture_expect (fixture, "single-drain", "channel", NAPPE_SEVERITY_DANGER);
}

/* A blockage that was computed to flood is believed over the sum of volumes. */
static void
test_single_drain_computed (void)
{
  g_autoptr (Fixture) fixture = make_single ();

  fixture->study->pump_liftable = 10 * LITRE;
  fixture->study->display_free = 20 * LITRE;
  flood (fixture_blockage (fixture, NULL, NULL), 4.1 * LITRE);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "single-drain", "channel", NAPPE_SEVERITY_DANGER), "up to 24.1 L rise",
                       "Up to 4.1 L reach the floor", NULL);
}

/* It is said once, and by one rule alone. */
static void
test_single_drain_is_said_once (void)
{
  g_autoptr (Fixture) fixture = make_single ();

  flood (fixture_blockage (fixture, NULL, NULL), 6 * LITRE);
  fixture->study->pump_liftable = 30 * LITRE;
  fixture_run (fixture);
  g_assert_cmpuint (fixture->verdict->n_danger, ==, 1);
  fixture_expect_unchecked (fixture, "drain-blocked");
  fixture_expect_unchecked (fixture, "all-drains-blocked");
  fixture_expect_unchecked (fixture, "no-emergency");
}

static void
test_single_drain_unknown (void)
{
  g_autoptr (Fixture) fixture = make_single ();

  fixture->study->running.rest = NAPPE_REST_NOT_FOUND;
  fixture_run (fixture);
  fixture_expect (fixture, "single-drain", "channel", NAPPE_SEVERITY_PROBLEM);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/blockage/severity", test_severity_by_faults);
  g_test_add_func ("/rules/blockage/two-drains", test_two_drains);
  g_test_add_func ("/rules/blockage/freeboard", test_freeboard);
  g_test_add_func ("/rules/blockage/top-off", test_top_off_is_said);
  g_test_add_func ("/rules/blockage/not-found", test_not_found);
  g_test_add_func ("/rules/single-drain/limit", test_single_drain);
  g_test_add_func ("/rules/single-drain/computed", test_single_drain_computed);
  g_test_add_func ("/rules/single-drain/once", test_single_drain_is_said_once);
  g_test_add_func ("/rules/single-drain/unknown", test_single_drain_unknown);
  return g_test_run ();
}

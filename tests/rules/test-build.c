/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The skimmer's depth, and builds that are not whole or do not fit together. */
#include "rule-fixture.h"

#include <math.h>

#define SKIMMER_FOOT 0.040 /* of sound.nappe: 30 mm over the sump's floor at 10 mm [m] */

/* 180 mm to 230 mm. */
static void
test_skimmer_depth (void)
{
  static const struct
  {
    double depth;
    NappeSeverity severity;
    const char *text;
  } cases[] = {
    { 0.180 + HAIR, NAPPE_SEVERITY_FINE, "" },
    { 0.180 - HAIR, NAPPE_SEVERITY_PROBLEM, "works in 180 mm to 230 mm" },
    { 0.230 - HAIR, NAPPE_SEVERITY_FINE, "" },
    { 0.230 + HAIR, NAPPE_SEVERITY_PROBLEM, "works in 180 mm to 230 mm" },
    { 0.260, NAPPE_SEVERITY_PROBLEM, "Put a stand of 30 mm under it" },
    { 0.160, NAPPE_SEVERITY_PROBLEM, "by 20 mm" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      *fixture_level (fixture, &fixture->study->running, "skimmer-chamber") = SKIMMER_FOOT + cases[i].depth;
      fixture_run (fixture);
      if (cases[i].severity == NAPPE_SEVERITY_FINE)
        fixture_expect_fine (fixture, "skimmer-depth");
      else
        fixture_expect_text (fixture_expect (fixture, "skimmer-depth", "skimmer", cases[i].severity),
                             "“Skimmer” stands in", cases[i].text, NULL);
    }
}

/* The adjustable baffle towards the return chamber holds the level: 220 mm high, so 20 mm lower is 200 mm. */
static void
test_adjustable_baffle (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  *fixture_level (fixture, &fixture->study->running, "skimmer-chamber") = SKIMMER_FOOT + 0.250;
  fixture_set (fixture, "skimmer-baffle", "highest_top", 0.300);
  fixture_set (fixture, "skimmer-baffle", "lowest_top", 0.199);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "skimmer-depth", "skimmer", NAPPE_SEVERITY_ADVICE),
                       "Set “Skimmer baffle” so that its top is 200 mm over the floor", NULL);
  fixture_set (fixture, "skimmer-baffle", "lowest_top", 0.201);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "skimmer-depth", "skimmer", NAPPE_SEVERITY_PROBLEM),
                       "No setting of the adjustable baffle cures it", "20 mm", NULL);
}

/* Without own numbers the catalogue's count; without any, nothing is checked. */
static void
test_skimmer_from_catalogue (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  const NappeItem *item = nappe_catalogue_find (fixture->catalogue, "skimmer-medium");

  fixture_set (fixture, "skimmer", "depth_min", NAN);
  fixture_set (fixture, "skimmer", "depth_max", NAN);
  *fixture_level (fixture, &fixture->study->running, "skimmer-chamber") = SKIMMER_FOOT + item->depth_max - HAIR;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "skimmer-depth");
  *fixture_level (fixture, &fixture->study->running, "skimmer-chamber") = SKIMMER_FOOT + item->depth_max + HAIR;
  fixture_run (fixture);
  fixture_expect (fixture, "skimmer-depth", "skimmer", NAPPE_SEVERITY_PROBLEM);
  fixture_set_text (fixture, "skimmer", "item", "");
  fixture_run (fixture);
  fixture_expect_unchecked (fixture, "skimmer-depth");
  fixture_remove (fixture, "skimmer");
  fixture_run (fixture);
  fixture_expect_unchecked (fixture, "skimmer-depth");
}

static void
test_incomplete (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  NappeNetwork *network = fixture->network;

  g_assert_cmpuint (network->n_problems, ==, 0);
  network->problems = g_new0 (NappeProblem, 1);
  network->problems[0] = (NappeProblem){ "channel-pipe-1", g_strdup ("The catalogue has no such part.") };
  network->n_problems = 1;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "build-incomplete", "channel-pipe-1", NAPPE_SEVERITY_PROBLEM),
                       "The catalogue has no such part.", NULL);
}

/* A solver that gave up names the worst place. */
static void
test_not_found (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  NappeState *running = &fixture->study->running;

  running->rest = NAPPE_REST_NOT_FOUND;
  running->residual = 42 * LITRE_PER_HOUR;
  running->worst_node = (guint)nappe_network_find_node (fixture->network, "box");
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "build-incomplete", "box", NAPPE_SEVERITY_PROBLEM),
                       "at “Box” inflow and outflow", "42.0 L/h", NULL);
  running->worst_node = G_MAXUINT;
  fixture_run (fixture);
  fixture_expect (fixture, "build-incomplete", "", NAPPE_SEVERITY_PROBLEM);
}

/* Glass is cut to a millimetre: 900 mm inside. */
static void
test_geometry (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "return", "length", 0.300999);
  fixture_run (fixture);
  fixture_expect_fine (fixture, "geometry-mismatch");
  fixture_set (fixture, "return", "length", 0.301001);
  fixture_run (fixture);
  fixture_expect (fixture, "geometry-mismatch", "sump", NAPPE_SEVERITY_PROBLEM);
  fixture_set (fixture, "return", "length", 0.310);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "geometry-mismatch", "sump", NAPPE_SEVERITY_PROBLEM), "are 910 mm long",
                       "sump is 900 mm long", "10 mm shorter", NULL);
  fixture_set (fixture, "return", "length", 0.298);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "geometry-mismatch", "sump", NAPPE_SEVERITY_PROBLEM), "are 898 mm long",
                       "2 mm longer", NULL);
}

/* The siphon's end stands at x 830 mm; the drain chamber spans 760 to 950 mm. Pipe is cut to 5 mm. */
static void
test_route_sideways (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "siphon-pipe-2", "length", 0.590);
  fixture_set (fixture, "siphon-pipe-3", "toward", NAPPE_TOWARD_LEFT);
  fixture_set (fixture, "siphon-pipe-3", "length", 0.0849);
  fixture_run (fixture);
  fixture_expect_fine (fixture, "route-mismatch");
  fixture_set (fixture, "siphon-pipe-3", "length", 0.0851);
  fixture_run (fixture);
  fixture_expect (fixture, "route-mismatch", "siphon-end", NAPPE_SEVERITY_PROBLEM);
  fixture_set (fixture, "siphon-pipe-3", "length", 0.200);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "route-mismatch", "siphon-end", NAPPE_SEVERITY_PROBLEM),
                       "“Siphon” ends 120 mm to the left of “Drain chamber”", "120 mm more to the right", NULL);
}

/* The nozzle ends at 1.240 m; the tank spans 0.810 to 1.310 m. */
static void
test_route_upright (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "line-pipe-3", "length", 0.0151);
  fixture_run (fixture);
  fixture_expect_fine (fixture, "route-mismatch");
  fixture_set (fixture, "line-pipe-3", "length", 0.0149);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "route-mismatch", "nozzle", NAPPE_SEVERITY_PROBLEM),
                       "“Nozzle” ends 5 mm above the rim", NULL);
  fixture_set (fixture, "line-pipe-3", "length", 0.550);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "route-mismatch", "nozzle", NAPPE_SEVERITY_PROBLEM),
                       "30 mm below the floor of", "End it 30 mm higher", NULL);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/skimmer/depth", test_skimmer_depth);
  g_test_add_func ("/rules/skimmer/adjustable-baffle", test_adjustable_baffle);
  g_test_add_func ("/rules/skimmer/catalogue", test_skimmer_from_catalogue);
  g_test_add_func ("/rules/build/incomplete", test_incomplete);
  g_test_add_func ("/rules/build/not-found", test_not_found);
  g_test_add_func ("/rules/build/geometry", test_geometry);
  g_test_add_func ("/rules/build/route-sideways", test_route_sideways);
  g_test_add_func ("/rules/build/route-upright", test_route_upright);
  return g_test_run ();
}

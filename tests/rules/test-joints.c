/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the rules about joints and drilled glass propose, and where their limits come from. */
#include "rule-fixture.h"

#include "rules/rule-limits.h"

/* The only choice that a finding's first lever offers, for a field of a part. */
static void
expect_choice (NappeFinding *finding, const char *part, const char *field, const char *choice)
{
  const GPtrArray *levers = nappe_finding_get_levers (finding);
  g_assert_cmpuint (levers->len, ==, 1);
  const NappeLever *lever = levers->pdata[0];
  const NappeLeverMove *move = &g_array_index (lever->moves, NappeLeverMove, 0);

  g_assert_cmpint (lever->kind, ==, NAPPE_LEVER_CHOICE);
  g_assert_cmpstr (move->part, ==, part);
  g_assert_cmpstr (move->field, ==, field);
  g_assert_cmpuint (lever->choices->len, ==, 1);
  g_assert_cmpstr (lever->choices->pdata[0], ==, choice);
}

/* A fitting of another size or system: the adapter is named where the catalogue has it, and the fitting that fits is
 * offered. */
static void
test_proposed (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  NappeFinding *finding;

  fixture_set_text (fixture, "siphon-valve", "item", "pvc40-gate-valve-1.25");
  fixture_run (fixture);
  finding = fixture_expect (fixture, "joints-fit", "siphon-valve", NAPPE_SEVERITY_PROBLEM);
  fixture_expect_text (finding, "two sizes", "Reducer, 1-1/4 × 1 in", NULL);
  expect_choice (finding, "siphon-valve", "item", "pvc40-gate-valve-1");

  fixture_set_text (fixture, "siphon-valve", "item", "pvcm-gate-valve-32");
  fixture_run (fixture);
  finding = fixture_expect (fixture, "joints-fit", "siphon-valve", NAPPE_SEVERITY_PROBLEM);
  fixture_expect_text (finding, "inch pipe", "metric pipe", "the catalogue has none", NULL);
  expect_choice (finding, "siphon-valve", "item", "pvc40-gate-valve-1");
}

static void
test_cement_and_metal (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "siphon-bulkhead", "material", NAPPE_PIECE_ABS);
  fixture_set (fixture, "siphon-valve", "material", NAPPE_PIECE_BRASS);
  fixture_run (fixture);
  expect_choice (fixture_expect (fixture, "cement-mixed", "siphon-bulkhead", NAPPE_SEVERITY_ADVICE), "siphon-bulkhead",
                 "cement", "transition");
  expect_choice (fixture_expect (fixture, "metal-in-water", "siphon-valve", NAPPE_SEVERITY_DANGER), "siphon-valve",
                 "material", "pvc");
}

/* EN 12150-1 (from memory): a hole's rim lies at least twice the pane's thickness from its edge. The sound build's hole
 * is 44.5 mm wide, 75 mm from the back; with a pane of 26.375 mm that is just so. */
static void
test_glaziers_limit (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  g_assert_cmpfloat (nappe_limit_value (NAPPE_LIMIT_HOLE_GLASS), ==, 2);
  fixture_set (fixture, "tank", "bottom_thickness", 0.5 * (0.075 - 0.5 * 0.0445) - HAIR);
  fixture_run (fixture);
  fixture_expect_fine (fixture, "hole-near-edge");
  fixture_set (fixture, "tank", "bottom_thickness", 0.5 * (0.075 - 0.5 * 0.0445) + HAIR);
  fixture_run (fixture);
  fixture_expect (fixture, "hole-near-edge", "siphon-bulkhead", NAPPE_SEVERITY_DANGER);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/joints/proposed", test_proposed);
  g_test_add_func ("/rules/joints/cement-and-metal", test_cement_and_metal);
  g_test_add_func ("/rules/joints/glaziers-limit", test_glaziers_limit);
  return g_test_run ();
}

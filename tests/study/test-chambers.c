/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chambers of the sump while running. */
#include "study-fixture.h"

#include "physics/bubble.h"

#include <math.h>

static void
test_numbers_of_a_chamber (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  const NappeStudy *study = fixture.study;
  const NappeChamberReport *fall = nappe_study_chamber (study, "trap-fall");
  const double width = 0.450, length = 0.030; /* as in the build [m] */

  g_assert_cmpuint (study->n_chambers, ==, 7);
  g_assert_nonnull (fall);
  g_assert_null (nappe_study_chamber (study, "nothing"));
  g_assert_cmpfloat (fall->level, ==, nappe_study_level (study, &study->running, "trap-fall"));
  g_assert_cmpfloat_with_epsilon (fall->volume, width * length * fall->depth, 1e-12);
  /* What comes over the wall before it: all but what goes through the refugium. */
  double through = study->running.pump_flow - nappe_study_flow (study, &study->running, "refugium-feed");
  g_assert_cmpfloat_with_epsilon (fall->flow, through, 1e-9);
  g_assert_cmpfloat_with_epsilon (fall->speed_down, through / (width * length), 1e-6);
  g_assert_cmpfloat_with_epsilon (fall->speed_along, through / (width * fall->depth), 1e-6);
  g_assert_cmpfloat_with_epsilon (fall->residence, fall->volume / fall->flow, 1e-9);
  g_assert_cmpfloat_with_epsilon (fall->turnover * fall->residence, 1, 1e-12);
  g_assert_cmpfloat_with_epsilon (nappe_bubble_rise_speed (fall->bubble_stopped, &study->network->water),
                                  fall->speed_down, 1e-12);
  study_fixture_clear (&fixture);
}

/* The return chamber takes what the pump draws; the refugium what its branch brings. */
static void
test_flows_of_chambers (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  const NappeStudy *study = fixture.study;

  g_assert_cmpfloat_with_epsilon (nappe_study_chamber (study, "return-chamber")->flow, study->running.pump_flow, 1e-9);
  g_assert_cmpfloat_with_epsilon (nappe_study_chamber (study, "refugium")->flow,
                                  nappe_study_flow (study, &study->running, "refugium-feed"), 1e-10);
  study_fixture_clear (&fixture);
}

/* The range behind an adjustable baffle is what whole studies with its ends give. */
static void
test_range_of_an_adjustable_baffle (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  NappeChamberReport skimmer = *nappe_study_chamber (fixture.study, "skimmer-chamber");

  g_assert_cmpfloat (skimmer.level_low, <, skimmer.level);
  g_assert_cmpfloat (skimmer.level_high, >, skimmer.level);
  g_assert_true (isnan (nappe_study_chamber (fixture.study, "drain-chamber")->level_low));
  study_fixture_set (&fixture, "trap-in", "top_height", 0.180);
  study_fixture_again (&fixture);
  g_assert_cmpfloat_with_epsilon (nappe_study_chamber (fixture.study, "skimmer-chamber")->level, skimmer.level_low, 1e-7);
  study_fixture_set (&fixture, "trap-in", "top_height", 0.220);
  study_fixture_again (&fixture);
  g_assert_cmpfloat_with_epsilon (nappe_study_chamber (fixture.study, "skimmer-chamber")->level, skimmer.level_high, 1e-7);
  study_fixture_clear (&fixture);
}

/* More water through a chamber is faster and lets larger bubbles through. */
static void
test_more_flow_stops_fewer_bubbles (void)
{
  StudyFixture fixture;
  double bubble = 0;

  study_fixture_load (&fixture, "three-drain");
  for (double speed = 0.75; speed <= 1.0; speed += 0.05)
    {
      study_fixture_set (&fixture, "return-pump", "speed", speed);
      study_fixture_again (&fixture);
      double now = nappe_study_chamber (fixture.study, "trap-fall")->bubble_stopped;
      g_assert_cmpfloat (now, >, bubble);
      bubble = now;
    }
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/chambers/numbers-of-a-chamber", test_numbers_of_a_chamber);
  g_test_add_func ("/chambers/flows-of-chambers", test_flows_of_chambers);
  g_test_add_func ("/chambers/range-of-an-adjustable-baffle", test_range_of_an_adjustable_baffle);
  g_test_add_func ("/chambers/more-flow-stops-fewer-bubbles", test_more_flow_stops_fewer_bubbles);
  return g_test_run ();
}

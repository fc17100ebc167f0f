/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tuning window against full solutions. */
#include "study-fixture.h"

#include <math.h>

static void
test_wanted_opening_tunes_the_siphon (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  double wanted = nappe_study_drain (fixture.study, "siphon")->opening_wanted;

  g_assert_cmpfloat (wanted, >, 0);
  g_assert_cmpfloat (wanted, <, 1);
  study_fixture_set (&fixture, "siphon-valve", "opening", wanted);
  study_fixture_again (&fixture);
  const NappeDrainReport *siphon = nappe_study_drain (fixture.study, "siphon");
  const NappeDrainReport *channel = nappe_study_drain (fixture.study, "channel");
  g_assert_cmpint (siphon->state, ==, NAPPE_DRAIN_FULL);
  g_assert_cmpint (channel->state, ==, NAPPE_DRAIN_QUIET);
  g_assert_cmpfloat (channel->flow, >, 0);
  g_assert_cmpfloat (channel->flow, <, 0.08 * (siphon->flow + channel->flow));
  g_assert_cmpfloat_with_epsilon (siphon->opening_wanted, wanted, 0.01);
  study_fixture_clear (&fixture);
}

static void
test_window_encloses_the_running_state (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  study_fixture_set (&fixture, "siphon-valve", "opening", nappe_study_drain (fixture.study, "siphon")->opening_wanted);
  study_fixture_again (&fixture);
  const NappeTuningWindow *window = &nappe_study_drain (fixture.study, "siphon")->window;

  g_assert_true (window->known);
  g_assert_cmpfloat (window->breaks, <=, window->channel_dry);
  g_assert_cmpfloat (window->channel_dry, <, 0);
  g_assert_cmpfloat (window->channel_loud, >, 0);
  g_assert_cmpfloat (window->emergency_wet, >, 0);
  g_assert_cmpfloat (window->down, ==, window->channel_dry);
  g_assert_cmpfloat (window->rise_per_percent, >, 0);
  study_fixture_clear (&fixture);
}

/* The bound is where a full solution has the channel run dry: within half a point of the flow. */
static void
test_bound_agrees_with_full_solution (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  study_fixture_set (&fixture, "siphon-valve", "opening", nappe_study_drain (fixture.study, "siphon")->opening_wanted);
  study_fixture_again (&fixture);
  double flow = fixture.study->running.pump_flow, dry = nappe_study_drain (fixture.study, "siphon")->window.channel_dry;
  double high = NAPPE_PUMP (nappe_build_find (fixture.build, "return-pump"))->speed, low = 0.95 * high;

  for (guint i = 0; i < 30; i++)
    {
      double middle = 0.5 * (low + high);
      study_fixture_set (&fixture, "return-pump", "speed", middle);
      study_fixture_again (&fixture);
      if (nappe_study_drain (fixture.study, "channel")->flow > 0)
        high = middle;
      else
        low = middle;
    }
  g_assert_cmpfloat_with_epsilon (fixture.study->running.pump_flow / flow - 1, dry, 0.005);
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/tuning/wanted-opening-tunes-the-siphon", test_wanted_opening_tunes_the_siphon);
  g_test_add_func ("/tuning/window-encloses-the-running-state", test_window_encloses_the_running_state);
  g_test_add_func ("/tuning/bound-agrees-with-full-solution", test_bound_agrees_with_full_solution);
  return g_test_run ();
}

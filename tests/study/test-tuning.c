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

/* The planner's own trickle takes the place of the usual share. */
static void
test_trickle_can_be_chosen (void)
{
  const double trickle = 40e-3 / 3600; /* 40 L/h */
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  study_fixture_set (&fixture, "targets", "trickle", trickle);
  study_fixture_again (&fixture);
  study_fixture_set (&fixture, "siphon-valve", "opening", nappe_study_drain (fixture.study, "siphon")->opening_wanted);
  study_fixture_again (&fixture);
  /* An opening is found to one part in ten thousand, which lets that share of the flow by; the file keeps it to less. */
  g_assert_cmpfloat_with_epsilon (nappe_study_drain (fixture.study, "channel")->flow, trickle,
                                  1e-3 * fixture.study->running.pump_flow);
  study_fixture_clear (&fixture);
}

/* The sensitivity, against the levels of whole studies with the valve a little further shut. */
static void
test_rise_per_turn_is_the_slope (void)
{
  const double step = 0.001;
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  NappeDrainReport siphon = *nappe_study_drain (fixture.study, "siphon");
  gint valve = nappe_network_valve_link (fixture.study->network, siphon.link);
  double turns = fixture.study->network->links[valve].valve.turns;
  double level = nappe_study_level (fixture.study, &fixture.study->running, "box");
  study_fixture_set (&fixture, "siphon-valve", "opening", siphon.opening - step);
  study_fixture_again (&fixture);
  double rise = (nappe_study_level (fixture.study, &fixture.study->running, "box") - level) / step;
  g_test_message ("%.2f turns; %.2f mm of the box for one turn", turns, siphon.rise_per_turn * 1e3);
  g_assert_cmpfloat (turns, >, 1);
  g_assert_cmpfloat_with_epsilon (siphon.window.rise_per_percent, 0.01 * rise, 0.05 * 0.01 * rise);
  g_assert_cmpfloat_with_epsilon (siphon.rise_per_turn, siphon.window.rise_per_percent * 100 / turns, 1e-12);
  study_fixture_clear (&fixture);
}

/* A ball's handle goes by degrees. */
static void
test_ball_rises_per_degree (void)
{
  g_autoptr (GError) error = NULL;
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  nappe_build_set_text (fixture.build, nappe_build_find (fixture.build, "siphon-valve"), "item", "pvc40-ball-valve-1", &error);
  g_assert_no_error (error);
  study_fixture_again (&fixture);
  study_fixture_set (&fixture, "siphon-valve", "opening", nappe_study_drain (fixture.study, "siphon")->opening_wanted);
  study_fixture_again (&fixture);
  const NappeDrainReport *siphon = nappe_study_drain (fixture.study, "siphon");
  g_assert_cmpstr (siphon->valve_kind, ==, "ball");
  g_assert_cmpfloat (siphon->rise_per_turn, >, 0);
  g_assert_cmpfloat_with_epsilon (siphon->rise_per_turn * 90, siphon->window.rise_per_percent * 100, 1e-12);
  study_fixture_clear (&fixture);
}

/* What holds the flow down is told apart from the state of the pipe: a crest and an orifice may both be loud. */
static void
test_control_and_state_are_two_things (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_assert_cmpint (nappe_study_drain (fixture.study, "siphon")->control, ==, NAPPE_INLET_FULL);
  g_assert_cmpint (nappe_study_drain (fixture.study, "siphon")->state, ==, NAPPE_DRAIN_FULL);
  g_assert_cmpint (nappe_study_drain (fixture.study, "channel")->control, ==, NAPPE_INLET_CREST);
  g_assert_cmpint (nappe_study_drain (fixture.study, "channel")->state, ==, NAPPE_DRAIN_QUIET);
  g_assert_cmpint (nappe_study_drain (fixture.study, "emergency")->control, ==, NAPPE_INLET_DRY);
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
  g_test_add_func ("/tuning/trickle-can-be-chosen", test_trickle_can_be_chosen);
  g_test_add_func ("/tuning/rise-per-turn-is-the-slope", test_rise_per_turn_is_the_slope);
  g_test_add_func ("/tuning/ball-rises-per-degree", test_ball_rises_per_degree);
  g_test_add_func ("/tuning/control-and-state-are-two-things", test_control_and_state_are_two_things);
  return g_test_run ();
}

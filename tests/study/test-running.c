/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steady running state: every litre balances, and what physics says is monotone is. */
#include "study-fixture.h"

#include "study/balance.h"

#include <math.h>

static void
assert_balanced (const NappeNetwork *network, const NappeState *state, guint except)
{
  g_autofree double *net = g_new0 (double, network->n_nodes);

  for (guint i = 0; i < network->n_links; i++)
    {
      net[network->links[i].from] -= state->flow[i];
      net[network->links[i].to] += state->flow[i];
    }
  for (guint i = 0; i < network->n_nodes; i++)
    if (i != except && i != network->floor)
      g_assert_cmpfloat (fabs (net[i]), <=, NAPPE_BALANCE_TOLERANCE);
}

static void
test_demos_settle (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[i]);
      const NappeStudy *study = fixture.study;

      g_assert_cmpint (study->running.rest, ==, NAPPE_REST_FOUND);
      g_assert_cmpuint (study->network->n_problems, ==, 0);
      assert_balanced (study->network, &study->running, study->network->return_chamber);
      g_test_message ("%s: %.0f L/h, %u iterations", demo_names[i], study->running.pump_flow * 3.6e6,
                      study->running.iterations);
      study_fixture_clear (&fixture);
    }
}

/* What the pump lifts comes down again through weir and drains. */
static void
test_one_flow_goes_round (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[i]);
      const NappeStudy *study = fixture.study;
      double weirs = 0, drains = 0;

      for (guint w = 0; w < study->n_weirs; w++)
        weirs += study->weirs[w].flow;
      for (guint d = 0; d < study->n_drains; d++)
        drains += study->drains[d].flow;
      g_assert_cmpfloat_with_epsilon (weirs, study->running.display_flow, 1e-10);
      g_assert_cmpfloat_with_epsilon (drains, weirs, 1e-10);
      study_fixture_clear (&fixture);
    }
}

static void
test_more_speed_more_flow (void)
{
  StudyFixture fixture;
  double flow = 0, level = 0;

  study_fixture_load (&fixture, "single-drain");
  for (double speed = 0.80; speed <= 1.0; speed += 0.02)
    {
      study_fixture_set (&fixture, "return-pump", "speed", speed);
      study_fixture_again (&fixture);
      double now = nappe_study_level (fixture.study, &fixture.study->running, "tank");
      g_assert_cmpfloat (fixture.study->running.pump_flow, >=, flow);
      g_assert_cmpfloat (now, >=, level);
      flow = fixture.study->running.pump_flow;
      level = now;
    }
  g_assert_cmpfloat (flow, >, 0);
  study_fixture_clear (&fixture);
}

static void
test_order_of_drains_is_irrelevant (void)
{
  StudyFixture fixture;
  g_autoptr (GError) error = NULL;

  study_fixture_load (&fixture, "three-drain");
  double flow = fixture.study->running.pump_flow;
  double box = nappe_study_level (fixture.study, &fixture.study->running, "box");
  for (guint i = 0; i < 2; i++)
    {
      nappe_build_move (fixture.build, fixture.build->drains->pdata[0], 2, &error);
      g_assert_no_error (error);
      study_fixture_again (&fixture);
      g_assert_cmpfloat_with_epsilon (fixture.study->running.pump_flow, flow, 1e-10);
      g_assert_cmpfloat_with_epsilon (nappe_study_level (fixture.study, &fixture.study->running, "box"), box, 1e-7);
    }
  study_fixture_clear (&fixture);
}

/* Opening the siphon's valve lets it carry more, and the box never rises. */
static void
test_valve_is_monotone (void)
{
  StudyFixture fixture;
  double box = INFINITY;

  study_fixture_load (&fixture, "three-drain");
  for (double opening = 0.20; opening <= 1.0; opening += 0.02)
    {
      study_fixture_set (&fixture, "siphon-valve", "opening", opening);
      study_fixture_again (&fixture);
      if (fixture.study->running.rest != NAPPE_REST_FOUND)
        continue;
      double now = nappe_study_level (fixture.study, &fixture.study->running, "box");
      if (!fixture.study->running.primed[nappe_study_drain (fixture.study, "siphon")->link])
        continue;
      g_assert_cmpfloat (now, <=, box + 1e-9);
      box = now;
    }
  g_assert_true (isfinite (box));
  study_fixture_clear (&fixture);
}

/* A siphon far too big for the flow and not throttled has no rest; no level in between is reported. */
static void
test_oversize_siphon_cycles (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  study_fixture_set (&fixture, "siphon-valve", "opening", 1.0);
  study_fixture_set (&fixture, "return-pump", "speed", 0.75);
  study_fixture_again (&fixture);
  g_assert_cmpint (fixture.study->running.rest, ==, NAPPE_REST_CYCLES);
  study_fixture_clear (&fixture);
}

/* Two builds at once in one process do not disturb each other. */
static gpointer
study_often (gpointer data)
{
  double flow = NAN;

  for (guint i = 0; i < 20; i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, data);
      g_assert_true (isnan (flow) || flow == fixture.study->running.pump_flow);
      flow = fixture.study->running.pump_flow;
      study_fixture_clear (&fixture);
    }
  return NULL;
}

static void
test_threads_are_independent (void)
{
  GThread *one = g_thread_new ("one", study_often, (gpointer) "three-drain");
  GThread *two = g_thread_new ("two", study_often, (gpointer) "single-drain");

  g_thread_join (one);
  g_thread_join (two);
}

static void
test_incomplete_builds_say_why (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, &error);
  g_assert_no_error (error);
  g_autoptr (NappeBuild) build = nappe_build_new ();
  g_autoptr (NappeStudy) study = nappe_study_build (build, catalogue);

  g_assert_cmpint (study->running.rest, ==, NAPPE_REST_NOT_RUNNABLE);
  g_assert_cmpuint (study->network->n_problems, >, 0);
  g_assert_true (isnan (nappe_study_level (study, &study->running, "tank")));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/running/demos-settle", test_demos_settle);
  g_test_add_func ("/running/one-flow-goes-round", test_one_flow_goes_round);
  g_test_add_func ("/running/more-speed-more-flow", test_more_speed_more_flow);
  g_test_add_func ("/running/order-of-drains-is-irrelevant", test_order_of_drains_is_irrelevant);
  g_test_add_func ("/running/valve-is-monotone", test_valve_is_monotone);
  g_test_add_func ("/running/oversize-siphon-cycles", test_oversize_siphon_cycles);
  g_test_add_func ("/running/threads-are-independent", test_threads_are_independent);
  g_test_add_func ("/running/incomplete-builds-say-why", test_incomplete_builds_say_why);
  return g_test_run ();
}

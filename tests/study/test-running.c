/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steady running state: every litre balances, and what physics says is monotone is. */
#include "study-fixture.h"

#include "study/state.h"

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

/* A copy of a demo's network to be changed, with room to solve it. */
typedef struct
{
  StudyFixture fixture;
  NappeNetwork *network;
  NappeBalance *balance;
  NappeState state;
} Trial;

static void
trial_init (Trial *self, const char *name)
{
  *self = (Trial){ 0 };
  study_fixture_load (&self->fixture, name);
  self->network = nappe_network_copy (self->fixture.study->network);
  self->balance = nappe_balance_new (self->network->n_nodes, self->network->n_links);
  nappe_state_init (&self->state, self->network);
}

static void
trial_clear (Trial *self)
{
  nappe_state_clear (&self->state);
  nappe_balance_free (self->balance);
  nappe_network_free (self->network);
  study_fixture_clear (&self->fixture);
}

static guint
trial_drain (const Trial *self, const char *id)
{
  gint link = nappe_network_find_link (self->network, NAPPE_LINK_DRAIN, id);

  g_assert_cmpint (link, >=, 0);
  return (guint) link;
}

static void
assert_finite (const NappeNetwork *network, const NappeState *state)
{
  for (guint i = 0; i < network->n_nodes; i++)
    g_assert_true (isfinite (state->level[i]));
  for (guint i = 0; i < network->n_links; i++)
    g_assert_true (isfinite (state->flow[i]));
}

/* The water that a kept level makes gives that level back. */
static void
test_total_volume_is_the_inverse (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      Trial trial;
      trial_init (&trial, demo_names[d]);
      const NappeState *kept = &trial.fixture.study->running;

      trial.network->total_volume = kept->vessels + kept->pipes;
      trial.network->kept_level = NAN;
      nappe_study_run (&trial.state, trial.balance, trial.network);
      g_assert_cmpint (trial.state.rest, ==, NAPPE_REST_FOUND);
      for (guint i = 0; i < trial.network->n_nodes; i++)
        g_assert_cmpfloat_with_epsilon (trial.state.level[i], kept->level[i], 1e-7);
      g_assert_cmpfloat (trial.state.spilled, ==, 0);
      trial_clear (&trial);
    }
}

/* From far too little water to far too much: finite, conserved, a higher level for more, air below and the floor above. */
static void
test_total_volume_is_monotone (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      Trial trial;
      trial_init (&trial, demo_names[d]);
      const NappeState *kept = &trial.fixture.study->running;
      double planned = kept->vessels + kept->pipes, level = -INFINITY;
      guint n_sound = 0;
      gboolean drew_air = FALSE, spilled = FALSE;

      for (double share = 0.05; share < 1.6; share += 0.01)
        {
          trial.network->total_volume = share * planned;
          trial.network->kept_level = NAN;
          nappe_study_run (&trial.state, trial.balance, trial.network);
          assert_finite (trial.network, &trial.state);
          if (trial.state.rest != NAPPE_REST_FOUND)
            continue;
          g_assert_cmpfloat (fabs (study_total (&trial.state) - share * planned), <=, 1e-9 * planned);
          double now = trial.state.level[trial.network->return_chamber];
          /* A pump that lifts nothing leaves open how low its chamber stands. */
          if (trial.state.pump_flow > 1e-9)
            {
              g_assert_cmpfloat (now, >=, level - 1e-9);
              level = now;
            }
          drew_air |= trial.state.draws_air;
          spilled |= trial.state.spilled > 0;
          n_sound += trial.state.spilled == 0 && !trial.state.draws_air;
        }
      g_assert_true (drew_air && spilled);
      g_assert_cmpuint (n_sound, >, 3);
      trial_clear (&trial);
    }
}

/* With the siphon blocked, a drowned emergency that is made for more than comes primes, empties the box, breaks and starts
 * again. */
static void
test_emergency_gulps (void)
{
  Trial trial;

  trial_init (&trial, "two-drain");
  guint emergency = trial_drain (&trial, "emergency");
  g_assert_false (trial.fixture.study->running.primed[emergency]);
  nappe_network_block (trial.network, trial_drain (&trial, "siphon"), 0);
  /* 1595 L/h fill its bore of 34.5 mm at a Froude number of 0.81, which does not sweep the air away; what a pump of
   * three times the flow lifts does. */
  nappe_study_run (&trial.state, trial.balance, trial.network);
  g_assert_cmpint (trial.state.rest, ==, NAPPE_REST_FOUND);
  g_assert_false (trial.state.primed[emergency]);
  for (guint i = 0; i < trial.network->n_links; i++)
    for (guint p = 0; trial.network->links[i].kind == NAPPE_LINK_PUMP && p < trial.network->links[i].curve.n; p++)
      {
        trial.network->links[i].curve.flow[p] *= 3;
        trial.network->links[i].curve.slope[p] /= 3;
      }
  nappe_study_run (&trial.state, trial.balance, trial.network);
  g_assert_cmpint (trial.state.rest, ==, NAPPE_REST_CYCLES);
  /* With an air line it stays on its inlet. */
  trial.network->links[emergency].inlet.vented = TRUE;
  nappe_study_run (&trial.state, trial.balance, trial.network);
  g_assert_cmpint (trial.state.rest, ==, NAPPE_REST_FOUND);
  g_assert_false (trial.state.primed[emergency]);
  g_assert_cmpfloat (trial.state.flow[emergency], >, 0);
  trial_clear (&trial);
}

/* Throttled to little more than comes it runs full, with the box above where it would break. */
static void
test_emergency_primes_and_holds (void)
{
  Trial trial;
  gboolean held = FALSE;

  trial_init (&trial, "two-drain");
  guint emergency = trial_drain (&trial, "emergency");
  NappeLink *link = &trial.network->links[emergency];
  nappe_network_block (trial.network, trial_drain (&trial, "siphon"), 0);
  for (double k = 60; k < 100; k += 1)
    {
      trial.network->stretches[link->first_stretch].k = k;
      nappe_study_run (&trial.state, trial.balance, trial.network);
      g_assert_cmpint (trial.state.rest, !=, NAPPE_REST_NOT_FOUND);
      if (trial.state.rest != NAPPE_REST_FOUND)
        continue;
      held |= trial.state.primed[emergency];
      if (trial.state.primed[emergency])
        g_assert_cmpfloat (trial.state.level[link->from], >=, link->inlet.brink);
      assert_balanced (trial.network, &trial.state, trial.network->return_chamber);
    }
  /* At 1595 L/h the velocity head is 11.5 mm: 0.94 m of head are used up by 82 of them. */
  g_assert_true (held);
  trial_clear (&trial);
}

/* Floods are studied on the safe side: there an emergency never primes. */
static void
test_blockage_keeps_emergency_on_its_inlet (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[d]);
      for (guint b = 0; b < fixture.study->n_blockages; b++)
        for (guint i = 0; i < fixture.study->network->n_links; i++)
          if (fixture.study->network->links[i].inlet.role == NAPPE_DRAIN_EMERGENCY
              && fixture.study->network->links[i].kind == NAPPE_LINK_DRAIN)
            g_assert_false (fixture.study->blockages[b].state.primed[i]);
      study_fixture_clear (&fixture);
    }
}

/* Where a state is started from changes nothing but the time. */
static void
test_warm_is_cold (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      Trial trial;
      NappeState cold;
      trial_init (&trial, demo_names[d]);
      guint pump = 0;

      nappe_state_init (&cold, trial.network);
      while (trial.network->links[pump].kind != NAPPE_LINK_PUMP)
        pump++;
      double speed = trial.network->links[pump].speed;
      nappe_study_run_warm (&trial.state, trial.balance, trial.network);
      for (guint i = 0; i < 40; i++)
        {
          trial.network->links[pump].speed = speed * (0.7 + 0.3 * ((i * 17) % 40) / 39.0);
          nappe_study_run_warm (&trial.state, trial.balance, trial.network);
          nappe_study_run (&cold, trial.balance, trial.network);
          g_assert_cmpint (trial.state.rest, ==, cold.rest);
          if (cold.rest != NAPPE_REST_FOUND)
            continue;
          g_assert_cmpfloat_with_epsilon (trial.state.pump_flow, cold.pump_flow, 1e-10);
          for (guint n = 0; n < trial.network->n_nodes; n++)
            g_assert_cmpfloat_with_epsilon (trial.state.level[n], cold.level[n], 1e-7);
          for (guint l = 0; l < trial.network->n_links; l++)
            g_assert_cmpint (trial.state.primed[l], ==, cold.primed[l]);
        }
      nappe_state_clear (&cold);
      trial_clear (&trial);
    }
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
  g_test_add_func ("/running/total-volume-is-the-inverse", test_total_volume_is_the_inverse);
  g_test_add_func ("/running/total-volume-is-monotone", test_total_volume_is_monotone);
  g_test_add_func ("/running/emergency-gulps", test_emergency_gulps);
  g_test_add_func ("/running/emergency-primes-and-holds", test_emergency_primes_and_holds);
  g_test_add_func ("/running/blockage-keeps-emergency-on-its-inlet", test_blockage_keeps_emergency_on_its_inlet);
  g_test_add_func ("/running/warm-is-cold", test_warm_is_cold);
  g_test_add_func ("/running/threads-are-independent", test_threads_are_independent);
  g_test_add_func ("/running/incomplete-builds-say-why", test_incomplete_builds_say_why);
  return g_test_run ();
}

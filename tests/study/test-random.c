/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A thousand sensible builds out of a generator. Each is studied: finite, conserved, at rest or with a reason why not;
 * more pump, less valve and more blockage never lower a level that physics lifts; the order of drains does not matter. */
#include "random-build.h"
#include "study-fixture.h"

#include "study/simulation.h"
#include "study/state.h"

#include <math.h>
#include <string.h>

#define BUILDS 1000
/* The same builds every time: what fails here can be looked at. */
#define SEED 20250301
/* Balances are closed to 1e-11 m3/s; over the flattest weir that is a level known to this [m]. */
#define LEVEL_TOLERANCE 1e-6
#define FLOW_TOLERANCE 1e-9
/* Less than this stands [m3/s]. */
#define LEAST_FLOW 1e-7
/* Of the total volume. */
#define CONSERVED 1e-9

typedef struct
{
  NappeCatalogue *catalogue;
  guint states, given_up, cycles, primed, compared, turned;
} Tally;

typedef void (*Look) (NappeBuild *build, const NappeStudy *study, Tally *tally);

static void
for_each_build (guint count, Look look, Tally *tally)
{
  GRand *random = g_rand_new_with_seed (SEED);
  g_autoptr (GError) error = NULL;

  *tally = (Tally){ .catalogue = nappe_catalogue_load_default (NULL, &error) };
  g_assert_no_error (error);
  for (guint i = 0; i < count && !g_test_failed (); i++)
    {
      g_autofree char *text = random_build_text (random);
      g_autofree char *name = g_strdup_printf ("random-%u", i);
      g_autoptr (NappeBuild) build = nappe_file_read_text (text, strlen (text), name, &error);

      g_assert_no_error (error);
      if (error != NULL)
        break;
      g_autoptr (NappeStudy) study = nappe_study_build (build, tally->catalogue);
      look (build, study, tally);
      if (g_test_failed ())
        g_test_message ("%s\n%s", name, text);
    }
  nappe_catalogue_unref (tally->catalogue);
  g_rand_free (random);
}

/* No vessel is emptier than empty. */
static void
assert_finite (const NappeNetwork *network, const NappeState *state)
{
  for (guint i = 0; i < network->n_nodes; i++)
    {
      g_assert_true (isfinite (state->level[i]));
      if (i != network->floor)
        g_assert_cmpfloat (state->level[i], >=, network->nodes[i].floor - 1e-6);
    }
  for (guint i = 0; i < network->n_links; i++)
    g_assert_true (isfinite (state->flow[i]));
  g_assert_true (isfinite (state->vessels) && isfinite (state->pipes) && isfinite (state->pump_flow));
  g_assert_cmpfloat (state->spilled, >=, 0);
}

/* What flows into each vessel flows out again: the solver's own word is not taken for it. */
static void
assert_balanced (const NappeNetwork *network, const NappeState *state)
{
  g_autofree double *net = g_new0 (double, network->n_nodes);

  for (guint i = 0; i < network->n_links; i++)
    {
      net[network->links[i].from] -= state->flow[i];
      net[network->links[i].to] += state->flow[i];
    }
  for (guint i = 0; i < network->n_nodes; i++)
    if (i != network->floor && i != network->return_chamber)
      g_assert_cmpfloat (fabs (net[i]), <=, 1e-10);
}

static void
examine_state (const NappeStudy *study, const NappeState *state, Tally *tally)
{
  assert_finite (study->network, state);
  tally->states++;
  tally->given_up += state->rest == NAPPE_REST_NOT_FOUND;
  tally->cycles += state->rest == NAPPE_REST_CYCLES;
}

static void
assert_conserved (const NappeStudy *study, const NappeState *state)
{
  double before = study_total (&study->running);

  g_assert_cmpfloat (fabs (study_total (state) - before), <=, CONSERVED * before);
}

static void
look_at_states (NappeBuild *build, const NappeStudy *study, Tally *tally)
{
  const NappePowerCut *cuts[] = { &study->cut_check_failed, &study->cut_check_holds, &study->cut_break_blocked };

  g_assert_true (study->network->runnable);
  g_assert_cmpuint (study->network->n_problems, ==, 0);
  for (guint i = 0; i < study->network->n_problems; i++)
    g_test_message ("%s: %s", study->network->problems[i].part, study->network->problems[i].text);
  examine_state (study, &study->running, tally);
  if (study->running.rest == NAPPE_REST_FOUND)
    assert_balanced (study->network, &study->running);
  for (guint i = 0; i < study->network->n_links; i++)
    tally->primed += study->running.primed[i];
  for (guint i = 0; i < G_N_ELEMENTS (cuts) && cuts[i]->known; i++)
    {
      assert_finite (study->network, &cuts[i]->state);
      assert_conserved (study, &cuts[i]->state);
    }
  for (guint i = 0; i < study->n_blockages; i++)
    {
      const NappeBlockage *blockage = &study->blockages[i];

      examine_state (study, &blockage->state, tally);
      if (blockage->state.rest == NAPPE_REST_FOUND && !blockage->floods)
        assert_conserved (study, &blockage->state);
    }
}

/* A change to a network, stronger from step to step. */
typedef void (*Change) (NappeNetwork *network, guint link, double strength);

static void
run_pump (NappeNetwork *network, guint link, double strength)
{
  network->links[link].speed *= 0.4 + 0.6 * strength;
}

static void
close_valve (NappeNetwork *network, guint link, double strength)
{
  gint valve = nappe_network_valve_link (network, link);

  if (valve >= 0)
    nappe_network_set_opening (network, (guint) valve, 1 - 0.9 * strength);
}

static void
block_drain (NappeNetwork *network, guint link, double strength)
{
  nappe_network_block (network, link, 1 - strength);
}

/* A siphon that breaks on the way lifts or lowers levels by leaps: only states with the same siphons full compare. */
static gboolean
comparable (const NappeNetwork *network, const NappeState *a, const NappeState *b)
{
  if (a->rest != NAPPE_REST_FOUND || b->rest != NAPPE_REST_FOUND)
    return FALSE;
  for (guint i = 0; i < network->n_links; i++)
    if (a->primed[i] != b->primed[i])
      return FALSE;
  return TRUE;
}

/* Water that only stands has no level of its own: it may stand anywhere below the edges around it. */
static gboolean
is_fed (const NappeNetwork *network, guint node, const NappeState *state)
{
  double inflow = 0;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->to == node)
        inflow += fmax (state->flow[i], 0);
      if (link->from == node)
        inflow += fmax (-state->flow[i], 0);
    }
  return inflow > LEAST_FLOW;
}

static void
assert_not_lower (const NappeNetwork *network, guint link, guint node, const NappeState *before, const NappeState *after)
{
  if (after->level[node] >= before->level[node] - LEVEL_TOLERANCE || !is_fed (network, node, before)
      || !is_fed (network, node, after))
    return;
  g_test_message ("a change of %s lowers %s by %g m", network->links[link].id, network->nodes[node].id,
                  before->level[node] - after->level[node]);
  g_test_fail ();
}

/* A stronger pump lifts the level of every vessel. A tighter drain lifts that of its own box; another box may fall, when its
 * drain ends under water that now stands lower. */
static void
assert_rising (const NappeNetwork *original, guint link, Change change, Tally *tally)
{
  g_autoptr (NappeBalance) balance = nappe_balance_new (original->n_nodes, original->n_links);
  NappeState states[3];

  for (guint i = 0; i < G_N_ELEMENTS (states); i++)
    {
      g_autoptr (NappeNetwork) network = nappe_network_copy (original);

      change (network, link, i / (G_N_ELEMENTS (states) - 1.0));
      nappe_state_init (&states[i], network);
      nappe_study_run (&states[i], balance, network);
    }
  for (guint i = 1; i < G_N_ELEMENTS (states); i++)
    {
      if (!comparable (original, &states[i - 1], &states[i]))
        continue;
      tally->compared++;
      if (original->links[link].kind == NAPPE_LINK_DRAIN)
        assert_not_lower (original, link, original->links[link].from, &states[i - 1], &states[i]);
      else
        {
          for (guint n = 0; n < original->n_nodes; n++)
            assert_not_lower (original, link, n, &states[i - 1], &states[i]);
          g_assert_cmpfloat (states[i].flow[link], >=, states[i - 1].flow[link] - FLOW_TOLERANCE);
        }
    }
  for (guint i = 0; i < G_N_ELEMENTS (states); i++)
    nappe_state_clear (&states[i]);
}

static void
look_at_changes (NappeBuild *build, const NappeStudy *study, Tally *tally)
{
  const NappeNetwork *network = study->network;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_DRAIN)
        assert_rising (network, i, block_drain, tally);
      /* A valve behind a tee shares the flow out anew: its box may fall with the water that the branches end in. */
      if (link->kind == NAPPE_LINK_DRAIN && nappe_network_valve_link (network, i) == (gint) i)
        assert_rising (network, i, close_valve, tally);
      /* A pump that draws from the display lowers it. */
      if (link->kind == NAPPE_LINK_PUMP && network->nodes[link->from].kind == NAPPE_NODE_CHAMBER)
        assert_rising (network, i, run_pump, tally);
    }
}

/* Last drain first. */
static void
look_at_order (NappeBuild *build, const NappeStudy *study, Tally *tally)
{
  g_autoptr (GError) error = NULL;

  for (guint i = 1; i < build->drains->len; i++)
    nappe_build_move (build, build->drains->pdata[i], 0, &error);
  g_assert_no_error (error);
  g_autoptr (NappeStudy) turned = nappe_study_build (build, tally->catalogue);
  g_assert_cmpint (turned->running.rest, ==, study->running.rest);
  if (study->running.rest != NAPPE_REST_FOUND)
    return;
  tally->turned++;
  for (guint i = 0; i < study->network->n_nodes; i++)
    if (*study->network->nodes[i].id != '\0')
      {
        const char *id = study->network->nodes[i].id;
        double level = study->running.level[i];

        g_assert_cmpfloat_with_epsilon (nappe_study_level (turned, &turned->running, id), level, LEVEL_TOLERANCE);
        g_assert_cmpfloat_with_epsilon (nappe_study_level (turned, &turned->cut_check_failed.state, id),
                                        study->cut_check_failed.state.level[i], LEVEL_TOLERANCE);
      }
  for (guint i = 0; i < study->n_drains; i++)
    g_assert_cmpfloat_with_epsilon (nappe_study_drain (turned, study->drains[i].id)->flow, study->drains[i].flow, FLOW_TOLERANCE);
}

/* All of it in one go: studying a build costs most. The order comes last, since it changes the build. */
static void
look_at_all (NappeBuild *build, const NappeStudy *study, Tally *tally)
{
  look_at_states (build, study, tally);
  look_at_changes (build, study, tally);
  look_at_order (build, study, tally);
}

static void
test_builds (void)
{
  Tally tally;

  for_each_build (BUILDS, look_at_all, &tally);
  g_test_message ("%u builds, %u states: %u cycle, %u without a solution; %u primed siphons, %u pairs compared, %u turned",
                  BUILDS, tally.states, tally.cycles, tally.given_up, tally.primed, tally.compared, tally.turned);
  g_assert_cmpuint (tally.states, >, 5 * BUILDS);
  g_assert_cmpuint (tally.primed, >, BUILDS / 10);
  g_assert_cmpuint (tally.compared, >, 5 * BUILDS);
  g_assert_cmpuint (tally.turned, >, BUILDS / 2);
  g_assert_cmpuint (tally.given_up, ==, 0);
}

/* Water that leaves over a rim all the time belongs to no total. */
static gboolean
runs_over (const NappeStudy *study)
{
  for (guint i = 0; i < study->network->n_links; i++)
    if (study->network->links[i].kind == NAPPE_LINK_RIM && study->running.flow[i] > 0)
      return TRUE;
  return FALSE;
}

/* The water that a build holds, asked for in place of the kept level, brings that level back. */
static void
look_at_total (NappeBuild *build, const NappeStudy *study, Tally *tally)
{
  g_autoptr (GError) error = NULL;

  if (study->running.rest != NAPPE_REST_FOUND || runs_over (study)
      || study->running.display_flow < LEAST_FLOW)
    return;
  nappe_build_set_number (build, build->water, "total_volume", study->running.vessels + study->running.pipes, &error);
  g_assert_no_error (error);
  g_autoptr (NappeStudy) again = nappe_study_build (build, tally->catalogue);
  g_assert_cmpint (again->running.rest, ==, NAPPE_REST_FOUND);
  if (!comparable (study->network, &study->running, &again->running))
    return;
  tally->compared++;
  /* The file keeps volumes to a millilitre or so. */
  for (guint i = 0; i < study->network->n_nodes; i++)
    g_assert_cmpfloat_with_epsilon (again->running.level[i], study->running.level[i], 1e-4);
}

static void
test_total_volume (void)
{
  Tally tally;

  for_each_build (BUILDS / 10, look_at_total, &tally);
  g_assert_cmpuint (tally.compared, >, BUILDS / 20);
}

/* Builds whose return lines join, each with a check valve: when the power failed these once opened and shut without end. */
static void
test_check_valves_side_by_side (void)
{
  static const guint32 seeds[] = { 50480, 50907, 51006 };
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (seeds); i++)
    {
      GRand *random = g_rand_new_with_seed (seeds[i]);
      g_autofree char *text = random_build_text (random);
      g_autoptr (NappeBuild) build = nappe_file_read_text (text, strlen (text), "joined", &error);
      g_assert_no_error (error);
      g_autoptr (NappeStudy) study = nappe_study_build (build, catalogue);
      g_autoptr (NappePlan) plan = nappe_plan_find (build, study, "power-cut", &error);
      g_assert_no_error (error);
      g_autoptr (NappeSimulation) result = nappe_simulation_new (study, plan, 0, NULL, NULL, NULL, &error);

      g_assert_no_error (error);
      g_assert_cmpint (result->end, ==, NAPPE_END_REACHED);
      g_assert_cmpint (result->steps, <, 5000); /* it was 600 000 */
      g_rand_free (random);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/random/builds", test_builds);
  g_test_add_func ("/random/total-volume", test_total_volume);
  g_test_add_func ("/random/check-valves-side-by-side", test_check_valves_side_by_side);
  return g_test_run ();
}

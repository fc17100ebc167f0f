/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Systems that run over a rim already. What static cases say of the floor is held against the same change played in time:
 * never less, and not much more. */
#include "study-fixture.h"

#include "study/over-rim.h"
#include "study/scenario.h"
#include "study/simulation.h"

#include <math.h>

/* So much less a balance may say, for what the integrator lets pass and pumps swing [m3]. */
#define LITTLE 2e-5
/* So much more it says at most: what drains carry off meanwhile [m3]. */
#define MUCH 2.5e-3
/* By then all has come to rest [s]. */
#define LONG 3600.0

#define MOST_CHANGES 3

typedef struct
{
  const char *demo;
  NappeScenarioChange change[MOST_CHANGES]; /* that make it run over; none from the first without a part on */
  double kept_higher;                       /* [m] */
  NappeNodeKind over;                       /* what then runs over */
} Spilling;

static const Spilling spilling[] = {
  { "single-drain", { { NAPPE_CHANGE_BLOCK, "standpipe", 0.7 } }, 0, NAPPE_NODE_DISPLAY },
  { "single-drain", { { NAPPE_CHANGE_BLOCK, "standpipe", 0.9 } }, 0, NAPPE_NODE_DISPLAY },
  { "two-drain",
    { { NAPPE_CHANGE_OPENING, "siphon", 0.2 }, { NAPPE_CHANGE_BLOCK, "emergency", 0.95 } },
    0,
    NAPPE_NODE_BOX },
  { "two-drain", { { NAPPE_CHANGE_OPENING, "siphon", 0.2 }, { NAPPE_CHANGE_BLOCK, "emergency", 0.8 } }, 0, NAPPE_NODE_BOX },
  { "two-drain", { { 0 } }, 0.185, NAPPE_NODE_CHAMBER },
  { "three-drain",
    { { NAPPE_CHANGE_BLOCK, "siphon", 0.95 }, { NAPPE_CHANGE_BLOCK, "channel", 0.9 }, { NAPPE_CHANGE_BLOCK, "emergency", 0.9 } },
    0,
    NAPPE_NODE_DISPLAY },
  { "three-drain",
    { { NAPPE_CHANGE_BLOCK, "siphon", 1 }, { NAPPE_CHANGE_BLOCK, "channel", 1 }, { NAPPE_CHANGE_BLOCK, "emergency", 1 } },
    0,
    NAPPE_NODE_DISPLAY },
};

/* The demo as it runs with the changes made for good. */
static NappeStudy *
study_spilling (StudyFixture *fixture, const Spilling *self)
{
  study_fixture_load (fixture, self->demo);
  NappeNetwork *network = nappe_network_copy (fixture->study->network);

  for (guint i = 0; i < MOST_CHANGES && *self->change[i].part != '\0'; i++)
    g_assert_true (nappe_scenario_change (network, &self->change[i], NULL));
  network->kept_level += self->kept_higher;
  NappeStudy *study = nappe_study_new (network, NULL);
  g_assert_cmpint (study->running.rest, ==, NAPPE_REST_FOUND);
  return study;
}

static NappeSimulation *
play (const NappeStudy *study, NappeHappening *happenings, guint n)
{
  char name[] = "test";
  NappePlan plan = { .id = name, .title = name, .length = LONG, .n = n, .happenings = happenings };
  g_autoptr (GError) error = NULL;
  NappeSimulation *result = nappe_simulation_new (study, &plan, 0, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpint (result->end, ==, NAPPE_END_REACHED);
  return result;
}

static void
compare (const NappeStudy *study, const NappeState *rest, const NappeSimulation *played)
{
  g_test_message ("%.3f L, in time %.3f L", rest->spilled * 1e3, played->spilled * 1e3);
  g_assert_cmpfloat (rest->spilled, >, 0);
  g_assert_cmpfloat (rest->spilled, >=, played->spilled - LITTLE);
  g_assert_cmpfloat (rest->spilled, <=, played->spilled + MUCH);
  g_assert_cmpfloat (fabs (study_total (rest) - study_total (&study->running)), <=, 1e-9 * study_total (&study->running));
}

static void
test_runs_over_as_made (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (spilling); i++)
    {
      StudyFixture fixture;
      g_autoptr (NappeStudy) study = study_spilling (&fixture, &spilling[i]);
      gboolean over = FALSE;

      for (guint n = 0; n < study->network->n_nodes; n++)
        over |= study->network->nodes[n].kind == spilling[i].over
                && study->running.level[n] > study->network->nodes[n].rim + 1e-3;
      g_assert_true (over);
      g_assert_cmpfloat (nappe_over_rim_rate (study->network, &study->running), >, 1e-5);
      study_fixture_clear (&fixture);
    }
}

static void
test_power_cut_never_says_less (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (spilling); i++)
    {
      StudyFixture fixture;
      g_autoptr (NappeStudy) study = study_spilling (&fixture, &spilling[i]);
      NappeHappening off[]
          = { { .kind = NAPPE_HAPPEN_POWER_OFF }, { .kind = NAPPE_HAPPEN_CHECK_STICKS, .change = { .value = 1 } } };
      gboolean has_check = FALSE;

      for (guint l = 0; l < study->network->n_links; l++)
        has_check |= study->network->links[l].one_way;
      g_autoptr (NappeSimulation) failed = play (study, off, has_check ? 2 : 1);
      compare (study, &study->cut_check_failed.state, failed);
      g_autoptr (NappeSimulation) holds = play (study, off, 1);
      compare (study, &study->cut_check_holds.state, holds);
      study_fixture_clear (&fixture);
    }
}

/* Each change at once: cured, made worse, or left as it is. Nothing tops up any more, so all come to a rest. */
static void
test_change_never_says_less (void)
{
  static const struct
  {
    guint spilling;
    NappeScenarioChange change[2];
  } changes[] = {
    { 0, { { 0 } } },
    { 0, { { NAPPE_CHANGE_BLOCK, "standpipe", 0.6 } } },
    { 0, { { NAPPE_CHANGE_BLOCK, "standpipe", 1 } } },
    { 0, { { NAPPE_CHANGE_SPEED, "return", 0.7 } } },
    { 0, { { NAPPE_CHANGE_SPEED, "return", 0 } } },
    { 0, { { NAPPE_CHANGE_SPEED, "return", 0 }, { NAPPE_CHANGE_BLOCK, "standpipe", 1 } } },
    { 1, { { NAPPE_CHANGE_BLOCK, "standpipe", 0 } } },
    { 1, { { NAPPE_CHANGE_BLOCK, "standpipe", 0.5 } } },
    { 2, { { 0 } } },
    { 2, { { NAPPE_CHANGE_OPENING, "siphon", 0.41 } } },
    { 2, { { NAPPE_CHANGE_BLOCK, "emergency", 0 } } },
    { 2, { { NAPPE_CHANGE_SPEED, "return", 0.6 } } },
    { 2, { { NAPPE_CHANGE_SPEED, "return", 0.8 } } },
    { 3, { { NAPPE_CHANGE_OPENING, "siphon", 0.3 } } },
    { 4, { { 0 } } },
    { 4, { { NAPPE_CHANGE_SPEED, "return", 0.9 } } },
    { 5, { { NAPPE_CHANGE_BLOCK, "siphon", 0 } } },
    { 5, { { NAPPE_CHANGE_SPEED, "return", 0.5 } } },
    { 6, { { 0 } } },
    { 6, { { NAPPE_CHANGE_BLOCK, "siphon", 0.5 } } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (changes); i++)
    {
      StudyFixture fixture;
      g_autoptr (NappeStudy) study = study_spilling (&fixture, &spilling[changes[i].spilling]);
      NappeHappening happenings[2] = { { 0 } };
      guint n = 0;

      for (; n < 2 && *changes[i].change[n].part != '\0'; n++)
        happenings[n] = (NappeHappening){ .kind = NAPPE_HAPPEN_CHANGE, .change = changes[i].change[n] };
      g_autoptr (NappeScenario) scenario = nappe_scenario_new (study, changes[i].change, n, NULL);
      g_autoptr (NappeSimulation) played = play (study, happenings, n);
      g_test_message ("%s, change %u", spilling[changes[i].spilling].demo, i);
      g_assert_true (scenario->outcome.floods);
      g_assert_cmpfloat (scenario->outcome.time_to_rim, ==, 0);
      compare (study, &scenario->outcome.state, played);
      study_fixture_clear (&fixture);
    }
}

/* Stopping the pump is a power cut without the check valve. */
static void
test_stopped_pump_is_a_power_cut (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (spilling); i++)
    {
      StudyFixture fixture;
      g_autoptr (NappeStudy) study = study_spilling (&fixture, &spilling[i]);
      const NappeScenarioChange stop = { NAPPE_CHANGE_SPEED, "return", 0 };
      g_autoptr (NappeScenario) scenario = nappe_scenario_new (study, &stop, 1, NULL);

      g_assert_nonnull (scenario);
      g_assert_cmpfloat_with_epsilon (scenario->outcome.state.spilled, study->cut_check_failed.state.spilled, 1e-12);
      study_fixture_clear (&fixture);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/spilling/runs-over-as-made", test_runs_over_as_made);
  g_test_add_func ("/spilling/power-cut-never-says-less", test_power_cut_never_says_less);
  g_test_add_func ("/spilling/change-never-says-less", test_change_never_says_less);
  g_test_add_func ("/spilling/stopped-pump-is-a-power-cut", test_stopped_pump_is_a_power_cut);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bands by sampling: the same whoever reckons them, around what was planned, and as wide as what departs. */
#include "study-fixture.h"

#include "study/departure.h"
#include "study/spread.h"

#include <math.h>
#include <string.h>

#define SAMPLES 300

static void
assert_equal_bands (const NappeBand *one, const NappeBand *two, guint n)
{
  g_assert_cmpmem (one, n * sizeof *one, two, n * sizeof *two);
}

static void
test_threads_change_nothing (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  const NappeStudy *study = fixture.study;
  g_autoptr (NappeSpread) one = nappe_spread_new (study, SAMPLES, 20, 1, NULL);
  g_autoptr (NappeSpread) two = nappe_spread_new (study, SAMPLES, 20, 2, NULL);
  g_assert_cmpuint (one->n_settled, ==, two->n_settled);
  assert_equal_bands (one->level, two->level, study->network->n_nodes);
  assert_equal_bands (one->cut_level, two->cut_level, study->network->n_nodes);
  assert_equal_bands (one->flow, two->flow, study->network->n_links);
  assert_equal_bands (one->film, two->film, study->n_weirs);
  assert_equal_bands (one->pump_head, two->pump_head, study->n_pumps);
  assert_equal_bands (&one->pump_flow, &two->pump_flow, 1);
  assert_equal_bands (&one->run_back, &two->run_back, 1);
  g_assert_cmpfloat (one->cut_flood_chance, ==, two->cut_flood_chance);
  for (guint i = 0; i < study->n_blockages; i++)
    g_assert_cmpfloat (one->blockage_flood_chance[i], ==, two->blockage_flood_chance[i]);
  study_fixture_clear (&fixture);
}

static void
assert_around (NappeBand band, double planned)
{
  g_assert_cmpfloat (band.low, <=, planned);
  g_assert_cmpfloat (band.high, >=, planned);
}

static void
test_bands_lie_around_the_plan (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[d]);
      const NappeStudy *study = fixture.study;
      g_autoptr (NappeSpread) spread = nappe_spread_new (study, SAMPLES, 0, 2, NULL);
      guint chamber = study->network->return_chamber;

      g_assert_cmpuint (spread->n_samples, ==, SAMPLES);
      g_assert_cmpuint (spread->n_settled, >, SAMPLES / 2);
      assert_around (spread->pump_flow, study->running.pump_flow);
      assert_around (spread->level[study->network->display], study->running.level[study->network->display]);
      assert_around (spread->film[0], study->weirs[0].film);
      assert_around (spread->sump_margin, study->cut_check_failed.sump_margin);
      /* The kept level departs by nothing but itself: 1.645 deviations of 2.5 mm either way, from SAMPLES of them. */
      g_assert_cmpfloat_with_epsilon (spread->level[chamber].high - study->network->kept_level, 1.645 * 0.0025, 0.0008);
      g_assert_cmpfloat_with_epsilon (study->network->kept_level - spread->level[chamber].low, 1.645 * 0.0025, 0.0008);
      study_fixture_clear (&fixture);
    }
}

/* A weir's film follows flow over coefficient to the power 2/3 or less: a band wider than all departures together is wrong,
 * one narrower than the weir's own is too. */
static void
test_film_is_as_unsure_as_its_law (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeSpread) spread = nappe_spread_new (fixture.study, SAMPLES, 0, 2, NULL);
  double width = (spread->film[0].high - spread->film[0].low) / fixture.study->weirs[0].film;
  g_assert_cmpfloat (width, >, 2 * 1.645 * 0.08 * 2 / 3);
  g_assert_cmpfloat (width, <, 2 * 1.645 * 0.18 * 2 / 3);
  study_fixture_clear (&fixture);
}

static void
test_floods_are_counted (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeSpread) safe = nappe_spread_new (fixture.study, SAMPLES, 10, 2, NULL);
  g_assert_cmpfloat (safe->cut_flood_chance, ==, 0);
  for (guint i = 0; i < fixture.study->n_blockages; i++)
    {
      g_assert_cmpfloat (safe->blockage_flood_chance[i], >=, 0);
      g_assert_cmpfloat (safe->blockage_flood_chance[i], <=, 1);
    }
  study_fixture_clear (&fixture);
  /* Where the plan leaves 1 mm, the hand that fills the sump decides. */
  study_fixture_load (&fixture, "two-drain");
  double margin = fixture.study->cut_check_failed.sump_margin;
  for (guint i = 0; i < fixture.study->network->n_nodes; i++)
    if (fixture.study->network->nodes[i].kind == NAPPE_NODE_CHAMBER)
      fixture.study->network->nodes[i].rim -= margin - 0.001;
  for (guint i = 0; i < fixture.study->network->n_links; i++)
    {
      NappeLink *link = &fixture.study->network->links[i];

      if (link->kind == NAPPE_LINK_RIM && fixture.study->network->nodes[link->from].kind == NAPPE_NODE_CHAMBER)
        link->sill -= margin - 0.001;
    }
  g_autoptr (NappeSpread) risky = nappe_spread_new (fixture.study, SAMPLES, 0, 2, NULL);
  g_assert_cmpfloat (risky->cut_flood_chance, >, 0.1);
  g_assert_cmpfloat (risky->cut_flood_chance, <, 0.9);
  g_assert_cmpfloat (risky->cut_spilled.high, >, 0);
  study_fixture_clear (&fixture);
}

static void
test_departures_repeat_and_differ (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "two-drain");
  const NappeStudy *study = fixture.study;
  g_autoptr (NappeNetwork) one = nappe_network_copy (study->network);
  g_autoptr (NappeNetwork) same = nappe_network_copy (study->network);
  g_autoptr (NappeNetwork) other = nappe_network_copy (study->network);
  double sum = 0, squares = 0, lowest = INFINITY;

  nappe_network_depart (one, &study->running, 7);
  nappe_network_depart (same, &study->running, 7);
  nappe_network_depart (other, &study->running, 8);
  g_assert_cmpmem (one->stretches, one->n_stretches * sizeof *one->stretches, same->stretches,
                   same->n_stretches * sizeof *same->stretches);
  g_assert_cmpfloat (one->kept_level, ==, same->kept_level);
  g_assert_cmpfloat (one->kept_level, !=, other->kept_level);
  /* Mean and deviation of many, and growth that only narrows. */
  for (guint i = 0; i < 4000; i++)
    {
      nappe_network_restore (other, study->network);
      nappe_network_depart (other, &study->running, i);
      double level = other->kept_level - study->network->kept_level;
      sum += level;
      squares += level * level;
      lowest = fmin (lowest, other->stretches[0].bore - study->network->stretches[0].bore);
      g_assert_cmpfloat (other->stretches[0].bore, <=, study->network->stretches[0].bore);
    }
  g_assert_cmpfloat_with_epsilon (sum / 4000, 0, 1.5e-4);
  g_assert_cmpfloat_with_epsilon (sqrt (squares / 4000), 0.0025, 1e-4);
  g_assert_cmpfloat_with_epsilon (lowest, -0.0005, 1e-6);
  study_fixture_clear (&fixture);
}

static void
test_nothing_without_a_rest (void)
{
  StudyFixture fixture;
  g_autoptr (GCancellable) cancelled = g_cancellable_new ();

  study_fixture_load (&fixture, "three-drain");
  g_cancellable_cancel (cancelled);
  g_assert_null (nappe_spread_new (fixture.study, SAMPLES, 0, 2, cancelled));
  study_fixture_set (&fixture, "siphon-valve", "opening", 1.0);
  study_fixture_set (&fixture, "return-pump", "speed", 0.75);
  study_fixture_again (&fixture);
  g_assert_cmpint (fixture.study->running.rest, ==, NAPPE_REST_CYCLES);
  g_assert_null (nappe_spread_new (fixture.study, SAMPLES, 0, 2, NULL));
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/spread/threads-change-nothing", test_threads_change_nothing);
  g_test_add_func ("/spread/bands-lie-around-the-plan", test_bands_lie_around_the_plan);
  g_test_add_func ("/spread/film-is-as-unsure-as-its-law", test_film_is_as_unsure_as_its_law);
  g_test_add_func ("/spread/floods-are-counted", test_floods_are_counted);
  g_test_add_func ("/spread/departures-repeat-and-differ", test_departures_repeat_and_differ);
  g_test_add_func ("/spread/nothing-without-a-rest", test_nothing_without_a_rest);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Blocked drains: water conserved, worse is worse, and the flood that must come comes. */
#include "file/file.h"
#include "study-fixture.h"

#include <math.h>

static void
test_water_is_conserved (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[i]);
      const NappeStudy *study = fixture.study;
      double before = study_total (&study->running);

      g_assert_cmpuint (study->n_blockages, >=, 1);
      for (guint b = 0; b < study->n_blockages; b++)
        {
          const NappeState *state = &study->blockages[b].state;

          g_assert_cmpint (state->rest, !=, NAPPE_REST_NOT_FOUND);
          g_assert_cmpfloat (fabs (study_total (state) - before), <=, 1e-9 * before);
        }
      study_fixture_clear (&fixture);
    }
}

static void
test_more_blocked_stands_higher (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  const NappeStudy *study = fixture.study;
  const NappeBlockage *siphon = nappe_study_blockage (study, "siphon"), *all = nappe_study_blockage (study, NULL);
  double running = nappe_study_level (study, &study->running, "tank");

  g_assert_nonnull (siphon);
  g_assert_nonnull (all);
  g_assert_cmpfloat (all->display_rise, >=, siphon->display_rise);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &siphon->state, "tank"), running + siphon->display_rise, 1e-12);
  study_fixture_clear (&fixture);
}

/* The single drain blocked: the display gains what the return chamber can give, and spills what does not fit. */
static void
test_single_drain_floods_by_what_does_not_fit (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "single-drain");
  const NappeStudy *study = fixture.study;
  const NappeBlockage *all = nappe_study_blockage (study, NULL);

  g_assert_cmpint (study->n_drains, ==, 1);
  g_assert_true (all->floods);
  /* The pump also lifts part of its last centimetre of depth, and the drain's own water comes down. */
  double expected = study->pump_liftable - study->display_free;
  g_assert_cmpfloat (all->state.spilled, >=, expected);
  g_assert_cmpfloat (all->state.spilled, <=, expected + 0.004);
  g_assert_cmpfloat_with_epsilon (all->time_to_rim, study->display_free / study->running.pump_flow, 2.0);
  study_fixture_clear (&fixture);
}

static void
test_freeboard_saves_the_floor (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "single-drain");
  double spilled = nappe_study_blockage (fixture.study, NULL)->state.spilled;
  double height = NAPPE_BUILD_TANK (fixture.build)->height;

  for (guint i = 1; i <= 5; i++)
    {
      study_fixture_set (&fixture, "tank", "height", height + 0.02 * i);
      study_fixture_again (&fixture);
      double now = nappe_study_blockage (fixture.study, NULL)->state.spilled;
      g_assert_cmpfloat (now, <=, spilled + 1e-9);
      spilled = now;
    }
  g_assert_cmpfloat (spilled, ==, 0);
  g_assert_false (nappe_study_blockage (fixture.study, NULL)->floods);
  study_fixture_clear (&fixture);
}

/* Half of every weir closed is a standard case: it lifts the display, and by more than nothing. */
static void
test_half_a_weir_lifts_the_display (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[i]);
      const NappeStudy *study = fixture.study;
      double before = study_total (&study->running);

      g_assert_cmpuint (study->n_weirs, >=, 1);
      for (guint w = 0; w < study->n_weirs; w++)
        {
          const NappeBlockage *half = &study->weir_blocked[w];

          g_assert_cmpint (half->state.rest, ==, NAPPE_REST_FOUND);
          g_assert_cmpfloat (half->open_share, ==, 0.5);
          g_assert_cmpuint (half->blocked[0], ==, study->weirs[w].link);
          g_assert_cmpfloat (fabs (study_total (&half->state) - before), <=, 1e-9 * before);
          /* A free weir's head goes as the flow over its length to the power of 2/3: half of it needs 1.59 times the head. */
          g_test_message ("%s: film %.2f mm, %.2f mm more", demo_names[i], study->weirs[w].film * 1e3, half->display_rise * 1e3);
          g_assert_cmpfloat (half->display_rise, >, 0.3 * study->weirs[w].film);
          g_assert_cmpfloat (half->display_rise, <, 0.9 * study->weirs[w].film);
        }
      study_fixture_clear (&fixture);
    }
}

/* A side vessel whose spout is blocked fills with what feeds it, not with all that the return pump moves. */
static void
test_blocked_spout_fills_with_its_feed (void)
{
  StudyFixture fixture;
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "demo-builds", "two-pumps.nappe", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeBuild) build = nappe_file_read (file, NULL, &error);

  g_assert_no_error (error);
  study_fixture_load (&fixture, demo_names[0]);
  g_autoptr (NappeStudy) study = nappe_study_build (build, fixture.catalogue);
  gint vessel = nappe_network_find_node (study->network, "refugium");
  guint looked = 0;
  g_assert_cmpint (vessel, >=, 0);
  for (guint i = 0; i < study->n_passages; i++)
    {
      const NappeBlockage *blocked = &study->passage_blocked[i];
      const NappeLink *spout = &study->network->links[blocked->blocked[0]];
      if (spout->from != (guint) vessel)
        continue;
      const NappeNode *node = &study->network->nodes[vessel];
      double flow = study->running.flow[blocked->blocked[0]];
      double room = nappe_node_volume (node, node->rim) - nappe_node_volume (node, study->running.level[vessel]);
      g_assert_true (blocked->floods);
      /* At rest as much flows out as in. */
      g_assert_cmpfloat_with_epsilon (blocked->time_to_rim, room / flow, 0.01 * room / flow);
      g_assert_cmpfloat (flow, <, 0.9 * study->running.pump_flow);
      looked++;
    }
  g_assert_cmpuint (looked, ==, 1);
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/blockage/water-is-conserved", test_water_is_conserved);
  g_test_add_func ("/blockage/more-blocked-stands-higher", test_more_blocked_stands_higher);
  g_test_add_func ("/blockage/single-drain-floods-by-what-does-not-fit", test_single_drain_floods_by_what_does_not_fit);
  g_test_add_func ("/blockage/freeboard-saves-the-floor", test_freeboard_saves_the_floor);
  g_test_add_func ("/blockage/half-a-weir-lifts-the-display", test_half_a_weir_lifts_the_display);
  g_test_add_func ("/blockage/blocked-spout-fills-with-its-feed", test_blocked_spout_fills_with_its_feed);
  return g_test_run ();
}

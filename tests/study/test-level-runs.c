/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How full the sideways pipes of drains run. */
#include "study-fixture.h"

#include <math.h>

static const NappeLevelRun *
find_run (const NappeStudy *study, const char *piece)
{
  for (guint i = 0; i < study->n_level_runs; i++)
    if (g_str_equal (study->level_runs[i].piece, piece))
      return &study->level_runs[i];
  g_test_message ("no level run “%s”", piece);
  g_test_fail ();
  return NULL;
}

/* Manning's flow from the geometry of a circle's segment, n of smooth plastic (open-channel texts: 0.009 to 0.011). */
static double
manning (double bore, double depth, double fall)
{
  double angle = 2 * acos (1 - 2 * depth / bore);
  double area = bore * bore / 8 * (angle - sin (angle)), wetted = 0.5 * bore * angle;

  return area * pow (area / wetted, 2.0 / 3.0) * sqrt (fall) / 0.010;
}

static void
test_sideways_pieces_are_listed (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  const NappeStudy *study = fixture.study;

  g_assert_cmpuint (study->n_level_runs, ==, 4);
  g_assert_cmpstr (find_run (study, "siphon-pipe-4")->drain, ==, "siphon");
  g_assert_cmpstr (find_run (study, "refugium-feed-pipe-2")->drain, ==, "siphon");
  g_assert_cmpstr (find_run (study, "channel-pipe-4")->drain, ==, "channel");
  /* 20 mm over 660 mm, and the branch's own flow. */
  g_assert_cmpfloat_with_epsilon (find_run (study, "refugium-feed-pipe-2")->fall, 20.0 / 660.0, 1e-12);
  g_assert_cmpfloat (find_run (study, "refugium-feed-pipe-2")->flow, ==,
                     nappe_study_flow (study, &study->running, "refugium-feed"));
  study_fixture_clear (&fixture);
}

static void
test_primed_pipes_run_full (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  const NappeLevelRun *run = find_run (fixture.study, "siphon-pipe-4");

  g_assert_true (run->full);
  g_assert_cmpfloat (run->depth, ==, run->bore);
  study_fixture_clear (&fixture);
}

static void
test_depth_carries_the_flow (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  for (double opening = 0.20; opening < 0.34; opening += 0.02)
    {
      study_fixture_set (&fixture, "siphon-valve", "opening", opening);
      study_fixture_again (&fixture);
      const NappeLevelRun *run = find_run (fixture.study, "channel-pipe-4");
      g_assert_cmpfloat (run->flow, >, 0);
      g_assert_false (run->full);
      g_assert_cmpfloat_with_epsilon (manning (run->bore, run->depth, run->fall), run->flow, 1e-6 * run->flow);
      g_assert_cmpfloat_with_epsilon (run->full_flow, manning (run->bore, run->bore * (1 - 1e-12), run->fall),
                                      1e-4 * run->full_flow);
    }
  study_fixture_clear (&fixture);
}

/* Hardly any fall carries less than flows; a pipe that climbs or lies level stands full. */
static void
test_too_little_fall_runs_full (void)
{
  const double falls[] = { 1e-4, 0, -0.01 };
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  study_fixture_set (&fixture, "siphon-valve", "opening", 0.2);
  for (guint i = 0; i < G_N_ELEMENTS (falls); i++)
    {
      study_fixture_set (&fixture, "channel-pipe-4", "fall", falls[i]);
      study_fixture_again (&fixture);
      const NappeLevelRun *run = find_run (fixture.study, "channel-pipe-4");
      g_assert_cmpfloat (run->flow, >, run->full_flow);
      g_assert_true (run->full);
      g_assert_cmpfloat (run->depth, ==, run->bore);
    }
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/level-runs/sideways-pieces-are-listed", test_sideways_pieces_are_listed);
  g_test_add_func ("/level-runs/primed-pipes-run-full", test_primed_pipes_run_full);
  g_test_add_func ("/level-runs/depth-carries-the-flow", test_depth_carries_the_flow);
  g_test_add_func ("/level-runs/too-little-fall-runs-full", test_too_little_fall_runs_full);
  return g_test_run ();
}

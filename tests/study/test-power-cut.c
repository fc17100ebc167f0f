/* SPDX-License-Identifier: GPL-3.0-or-later */
/* After a power cut: no litre made or lost, levels by geometry, and the safe side where it is a choice. */
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
      const NappePowerCut *cuts[] = { &study->cut_check_failed, &study->cut_check_holds, &study->cut_break_blocked };
      double before = study_total (&study->running);

      for (guint c = 0; c < G_N_ELEMENTS (cuts); c++)
        {
          double ledger = 0;

          g_assert_true (cuts[c]->known);
          g_assert_cmpfloat (fabs (study_total (&cuts[c]->state) - before), <=, 1e-9 * before);
          for (guint l = 0; l < cuts[c]->n_ledger; l++)
            ledger += cuts[c]->ledger[l].volume;
          /* What left some vessels stands in others or on the floor. */
          g_assert_cmpfloat (fabs (ledger - cuts[c]->state.spilled), <=, 1e-9 * before);
        }
      study_fixture_clear (&fixture);
    }
}

/* The display stops at the lower edge of weir and siphon break, and at the mouth when the break is blocked. */
static void
test_display_stops_where_geometry_says (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  const NappeStudy *study = fixture.study;
  double floor = 0.850 + 0.012; /* stand and bottom panel of the demo */

  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &study->cut_check_failed.state, "tank"),
                                  floor + fmin (0.490, 0.497), 1e-9);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &study->cut_check_holds.state, "tank"), floor + 0.490, 1e-9);
  study_fixture_set (&fixture, "left-nozzle", "siphon_break_height", 0.480);
  study_fixture_again (&fixture);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (fixture.study, &fixture.study->cut_check_failed.state, "tank"),
                                  floor + 0.480, 1e-9);
  /* The line has no check valve, so that none holds either. */
  g_assert_cmpfloat_with_epsilon (nappe_study_level (fixture.study, &fixture.study->cut_check_holds.state, "tank"),
                                  floor + 0.480, 1e-9);
  /* A hole under the mouth lets in no air before the mouth does; the nozzle ends 476 mm over the floor. */
  study_fixture_set (&fixture, "left-nozzle", "siphon_break_height", 0.400);
  study_fixture_again (&fixture);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (fixture.study, &fixture.study->cut_check_failed.state, "tank"),
                                  floor + 0.476, 1e-9);
  study_fixture_clear (&fixture);
}

/* With the siphon-break holes blocked the nozzle's mouth decides. */
static void
test_deeper_nozzle_more_water (void)
{
  StudyFixture fixture;
  double last = 0;

  study_fixture_load (&fixture, "three-drain");
  NappePiece *end = NAPPE_PIECE (nappe_build_find (fixture.build, "right-nozzle-pipe-3"));
  double length = end->length;
  for (double deeper = 0; deeper < 0.095; deeper += 0.01)
    {
      study_fixture_set (&fixture, "right-nozzle-pipe-3", "length", length + deeper);
      study_fixture_again (&fixture);
      g_assert_cmpfloat (fixture.study->cut_break_blocked.run_back, >=, last);
      last = fixture.study->cut_break_blocked.run_back;
    }
  /* From 490 mm down to 386 mm in a display of 1.2 m by 0.6 m, less the box's foot, is more than 60 L. */
  g_assert_cmpfloat (last, >, 0.060);
  study_fixture_clear (&fixture);
}

static void
test_check_valve_and_breaks_only_help (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[i]);
      const NappeStudy *study = fixture.study;

      g_assert_cmpfloat (study->cut_check_holds.run_back, <=, study->cut_check_failed.run_back + 1e-12);
      g_assert_cmpfloat (study->cut_break_blocked.run_back, >=, study->cut_check_failed.run_back - 1e-12);
      g_assert_cmpfloat (study->cut_break_blocked.state.spilled, >=, study->cut_check_failed.state.spilled - 1e-12);
      study_fixture_clear (&fixture);
    }
}

/* A sump that is lower by some millimetres spills no less. */
static void
test_lower_sump_spills_more (void)
{
  StudyFixture fixture;
  double last = -1;

  study_fixture_load (&fixture, "single-drain");
  double height = NAPPE_BUILD_SUMP (fixture.build)->height;
  for (guint i = 0; i < 6; i++)
    {
      study_fixture_set (&fixture, "sump", "height", height - 0.01 * i);
      study_fixture_again (&fixture);
      g_assert_cmpfloat (fixture.study->cut_check_failed.state.spilled, >=, last - 1e-12);
      last = fixture.study->cut_check_failed.state.spilled;
    }
  g_assert_cmpfloat (last, >, 0);
  study_fixture_clear (&fixture);
}

/* The siphon's valve stands behind its tee: shut it, and the branch; the box keeps its water, and none is lost. */
static void
test_shut_lines_keep_their_water (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  for (guint shut = 1; shut <= 2; shut++)
    {
      study_fixture_set (&fixture, shut == 1 ? "siphon-valve" : "refugium-valve", "opening", 0);
      study_fixture_again (&fixture);
      const NappeStudy *study = fixture.study;
      double before = study_total (&study->running);

      g_assert_true (study->cut_check_failed.known);
      g_assert_cmpfloat (fabs (study_total (&study->cut_check_failed.state) - before), <=, 1e-9 * before);
    }
  /* Only the open channel, 425 mm over the box's floor at 862 mm, is left to empty the box. */
  g_assert_cmpfloat_with_epsilon (nappe_study_level (fixture.study, &fixture.study->cut_check_failed.state, "box"),
                                  0.862 + 0.425, 1e-9);
  study_fixture_clear (&fixture);
}

/* A check valve in the trunk holds back both nozzles of its line. */
static void
test_check_valve_in_the_trunk_holds_every_nozzle (void)
{
  StudyFixture fixture;
  g_autoptr (GError) error = NULL;

  study_fixture_load (&fixture, "three-drain");
  for (guint i = 0; i < 2; i++)
    study_fixture_set (&fixture, i == 0 ? "left-nozzle" : "right-nozzle", "siphon_break_height", 0.480);
  g_autoptr (NappePart) valve = g_object_new (NAPPE_TYPE_PIECE, NULL);
  nappe_build_insert (fixture.build, fixture.build->returns->pdata[0], "run", 0, valve, &error);
  g_assert_no_error (error);
  nappe_build_set_text (fixture.build, valve, "item", "pvc40-check-valve-1", &error);
  g_assert_no_error (error);
  study_fixture_again (&fixture);
  const NappeStudy *study = fixture.study;
  double floor = 0.862;

  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &study->cut_check_failed.state, "tank"), floor + 0.480, 1e-9);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &study->cut_check_holds.state, "tank"), floor + 0.490, 1e-9);
  for (guint i = 0; i < study->cut_check_holds.n_ledger; i++)
    g_assert_cmpint (study->cut_check_holds.ledger[i].kind, !=, NAPPE_LEDGER_RETURN_PIPES);
  study_fixture_clear (&fixture);
}

/* The valve of the demo stands above 150 mm of pipe, bore 20.93 mm, that begins 100 mm over the sump's floor at 26 mm: what
 * stands in it above the chamber's level runs back. */
static void
test_check_valve_holds_what_is_beyond_it (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "two-drain");
  const NappePowerCut *cut = &fixture.study->cut_check_holds;
  double level = nappe_study_level (fixture.study, &cut->state, "return-chamber"), ledger = 0;
  double low = 0.126, high = low + 0.150, bore = nappe_catalogue_find (fixture.catalogue, "pvc40-pipe-0.75")->bore;

  g_assert_cmpfloat (level, >, low);
  g_assert_cmpfloat (level, <, high);
  for (guint i = 0; i < cut->n_ledger; i++)
    if (cut->ledger[i].kind == NAPPE_LEDGER_RETURN_PIPES)
      ledger += cut->ledger[i].volume;
  g_assert_cmpfloat_with_epsilon (ledger, 0.25 * G_PI * bore * bore * (high - level), 1e-10);
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/power-cut/water-is-conserved", test_water_is_conserved);
  g_test_add_func ("/power-cut/display-stops-where-geometry-says", test_display_stops_where_geometry_says);
  g_test_add_func ("/power-cut/deeper-nozzle-more-water", test_deeper_nozzle_more_water);
  g_test_add_func ("/power-cut/check-valve-and-breaks-only-help", test_check_valve_and_breaks_only_help);
  g_test_add_func ("/power-cut/lower-sump-spills-more", test_lower_sump_spills_more);
  g_test_add_func ("/power-cut/shut-lines-keep-their-water", test_shut_lines_keep_their_water);
  g_test_add_func ("/power-cut/check-valve-in-the-trunk-holds-every-nozzle", test_check_valve_in_the_trunk_holds_every_nozzle);
  g_test_add_func ("/power-cut/check-valve-holds-what-is-beyond-it", test_check_valve_holds_what_is_beyond_it);
  return g_test_run ();
}

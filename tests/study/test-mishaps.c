/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ways down that close wholly, and a top-off that sticks on. */
#include "study-fixture.h"

#include "file/file.h"
#include "study/scenario.h"

#include <math.h>

static void
load (StudyFixture *self, const char *file)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, file, NULL);
  g_autoptr (GFile) source = g_file_new_for_path (path);

  *self = (StudyFixture){ .catalogue = nappe_catalogue_load_default (NULL, &error) };
  g_assert_no_error (error);
  self->build = nappe_file_read (source, NULL, &error);
  g_assert_no_error (error);
  study_fixture_again (self);
}

/* Each standard case is the same change that a person may try by hand. */
static void
test_passages_are_scenarios (void)
{
  static const struct
  {
    const char *file, *parts[3];
    NappeChangeKind kinds[3];
  } cases[] = {
    { "demo-builds/rim.nappe", { "box", "socks" }, { NAPPE_CHANGE_BLOCK_JOINT, NAPPE_CHANGE_LOAD } },
    { "demo-builds/hang-on.nappe", { "refugium", "socks" }, { NAPPE_CHANGE_BLOCK, NAPPE_CHANGE_LOAD } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      StudyFixture fixture;
      load (&fixture, cases[i].file);
      const NappeStudy *study = fixture.study;

      g_assert_cmpuint (study->n_passages, ==, 2);
      for (guint p = 0; p < study->n_passages; p++)
        {
          const NappeBlockage *passage = &study->passage_blocked[p];
          const char *part = study->network->links[passage->blocked[0]].id;
          NappeScenarioChange change = { .value = 1 };
          g_autoptr (GError) error = NULL;

          for (gsize k = 0; k < 2; k++)
            if (g_str_equal (cases[i].parts[k], part))
              change.kind = cases[i].kinds[k];
          g_strlcpy (change.part, part, sizeof change.part);
          g_autoptr (NappeScenario) scenario = nappe_scenario_new (study, &change, 1, &error);
          g_assert_no_error (error);
          g_assert_cmpint (scenario->outcome.floods, ==, passage->floods);
          g_assert_cmpfloat_with_epsilon (scenario->outcome.state.spilled, passage->state.spilled, 1e-8);
          for (guint node = 0; node < study->network->n_nodes; node++)
            g_assert_cmpfloat_with_epsilon (scenario->outcome.state.level[node], passage->state.level[node], 1e-7);
          g_assert_cmpfloat_with_epsilon (study_total (&passage->state), study_total (&study->running), 1e-8);
        }
      study_fixture_clear (&fixture);
    }
}

/* The reservoir's water changes places: none is lost, and the return chamber holds it while no other level may rise. */
static void
test_stuck_top_off_fills_the_return_chamber (void)
{
  StudyFixture fixture;
  load (&fixture, "rules/sound.nappe");
  study_fixture_set (&fixture, "siphon-valve", "opening", 0.34);
  /* A litre: the return chamber, 300 x 400 mm, rises 8 mm, and stays far below its baffle. */
  study_fixture_set (&fixture, "reservoir", "kept_level", 0.025);
  study_fixture_again (&fixture);
  const NappeStudy *study = fixture.study;
  const NappeTopOffStuck *stuck = &study->top_off_stuck;

  g_assert_true (stuck->known);
  g_assert_cmpfloat_with_epsilon (stuck->added, 0.1 * 0.4 * 0.025, 1e-9);
  g_assert_cmpfloat_with_epsilon (study_total (&stuck->running), study_total (&study->running), 1e-8);
  double before = nappe_study_level (study, &study->running, "return");
  double after = nappe_study_level (study, &stuck->running, "return");
  /* The pump lifts a hair more from the higher level, which raises films and levels above by a part of a millimetre. */
  g_assert_cmpfloat_with_epsilon (after - before, stuck->added / (0.3 * 0.4), 0.001);
  g_assert_true (stuck->cut.known);
  g_assert_cmpfloat_with_epsilon (study_total (&stuck->cut.state), study_total (&study->running), 1e-8);
  g_assert_cmpfloat (nappe_study_level (study, &stuck->cut.state, "return"), >,
                     nappe_study_level (study, &study->cut_check_failed.state, "return"));
  study_fixture_clear (&fixture);
}

/* Over a wall that ends below the rim what is too much goes back to the reservoir; over one as high as the rim it goes to
 * the floor. */
static void
test_stuck_top_off_floods_behind_a_high_wall (void)
{
  StudyFixture fixture;
  load (&fixture, "rules/sound.nappe");
  study_fixture_set (&fixture, "siphon-valve", "opening", 0.34);
  study_fixture_set (&fixture, "reservoir", "length", 0.8);
  study_fixture_set (&fixture, "sump", "height", 0.31);

  for (guint high = 0; high < 2; high++)
    {
      study_fixture_set (&fixture, "reservoir-wall", "top_height", high ? 0.31 : 0.30);
      study_fixture_again (&fixture);
      const NappeStudy *study = fixture.study;
      const NappeTopOffStuck *stuck = &study->top_off_stuck;

      g_assert_true (stuck->known);
      g_assert_cmpfloat_with_epsilon (study_total (&stuck->running), study_total (&study->running), 1e-8);
      if (high)
        {
          g_assert_cmpfloat (stuck->running.spilled, >, 0.050);
          /* The emptied reservoir behind the wall stays empty in a power cut, too. */
          g_assert_cmpfloat (nappe_study_level (study, &stuck->cut.state, "reservoir"), ==,
                             nappe_study_level (study, &stuck->running, "reservoir"));
        }
      else
        g_assert_cmpfloat (stuck->running.spilled, ==, 0);
    }
  study_fixture_clear (&fixture);
}

static void
test_no_top_off (void)
{
  StudyFixture fixture;
  load (&fixture, "demo-builds/rim.nappe");

  g_assert_false (fixture.study->top_off_stuck.known);
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/mishaps/passages-are-scenarios", test_passages_are_scenarios);
  g_test_add_func ("/mishaps/stuck-top-off-fills-the-return-chamber", test_stuck_top_off_fills_the_return_chamber);
  g_test_add_func ("/mishaps/stuck-top-off-floods-behind-a-high-wall", test_stuck_top_off_floods_behind_a_high_wall);
  g_test_add_func ("/mishaps/no-top-off", test_no_top_off);
  return g_test_run ();
}

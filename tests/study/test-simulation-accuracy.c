/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How good the levels of the time simulation are: against the same case in steps of a hundredth of the usual error. */
#include "study-fixture.h"

#include "study/simulation-private.h"

#include <math.h>
#include <string.h>

/* That levels are promised to, frames joined by straight lines [m]. */
#define PROMISED 1e-4
#define FINE 0.01

static gboolean
is_vessel (const NappeNetwork *network, guint node)
{
  return network->nodes[node].kind != NAPPE_NODE_JUNCTION && node != network->floor;
}

/* Where a siphon breaks at a level that hardly moves, a hundredth of a millimetre is seconds, and after it all goes on so much
 * later: such cases tell nothing about levels. */
static gboolean
breaks_late (const NappePlan *plan)
{
  return g_str_equal (plan->id, "leak") || g_str_equal (plan->id, "pumps-worn");
}

static void
compare (const NappeStudy *study, const NappePlan *plan)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeSimulation) usual = nappe_simulation_new (study, plan, 0, NULL, NULL, NULL, &error);
  g_autoptr (NappeSimulation) fine = nappe_simulation_new_finely (study, plan, 0, FINE, NULL, NULL, NULL, &error);
  double worst = 0;

  g_assert_no_error (error);
  g_assert_cmpint (fine->end, ==, NAPPE_END_REACHED);
  g_assert_cmpuint (usual->n_events, ==, fine->n_events);
  /* Frames of both: where a polygon is farthest from a smooth line, and where either of them turns. */
  for (guint f = 0; f + 1 < fine->n_frames; f++)
    for (guint i = 0; i < study->network->n_nodes; i++)
      if (is_vessel (study->network, i))
        {
          double level = fine->level[f * study->network->n_nodes + i];

          worst = fmax (worst, fabs (nappe_simulation_level (usual, i, fine->time[f]) - level));
        }
  g_test_message ("%s: within %.3f mm, %ld steps against %ld", plan->id, 1e3 * worst, usual->steps, fine->steps);
  g_assert_cmpfloat (worst, <, PROMISED);
  /* Unless nothing happens, or it was as fine before, and there was nothing to compare with. */
  g_assert_true (usual->steps < 100 || fine->steps > 2 * usual->steps);
}

static void
test_levels_as_promised (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[d]);
      g_autoptr (GPtrArray) plans = nappe_plans_of (fixture.build, fixture.study);

      g_test_message ("%s", demo_names[d]);
      for (guint p = 0; p < plans->len; p++)
        if (!breaks_late (plans->pdata[p]))
          compare (fixture.study, plans->pdata[p]);
      study_fixture_clear (&fixture);
    }
}

/* Where the plan area of the tank steps at the top of its rock its level turns sharply, and its volume does not. */
static void
test_frame_at_step (void)
{
  static const char *const cases[] = { "power-cut", "restart", "leak" };
  StudyFixture fixture;
  study_fixture_load (&fixture, "single-drain");

  for (guint c = 0; c < G_N_ELEMENTS (cases); c++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (NappePlan) plan = nappe_plan_find (fixture.build, fixture.study, cases[c], &error);
      g_assert_no_error (error);
      g_autoptr (NappeSimulation) result = nappe_simulation_new (fixture.study, plan, 0, NULL, NULL, NULL, &error);
      g_assert_no_error (error);
      guint display = result->network->display, n = result->network->n_nodes, crossings = 0;
      double step = result->network->nodes[display].step;

      for (guint f = 1; f < result->n_frames; f++)
        {
          double before = result->level[(f - 1) * n + display] - step, after = result->level[f * n + display] - step;

          if (before * after > 0)
            continue;
          crossings++;
          g_assert_cmpfloat (fmin (fabs (before), fabs (after)), <, 2e-5);
        }
      g_assert_cmpuint (crossings, >, 0);
    }
  study_fixture_clear (&fixture);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/simulation-accuracy/levels-as-promised", test_levels_as_promised);
  g_test_add_func ("/simulation-accuracy/frame-at-step", test_frame_at_step);
  return g_test_run ();
}

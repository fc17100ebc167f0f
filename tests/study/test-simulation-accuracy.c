/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How good the levels of the time simulation are: against the same case in steps of a hundredth of the usual error. */
#include "study-fixture.h"

#include "study/simulation-private.h"

#include <math.h>
#include <string.h>

/* That levels are promised to, frames joined by straight lines [m]. */
#define PROMISED 1e-4
/* Where a siphon breaks at a level that hardly moves, a hundredth of a millimetre is a while, and after it all goes on so much
 * sooner or later: by this share of the time since something last happened. */
#define SHIFT 2e-3
#define FINE 0.01

static gboolean
is_vessel (const NappeNetwork *network, guint node)
{
  return network->nodes[node].kind != NAPPE_NODE_JUNCTION && node != network->floor;
}

static double
last_happening (const NappePlan *plan, double time)
{
  double last = 0;

  for (guint i = 0; i < plan->n && plan->happenings[i].at <= time; i++)
    last = plan->happenings[i].at;
  return last;
}

/* How far a level at a time is from all that it is in another run near that time. */
static double
miss_of (const NappeSimulation *fine, const NappeSimulation *usual, guint node, double time)
{
  double shift = SHIFT * (time - last_happening (usual->plan, time)), level = nappe_simulation_level (usual, node, time);
  double low = nappe_simulation_level (fine, node, time - shift), high = low;

  for (guint f = 0; f < fine->n_frames && fine->time[f] <= time + shift; f++)
    if (fine->time[f] >= time - shift)
      {
        low = fmin (low, fine->level[f * fine->network->n_nodes + node]);
        high = fmax (high, fine->level[f * fine->network->n_nodes + node]);
      }
  low = fmin (low, nappe_simulation_level (fine, node, time + shift));
  high = fmax (high, nappe_simulation_level (fine, node, time + shift));
  return fmax (low - level, level - high);
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
  /* At the frames of the fine one, which lie between those of the other, where a polygon is farthest from a smooth line. */
  for (guint f = 0; f + 1 < fine->n_frames; f++)
    for (guint i = 0; i < study->network->n_nodes; i++)
      if (is_vessel (study->network, i))
        worst = fmax (worst, miss_of (fine, usual, i, fine->time[f]));
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

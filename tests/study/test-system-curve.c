/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The curve of the system meets the pump's where the pump runs, and both are the network's own. */
#include "study-fixture.h"

#include "study/state.h"
#include "study/system-curve.h"

#include <math.h>

static double
head_on_curve (const NappeSystemCurve *curve, double flow)
{
  for (guint i = 0; i + 1 < curve->n; i++)
    if (curve->points[i].flow <= flow && flow <= curve->points[i + 1].flow)
      {
        const NappeSystemPoint *a = &curve->points[i], *b = a + 1;
        return a->head + (b->head - a->head) * (flow - a->flow) / (b->flow - a->flow);
      }
  return NAN;
}

static void
test_meets_where_it_runs (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[d]);
      const NappeStudy *study = fixture.study;

      g_assert_cmpuint (study->n_pumps, >, 0);
      for (guint p = 0; p < study->n_pumps; p++)
        {
          const NappePumpReport *pump = &study->pumps[p];
          g_autoptr (NappeSystemCurve) curve
              = nappe_system_curve_new (study, p, 1.05 * pump->end_flow, 1.1 * pump->shut_off_head);

          g_assert_cmpuint (curve->n, >, 10);
          g_assert_cmpfloat (curve->points[0].flow, <, 0.01 * pump->flow);
          g_assert_cmpfloat (curve->points[curve->n - 1].flow, >, pump->flow);
          for (guint i = 1; i < curve->n; i++)
            g_assert_true (curve->points[i].flow > curve->points[i - 1].flow
                           && curve->points[i].head > curve->points[i - 1].head);
          g_assert_cmpfloat_with_epsilon (nappe_study_pump_head (study, p, pump->flow), pump->head, 1e-6);
          /* Straight lines between the points are off by less than two millimetres. */
          g_assert_cmpfloat_with_epsilon (head_on_curve (curve, pump->flow), pump->head, 0.002);
          g_assert_cmpfloat_with_epsilon (nappe_study_pump_head (study, p, 0), pump->shut_off_head, 1e-6);
        }
      study_fixture_clear (&fixture);
    }
}

/* With one end the curve begins at the height that the water is lifted to. */
static void
test_begins_at_the_static_head (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "single-drain");
  const NappePumpReport *pump = &fixture.study->pumps[0];
  g_autoptr (NappeSystemCurve) curve = nappe_system_curve_new (fixture.study, 0, pump->end_flow, pump->shut_off_head);

  g_assert_cmpfloat_with_epsilon (curve->points[0].head, pump->static_head, 1e-3);
  study_fixture_clear (&fixture);
}

/* A pump turned down runs where its own curve, lower now, meets that of the system: found here by the whole solver. */
static void
test_foretells_another_speed (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "two-drain");
  const NappeStudy *study = fixture.study;
  const NappePumpReport *pump = &study->pumps[0];
  g_autoptr (NappeSystemCurve) curve = nappe_system_curve_new (study, 0, pump->end_flow, pump->shut_off_head);
  g_autoptr (NappeNetwork) slower = nappe_network_copy (study->network);
  g_autoptr (NappeBalance) balance = nappe_balance_new (slower->n_nodes, slower->n_links);
  NappeState state;

  slower->links[pump->link].speed *= 0.9;
  nappe_state_init (&state, slower);
  nappe_study_run (&state, balance, slower);
  g_assert_cmpint (state.rest, ==, NAPPE_REST_FOUND);
  double head = state.level[slower->links[pump->link].to] - state.level[slower->links[pump->link].from];
  double display = state.level[slower->display] - study->running.level[slower->display];
  g_assert_cmpfloat (state.flow[pump->link], <, pump->flow);
  /* The display stands a little lower with less flow; the curve has the levels of the running state. */
  g_assert_cmpfloat_with_epsilon (head_on_curve (curve, state.flow[pump->link]) + display, head, 0.004);
  nappe_state_clear (&state);
  study_fixture_clear (&fixture);
}

/* The pump that is there meets its system where it runs; another one where it then runs when it is put in its place. */
static void
test_foretells_another_pump (void)
{
  static const char *const items[] = { "dc-pump-6000", "dc-pump-4000", "ac-pump-2000" };

  for (gsize i = 0; i < G_N_ELEMENTS (items); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, "three-drain");
      NappePart *pump = NAPPE_RETURN_LINE (fixture.build->returns->pdata[0])->pump;
      const NappeItem *item = nappe_catalogue_find (fixture.catalogue, items[i]);
      g_autoptr (NappeSystemCurve) curve = nappe_system_curve_new (fixture.study, 0, 12 / 3600.0, 5);
      g_autoptr (GError) error = NULL;
      g_assert_nonnull (item);
      double foretold = nappe_system_curve_meet (curve, item, 1, NAPPE_PUMP (pump)->speed, NAPPE_PUMP (pump)->head_left);
      g_assert_true (nappe_build_set_text (fixture.build, pump, "item", items[i], &error));
      g_assert_no_error (error);
      g_autoptr (NappeStudy) study = nappe_study_build (fixture.build, fixture.catalogue);
      /* The levels change with the flow by millimetres, which the curve does not know. */
      g_test_message ("%s: %.0f L/h foretold, %.0f L/h found", items[i], 3.6e6 * foretold, 3.6e6 * study->pumps[0].flow);
      g_assert_cmpfloat_with_epsilon (foretold, study->pumps[0].flow, 0.03 * study->pumps[0].flow);
      study_fixture_clear (&fixture);
    }
}

static void
test_ends_where_told (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  const NappePumpReport *pump = &fixture.study->pumps[0];
  g_autoptr (NappeSystemCurve) short_one = nappe_system_curve_new (fixture.study, 0, 0.5 * pump->flow, 50);
  g_autoptr (NappeSystemCurve) none = nappe_system_curve_new (fixture.study, 0, pump->flow, -5);
  g_autoptr (NappeSystemCurve) unknown = nappe_system_curve_new (fixture.study, 99, pump->flow, 5);

  g_assert_cmpfloat_with_epsilon (short_one->points[short_one->n - 1].flow, 0.5 * pump->flow, 0.001 * pump->flow);
  g_assert_cmpuint (none->n, ==, 0);
  g_assert_cmpuint (unknown->n, ==, 0);
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/system-curve/meets-where-it-runs", test_meets_where_it_runs);
  g_test_add_func ("/system-curve/begins-at-the-static-head", test_begins_at_the_static_head);
  g_test_add_func ("/system-curve/foretells-another-speed", test_foretells_another_speed);
  g_test_add_func ("/system-curve/foretells-another-pump", test_foretells_another_pump);
  g_test_add_func ("/system-curve/ends-where-told", test_ends_where_told);
  return g_test_run ();
}

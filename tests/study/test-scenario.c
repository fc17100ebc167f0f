/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What would happen if: refusals, water conserved, the standard cases met again, and worse is worse. */
#include "study-fixture.h"

#include "study/scenario.h"

#include <math.h>

static NappeScenario *
what_if (const NappeStudy *study, NappeChangeKind kind, const char *part, double value)
{
  g_autoptr (GError) error = NULL;
  NappeScenarioChange change = { .kind = kind, .value = value };

  g_strlcpy (change.part, part, sizeof change.part);
  NappeScenario *scenario = nappe_scenario_new (study, &change, 1, &error);
  g_assert_no_error (error);
  g_assert_nonnull (scenario);
  return scenario;
}

static void
assert_conserved (const NappeStudy *study, const NappeScenario *scenario)
{
  double before = study_total (&study->running);

  g_assert_cmpint (scenario->outcome.state.rest, !=, NAPPE_REST_NOT_FOUND);
  g_assert_cmpfloat (fabs (study_total (&scenario->outcome.state) - before), <=, 1e-9 * before);
}

static void
assert_same_levels (const NappeStudy *study, const NappeState *one, const NappeState *other, double tolerance)
{
  for (guint i = 0; i < study->network->n_nodes; i++)
    if (study->network->nodes[i].kind != NAPPE_NODE_JUNCTION)
      g_assert_cmpfloat_with_epsilon (one->level[i], other->level[i], tolerance);
}

static void
test_kinds_have_nicks (void)
{
  for (NappeChangeKind kind = NAPPE_CHANGE_BLOCK; kind <= NAPPE_CHANGE_LOAD; kind++)
    {
      NappeChangeKind found;
      g_assert_true (nappe_change_from_nick (nappe_change_nick (kind), &found));
      g_assert_cmpint (found, ==, kind);
    }
  NappeChangeKind untouched = NAPPE_CHANGE_SPEED;
  g_assert_false (nappe_change_from_nick ("explode", &untouched));
  g_assert_false (nappe_change_from_nick (NULL, &untouched));
  g_assert_cmpint (untouched, ==, NAPPE_CHANGE_SPEED);
  g_assert_null (nappe_change_nick ((NappeChangeKind) 99));
}

static void
test_wrong_changes_are_refused (void)
{
  static const struct
  {
    NappeScenarioChange change;
    int code;
  } wrong[] = {
    { { NAPPE_CHANGE_BLOCK, "nothing", 0.5 }, NAPPE_SCENARIO_ERROR_PART },
    { { NAPPE_CHANGE_BLOCK, "", 0.5 }, NAPPE_SCENARIO_ERROR_PART },
    { { NAPPE_CHANGE_BLOCK, "return-pump", 0.5 }, NAPPE_SCENARIO_ERROR_PART },
    { { NAPPE_CHANGE_BLOCK_JOINT, "box", 0.5 }, NAPPE_SCENARIO_ERROR_PART },
    { { NAPPE_CHANGE_OPENING, "channel", 0.5 }, NAPPE_SCENARIO_ERROR_PART },
    { { NAPPE_CHANGE_OPENING, "siphon-union", 0.5 }, NAPPE_SCENARIO_ERROR_PART },
    { { NAPPE_CHANGE_SPEED, "siphon", 0.5 }, NAPPE_SCENARIO_ERROR_PART },
    { { NAPPE_CHANGE_WEAR, "box", 0.5 }, NAPPE_SCENARIO_ERROR_PART },
    { { NAPPE_CHANGE_LOAD, "skimmer", 0.5 }, NAPPE_SCENARIO_ERROR_PART },
    { { NAPPE_CHANGE_BLOCK, "siphon", 1.01 }, NAPPE_SCENARIO_ERROR_RANGE },
    { { NAPPE_CHANGE_BLOCK, "siphon", -0.01 }, NAPPE_SCENARIO_ERROR_RANGE },
    { { NAPPE_CHANGE_SPEED, "return-pump", NAN }, NAPPE_SCENARIO_ERROR_RANGE },
    { { NAPPE_CHANGE_SPEED, "return-pump", INFINITY }, NAPPE_SCENARIO_ERROR_RANGE },
  };
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;
      g_assert_null (nappe_scenario_new (fixture.study, &wrong[i].change, 1, &error));
      g_assert_error (error, NAPPE_SCENARIO_ERROR, wrong[i].code);
    }
  study_fixture_clear (&fixture);
}

static void
test_no_change_changes_nothing (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[i]);
      g_autoptr (NappeScenario) scenario = nappe_scenario_new (fixture.study, NULL, 0, NULL);

      assert_conserved (fixture.study, scenario);
      assert_same_levels (fixture.study, &scenario->outcome.state, &fixture.study->running, 1e-7);
      g_assert_false (scenario->outcome.floods);
      g_assert_cmpuint (scenario->n_drains, ==, fixture.study->n_drains);
      for (guint d = 0; d < scenario->n_drains; d++)
        g_assert_cmpint (scenario->drain_state[d], ==, fixture.study->drains[d].state);
      study_fixture_clear (&fixture);
    }
}

/* A whole drain blocked, and half a weir, are the standard cases; a stopped pump is the power cut with a failed check valve. */
static void
test_standard_cases_are_met_again (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[i]);
      const NappeStudy *study = fixture.study;

      for (guint d = 0; d < study->n_drains; d++)
        {
          g_autoptr (NappeScenario) scenario = what_if (study, NAPPE_CHANGE_BLOCK, study->drains[d].id, 1);
          const NappeBlockage *standard = nappe_study_blockage (study, study->drains[d].id);

          assert_conserved (study, scenario);
          g_assert_cmpint (scenario->outcome.floods, ==, standard->floods);
          assert_same_levels (study, &scenario->outcome.state, &standard->state, 1e-7);
        }
      for (guint w = 0; w < study->n_weirs; w++)
        {
          g_autoptr (NappeScenario) scenario = what_if (study, NAPPE_CHANGE_BLOCK, study->weirs[w].id, 0.5);

          assert_conserved (study, scenario);
          g_assert_cmpfloat (study->weir_blocked[w].display_rise, >, 0);
          assert_same_levels (study, &scenario->outcome.state, &study->weir_blocked[w].state, 1e-7);
        }
      g_autoptr (NappeScenario) stopped = what_if (study, NAPPE_CHANGE_SPEED, "return", 0);
      assert_conserved (study, stopped);
      assert_same_levels (study, &stopped->outcome.state, &study->cut_check_failed.state, 1e-9);
      g_assert_cmpint (stopped->outcome.floods, ==, study->cut_check_failed.state.spilled > 0);
      study_fixture_clear (&fixture);
    }
}

static double
box_level (const NappeStudy *study, const NappeScenario *scenario)
{
  return nappe_study_level (study, &scenario->outcome.state, "box");
}

static void
test_more_blocked_never_lowers_the_box (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[i]);
      const NappeStudy *study = fixture.study;

      for (guint d = 0; d < study->n_drains; d++)
        {
          double box = -INFINITY;

          for (double share = 0; share <= 1; share += 0.03125)
            {
              g_autoptr (NappeScenario) scenario = what_if (study, NAPPE_CHANGE_BLOCK, study->drains[d].id, share);
              double now = box_level (study, scenario);

              assert_conserved (study, scenario);
              g_assert_cmpfloat (now, >=, box - 1e-7);
              box = now;
            }
        }
      study_fixture_clear (&fixture);
    }
}

static void
test_more_weir_blocked_never_lowers_the_display (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      double display = -INFINITY;

      study_fixture_load (&fixture, demo_names[i]);
      for (double share = 0; share <= 1; share += 0.0625)
        {
          g_autoptr (NappeScenario) scenario = what_if (fixture.study, NAPPE_CHANGE_BLOCK, "box", share);
          double now = nappe_study_level (fixture.study, &scenario->outcome.state, "tank");

          assert_conserved (fixture.study, scenario);
          g_assert_cmpfloat (now, >=, display - 1e-7);
          display = now;
        }
      study_fixture_clear (&fixture);
    }
}

static void
test_more_speed_never_lowers_display_or_flow (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      double display = -INFINITY, flow = 0;

      study_fixture_load (&fixture, demo_names[i]);
      for (double speed = 0; speed <= 1; speed += 0.0625)
        {
          g_autoptr (NappeScenario) scenario = what_if (fixture.study, NAPPE_CHANGE_SPEED, "return-pump", speed);
          double now = nappe_study_level (fixture.study, &scenario->outcome.state, "tank");

          assert_conserved (fixture.study, scenario);
          g_assert_cmpfloat (now, >=, display - 1e-7);
          g_assert_cmpfloat (scenario->outcome.state.pump_flow, >=, flow - 1e-10);
          display = now;
          flow = scenario->outcome.state.pump_flow;
        }
      g_assert_cmpfloat (flow, >, 0);
      study_fixture_clear (&fixture);
    }
}

static void
test_wear_never_raises_flow (void)
{
  StudyFixture fixture;
  double flow = 0;

  study_fixture_load (&fixture, "two-drain");
  for (double left = 0; left <= 1; left += 0.125)
    {
      g_autoptr (NappeScenario) scenario = what_if (fixture.study, NAPPE_CHANGE_WEAR, "return", left);

      assert_conserved (fixture.study, scenario);
      g_assert_cmpfloat (scenario->outcome.state.pump_flow, >=, flow - 1e-10);
      flow = scenario->outcome.state.pump_flow;
    }
  study_fixture_clear (&fixture);
}

/* As long as the siphon runs full; wide open it may break. */
static void
test_shutting_a_valve_never_lowers_the_box (void)
{
  StudyFixture fixture;
  double box = INFINITY;
  guint compared = 0;

  study_fixture_load (&fixture, "three-drain");
  for (double opening = 0; opening <= 1; opening += 0.03125)
    {
      g_autoptr (NappeScenario) piece = what_if (fixture.study, NAPPE_CHANGE_OPENING, "siphon-valve", opening);
      g_autoptr (NappeScenario) drain = what_if (fixture.study, NAPPE_CHANGE_OPENING, "siphon", opening);

      assert_conserved (fixture.study, piece);
      g_assert_cmpfloat (box_level (fixture.study, piece), ==, box_level (fixture.study, drain));
      if (piece->drain_state[0] != NAPPE_DRAIN_FULL || piece->outcome.state.rest != NAPPE_REST_FOUND)
        continue;
      g_assert_cmpfloat (box_level (fixture.study, piece), <=, box + 1e-7);
      box = box_level (fixture.study, piece);
      compared++;
    }
  g_assert_cmpuint (compared, >, 8);
  study_fixture_clear (&fixture);
}

/* Every drain's numbers, by its id, whatever its place in the file. */
static void
test_order_of_drains_is_irrelevant (void)
{
  StudyFixture fixture;
  g_autoptr (GError) error = NULL;

  study_fixture_load (&fixture, "three-drain");
  NappeStudy *before = nappe_study_ref (fixture.study);
  for (guint turn = 0; turn < 3; turn++)
    {
      nappe_build_move (fixture.build, fixture.build->drains->pdata[0], turn == 1 ? 1 : 2, &error);
      g_assert_no_error (error);
      study_fixture_again (&fixture);
      for (guint i = 0; i < before->n_drains; i++)
        {
          const NappeDrainReport *old = &before->drains[i], *now = nappe_study_drain (fixture.study, old->id);
          g_autoptr (NappeScenario) blocked = what_if (fixture.study, NAPPE_CHANGE_BLOCK, old->id, 0.8);
          g_autoptr (NappeScenario) blocked_before = what_if (before, NAPPE_CHANGE_BLOCK, old->id, 0.8);

          g_assert_cmpint (now->state, ==, old->state);
          g_assert_cmpint (now->control, ==, old->control);
          g_assert_cmpfloat_with_epsilon (now->flow, old->flow, 1e-9);
          g_assert_cmpfloat_with_epsilon (now->capacity_full, old->capacity_full, 1e-9);
          if (!isnan (old->prime_level))
            g_assert_cmpfloat_with_epsilon (now->prime_level, old->prime_level, 1e-6);
          if (!isnan (old->prime_margin))
            g_assert_cmpfloat_with_epsilon (now->prime_margin, old->prime_margin, 1e-5);
          if (old->window.known)
            g_assert_cmpfloat_with_epsilon (now->window.up, old->window.up, 1e-6);
          g_assert_cmpfloat_with_epsilon (box_level (before, blocked_before), box_level (fixture.study, blocked), 1e-9);
        }
    }
  nappe_study_unref (before);
  study_fixture_clear (&fixture);
}

static void
load_with_style (StudyFixture *fixture, const char *style)
{
  g_autoptr (GError) error = NULL;

  study_fixture_load (fixture, "two-drain");
  nappe_build_set_text (fixture->build, nappe_build_find (fixture->build, "box"), "style", style, &error);
  g_assert_no_error (error);
  study_fixture_again (fixture);
  g_assert_cmpint (fixture->study->running.rest, ==, NAPPE_REST_FOUND);
}

/* Fewer bulkheads or tubes raise the inner box and the display. All blocked, nothing comes down: the display takes what
 * the pump can lift, and the outer box runs out. */
static void
test_lost_joints (void)
{
  const char *const styles[] = { "slim", "rim" };

  for (guint i = 0; i < G_N_ELEMENTS (styles); i++)
    {
      StudyFixture fixture;
      double inner = -INFINITY;

      load_with_style (&fixture, styles[i]);
      const NappeStudy *study = fixture.study;
      for (double share = 0; share <= 1; share += 0.125)
        {
          g_autoptr (NappeScenario) scenario = what_if (study, NAPPE_CHANGE_BLOCK_JOINT, "box", share);
          double now = nappe_study_level (study, &scenario->outcome.state, "box" NAPPE_INNER_SUFFIX);

          assert_conserved (study, scenario);
          g_assert_cmpfloat (now, >=, inner - 1e-7);
          inner = now;
          g_test_message ("%s, %.0f %% blocked: inner box %.4f m, display %.4f m, box %.4f m, spilled %.3f L", styles[i],
                          share * 100, now, nappe_study_level (study, &scenario->outcome.state, "tank"),
                          box_level (study, scenario), scenario->outcome.state.spilled * 1e3);
          if (share < 1)
            continue;
          g_assert_cmpfloat_with_epsilon (inner, nappe_study_level (study, &scenario->outcome.state, "tank"), 1e-6);
          g_assert_cmpfloat (box_level (study, scenario), <=, nappe_study_level (study, &study->running, "box"));
          g_assert_true (scenario->outcome.state.draws_air);
        }
      study_fixture_clear (&fixture);
    }
}

/* A sock that water is led into stands higher the more its cloth has closed, up to its holder's edge. */
static void
test_loaded_sock_stands_higher (void)
{
  StudyFixture fixture;
  g_autoptr (GError) error = NULL;
  double level = -INFINITY;

  study_fixture_load (&fixture, "two-drain");
  NappePart *sock = g_object_new (NAPPE_TYPE_EQUIPMENT, NULL);
  nappe_build_insert (fixture.build, NAPPE_PART (fixture.build), "equipment", G_MAXUINT, sock, &error);
  g_assert_no_error (error);
  g_autofree char *id = g_strdup (nappe_part_get_id (sock));
  nappe_build_set_text (fixture.build, sock, "kind", "sock", &error);
  nappe_build_set_text (fixture.build, sock, "item", "filter-sock-4in", &error);
  nappe_build_set_text (fixture.build, sock, "where", "drain-chamber", &error);
  nappe_build_set_text (fixture.build, nappe_build_find (fixture.build, "siphon-end"), "into", id, &error);
  g_assert_no_error (error);
  study_fixture_set (&fixture, id, "base_height", 0.02);
  study_fixture_again (&fixture);
  for (double load = 0; load <= 1; load += 0.125)
    {
      g_autoptr (NappeScenario) scenario = what_if (fixture.study, NAPPE_CHANGE_LOAD, id, load);
      double now = nappe_study_level (fixture.study, &scenario->outcome.state, id);

      assert_conserved (fixture.study, scenario);
      g_assert_cmpfloat (now, >=, level - 1e-9);
      level = now;
    }
  g_test_message ("sock at %.4f m when all its cloth has closed", level);
  g_object_unref (sock);
  study_fixture_clear (&fixture);
}

/* Several changes at once, and the largest that the generator of absurd values would ask for. */
static void
test_changes_add_up (void)
{
  static const NappeScenarioChange changes[] = {
    { NAPPE_CHANGE_BLOCK, "siphon", 0.5 },
    { NAPPE_CHANGE_BLOCK, "box", 0.3 },
    { NAPPE_CHANGE_SPEED, "return-pump", 1 },
  };
  g_autoptr (GError) error = NULL;
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeScenario) all = nappe_scenario_new (fixture.study, changes, G_N_ELEMENTS (changes), &error);
  g_assert_no_error (error);
  assert_conserved (fixture.study, all);
  for (guint i = 0; i < G_N_ELEMENTS (changes); i++)
    {
      g_autoptr (NappeScenario) one = nappe_scenario_new (fixture.study, &changes[i], 1, &error);
      g_assert_cmpfloat (all->outcome.display_rise, >=, one->outcome.display_rise - 1e-7);
    }
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/scenario/kinds-have-nicks", test_kinds_have_nicks);
  g_test_add_func ("/scenario/wrong-changes-are-refused", test_wrong_changes_are_refused);
  g_test_add_func ("/scenario/no-change-changes-nothing", test_no_change_changes_nothing);
  g_test_add_func ("/scenario/standard-cases-are-met-again", test_standard_cases_are_met_again);
  g_test_add_func ("/scenario/more-blocked-never-lowers-the-box", test_more_blocked_never_lowers_the_box);
  g_test_add_func ("/scenario/more-weir-blocked-never-lowers-the-display", test_more_weir_blocked_never_lowers_the_display);
  g_test_add_func ("/scenario/more-speed-never-lowers-display-or-flow", test_more_speed_never_lowers_display_or_flow);
  g_test_add_func ("/scenario/wear-never-raises-flow", test_wear_never_raises_flow);
  g_test_add_func ("/scenario/shutting-a-valve-never-lowers-the-box", test_shutting_a_valve_never_lowers_the_box);
  g_test_add_func ("/scenario/order-of-drains-is-irrelevant", test_order_of_drains_is_irrelevant);
  g_test_add_func ("/scenario/lost-joints", test_lost_joints);
  g_test_add_func ("/scenario/loaded-sock-stands-higher", test_loaded_sock_stands_higher);
  g_test_add_func ("/scenario/changes-add-up", test_changes_add_up);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cases of the time simulation: which there are, what a written trial becomes, and what is refused. */
#include "study-fixture.h"

#include "study/happening.h"

#include <math.h>
#include <string.h>

static const NappePlan *
find (const GPtrArray *plans, const char *id)
{
  for (guint i = 0; i < plans->len; i++)
    if (g_str_equal (((const NappePlan *) plans->pdata[i])->id, id))
      return plans->pdata[i];
  return NULL;
}

/* Every standard case of every demo can be played, has a name, and an id of its own. */
static void
test_standard_cases_can_be_played (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[i]);
      g_autoptr (GPtrArray) plans = nappe_plans_of (fixture.build, fixture.study);
      g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);

      for (guint p = 0; p < plans->len; p++)
        {
          const NappePlan *plan = plans->pdata[p];
          g_autoptr (GError) error = NULL;
          nappe_plan_check (plan, fixture.study->network, &error);
          g_assert_no_error (error);
          g_assert_cmpstr (plan->title, !=, "");
          g_assert_true (g_hash_table_add (ids, plan->id));
          g_assert_cmpuint (plan->n, >, 0);
          g_assert_cmpfloat (plan->happenings[plan->n - 1].at, <, plan->length);
        }
      study_fixture_clear (&fixture);
    }
}

static void
test_cases_follow_what_is_there (void)
{
  StudyFixture three, single;

  study_fixture_load (&three, "three-drain");
  study_fixture_load (&single, "single-drain");
  g_autoptr (GPtrArray) of_three = nappe_plans_of (three.build, three.study);
  g_autoptr (GPtrArray) of_single = nappe_plans_of (single.build, single.study);

  for (guint i = 0; i < three.study->n_drains; i++)
    {
      g_autofree char *sudden = g_strconcat ("block-", three.study->drains[i].id, NULL);
      g_autofree char *slow = g_strconcat ("block-slowly-", three.study->drains[i].id, NULL);
      g_assert_nonnull (find (of_three, sudden));
      g_assert_cmpfloat (find (of_three, sudden)->happenings[0].over, ==, 0);
      g_assert_cmpfloat (find (of_three, slow)->happenings[0].over, ==, 4 * 3600);
    }
  g_assert_cmpuint (find (of_three, "block-all")->n, ==, three.study->n_drains);
  g_assert_null (find (of_single, "block-all"));
  g_assert_nonnull (find (of_three, "valve-shut-siphon"));
  g_assert_null (find (of_three, "valve-shut-channel"));
  g_assert_cmpint (find (of_three, "top-off-stuck") != NULL, ==, three.study->network->reservoir_volume > 0);
  g_assert_cmpint (find (of_single, "top-off-stuck") != NULL, ==, single.study->network->reservoir_volume > 0);
  g_assert_nonnull (find (of_single, "restart"));
  study_fixture_clear (&three);
  study_fixture_clear (&single);
}

static NappeTrialStep *
step_new (int what, double at, const char *part)
{
  NappeTrialStep *step = g_object_new (NAPPE_TYPE_TRIAL_STEP, NULL);

  step->what = what;
  step->at = at;
  g_free (step->part);
  step->part = g_strdup (part);
  return step;
}

/* Adds a trial with the id to the build; takes its steps, which a NULL ends. */
static void
add_trial (NappeBuild *build, const char *id, NappeTrialStep *first, ...)
{
  g_autoptr (NappePart) trial = g_object_new (NAPPE_TYPE_TRIAL, NULL);
  const NappeSlot *slot = nappe_part_find_slot (trial, "happenings");
  g_autoptr (GError) error = NULL;
  va_list more;

  va_start (more, first);
  for (NappeTrialStep *step = first; step != NULL; step = va_arg (more, NappeTrialStep *))
    {
      nappe_part_attach (trial, slot, G_MAXUINT, NAPPE_PART (step));
      g_object_unref (step);
    }
  va_end (more);
  nappe_part_set_id (trial, id);
  nappe_build_insert (build, NAPPE_PART (build), "trials", G_MAXUINT, trial, &error);
  g_assert_no_error (error);
}

/* A written trial is put in order of time, keeps the order of the file at equal times, and gets an id of its own. */
static void
test_trials_become_plans (void)
{
  StudyFixture fixture;
  NappeTrialStep *leak = step_new (NAPPE_WHAT_LEAK, 50, "tank");

  study_fixture_load (&fixture, "three-drain");
  leak->height = 0.1;
  add_trial (fixture.build, "night", step_new (NAPPE_WHAT_POWER_ON, 700, ""), step_new (NAPPE_WHAT_BLOCK, 50, "siphon"),
             leak, step_new (NAPPE_WHAT_POWER_OFF, 20, ""), NULL);
  add_trial (fixture.build, "power-cut", step_new (NAPPE_WHAT_POWER_OFF, 5, ""), NULL);
  g_autoptr (GPtrArray) plans = nappe_plans_of (fixture.build, fixture.study);
  const NappePlan *night = find (plans, "night");

  g_assert_cmpuint (night->n, ==, 4);
  g_assert_cmpint (night->happenings[0].kind, ==, NAPPE_HAPPEN_POWER_OFF);
  g_assert_cmpint (night->happenings[1].kind, ==, NAPPE_HAPPEN_CHANGE);
  g_assert_cmpstr (night->happenings[1].change.part, ==, "siphon");
  g_assert_cmpfloat (night->happenings[1].change.value, ==, 1);
  g_assert_cmpint (night->happenings[2].kind, ==, NAPPE_HAPPEN_LEAK);
  g_assert_cmpfloat (night->happenings[2].height, ==, 0.1);
  g_assert_cmpfloat (night->happenings[2].bore, ==, 0.006);
  g_assert_cmpint (night->happenings[3].kind, ==, NAPPE_HAPPEN_POWER_ON);
  g_assert_true (nappe_plan_check (night, fixture.study->network, NULL));
  g_assert_cmpfloat (find (plans, "power-cut")->happenings[0].at, ==, 10);
  g_assert_cmpfloat (find (plans, "power-cut-2")->happenings[0].at, ==, 5);
  study_fixture_clear (&fixture);
}

/* A change that names no part befalls every part that it can. */
static void
test_changes_without_a_part (void)
{
  static const int what[] = { NAPPE_WHAT_BLOCK, NAPPE_WHAT_SPEED, NAPPE_WHAT_WEAR, NAPPE_WHAT_OPENING };
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  for (guint i = 0; i < G_N_ELEMENTS (what); i++)
    {
      g_autofree char *id = g_strdup_printf ("all-%u", i);
      add_trial (fixture.build, id, step_new (what[i], 5, ""), NULL);
    }
  g_autoptr (GPtrArray) plans = nappe_plans_of (fixture.build, fixture.study);
  const guint wanted[] = { fixture.study->n_drains, fixture.study->n_pumps, fixture.study->n_pumps, 1 };

  for (guint i = 0; i < G_N_ELEMENTS (what); i++)
    {
      g_autofree char *id = g_strdup_printf ("all-%u", i);
      g_autoptr (GError) error = NULL;
      g_assert_cmpuint (find (plans, id)->n, >=, wanted[i]);
      nappe_plan_check (find (plans, id), fixture.study->network, &error);
      g_assert_no_error (error);
    }
  g_assert_cmpuint (find (plans, "all-0")->n, ==, wanted[0]);
  study_fixture_clear (&fixture);
}

typedef struct
{
  NappeHappening happening;
  int code;           /* NappeScenarioError */
  const char *saying; /* what the message must hold */
} Wrong;

#define CHANGE(k, p, v) .kind = NAPPE_HAPPEN_CHANGE, .change = { k, p, v }
#define OTHER(k, p, v) .kind = k, .change = { .part = p, .value = v }

static const Wrong wrong[] = {
  { { CHANGE (NAPPE_CHANGE_BLOCK, "nobody", 1) }, NAPPE_SCENARIO_ERROR_PART, "nobody" },
  { { CHANGE (NAPPE_CHANGE_BLOCK, "", 1) }, NAPPE_SCENARIO_ERROR_PART, "happening 1" },
  { { CHANGE (NAPPE_CHANGE_BLOCK, "siphon", 1.5) }, NAPPE_SCENARIO_ERROR_RANGE, "siphon" },
  { { CHANGE (NAPPE_CHANGE_BLOCK, "siphon", NAN) }, NAPPE_SCENARIO_ERROR_RANGE, "siphon" },
  { { CHANGE (NAPPE_CHANGE_LOAD, "siphon", 1) }, NAPPE_SCENARIO_ERROR_PART, "siphon" },
  { { .at = -1, .kind = NAPPE_HAPPEN_POWER_OFF }, NAPPE_SCENARIO_ERROR_RANGE, "31" },
  { { .at = NAN, .kind = NAPPE_HAPPEN_POWER_OFF }, NAPPE_SCENARIO_ERROR_RANGE, "31" },
  { { .at = INFINITY, .kind = NAPPE_HAPPEN_POWER_OFF }, NAPPE_SCENARIO_ERROR_RANGE, "31" },
  { { .at = 1, .over = -1, CHANGE (NAPPE_CHANGE_BLOCK, "siphon", 1) }, NAPPE_SCENARIO_ERROR_RANGE, "31" },
  { { OTHER (NAPPE_HAPPEN_BLOCK_HOLE, "siphon", 1) }, NAPPE_SCENARIO_ERROR_PART, "siphon" },
  { { OTHER (NAPPE_HAPPEN_CHECK_STICKS, "nobody", 1) }, NAPPE_SCENARIO_ERROR_PART, "nobody" },
  { { OTHER (NAPPE_HAPPEN_SPEED, "", 2) }, NAPPE_SCENARIO_ERROR_RANGE, "share" },
  { { .bore = 0.01, OTHER (NAPPE_HAPPEN_LEAK, "nobody", 1) }, NAPPE_SCENARIO_ERROR_PART, "nobody" },
  { { .bore = 0.01, OTHER (NAPPE_HAPPEN_LEAK, "", 1) }, NAPPE_SCENARIO_ERROR_PART, "leak" },
  { { .bore = 0.01, OTHER (NAPPE_HAPPEN_LEAK, "siphon", 1) }, NAPPE_SCENARIO_ERROR_PART, "siphon" },
  { { .bore = 0, OTHER (NAPPE_HAPPEN_LEAK, "tank", 1) }, NAPPE_SCENARIO_ERROR_RANGE, "bore" },
  { { .bore = NAN, OTHER (NAPPE_HAPPEN_LEAK, "tank", 1) }, NAPPE_SCENARIO_ERROR_RANGE, "bore" },
  { { .bore = 0.01, .height = 3, OTHER (NAPPE_HAPPEN_LEAK, "tank", 1) }, NAPPE_SCENARIO_ERROR_RANGE, "rim" },
  { { .bore = 0.01, .height = -0.1, OTHER (NAPPE_HAPPEN_LEAK, "tank", 1) }, NAPPE_SCENARIO_ERROR_RANGE, "rim" },
  { { .kind = (NappeHappenKind) 99 }, NAPPE_SCENARIO_ERROR_RANGE, "happening 1" },
};

static void
test_wrong_happenings_are_refused (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      NappeHappening happening = wrong[i].happening;
      NappePlan plan = { (char *) "x", (char *) "X", 100, 1, &happening };
      g_autoptr (GError) error = NULL;

      g_assert_false (nappe_plan_check (&plan, fixture.study->network, &error));
      g_assert_error (error, NAPPE_SCENARIO_ERROR, wrong[i].code);
      g_assert_nonnull (strstr (error->message, wrong[i].saying));
    }
  study_fixture_clear (&fixture);
}

static void
refuse_plan (const NappePlan *plan, const NappeNetwork *network)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (nappe_plan_check (plan, network, &error));
  g_assert_error (error, NAPPE_SCENARIO_ERROR, NAPPE_SCENARIO_ERROR_RANGE);
}

static void
test_wrong_plans_are_refused (void)
{
  static const double lengths[] = { 0, -1, NAN, INFINITY, NAPPE_PLAN_LONGEST + 1 };
  NappeHappening backwards[] = { { .at = 5 }, { .at = 4 } };
  g_autofree NappeHappening *many = g_new0 (NappeHappening, NAPPE_PLAN_HAPPENINGS_MAX + 1);
  NappePlan plan = { (char *) "x", (char *) "X", 100, 0, NULL };
  StudyFixture fixture;

  study_fixture_load (&fixture, "single-drain");
  g_assert_true (nappe_plan_check (&plan, fixture.study->network, NULL));
  plan.n = 2;
  plan.happenings = backwards;
  refuse_plan (&plan, fixture.study->network);
  plan.happenings = many;
  plan.n = NAPPE_PLAN_HAPPENINGS_MAX;
  g_assert_true (nappe_plan_check (&plan, fixture.study->network, NULL));
  plan.n++;
  refuse_plan (&plan, fixture.study->network);
  plan.n = 0;
  for (guint i = 0; i < G_N_ELEMENTS (lengths); i++)
    {
      plan.length = lengths[i];
      refuse_plan (&plan, fixture.study->network);
    }
  study_fixture_clear (&fixture);
}

static void
test_finding_and_copying (void)
{
  StudyFixture fixture;
  g_autoptr (GError) error = NULL;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappePlan) plan = nappe_plan_find (fixture.build, fixture.study, "restart", &error);
  g_assert_no_error (error);
  g_autoptr (NappePlan) copy = nappe_plan_copy (plan);
  g_assert_cmpstr (copy->id, ==, "restart");
  g_assert_cmpmem (copy->happenings, copy->n * sizeof *copy->happenings, plan->happenings,
                   plan->n * sizeof *plan->happenings);
  g_assert_true (copy->happenings != plan->happenings);
  g_assert_null (nappe_plan_find (fixture.build, fixture.study, "explosion", &error));
  g_assert_error (error, NAPPE_SCENARIO_ERROR, NAPPE_SCENARIO_ERROR_PART);
  g_assert_nonnull (strstr (error->message, "explosion"));
  g_assert_nonnull (strstr (error->message, "restart"));
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plans/standard-cases-can-be-played", test_standard_cases_can_be_played);
  g_test_add_func ("/plans/cases-follow-what-is-there", test_cases_follow_what_is_there);
  g_test_add_func ("/plans/trials-become-plans", test_trials_become_plans);
  g_test_add_func ("/plans/changes-without-a-part", test_changes_without_a_part);
  g_test_add_func ("/plans/wrong-happenings-are-refused", test_wrong_happenings_are_refused);
  g_test_add_func ("/plans/wrong-plans-are-refused", test_wrong_plans_are_refused);
  g_test_add_func ("/plans/finding-and-copying", test_finding_and_copying);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules that look at courses of the time simulation: each bound met and missed by hand-made courses, and the demos played. */
#include "rule-fixture.h"

#include "../course-fixture.h"
#include "../demo-build.h"

#include "study/heat.h"

#include <locale.h>

/* Courses of every case that the rules look at, in which nothing happens but that all vessels of a kind rise. */
typedef struct
{
  Fixture *fixture;
  GPtrArray *courses;
} Timed;

static NappeSimulation *
course (Timed *self, const char *id)
{
  for (guint i = 0; i < self->courses->len; i++)
    if (g_str_equal (((NappeSimulation *) self->courses->pdata[i])->plan->id, id))
      return self->courses->pdata[i];
  g_assert_not_reached ();
}

static guint
node (Timed *self, const char *id)
{
  gint index = nappe_network_find_node (self->fixture->network, id);

  g_assert_cmpint (index, >=, 0);
  return (guint) index;
}

/* Every vessel as high as it was, all well in the end. */
static void
calm (NappeSimulation *calm_course, const NappeStudy *study)
{
  calm_course->first_drop = INFINITY;
  calm_course->spilled = 0;
  calm_course->returns = calm_course->settles = TRUE;
  calm_course->n_events = 1;
  for (guint i = 0; i < study->network->n_nodes; i++)
    calm_course->peak[i] = calm_course->lowest[i] = study->running.level[i];
}

static void
timed_init (Timed *self)
{
  static const char *const ids[] = { "power-cut", "restart", "block-siphon", "block-channel", "block-emergency" };

  self->fixture = fixture_new ();
  self->courses = g_ptr_array_new_with_free_func ((GDestroyNotify) course_free);
  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (NappePlan) plan = nappe_plan_find (self->fixture->build, self->fixture->study, ids[i], &error);
      g_assert_no_error (error);
      g_ptr_array_add (self->courses, course_new (self->fixture->study, plan));
      calm (self->courses->pdata[i], self->fixture->study);
    }
  self->fixture->siphon->prime_margin = 1.3;
}

static void
timed_clear (Timed *self)
{
  g_ptr_array_unref (self->courses);
  fixture_free (self->fixture);
}

static void
run (Timed *self)
{
  g_clear_pointer (&self->fixture->verdict, nappe_verdict_free);
  self->fixture->verdict
      = nappe_rules_run_timed (self->fixture->build, self->fixture->study, self->courses, self->fixture->units);
}

static const char *const timed_rules[] = { "power-cut-peaks", "self-restart", "restart-dry", "blocked-peaks" };

static void
test_all_is_well (void)
{
  Timed timed;

  timed_init (&timed);
  run (&timed);
  g_assert_cmpuint (timed.fixture->verdict->findings->len, ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (timed_rules); i++)
    fixture_expect_fine (timed.fixture, timed_rules[i]);
  timed_clear (&timed);
}

static gboolean
speaks (const GPtrArray *findings, const char *rule)
{
  for (guint i = 0; i < findings->len; i++)
    if (g_str_equal (nappe_finding_get_rule (findings->pdata[i]), rule))
      return TRUE;
  return FALSE;
}

/* Without courses these rules are left out; with none of theirs they say that they checked nothing. */
static void
test_without_courses (void)
{
  Timed timed;

  timed_init (&timed);
  fixture_run (timed.fixture);
  for (guint i = 0; i < G_N_ELEMENTS (timed_rules); i++)
    g_assert_false (speaks (timed.fixture->verdict->fine, timed_rules[i]));
  g_ptr_array_set_size (timed.courses, 0);
  run (&timed);
  for (guint i = 0; i < G_N_ELEMENTS (timed_rules); i++)
    fixture_expect_unchecked (timed.fixture, timed_rules[i]);
  timed_clear (&timed);
}

/* The sound build wants 25 mm free under the sump's rim; a hair less at the peak is said, a hair more is not. At rest the drain
 * chamber stands well below. */
static void
test_power_cut_peaks (void)
{
  Timed timed;

  timed_init (&timed);
  NappeSimulation *cut = course (&timed, "power-cut");
  guint chamber = node (&timed, "drain-chamber");
  double rim = timed.fixture->network->nodes[chamber].rim, wanted = NAPPE_BUILD_TARGETS (timed.fixture->build)->sump_freeboard;
  cut->peak[chamber] = rim - wanted - HAIR;
  cut->peak_time[chamber] = 25;
  run (&timed);
  fixture_expect_fine (timed.fixture, "power-cut-peaks");
  cut->peak[chamber] = rim - wanted + HAIR;
  run (&timed);
  fixture_expect_text (fixture_expect (timed.fixture, "power-cut-peaks", "drain-chamber", NAPPE_SEVERITY_ADVICE),
                       "25 mm below its rim, 15 s after", NULL);
  cut->peak[chamber] = rim + 0.001;
  cut->first_drop = 21;
  cut->spilled = 1.5 * LITRE;
  run (&timed);
  fixture_expect_text (fixture_expect (timed.fixture, "power-cut-peaks", "drain-chamber", NAPPE_SEVERITY_DANGER),
                       "first drop falls 11 s after", "1.5 L reach", NULL);
  timed_clear (&timed);
}

/* A cut that floods at rest already is said once, with its time. */
static void
test_flood_at_rest (void)
{
  Timed timed;

  timed_init (&timed);
  timed.fixture->study->cut_check_failed.state.spilled = 9.4 * LITRE;
  timed.fixture->study->cut_check_failed.run_back = 31.4 * LITRE;
  timed.fixture->study->cut_check_failed.sump_free = 22.0 * LITRE;
  course (&timed, "power-cut")->first_drop = 65;
  course (&timed, "power-cut")->spilled = 9.4 * LITRE;
  run (&timed);
  fixture_expect_text (fixture_expect (timed.fixture, "power-cut-fits", "sump", NAPPE_SEVERITY_DANGER),
                       "first drop falls 55 s after it begins, and 9.4 L reach", NULL);
  fixture_expect_unchecked (timed.fixture, "power-cut-peaks");
  fixture_expect_unchecked (timed.fixture, "self-restart");
  fixture_expect_unchecked (timed.fixture, "restart-dry");
  timed_clear (&timed);
}

static void
test_self_restart (void)
{
  Timed timed;

  timed_init (&timed);
  NappeSimulation *restart = course (&timed, "restart");
  restart->returns = FALSE;
  run (&timed);
  fixture_expect (timed.fixture, "self-restart", "tank", NAPPE_SEVERITY_PROBLEM);
  /* The siphon broke and did not run full again. */
  timed.fixture->siphon->prime_margin = 0.8;
  restart->n_events = 2;
  restart->events[1] = (NappeEvent){ .time = 17, .kind = NAPPE_EVENT_BREAKS, .index = timed.fixture->siphon->link };
  run (&timed);
  NappeFinding *finding = fixture_expect (timed.fixture, "self-restart", "siphon", NAPPE_SEVERITY_PROBLEM);
  g_assert_cmpfloat (nappe_finding_get_value (finding), ==, 0.8);
  g_assert_cmpfloat (nappe_finding_get_limit (finding), ==, 1);
  restart->first_drop = 700;
  restart->spilled = 2 * LITRE;
  run (&timed);
  fixture_expect_text (fixture_expect (timed.fixture, "self-restart", "siphon", NAPPE_SEVERITY_DANGER), "2.0 L reach", NULL);
  timed_clear (&timed);
}

static void
test_restart_dry (void)
{
  Timed timed;

  timed_init (&timed);
  NappeSimulation *restart = course (&timed, "restart");
  const NappeLink *pump = fixture_link (timed.fixture, NAPPE_LINK_PUMP, "pump");
  restart->n_events = 2;
  restart->events[1] = (NappeEvent){ .time = 100, .kind = NAPPE_EVENT_PUMP_AIR, .part = "pump",
                                     .index = (guint) (pump - timed.fixture->network->links) };
  run (&timed);
  fixture_expect_fine (timed.fixture, "restart-dry"); /* the power was away */
  restart->events[1].time = 628;
  restart->lowest[pump->from] = pump->pump_inlet + 0.004;
  run (&timed);
  fixture_expect_text (fixture_expect (timed.fixture, "restart-dry", "pump", NAPPE_SEVERITY_PROBLEM),
                       "18 s after the power is back", NULL);
  timed_clear (&timed);
}

static void
test_blocked_peaks (void)
{
  Timed timed;

  timed_init (&timed);
  NappeSimulation *blocked = course (&timed, "block-siphon");
  guint tank = node (&timed, "tank");
  double rim = timed.fixture->network->nodes[tank].rim, wanted = NAPPE_BUILD_TARGETS (timed.fixture->build)->display_freeboard;
  blocked->peak[tank] = rim - wanted - HAIR;
  run (&timed);
  fixture_expect_fine (timed.fixture, "blocked-peaks");
  blocked->peak[tank] = rim - wanted + HAIR;
  run (&timed);
  fixture_expect (timed.fixture, "blocked-peaks", "siphon", NAPPE_SEVERITY_ADVICE);
  blocked->peak[tank] = rim + 0.001;
  blocked->first_drop = 30;
  blocked->spilled = 0.5 * LITRE;
  run (&timed);
  fixture_expect_text (fixture_expect (timed.fixture, "blocked-peaks", "siphon", NAPPE_SEVERITY_DANGER),
                       "falls 20 s after it begins, and 0.5 L reach", NULL);
  timed_clear (&timed);
}

/* What was not followed to its end is never called fine. */
static void
test_not_played_to_the_end (void)
{
  Timed timed;

  timed_init (&timed);
  for (guint i = 0; i < timed.courses->len; i++)
    ((NappeSimulation *) timed.courses->pdata[i])->end = NAPPE_END_FAILED;
  run (&timed);
  fixture_expect (timed.fixture, "power-cut-peaks", "sump", NAPPE_SEVERITY_PROBLEM);
  fixture_expect (timed.fixture, "self-restart", "tank", NAPPE_SEVERITY_PROBLEM);
  fixture_expect (timed.fixture, "blocked-peaks", "channel", NAPPE_SEVERITY_PROBLEM);
  fixture_expect_unchecked (timed.fixture, "restart-dry");
  timed_clear (&timed);
}

typedef struct
{
  const char *demo;
  const char *findings[4]; /* of the timed rules, "rule about part", in order */
} Played;

static const Played played[] = {
  { "three-drain", { NULL } },
  { "two-drain", { "self-restart about siphon" } },
  { "single-drain", { NULL } },
};

/* The demos played: what the timed rules add to what is known without them. */
static void
test_demo (gconstpointer data)
{
  const Played *expected = data;
  DemoBuild demo;
  guint found = 0;

  demo_load (&demo, expected->demo, NAPPE_UNITS_METRIC);
  g_autoptr (NappeHeat) heat = nappe_heat_new (demo.build, demo.catalogue, demo.study);
  g_autoptr (GPtrArray) courses = nappe_rules_play (demo.build, demo.study, heat->evaporation, 2, NULL);
  g_autoptr (NappeVerdict) verdict = nappe_rules_run_timed (demo.build, demo.study, courses, NAPPE_UNITS_METRIC);
  for (guint i = 0; i < verdict->fine->len; i++)
    for (guint k = 0; k < G_N_ELEMENTS (timed_rules); k++)
      if (g_str_equal (nappe_finding_get_rule (verdict->fine->pdata[i]), timed_rules[k]))
        g_test_message ("%s: %s", timed_rules[k], nappe_finding_get_text (verdict->fine->pdata[i]));
  for (guint i = 0; i < verdict->findings->len; i++)
    {
      NappeFinding *finding = verdict->findings->pdata[i];
      g_autofree char *said
          = g_strdup_printf ("%s about %s", nappe_finding_get_rule (finding), nappe_finding_get_part (finding));
      gboolean in_time = FALSE;
      for (guint k = 0; k < G_N_ELEMENTS (timed_rules); k++)
        in_time |= g_str_equal (nappe_finding_get_rule (finding), timed_rules[k]);
      g_test_message ("%s: %s", said, nappe_finding_get_text (finding));
      if (in_time)
        g_assert_cmpstr (said, ==, found < G_N_ELEMENTS (expected->findings) ? expected->findings[found++] : NULL);
    }
  g_assert_true (found == G_N_ELEMENTS (expected->findings) || expected->findings[found] == NULL);
  g_assert_cmpuint (verdict->findings->len, ==, demo.verdict->findings->len + found);
  demo_clear (&demo);
}

int
main (int argc, char *argv[])
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/timed/all-is-well", test_all_is_well);
  g_test_add_func ("/rules/timed/without-courses", test_without_courses);
  g_test_add_func ("/rules/timed/power-cut-peaks", test_power_cut_peaks);
  g_test_add_func ("/rules/timed/flood-at-rest", test_flood_at_rest);
  g_test_add_func ("/rules/timed/self-restart", test_self_restart);
  g_test_add_func ("/rules/timed/restart-dry", test_restart_dry);
  g_test_add_func ("/rules/timed/blocked-peaks", test_blocked_peaks);
  g_test_add_func ("/rules/timed/not-played-to-the-end", test_not_played_to_the_end);
  for (gsize i = 0; i < G_N_ELEMENTS (played); i++)
    {
      g_autofree char *path = g_strconcat ("/rules/timed/demos/", played[i].demo, NULL);
      g_test_add_data_func (path, &played[i], test_demo);
    }
  return g_test_run ();
}

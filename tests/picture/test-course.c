/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of a course of the time simulation, in words and as comma-separated values. */
#include "../course-fixture.h"

#include "../demo-build.h"
#include "picture/curves/course-csv.h"
#include "picture/curves/course-words.h"

typedef struct
{
  DemoBuild demo;
  NappeSimulation *course;
} Shown;

static void
show (Shown *self, const char *demo, const char *plan_id)
{
  g_autoptr (NappePlan) plan = NULL;

  demo_load (&self->demo, demo, NAPPE_UNITS_METRIC);
  plan = nappe_plan_find (self->demo.build, self->demo.study, plan_id, NULL);
  g_assert_nonnull (plan);
  self->course = course_new (self->demo.study, plan);
}

static void
hide (Shown *self)
{
  course_free (self->course);
  demo_clear (&self->demo);
}

static void
assert_text (char *text, const char *wanted)
{
  g_assert_cmpstr (text, ==, wanted);
  g_free (text);
}

static void
test_times (void)
{
  assert_text (nappe_course_time_text (8.4, NAPPE_UNITS_METRIC), "8.4\u2009s");
  assert_text (nappe_course_time_text (750, NAPPE_UNITS_METRIC), "12 min 30 s");
  assert_text (nappe_course_time_text (3599.6, NAPPE_UNITS_METRIC), "60 min");
  assert_text (nappe_course_time_text (3 * 3600 + 5 * 60 + 29, NAPPE_UNITS_METRIC), "3 h 5 min");
  assert_text (nappe_course_time_text (2 * 86400 + 3 * 3600, NAPPE_UNITS_US), "2 d 3 h");
  assert_text (nappe_course_time_text (INFINITY, NAPPE_UNITS_METRIC), "never");
  assert_text (nappe_course_clock_text (0), "0:00:00.0");
  assert_text (nappe_course_clock_text (3725.96), "1:02:06.0");
  assert_text (nappe_course_clock_text (NAN), "0:00:00.0");
  assert_text (nappe_course_clock_text (NAPPE_PLAN_LONGEST), "744:00:00.0");
}

static void
assert_happening (NappeBuild *build, NappeHappening happening, const char *wanted)
{
  assert_text (nappe_course_happening_text (build, &happening, NAPPE_UNITS_METRIC), wanted);
}

static void
test_happenings (void)
{
  Shown shown;

  show (&shown, "three-drain", "power-cut");
  NappeBuild *build = shown.demo.build;
  assert_happening (build, (NappeHappening){ .kind = NAPPE_HAPPEN_POWER_OFF }, "The power fails");
  assert_happening (build,
                    (NappeHappening){
                        .over = 4 * 3600, .kind = NAPPE_HAPPEN_CHANGE, .change = { NAPPE_CHANGE_BLOCK, "siphon", 1 } },
                    "Main siphon: 100% blocked, growing over 4 h");
  assert_happening (build, (NappeHappening){ .kind = NAPPE_HAPPEN_CHANGE, .change = { NAPPE_CHANGE_WEAR, "return-pump", 0.8 } },
                    "Return pump: 20% of its head lost to wear");
  assert_happening (build, (NappeHappening){ .kind = NAPPE_HAPPEN_BLOCK_HOLE, .change = { .value = 1 } },
                    "All siphon-break holes are blocked");
  assert_happening (build, (NappeHappening){ .kind = NAPPE_HAPPEN_NO_TOP_OFF, .change = { .value = 0 } },
                    "The reservoir is filled again");
  assert_happening (build,
                    (NappeHappening){ .kind = NAPPE_HAPPEN_LEAK,
                                      .change = { .part = "drain-chamber" },
                                      .bore = 0.006,
                                      .height = 0.1 },
                    "Drain chamber leaks through a hole of 6\u2009mm, 100\u2009mm over its floor");
  hide (&shown);
}

/* Every kind of event and of happening, and every end, has words of its own. */
static void
test_all_have_words (void)
{
  g_autoptr (GHashTable) said = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Shown shown;

  show (&shown, "three-drain", "power-cut");
  for (int kind = NAPPE_EVENT_HAPPENING; kind <= NAPPE_EVENT_WEIR_WET; kind++)
    {
      NappeEvent event = { .kind = (NappeEventKind) kind, .part = "siphon" };
      char *text = nappe_course_event_text (shown.demo.build, shown.course, &event, NAPPE_UNITS_METRIC);
      g_assert_cmpstr (text, !=, "");
      g_assert_true (g_hash_table_add (said, text));
    }
  for (int kind = NAPPE_HAPPEN_POWER_ON; kind <= NAPPE_HAPPEN_SPEED; kind++)
    {
      NappeHappening happening = { .kind = (NappeHappenKind) kind, .change = { .part = "siphon", .value = 1 } };
      char *text = nappe_course_happening_text (shown.demo.build, &happening, NAPPE_UNITS_METRIC);
      g_assert_cmpstr (text, !=, "");
      g_assert_true (g_hash_table_add (said, text));
    }
  for (int end = NAPPE_COURSE_FLOODS; end <= NAPPE_COURSE_RETURNS; end++)
    {
      g_assert_true (g_hash_table_add (said, g_strdup (nappe_course_end_word ((NappeCourseEnd) end))));
      g_assert_cmpstr (nappe_course_end_nick ((NappeCourseEnd) end), !=, "");
    }
  hide (&shown);
}

static void
test_verdicts (void)
{
  Shown shown;

  show (&shown, "three-drain", "restart");
  NappeBuild *build = shown.demo.build;
  NappeSimulation *course = shown.course;
  g_assert_cmpint (nappe_course_end (course), ==, NAPPE_COURSE_FLOODS);
  assert_text (nappe_course_verdict_text (build, course, NAPPE_UNITS_METRIC),
               "Water reaches the floor: the first drop after 12\u2009s, in the end 2.0\u2009L. "
               "It does not come back to its old state by itself.");
  course->first_drop = INFINITY;
  g_assert_cmpint (nappe_course_end (course), ==, NAPPE_COURSE_LOST);
  course->returns = TRUE;
  assert_text (nappe_course_verdict_text (build, course, NAPPE_UNITS_METRIC),
               "No water reaches the floor. In the end all runs as it did before.");
  course->cycles = TRUE;
  course->period = 6;
  course->swing = 0.04;
  course->end = NAPPE_END_TOO_MUCH;
  g_assert_cmpint (nappe_course_end (course), ==, NAPPE_COURSE_CYCLES);
  assert_text (nappe_course_verdict_text (build, course, NAPPE_UNITS_METRIC),
               "No water reaches the floor. It never comes to rest: a siphon makes and breaks every 6.0\u2009s, and the level "
               "swings by 40\u2009mm. So much happens that it was followed for 20\u2009s only.");
  /* What was not followed to its end promises no dry floor. */
  course->cycles = FALSE;
  assert_text (nappe_course_verdict_text (build, course, NAPPE_UNITS_METRIC),
               "As far as it was followed, no water reaches the floor. So much happens that it was followed for 20\u2009s only.");
  hide (&shown);
}

/* Air counts while the power is on, not while it is away. */
static void
test_air_counts_with_power (void)
{
  Shown shown;

  show (&shown, "three-drain", "restart");
  NappeSimulation *course = shown.course;
  course->first_drop = INFINITY;
  course->events[1].kind = NAPPE_EVENT_PUMP_AIR;
  g_assert_null (nappe_course_air (course));
  course->events[1].time = 611;
  g_assert_true (nappe_course_air (course) == &course->events[1]);
  g_assert_cmpint (nappe_course_end (course), ==, NAPPE_COURSE_DRAWS_AIR);
  g_assert_false (nappe_course_has_power (course->plan, 10));
  g_assert_true (nappe_course_has_power (course->plan, 9.99));
  g_assert_true (nappe_course_has_power (course->plan, 610));
  g_assert_true (nappe_course_find_event (course, NAPPE_EVENT_PUMP_AIR, G_MAXUINT, 11) == &course->events[1]);
  g_assert_null (nappe_course_find_event (course, NAPPE_EVENT_PUMP_AIR, G_MAXUINT, 612));
  g_assert_null (nappe_course_find_event (course, NAPPE_EVENT_PUMP_AIR, course->network->display + 1, 0));
  hide (&shown);
}

static double
cell (char *const *heading, char *const *row, const char *name)
{
  for (guint i = 0; heading[i] != NULL; i++)
    if (g_str_equal (heading[i], name))
      return g_ascii_strtod (row[i], NULL);
  g_test_message ("no column %s", name);
  g_assert_not_reached ();
}

static void
test_csv (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (drawn_names); i++)
    {
      Shown shown;
      show (&shown, drawn_names[i], "power-cut");
      g_autofree char *text = nappe_course_csv (shown.course, 0);
      g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
      g_auto (GStrv) heading = g_strsplit (lines[0], ",", -1);
      g_auto (GStrv) row = g_strsplit (lines[2], ",", -1);
      g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);

      g_assert_cmpuint (g_strv_length (lines), ==, 5);
      for (guint k = 1; k < 4; k++)
        {
          g_auto (GStrv) cells = g_strsplit (lines[k], ",", -1);
          g_assert_cmpuint (g_strv_length (cells), ==, g_strv_length (heading));
        }
      for (guint k = 0; heading[k] != NULL; k++)
        {
          g_assert_true (g_hash_table_add (names, heading[k]));
          g_assert_true (g_ascii_isalnum (heading[k][0]));
        }
      g_assert_cmpfloat (cell (heading, row, "time_seconds"), ==, 10);
      g_assert_cmpfloat (cell (heading, row, "on_the_floor_litres"), ==, 0);
      const NappeNetwork *network = shown.course->network;
      g_assert_cmpfloat_with_epsilon (cell (heading, row, "tank_level_mm"),
                                      1000 * shown.demo.study->running.level[network->display] + 1, 1e-3);
      hide (&shown);
    }
}

static void
test_even_rows (void)
{
  Shown shown;

  show (&shown, "three-drain", "power-cut");
  g_autofree char *text = nappe_course_csv (shown.course, 8);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  g_auto (GStrv) heading = g_strsplit (lines[0], ",", -1);
  static const double times[] = { 0, 8, 16, 20 }, floor[] = { 0, 0, 1.2, 2 };
  g_assert_cmpuint (g_strv_length (lines), ==, 6);
  for (guint k = 0; k < 4; k++)
    {
      g_auto (GStrv) row = g_strsplit (lines[k + 1], ",", -1);
      g_assert_cmpfloat (cell (heading, row, "time_seconds"), ==, times[k]);
      g_assert_cmpfloat_with_epsilon (cell (heading, row, "on_the_floor_litres"), floor[k], 1e-9);
      g_assert_cmpfloat_with_epsilon (cell (heading, row, "siphon_flow_litres_per_hour"), 100, 1e-9);
    }
  g_assert_null (nappe_course_csv (shown.course, 1e-6));
  hide (&shown);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/course/times", test_times);
  g_test_add_func ("/course/happenings", test_happenings);
  g_test_add_func ("/course/all-have-words", test_all_have_words);
  g_test_add_func ("/course/verdicts", test_verdicts);
  g_test_add_func ("/course/air-counts-with-power", test_air_counts_with_power);
  g_test_add_func ("/course/csv", test_csv);
  g_test_add_func ("/course/even-rows", test_even_rows);
  return g_test_run ();
}

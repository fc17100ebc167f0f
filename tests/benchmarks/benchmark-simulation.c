/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long the largest demo takes in time: one case, and all of them on two threads. */
#include "demo.h"
#include "stopwatch.h"

#include "study/courses.h"
#include "study/heat.h"

typedef struct
{
  const NappeStudy *study;
  GPtrArray *plans;
  NappePlan *restart;
  double evaporation;
} Cases;

static void
play_restart (gpointer data)
{
  const Cases *cases = data;
  g_autoptr (NappeSimulation) course
      = nappe_simulation_new (cases->study, cases->restart, cases->evaporation, NULL, NULL, NULL, NULL);

  g_assert_nonnull (course);
}

static void
play_all (gpointer data)
{
  const Cases *cases = data;
  g_autoptr (GPtrArray) courses = nappe_courses_new (cases->study, cases->plans, cases->evaporation, 2, NULL);

  g_assert_cmpuint (courses->len, ==, cases->plans->len);
}

static void
print_work (const NappeSimulation *course)
{
  g_print ("  %-30s %6ld steps, %6ld evaluations, %6ld jacobians, %4u events, %5u frames\n", course->plan->id, course->steps,
           course->evaluations, course->jacobians, course->n_events, course->n_frames);
}

int
main (void)
{
  Demo demo;
  Cases cases;
  g_autoptr (GError) error = NULL;

  demo_load (&demo);
  g_autoptr (NappeHeat) heat = nappe_heat_new (demo.build, demo.catalogue, demo.study);
  cases = (Cases){ demo.study, nappe_plans_of (demo.build, demo.study),
                   nappe_plan_find (demo.build, demo.study, "restart", &error), heat->evaporation };
  g_assert_no_error (error);
  stopwatch_run ("power cut and restart, 30 min of it", 100, 1e-2, play_restart, &cases);
  stopwatch_run_wall ("every case on two threads", 20, 0.15, play_all, &cases);
  g_autoptr (GPtrArray) courses = nappe_courses_new (demo.study, cases.plans, cases.evaporation, 2, NULL);
  for (guint i = 0; i < courses->len; i++)
    print_work (courses->pdata[i]);
  nappe_plan_free (cases.restart);
  g_ptr_array_unref (cases.plans);
  demo_clear (&demo);
  return 0;
}

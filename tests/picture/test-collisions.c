/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nothing that is written collides: every kind of picture, chart and curves of every build, in both states and at a moment
 * of a restart, in both unit systems, on a wide window and on a narrow one, with texts as they are and twice as large. */
#include <string.h>

#include "../study/random-build.h"
#include "picture-fixture.h"
#include "picture/charts/chart.h"
#include "picture/curves/curves.h"
#include "picture/picture-private.h"

/* Builds at random, and how many of them one test draws. */
/* A sanitizer makes each take ten times as long. */
#ifdef __SANITIZE_ADDRESS__
#define N_RANDOM 10
#else
#define N_RANDOM 100
#endif
#define AT_A_TIME 10

static const double sizes[][2] = { { 1440, 900 }, { 360, 640 } };

/* Of the restart after a power cut [s]. */
#define MOMENT 40.0

typedef struct
{
  PictureFixture *fixture;
  const NappeSimulation *course; /* a restart; NULL: this build has none */
  const char *name;
  double width, height, text_scale;
  NappeUnitSystem units;
} Paper;

/* What had no room on the paper is said of its part. */
static void
check_lost (NappePicture *picture, const char *what)
{
  guint n_lost, n_items;
  const NappeLostText *lost = nappe_scene_lost (picture->scene, &n_lost);
  const NappePictureItem *items = nappe_picture_items (picture, &n_items);

  for (guint i = 0; i < n_lost; i++)
    {
      gboolean said = FALSE;

      for (guint k = 0; k < n_items && !said; k++)
        said = g_str_equal (items[k].part, lost[i].part)
               && (strstr (items[k].description, lost[i].text) || strstr (items[k].label, lost[i].text));
      if (!said)
        g_test_message ("%s: “%s” of %s had no room and is not said", what, lost[i].text, lost[i].part);
      if (!said)
        g_test_fail ();
    }
}

static void
check_picture (const Paper *paper, NappePictureKind kind, NappeShownState shown)
{
  static const char *const kinds[] = { "elevation", "flow", "plan", "panes" };
  NappePictureOptions options = picture_options (kind, paper->width, paper->height, shown);

  options.course = paper->course;
  options.moment = MOMENT;
  options.units = paper->units;
  options.text_scale = paper->text_scale;
  g_autoptr (NappePicture) picture = picture_of (paper->fixture, &options);
  g_autofree char *what = g_strdup_printf ("%s, %s, state %d, %g × %g, texts × %g, units %d", paper->name, kinds[kind], shown,
                                           paper->width, paper->height, paper->text_scale, paper->units);
  picture_check_labels (picture, what);
  check_lost (picture, what);
}

static void
check_charts (const Paper *paper)
{
  g_autoptr (GPtrArray) choices = nappe_chart_choices (paper->fixture->build, paper->fixture->study);

  for (guint i = 0; i < choices->len; i++)
    {
      const NappeChartChoice *choice = choices->pdata[i];
      const NappeChartOptions options = { .kind = choice->kind, .part = choice->part, .palette = NAPPE_PALETTE_LIGHT,
                                          .units = paper->units, .width = paper->width, .height = paper->height,
                                          .text_scale = paper->text_scale, .title = TRUE,
                                          .verdict = paper->fixture->verdict };
      g_autoptr (NappePicture) picture = nappe_chart_new (&options, paper->fixture->build, paper->fixture->study);
      g_autofree char *what = g_strdup_printf ("%s, chart %s of %s, %g × %g, texts × %g, units %d", paper->name,
                                               nappe_chart_nick (choice->kind), choice->part, paper->width, paper->height,
                                               paper->text_scale, paper->units);
      picture_check_labels (picture, what);
      check_lost (picture, what);
    }
}

static void
check_course (const Paper *paper)
{
  const NappeCurvesOptions options = { .palette = NAPPE_PALETTE_LIGHT, .units = paper->units, .width = paper->width,
                                       .height = paper->height, .text_scale = paper->text_scale, .title = TRUE,
                                       .cursor = MOMENT };
  g_autoptr (NappePicture) curves = NULL;
  g_autofree char *what = g_strdup_printf ("%s, curves, %g × %g, texts × %g, units %d", paper->name, paper->width,
                                           paper->height, paper->text_scale, paper->units);

  if (paper->course == NULL)
    return;
  curves = nappe_curves_new (&options, paper->fixture->build, paper->course);
  picture_check_labels (curves, what);
  check_lost (curves, what);
  check_picture (paper, NAPPE_PICTURE_ELEVATION, NAPPE_SHOW_MOMENT);
  check_picture (paper, NAPPE_PICTURE_FLOW, NAPPE_SHOW_MOMENT);
}

/* NULL: there is nothing to start again. */
static NappeSimulation *
play_restart (PictureFixture *fixture)
{
  g_autoptr (GPtrArray) plans = nappe_plans_of (fixture->build, fixture->study);

  for (guint i = 0; i < plans->len; i++)
    if (g_str_equal (((NappePlan *) plans->pdata[i])->id, "restart"))
      return nappe_simulation_new (fixture->study, plans->pdata[i], 0, NULL, NULL, NULL, NULL);
  return NULL;
}

static void
check_build (PictureFixture *fixture, const char *name)
{
  g_autoptr (NappeSimulation) course = play_restart (fixture);

  for (guint size = 0; size < G_N_ELEMENTS (sizes); size++)
    for (guint text = 1; text <= 2; text++)
      for (NappeUnitSystem units = NAPPE_UNITS_METRIC; units <= NAPPE_UNITS_US; units++)
        {
          const Paper paper = { fixture, course, name, sizes[size][0], sizes[size][1], text, units };

          for (NappePictureKind kind = NAPPE_PICTURE_ELEVATION; kind <= NAPPE_PICTURE_PANELS; kind++)
            for (NappeShownState shown = NAPPE_SHOW_RUNNING; shown <= NAPPE_SHOW_POWER_CUT; shown++)
              check_picture (&paper, kind, shown);
          check_charts (&paper);
          check_course (&paper);
        }
}

static void
test_drawn (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);

  check_build (fixture, name);
}

static void
test_random (gconstpointer data)
{
  guint first = GPOINTER_TO_UINT (data);

  for (guint seed = first; seed < first + AT_A_TIME; seed++)
    {
      g_autoptr (GRand) random = g_rand_new_with_seed (seed);
      g_autofree char *text = random_build_text (random), *name = g_strdup_printf ("random build %u", seed);
      g_autoptr (PictureFixture) fixture = picture_fixture_from_text (text);

      check_build (fixture, name);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  for (guint i = 0; i < DRAWN_COUNT; i++)
    {
      g_autofree char *path = g_strconcat ("/collisions/drawn/", drawn_names[i], NULL);
      g_test_add_data_func (path, drawn_names[i], test_drawn);
    }
  g_test_add_data_func ("/collisions/drawn/pair", "demo-builds/pair", test_drawn);
  g_test_add_data_func ("/collisions/drawn/topped-up", "demo-builds/topped-up", test_drawn);
  for (guint i = 0; i < N_RANDOM; i += AT_A_TIME)
    {
      g_autofree char *path = g_strdup_printf ("/collisions/random/%u", i);
      g_test_add_data_func (path, GUINT_TO_POINTER (i), test_random);
    }
  return g_test_run ();
}

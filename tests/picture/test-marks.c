/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Findings have the same marks in every picture and chart, and the picked part is marked in each. */
#include <string.h>

#include "picture-fixture.h"
#include "picture/charts/chart.h"
#include "picture/picture-private.h"
#include "picture/scene-private.h"

static const NappePictureKind kinds[] = { NAPPE_PICTURE_ELEVATION, NAPPE_PICTURE_FLOW, NAPPE_PICTURE_PLAN, NAPPE_PICTURE_PANELS };

static NappePicture *
draw (PictureFixture *fixture, NappePictureKind kind, const char *selected)
{
  NappePictureOptions options = picture_options (kind, 1440, 900, NAPPE_SHOW_RUNNING);

  options.selected = selected;
  return picture_of (fixture, &options);
}

static NappePicture *
draw_chart (PictureFixture *fixture, NappeChartKind kind, const char *part, const char *selected)
{
  const NappeChartOptions options = { .kind = kind, .part = part, .palette = NAPPE_PALETTE_LIGHT, .units = NAPPE_UNITS_METRIC,
                                      .width = 1200, .height = 800, .text_scale = 1, .title = TRUE, .selected = selected,
                                      .verdict = fixture->verdict };

  return nappe_chart_new (&options, fixture->build, fixture->study);
}

/* Signs with the number of a finding: in the drawing, and in the key under it. */
static guint
count_signs (NappePicture *picture, guint number)
{
  g_autofree char *digits = g_strdup_printf ("%u", number);
  guint n_blocks, n_labels, found = 0;
  const NappeBlock *blocks = nappe_scene_blocks (picture->scene, &n_blocks);
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n_labels);

  for (guint i = 0; i < n_labels; i++)
    for (guint k = 0; k < n_blocks && g_str_equal (labels[i].text, digits); k++)
      if (blocks[k].kind == NAPPE_BLOCK_SIGN
          && nappe_box_contains (&blocks[k].box, labels[i].x + labels[i].width / 2, labels[i].y + labels[i].height / 2))
        found++;
  return found;
}

static gboolean
has_label (NappePicture *picture, const char *text)
{
  guint n;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n);

  for (guint i = 0; i < n; i++)
    if (g_str_equal (labels[i].text, text))
      return TRUE;
  return FALSE;
}

/* A finding about a part of the picture has one mark in it and one in its key, and its part tells of it. */
static guint
check_marks (PictureFixture *fixture, NappePicture *picture, const char *what)
{
  guint marked = 0;

  for (guint i = 0; i < fixture->verdict->findings->len; i++)
    {
      NappeFinding *finding = fixture->verdict->findings->pdata[i];
      const NappePictureItem *item = picture_item (picture, nappe_finding_get_part (finding));
      guint number = nappe_finding_get_number (finding);

      if (item == NULL)
        continue;
      marked++;
      if (count_signs (picture, number) != 2)
        g_test_fail_printf ("%s: finding %u has %u signs", what, number, count_signs (picture, number));
      if (!has_label (picture, nappe_finding_get_title (finding)))
        g_test_fail_printf ("%s: nothing says what sign %u means", what, number);
      if (strstr (item->description, nappe_finding_get_title (finding)) == NULL)
        g_test_fail_printf ("%s: “%s” does not tell of finding %u", what, item->label, number);
    }
  return marked;
}

/* The elevation and the flow diagram mark every finding, those about the whole build beside the title; the elevation has a
 * key too. */
static void
test_every_finding (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  g_autoptr (NappePicture) elevation = draw (fixture, NAPPE_PICTURE_ELEVATION, NULL);
  g_autoptr (NappePicture) flow = draw (fixture, NAPPE_PICTURE_FLOW, NULL);

  for (guint i = 0; i < fixture->verdict->findings->len; i++)
    {
      guint number = nappe_finding_get_number (fixture->verdict->findings->pdata[i]);

      g_assert_cmpuint (count_signs (elevation, number), ==, 2);
      g_assert_cmpuint (count_signs (flow, number), ==, 1);
    }
}

static void
test_findings_in_plans (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("two-drain");
  g_autoptr (NappePicture) plan = draw (fixture, NAPPE_PICTURE_PLAN, NULL);
  g_autoptr (NappePicture) panes = draw (fixture, NAPPE_PICTURE_PANELS, NULL);

  g_assert_cmpuint (check_marks (fixture, plan, "plan"), >=, 4);
  g_assert_cmpuint (check_marks (fixture, panes, "panes"), >=, 4);
}

/* Of the box of a finding's sign. */
static gboolean
is_in_sign (const NappeScene *scene, double x, double y)
{
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (scene, &n);

  for (guint i = 0; i < n; i++)
    if (blocks[i].kind == NAPPE_BLOCK_SIGN && nappe_box_contains (&blocks[i].box, x, y))
      return TRUE;
  return FALSE;
}

/* How many texts the lines from marks to their parts go through. A line may begin or end in one. */
static guint
count_crossed_texts (const NappeScene *scene, guint *lines)
{
  guint crossed = 0;

  *lines = 0;
  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const NappeShape *shape = &g_array_index (scene->shapes, NappeShape, i);
      const NappeStep *steps = &g_array_index (scene->steps, NappeStep, shape->first);

      /* It is drawn from the part to the middle of the mark. */
      if (shape->text != NULL || shape->n != 2 || shape->layer != NAPPE_LAYER_NOTE || shape->style.stroke != NAPPE_ROLE_SOFT
          || !is_in_sign (scene, steps[1].at[0], steps[1].at[1]))
        continue;
      (*lines)++;
      for (guint k = 0; k < scene->labels->len; k++)
        {
          const NappePictureLabel *label = &g_array_index (scene->labels, NappePictureLabel, k);
          NappeBox box = { label->x, label->y, label->width, label->height };

          if (nappe_box_meets_line (&box, steps[0].at[0], steps[0].at[1], steps[1].at[0], steps[1].at[1])
              && !nappe_box_contains (&box, steps[0].at[0], steps[0].at[1])
              && !is_in_sign (scene, box.x + box.width / 2, box.y + box.height / 2))
            crossed++;
        }
    }
  return crossed;
}

/* Two holes close together with many findings: their marks stand around words. */
static void
test_lines_clear_of_words (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("two-drain");

  for (double width = 1000; width <= 1440; width += 40)
    {
      NappePictureOptions options = picture_options (NAPPE_PICTURE_PANELS, width, 790, NAPPE_SHOW_RUNNING);
      g_autoptr (NappePicture) picture = picture_of (fixture, &options);
      guint lines;

      g_assert_cmpuint (count_crossed_texts (picture->scene, &lines), ==, 0);
      g_assert_cmpuint (lines, >=, 2);
    }
}

static void
test_findings_in_charts (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("two-drain");
  g_autoptr (NappePicture) tuning = draw_chart (fixture, NAPPE_CHART_TUNING, "siphon", NULL);
  g_autoptr (NappePicture) cut = draw_chart (fixture, NAPPE_CHART_RUN_DOWN, NULL, NULL);
  g_autoptr (NappePicture) head = draw_chart (fixture, NAPPE_CHART_HEAD, "siphon", NULL);

  g_assert_cmpuint (check_marks (fixture, tuning, "tuning window"), >=, 2);
  g_assert_cmpuint (check_marks (fixture, cut, "power cut"), >=, 1);
  g_assert_cmpuint (check_marks (fixture, head, "head lost"), >=, 1);
}

/* A chart without findings has no key, and all its room. */
static void
test_chart_without (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  const char *pump = fixture->study->pumps[0].id;
  g_autoptr (NappePicture) picture = draw_chart (fixture, NAPPE_CHART_PUMP, pump, NULL);
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (picture->scene, &n);

  for (guint i = 0; i < n; i++)
    g_assert_cmpint (blocks[i].kind, !=, NAPPE_BLOCK_SIGN);
}

/* Whether picking a part draws anything more. */
static gboolean
shows_picked (NappePicture *plain, NappePicture *picked)
{
  g_autofree char *before = nappe_scene_describe (plain->scene), *after = nappe_scene_describe (picked->scene);

  return strlen (after) > strlen (before);
}

/* Every part that a picture tells of is marked in it when it is picked. */
static void
test_picked (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);

  for (guint kind = 0; kind < G_N_ELEMENTS (kinds); kind++)
    {
      g_autoptr (NappePicture) plain = draw (fixture, kinds[kind], NULL);
      guint n;
      const NappePictureItem *items = nappe_picture_items (plain, &n);

      g_assert_cmpuint (n, >=, 2);
      for (guint i = 0; i < n; i++)
        {
          g_autoptr (NappePicture) picked = draw (fixture, kinds[kind], items[i].part);
          if (!shows_picked (plain, picked))
            g_test_fail_printf ("%s, kind %u: “%s” is not marked", (const char *) name, kinds[kind], items[i].label);
        }
    }
}

static void
test_picked_in_charts (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  g_autoptr (GPtrArray) choices = nappe_chart_choices (fixture->build, fixture->study);

  for (guint c = 0; c < choices->len; c++)
    {
      const NappeChartChoice *choice = choices->pdata[c];
      g_autoptr (NappePicture) plain = draw_chart (fixture, choice->kind, choice->part, NULL);
      guint n;
      const NappePictureItem *items = nappe_picture_items (plain, &n);

      for (guint i = 0; i < n; i++)
        {
          g_autoptr (NappePicture) picked = draw_chart (fixture, choice->kind, choice->part, items[i].part);
          if (!shows_picked (plain, picked))
            g_test_fail_printf ("%s, %s: “%s” is not marked", (const char *) name, choice->title, items[i].label);
        }
    }
}

/* A piece that a picture does not show by itself is marked as what it belongs to; a part that belongs to nothing there is
 * not marked. */
static void
test_picked_piece (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");

  for (guint kind = 0; kind < G_N_ELEMENTS (kinds); kind++)
    {
      g_autoptr (NappePicture) plain = draw (fixture, kinds[kind], NULL);
      g_autoptr (NappePicture) piece = draw (fixture, kinds[kind], "siphon-valve");
      g_autoptr (NappePicture) nobody = draw (fixture, kinds[kind], "nobody");
      g_assert_true (shows_picked (plain, piece));
      g_assert_false (shows_picked (plain, nobody));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/marks/findings-in-plans", test_findings_in_plans);
  g_test_add_func ("/marks/lines-clear-of-words", test_lines_clear_of_words);
  g_test_add_func ("/marks/findings-in-charts", test_findings_in_charts);
  g_test_add_func ("/marks/chart-without", test_chart_without);
  g_test_add_func ("/marks/picked-piece", test_picked_piece);
  for (guint i = 0; i < DRAWN_COUNT; i++)
    {
      g_autofree char *every = g_strconcat ("/marks/every-finding/", drawn_names[i], NULL);
      g_test_add_data_func (every, drawn_names[i], test_every_finding);
    }
  for (guint i = 0; i < DRAWN_COUNT; i++)
    {
      g_autofree char *path = g_strconcat ("/marks/picked/", drawn_names[i], NULL);
      g_autofree char *charts = g_strconcat ("/marks/picked-in-charts/", drawn_names[i], NULL);
      g_test_add_data_func (path, drawn_names[i], test_picked);
      g_test_add_data_func (charts, drawn_names[i], test_picked_in_charts);
    }
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts: their numbers are the study's, nothing collides, everything is said in words. */
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "picture-fixture.h"
#include "picture/charts/chart-curve.h"
#include "picture/charts/chart.h"
#include "picture/picture-private.h"
#include "study/head-ledger.h"

/* Boxes of neighbouring lines may share an edge; less than this is no overlap [px]. */
#define TOUCH 0.5

static const double sizes[][2]
    = { { 1200, 700 }, { 700, 500 }, { 360, 600 }, { 360, 240 }, { 240, 240 }, { 200, 120 }, { 16, 16 } };

static NappeChartOptions
options_of (const NappeChartChoice *choice, double width, double height)
{
  return (NappeChartOptions) { .kind = choice->kind, .part = choice->part, .palette = NAPPE_PALETTE_LIGHT,
                               .units = NAPPE_UNITS_METRIC, .width = width, .height = height, .text_scale = 1, .title = TRUE };
}

static gboolean
has_label (NappePicture *picture, const char *part)
{
  guint n;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n);
  for (guint i = 0; i < n; i++)
    if (strstr (labels[i].text, part))
      return TRUE;
  return FALSE;
}

static gboolean
has_number (NappePicture *picture, NappeQuantity quantity, double value)
{
  g_autofree char *text = nappe_quantity_format (quantity, value, NAPPE_UNITS_METRIC, 0);
  return has_label (picture, text);
}

static void
check_labels (NappePicture *picture, const char *what)
{
  guint n;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n);
  for (guint i = 0; i < n; i++)
    {
      NappeBox box = nappe_box_grown ((NappeBox) { labels[i].x, labels[i].y, labels[i].width, labels[i].height }, -TOUCH / 2);
      if (picture->width >= 100 && (box.x < -TOUCH || box.x + box.width > picture->width + TOUCH))
        g_test_fail_printf ("%s: “%s” leaves the paper", what, labels[i].text);
      for (guint k = i + 1; k < n; k++)
        {
          NappeBox other
              = nappe_box_grown ((NappeBox){ labels[k].x, labels[k].y, labels[k].width, labels[k].height }, -TOUCH / 2);
          if (nappe_box_overlaps (&box, &other) && *labels[i].text != '\0' && *labels[k].text != '\0' && picture->width >= 100)
            g_test_fail_printf ("%s: “%s” lies on “%s”", what, labels[i].text, labels[k].text);
        }
    }
}

/* Every chart of every build, in all sizes, palettes and units, with and without bands. */
static void
test_labels (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  g_autoptr (GPtrArray) choices = nappe_chart_choices (fixture->build, fixture->study);
  g_autoptr (NappeSpread) spread = nappe_spread_new (fixture->study, 20, 0, 2, NULL);
  g_assert_cmpuint (choices->len, >=, 4);
  for (guint c = 0; c < choices->len; c++)
    for (guint size = 0; size < G_N_ELEMENTS (sizes); size++)
      for (NappePaletteKind palette = NAPPE_PALETTE_LIGHT; palette <= NAPPE_PALETTE_PRINT; palette++)
        {
          NappeChartOptions options = options_of (choices->pdata[c], sizes[size][0], sizes[size][1]);
          options.palette = palette;
          options.units = palette == NAPPE_PALETTE_PRINT ? NAPPE_UNITS_US : NAPPE_UNITS_METRIC;
          options.text_scale = palette == NAPPE_PALETTE_DARK ? 1.4 : 1;
          options.spread = palette == NAPPE_PALETTE_LIGHT ? spread : NULL;
          options.selected = options.part;
          g_autoptr (NappePicture) picture = nappe_chart_new (&options, fixture->build, fixture->study);
          g_autofree char *what
              = g_strdup_printf ("%s %s of %s, %.0f×%.0f, palette %d", (const char *) name,
                                 nappe_chart_nick (options.kind), options.part, options.width, options.height, palette);
          check_labels (picture, what);
          g_assert_nonnull (picture_item (picture, options.part));
        }
}

static NappePicture *
chart (PictureFixture *fixture, NappeChartKind kind, const char *part, const NappeSpread *spread)
{
  NappeChartChoice choice = { kind, (char *) part, NULL };
  NappeChartOptions options = options_of (&choice, 1200, 900);
  options.spread = spread;
  return nappe_chart_new (&options, fixture->build, fixture->study);
}

static gboolean
is_picked_somewhere (NappePicture *picture, const char *part)
{
  for (double y = 0; y < picture->height; y += 5)
    for (double x = 0; x < picture->width; x += 5)
      if (g_strcmp0 (nappe_picture_pick (picture, x, y), part) == 0)
        return TRUE;
  return FALSE;
}

static void
test_pump (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  const NappePumpReport *pump = &fixture->study->pumps[0];
  g_autoptr (NappeSpread) spread = nappe_spread_new (fixture->study, 60, 0, 2, NULL);
  g_autoptr (NappePicture) picture = chart (fixture, NAPPE_CHART_PUMP, pump->id, spread);
  g_assert_true (has_number (picture, NAPPE_QUANTITY_FLOW, pump->flow));
  g_assert_true (has_number (picture, NAPPE_QUANTITY_HEAD, pump->head));
  g_assert_true (has_number (picture, NAPPE_QUANTITY_HEAD, pump->shut_off_head));
  g_assert_true (has_number (picture, NAPPE_QUANTITY_FLOW, pump->end_flow));
  g_assert_true (has_number (picture, NAPPE_QUANTITY_FLOW, spread->flow[pump->link].high));
  g_assert_true (has_label (picture, "what the pump gives"));
  g_assert_true (has_label (picture, "what the system asks"));
  g_assert_nonnull (picture_item (picture, pump->line));
  g_assert_true (is_picked_somewhere (picture, pump->id));
  g_assert_true (is_picked_somewhere (picture, pump->line));
  g_autoptr (NappePicture) without = chart (fixture, NAPPE_CHART_PUMP, pump->id, NULL);
  g_assert_false (has_label (without, "9 in 10"));
}

/* Each piece has its bar, as long as its share of the head, and its head beside it. */
static void
test_head (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  const char *line = fixture->study->pumps[0].line;
  NappeHeadLedger *ledger = nappe_head_ledger_new (fixture->study, &fixture->study->running, line);
  g_autoptr (NappePicture) picture = chart (fixture, NAPPE_CHART_HEAD, line, NULL);
  g_assert_cmpuint (ledger->n, >, 10);
  for (guint i = 0; i < ledger->n; i++)
    {
      g_assert_true (has_number (picture, NAPPE_QUANTITY_LENGTH, ledger->lines[i].head));
      if (*ledger->lines[i].piece != '\0')
        {
          const NappePictureItem *item = picture_item (picture, ledger->lines[i].piece);
          g_assert_nonnull (item);
          g_assert_cmpstr (nappe_picture_pick (picture, item->x + item->width / 2, item->y + 3), ==, ledger->lines[i].piece);
        }
    }
  nappe_head_ledger_free (ledger);
}

/* Where there is no room for all bars the rest is still said. */
static void
test_small_says_all (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  NappeChartChoice choice = { NAPPE_CHART_HEAD, fixture->study->pumps[0].line, NULL };
  NappeChartOptions large = options_of (&choice, 1200, 900), small = options_of (&choice, 400, 200);
  g_autoptr (NappePicture) all = nappe_chart_new (&large, fixture->build, fixture->study);
  g_autoptr (NappePicture) some = nappe_chart_new (&small, fixture->build, fixture->study);
  guint n_all, n_some, labels_all, labels_some;
  nappe_picture_items (all, &n_all);
  nappe_picture_items (some, &n_some);
  nappe_picture_labels (all, &labels_all);
  nappe_picture_labels (some, &labels_some);
  g_assert_cmpuint (n_all, ==, n_some);
  g_assert_cmpuint (labels_some, <, labels_all);
  g_assert_true (has_label (some, "more"));
  g_assert_false (has_label (all, "and 1"));
}

/* The bars of every case add up to what comes down. */
static void
test_run_down (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("single-drain");
  const NappePowerCut *cut = &fixture->study->cut_check_failed;
  g_autoptr (NappePicture) picture = chart (fixture, NAPPE_CHART_RUN_DOWN, NULL, NULL);
  double sum = 0;
  g_assert_cmpfloat (cut->state.spilled, >, 0.001);
  for (guint i = 0; i < cut->n_ledger; i++)
    if (cut->ledger[i].kind != NAPPE_LEDGER_CHAMBER)
      {
        sum += cut->ledger[i].volume;
        if (cut->ledger[i].volume > 0.0001)
          {
            g_assert_true (has_number (picture, NAPPE_QUANTITY_VOLUME, cut->ledger[i].volume));
            g_assert_nonnull (picture_item (picture, cut->ledger[i].id));
          }
      }
  g_assert_cmpfloat_with_epsilon (sum, cut->run_back, 1e-9);
  g_assert_true (has_number (picture, NAPPE_QUANTITY_VOLUME, cut->run_back));
  g_assert_true (has_number (picture, NAPPE_QUANTITY_VOLUME, cut->sump_free));
  g_assert_true (has_number (picture, NAPPE_QUANTITY_VOLUME, cut->state.spilled));
  g_assert_true (has_label (picture, "on the floor"));
  g_autoptr (PictureFixture) dry = picture_fixture_new ("three-drain");
  g_autoptr (NappePicture) safe = chart (dry, NAPPE_CHART_RUN_DOWN, NULL, NULL);
  g_assert_false (has_label (safe, "on the floor"));
  g_assert_true (has_label (safe, "stays dry"));
}

static void
test_tuning (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  const NappeDrainReport *siphon = NULL;
  for (guint i = 0; i < fixture->study->n_drains; i++)
    if (fixture->study->drains[i].window.known)
      siphon = &fixture->study->drains[i];
  g_assert_nonnull (siphon);
  g_assert_cmpstr (siphon->window.channel, !=, "");
  g_assert_cmpstr (siphon->window.emergency, !=, "");
  g_autoptr (NappePicture) picture = chart (fixture, NAPPE_CHART_TUNING, siphon->id, NULL);
  const double bounds[] = { siphon->window.breaks, siphon->window.channel_dry, siphon->window.channel_loud,
                            siphon->window.emergency_wet };
  for (guint i = 0; i < G_N_ELEMENTS (bounds); i++)
    g_assert_true (has_number (picture, NAPPE_QUANTITY_SHARE, bounds[i]));
  g_assert_true (
      has_number (picture, NAPPE_QUANTITY_FLOW, (1 + siphon->window.channel_loud) * fixture->study->running.pump_flow));
  g_assert_nonnull (picture_item (picture, siphon->window.channel));
  g_assert_nonnull (picture_item (picture, siphon->window.emergency));
}

/* A part leads to the chart that says most about it. */
/* No text lies on a point. */
static void
check_off_marks (NappePicture *picture)
{
  guint n_labels, n_blocks;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n_labels);
  const NappeBlock *blocks = nappe_scene_blocks (picture->scene, &n_blocks);

  for (guint b = 0; b < n_blocks; b++)
    for (guint i = 0; i < n_labels && blocks[b].kind == NAPPE_BLOCK_MARK; i++)
      {
        NappeBox box = { labels[i].x, labels[i].y, labels[i].width, labels[i].height };
        g_assert_false (nappe_box_overlaps (&box, &blocks[b].box));
      }
}

/* A curve alone: its ends in words, a mark for every point and every row, and nothing collides at any size. */
static void
test_curve_alone (void)
{
  const double flow[] = { 0, 2e-4, 4e-4, 6e-4 }, head[] = { 4, 3.2, 2, 0.5 };
  const double points_flow[] = { 0, 6e-4 }, points_head[] = { 4, 0.5 };
  const struct
  {
    double x, y;
  } tiny[] = { { 1e-9, 1e-6 }, { 0.1, 100 } };
  NappePumpCurve curve;

  g_assert_true (nappe_pump_curve_init (&curve, points_flow, points_head, 2));
  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      NappeChartOptions options = { .units = i % 2, .width = sizes[i][0], .height = sizes[i][1], .text_scale = 1 };
      g_autoptr (NappePicture) picture = nappe_chart_curve_new (&options, &curve, flow, head, 4);
      g_autoptr (NappePicture) bare = nappe_chart_curve_new (&options, &curve, flow, head, 0);
      g_autofree char *with = nappe_scene_describe (picture->scene), *without = nappe_scene_describe (bare->scene);
      const NappePictureItem *item = picture_item (picture, "curve");
      g_autofree char *end = nappe_quantity_format (NAPPE_QUANTITY_FLOW, 6e-4, options.units, 0);

      g_assert_true (item != NULL && strstr (item->description, end) != NULL);
      check_labels (picture, "curve alone");
      check_off_marks (picture);
      g_assert_cmpuint (strlen (with), >, strlen (without));
    }
  for (gsize i = 0; i < G_N_ELEMENTS (tiny); i++)
    {
      const double x[] = { 0, tiny[i].x }, y[] = { tiny[i].y, 0 };
      NappeChartOptions options = { .width = 400, .height = 240, .text_scale = 1 };

      g_assert_true (nappe_pump_curve_init (&curve, x, y, 2));
      g_autoptr (NappePicture) picture = nappe_chart_curve_new (&options, &curve, x, y, 2);
      check_labels (picture, "curve of an odd size");
    }
}

static void
test_choices (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (GPtrArray) choices = nappe_chart_choices (fixture->build, fixture->study);
  const NappePumpReport *pump = &fixture->study->pumps[0];
  NappeHeadLedger *ledger = nappe_head_ledger_new (fixture->study, &fixture->study->running, pump->line);
  g_assert_cmpint (nappe_chart_choice_for (choices, fixture->build, pump->id), ==,
                   nappe_chart_choice_find (choices, NAPPE_CHART_PUMP, pump->id));
  g_assert_cmpint (nappe_chart_choice_for (choices, fixture->build, nappe_part_get_id (fixture->build->tank)), ==,
                   nappe_chart_choice_find (choices, NAPPE_CHART_RUN_DOWN, NULL));
  g_assert_cmpint (nappe_chart_choice_for (choices, fixture->build, ledger->lines[1].piece), ==,
                   nappe_chart_choice_find (choices, NAPPE_CHART_HEAD, pump->line));
  g_assert_cmpint (nappe_chart_choice_for (choices, fixture->build, "nobody"), ==, -1);
  nappe_head_ledger_free (ledger);
  for (NappeChartKind kind = 0; kind < NAPPE_CHART_N; kind++)
    {
      NappeChartKind read = NAPPE_CHART_N;
      g_assert_true (nappe_chart_from_nick (nappe_chart_nick (kind), &read));
      g_assert_cmpint (read, ==, kind);
    }
  NappeChartKind none;
  g_assert_false (nappe_chart_from_nick ("pie", &none));
}

/* A chart of what is not there, and of a build that cannot run, says so. */
static void
test_nothing_to_show (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeBuild) empty = nappe_build_new ();
  g_autoptr (NappeStudy) dry = nappe_study_build (empty, fixture->catalogue);
  for (NappeChartKind kind = 0; kind < NAPPE_CHART_N; kind++)
    {
      g_autoptr (NappePicture) unknown = chart (fixture, kind, "nobody", NULL);
      g_autoptr (NappePicture) none = chart (fixture, kind, NULL, NULL);
      NappeChartChoice choice = { kind, NULL, NULL };
      NappeChartOptions options = options_of (&choice, 600, 400);
      g_autoptr (NappePicture) bare = nappe_chart_new (&options, empty, dry);
      guint n;
      nappe_picture_labels (unknown, &n);
      g_assert_cmpuint (n, >, 1);
      nappe_picture_labels (bare, &n);
      g_assert_cmpuint (n, >, 1);
    }
}

static void
test_quick (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  gint64 start = g_get_monotonic_time ();
  for (guint i = 0; i < 10; i++)
    {
      g_autoptr (NappePicture) picture = chart (fixture, NAPPE_CHART_PUMP, fixture->study->pumps[0].id, NULL);
    }
  double each = (double) (g_get_monotonic_time () - start) / 1e4;
  g_test_message ("a pump chart takes %.1f ms", each);
  /* Far above what it takes, for slow machines and sanitizers: it is not the solver of a whole study. */
  g_assert_cmpfloat (each, <, 500);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < DRAWN_COUNT; i++)
    {
      g_autofree char *path = g_strdup_printf ("/chart/labels/%s", drawn_names[i]);
      g_test_add_data_func (path, drawn_names[i], test_labels);
    }
  g_test_add_func ("/chart/pump", test_pump);
  g_test_add_func ("/chart/head", test_head);
  g_test_add_func ("/chart/small-says-all", test_small_says_all);
  g_test_add_func ("/chart/run-down", test_run_down);
  g_test_add_func ("/chart/tuning", test_tuning);
  g_test_add_func ("/chart/curve-alone", test_curve_alone);
  g_test_add_func ("/chart/choices", test_choices);
  g_test_add_func ("/chart/nothing-to-show", test_nothing_to_show);
  g_test_add_func ("/chart/quick", test_quick);
  return g_test_run ();
}

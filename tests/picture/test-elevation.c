/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The side elevation of the demos: nothing collides, every part can be picked and is described. */
#include <math.h>
#include <string.h>

#include "picture-fixture.h"
#include "picture/picture-private.h"

static const double sizes[][2] = { { 1400, 900 }, { 1047, 718 }, { 700, 500 }, { 1900, 620 }, { 420, 620 }, { 500, 360 },
                                   { 400, 320 }, { 300, 900 }, { 240, 180 } };

static void
test_labels (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  NappePaletteKind last_palette = strchr (name, '/') ? NAPPE_PALETTE_DARK : NAPPE_PALETTE_PRINT;
  for (guint size = 0; size < G_N_ELEMENTS (sizes); size++)
    for (NappeShownState shown = NAPPE_SHOW_RUNNING; shown <= NAPPE_SHOW_POWER_CUT; shown++)
      /* Print differs in colours and line widths alone: the demos show that. */
      for (NappePaletteKind palette = NAPPE_PALETTE_LIGHT; palette <= last_palette; palette++)
        for (NappeUnitSystem units = NAPPE_UNITS_METRIC; units <= NAPPE_UNITS_US; units++)
          {
            NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, sizes[size][0], sizes[size][1], shown);
            options.palette = palette;
            options.units = units;
            options.text_scale = palette == NAPPE_PALETTE_DARK ? 1.4 : 1;
            g_autoptr (NappePicture) picture = picture_of (fixture, &options);
            g_autofree char *what = g_strdup_printf ("%s %.0f×%.0f state %d palette %d units %d", (const char *) name,
                                                     options.width, options.height,
                                                     shown, palette, units);
            picture_check_labels (picture, what);
          }
}

/* The room, the water and the build as a whole are nowhere in the drawing: the key alone tells of them. */
static gboolean
has_a_place (NappeBuild *build, const char *id)
{
  NappePart *part = nappe_build_find (build, id);

  return part != NULL && part != NAPPE_PART (build) && part != build->room && part != build->water;
}

/* At full size nothing that matters is left out for want of room. */
static void
test_says_all (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 1400, 900, NAPPE_SHOW_RUNNING);
  g_autoptr (NappePicture) picture = picture_of (fixture, &options);
  guint n, found = 0;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n);
  GPtrArray *lists[] = { fixture->build->drains, fixture->build->returns, fixture->build->vessels, fixture->build->equipment };
  for (guint list = 0; list < G_N_ELEMENTS (lists); list++)
    for (guint i = 0; i < lists[list]->len; i++)
      {
        const char *wanted = nappe_part_display_name (lists[list]->pdata[i]);
        gboolean there = FALSE;
        for (guint k = 0; k < n; k++)
          there = there || strstr (labels[k].text, wanted);
        if (!there)
          g_test_fail_printf ("%s: no label “%s”", (const char *) name, wanted);
        found += there;
      }
  g_assert_cmpuint (found, >, 2);
  /* Each finding's number stands in the key, and in the drawing where its part does. */
  for (guint i = 0; i < fixture->verdict->findings->len; i++)
    {
      NappeFinding *finding = fixture->verdict->findings->pdata[i];
      const char *part = nappe_finding_get_part (finding);
      g_autofree char *number = g_strdup_printf ("%u", nappe_finding_get_number (finding));
      guint times = 0, wanted = 1 + has_a_place (fixture->build, part);
      for (guint k = 0; k < n; k++)
        times += g_str_equal (labels[k].text, number);
      if (times < wanted)
        g_test_fail_printf ("%s: finding %s is marked %u times", (const char *) name, number, times);
    }
}

static void
expect_item (NappePicture *picture, gpointer part)
{
  const char *id = nappe_part_get_id (NAPPE_PART (part));
  const NappePictureItem *item = picture_item (picture, id);
  if (!item)
    {
      g_test_fail_printf ("no item for %s", id);
      return;
    }
  g_assert_cmpstr (item->label, ==, nappe_part_display_name (NAPPE_PART (part)));
  g_assert_cmpstr (item->description, !=, "");
  g_assert_cmpfloat (item->width, >, 0);
  g_assert_cmpfloat (item->height, >, 0);
}

static void
test_items (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  NappeBuild *build = fixture->build;
  for (NappeShownState shown = NAPPE_SHOW_RUNNING; shown <= NAPPE_SHOW_POWER_CUT; shown++)
    {
      NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 1400, 900, shown);
      g_autoptr (NappePicture) picture = picture_of (fixture, &options);
      GPtrArray *lists[] = { build->overflows, build->drains, build->returns, build->vessels, build->equipment,
                             NAPPE_BUILD_SUMP (build)->chambers,
                             NAPPE_BUILD_SUMP (build)->baffles };
      expect_item (picture, build->tank);
      expect_item (picture, build->sump);
      expect_item (picture, build->stand);
      for (guint list = 0; list < G_N_ELEMENTS (lists); list++)
        for (guint i = 0; i < lists[list]->len; i++)
          expect_item (picture, lists[list]->pdata[i]);
      expect_item (picture, NAPPE_RETURN_LINE (build->returns->pdata[0])->pump);
      g_assert_nonnull (picture_item (picture, "tank"));
      guint n;
      g_assert_cmpstr (nappe_picture_items (picture, &n)[0].part, ==, "tank");
    }
}

static void
expect_pick (NappePicture *picture, const char *id, double share_x, double share_y)
{
  const NappePictureItem *item = picture_item (picture, id);
  g_assert_nonnull (item);
  g_assert_cmpstr (nappe_picture_pick (picture, item->x + item->width * share_x, item->y + item->height * share_y), ==, id);
}

/* A dimension picks what it measures. */
static void
expect_pick_by_words (NappePicture *picture, const char *first, const char *last, const char *id)
{
  guint n, found = 0;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n);

  for (guint i = 0; i < n; i++)
    if (g_str_has_prefix (labels[i].text, first) && g_str_has_suffix (labels[i].text, last))
      {
        found++;
        g_assert_cmpstr (nappe_picture_pick (picture, labels[i].x + labels[i].width / 2,
                                             labels[i].y + labels[i].height / 2),
                         ==, id);
      }
  g_assert_cmpuint (found, ==, 1);
}

static void
test_pick (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("two-drain");
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 1400, 900, NAPPE_SHOW_RUNNING);
  g_autoptr (NappePicture) picture = picture_of (fixture, &options);
  /* Bare water at the tank's lower left, low in the return chamber beside the pump, and so on. */
  expect_pick (picture, "tank", 0.03, 0.95);
  expect_pick (picture, "siphon-valve", 0.5, 0.5);
  expect_pick (picture, "drain-wall", 0.5, 0.5);
  expect_pick (picture, "box", 0.02, 0.1);
  expect_pick (picture, "stand", 0.005, 0.5);
  expect_pick (picture, nappe_part_get_id (NAPPE_RETURN_LINE (fixture->build->returns->pdata[0])->pump), 0.5, 0.8);
  expect_pick_by_words (picture, "tank ", " inside", "tank");
  expect_pick_by_words (picture, "sump ", " inside", "sump");
  expect_pick_by_words (picture, "stand ", "", "stand");
  /* A pipe is picked on its axis: the emergency drain leaves its box at the right. */
  expect_pick (picture, "emergency", 0.93, 0.5);
  g_assert_null (nappe_picture_pick (picture, 3, 3));
  g_assert_null (nappe_picture_pick (picture, -10, NAN));
}

static void
test_selection (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("two-drain");
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 1400, 900, NAPPE_SHOW_RUNNING);
  g_autoptr (NappePicture) plain = picture_of (fixture, &options);
  options.selected = "no-such-part";
  g_autoptr (NappePicture) unknown = picture_of (fixture, &options);
  options.selected = "siphon";
  g_autoptr (NappePicture) chosen = picture_of (fixture, &options);
  g_autofree char *first = nappe_scene_describe (plain->scene);
  g_autofree char *second = nappe_scene_describe (unknown->scene);
  g_autofree char *third = nappe_scene_describe (chosen->scene);
  g_assert_cmpstr (first, ==, second);
  g_assert_cmpstr (first, !=, third);
  g_assert_true (g_str_has_prefix (third, first));
}

/* The same input gives the same picture, and the state, units and spill change what they should. */
static void
test_deterministic (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 1400, 900, NAPPE_SHOW_RUNNING);
  g_autoptr (NappePicture) first = picture_of (fixture, &options);
  g_autoptr (NappePicture) second = picture_of (fixture, &options);
  options.shown = NAPPE_SHOW_POWER_CUT;
  g_autoptr (NappePicture) cut = picture_of (fixture, &options);
  g_autofree char *a = nappe_scene_describe (first->scene);
  g_autofree char *b = nappe_scene_describe (second->scene);
  g_autofree char *c = nappe_scene_describe (cut->scene);
  g_assert_cmpstr (a, ==, b);
  g_assert_cmpstr (a, !=, c);
  g_assert_null (strstr (a, "nan"));
  g_assert_null (strstr (a, "inf"));
}

static gboolean
says (NappePicture *picture, const char *part_of_text)
{
  guint n;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n);
  for (guint i = 0; i < n; i++)
    if (strstr (labels[i].text, part_of_text))
      return TRUE;
  return FALSE;
}

/* The single-drain demo floods in a power cut: the drawing shows the litres, and not while running. */
static void
test_spill (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("single-drain");
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 1400, 900, NAPPE_SHOW_POWER_CUT);
  g_assert_cmpfloat (fixture->study->cut_check_failed.state.spilled, >, 0);
  g_autoptr (NappePicture) cut = picture_of (fixture, &options);
  g_assert_true (says (cut, "on the floor"));
  options.shown = NAPPE_SHOW_RUNNING;
  g_autoptr (NappePicture) running = picture_of (fixture, &options);
  g_assert_false (says (running, "on the floor"));
}

/* Only a line that has a check valve can have one that failed: the two-drain demo has, the single-drain one has not. */
static void
test_names_check_valve (void)
{
  static const char *const names[] = { "single-drain", "two-drain" };
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    for (NappePictureKind kind = NAPPE_PICTURE_ELEVATION; kind <= NAPPE_PICTURE_FLOW; kind++)
      {
        g_autoptr (PictureFixture) fixture = picture_fixture_new (names[i]);
        NappePictureOptions options = picture_options (kind, 1400, 900, NAPPE_SHOW_POWER_CUT);
        g_autoptr (NappePicture) picture = picture_of (fixture, &options);
        g_assert_true (says (picture, "after a power cut"));
        g_assert_cmpint (says (picture, "check valve failed"), ==, i == 1);
      }
}

/* What each level of an inner box, a sock and a side vessel is, stands beside it or in its label. */
static void
test_says_rooms (void)
{
  static const char *const rooms[][2] = { { "demo-builds/slim", "box" NAPPE_INNER_SUFFIX },
                                          { "demo-builds/rim", "box" NAPPE_INNER_SUFFIX },
                                          { "demo-builds/hang-on", "refugium" },
                                          { "demo-builds/two-pumps", "refugium" } };
  for (guint i = 0; i < G_N_ELEMENTS (rooms); i++)
    {
      g_autoptr (PictureFixture) fixture = picture_fixture_new (rooms[i][0]);
      NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 1400, 900, NAPPE_SHOW_RUNNING);
      g_autoptr (NappePicture) picture = picture_of (fixture, &options);
      double level = nappe_study_level (fixture->study, &fixture->study->running, rooms[i][1]);
      g_autofree char *height = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, level, NAPPE_UNITS_METRIC, 0);
      g_assert_true (isfinite (level));
      if (!says (picture, height))
        g_test_fail_printf ("%s: no level %s of %s", rooms[i][0], height, rooms[i][1]);
    }
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("demo-builds/two-pumps");
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 1400, 900, NAPPE_SHOW_RUNNING);
  g_autoptr (NappePicture) picture = picture_of (fixture, &options);
  g_assert_true (says (picture, "2 × Return line pump"));
  g_assert_true (says (picture, "15% closed"));
}

/* A hose that turns does so in an arc of its own radius; a pipe keeps its corner. */
static void
test_round_bends (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("demo-builds/two-pumps");
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 1400, 900, NAPPE_SHOW_RUNNING);
  g_autoptr (NappePicture) usual = picture_of (fixture, &options);
  g_autofree char *first = nappe_scene_describe (usual->scene);
  GError *error = NULL;
  nappe_build_set_number (fixture->build, nappe_build_find (fixture->build, "branch-hose-1"), "bend_radius", 0.2, &error);
  g_assert_no_error (error);
  g_autoptr (NappePicture) wide = picture_of (fixture, &options);
  g_autofree char *second = nappe_scene_describe (wide->scene);
  g_assert_cmpstr (first, !=, second);
  nappe_build_set_number (fixture->build, nappe_build_find (fixture->build, "second-pipe-1"), "bend_radius", 0.2, &error);
  g_assert_no_error (error);
  g_autoptr (NappePicture) same = picture_of (fixture, &options);
  g_autofree char *third = nappe_scene_describe (same->scene);
  g_assert_cmpstr (second, ==, third);
}

/* Heights in the drawing are the study's. */
static void
test_heights (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 1400, 900, NAPPE_SHOW_RUNNING);
  g_autoptr (NappePicture) picture = picture_of (fixture, &options);
  double level = nappe_study_level (fixture->study, &fixture->study->running, "tank");
  double after = nappe_study_level (fixture->study, &fixture->study->cut_check_failed.state, "tank");
  g_autofree char *now = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, level, NAPPE_UNITS_METRIC, 0);
  g_autofree char *then = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, after, NAPPE_UNITS_METRIC, 0);
  g_assert_cmpfloat (level, >, after);
  g_assert_true (says (picture, now));
  g_assert_true (says (picture, then));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  for (guint i = 0; i < DRAWN_COUNT; i++)
    {
      struct { const char *what; GTestDataFunc run; } tests[] = {
        { "labels", test_labels },
        { "says-all", test_says_all },
        { "items", test_items },
        { "deterministic", test_deterministic },
        { "heights", test_heights },
      };
      for (guint k = 0; k < G_N_ELEMENTS (tests); k++)
        {
          g_autofree char *path = g_strdup_printf ("/elevation/%s/%s", tests[k].what, drawn_names[i]);
          g_test_add_data_func (path, drawn_names[i], tests[k].run);
        }
    }
  g_test_add_func ("/elevation/pick", test_pick);
  g_test_add_func ("/elevation/selection", test_selection);
  g_test_add_func ("/elevation/spill", test_spill);
  g_test_add_func ("/elevation/names-check-valve", test_names_check_valve);
  g_test_add_func ("/elevation/says-rooms", test_says_rooms);
  g_test_add_func ("/elevation/round-bends", test_round_bends);
  return g_test_run ();
}

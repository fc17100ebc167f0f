/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/flow/flow-diagram.h"

#include <math.h>
#include <string.h>

#include "../demo-build.h"

static const double sizes[][2] = { { 1400, 900 }, { 700, 500 }, { 1026, 640 }, { 420, 320 } };

static NappeScene *
compose (const DemoBuild *demo, NappePaletteKind palette, NappeShownState shown, double width, double height,
         NappeUnitSystem units)
{
  NappePictureOptions options = { .kind = NAPPE_PICTURE_FLOW, .palette = palette, .shown = shown, .units = units,
                                  .width = width, .height = height, .text_scale = 1.0, .title = TRUE };
  NappeScene *scene = nappe_scene_new (palette, width, height, 1.0);

  nappe_flow_diagram_compose (scene, &options, demo->build, demo->layout, demo->study, demo->verdict);
  return scene;
}

static gboolean
labels_meet (const NappePictureLabel *a, const NappePictureLabel *b)
{
  return a->x + a->width > b->x + 0.01 && b->x + b->width > a->x + 0.01 && a->y + a->height > b->y + 0.01
         && b->y + b->height > a->y + 0.01;
}

static void
assert_labels_apart (NappeScene *scene, const char *what)
{
  guint n;
  const NappePictureLabel *labels = nappe_scene_labels (scene, &n);

  for (guint i = 0; i < n; i++)
    {
      g_assert_true (isfinite (labels[i].x) && isfinite (labels[i].y));
      if (labels[i].x < 0 || labels[i].y < 0 || labels[i].x + labels[i].width > nappe_scene_width (scene)
          || labels[i].y + labels[i].height > nappe_scene_height (scene))
        g_error ("%s: “%s” leaves the paper", what, labels[i].text);
      for (guint j = i + 1; j < n; j++)
        if (labels_meet (&labels[i], &labels[j]))
          g_error ("%s: “%s” and “%s” overlap", what, labels[i].text, labels[j].text);
    }
}

static void
test_labels_apart (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (drawn_names); d++)
    for (NappeUnitSystem units = NAPPE_UNITS_METRIC; units <= NAPPE_UNITS_US; units++)
      {
        DemoBuild demo;
        demo_load (&demo, drawn_names[d], units);
        for (guint s = 0; s < G_N_ELEMENTS (sizes); s++)
          for (int state = NAPPE_SHOW_RUNNING; state <= NAPPE_SHOW_POWER_CUT; state++)
            {
              g_autoptr (NappeScene) scene = compose (&demo, NAPPE_PALETTE_PRINT, (NappeShownState) state, sizes[s][0],
                                                      sizes[s][1], units);
              assert_labels_apart (scene, drawn_names[d]);
            }
        demo_clear (&demo);
      }
}

static gboolean
has_label (NappeScene *scene, const char *text)
{
  guint n;
  const NappePictureLabel *labels = nappe_scene_labels (scene, &n);

  for (guint i = 0; i < n; i++)
    if (g_str_equal (labels[i].text, text))
      return TRUE;
  return FALSE;
}

static gboolean
has_label_with (NappeScene *scene, const char *piece)
{
  guint n;
  const NappePictureLabel *labels = nappe_scene_labels (scene, &n);

  for (guint i = 0; i < n; i++)
    if (strstr (labels[i].text, piece) != NULL)
      return TRUE;
  return FALSE;
}

/* Every drain's and pump's flow, and every level, stand in the large picture as the study has them. */
static void
test_says_flows_and_levels (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (drawn_names); d++)
    {
      DemoBuild demo;
      demo_load (&demo, drawn_names[d], NAPPE_UNITS_METRIC);
      g_autoptr (NappeScene) scene = compose (&demo, NAPPE_PALETTE_LIGHT, NAPPE_SHOW_RUNNING, 1400, 900, NAPPE_UNITS_METRIC);
      const NappeStudy *study = demo.study;
      g_assert_cmpint (study->running.rest, ==, NAPPE_REST_FOUND);
      for (guint i = 0; i < study->n_drains; i++)
        {
          g_autofree char *flow = nappe_quantity_format (NAPPE_QUANTITY_FLOW, study->drains[i].flow, NAPPE_UNITS_METRIC, 0);
          g_assert_true (has_label (scene, study->drains[i].state == NAPPE_DRAIN_DRY ? "dry" : flow));
        }
      for (guint i = 0; i < study->n_pumps; i++)
        {
          g_autofree char *flow = nappe_quantity_format (NAPPE_QUANTITY_FLOW, study->pumps[i].flow, NAPPE_UNITS_METRIC, 0);
          g_assert_true (has_label (scene, flow));
        }
      for (guint i = 0; i < study->network->n_nodes; i++)
        {
          const NappeNode *node = &study->network->nodes[i];
          g_autofree char *level = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, study->running.level[i],
                                                                 NAPPE_UNITS_METRIC, 0);
          if (node->kind != NAPPE_NODE_FLOOR && node->kind != NAPPE_NODE_JUNCTION && !has_label (scene, level))
            g_error ("%s: no level %s of %s", drawn_names[d], level, node->id);
        }
      demo_clear (&demo);
    }
}

static void
test_says_power_cut (void)
{
  DemoBuild demo;
  demo_load (&demo, "single-drain", NAPPE_UNITS_METRIC);
  const NappePowerCut *cut = &demo.study->cut_check_failed;
  g_autofree char *back = nappe_quantity_format (NAPPE_QUANTITY_VOLUME, cut->run_back, NAPPE_UNITS_METRIC, 0);
  g_autofree char *spilled = nappe_quantity_format (NAPPE_QUANTITY_VOLUME, cut->state.spilled, NAPPE_UNITS_METRIC, 0);
  g_autofree char *on_floor = g_strdup_printf ("%s on the floor", spilled);

  for (guint s = 0; s < 3; s++)
    {
      g_autoptr (NappeScene) scene = compose (&demo, NAPPE_PALETTE_DARK, NAPPE_SHOW_POWER_CUT, sizes[s][0], sizes[s][1],
                                              NAPPE_UNITS_METRIC);
      g_assert_cmpfloat (cut->state.spilled, >, 0.001);
      g_assert_true (has_label (scene, on_floor));
      g_assert_true (has_label_with (scene, back));
      g_assert_true (has_label_with (scene, "gives back"));
      g_assert_true (has_label_with (scene, "takes up"));
      g_assert_false (has_label_with (scene, "full bore"));
    }
  g_autoptr (NappeScene) running = compose (&demo, NAPPE_PALETTE_DARK, NAPPE_SHOW_RUNNING, 1400, 900, NAPPE_UNITS_METRIC);
  g_assert_false (has_label_with (running, "on the floor"));
  demo_clear (&demo);
}

/* Every finding is pinned with its number, and its mark picks its part. */
static void
test_pins_findings (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (drawn_names); d++)
    {
      DemoBuild demo;
      demo_load (&demo, drawn_names[d], NAPPE_UNITS_METRIC);
      g_autoptr (NappeScene) scene = compose (&demo, NAPPE_PALETTE_LIGHT, NAPPE_SHOW_RUNNING, 1400, 900, NAPPE_UNITS_METRIC);
      guint n;
      const NappePictureLabel *labels = nappe_scene_labels (scene, &n);
      for (guint i = 0; i < demo.verdict->findings->len; i++)
        {
          NappeFinding *finding = g_ptr_array_index (demo.verdict->findings, i);
          g_autofree char *number = g_strdup_printf ("%u", nappe_finding_get_number (finding));
          gboolean found = FALSE;
          for (guint j = 0; j < n && !found; j++)
            found = g_str_equal (labels[j].text, number)
                    && g_strcmp0 (nappe_scene_pick (scene, labels[j].x + 0.5 * labels[j].width,
                                                    labels[j].y + 0.5 * labels[j].height),
                                  nappe_finding_get_part (finding)) == 0;
          if (!found && *nappe_finding_get_part (finding) != '\0')
            g_error ("%s: finding %s is not pinned on %s", drawn_names[d], number, nappe_finding_get_part (finding));
        }
      demo_clear (&demo);
    }
}

static const NappePictureItem *
find_item (NappeScene *scene, const char *part)
{
  guint n;
  const NappePictureItem *items = nappe_scene_items (scene, &n);

  for (guint i = 0; i < n; i++)
    if (g_str_equal (items[i].part, part))
      return &items[i];
  return NULL;
}

static void
assert_item (NappeScene *scene, NappePart *part)
{
  const NappePictureItem *item = find_item (scene, nappe_part_get_id (part));

  if (item == NULL)
    g_error ("no item for %s", nappe_part_get_id (part));
  g_assert_cmpstr (item->label, ==, nappe_part_display_name (part));
  g_assert_cmpstr (item->description, !=, "");
  g_assert_true (item->width > 0 && item->height > 0);
}

static void
assert_all_items (const DemoBuild *demo, NappeScene *scene)
{
  assert_item (scene, demo->build->tank);
  for (guint i = 0; i < demo->layout->n_boxes; i++)
    assert_item (scene, NAPPE_PART (demo->layout->boxes[i].part));
  for (guint i = 0; i < demo->layout->n_chambers; i++)
    assert_item (scene, NAPPE_PART (demo->layout->chambers[i].part));
  for (guint i = 0; i < demo->layout->n_vessels; i++)
    assert_item (scene, NAPPE_PART (demo->layout->vessels[i].part));
  for (guint i = 0; i < demo->layout->n_drains; i++)
    assert_item (scene, demo->layout->drains[i].part);
  for (guint i = 0; i < demo->layout->n_returns; i++)
    {
      assert_item (scene, demo->layout->returns[i].part);
      assert_item (scene, NAPPE_RETURN_LINE (demo->layout->returns[i].part)->pump);
    }
  for (guint i = 0; i < demo->build->equipment->len; i++)
    assert_item (scene, g_ptr_array_index (demo->build->equipment, i));
}

static void
test_items (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (drawn_names); d++)
    {
      DemoBuild demo;
      demo_load (&demo, drawn_names[d], NAPPE_UNITS_METRIC);
      for (guint s = 0; s < G_N_ELEMENTS (sizes); s++)
        {
          g_autoptr (NappeScene) scene = compose (&demo, NAPPE_PALETTE_LIGHT, NAPPE_SHOW_RUNNING, sizes[s][0], sizes[s][1],
                                                  NAPPE_UNITS_METRIC);
          assert_all_items (&demo, scene);
        }
      demo_clear (&demo);
    }
}

static void
assert_pick (NappeScene *scene, const char *label, const char *part)
{
  guint n;
  const NappePictureLabel *labels = nappe_scene_labels (scene, &n);

  for (guint i = 0; i < n; i++)
    if (g_str_equal (labels[i].text, label))
      {
        g_assert_cmpstr (nappe_scene_pick (scene, labels[i].x + 2, labels[i].y + 5), ==, part);
        return;
      }
  g_error ("no label “%s”", label);
}

static void
test_pick (void)
{
  DemoBuild demo;
  demo_load (&demo, "three-drain", NAPPE_UNITS_METRIC);
  g_autoptr (NappeScene) scene = compose (&demo, NAPPE_PALETTE_LIGHT, NAPPE_SHOW_RUNNING, 1400, 900, NAPPE_UNITS_METRIC);
  const NappePictureItem *pump = find_item (scene, "return-pump");

  assert_pick (scene, "Main siphon", "siphon");
  assert_pick (scene, "Refugium feed", "refugium-feed");
  assert_pick (scene, "Foyer tank", "tank");
  assert_pick (scene, "Protein skimmer", "skimmer");
  g_assert_cmpstr (nappe_scene_pick (scene, pump->x + 0.5 * pump->width, pump->y + 0.5 * pump->height), ==, "return-pump");
  g_assert_null (nappe_scene_pick (scene, 2, 2));
  demo_clear (&demo);
}

static void
test_same_again (void)
{
  DemoBuild demo;
  demo_load (&demo, "three-drain", NAPPE_UNITS_METRIC);
  g_autoptr (NappeScene) one = compose (&demo, NAPPE_PALETTE_LIGHT, NAPPE_SHOW_RUNNING, 1400, 900, NAPPE_UNITS_METRIC);
  g_autoptr (NappeScene) two = compose (&demo, NAPPE_PALETTE_LIGHT, NAPPE_SHOW_RUNNING, 1400, 900, NAPPE_UNITS_METRIC);
  g_autofree char *first = nappe_scene_describe (one), *second = nappe_scene_describe (two);

  g_assert_cmpstr (first, ==, second);
  g_assert_null (strstr (first, "nan"));
  demo_clear (&demo);
}

static void
draw_to_nothing (NappeScene *scene)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 64, 64);
  cairo_t *cr = cairo_create (surface);

  nappe_scene_draw (scene, cr);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static void
assert_draws (DemoBuild *demo, const char *what)
{
  static const double odd_sizes[][2] = { { 1400, 900 }, { 300, 200 }, { 16, 16 }, { 16, 2000 }, { 3000, 40 } };

  for (guint s = 0; s < G_N_ELEMENTS (odd_sizes); s++)
    for (int state = NAPPE_SHOW_RUNNING; state <= NAPPE_SHOW_POWER_CUT; state++)
      {
        g_autoptr (NappeScene) scene = compose (demo, NAPPE_PALETTE_LIGHT, (NappeShownState) state, odd_sizes[s][0],
                                                odd_sizes[s][1], NAPPE_UNITS_METRIC);
        g_autofree char *text = nappe_scene_describe (scene);
        g_assert_null (strstr (text, "nan"));
        g_assert_null (strstr (text, "inf"));
        if (s == 0)
          assert_labels_apart (scene, what);
        draw_to_nothing (scene);
      }
}

static void
test_empty_build (void)
{
  DemoBuild demo;
  demo_compute (&demo, nappe_build_new (), NAPPE_UNITS_METRIC);
  g_autoptr (NappeScene) scene = compose (&demo, NAPPE_PALETTE_LIGHT, NAPPE_SHOW_RUNNING, 1400, 900, NAPPE_UNITS_METRIC);

  g_assert_true (has_label_with (scene, "drawn dry"));
  assert_draws (&demo, "empty");
  demo_clear (&demo);
}

/* Takes one part after the other out of a sound build: what is left is always drawn. */
static void
test_incomplete_builds (void)
{
  static const char *const ids[] = { "siphon", "channel", "emergency", "box", "return", "refugium", "return-chamber",
                                     "drain-chamber", "refugium-feed", "siphon-end", "left-nozzle", "right-nozzle" };

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      DemoBuild demo;
      NappeBuild *build = demo_read ("three-drain");
      g_autoptr (GError) error = NULL;
      nappe_build_remove (build, nappe_build_find (build, ids[i]), &error);
      g_assert_no_error (error);
      demo_compute (&demo, build, NAPPE_UNITS_METRIC);
      assert_draws (&demo, ids[i]);
      demo_clear (&demo);
    }
}

/* The same with side vessels, inner boxes, socks, pumps in the tank and lines that join. */
static void
test_incomplete_rooms (void)
{
  static const char *const ids[][2] = { { "hang-on", "refugium" }, { "hang-on", "socks" }, { "hang-on", "box" },
                                        { "hang-on", "feed" }, { "hang-on", "sock-chamber" }, { "hang-on", "return" },
                                        { "two-pumps", "refugium" }, { "two-pumps", "join-tee" }, { "two-pumps", "return" },
                                        { "two-pumps", "second" }, { "two-pumps", "socks" }, { "two-pumps", "return-chamber" },
                                        { "slim", "siphon" }, { "slim", "emergency" }, { "rim", "box" } };

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      DemoBuild demo;
      g_autofree char *name = g_strconcat ("demo-builds/", ids[i][0], NULL);
      NappeBuild *build = demo_read (name);
      g_autoptr (GError) error = NULL;
      nappe_build_remove (build, nappe_build_find (build, ids[i][1]), &error);
      g_assert_no_error (error);
      demo_compute (&demo, build, NAPPE_UNITS_METRIC);
      assert_draws (&demo, ids[i][1]);
      demo_clear (&demo);
    }
}

static void
set_text (NappeBuild *build, const char *part, const char *field, const char *text)
{
  g_autoptr (GError) error = NULL;

  nappe_build_set_text (build, nappe_build_find (build, part), field, text, &error);
  g_assert_no_error (error);
}

/* Wherever a spout or a line may lead. */
static void
test_all_ways (void)
{
  static const char *const ways[][4] = { { "hang-on", "refugium", "into", "skimmer-chamber" },
                                         { "hang-on", "refugium", "into", "box" },
                                         { "hang-on", "feed-end", "into", "skimmer-chamber" },
                                         { "hang-on", "feed-end", "into", "box" },
                                         { "hang-on", "feed-end", "into", "tank" },
                                         { "hang-on", "feed-end", "into", "socks" },
                                         { "two-pumps", "refugium", "into", "box" },
                                         { "two-pumps", "second-end", "into", "refugium" },
                                         { "two-pumps", "second-end", "into", "second-elbow" } };

  for (guint i = 0; i < G_N_ELEMENTS (ways); i++)
    {
      DemoBuild demo;
      g_autofree char *name = g_strconcat ("demo-builds/", ways[i][0], NULL);
      NappeBuild *build = demo_read (name);
      set_text (build, ways[i][1], ways[i][2], ways[i][3]);
      demo_compute (&demo, build, NAPPE_UNITS_METRIC);
      assert_draws (&demo, ways[i][3]);
      demo_clear (&demo);
    }
}

static void
set (NappeBuild *build, const char *part, const char *field, double value)
{
  g_autoptr (GError) error = NULL;

  nappe_build_set_number (build, nappe_build_find (build, part), field, value, &error);
  g_assert_no_error (error);
}

static void
rename_part (NappeBuild *build, const char *part, const char *name)
{
  g_autoptr (GError) error = NULL;

  nappe_build_rename_part (build, nappe_build_find (build, part), name, &error);
  g_assert_no_error (error);
}

/* As many drains as a file may hold, names as long as they may be, sizes that no tank has. */
static void
test_absurd_build (void)
{
  g_autofree char *long_word = g_strnfill (190, 'W');
  DemoBuild demo;
  NappeBuild *build = demo_read ("three-drain");

  for (guint i = build->drains->len; i < 24; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (NappePart) copy = nappe_part_copy (g_ptr_array_index (build->drains, 2));
      g_autofree char *id = g_strdup_printf ("more-%u", i), *outlet = g_strdup_printf ("more-%u-end", i);
      NappeDrain *drain = NAPPE_DRAIN (copy);
      nappe_part_set_id (copy, id);
      nappe_part_set_id (g_ptr_array_index (drain->outlets, 0), outlet);
      for (guint j = 0; j < drain->run->len; j++)
        nappe_part_set_id (g_ptr_array_index (drain->run, j), "");
      nappe_build_insert (build, NAPPE_PART (build), "drains", G_MAXUINT, copy, &error);
      g_assert_no_error (error);
    }
  rename_part (build, "siphon", long_word);
  rename_part (build, "drain-chamber", long_word);
  rename_part (build, "tank", "水槽 خزان 水槽 a very long name of many words that will not stand in any tank of the house");
  rename_part (build, "skimmer", long_word);
  set (build, "tank", "length", 20.0);
  set (build, "sump", "height", 5.0);
  set (build, "box", "floor_height", -2.0);
  demo_compute (&demo, build, NAPPE_UNITS_METRIC);
  assert_draws (&demo, "absurd");
  demo_clear (&demo);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/picture/flow/labels-apart", test_labels_apart);
  g_test_add_func ("/picture/flow/flows-and-levels", test_says_flows_and_levels);
  g_test_add_func ("/picture/flow/power-cut", test_says_power_cut);
  g_test_add_func ("/picture/flow/findings", test_pins_findings);
  g_test_add_func ("/picture/flow/items", test_items);
  g_test_add_func ("/picture/flow/pick", test_pick);
  g_test_add_func ("/picture/flow/same-again", test_same_again);
  g_test_add_func ("/picture/flow/empty", test_empty_build);
  g_test_add_func ("/picture/flow/incomplete", test_incomplete_builds);
  g_test_add_func ("/picture/flow/incomplete-rooms", test_incomplete_rooms);
  g_test_add_func ("/picture/flow/all-ways", test_all_ways);
  g_test_add_func ("/picture/flow/absurd", test_absurd_build);
  return g_test_run ();
}

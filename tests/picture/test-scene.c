/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawing kernel: boxes, texts, label places, colours. */
#include <math.h>

#include "picture/label-layout.h"
#include "picture/scene.h"

static void
test_boxes (void)
{
  NappeBox a = { 0, 0, 10, 10 }, touching = { 10, 0, 5, 5 }, inside = { 2, 2, 3, 3 };
  g_assert_false (nappe_box_overlaps (&a, &touching));
  g_assert_true (nappe_box_overlaps (&a, &inside));
  g_assert_true (nappe_box_within (&inside, &a));
  g_assert_false (nappe_box_within (&a, &inside));
  g_assert_true (nappe_box_meets_line (&a, -5, 5, 15, 6));
  g_assert_false (nappe_box_meets_line (&a, -5, -1, 15, -1));
  g_assert_false (nappe_box_meets_line (&a, -5, 5, -1, 5));
  g_assert_true (nappe_box_meets_line (&a, 5, 5, 5, 5));
  NappeBox both = nappe_box_union (&a, &touching);
  g_assert_cmpfloat (both.width, ==, 15);
}

static void
test_texts (void)
{
  g_autoptr (NappeTextShaper) shaper = nappe_text_shaper_new (1);
  g_autoptr (NappeText) ones = nappe_text_new (shaper, "1111", NAPPE_TEXT_SMALL, NAPPE_TEXT_REGULAR);
  g_autoptr (NappeText) eights = nappe_text_new (shaper, "8888", NAPPE_TEXT_SMALL, NAPPE_TEXT_REGULAR);
  /* Tabular figures: numbers of as many digits are as wide. */
  g_assert_cmpfloat_with_epsilon (nappe_text_width (ones), nappe_text_width (eights), 0.01);
  g_autoptr (NappeText) larger = nappe_text_new (shaper, "1111", NAPPE_TEXT_TITLE, NAPPE_TEXT_REGULAR);
  g_assert_cmpfloat_with_epsilon (nappe_text_width (larger) / nappe_text_width (ones), 20.0 / 11.0, 0.1);
  g_autoptr (NappeText) broken = nappe_text_new (shaper, "a\xff" "b\n\xe2\x80\xae\xf3\xb0\x80\x80", NAPPE_TEXT_BODY,
                                                 NAPPE_TEXT_STRONG);
  g_assert_cmpfloat (nappe_text_width (broken), >, 0);
  g_assert_true (g_utf8_validate (nappe_text_string (broken), -1, NULL));
  g_autoptr (NappeText) none = nappe_text_new (shaper, NULL, NAPPE_TEXT_BODY, NAPPE_TEXT_STRONG);
  g_assert_cmpfloat (nappe_text_width (none), ==, 0);
}

static void
test_shorten (void)
{
  g_autoptr (NappeScene) scene = nappe_scene_new (NAPPE_PALETTE_LIGHT, 400, 300, 1);
  NappeTextStyle style = { .size = NAPPE_TEXT_SMALL };
  g_autofree char *kept = nappe_label_shorten (scene, "Überlauf", &style, 200);
  g_autofree char *cut = nappe_label_shorten (scene, "Überlaufschacht am hinteren Rand", &style, 60);
  g_assert_cmpstr (kept, ==, "Überlauf");
  g_assert_true (g_str_has_suffix (cut, "…"));
  g_assert_true (g_utf8_validate (cut, -1, NULL));
  g_assert_cmpfloat (nappe_scene_measure (scene, cut, &style).width, <=, 60);
}

/* As many labels as one will around one point: none shares a place, and those without room are refused. */
static void
test_label_places (void)
{
  g_autoptr (NappeScene) scene = nappe_scene_new (NAPPE_PALETTE_LIGHT, 500, 400, 1);
  NappeBox pipe = { 240, 0, 20, 400 }, taken[60];
  guint placed = 0;
  nappe_scene_block (scene, NAPPE_BLOCK_PIPE, pipe);
  for (guint i = 0; i < G_N_ELEMENTS (taken); i++)
    {
      NappeLabelSpec spec = { .part = "x", .name = "A name", .value = "3 320 L/h", .lines = { "full bore" }, .x = 250,
                              .y = 200 };
      if (nappe_label_place (scene, &spec, &taken[placed]))
        placed++;
    }
  g_assert_cmpuint (placed, >, 8);
  g_assert_cmpuint (placed, <, G_N_ELEMENTS (taken));
  for (guint i = 0; i < placed; i++)
    {
      g_assert_false (nappe_box_overlaps (&taken[i], &pipe));
      for (guint k = i + 1; k < placed; k++)
        g_assert_false (nappe_box_overlaps (&taken[i], &taken[k]));
    }
}

static void
test_not_finite (void)
{
  g_autoptr (NappeScene) scene = nappe_scene_new (NAPPE_PALETTE_LIGHT, 100, 100, 1);
  NappeStyle ink = { .stroke = NAPPE_ROLE_INK };
  NappeTextStyle text = { .x = NAN, .y = 3, .role = NAPPE_ROLE_INK };
  nappe_scene_stroke (scene, NAPPE_LAYER_NOTE, 0, 0, NAN, 5, &ink);
  nappe_scene_box (scene, NAPPE_LAYER_NOTE, (NappeBox) { 0, 0, INFINITY, 4 }, &ink);
  nappe_scene_text (scene, NAPPE_LAYER_NOTE, "x", &text);
  nappe_scene_hit (scene, "x", (NappeBox) { NAN, 0, 1, 1 });
  g_autofree char *description = nappe_scene_describe (scene);
  g_assert_cmpstr (description, ==, "");
  g_assert_null (nappe_scene_pick (scene, 0, 0));
}

static double
contrast (NappePaletteKind palette, NappeRole text, NappeRole ground)
{
  return nappe_colour_contrast (nappe_palette_colour (palette, text), nappe_palette_colour (palette, ground));
}

static gboolean
is_strong (NappePaletteKind palette)
{
  return palette == NAPPE_PALETTE_LIGHT_CONTRAST || palette == NAPPE_PALETTE_DARK_CONTRAST;
}

/* WCAG 2.1 asks for 4.5 : 1 of small text, and for 7 : 1 where contrast is wanted (its levels AA and AAA); for 3 : 1 of lines. */
static void
test_contrast (void)
{
  static const NappeRole texts[] = { NAPPE_ROLE_INK, NAPPE_ROLE_SOFT, NAPPE_ROLE_SURFACE, NAPPE_ROLE_OTHER_TEXT };
  static const NappeRole grounds[] = { NAPPE_ROLE_PAPER, NAPPE_ROLE_PLATE, NAPPE_ROLE_STAND_INSIDE, NAPPE_ROLE_EQUIPMENT };
  static const NappeRole marks[][2] = { { NAPPE_ROLE_ON_DANGER, NAPPE_ROLE_DANGER },
                                        { NAPPE_ROLE_ON_PROBLEM, NAPPE_ROLE_PROBLEM },
                                        { NAPPE_ROLE_ON_ADVICE, NAPPE_ROLE_ADVICE },
                                        { NAPPE_ROLE_DANGER, NAPPE_ROLE_PLATE },
                                        { NAPPE_ROLE_DANGER, NAPPE_ROLE_PAPER } };
  /* The check itself: black on white is 21 : 1 by definition. */
  g_assert_cmpfloat_with_epsilon (nappe_colour_contrast ((NappeColour) { 0, 0, 0, 1 }, (NappeColour) { 1, 1, 1, 1 }), 21, 1e-9);
  for (NappePaletteKind palette = NAPPE_PALETTE_LIGHT; palette < NAPPE_PALETTE_N; palette++)
    {
      const double least = is_strong (palette) ? 7 : 4.5;

      if (is_strong (palette))
        g_assert_cmpfloat (contrast (palette, NAPPE_ROLE_HAIR, NAPPE_ROLE_PAPER), >=, 3);
      for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
        for (guint k = 0; k < G_N_ELEMENTS (grounds); k++)
          if (contrast (palette, texts[i], grounds[k]) < least)
            g_test_fail_printf ("palette %d: text %d on %d has only %.2f : 1", palette, texts[i], grounds[k],
                                contrast (palette, texts[i], grounds[k]));
      for (guint i = 0; i < G_N_ELEMENTS (marks); i++)
        if (contrast (palette, marks[i][0], marks[i][1]) < least)
          g_test_fail_printf ("palette %d: role %d on %d has only %.2f : 1", palette, marks[i][0], marks[i][1],
                              contrast (palette, marks[i][0], marks[i][1]));
    }
}

/* Machado, Oliveira, Fernandes 2009, severity 1.0, on linear RGB: protan, deutan, tritan. */
static const double blindness[3][3][3] = {
  { { 0.152286, 1.052583, -0.204868 }, { 0.114503, 0.786281, 0.099216 }, { -0.003882, -0.048116, 1.051998 } },
  { { 0.367322, 0.860646, -0.227968 }, { 0.280085, 0.672501, 0.047413 }, { -0.011820, 0.042940, 0.968881 } },
  { { 1.255528, -0.076749, -0.178779 }, { -0.078411, 0.930809, 0.147602 }, { 0.004733, 0.691367, 0.303900 } },
};

static double
linear (double channel)
{
  return channel <= 0.04045 ? channel / 12.92 : pow ((channel + 0.055) / 1.055, 2.4);
}

static double
lab_curve (double share)
{
  return share > 0.008856 ? cbrt (share) : 7.787 * share + 16.0 / 116.0;
}

/* CIE L*a*b* under D65 of a colour as one of three kinds of the colour-blind see it. */
static void
seen_lab (NappeColour colour, guint kind, double lab[3])
{
  double in[3] = { linear (colour.red), linear (colour.green), linear (colour.blue) }, rgb[3];
  for (guint i = 0; i < 3; i++)
    rgb[i] = CLAMP (blindness[kind][i][0] * in[0] + blindness[kind][i][1] * in[1] + blindness[kind][i][2] * in[2], 0, 1);
  double x = lab_curve ((0.4124 * rgb[0] + 0.3576 * rgb[1] + 0.1805 * rgb[2]) / 0.95047);
  double y = lab_curve (0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]);
  double z = lab_curve ((0.0193 * rgb[0] + 0.1192 * rgb[1] + 0.9505 * rgb[2]) / 1.08883);
  lab[0] = 116 * y - 16;
  lab[1] = 500 * (x - y);
  lab[2] = 200 * (y - z);
}

/* Shape and number tell the severities apart, and dashes the levels of the other state; their colours help everybody:
 * 20 is a plain difference. */
static void
test_colour_blindness (void)
{
  static const NappeRole together[][2] = { { NAPPE_ROLE_DANGER, NAPPE_ROLE_PROBLEM },
                                           { NAPPE_ROLE_DANGER, NAPPE_ROLE_ADVICE },
                                           { NAPPE_ROLE_PROBLEM, NAPPE_ROLE_ADVICE },
                                           { NAPPE_ROLE_SURFACE, NAPPE_ROLE_OTHER_STATE },
                                           { NAPPE_ROLE_WATER_TOP, NAPPE_ROLE_OTHER_STATE },
                                           { NAPPE_ROLE_MOVING, NAPPE_ROLE_TRICKLE },
                                           { NAPPE_ROLE_TRICKLE, NAPPE_ROLE_AIR } };
  for (NappePaletteKind palette = NAPPE_PALETTE_LIGHT; palette < NAPPE_PALETTE_N; palette++)
    for (guint kind = 0; kind < 3; kind++)
      for (guint i = 0; i < G_N_ELEMENTS (together); i++)
        {
          double a[3], b[3];
          seen_lab (nappe_palette_colour (palette, together[i][0]), kind, a);
          seen_lab (nappe_palette_colour (palette, together[i][1]), kind, b);
          double apart = sqrt ((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]) + (a[2] - b[2]) * (a[2] - b[2]));
          if (apart < 20)
            g_test_fail_printf ("palette %d, blindness %u: roles %d and %d are only %.1f apart", palette, kind, together[i][0],
                                together[i][1], apart);
        }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/scene/boxes", test_boxes);
  g_test_add_func ("/scene/texts", test_texts);
  g_test_add_func ("/scene/shorten", test_shorten);
  g_test_add_func ("/scene/label-places", test_label_places);
  g_test_add_func ("/scene/not-finite", test_not_finite);
  g_test_add_func ("/scene/contrast", test_contrast);
  g_test_add_func ("/scene/colour-blindness", test_colour_blindness);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sump from above and the drilled panes: nothing collides, places are true, and what is assumed is said. */
#include <math.h>
#include <string.h>

#include "picture-fixture.h"
#include "picture/handles.h"
#include "picture/picture-private.h"

static const NappePictureKind kinds[] = { NAPPE_PICTURE_PLAN, NAPPE_PICTURE_PANELS };
static const double sizes[][2] = { { 1400, 900 }, { 1047, 718 }, { 700, 500 }, { 360, 620 }, { 500, 360 }, { 240, 180 } };

static void
test_labels (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  for (guint kind = 0; kind < G_N_ELEMENTS (kinds); kind++)
    for (guint size = 0; size < G_N_ELEMENTS (sizes); size++)
      for (guint large = 0; large < 2; large++)
        {
          NappePictureOptions options = picture_options (kinds[kind], sizes[size][0], sizes[size][1], NAPPE_SHOW_RUNNING);
          options.units = large ? NAPPE_UNITS_US : NAPPE_UNITS_METRIC;
          options.text_scale = large ? 1.5 : 1;
          g_autoptr (NappePicture) picture = picture_of (fixture, &options);
          g_autofree char *what = g_strdup_printf ("%s, kind %u, %g × %g", (const char *) name, kinds[kind], options.width,
                                                   options.height);
          picture_check_labels (picture, what);
        }
}

static void
shake (NappePart *part, gpointer build)
{
  NappePartClass *klass = NAPPE_PART_GET_CLASS (part);
  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      if (field->type != NAPPE_FIELD_NUMBER || field->quantity != NAPPE_QUANTITY_LENGTH
          || g_test_rand_double_range (0, 1) > 0.4)
        continue;
      double value = nappe_part_number (part, field) * g_test_rand_double_range (0.3, 2.5);
      if (nappe_is_given (value))
        nappe_build_set_number (build, part, field->name, CLAMP (value, field->minimum, field->maximum), NULL);
    }
}

/* Builds at random, a few of them drawn on paper of any size. */
static void
test_random (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  for (guint round = 0; round < 60; round++)
    {
      g_autoptr (NappeBuild) build = nappe_build_copy (fixture->build);
      nappe_part_visit (NAPPE_PART (build), shake, build);
      g_autoptr (NappeLayout) layout = nappe_layout_new (build, fixture->catalogue);
      for (guint kind = 0; kind < G_N_ELEMENTS (kinds); kind++)
        {
          NappePictureOptions options = picture_options (kinds[kind], g_test_rand_double_range (240, 1600),
                                                         g_test_rand_double_range (180, 1000), NAPPE_SHOW_RUNNING);
          g_autoptr (NappePicture) picture = nappe_picture_new (&options, build, layout, NULL, NULL);
          g_autofree char *what = g_strdup_printf ("%s, round %u, kind %u", (const char *) name, round, kinds[kind]);
          picture_check_labels (picture, what);
        }
    }
}

static gboolean
says (NappePicture *picture, const char *words)
{
  guint n;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n);
  for (guint i = 0; i < n; i++)
    if (strstr (labels[i].text, words))
      return TRUE;
  return FALSE;
}

static NappePicture *
draw (PictureFixture *fixture, NappePictureKind kind)
{
  NappePictureOptions options = picture_options (kind, 1400, 900, NAPPE_SHOW_RUNNING);
  return picture_of (fixture, &options);
}

/* Each chamber is picked at its front, is said with its measures, and is as long on the paper as beside the others. */
static void
test_chambers (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  g_autoptr (NappePicture) picture = draw (fixture, NAPPE_PICTURE_PLAN);
  double scale = NAN;
  for (guint i = 0; i < fixture->layout->n_chambers; i++)
    {
      const NappeFrame *room = &fixture->layout->chambers[i].frame;
      const char *id = nappe_part_get_id (NAPPE_PART (fixture->layout->chambers[i].part));
      const NappePictureItem *item = picture_item (picture, id);
      g_assert_nonnull (item);
      g_autofree char *length = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, room->right - room->left, NAPPE_UNITS_METRIC, 0);
      g_assert_nonnull (strstr (item->description, length));
      g_assert_cmpstr (nappe_picture_pick (picture, item->x + item->width / 2, item->y + item->height - 5), ==, id);
      if (isnan (scale))
        scale = item->width / (room->right - room->left);
      g_assert_cmpfloat_with_epsilon (item->width, scale * (room->right - room->left), 0.1);
      g_assert_cmpfloat_with_epsilon (item->height, scale * (room->back - room->front), 0.1);
    }
}

/* Nothing that fits side by side is drawn one on the other: the heaters of the first demo beside its skimmer. */
static void
test_beside (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappePicture) picture = draw (fixture, NAPPE_PICTURE_PLAN);
  guint compared = 0;
  for (guint i = 0; i < fixture->build->equipment->len; i++)
    for (guint k = 0; k < i; k++)
      {
        NappeEquipment *one = fixture->build->equipment->pdata[k], *other = fixture->build->equipment->pdata[i];
        const NappePictureItem *a = picture_item (picture, nappe_part_get_id (NAPPE_PART (one)));
        const NappePictureItem *b = picture_item (picture, nappe_part_get_id (NAPPE_PART (other)));
        if (!a || !b || !g_str_equal (one->where, other->where))
          continue;
        NappeBox first = { a->x, a->y, a->width, a->height }, second = { b->x, b->y, b->width, b->height };
        g_assert_false (nappe_box_overlaps (&first, &second));
        compared++;
      }
  g_assert_cmpuint (compared, >=, 3);
  g_assert_true (says (picture, "Assumed"));
}

/* A drain that is planned far to the left of its box stands far to the right where its bottom is seen from below. */
static void
test_mirrored (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappePicture) picture = draw (fixture, NAPPE_PICTURE_PANELS);
  const NappeLayout *layout = fixture->layout;
  for (guint i = 0; i < layout->n_drains; i++)
    for (guint k = 0; k < i; k++)
      {
        const NappePictureItem *a = picture_item (picture, nappe_part_get_id (layout->drains[k].part));
        const NappePictureItem *b = picture_item (picture, nappe_part_get_id (layout->drains[i].part));
        g_assert_nonnull (a);
        g_assert_nonnull (b);
        double planned = layout->drains[i].trunk.start.x - layout->drains[k].trunk.start.x;
        double drawn = (b->x + b->width / 2) - (a->x + a->width / 2);
        g_assert_true (planned * drawn < 0);
      }
  g_assert_true (says (picture, "seen from below"));
  g_assert_true (says (picture, "Assumed"));
}

/* The glass beside each hole is the same number that the rule about edges found. */
static void
test_same_glass_as_rule (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappePicture) picture = draw (fixture, NAPPE_PICTURE_PANELS);
  const GPtrArray *lists[] = { fixture->verdict->findings, fixture->verdict->fine };
  guint compared = 0;
  for (guint list = 0; list < G_N_ELEMENTS (lists); list++)
    for (guint i = 0; i < lists[list]->len; i++)
      {
        NappeFinding *finding = lists[list]->pdata[i];
        NappePart *piece = nappe_build_find (fixture->build, nappe_finding_get_part (finding));
        if (!g_str_equal (nappe_finding_get_rule (finding), "hole-near-edge") || !piece)
          continue;
        const NappePictureItem *item = picture_item (picture, nappe_part_get_id (nappe_part_get_owner (piece)));
        g_assert_nonnull (item);
        g_autofree char *clear = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, nappe_finding_get_value (finding),
                                                               NAPPE_UNITS_METRIC, 0);
        g_autofree char *words = g_strdup_printf ("; %s to the edge", clear);
        g_assert_nonnull (strstr (item->description, words));
        compared++;
      }
  g_assert_cmpuint (compared, ==, 3);
}

/* Tempered glass is warned of, unknown glass too, and annealed glass is not. */
static void
test_temper (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  NappeTank *tank = NAPPE_BUILD_TANK (fixture->build);
  static const char *const words[] = { [NAPPE_TEMPER_UNKNOWN] = "find out before", [NAPPE_TEMPER_ANNEALED] = "can be drilled",
                                       [NAPPE_TEMPER_TEMPERED] = "Do not drill" };
  for (int temper = NAPPE_TEMPER_UNKNOWN; temper <= NAPPE_TEMPER_TEMPERED; temper++)
    {
      tank->bottom_temper = temper;
      g_autoptr (NappePicture) picture = draw (fixture, NAPPE_PICTURE_PANELS);
      for (int other = NAPPE_TEMPER_UNKNOWN; other <= NAPPE_TEMPER_TEMPERED; other++)
        g_assert_cmpint (says (picture, words[other]), ==, other == temper);
    }
}

/* Without drains there is nothing to drill, and the picture says so. */
static void
test_none (void)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeLayout) layout = nappe_layout_new (build, fixture->catalogue);
  NappePictureOptions options = picture_options (NAPPE_PICTURE_PANELS, 900, 600, NAPPE_SHOW_RUNNING);
  g_autoptr (NappePicture) picture = nappe_picture_new (&options, build, layout, NULL, NULL);
  g_assert_true (says (picture, "no drilled pane"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  for (guint i = 0; i < DRAWN_COUNT; i++)
    {
      g_autofree char *labels = g_strconcat ("/plan/labels/", drawn_names[i], NULL);
      g_autofree char *random = g_strconcat ("/plan/random/", drawn_names[i], NULL);
      g_autofree char *chambers = g_strconcat ("/plan/chambers/", drawn_names[i], NULL);
      g_test_add_data_func (labels, drawn_names[i], test_labels);
      g_test_add_data_func (random, drawn_names[i], test_random);
      g_test_add_data_func (chambers, drawn_names[i], test_chambers);
    }
  g_test_add_func ("/plan/beside", test_beside);
  g_test_add_func ("/plan/mirrored", test_mirrored);
  g_test_add_func ("/plan/same-glass-as-rule", test_same_glass_as_rule);
  g_test_add_func ("/plan/temper", test_temper);
  g_test_add_func ("/plan/none", test_none);
  return g_test_run ();
}

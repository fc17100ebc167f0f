/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Builds that a file may hold but nobody would build, and papers that nobody would choose. */
#include <math.h>
#include <string.h>

#include "picture-fixture.h"
#include "picture/picture-private.h"

static const NappePictureKind kinds[] = { NAPPE_PICTURE_ELEVATION, NAPPE_PICTURE_PLAN, NAPPE_PICTURE_PANELS };

static void
draw_kind (NappeBuild *build, const NappeLayout *layout, const NappePictureOptions *options)
{
  g_autoptr (NappePicture) picture = nappe_picture_new (options, build, layout, NULL, NULL);
  g_autofree char *description = nappe_scene_describe (picture->scene);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) picture->width, (int) picture->height);
  cairo_t *cr = cairo_create (surface);
  g_assert_null (strstr (description, "nan"));
  g_assert_null (strstr (description, "inf"));
  nappe_picture_draw (picture, cr);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* Every picture to scale. */
static void
draw_one (NappeBuild *build, NappeCatalogue *catalogue, const NappePictureOptions *options)
{
  g_autoptr (NappeLayout) layout = nappe_layout_new (build, catalogue);
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      NappePictureOptions changed = *options;
      changed.kind = kinds[i];
      draw_kind (build, layout, &changed);
    }
}

typedef struct
{
  NappeBuild *build;
  gboolean highest;
  guint changed;
} Extremes;

/* Every number of a part to the end of what is accepted. */
static void
go_to_extreme (NappePart *part, gpointer data)
{
  Extremes *self = data;
  NappePartClass *klass = NAPPE_PART_GET_CLASS (part);
  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      if (field->type != NAPPE_FIELD_NUMBER)
        continue;
      double value = self->highest ? field->maximum : field->minimum;
      self->changed += nappe_build_set_number (self->build, part, field->name, value, NULL);
    }
}

static void
test_extremes (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 700, 500, NAPPE_SHOW_RUNNING);
  for (guint round = 0; round < 2; round++)
    {
      g_autoptr (NappeBuild) build = nappe_build_copy (fixture->build);
      Extremes extremes = { build, round == 0, 0 };
      nappe_part_visit (NAPPE_PART (build), go_to_extreme, &extremes);
      g_assert_cmpuint (extremes.changed, >, 100);
      draw_one (build, fixture->catalogue, &options);
    }
}

static void
collect_part (NappePart *part, gpointer parts)
{
  g_ptr_array_add (parts, part);
}

/* One part at a time at its extremes, the rest as designed. */
static void
test_one_extreme (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("single-drain");
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 500, 400, NAPPE_SHOW_RUNNING);
  g_autoptr (GPtrArray) ids = g_ptr_array_new ();
  nappe_part_visit (NAPPE_PART (fixture->build), collect_part, ids);
  for (guint i = 0; i < ids->len; i++)
    for (guint round = 0; round < 2; round++)
      {
        g_autoptr (NappeBuild) build = nappe_build_copy (fixture->build);
        NappePart *part = nappe_build_find (build, nappe_part_get_id (ids->pdata[i]));
        Extremes extremes = { build, round == 0, 0 };
        if (!part)
          continue;
        go_to_extreme (part, &extremes);
        draw_one (build, fixture->catalogue, &options);
      }
}

/* A build of nothing but what is always there. */
static void
test_empty (void)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, &error);
  g_assert_no_error (error);
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 700, 500, NAPPE_SHOW_RUNNING);
  draw_one (build, catalogue, &options);
}

/* Papers from a stamp to a wall, and numbers that are none. */
static void
test_papers (void)
{
  static const double papers[][3] = { { 1, 1, 1 }, { 16, 900, 1 }, { 900, 16, 1 }, { 60, 40, 3 }, { 700, 500, 8 },
                                      { 700, 500, 0.3 },
                                      { -5, NAN, NAN }, { 3000, 200, 1 }, { 700, 500, 1e9 }, { 700, 500, -1 } };
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, papers[i][0], papers[i][1], NAPPE_SHOW_RUNNING);
      options.text_scale = papers[i][2];
      draw_one (fixture->build, fixture->catalogue, &options);
      g_autoptr (NappePicture) picture = picture_of (fixture, &options);
      g_autofree char *description = nappe_scene_describe (picture->scene);
      g_assert_null (strstr (description, "nan"));
    }
}

/* Names as long as a file may give them do not push anything off the paper. */
static void
test_long_names (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (GPtrArray) parts = g_ptr_array_new ();
  g_autofree char *name = g_strnfill (NAPPE_PART_NAME_MAX, 'W');
  guint n;
  nappe_part_visit (NAPPE_PART (fixture->build), collect_part, parts);
  for (guint i = 0; i < parts->len; i++)
    if (parts->pdata[i] != (gpointer) fixture->build)
      g_assert_true (nappe_build_rename_part (fixture->build, parts->pdata[i], name, NULL));
  nappe_build_set_text (fixture->build, NAPPE_PART (fixture->build), "title", name, NULL);
  for (guint kind = 0; kind < G_N_ELEMENTS (kinds); kind++)
    {
      NappePictureOptions options = picture_options (kinds[kind], 1000, 700, NAPPE_SHOW_RUNNING);
      g_autoptr (NappePicture) picture = picture_of (fixture, &options);
      const NappePictureLabel *labels = nappe_picture_labels (picture, &n);
      for (guint i = 0; i < n; i++)
        {
          g_assert_cmpfloat (labels[i].x, >=, 0);
          g_assert_cmpfloat (labels[i].x + labels[i].width, <=, 1000);
          g_assert_cmpfloat (labels[i].y, >=, 0);
          g_assert_cmpfloat (labels[i].y + labels[i].height, <=, 700);
        }
    }
}

/* Without a study the picture says that it is dry, title or not. */
static void
test_says_why_dry (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("single-drain");
  for (guint titled = 0; titled < 2; titled++)
    {
      NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 900, 700, NAPPE_SHOW_RUNNING);
      gboolean said = FALSE;
      guint n;
      options.title = titled == 1;
      g_autoptr (NappePicture) picture = nappe_picture_new (&options, fixture->build, fixture->layout, NULL, NULL);
      const NappePictureLabel *labels = nappe_picture_labels (picture, &n);
      for (guint i = 0; i < n; i++)
        said = said || strstr (labels[i].text, "Drawn dry");
      g_assert_true (said);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  for (guint i = 0; i < DRAWN_COUNT; i++)
    {
      g_autofree char *path = g_strdup_printf ("/hostile/extremes/%s", drawn_names[i]);
      g_test_add_data_func (path, drawn_names[i], test_extremes);
    }
  g_test_add_func ("/hostile/one-extreme", test_one_extreme);
  g_test_add_func ("/hostile/empty", test_empty);
  g_test_add_func ("/hostile/papers", test_papers);
  g_test_add_func ("/hostile/long-names", test_long_names);
  g_test_add_func ("/hostile/says-why-dry", test_says_why_dry);
  return g_test_run ();
}

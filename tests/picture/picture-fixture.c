/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture-fixture.h"

#include "file/file.h"
#include "picture/picture-private.h"

const char *const demo_names[DEMO_COUNT] = { "three-drain", "two-drain", "single-drain" };
const char *const drawn_names[DRAWN_COUNT] = { "three-drain", "two-drain", "single-drain", "demo-builds/slim",
                                               "demo-builds/rim", "demo-builds/hang-on", "demo-builds/two-pumps",
                                               "demo-builds/nano", "demo-builds/cellar", "demo-builds/hall",
                                               "demo-builds/rim-three", "demo-builds/mistakes" };

/* Read once: under the sanitizers that takes longer than all else. Transfer full. */
static NappeCatalogue *
shared_catalogue (void)
{
  static NappeCatalogue *catalogue;
  if (!catalogue)
    {
      g_autoptr (GError) error = NULL;
      catalogue = nappe_catalogue_load_default (NULL, &error);
      g_assert_no_error (error);
    }
  return nappe_catalogue_ref (catalogue);
}

static PictureFixture *
fixture_of (NappeBuild *build)
{
  PictureFixture *self = g_new0 (PictureFixture, 1);
  self->build = build;
  self->catalogue = shared_catalogue ();
  self->study = nappe_study_build (build, self->catalogue);
  self->layout = nappe_layout_new (build, self->catalogue);
  self->verdict = nappe_rules_run (build, self->study, NAPPE_UNITS_METRIC);
  return self;
}

PictureFixture *
picture_fixture_new (const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *base = g_strconcat (name, ".nappe", NULL);
  g_autofree char *path = strchr (name, '/') ? g_test_build_filename (G_TEST_DIST, base, NULL)
                                             : g_test_build_filename (G_TEST_DIST, "..", "data", "demos", base, NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  NappeBuild *build = nappe_file_read (file, NULL, &error);
  g_assert_no_error (error);
  return fixture_of (build);
}

PictureFixture *
picture_fixture_from_text (const char *text)
{
  g_autoptr (GError) error = NULL;
  NappeBuild *build = nappe_file_read_text (text, strlen (text), "text", &error);
  g_assert_no_error (error);
  return fixture_of (build);
}

void
picture_fixture_free (PictureFixture *self)
{
  nappe_verdict_free (self->verdict);
  nappe_layout_free (self->layout);
  nappe_study_unref (self->study);
  nappe_catalogue_unref (self->catalogue);
  g_object_unref (self->build);
  g_free (self);
}

NappePictureOptions
picture_options (NappePictureKind kind, double width, double height, NappeShownState shown)
{
  return (NappePictureOptions) { .kind = kind, .palette = NAPPE_PALETTE_LIGHT, .shown = shown, .units = NAPPE_UNITS_METRIC,
                                 .width = width, .height = height, .text_scale = 1, .title = TRUE };
}

NappePicture *
picture_of (PictureFixture *self, const NappePictureOptions *options)
{
  return nappe_picture_new (options, self->build, self->layout, self->study, self->verdict);
}

/* Boxes of neighbouring lines may share an edge; less than this is no overlap [px]. */
#define TOUCH 0.5

static NappeBox
shrunk (double x, double y, double width, double height)
{
  return nappe_box_grown ((NappeBox) { x, y, width, height }, -TOUCH / 2);
}

static gboolean
within (const NappeBox *inner, const NappeBox *outer)
{
  NappeBox wide = nappe_box_grown (*outer, TOUCH);
  return nappe_box_within (inner, &wide);
}

/* Whether a text is the number of a finding: its sign is opaque and may stand on a pipe. */
static gboolean
is_in_sign (const NappeBox *label, const NappeBlock *blocks, guint n)
{
  for (guint i = 0; i < n; i++)
    if (blocks[i].kind == NAPPE_BLOCK_SIGN && within (label, &blocks[i].box))
      return TRUE;
  return FALSE;
}

/* Fails the test, which goes on: each failure is told. */
static void G_GNUC_PRINTF (1, 2)
complain (const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  g_autofree char *message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_test_message ("%s", message);
  g_test_fail_printf ("%s", message);
}

/* Signs of findings stand on pipes, lines and walls alone. */
static void
check_signs (const NappeBlock *blocks, guint n, const char *what)
{
  for (guint i = 0; i < n; i++)
    for (guint k = 0; k < n && blocks[i].kind == NAPPE_BLOCK_SIGN; k++)
      {
        NappeBox box = nappe_box_grown (blocks[i].box, -TOUCH / 2), other = nappe_box_grown (blocks[k].box, -TOUCH / 2);
        gboolean counts = blocks[k].kind == NAPPE_BLOCK_MARK || blocks[k].kind == NAPPE_BLOCK_DIMENSION
                          || (blocks[k].kind == NAPPE_BLOCK_SIGN && k > i)
                          || (blocks[k].kind == NAPPE_BLOCK_TEXT && !within (&other, &blocks[i].box));
        if (counts && nappe_box_overlaps (&box, &other))
          complain ("%s: a sign at %.0f,%.0f lies on a block of kind %d at %.0f,%.0f", what, box.x, box.y,
                    blocks[k].kind, other.x, other.y);
      }
}

void
picture_check_labels (NappePicture *picture, const char *what)
{
  guint n, n_blocks;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n);
  const NappeBlock *blocks = nappe_scene_blocks (picture->scene, &n_blocks);
  check_signs (blocks, n_blocks, what);
  for (guint i = 0; i < n; i++)
    {
      NappeBox box = shrunk (labels[i].x, labels[i].y, labels[i].width, labels[i].height);
      for (guint k = i + 1; k < n; k++)
        {
          NappeBox other = shrunk (labels[k].x, labels[k].y, labels[k].width, labels[k].height);
          if (nappe_box_overlaps (&box, &other))
            complain ("%s: “%s” lies on “%s”", what, labels[i].text, labels[k].text);
        }
      for (guint k = 0; k < n_blocks; k++)
        {
          NappeBlockKind kind = blocks[k].kind;
          NappeBox block = nappe_box_grown (blocks[k].box, -TOUCH / 2);
          if (kind == NAPPE_BLOCK_TEXT || kind == NAPPE_BLOCK_SOFT || !nappe_box_overlaps (&box, &block))
            continue;
          /* The number in a finding's sign, the lines in a label's frame, the name on a skimmer. */
          if ((kind == NAPPE_BLOCK_MARK || kind == NAPPE_BLOCK_SIGN) && within (&box, &blocks[k].box))
            continue;
          if ((kind == NAPPE_BLOCK_PIPE || kind == NAPPE_BLOCK_LINE) && is_in_sign (&box, blocks, n_blocks))
            continue;
          complain ("%s: “%s” at %.0f,%.0f lies on a block of kind %d at %.0f,%.0f %.0f×%.0f", what,
                              labels[i].text, box.x, box.y, kind,
                              blocks[k].box.x, blocks[k].box.y, blocks[k].box.width, blocks[k].box.height);
        }
    }
}

const NappePictureItem *
picture_item (NappePicture *picture, const char *part)
{
  guint n;
  const NappePictureItem *items = nappe_picture_items (picture, &n);

  for (guint i = 0; i < n; i++)
    if (g_str_equal (items[i].part, part))
      return &items[i];
  return NULL;
}

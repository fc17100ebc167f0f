/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures as files: right format, right size, same bytes again, and nothing lost when it fails. */
#include <glib/gstdio.h>
#include <string.h>

#include "picture-fixture.h"

typedef struct
{
  PictureFixture *fixture;
  NappePicture *picture;
  char *folder;
} Case;

static void
set_up (Case *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  NappePictureOptions options = picture_options (NAPPE_PICTURE_ELEVATION, 900, 640, NAPPE_SHOW_RUNNING);
  self->fixture = picture_fixture_new ("three-drain");
  self->picture = picture_of (self->fixture, &options);
  self->folder = g_dir_make_tmp ("nappe-picture-XXXXXX", &error);
  g_assert_no_error (error);
}

static void
tear_down (Case *self, gconstpointer data)
{
  g_autoptr (GDir) dir = g_dir_open (self->folder, 0, NULL);
  for (const char *name = g_dir_read_name (dir); name; name = g_dir_read_name (dir))
    {
      g_autofree char *path = g_build_filename (self->folder, name, NULL);
      g_unlink (path);
    }
  g_rmdir (self->folder);
  g_free (self->folder);
  nappe_picture_free (self->picture);
  picture_fixture_free (self->fixture);
}

static char *
export_to (Case *self, const char *name, double scale, gsize *length)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (self->folder, name, NULL);
  char *content = NULL;
  nappe_picture_export (self->picture, path, scale, &error);
  g_assert_no_error (error);
  g_file_get_contents (path, &content, length, &error);
  g_assert_no_error (error);
  return content;
}

static void
test_png (Case *self, gconstpointer data)
{
  gsize length;
  g_autofree char *content = export_to (self, "a.png", 1.5, &length);
  g_autofree char *path = g_build_filename (self->folder, "a.png", NULL);
  cairo_surface_t *surface = cairo_image_surface_create_from_png (path);
  g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);
  g_assert_cmpint (cairo_image_surface_get_width (surface), ==, 1350);
  g_assert_cmpint (cairo_image_surface_get_height (surface), ==, 960);
  /* Paper at the corner, and not only paper. */
  const unsigned char *pixels = cairo_image_surface_get_data (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface), others = 0;
  for (int row = 0; row < 960; row++)
    others += memcmp (pixels + (gsize) row * stride, pixels, 1350 * 4) != 0;
  g_assert_cmpuint (others, >, 400);
  cairo_surface_destroy (surface);
}

static void
count_element (GMarkupParseContext *context, const char *element, const char **names, const char **values, gpointer count,
               GError **error)
{
  ++*(guint *) count;
}

static void
test_svg (Case *self, gconstpointer data)
{
  gsize length;
  guint count = 0;
  g_autoptr (GError) error = NULL;
  g_autofree char *content = export_to (self, "a.SVG", 1, &length);
  GMarkupParser parser = { .start_element = count_element };
  g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&parser, 0, &count, NULL);
  g_assert_true (g_markup_parse_context_parse (context, content, (gssize) length, &error));
  g_assert_true (g_markup_parse_context_end_parse (context, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (count, >, 300);
  g_assert_nonnull (strstr (content, "width=\"900px\""));
}

static char *
output_of (const char *tool, const char *path)
{
  char *output = NULL;
  g_autofree char *program = g_find_program_in_path (tool);
  const char *arguments[] = { tool, path, "-", NULL };
  if (program)
    g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, &output,
                  NULL, NULL, NULL);
  return output;
}

static void
test_pdf (Case *self, gconstpointer data)
{
  gsize length, again;
  g_autofree char *content = export_to (self, "a.pdf", 1, &length);
  g_autofree char *second = export_to (self, "b.pdf", 3, &again);
  g_assert_cmpmem (content, length, second, again);
  g_assert_true (g_str_has_prefix (content, "%PDF"));
  g_autofree char *path = g_build_filename (self->folder, "a.pdf", NULL);
  g_autofree char *text = output_of ("pdftotext", path);
  if (!text)
    {
      g_test_skip ("pdftotext is not installed");
      return;
    }
  const char *name = nappe_part_display_name (self->fixture->build->drains->pdata[0]);
  g_assert_nonnull (strstr (text, name));
  g_assert_nonnull (strstr (text, self->fixture->build->title));
}

static void
test_wrong_ending (Case *self, gconstpointer data)
{
  const char *names[] = { "a.jpg", "png", ".png", "a.png.bak" };
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (GError) error = NULL;
      g_assert_false (nappe_picture_export (self->picture, names[i], 1, &error));
      g_assert_error (error, NAPPE_PICTURE_ERROR, NAPPE_PICTURE_ERROR_FORMAT);
      g_assert_nonnull (strstr (error->message, names[i]));
    }
}

static void
test_wrong_size (Case *self, gconstpointer data)
{
  const double scales[] = { 0, -1, 1000, 1e300, 0.0 / 0.0 };
  g_autofree char *path = g_build_filename (self->folder, "a.png", NULL);
  for (guint i = 0; i < G_N_ELEMENTS (scales); i++)
    {
      g_autoptr (GError) error = NULL;
      g_assert_false (nappe_picture_export (self->picture, path, scales[i], &error));
      g_assert_error (error, NAPPE_PICTURE_ERROR, NAPPE_PICTURE_ERROR_SIZE);
      g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
    }
}

/* A folder that is missing gives an error that names it; a folder in the file's place is kept. */
static void
test_cannot_write (Case *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) second = NULL;
  g_autofree char *missing = g_build_filename (self->folder, "no-such-folder", "a.svg", NULL);
  g_autofree char *folder = g_build_filename (self->folder, "taken.svg", NULL);
  g_assert_false (nappe_picture_export (self->picture, missing, 1, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
  g_assert_nonnull (strstr (error->message, "no-such-folder"));
  g_assert_cmpint (g_mkdir (folder, 0755), ==, 0);
  g_assert_false (nappe_picture_export (self->picture, folder, 1, &second));
  g_assert_nonnull (second);
  g_assert_true (g_file_test (folder, G_FILE_TEST_IS_DIR));
  g_rmdir (folder);
}

static gpointer
draw_in_thread (gpointer picture)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 900, 640);
  cairo_t *cr = cairo_create (surface);
  nappe_picture_draw (picture, cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* A picture may be drawn on any thread, and on several at once. */
static void
test_threads (Case *self, gconstpointer data)
{
  GThread *threads[4];
  cairo_surface_t *own = draw_in_thread (self->picture);
  gsize length = (gsize) cairo_image_surface_get_stride (own) * 640;
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("draw", draw_in_thread, self->picture);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    {
      cairo_surface_t *other = g_thread_join (threads[i]);
      g_assert_true (memcmp (cairo_image_surface_get_data (own), cairo_image_surface_get_data (other), length) == 0);
      cairo_surface_destroy (other);
    }
  cairo_surface_destroy (own);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add ("/export/png", Case, NULL, set_up, test_png, tear_down);
  g_test_add ("/export/svg", Case, NULL, set_up, test_svg, tear_down);
  g_test_add ("/export/pdf", Case, NULL, set_up, test_pdf, tear_down);
  g_test_add ("/export/wrong-ending", Case, NULL, set_up, test_wrong_ending, tear_down);
  g_test_add ("/export/wrong-size", Case, NULL, set_up, test_wrong_size, tear_down);
  g_test_add ("/export/cannot-write", Case, NULL, set_up, test_cannot_write, tear_down);
  g_test_add ("/export/threads", Case, NULL, set_up, test_threads, tear_down);
  return g_test_run ();
}

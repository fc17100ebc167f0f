/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What moves from moment to moment, and what does not: arrows travel with the water, labels stay. */
#include <math.h>
#include <string.h>

#include "picture-fixture.h"
#include "picture/motion.h"
#include "picture/picture-private.h"
#include "picture/scene-private.h"

#define WIDTH 1200
#define HEIGHT 800

static NappeSimulation *
play (PictureFixture *fixture, const char *id)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappePlan) plan = nappe_plan_find (fixture->build, fixture->study, id, &error);
  g_assert_no_error (error);
  NappeSimulation *course = nappe_simulation_new (fixture->study, plan, 0, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  return course;
}

static NappePicture *
moment_of (PictureFixture *fixture, NappePictureKind kind, const NappeSimulation *course, double time,
           const NappePicture *earlier)
{
  NappePictureOptions options = picture_options (kind, WIDTH, HEIGHT, NAPPE_SHOW_MOMENT);
  options.course = course;
  options.moment = time;
  options.motion = TRUE;
  options.earlier = earlier;
  return picture_of (fixture, &options);
}

/* Streams with speed of a sign: 1 forwards, -1 back, 0 still. */
static guint
count_streams (NappePicture *picture, int sign)
{
  guint n = 0;
  for (guint i = 0; i < picture->scene->streams->len; i++)
    {
      const NappeStream *stream = picture->scene->streams->pdata[i];
      n += sign == 0 ? stream->speed == 0 : sign * stream->speed > 0;
    }
  return n;
}

/* While the build runs water goes forwards; when the power has failed it runs back at first, then stands. */
static void
test_way (gconstpointer kind)
{
  NappePictureKind wanted = GPOINTER_TO_INT (kind);
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "power-cut");
  g_autoptr (NappePicture) running = moment_of (fixture, wanted, course, 0, NULL);
  g_autoptr (NappePicture) back = moment_of (fixture, wanted, course, 13, NULL);
  g_autoptr (NappePicture) still = moment_of (fixture, wanted, course, course->end_time, NULL);
  g_assert_cmpuint (count_streams (running, 1), >, 2);
  g_assert_cmpuint (count_streams (running, -1), ==, 0);
  g_assert_cmpuint (count_streams (back, -1), >, 0);
  g_assert_cmpuint (count_streams (still, 0), ==, still->scene->streams->len);
  g_assert_cmpuint (running->scene->streams->len, ==, still->scene->streams->len);
}

/* The pixels of the arrows alone. */
static GBytes *
draw (const NappeMotion *motion, NappePicture *picture)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);
  nappe_motion_draw (motion, picture, cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  GBytes *bytes = g_bytes_new (cairo_image_surface_get_data (surface), (gsize) cairo_image_surface_get_stride (surface) * HEIGHT);
  cairo_surface_destroy (surface);
  return bytes;
}

static gboolean
is_empty (GBytes *bytes)
{
  gsize n;
  const guint8 *data = g_bytes_get_data (bytes, &n);
  for (gsize i = 0; i < n; i++)
    if (data[i] != 0)
      return FALSE;
  return TRUE;
}

/* Arrows are somewhere else after a while, and where they were after no time; nothing is drawn on still water. */
static void
test_travel (gconstpointer kind)
{
  NappePictureKind wanted = GPOINTER_TO_INT (kind);
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "power-cut");
  g_autoptr (NappePicture) running = moment_of (fixture, wanted, course, 0, NULL);
  g_autoptr (NappePicture) still = moment_of (fixture, wanted, course, course->end_time, NULL);
  g_autoptr (NappeMotion) motion = nappe_motion_new ();
  g_autoptr (GBytes) first = draw (motion, running);
  nappe_motion_advance (motion, running, 0);
  g_autoptr (GBytes) same = draw (motion, running);
  nappe_motion_advance (motion, running, NAN);
  nappe_motion_advance (motion, running, -3);
  g_autoptr (GBytes) unmoved = draw (motion, running);
  nappe_motion_advance (motion, running, 0.1);
  g_autoptr (GBytes) later = draw (motion, running);
  g_autoptr (GBytes) none = draw (motion, still);
  g_assert_false (is_empty (first));
  g_assert_true (g_bytes_equal (first, same));
  g_assert_true (g_bytes_equal (first, unmoved));
  g_assert_false (g_bytes_equal (first, later));
  g_assert_true (is_empty (none));
}

/* A picture that is not asked for motion has its arrows in it, one that is has not. */
static void
test_arrows (gconstpointer kind)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("two-drain");
  NappePictureOptions options = picture_options (GPOINTER_TO_INT (kind), WIDTH, HEIGHT, NAPPE_SHOW_RUNNING);
  g_autoptr (NappePicture) standing = picture_of (fixture, &options);
  options.motion = TRUE;
  g_autoptr (NappePicture) moving = picture_of (fixture, &options);
  g_assert_cmpuint (standing->scene->streams->len, ==, 0);
  g_assert_cmpuint (standing->scene->shapes->len, >, moving->scene->shapes->len);
}

/* How many labels have left the place that they had. */
static guint
count_moved (NappePicture *before, NappePicture *after)
{
  GHashTableIter iter;
  gpointer part, place;
  guint moved = 0;
  g_hash_table_iter_init (&iter, after->scene->places);
  while (g_hash_table_iter_next (&iter, &part, &place))
    {
      const NappeLabelPlace *now = place, *then = g_hash_table_lookup (before->scene->places, part);
      gboolean same_left = then && fabs (then->box.x - now->box.x) < 0.5;
      gboolean same_right = then && fabs (then->box.x + then->box.width - now->box.x - now->box.width) < 0.5;
      moved += then && !((same_left || same_right) && fabs (then->box.y - now->box.y) < 0.5);
    }
  return moved;
}

/* Labels that know where they stood a moment ago move less often than such as do not, and hardly ever. */
static void
test_labels_stay (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "restart");
  g_autoptr (NappePicture) led = moment_of (fixture, NAPPE_PICTURE_ELEVATION, course, 0, NULL);
  g_autoptr (NappePicture) free_before = moment_of (fixture, NAPPE_PICTURE_ELEVATION, course, 0, NULL);
  guint moved = 0, moved_freely = 0, frames = 120;
  g_assert_cmpuint (g_hash_table_size (led->scene->places), >, 3);
  for (guint i = 1; i <= frames; i++)
    {
      double time = 60.0 * i / frames;
      NappePicture *next = moment_of (fixture, NAPPE_PICTURE_ELEVATION, course, time, led);
      NappePicture *freely = moment_of (fixture, NAPPE_PICTURE_ELEVATION, course, time, NULL);
      moved += count_moved (led, next);
      moved_freely += count_moved (free_before, freely);
      nappe_picture_free (led);
      nappe_picture_free (free_before);
      led = next;
      free_before = freely;
    }
  g_test_message ("%u labels moved in %u frames, without a memory %u", moved, frames, moved_freely);
  g_assert_cmpuint (moved, <, moved_freely);
  g_assert_cmpuint (moved, <=, 8);
}

static void
add (const char *name, GTestDataFunc test)
{
  g_autofree char *elevation = g_strconcat ("/picture/motion/", name, "/elevation", NULL);
  g_autofree char *flow = g_strconcat ("/picture/motion/", name, "/flow", NULL);
  g_test_add_data_func (elevation, GINT_TO_POINTER (NAPPE_PICTURE_ELEVATION), test);
  g_test_add_data_func (flow, GINT_TO_POINTER (NAPPE_PICTURE_FLOW), test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  add ("way", test_way);
  add ("travel", test_travel);
  add ("arrows", test_arrows);
  g_test_add_func ("/picture/motion/labels-stay", test_labels_stay);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a picture is fitted, zoomed and moved. Expected values follow from the definitions. */
#include "studio/canvas/camera.h"

#include <math.h>

static NappeCamera
fitted (double width, double height)
{
  NappeCamera camera;

  nappe_camera_init (&camera);
  g_assert_true (nappe_camera_resize (&camera, width, height));
  return camera;
}

/* At zoom 1 the whole picture is seen, whatever the size of the canvas. */
static void
test_fit (void)
{
  const double sizes[][2] = { { 1400, 900 }, { 900, 600 }, { 360, 640 }, { 640, 200 }, { 3000, 400 }, { 280, 200 } };

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      NappeCamera camera = fitted (sizes[i][0], sizes[i][1]);
      double x, y;

      nappe_camera_origin (&camera, &x, &y);
      g_assert_cmpfloat (x, >=, 0.0);
      g_assert_cmpfloat (y, >=, 0.0);
      g_assert_cmpfloat (camera.picture_width * camera.scale, <=, sizes[i][0] + 0.01);
      g_assert_cmpfloat (camera.picture_height * camera.scale, <=, sizes[i][1] + 0.01);
      g_assert_cmpfloat (camera.scale, <=, 1.0);
      g_assert_false (nappe_camera_pan (&camera, 50, 50));
    }
}

static void
test_large_canvas_is_not_scaled (void)
{
  NappeCamera camera = fitted (1400, 900);

  g_assert_cmpfloat (camera.scale, ==, 1.0);
  g_assert_cmpfloat (camera.picture_width, ==, 1400);
  g_assert_cmpfloat (camera.picture_height, ==, 900);
}

/* What is under the pointer stays there, as long as no edge of the picture gets in the way. */
static void
test_zoom_keeps_point (void)
{
  NappeCamera camera = fitted (1000, 700);
  double x, y, before_x, before_y;

  nappe_camera_to_picture (&camera, 400, 300, &before_x, &before_y);
  before_x /= camera.picture_width;
  before_y /= camera.picture_height;
  g_assert_true (nappe_camera_zoom_at (&camera, 2.5, 400, 300));
  nappe_camera_to_picture (&camera, 400, 300, &x, &y);
  g_assert_cmpfloat_with_epsilon (x / camera.picture_width, before_x, 0.002);
  g_assert_cmpfloat_with_epsilon (y / camera.picture_height, before_y, 0.002);
}

static void
test_zoom_has_limits (void)
{
  NappeCamera camera = fitted (1000, 700);

  g_assert_false (nappe_camera_zoom_at (&camera, 0.1, 0, 0));
  g_assert_true (nappe_camera_zoom_at (&camera, 1000, 0, 0));
  g_assert_cmpfloat (camera.zoom, ==, NAPPE_ZOOM_MAX);
  g_assert_true (nappe_camera_zoom_at (&camera, 1.0, 0, 0));
  g_assert_cmpfloat (camera.x, ==, 0.0);
}

static void
test_pan_stops_at_edges (void)
{
  NappeCamera camera = fitted (1000, 700);

  nappe_camera_zoom_at (&camera, 2.0, 500, 350);
  g_assert_true (nappe_camera_pan (&camera, 1e6, 1e6));
  g_assert_cmpfloat (camera.x, ==, 1000);
  g_assert_cmpfloat (camera.y, ==, 700);
  g_assert_false (nappe_camera_pan (&camera, 1, 1));
  g_assert_true (nappe_camera_pan (&camera, -1e6, -1e6));
  g_assert_cmpfloat (camera.x, ==, 0);
}

static void
test_reveal (void)
{
  NappeCamera camera = fitted (1000, 700);
  double x, y;

  g_assert_false (nappe_camera_reveal (&camera, 900, 600, 50, 50));
  nappe_camera_zoom_at (&camera, 3.0, 0, 0);
  g_assert_true (nappe_camera_reveal (&camera, 2500, 1500, 100, 60));
  nappe_camera_to_picture (&camera, 0, 0, &x, &y);
  g_assert_cmpfloat (x, <=, 2500);
  g_assert_cmpfloat (x + 1000, >=, 2600);
  g_assert_cmpfloat (y, <=, 1500);
  g_assert_cmpfloat (y + 700, >=, 1560);
  g_assert_false (nappe_camera_reveal (&camera, 2500, 1500, 100, 60));
}

static void
test_picture_points (void)
{
  NappeCamera camera = fitted (380, 300);
  double origin_x, origin_y, x, y;

  g_assert_cmpfloat (camera.scale, <, 1.0);
  nappe_camera_origin (&camera, &origin_x, &origin_y);
  nappe_camera_to_picture (&camera, origin_x + 38, origin_y + 19, &x, &y);
  g_assert_cmpfloat_with_epsilon (x, 38 / camera.scale, 1e-9);
  g_assert_cmpfloat_with_epsilon (y, 19 / camera.scale, 1e-9);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/studio/camera/fit", test_fit);
  g_test_add_func ("/studio/camera/large-canvas-is-not-scaled", test_large_canvas_is_not_scaled);
  g_test_add_func ("/studio/camera/zoom-keeps-point", test_zoom_keeps_point);
  g_test_add_func ("/studio/camera/zoom-has-limits", test_zoom_has_limits);
  g_test_add_func ("/studio/camera/pan-stops-at-edges", test_pan_stops_at_edges);
  g_test_add_func ("/studio/camera/reveal", test_reveal);
  g_test_add_func ("/studio/camera/picture-points", test_picture_points);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/snapping.h"

/* Two millimetres a pixel. */
static const NappeHandle upright = { .upright = TRUE, .x = 50, .y = 300, .per_pixel = 0.002, .value = 0.2003, .least = 0.1,
                                     .most = 0.25, .least_why = "low", .most_why = "high" };

static void
test_grid (void)
{
  NappeSnap snap = nappe_snap (&upright, 4, nappe_snap_step (NAPPE_UNITS_METRIC, FALSE), NULL, 0, NAPPE_SNAP_REACH);

  g_assert_cmpfloat_with_epsilon (snap.value, 0.208, 1e-12);
  g_assert_null (snap.why);
  snap = nappe_snap (&upright, 4, nappe_snap_step (NAPPE_UNITS_METRIC, TRUE), NULL, 0, NAPPE_SNAP_REACH);
  g_assert_cmpfloat_with_epsilon (snap.value, 0.21, 1e-12);
  /* 0.2083 m is 8.2008 in: 8 3/16 in. */
  snap = nappe_snap (&upright, 4, nappe_snap_step (NAPPE_UNITS_US, FALSE), NULL, 0, NAPPE_SNAP_REACH);
  g_assert_cmpfloat_with_epsilon (snap.value, 8.1875 * 0.0254, 1e-12);
}

/* What was not moved stays exactly what it was, off the grid as it may be. */
static void
test_unmoved (void)
{
  g_assert_cmpfloat (nappe_snap (&upright, 0, 0.001, NULL, 0, NAPPE_SNAP_REACH).value, ==, 0.2003);
}

static void
test_range (void)
{
  NappeSnap snap = nappe_snap (&upright, 90, 0.001, NULL, 0, NAPPE_SNAP_REACH);

  g_assert_cmpfloat (snap.value, ==, 0.25);
  g_assert_cmpstr (snap.why, ==, "high");
  snap = nappe_snap (&upright, -90, 0.001, NULL, 0, NAPPE_SNAP_REACH);
  g_assert_cmpfloat (snap.value, ==, 0.1);
  g_assert_cmpstr (snap.why, ==, "low");
}

static void
test_guides (void)
{
  /* The handle's own place, another axis, two near each other, one out of range. */
  const NappeGuide guides[] = { { TRUE, 300 }, { FALSE, 290 }, { TRUE, 289 }, { TRUE, 292 }, { TRUE, 200 } };
  NappeSnap snap = nappe_snap (&upright, 10, 0.001, guides, G_N_ELEMENTS (guides), NAPPE_SNAP_REACH);

  g_assert_true (snap.on_guide);
  g_assert_cmpfloat (snap.guide, ==, 289);
  g_assert_cmpfloat_with_epsilon (snap.value, 0.2003 + 11 * 0.002, 1e-12);
  snap = nappe_snap (&upright, 2, 0.001, guides, G_N_ELEMENTS (guides), NAPPE_SNAP_REACH);
  g_assert_false (snap.on_guide);
  g_assert_cmpfloat_with_epsilon (snap.value, 0.204, 1e-12);
  snap = nappe_snap (&upright, 99, 0.001, guides, G_N_ELEMENTS (guides), NAPPE_SNAP_REACH);
  g_assert_false (snap.on_guide);
  g_assert_cmpfloat (snap.value, ==, 0.25);
}

/* One that grows to the left. */
static void
test_backwards (void)
{
  const NappeHandle across = { .x = 100, .per_pixel = -0.001, .value = 0.3, .least = 0.1, .most = 0.5 };
  const NappeGuide guide = { FALSE, 80 };
  NappeSnap snap = nappe_snap (&across, 30, 0.001, &guide, 1, NAPPE_SNAP_REACH);

  g_assert_cmpfloat_with_epsilon (snap.value, 0.27, 1e-12);
  snap = nappe_snap (&across, -22, 0.001, &guide, 1, NAPPE_SNAP_REACH);
  g_assert_true (snap.on_guide);
  g_assert_cmpfloat_with_epsilon (snap.value, 0.32, 1e-12);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/studio/snapping/grid", test_grid);
  g_test_add_func ("/studio/snapping/unmoved", test_unmoved);
  g_test_add_func ("/studio/snapping/range", test_range);
  g_test_add_func ("/studio/snapping/guides", test_guides);
  g_test_add_func ("/studio/snapping/backwards", test_backwards);
  return g_test_run ();
}

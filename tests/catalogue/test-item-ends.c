/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How items join, and what pressure they stand. */
#include "catalogue/item-ends.h"

#include <math.h>

#define PLAY 0.001
#define PSI 6894.757

static NappeCatalogue *catalogue;

static const NappeItem *
item_of (const char *id)
{
  const NappeItem *item = nappe_catalogue_find (catalogue, id);
  if (item == NULL)
    g_error ("the catalogue has no %s", id);
  return item;
}

/* Pressure ratings at 73 °F in psi as ASTM D1785 prints them, in steps of ten: PVC 1120, schedule 40 and 80. */
static void
test_published_pressure (void)
{
  static const struct
  {
    const char *size;
    double thin, thick;
  } rows[] = { { "0.5", 600, 850 }, { "0.75", 480, 690 }, { "1", 450, 630 },   { "1.25", 370, 520 },
               { "1.5", 330, 470 }, { "2", 280, 400 },    { "2.5", 300, 420 }, { "3", 260, 370 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *thin = g_strdup_printf ("pvc40-pipe-%s", rows[i].size);
      g_autofree char *thick = g_strdup_printf ("pvc80-pipe-%s", rows[i].size);
      g_assert_cmpfloat_with_epsilon (nappe_item_pressure (item_of (thin), catalogue) / PSI, rows[i].thin, 8);
      g_assert_cmpfloat_with_epsilon (nappe_item_pressure (item_of (thick), catalogue) / PSI, rows[i].thick, 8);
    }
}

/* Pipe of PN16 and PN10 stands 16 and 10 bar (ISO 1452-2), but for the rounding of its wall to a tenth of a millimetre. */
static void
test_metric_pressure (void)
{
  for (guint i = 0; i < nappe_catalogue_count (catalogue); i++)
    {
      const NappeItem *item = nappe_catalogue_nth (catalogue, i);
      if (item->kind != NAPPE_ITEM_PIPE || !g_str_has_prefix (item->family, "pvc-metric"))
        continue;
      double bar = nappe_item_pressure (item, catalogue) / 1e5;
      double wanted = g_str_has_suffix (item->family, "pn16") ? 16 : 10;
      g_test_message ("%s: %.2f bar", item->id, bar);
      g_assert_cmpfloat (bar, >, 0.97 * wanted);
    }
}

static void
test_other_pressure (void)
{
  double pipe = nappe_item_pressure (item_of ("pvc40-pipe-3"), catalogue);
  g_assert_cmpfloat_with_epsilon (nappe_item_pressure (item_of ("pvc40-elbow90-3"), catalogue), 0.6 * pipe, 1);
  g_assert_cmpfloat_with_epsilon (nappe_item_pressure (item_of ("pvc40-union-1"), catalogue), 150 * PSI, 1);
  g_assert_true (isnan (nappe_item_pressure (item_of ("hose-vinyl-16"), catalogue)));
  g_assert_true (isnan (nappe_item_pressure (item_of ("dc-pump-6000"), catalogue)));
}

/* The end `first` of one item against the end `second` of another. */
static NappeJointFit
fit (const char *one, guint first, const char *other, guint second)
{
  NappeItemEnd near[NAPPE_ITEM_ENDS], far[NAPPE_ITEM_ENDS];
  g_assert_cmpuint (nappe_item_ends (item_of (one), near), >, first);
  g_assert_cmpuint (nappe_item_ends (item_of (other), far), >, second);
  NappeJointFit there = nappe_ends_join (&near[first], &far[second], PLAY);
  g_assert_cmpint (there, ==, nappe_ends_join (&far[second], &near[first], PLAY));
  return there;
}

static void
test_joints (void)
{
  static const struct
  {
    const char *one;
    guint first;
    const char *other;
    guint second;
    NappeJointFit fit;
  } rows[] = {
    { "pvc40-pipe-1", 1, "pvc40-elbow90-1", 0, NAPPE_JOINT_FITS },
    { "pvc40-pipe-1", 1, "pvc80-gate-valve-1", 0, NAPPE_JOINT_FITS },
    { "pvc40-elbow90-1", 1, "pvc40-tee-1", 2, NAPPE_JOINT_FITS },
    { "pvc40-pipe-1", 1, "pvc40-pipe-1", 0, NAPPE_JOINT_PIPES },
    { "pvc40-pipe-1", 1, "pvc40-elbow90-1.25", 0, NAPPE_JOINT_SIZE },
    { "pvc40-pipe-1.25", 1, "pvcm-elbow90-40", 0, NAPPE_JOINT_SYSTEM },
    { "pvcm-pn10-pipe-40", 1, "pvcm-elbow90-40", 0, NAPPE_JOINT_FITS },
    { "pvc40-reducer-1.25x1", 0, "pvc40-pipe-1.25", 0, NAPPE_JOINT_FITS },
    { "pvc40-reducer-1.25x1", 1, "pvc40-pipe-1", 0, NAPPE_JOINT_FITS },
    { "pvcm-reducer-40x32", 1, "pvcm-pipe-32", 0, NAPPE_JOINT_FITS },
    { "pvc40-adapter-1", 1, "pvc40-adapter-female-1", 1, NAPPE_JOINT_FITS },
    { "pvc40-adapter-1", 1, "pvc80-adapter-1", 1, NAPPE_JOINT_GENDER },
    { "pvc40-adapter-1", 1, "pvcm-adapter-female-32", 1, NAPPE_JOINT_THREADS },
    { "pvc40-adapter-1", 1, "pvc40-pipe-1", 0, NAPPE_JOINT_METHOD },
    { "barb-16", 0, "hose-vinyl-16", 0, NAPPE_JOINT_FITS },
    { "barb-0.75in", 0, "hose-vinyl-19", 0, NAPPE_JOINT_FITS },
    { "barb-40", 0, "hose-vinyl-38", 0, NAPPE_JOINT_BORE },
    { "barb-16", 1, "pvc40-tee-1", 2, NAPPE_JOINT_UNKNOWN },
    { "hose-vinyl-16", 1, "pvc40-ball-valve-0.5", 0, NAPPE_JOINT_METHOD },
    { "hose-vinyl-32", 1, "pvcm-pipe-32", 0, NAPPE_JOINT_FITS },
    { "tube-pe-6", 1, "push-coupling-6", 0, NAPPE_JOINT_FITS },
    { "tube-pe-6", 1, "push-coupling-0.25in", 0, NAPPE_JOINT_TUBE },
    { "hose-silicone-6", 1, "push-coupling-6", 0, NAPPE_JOINT_TUBE },
    { "pvc40-cap-1", 0, "pvc40-pipe-1", 0, NAPPE_JOINT_FITS },
    { "pvc40-cap-1", 1, "pvc40-pipe-1", 0, NAPPE_JOINT_NOTHING },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_test_message ("%s and %s", rows[i].one, rows[i].other);
      g_assert_cmpint (fit (rows[i].one, rows[i].first, rows[i].other, rows[i].second), ==, rows[i].fit);
    }
}

/* Pipe and fittings of one family and size always join; every end of every shipped item but pumps has a size. */
static void
test_all_items (void)
{
  guint pairs = 0;

  for (guint i = 0; i < nappe_catalogue_count (catalogue); i++)
    {
      const NappeItem *item = nappe_catalogue_nth (catalogue, i);
      NappeItemEnd ends[NAPPE_ITEM_ENDS], own[NAPPE_ITEM_ENDS];
      guint n = nappe_item_ends (item, ends);

      for (guint end = 0; end < n; end++)
        if (ends[end].method != NAPPE_END_UNKNOWN && ends[end].method != NAPPE_END_NOTHING)
          g_assert_cmpfloat (ends[end].size, >, 0.003);
      const NappeItem *pipe = nappe_catalogue_match (catalogue, NAPPE_ITEM_PIPE, item->family, NULL, item->nominal);
      if (pipe == NULL || item->kind == NAPPE_ITEM_PIPE || n == 0)
        continue;
      nappe_item_ends (pipe, own);
      g_assert_cmpint (nappe_ends_join (&own[0], &ends[0], PLAY), ==, NAPPE_JOINT_FITS);
      pairs++;
    }
  g_assert_cmpuint (pairs, >, 200);
}

static const char *
between (const char *one, guint first, const char *other, guint second)
{
  NappeItemEnd near[NAPPE_ITEM_ENDS], far[NAPPE_ITEM_ENDS];
  const NappeItem *item = item_of (one);
  nappe_item_ends (item, near);
  nappe_item_ends (item_of (other), far);
  const NappeItem *adapter = nappe_catalogue_adapter (catalogue, item->family, &near[first], &far[second], PLAY);
  return adapter != NULL ? adapter->id : NULL;
}

static void
test_adapters (void)
{
  g_assert_cmpstr (between ("pvc40-pipe-1", 1, "pvc40-elbow90-1.25", 0), ==, "pvc40-reducer-1.25x1");
  g_assert_cmpstr (between ("pvc80-elbow90-1.5", 1, "pvc80-pipe-1", 0), ==, "pvc80-reducer-1.5x1");
  g_assert_cmpstr (between ("pvc40-pipe-1", 1, "pvc40-pipe-1", 0), ==, "pvc40-coupling-1");
  g_assert_cmpstr (between ("pvc40-pipe-1", 1, "pvc40-adapter-1", 1), ==, "pvc40-adapter-female-1");
  g_assert_cmpstr (between ("pvcm-pipe-40", 1, "pvcm-adapter-female-40", 1), ==, "pvcm-adapter-40");
  g_assert_cmpstr (between ("pvc40-ball-valve-0.5", 1, "hose-vinyl-16", 0), ==, "barb-16");
  g_assert_cmpstr (between ("pvc40-pipe-1", 1, "pvcm-pipe-32", 0), ==, NULL);
}

/* A row's own words come before what its shape says. */
static void
test_row_says (void)
{
  NappeItem item = *item_of ("pvc40-ball-valve-1");
  NappeItemEnd ends[NAPPE_ITEM_ENDS];

  item.end_in = "female-thread";
  item.end_out = "barb";
  item.size_out = "25 mm";
  item.thread = "bsp";
  item.material = "brass";
  item.pressure_rating = 4e5;
  g_assert_cmpuint (nappe_item_ends (&item, ends), ==, 2);
  g_assert_cmpint (ends[0].method, ==, NAPPE_END_FEMALE_THREAD);
  g_assert_cmpint (ends[0].standard, ==, NAPPE_STANDARD_BSP);
  g_assert_cmpfloat_with_epsilon (ends[0].size, 0.0254, 1e-9);
  g_assert_cmpint (ends[1].method, ==, NAPPE_END_BARB);
  g_assert_cmpfloat_with_epsilon (ends[1].size, 0.025, 1e-9);
  g_assert_cmpstr (nappe_item_material (&item), ==, "brass");
  g_assert_cmpfloat_with_epsilon (nappe_item_pressure (&item, catalogue), 4e5, 1e-6);
  /* A size that says nothing leaves the end unknown. */
  item.size_out = "large";
  nappe_item_ends (&item, ends);
  g_assert_cmpint (ends[1].method, ==, NAPPE_END_UNKNOWN);
}

int
main (int argc, char **argv)
{
  g_autofree char *folder = NULL;
  g_autoptr (GError) error = NULL;

  g_test_init (&argc, &argv, NULL);
  folder = nappe_catalogue_default_dir ();
  catalogue = nappe_catalogue_load (folder, NULL, NULL, &error);
  g_assert_no_error (error);
  g_test_add_func ("/catalogue/ends/published-pressure", test_published_pressure);
  g_test_add_func ("/catalogue/ends/metric-pressure", test_metric_pressure);
  g_test_add_func ("/catalogue/ends/other-pressure", test_other_pressure);
  g_test_add_func ("/catalogue/ends/joints", test_joints);
  g_test_add_func ("/catalogue/ends/all-items", test_all_items);
  g_test_add_func ("/catalogue/ends/adapters", test_adapters);
  g_test_add_func ("/catalogue/ends/row-says", test_row_says);
  int result = g_test_run ();
  nappe_catalogue_unref (catalogue);
  return result;
}

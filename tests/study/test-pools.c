/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Still water in a row of chambers: exact by geometry, so every expected figure is worked out beside its test. */
#include "study/pools.h"

#include <math.h>
#include <string.h>

#define N 4

/* Four chambers 0.1 m2 each, 0.4 m high, walls 0.20, 0.30 and a gap at the floor. */
typedef struct
{
  NappeNetwork network;
  NappeNode node[N];
  NappeLink link[N - 1];
  double level[N];
} Row;

static void
row_init (Row *row)
{
  const double edge[N - 1] = { 0.20, 0.30, 0.0 };

  *row = (Row){ 0 };
  for (guint i = 0; i < N; i++)
    row->node[i] = (NappeNode){ .kind = NAPPE_NODE_CHAMBER, .rim = 0.4, .area = 0.1, .area_low = 0.1, .step = -INFINITY };
  for (guint i = 0; i + 1 < N; i++)
    row->link[i] = (NappeLink){ .kind = edge[i] > 0 ? NAPPE_LINK_WEIR : NAPPE_LINK_GAP,
                                .from = i, .to = i + 1, .sill = edge[i], .gap_floor = 0 };
  row->network = (NappeNetwork){ .n_nodes = N, .nodes = row->node, .n_links = N - 1, .links = row->link,
                                 .floor = G_MAXUINT, .return_chamber = 0, .reservoir = G_MAXUINT };
}

static double
volume (const NappePools *pools)
{
  double sum = 0;

  for (guint i = 0; i < pools->n; i++)
    sum += nappe_node_volume (pools->node[i], pools->level[i]);
  return sum;
}

static void
assert_levels (const NappePools *pools, double a, double b, double c, double d)
{
  const double wanted[N] = { a, b, c, d };

  for (guint i = 0; i < N; i++)
    g_assert_cmpfloat_with_epsilon (pools->level[i], wanted[i], 1e-12);
}

static void
test_overflows_to_neighbour (void)
{
  Row row;
  row_init (&row);
  g_autoptr (NappePools) pools = nappe_pools_new (&row.network, row.level);

  nappe_pools_pour (pools, 0, 0.015); /* 0.1 m2 to 0.15 m */
  assert_levels (pools, 0.15, 0, 0, 0);
  nappe_pools_pour (pools, 0, 0.015); /* 5 L to the wall, 10 L beyond it */
  assert_levels (pools, 0.20, 0.10, 0, 0);
  nappe_pools_pour (pools, 0, 0.014); /* 10 L fill the neighbour to the wall, 4 L over 0.2 m2 */
  assert_levels (pools, 0.22, 0.22, 0, 0);
  nappe_pools_pour (pools, 1, 0.018); /* 16 L to 0.30, then 2 L over it into the pair that the gap joins */
  assert_levels (pools, 0.30, 0.30, 0.01, 0.01);
  g_assert_cmpfloat (pools->spilled, ==, 0);
}

static void
test_spills_over_the_rim (void)
{
  Row row;
  row_init (&row);
  g_autoptr (NappePools) pools = nappe_pools_new (&row.network, row.level);

  nappe_pools_pour (pools, 2, 0.200); /* 0.4 m2 to 0.4 m hold 160 L */
  assert_levels (pools, 0.4, 0.4, 0.4, 0.4);
  g_assert_cmpfloat_with_epsilon (pools->spilled, 0.040, 1e-12);
}

static void
test_settles_what_stands_above_edges (void)
{
  Row row;
  row_init (&row);
  row.level[0] = 0.26; /* 6 L above the wall go over it */
  row.level[3] = 0.10; /* stands half in each behind the gap */
  g_autoptr (NappePools) pools = nappe_pools_new (&row.network, row.level);

  nappe_pools_settle (pools);
  assert_levels (pools, 0.20, 0.06, 0.05, 0.05);
}

static void
test_drainable_follows_edges (void)
{
  Row row;
  row_init (&row);
  for (guint i = 0; i < N; i++)
    row.level[i] = 0.35;
  g_autoptr (NappePools) pools = nappe_pools_new (&row.network, row.level);

  /* From the third: itself and the fourth down to 0.05; the second to 0.30, the first to 0.30. */
  g_assert_cmpfloat_with_epsilon (nappe_pools_drainable (pools, 2, 0.05), 0.030 + 0.030 + 0.005 + 0.005, 1e-12);
}

/* A sock of 0.01 m2 in the first chamber, its lower end at 0.05 m, its holder at 0.35 m; and a vessel of 0.05 m2 beside the
 * sump whose spout, at 0.30 m, pours into the last chamber. */
static void
test_socks_and_side_vessels (void)
{
  for (guint closed = 0; closed < 2; closed++)
    {
      Row row;
      NappeNode node[N + 2];
      NappeLink link[N + 2];
      double level[N + 2] = { 0 };

      row_init (&row);
      memcpy (node, row.node, sizeof row.node);
      memcpy (link, row.link, sizeof row.link);
      node[N] = (NappeNode){ .kind = NAPPE_NODE_SOCK, .floor = 0.05, .rim = 0.4, .area = 0.01, .area_low = 0.01 };
      node[N + 1] = (NappeNode){ .kind = NAPPE_NODE_VESSEL, .floor = 0.25, .rim = 0.5, .area = 0.05, .area_low = 0.05 };
      node[N].step = node[N + 1].step = -INFINITY;
      link[N - 1] = (NappeLink){ .kind = NAPPE_LINK_SOCK, .from = N, .to = 0, .sock = { .bottom = 0.05, .load = closed } };
      link[N] = (NappeLink){ .kind = NAPPE_LINK_WEIR, .from = N, .to = 0, .sill = 0.35 };
      link[N + 1] = (NappeLink){ .kind = NAPPE_LINK_WEIR, .from = N + 1, .to = N - 1, .sill = 0.30 };
      row.network.n_nodes = N + 2;
      row.network.nodes = node;
      row.network.n_links = N + 2;
      row.network.links = link;
      level[N + 1] = 0.34; /* 2 L above its spout */
      g_autoptr (NappePools) pools = nappe_pools_new (&row.network, level);

      nappe_pools_settle (pools);
      /* They stand in the last two chambers, which the gap joins. */
      assert_levels (pools, 0, 0, 0.01, 0.01);
      g_assert_cmpfloat_with_epsilon (pools->level[N + 1], 0.30, 1e-12);
      nappe_pools_pour (pools, (guint) nappe_pools_find (pools, &node[N]), 0.0040);
      if (closed)
        /* 3 L fill it, 1 L goes over the holder into 0.1 m2. */
        assert_levels (pools, 0.01, 0, 0.01, 0.01);
      else
        /* All runs through the cloth, below whose lower end the chamber stays. */
        assert_levels (pools, 0.04, 0, 0.01, 0.01);
      g_assert_cmpfloat_with_epsilon (pools->level[N], closed ? 0.35 : 0.05, 1e-12);
      nappe_pools_pour (pools, 0, 0.5);
      /* All brims at 0.4 m, above spout and holder. */
      assert_levels (pools, 0.4, 0.4, 0.4, 0.4);
      g_assert_cmpfloat_with_epsilon (pools->level[N], 0.4, 1e-12);
      g_assert_cmpfloat_with_epsilon (pools->level[N + 1], 0.4, 1e-12);
      g_assert_cmpfloat_with_epsilon (volume (pools) + pools->spilled, 0.05 * 0.09 + 0.0040 + 0.5, 1e-12);
    }
}

static void
test_joined_vessels_share_a_level (void)
{
  Row row;
  row_init (&row);
  g_autoptr (NappePools) pools = nappe_pools_new (&row.network, row.level);

  nappe_pools_join (pools, 0, 3, 0.1);
  nappe_pools_pour (pools, 0, 0.012); /* 10 L to the pipe, 2 L through it into the pair behind the gap */
  assert_levels (pools, 0.10, 0, 0.01, 0.01);
  nappe_pools_pour (pools, 0, 0.018 + 0.003); /* 18 L bring the pair up, 3 L over 0.3 m2 */
  assert_levels (pools, 0.11, 0, 0.11, 0.11);
}

static void
test_conserves_and_rises (void)
{
  for (guint round = 0; round < 2000; round++)
    {
      Row row;
      row_init (&row);
      for (guint i = 0; i + 1 < N; i++)
        row.link[i].sill = g_test_rand_double_range (0.01, 0.45);
      for (guint i = 0; i < N; i++)
        {
          row.node[i].area = row.node[i].area_low = g_test_rand_double_range (0.01, 0.3);
          row.level[i] = g_test_rand_double_range (0, 0.4);
        }
      g_autoptr (NappePools) pools = nappe_pools_new (&row.network, row.level);
      double before = volume (pools);
      if (round % 2 == 1)
        nappe_pools_join (pools, 0, N - 1, g_test_rand_double_range (0, 0.45));
      nappe_pools_settle (pools);
      g_assert_cmpfloat_with_epsilon (volume (pools) + pools->spilled, before, 1e-12);
      for (guint pour = 0; pour < 10; pour++)
        {
          double have = volume (pools) + pools->spilled, add = g_test_rand_double_range (0, 0.02), old[N];
          for (guint i = 0; i < N; i++)
            old[i] = pools->level[i];
          nappe_pools_pour (pools, (guint) g_test_rand_int_range (0, N), add);
          g_assert_cmpfloat_with_epsilon (volume (pools) + pools->spilled, have + add, 1e-12);
          for (guint i = 0; i < N; i++)
            {
              g_assert_cmpfloat (pools->level[i], >=, old[i] - 1e-12);
              g_assert_cmpfloat (pools->level[i], <=, 0.4 + 1e-12);
            }
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/pools/overflows-to-neighbour", test_overflows_to_neighbour);
  g_test_add_func ("/pools/spills-over-the-rim", test_spills_over_the_rim);
  g_test_add_func ("/pools/settles-what-stands-above-edges", test_settles_what_stands_above_edges);
  g_test_add_func ("/pools/drainable-follows-edges", test_drainable_follows_edges);
  g_test_add_func ("/pools/socks-and-side-vessels", test_socks_and_side_vessels);
  g_test_add_func ("/pools/joined-vessels-share-a-level", test_joined_vessels_share_a_level);
  g_test_add_func ("/pools/conserves-and-rises", test_conserves_and_rises);
  return g_test_run ();
}

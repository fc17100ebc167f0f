/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inner boxes, socks, side vessels, stopped pumps: where they stand, what they hold, what passes between them. */
#include "../changed-demo.h"
#include "network/law.h"

#include <math.h>

/* Step of finite differences [m]. */
#define STEP 1e-7

typedef struct
{
  NappeNetwork network;
  NappeNode node[2];
  NappeLink link;
  NappeStretch stretch;
} Pair;

/* Two vessels joined by one link; the sock's holder is 0.33 m high. */
static void
pair_init (Pair *pair, NappeLinkKind kind)
{
  *pair = (Pair){ .stretch = { .bore = 0.04, .k = 1.5 },
                  .link = { .kind = kind, .from = 0, .to = 1, .n_stretches = 1, .count = 1, .open_share = 1, .drain = -1,
                            .pump = -1 } };
  for (guint i = 0; i < 2; i++)
    pair->node[i] = (NappeNode){ .kind = NAPPE_NODE_BOX, .floor = 0, .rim = 0.33, .area = 0.01, .area_low = 0.01 };
  pair->network = (NappeNetwork){ .n_nodes = 2, .nodes = pair->node, .n_links = 1, .links = &pair->link, .n_stretches = 1,
                                  .stretches = &pair->stretch };
  nappe_water_init (&pair->network.water, 25, 35);
}

static void
make_bulkheads (Pair *pair)
{
  pair_init (pair, NAPPE_LINK_JOINT);
  pair->link.joint = (NappeJoint){ .count = 2, .bore = 0.04, .height = 0.12 };
  pair->link.sill = 0.10;
}

static void
make_tubes (Pair *pair)
{
  pair_init (pair, NAPPE_LINK_JOINT);
  pair->link.joint = (NappeJoint){ .count = 2, .bore = 0.04, .height = 0.10, .siphon = TRUE, .primed = TRUE };
  pair->link.sill = 0.10;
}

static void
make_sock (Pair *pair)
{
  pair_init (pair, NAPPE_LINK_SOCK);
  /* One sock of 0.1 m across: perimeter 0.31416 m, lower end 0.00785 m2. */
  pair->link.sock = (NappeSock){ 0.31416, 0.0, 0.007854, 1.4, 0, 0.33 };
}

static void
make_pump (Pair *pair, double speed, guint count)
{
  const double flow[3] = { 0, 0.5e-3, 1e-3 }, head[3] = { 3, 2, 0.2 };

  pair_init (pair, NAPPE_LINK_PUMP);
  g_assert_true (nappe_pump_curve_init (&pair->link.curve, flow, head, 3));
  pair->link.speed = speed;
  pair->link.head_left = 1;
  pair->link.count = count;
  pair->link.pump_inlet = 0.03;
}

static double
flow_at (Pair *pair, double from, double to, NappeLinkFlow *result)
{
  NappeLinkMode mode = { FALSE, 0 };
  NappeLinkFlow ignored;

  if (result == NULL)
    result = &ignored;
  nappe_link_law (&pair->network, &pair->link, &mode, from, to, result);
  return result->flow;
}

/* Slopes are those of finite differences except at corners; they are never negative the wrong way; nothing jumps. */
static void
check_law (Pair *pair, double low, double high)
{
  guint corners = 0;

  for (guint round = 0; round < 4000; round++)
    {
      double from = g_test_rand_double_range (low, high), to = g_test_rand_double_range (low, high);
      double higher = g_test_rand_double_range (0, 0.02);
      NappeLinkFlow here;
      double flow = flow_at (pair, from, to, &here);

      g_assert_true (isfinite (flow) && isfinite (here.slope_from) && isfinite (here.slope_to));
      g_assert_cmpfloat (here.slope_from, >=, 0);
      g_assert_cmpfloat (here.slope_to, <=, 0);
      g_assert_cmpfloat (flow_at (pair, from + higher, to, NULL), >=, flow - 1e-15);
      g_assert_cmpfloat (flow_at (pair, from, to + higher, NULL), <=, flow + 1e-15);
      g_assert_cmpfloat_with_epsilon (flow_at (pair, from, from, NULL), 0, 1e-15);
      double rise = (flow_at (pair, from + STEP, to, NULL) - flow_at (pair, from - STEP, to, NULL)) / (2 * STEP);
      double fall = (flow_at (pair, from, to + STEP, NULL) - flow_at (pair, from, to - STEP, NULL)) / (2 * STEP);
      corners += fabs (rise - here.slope_from) > 1e-3 * fabs (here.slope_from) + 1e-6
                 || fabs (fall - here.slope_to) > 1e-3 * fabs (here.slope_to) + 1e-6;
      /* Nothing jumps. The steepest is the root of two bores where it is bent straight, below 0.01 mm: of the size of
         2 x 1.257e-3 x sqrt (2 g / 1.5) / sqrt (1e-5) = 3 m2/s. */
      g_assert_cmpfloat (fabs (flow_at (pair, from + STEP, to, NULL) - flow), <=, 10 * STEP);
    }
  g_assert_cmpuint (corners, <, 20);
  g_assert_cmpfloat (flow_at (pair, high, low, NULL), >, 0);
}

static void
test_laws_rise_and_fall (void)
{
  Pair pair;

  make_bulkheads (&pair);
  check_law (&pair, 0.08, 0.20);
  make_tubes (&pair);
  check_law (&pair, 0.08, 0.20);
  make_sock (&pair);
  check_law (&pair, -0.02, 0.40);
}

/* A pump gives flow at equal levels, so it is checked apart from check_law. */
static void
test_pumps_rise_and_fall (void)
{
  for (guint kind = 0; kind < 3; kind++)
    {
      Pair pair;
      make_pump (&pair, kind == 0 ? 0 : 0.8, kind == 2 ? 3 : 1);

      for (guint round = 0; round < 4000; round++)
        {
          double from = g_test_rand_double_range (0, 0.3), to = g_test_rand_double_range (-1, 5);
          double higher = g_test_rand_double_range (0, 0.3);
          NappeLinkFlow here;
          double flow = flow_at (&pair, from, to, &here);

          g_assert_true (isfinite (flow) && here.slope_from >= 0 && here.slope_to <= 0);
          g_assert_cmpfloat (flow_at (&pair, from + higher, to, NULL), >=, flow - 1e-15);
          g_assert_cmpfloat (flow_at (&pair, from, to + higher, NULL), <=, flow + 1e-15);
          g_assert_cmpfloat (fabs (flow_at (&pair, from, to + STEP, NULL) - flow), <=, 10 * STEP);
        }
    }
}

static void
test_joints_work_both_ways (void)
{
  for (guint kind = 0; kind < 3; kind++)
    {
      Pair pair;
      (kind == 0 ? make_bulkheads : kind == 1 ? make_tubes : make_sock) (&pair);

      for (guint round = 0; round < 500; round++)
        {
          double a = g_test_rand_double_range (0, 0.33), b = g_test_rand_double_range (0, 0.33);

          g_assert_cmpfloat_with_epsilon (flow_at (&pair, a, b, NULL), -flow_at (&pair, b, a, NULL), 1e-14);
        }
    }
}

/* Worked by hand. Drowned, a loss of 1.5 velocity heads: V = sqrt (2 x 9.80665 x 0.010 / 1.5) = 0.36160 m/s through
 * 1.25664e-3 m2 twice. Half full and free: the head is the half bore, 0.020 m, V = 0.51138 m/s through half the area. */
static void
test_bulkheads_by_hand (void)
{
  Pair pair;

  make_bulkheads (&pair);
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.26, 0.25, NULL), 9.0880e-4, 1e-8);
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.12, 0.05, NULL), 6.4262e-4, 1e-8);
  pair.link.spread = 0.1;
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.26, 0.25, NULL), 9.9968e-4, 1e-8);
  make_tubes (&pair);
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.26, 0.25, NULL), 9.0880e-4, 1e-8);
  g_assert_cmpfloat (flow_at (&pair, 0.0999, 0.05, NULL), ==, 0);
  pair.link.joint.primed = FALSE;
  g_assert_cmpfloat (flow_at (&pair, 0.26, 0.25, NULL), ==, 0);
}

/* Worked by hand, between 0.20 m inside and 0.10 m outside: 1.4 x (0.007854 x 0.10 + 0.31416 x (0.04 - 0.01) / 2)
 * = 7.697e-3; what the first millimetre of cloth does less is within a hundredth. Half closed it is half. */
static void
test_sock_by_hand (void)
{
  Pair pair;

  make_sock (&pair);
  double clean = flow_at (&pair, 0.20, 0.10, NULL);
  g_assert_cmpfloat_with_epsilon (clean, 7.697e-3, 0.01 * 7.697e-3);
  pair.link.sock.load = 0.5;
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.20, 0.10, NULL), 0.5 * clean, 1e-12);
  pair.link.sock.load = 1;
  g_assert_cmpfloat (flow_at (&pair, 0.20, 0.10, NULL), ==, 0);
}

/* By definition of the stopped pump: at the head of no flow, 3 m, it passes the flow at the curve's end, 1 L/s, and a
 * quarter of the head passes half of that. A running one gives way beyond 3 m by the same passage. */
static void
test_pumps_by_hand (void)
{
  Pair pair;

  make_pump (&pair, 0, 1);
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.2, 3.2, NULL), -1e-3, 1e-9);
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.2, 0.95, NULL), -0.5e-3, 1e-9);
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.2, -0.55, NULL), 0.5e-3, 1e-9);
  make_pump (&pair, 1, 1);
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.2, 2.2, NULL), 0.5e-3, 1e-9);
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.2, 3.95, NULL), -0.5e-3, 1e-9);
  make_pump (&pair, 1, 3);
  g_assert_cmpfloat_with_epsilon (flow_at (&pair, 0.2, 2.2, NULL), 1.5e-3, 1e-9);
}

typedef struct
{
  NappeCatalogue *catalogue;
  NappeBuild *build;
  NappeLayout *layout;
  NappeNetwork *network;
} Compiled;

static void
compile (Compiled *self, const char *demo, const char *const *changes)
{
  g_autoptr (GError) error = NULL;

  self->catalogue = nappe_catalogue_load_default (NULL, &error);
  g_assert_no_error (error);
  self->build = changed_demo (demo, changes);
  self->layout = nappe_layout_new (self->build, self->catalogue);
  self->network = nappe_network_compile (self->build, self->layout, self->catalogue);
}

static void
compiled_clear (Compiled *self)
{
  nappe_network_free (self->network);
  nappe_layout_free (self->layout);
  g_object_unref (self->build);
  nappe_catalogue_unref (self->catalogue);
}

static const NappeNode *
node_of (const Compiled *self, const char *id)
{
  gint index = nappe_network_find_node (self->network, id);

  g_assert_cmpint (index, >=, 0);
  return &self->network->nodes[index];
}

static const NappeLink *
link_of (const Compiled *self, NappeLinkKind kind, const char *id)
{
  gint index = nappe_network_find_link (self->network, kind, id);

  g_assert_cmpint (index, >=, 0);
  return &self->network->links[index];
}

/* The demo's back box, slim: tank 0.9 m by 0.5 m on a stand of 0.800 m with a bottom of 0.010 m; crest 0.455 m. */
static const char *const slim[]
    = { "\"style\": \"external\",",
        "\"style\": \"slim\", \"inner_length_mm\": 260, \"inner_width_mm\": 40, \"inner_depth_mm\": 100,"
        "\"joint_count\": 3, \"joint_bore_mm\": 40, \"joint_length_mm\": 60,",
        NULL };

static void
test_slim_box (void)
{
  Compiled compiled;

  compile (&compiled, "two-drain", slim);
  const NappeNetwork *network = compiled.network;
  const NappeBoxLayout *box = &compiled.layout->boxes[0];
  const NappeNode *inner = node_of (&compiled, "box/inner");
  const NappeLink *joint = link_of (&compiled, NAPPE_LINK_JOINT, "box"), *weir = link_of (&compiled, NAPPE_LINK_WEIR, "box");

  g_assert_cmpuint (network->n_problems, ==, 0);
  g_assert_true (network->runnable);
  /* Outer box 0.3 m from 0.3 m of the tank's left wall on; the inner one beside its middle. */
  g_assert_cmpfloat_with_epsilon (box->inner.left - compiled.layout->tank.left, 0.3 + 0.15 - 0.13, 1e-12);
  g_assert_cmpfloat_with_epsilon (box->inner.back, compiled.layout->tank.back, 1e-12);
  g_assert_cmpfloat_with_epsilon (inner->floor, 0.810 + 0.455 - 0.100, 1e-12);
  g_assert_cmpfloat_with_epsilon (inner->rim, 0.810 + 0.500, 1e-12);
  g_assert_cmpfloat_with_epsilon (inner->area, 0.26 * 0.04, 1e-12);
  g_assert_true (&network->nodes[weir->to] == inner && &network->nodes[joint->from] == inner);
  g_assert_cmpstr (network->nodes[joint->to].id, ==, "box");
  /* Half a bore and a centimetre over the inner floor; water passes from the lower edge on. */
  g_assert_cmpfloat_with_epsilon (joint->joint.height, inner->floor + 0.030, 1e-12);
  g_assert_cmpfloat_with_epsilon (joint->sill, inner->floor + 0.010, 1e-12);
  /* Entrance 0.5, 60 mm of pipe, exit 1. */
  g_assert_cmpfloat_with_epsilon (network->stretches[joint->first_stretch].k, 1.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (network->stretches[joint->first_stretch].length, 0.06, 1e-12);
  g_assert_cmpuint (joint->n_losses, ==, 3);
  /* Outer wall of the inner box 10 mm: 0.28 m by 0.05 m are gone at the weir, and 0.345 m of them stay below. */
  const NappeNode *display = &network->nodes[network->display];
  g_assert_cmpfloat_with_epsilon (display->area, 0.45 - 0.014, 1e-12);
  double step = 0.75 * 0.455, rock = 1 - 0.12 / 0.75;
  g_assert_cmpfloat_with_epsilon (nappe_node_volume (display, display->floor + 0.455),
                                  (0.436 * step + 0.014 * 0.345) * rock + 0.436 * (0.455 - step), 1e-12);
  compiled_clear (&compiled);
}

static void
test_rim_box (void)
{
  Compiled compiled;
  const char *const changes[] = { "\"style\": \"external\",", "\"style\": \"rim\", \"joint_height_mm\": 380,", NULL };

  compile (&compiled, "two-drain", changes);
  const NappeLink *joint = link_of (&compiled, NAPPE_LINK_JOINT, "box");

  g_assert_true (joint->joint.siphon && joint->joint.primed);
  g_assert_cmpfloat_with_epsilon (joint->sill, 0.810 + 0.380, 1e-12);
  g_assert_cmpfloat_with_epsilon (joint->highest, 0.810 + 0.500, 1e-12);
  compiled_clear (&compiled);
}

static void
test_unjoined_boxes_are_told (void)
{
  Compiled compiled;
  const char *const changes[] = { "\"style\": \"external\",", "\"style\": \"slim\", \"joint_count\": 0,", NULL };

  compile (&compiled, "two-drain", changes);
  g_assert_cmpuint (compiled.network->n_problems, ==, 2); /* no joint; no way down */
  g_assert_cmpstr (compiled.network->problems[0].part, ==, "box");
  g_assert_false (compiled.network->runnable);
  compiled_clear (&compiled);
}

/* Joints that are drawn 200 mm over the floor of the workshop tank, where no inner box reaches: its weir stands at 376 mm. */
static void
test_joints_under_the_floor_are_told (void)
{
  static const char *const styles[] = { "slim", "rim" };
  static const double over_floor[] = { 0.016, 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (styles); i++)
    {
      g_autofree char *style = g_strdup_printf ("\"style\": \"%s\", \"joint_bore_mm\": 32, \"joint_height_mm\": 200,", styles[i]);
      const char *const changes[] = { "\"style\": \"internal\",", style, NULL };
      Compiled compiled;

      compile (&compiled, "single-drain", changes);
      const NappeBoxLayout *box = &compiled.layout->boxes[0];
      g_assert_cmpuint (compiled.network->n_problems, ==, 1);
      g_assert_cmpstr (compiled.network->problems[0].part, ==, "box");
      g_assert_nonnull (strstr (compiled.network->problems[0].text, "under the floor of its inner box"));
      g_assert_cmpfloat_with_epsilon (box->joint, box->inner.floor + over_floor[i], 1e-12);
      g_assert_cmpfloat_with_epsilon (link_of (&compiled, NAPPE_LINK_JOINT, "box")->sill, box->inner.floor, 1e-12);
      compiled_clear (&compiled);
    }
}

/* A box whose top lies under its floor is told, and its water stands no lower than that floor. */
static void
test_box_without_height_is_told (void)
{
  const char *const changes[] = { "\"rim_height_mm\": 392", "\"floor_height_mm\": 250, \"rim_height_mm\": 240",
                                  "\"style\": \"internal\"", "\"style\": \"external\"", NULL };
  Compiled compiled;

  compile (&compiled, "single-drain", changes);
  g_assert_cmpuint (compiled.network->n_problems, ==, 1);
  g_assert_cmpstr (compiled.network->problems[0].part, ==, "box");
  g_assert_cmpfloat (node_of (&compiled, "box")->rim, ==, node_of (&compiled, "box")->floor);
  compiled_clear (&compiled);
}

/* Two socks of the 4-inch row, 100 mm by 100 mm by 330 mm, 60 mm over the floor of the chamber of 109 mm by 450 mm; only the
 * front one is fed. */
static void
test_socks (void)
{
  Compiled compiled;
  const char *const changes[] = { "\"id\": \"channel-end\", \"into\": \"drain-chamber\"",
                                  "\"id\": \"channel-end\", \"into\": \"sock-front\"", NULL };

  compile (&compiled, "three-drain", changes);
  const NappeNode *chamber = node_of (&compiled, "sock-chamber"), *sock = node_of (&compiled, "sock-front");
  const NappeLink *cloth = link_of (&compiled, NAPPE_LINK_SOCK, "sock-front");
  const NappeLink *holder = link_of (&compiled, NAPPE_LINK_WEIR, "sock-front");
  double plan = 0.25 * G_PI * 0.01;

  g_assert_cmpuint (compiled.layout->n_socks, ==, 2);
  g_assert_cmpint (nappe_network_find_node (compiled.network, "sock-back"), ==, -1);
  g_assert_cmpint (sock->kind, ==, NAPPE_NODE_SOCK);
  g_assert_cmpfloat_with_epsilon (sock->area, plan, 1e-12);
  g_assert_cmpfloat_with_epsilon (sock->floor, chamber->floor + 0.060, 1e-12);
  g_assert_cmpfloat_with_epsilon (holder->sill, chamber->floor + 0.390, 1e-12);
  g_assert_cmpfloat_with_epsilon (cloth->sock.perimeter, G_PI * 0.1, 1e-12);
  g_assert_true (&compiled.network->nodes[cloth->to] == chamber && &compiled.network->nodes[holder->to] == chamber);
  /* Sock and chamber together hold what the chamber alone would. */
  double level = chamber->floor + 0.2;
  g_assert_cmpfloat_with_epsilon (nappe_node_volume (chamber, level) + nappe_node_volume (sock, level), 0.2 * 0.109 * 0.450,
                                  1e-12);
  compiled_clear (&compiled);
}

/* Equal socks side by side where the chamber is long enough, one behind the other where not. */
static void
test_socks_in_rows (void)
{
  for (guint along = 0; along < 2; along++)
    {
      Compiled compiled;
      const char *const changes[] = { "\"id\": \"sock-front\",",
                                      along ? "\"id\": \"sock-front\", \"count\": 2, \"length_mm\": 50,"
                                            : "\"id\": \"sock-front\", \"count\": 2,",
                                      NULL };
      compile (&compiled, "three-drain", changes);
      const NappeFrame *frame = &compiled.layout->socks[0].frame;

      g_assert_cmpfloat_with_epsilon (frame->right - frame->left, 0.1, 1e-12);
      g_assert_cmpfloat_with_epsilon (frame->back - frame->front, along ? 0.1 : 0.2, 1e-12);
      compiled_clear (&compiled);
    }
}

/* A refugium on the back of the workshop tank: stand 0.750 m, bottom 0.008 m. */
static const char *const hung[]
    = { "  \"equipment\": [\n",
        "  \"vessels\": [ { \"id\": \"hung\", \"length_mm\": 300, \"width_mm\": 100, \"height_mm\": 200,"
        " \"x_mm\": 50, \"base_height_mm\": 250, \"displaced_percent\": 20, \"spout_height_mm\": 160,"
        " \"spout_width_mm\": 50, \"into\": \"tank\" } ],\n  \"equipment\": [\n",
        NULL };

static void
test_side_vessel (void)
{
  Compiled compiled;

  compile (&compiled, "single-drain", hung);
  const NappeNode *vessel = node_of (&compiled, "hung");
  const NappeLink *spout = link_of (&compiled, NAPPE_LINK_WEIR, "hung"), *rim = link_of (&compiled, NAPPE_LINK_RIM, "hung");
  const NappeFrame *frame = &compiled.layout->vessels[0].frame;

  g_assert_cmpuint (compiled.network->n_problems, ==, 0);
  g_assert_cmpfloat_with_epsilon (frame->left, 0.030 + 0.050, 1e-12); /* tank centred on a stand that is 60 mm longer */
  g_assert_cmpfloat_with_epsilon (frame->front, 0.400 + 0.008 + 0.005, 1e-12);
  g_assert_cmpfloat_with_epsilon (vessel->floor, 0.758 + 0.250, 1e-12);
  g_assert_cmpfloat_with_epsilon (vessel->area, 0.3 * 0.1 * 0.8, 1e-12);
  g_assert_cmpfloat_with_epsilon (spout->sill, 0.758 + 0.250 + 0.160, 1e-12);
  g_assert_cmpfloat_with_epsilon (rim->sill, 0.758 + 0.250 + 0.200, 1e-12);
  g_assert_cmpuint (spout->to, ==, compiled.network->display);
  compiled_clear (&compiled);
}

/* With the total volume given, no kept level is needed, and none is used. */
static void
test_total_volume_needs_no_kept_level (void)
{
  Compiled compiled;
  const char *const changes[] = { "        \"role\": \"return\",\n        \"length_mm\": 172,\n        \"kept_level_mm\": 160\n",
                                  "        \"role\": \"return\",\n        \"length_mm\": 172\n",
                                  "  \"stand\":", "  \"water\": { \"total_volume_litres\": 100 },\n  \"stand\":", NULL };

  compile (&compiled, "single-drain", changes);
  g_assert_true (compiled.network->runnable && isnan (compiled.network->kept_level));
  g_assert_cmpuint (compiled.network->n_problems, ==, 0);
  compiled_clear (&compiled);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/vessels/laws-rise-and-fall", test_laws_rise_and_fall);
  g_test_add_func ("/vessels/pumps-rise-and-fall", test_pumps_rise_and_fall);
  g_test_add_func ("/vessels/joints-work-both-ways", test_joints_work_both_ways);
  g_test_add_func ("/vessels/bulkheads-by-hand", test_bulkheads_by_hand);
  g_test_add_func ("/vessels/sock-by-hand", test_sock_by_hand);
  g_test_add_func ("/vessels/pumps-by-hand", test_pumps_by_hand);
  g_test_add_func ("/vessels/slim-box", test_slim_box);
  g_test_add_func ("/vessels/rim-box", test_rim_box);
  g_test_add_func ("/vessels/unjoined-boxes-are-told", test_unjoined_boxes_are_told);
  g_test_add_func ("/vessels/joints-under-the-floor-are-told", test_joints_under_the_floor_are_told);
  g_test_add_func ("/vessels/box-without-height-is-told", test_box_without_height_is_told);
  g_test_add_func ("/vessels/socks", test_socks);
  g_test_add_func ("/vessels/socks-in-rows", test_socks_in_rows);
  g_test_add_func ("/vessels/side-vessel", test_side_vessel);
  g_test_add_func ("/vessels/total-volume-needs-no-kept-level", test_total_volume_needs_no_kept_level);
  return g_test_run ();
}

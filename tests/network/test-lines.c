/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drains and return lines as links: what each piece loses, growth, bends of hose, valves, lines that join. */
#include "../line-build.h"

#include "network/network.h"
#include "physics/bend.h"
#include "physics/fitting.h"

#include <math.h>

static NappeCatalogue *catalogue;

static NappeNetwork *
compile (NappeBuild *build)
{
  NappeLayout *layout = nappe_layout_new (build, catalogue);
  NappeNetwork *network = nappe_network_compile (build, layout, catalogue);

  nappe_layout_free (layout);
  g_object_unref (build);
  return network;
}

static NappeBuild *
read_demo (const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *file_name = g_strconcat (name, ".nappe", NULL);
  g_autofree char *path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", file_name, NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  NappeBuild *build = nappe_file_read (file, NULL, &error);

  g_assert_no_error (error);
  return build;
}

static NappeNetwork *
compile_demo (const char *name)
{
  return compile (read_demo (name));
}

static const NappeLoss *
find_loss (const NappeNetwork *network, const char *piece, NappeLossKind kind)
{
  for (guint i = 0; i < network->n_losses; i++)
    if (network->losses[i].kind == kind && g_str_equal (network->losses[i].piece, piece))
      return &network->losses[i];
  return NULL;
}

static const NappeLink *
find_link (const NappeNetwork *network, NappeLinkKind kind, const char *id)
{
  gint index = nappe_network_find_link (network, kind, id);

  g_assert_cmpint (index, >=, 0);
  return &network->links[index];
}

/* Of each stretch the pieces' lengths and coefficients are its own, to rounding; every loss lies in its link. */
static void
assert_losses_add_up (const NappeNetwork *network)
{
  g_autofree NappeStretch *sums = g_new0 (NappeStretch, network->n_stretches);

  for (guint l = 0; l < network->n_links; l++)
    for (guint i = 0; i < network->links[l].n_losses; i++)
      {
        const NappeLink *link = &network->links[l];
        const NappeLoss *loss = &network->losses[link->first_loss + i];

        g_assert_cmpuint (loss->stretch, >=, link->first_stretch);
        g_assert_cmpuint (loss->stretch, <, link->first_stretch + link->n_stretches);
        sums[loss->stretch].length += loss->length;
        sums[loss->stretch].k += loss->k;
        sums[loss->stretch].k1 += loss->k1;
      }
  for (guint l = 0; l < network->n_links; l++)
    for (guint i = 0; i < network->links[l].n_stretches; i++)
      {
        guint s = network->links[l].first_stretch + i;

        g_assert_cmpfloat_with_epsilon (sums[s].length, network->stretches[s].length, 1e-12);
        g_assert_cmpfloat_with_epsilon (sums[s].k, network->stretches[s].k, 1e-12 * network->stretches[s].k);
        g_assert_cmpfloat_with_epsilon (sums[s].k1, network->stretches[s].k1, 1e-9);
      }
}

static void
test_losses_add_up (void)
{
  const char *const demos[] = { "three-drain", "two-drain", "single-drain" };
  g_autoptr (NappeNetwork) lines = compile (line_build (NULL));
  guint seen = 0;

  for (guint i = 0; i < G_N_ELEMENTS (demos); i++)
    {
      g_autoptr (NappeNetwork) network = compile_demo (demos[i]);

      g_assert_cmpuint (network->n_losses, >, network->n_stretches);
      assert_losses_add_up (network);
    }
  g_assert_cmpuint (lines->n_problems, ==, 0);
  assert_losses_add_up (lines);
  for (guint i = 0; i < lines->n_losses; i++)
    seen |= 1u << lines->losses[i].kind;
  g_assert_cmpuint (seen, ==, (1u << (NAPPE_LOSS_EXIT + 1)) - 1);
}

/* Every piece of a line with its own numbers, in the order of the run. */
static void
test_losses_of_pieces (void)
{
  g_autoptr (NappeNetwork) network = compile (line_build (NULL));
  const NappeLink *siphon = find_link (network, NAPPE_LINK_DRAIN, "siphon");
  const char *const order[] = { "", "pipe-1", "bulkhead", "" };
  const NappeItem *elbow = nappe_catalogue_find (catalogue, "pvc40-elbow90-1");
  const NappeItem *wide = nappe_catalogue_find (catalogue, "pvc40-pipe-1.5");
  const NappeItem *narrow = nappe_catalogue_find (catalogue, "pvc40-pipe-1");

  g_assert_cmpuint (siphon->n_losses, ==, G_N_ELEMENTS (order));
  for (guint i = 0; i < G_N_ELEMENTS (order); i++)
    g_assert_cmpstr (network->losses[siphon->first_loss + i].piece, ==, order[i]);
  g_assert_cmpint (network->losses[siphon->first_loss].kind, ==, NAPPE_LOSS_ENTRANCE);
  g_assert_cmpfloat (network->losses[siphon->first_loss].k, ==, nappe_k_entrance (NAPPE_ENTRANCE_DOWNTURNED_ELBOW));
  g_assert_cmpfloat (find_loss (network, "pipe-1", NAPPE_LOSS_PIPE)->length, ==, 0.38);
  /* Two elbows of Darby's law. */
  g_assert_cmpfloat_with_epsilon (find_loss (network, "first-elbow", NAPPE_LOSS_FITTING)->k1, 2 * elbow->k1, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_loss (network, "first-elbow", NAPPE_LOSS_FITTING)->k,
                                  2 * nappe_k_darby_fixed (elbow->ki, elbow->kd, 1), 1e-12);
  g_assert_nonnull (find_loss (network, "tee", NAPPE_LOSS_BRANCH));
  g_assert_nonnull (find_loss (network, "tee", NAPPE_LOSS_FITTING));
  /* The reducer's loss is that of the two bores: Crane's sudden contraction on the smaller. */
  const NappeLoss *bore = find_loss (network, "pipe-2", NAPPE_LOSS_BORE);
  g_assert_cmpfloat (bore->k, ==, nappe_k_contraction (wide->bore, narrow->bore));
  g_assert_cmpfloat (network->stretches[bore->stretch].bore, ==, narrow->bore);
}

static void
test_growth (void)
{
  g_autoptr (NappeNetwork) clean = compile (line_build (NULL));
  g_autoptr (NappeNetwork) grown = compile (line_build ("SIPHON", "'growth_mm': 2,", NULL));
  g_autoptr (NappeNetwork) closed = compile (line_build ("SIPHON", "'growth_mm': 12,", NULL));
  const NappeLink *before = find_link (clean, NAPPE_LINK_DRAIN, "siphon"), *after = find_link (grown, NAPPE_LINK_DRAIN, "siphon");
  double bore = before->inlet.bore;

  g_assert_cmpuint (grown->n_problems, ==, 0);
  assert_losses_add_up (grown);
  g_assert_cmpfloat_with_epsilon (after->inlet.bore, bore - 0.004, 1e-12);
  g_assert_cmpfloat (after->inlet.rim_diameter, ==, before->inlet.rim_diameter);
  g_assert_cmpfloat_with_epsilon (nappe_link_content (grown, after),
                                  nappe_link_content (clean, before) * pow (after->inlet.bore / bore, 2), 1e-12);
  /* Slime, HR Wallingford: 0.3 mm. */
  g_assert_cmpfloat (grown->stretches[find_loss (grown, "pipe-1", NAPPE_LOSS_PIPE)->stretch].roughness, ==, 0.0003);
  for (guint i = 0; i < clean->n_losses; i++)
    {
      const NappeLoss *loss = &grown->losses[i];

      g_assert_cmpstr (loss->piece, ==, clean->losses[i].piece);
      gboolean in_siphon = loss->stretch < after->first_stretch + after->n_stretches && loss->stretch >= after->first_stretch;
      if (in_siphon)
        g_assert_cmpfloat (grown->stretches[loss->stretch].bore, <, clean->stretches[clean->losses[i].stretch].bore);
    }
  /* The other line is as it was. */
  g_assert_cmpfloat (grown->stretches[find_loss (grown, "first-pipe", NAPPE_LOSS_PIPE)->stretch].bore, ==,
                     clean->stretches[find_loss (clean, "first-pipe", NAPPE_LOSS_PIPE)->stretch].bore);
  /* 12 mm would close the one-inch pipe: a tenth is left, and that is told once. */
  g_assert_cmpuint (closed->n_problems, ==, 1);
  g_assert_cmpstr (closed->problems[0].part, ==, "siphon");
  g_assert_cmpfloat_with_epsilon (closed->stretches[find_loss (closed, "pipe-2", NAPPE_LOSS_PIPE)->stretch].bore,
                                  0.1 * nappe_catalogue_find (catalogue, "pvc40-pipe-1")->bore, 1e-12);
}

/* Head that the siphon's three lengths and the feed lose together at a flow [m]. */
static double
siphon_head (NappeNetwork *network, double flow)
{
  double head = 0;

  for (guint i = 0; i < network->n_links; i++)
    if (g_str_equal (network->links[i].line, "siphon"))
      head += nappe_run_head (network->stretches + network->links[i].first_stretch, network->links[i].n_stretches, flow,
                              &network->water, NULL);
  nappe_network_free (network);
  return head;
}

static void
test_more_growth_more_loss (void)
{
  const char *const thickness[] = { "'growth_mm': 0,", "'growth_mm': 0.05,", "'growth_mm': 0.5,", "'growth_mm': 1,",
                                    "'growth_mm': 3,", "'growth_mm': 6,", "'growth_mm': 9,", "'growth_mm': 11,",
                                    "'growth_mm': 16," };
  double before = 0;

  for (guint i = 0; i < G_N_ELEMENTS (thickness); i++)
    {
      double head = siphon_head (compile (line_build ("SIPHON", thickness[i], NULL)), 3e-4);

      g_assert_cmpfloat (head, >, before);
      before = head;
    }
}

static void
test_hose_bends (void)
{
  g_autoptr (NappeNetwork) usual = compile (line_build (NULL));
  g_autoptr (NappeNetwork) wide = compile (line_build ("BEND", "'bend_radius_mm': 125,", NULL));
  g_autoptr (NappeNetwork) straight = compile (line_build ("THIRD", "right", NULL));
  g_autoptr (NappeNetwork) back = compile (line_build ("THIRD", "left", NULL));
  const NappeItem *hose = nappe_catalogue_find (catalogue, "hose-vinyl-25");
  const NappeLoss *bend = find_loss (wide, "hose-1", NAPPE_LOSS_BEND);
  NappeBend square = nappe_bend (G_PI_2, 5), hairpin = nappe_bend (G_PI, 4 * hose->outside_diameter / hose->bore);

  g_assert_cmpfloat_with_epsilon (bend->k, square.k, 1e-12);
  g_assert_cmpfloat_with_epsilon (bend->length, square.diameters * hose->bore, 1e-12);
  /* Rennels by python3-fluids 1.0.22: bend_rounded (Di=0.025, angle=90, rc=0.125, fd=0.02) = 0.269905; the arc's own
     friction, 0.02 x pi/2 x 5, is in the hoses' lengths. */
  g_assert_cmpfloat_with_epsilon (bend->k + 0.02 * bend->length / hose->bore + 0.02 * G_PI_2 * 5, 0.269905, 1e-6);
  g_assert_cmpfloat (find_loss (usual, "hose-1", NAPPE_LOSS_BEND)->length, >, 0);
  g_assert_nonnull (find_loss (usual, "hose-2", NAPPE_LOSS_BEND));
  g_assert_null (find_loss (usual, "hose-3", NAPPE_LOSS_BEND));
  g_assert_null (find_loss (straight, "hose-2", NAPPE_LOSS_BEND));
  g_assert_cmpfloat_with_epsilon (find_loss (back, "hose-2", NAPPE_LOSS_BEND)->k, hairpin.k, 1e-12);
  /* Rigid pipe turns at fittings alone. */
  g_assert_null (find_loss (usual, "pipe-1", NAPPE_LOSS_BEND));
}

static void
test_narrower_bend_more_loss (void)
{
  const char *const radius[] = { "'bend_radius_mm': 400,", "'bend_radius_mm': 125,", "'bend_radius_mm': 75,",
                                 "'bend_radius_mm': 50,", "'bend_radius_mm': 25,", "'bend_radius_mm': 13," };
  double before = 0;

  for (guint i = 0; i < G_N_ELEMENTS (radius); i++)
    {
      double head = siphon_head (compile (line_build ("BEND", radius[i], NULL)), 3e-4);

      g_assert_cmpfloat (head, >, before);
      before = head;
    }
}

static void
test_valves (void)
{
  g_autoptr (NappeNetwork) network = compile (line_build (NULL));
  g_autoptr (NappeNetwork) blocked = compile (line_build ("SECOND", "0", NULL));
  gint index = nappe_network_valve_link (network, (guint) nappe_network_find_link (network, NAPPE_LINK_DRAIN, "siphon"));

  g_assert_cmpint (index, >=, 0);
  const NappeLink *link = &network->links[index];
  const NappeLoss *loss = find_loss (network, "valve", NAPPE_LOSS_VALVE);
  g_assert_cmpstr (link->valve.piece, ==, "valve");
  g_assert_cmpfloat (link->valve.turns, ==, 5);
  g_assert_cmpuint (loss->stretch, ==, link->valve.stretch);
  g_assert_cmpfloat (loss->k, ==, link->valve.k);
  nappe_network_set_opening (network, (guint) index, 0.3);
  g_assert_cmpfloat (loss->k, ==, nappe_valve_k (link->valve.points, link->valve.n_points, 0.3));
  assert_losses_add_up (network);
  nappe_network_set_opening (network, (guint) index, 0);
  g_assert_true (link->shut);
  nappe_network_set_opening (network, (guint) index, 1);
  g_assert_false (link->shut);
  /* Opening one valve does not open another that is shut. */
  g_assert_true (blocked->links[index].shut);
  nappe_network_set_opening (blocked, (guint) index, 1);
  g_assert_true (blocked->links[index].shut);
  /* A line without a valve. */
  g_assert_true (isnan (find_link (network, NAPPE_LINK_DRAIN, "emergency")->valve.turns));
}

/* A copy can be changed and brought back to the last bit. */
static void
test_restore (void)
{
  g_autoptr (NappeNetwork) network = compile (line_build (NULL));
  g_autoptr (NappeNetwork) copy = nappe_network_copy (network);
  guint siphon = (guint) nappe_network_find_link (network, NAPPE_LINK_DRAIN, "siphon");
  guint weir = (guint) nappe_network_find_link (network, NAPPE_LINK_WEIR, "box");
  const void *const pools[] = { copy->nodes, copy->links, copy->stretches, copy->losses, copy->contents, copy->level_pieces };

  nappe_network_block (copy, siphon, 0.5);
  g_assert_cmpfloat (copy->losses[copy->links[siphon].first_loss].k, ==,
                     copy->links[siphon].inlet.entrance_k + nappe_k_plate (0.5));
  assert_losses_add_up (copy);
  nappe_network_block_weir (copy, weir, 0.4);
  g_assert_cmpfloat (copy->links[weir].weir.open_share, ==, 0.4);
  g_assert_cmpfloat (network->links[weir].weir.open_share, ==, 1);
  nappe_network_set_opening (copy, (guint) nappe_network_valve_link (copy, siphon), 0.1);
  copy->nodes[copy->display].area *= 2;
  copy->contents[0].volume = 0;
  copy->kept_level += 0.1;
  copy->water.density = 1;
  nappe_network_restore (copy, network);
  const void *const kept[] = { copy->nodes, copy->links, copy->stretches, copy->losses, copy->contents, copy->level_pieces };
  g_assert_cmpmem (pools, sizeof pools, kept, sizeof kept);
  g_assert_cmpmem (copy->nodes, copy->n_nodes * sizeof *copy->nodes, network->nodes, network->n_nodes * sizeof *copy->nodes);
  g_assert_cmpmem (copy->links, copy->n_links * sizeof *copy->links, network->links, network->n_links * sizeof *copy->links);
  g_assert_cmpmem (copy->stretches, copy->n_stretches * sizeof *copy->stretches, network->stretches,
                   network->n_stretches * sizeof *copy->stretches);
  g_assert_cmpmem (copy->losses, copy->n_losses * sizeof *copy->losses, network->losses,
                   network->n_losses * sizeof *copy->losses);
  g_assert_cmpmem (copy->contents, copy->n_contents * sizeof *copy->contents, network->contents,
                   network->n_contents * sizeof *copy->contents);
  g_assert_cmpfloat (copy->kept_level, ==, network->kept_level);
  g_assert_cmpfloat (copy->water.density, ==, network->water.density);
}

/* Whichever of the two lines stands first in the file, the second ends in the first one's tee. */
static void
assert_joined (NappeNetwork *network)
{
  const NappeLink *join = find_link (network, NAPPE_LINK_PIPE, "second-end");
  const NappeLink *end = find_link (network, NAPPE_LINK_PIPE, "first-end");
  guint into = 0, out = 0;

  g_assert_cmpuint (network->n_problems, ==, 0);
  assert_losses_add_up (network);
  g_assert_cmpuint (join->to, ==, end->from);
  g_assert_cmpint (network->nodes[join->to].kind, ==, NAPPE_NODE_JUNCTION);
  g_assert_cmpstr (join->line, ==, "second");
  g_assert_cmpstr (join->outlet, ==, "");
  g_assert_cmpfloat (join->sill, ==, -INFINITY);
  g_assert_true (join->one_way && join->trunk);
  g_assert_cmpuint (end->to, ==, network->display);
  for (guint i = 0; i < network->n_links; i++)
    {
      into += network->links[i].to == join->to;
      out += network->links[i].from == join->to;
    }
  g_assert_cmpuint (into, ==, 2);
  g_assert_cmpuint (out, ==, 1);
  /* The way in is the tee's branch, on the tee's bore. */
  const NappeLoss *branch = NULL;
  for (guint i = 0; i < join->n_losses; i++)
    if (network->losses[join->first_loss + i].kind == NAPPE_LOSS_BRANCH)
      branch = &network->losses[join->first_loss + i];
  g_assert_nonnull (branch);
  g_assert_cmpstr (branch->piece, ==, "first-tee");
  g_assert_cmpfloat (network->stretches[branch->stretch].bore, ==, nappe_catalogue_find (catalogue, "pvc40-pipe-1")->bore);
  nappe_network_free (network);
}

static void
test_lines_join (void)
{
  assert_joined (compile (line_build (NULL)));
  assert_joined (compile (line_build ("RETURNS", LINE_BUILD_TURNED, NULL)));
}

/* A drain may end in a filter sock, a pump draw from a side vessel. */
static void
test_socks_and_side_vessels (void)
{
  g_autoptr (NappeNetwork) sock = compile (line_build ("LAST", "sock", "MORE", ", 'equipment': [ { 'id': 'sock', 'kind': 'sock', "
                                                       "'item': 'filter-sock-4in', 'where': 'middle', 'x_mm': 10, "
                                                       "'base_height_mm': 150 } ]", NULL));
  g_autoptr (NappeNetwork) vessel
      = compile (line_build ("SOURCE", "beside", "MORE",
                             ", 'vessels': [ { 'id': 'beside', "
                             "'length_mm': 400, 'width_mm': 200, 'height_mm': 300, "
                             "'spout_height_mm': 250, 'base_height_mm': 100, 'into': 'tank' } ]",
                             NULL));
  gint into = nappe_network_find_node (sock, "sock"), from = nappe_network_find_node (vessel, "beside");

  g_assert_cmpuint (sock->n_problems, ==, 0);
  g_assert_cmpint (into, >=, 0);
  g_assert_cmpint (sock->nodes[into].kind, ==, NAPPE_NODE_SOCK);
  g_assert_cmpint ((gint) find_link (sock, NAPPE_LINK_DRAIN, "emergency")->to, ==, into);
  g_assert_cmpstr (find_link (sock, NAPPE_LINK_DRAIN, "emergency")->outlet, ==, "emergency-end");
  g_assert_cmpint (from, >=, 0);
  g_assert_cmpint ((gint) find_link (vessel, NAPPE_LINK_PUMP, "first-pump")->from, ==, from);
}

/* Ends that are no tee of another return line: told, and the line carries nothing there. */
static void
test_wrong_joins (void)
{
  const char *const ends[] = { "second-tee", "first-pipe", "tee", "first-elbow" };

  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      g_autoptr (NappeNetwork) network = compile (line_build ("JOINS", ends[i], NULL));
      gboolean shut = FALSE;

      g_assert_cmpuint (network->n_problems, ==, 1);
      g_assert_cmpstr (network->problems[0].part, ==, "second");
      g_assert_nonnull (strstr (network->problems[0].text, ends[i]));
      for (guint l = 0; l < network->n_links; l++)
        shut |= network->links[l].shut && g_str_equal (network->links[l].line, "second");
      g_assert_true (shut);
    }
}

/* Loss of one part strictly rises with flow over Reynolds numbers 1 to 1e6, the change from laminar to turbulent
 * included; and a metre of its own pipe with it. */
static void
assert_rises (const NappeStretch *stretch, const NappeWater *water, const char *what)
{
  double before = 0;

  for (guint i = 0; i <= 6000; i++)
    {
      double reynolds = pow (10, i / 1000.0);
      double head = nappe_stretch_head (stretch, reynolds * water->kinematic * G_PI_4 * stretch->bore, water);

      if (!(head > before))
        g_error ("%s loses no more at a Reynolds number of %g", what, reynolds);
      before = head;
    }
}

static void
test_every_part_loses_more_with_flow (void)
{
  NappeWater water;
  guint count = 0;

  nappe_water_init (&water, 25, 35);
  for (guint i = 0; i < nappe_catalogue_count (catalogue); i++)
    {
      const NappeItem *item = nappe_catalogue_nth (catalogue, i);
      gboolean tube = item->kind == NAPPE_ITEM_PIPE || item->kind == NAPPE_ITEM_HOSE;
      double k = item->n_points > 0 ? nappe_valve_k (item->points, item->n_points, 0.4)
                                    : nappe_k_darby_fixed (item->ki, item->kd, item->nominal_inches);
      NappeStretch part = {
        .bore = item->bore, .length = tube ? 1 : 0, .roughness = item->roughness, .k = tube ? 0 : k, .k1 = item->k1
      };
      NappeStretch branch = { .bore = item->bore, .k1 = item->branch_k1,
                              .k = nappe_k_darby_fixed (item->branch_ki, item->branch_kd, item->nominal_inches) };

      if (!tube && item->kind != NAPPE_ITEM_FITTING && item->kind != NAPPE_ITEM_VALVE && item->kind != NAPPE_ITEM_BULKHEAD)
        continue;
      if (item->kind == NAPPE_ITEM_FITTING && (g_str_equal (item->shape, "reducer") || g_str_equal (item->shape, "cap")))
        continue; /* reckoned from the bores, and shut */
      assert_rises (&part, &water, item->id);
      if (branch.k > 0)
        assert_rises (&branch, &water, item->id);
      count++;
    }
  g_assert_cmpuint (count, >, 200);
}

static void
test_valves_name_their_turns (void)
{
  for (guint i = 0; i < nappe_catalogue_count (catalogue); i++)
    {
      const NappeItem *item = nappe_catalogue_nth (catalogue, i);

      if (item->kind != NAPPE_ITEM_VALVE)
        continue;
      if (g_str_equal (item->valve_kind, "ball"))
        g_assert_cmpfloat (item->turns, ==, 0.25);
      else if (g_str_equal (item->valve_kind, "check"))
        g_assert_cmpfloat (item->turns, ==, 0);
      else
        g_assert_cmpfloat (item->turns, >=, 1);
    }
}

static void
test_pumps (void)
{
  g_autoptr (NappeNetwork) two = compile (line_build ("COUNT", "'count': 2,", NULL));
  g_autoptr (NappeNetwork) from_tank = compile (line_build ("SOURCE", "tank", NULL));
  NappeBuild *build = line_build ("RETURNS", LINE_BUILD_FIRST, NULL);
  NappePump *pump = NAPPE_PUMP (nappe_build_find (build, "first-pump"));

  /* No file has that: an overflow box feeds no pump. */
  g_free (pump->chamber);
  pump->chamber = g_strdup ("box");
  g_autoptr (NappeNetwork) from_box = compile (build);

  g_assert_cmpuint (find_link (two, NAPPE_LINK_PUMP, "first-pump")->count, ==, 2);
  g_assert_cmpuint (find_link (two, NAPPE_LINK_PUMP, "second-pump")->count, ==, 1);
  g_assert_cmpuint (find_link (from_tank, NAPPE_LINK_PUMP, "first-pump")->from, ==, from_tank->display);
  g_assert_cmpint (nappe_network_find_link (from_box, NAPPE_LINK_PUMP, "first-pump"), ==, -1);
  g_assert_cmpuint (from_box->n_problems, >, 0);
  g_assert_false (from_box->runnable);
}

/* A hole above all of the pipe, where nothing can be drilled, must not make a power cut look harmless. The demo's pump gives out
 * 163 mm over the room's floor, and its pipe climbs by 590 and 697 mm: to 1.450 m, 588 mm over the tank's floor. */
static void
test_hole_above_the_pipe_is_none (void)
{
  for (guint i = 0; i < 2; i++)
    {
      NappeBuild *build = read_demo ("three-drain");

      NAPPE_OUTLET (nappe_build_find (build, "left-nozzle"))->siphon_break_height = i == 0 ? 0.575 : 0.620;
      g_autoptr (NappeNetwork) network = compile (build);
      const NappeLink *pipe = find_link (network, NAPPE_LINK_PIPE, "left-nozzle");

      g_assert_cmpfloat_with_epsilon (pipe->highest, 1.450, 1e-9);
      if (i == 0)
        {
          g_assert_cmpuint (network->n_problems, ==, 0);
          g_assert_cmpfloat_with_epsilon (pipe->siphon_break, network->nodes[network->display].floor + 0.575, 1e-12);
          continue;
        }
      g_assert_cmpuint (network->n_problems, ==, 1);
      g_assert_cmpstr (network->problems[0].part, ==, "left-nozzle");
      g_assert_cmpfloat (pipe->siphon_break, ==, pipe->sill);
    }
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  g_test_init (&argc, &argv, NULL);
  catalogue = nappe_catalogue_load_default (NULL, &error);
  g_assert_no_error (error);
  g_test_add_func ("/network/lines/losses-add-up", test_losses_add_up);
  g_test_add_func ("/network/lines/losses-of-pieces", test_losses_of_pieces);
  g_test_add_func ("/network/lines/growth", test_growth);
  g_test_add_func ("/network/lines/more-growth-more-loss", test_more_growth_more_loss);
  g_test_add_func ("/network/lines/hose-bends", test_hose_bends);
  g_test_add_func ("/network/lines/narrower-bend-more-loss", test_narrower_bend_more_loss);
  g_test_add_func ("/network/lines/valves", test_valves);
  g_test_add_func ("/network/lines/restore", test_restore);
  g_test_add_func ("/network/lines/join", test_lines_join);
  g_test_add_func ("/network/lines/socks-and-side-vessels", test_socks_and_side_vessels);
  g_test_add_func ("/network/lines/wrong-joins", test_wrong_joins);
  g_test_add_func ("/network/lines/every-part-loses-more-with-flow", test_every_part_loses_more_with_flow);
  g_test_add_func ("/network/lines/valves-name-their-turns", test_valves_name_their_turns);
  g_test_add_func ("/network/lines/pumps", test_pumps);
  g_test_add_func ("/network/lines/hole-above-the-pipe-is-none", test_hole_above_the_pipe_is_none);
  int result = g_test_run ();
  nappe_catalogue_unref (catalogue);
  return result;
}

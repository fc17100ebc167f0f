/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Textbook networks of pipes between reservoirs. A build has no three reservoirs, so the networks are made here by hand;
 * what solves them is what solves a build. Books leave out losses at ends and take one f for each pipe, so each
 * pipe is a lone loss coefficient. */
#include "study/balance.h"

#include "physics/gravity.h"

#include <math.h>

#define FOOT 0.3048
#define CUBIC_FOOT (FOOT * FOOT * FOOT)

/* A pipe from a reservoir to the junction. */
typedef struct
{
  double head;       /* of its reservoir [m] */
  double bore;       /* [m] */
  double resistance; /* head lost over flow squared [s2/m5] */
  double flow;       /* that the book has, to the junction [m3/s] */
} Branch;

#define BRANCHES 3
#define JUNCTION BRANCHES
#define FLOOR (BRANCHES + 1)

/* Darcy's f. */
static double
darcy (double f, double length, double bore)
{
  double area = G_PI_4 * bore * bore;

  return f * length / bore / (2 * NAPPE_GRAVITY * area * area);
}

static void
fill_network (NappeNetwork *network, const Branch *branches)
{
  for (guint i = 0; i < network->n_nodes; i++)
    network->nodes[i] = (NappeNode){
      .kind = NAPPE_NODE_CHAMBER, .floor = -100, .rim = 200, .area = 1, .area_low = 1, .step = -INFINITY
    };
  network->nodes[JUNCTION] = (NappeNode){ .kind = NAPPE_NODE_JUNCTION, .floor = -INFINITY, .rim = INFINITY, .step = -INFINITY };
  for (guint i = 0; i < BRANCHES; i++)
    {
      double area = G_PI_4 * branches[i].bore * branches[i].bore;

      network->stretches[i]
          = (NappeStretch){ .bore = branches[i].bore, .k = branches[i].resistance * 2 * NAPPE_GRAVITY * area * area };
      network->links[i] = (NappeLink){ .kind = NAPPE_LINK_PIPE, .from = JUNCTION, .to = i, .drain = -1, .pump = -1,
                                       .open_share = 1, .sill = -INFINITY, .siphon_break = -INFINITY, .first_stretch = i,
                                       .n_stretches = 1, .count = 1 };
    }
  nappe_water_init (&network->water, 20, 0);
  network->display = network->return_chamber = 0;
  network->floor = FLOOR;
  network->reservoir = G_MAXUINT;
}

/* head, flow: what the book has, each to within. */
static void
assert_solved (const Branch *branches, double head, double head_within, double flow_within)
{
  NappeNode nodes[FLOOR + 1];
  NappeLink links[BRANCHES];
  NappeStretch stretches[BRANCHES];
  NappeNetwork network = { .n_nodes = FLOOR + 1, .n_links = BRANCHES, .n_stretches = BRANCHES,
                           .nodes = nodes, .links = links, .stretches = stretches };
  gboolean held[FLOOR + 1] = { TRUE, TRUE, TRUE, FALSE, TRUE };
  NappeBalanceCase situation = { held, G_MAXUINT, 0, 0, FALSE };
  NappeLinkMode mode[BRANCHES] = { { FALSE, 0 } };
  double level[FLOOR + 1] = { branches[0].head, branches[1].head, branches[2].head, 0, -100 }, flow[BRANCHES];
  g_autoptr (NappeBalance) balance = nappe_balance_new (network.n_nodes, network.n_links);

  fill_network (&network, branches);
  NappeBalanceOutcome outcome = nappe_balance_solve (balance, &network, &situation, mode, level, flow);
  g_assert_true (outcome.settled);
  g_assert_cmpfloat_with_epsilon (level[JUNCTION], head, head_within);
  for (guint i = 0; i < BRANCHES; i++)
    g_assert_cmpfloat_with_epsilon (-flow[i], branches[i].flow, flow_within);
}

/* Of the kind of the three-reservoir examples in Munson, Young and Okiishi, Fundamentals of Fluid Mechanics, chapter 8:
 * reservoirs at 100, 20 and 0 ft, pipes of 1000, 500 and 400 ft, all 1 ft wide, f = 0.02. By the same equations worked with a
 * hand calculator: 12.506 ft3/s leave the highest, 2.233 and 10.274 reach the others, 21.255 ft at the junction. */
static void
test_three_reservoirs_in_feet (void)
{
  const Branch branches[] = {
    { 100 * FOOT, FOOT, darcy (0.02, 1000 * FOOT, FOOT), 12.506 * CUBIC_FOOT },
    { 20 * FOOT, FOOT, darcy (0.02, 500 * FOOT, FOOT), -2.233 * CUBIC_FOOT },
    { 0, FOOT, darcy (0.02, 400 * FOOT, FOOT), -10.274 * CUBIC_FOOT },
  };

  /* The book's g is 32.2 ft/s2: flows 0.04 % larger at the same heads. */
  assert_solved (branches, 21.255 * FOOT, 0.001 * FOOT, 0.006 * CUBIC_FOOT);
}

/* Of the kind of problem 14.19 in Massey, Mechanics of Fluids: reservoirs at 60, 30 and 15 m; pipes 300 mm by 1500 m, 250 mm by
 * 800 m, 200 mm by 400 m; h = f l Q^2 / (3 d^5) with f = 0.01. 0.1107 m3/s leave the highest, 0.0418 and 0.0689 reach
 * the others, 34.777 m at the junction. */
static void
test_three_reservoirs_in_metres (void)
{
#define RESISTANCE(length, bore) (0.01 * (length) / (3 * pow ((bore), 5)))
  const Branch branches[] = {
    { 60, 0.300, RESISTANCE (1500, 0.300), 0.1107 },
    { 30, 0.250, RESISTANCE (800, 0.250), -0.0418 },
    { 15, 0.200, RESISTANCE (400, 0.200), -0.0689 },
  };

  assert_solved (branches, 34.777, 0.0005, 0.00005);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/examples/three-reservoirs-in-feet", test_three_reservoirs_in_feet);
  g_test_add_func ("/examples/three-reservoirs-in-metres", test_three_reservoirs_in_metres);
  return g_test_run ();
}

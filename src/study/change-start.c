/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the water of a changed system will about come to rest: a start near the end saves the solver most of its steps. */
#include "study/changed.h"
#include "study/drain-parts.h"

#include <math.h>

/* Halvings that find a level to a fraction of a millimetre. */
#define SEED_HALVINGS 10
/* Depth over a starved pump's inlet to start from: half of where its flow fades [m]. */
#define SEED_DEPTH 0.005

/* Where a box will stand, as a start: the level at which the open inlets let in what flowed before. */
static void
seed_box (NappeState *state, const NappeNetwork *network, guint box, double flow)
{
  double low = state->level[box], high = network->nodes[box].rim;
  gboolean has_drain = FALSE;

  for (guint step = 0; step < SEED_HALVINGS && low < high; step++)
    {
      double middle = 0.5 * (low + high), carried = 0;

      for (guint i = 0; i < network->n_links; i++)
        {
          const NappeLink *link = &network->links[i];

          if (link->kind != NAPPE_LINK_DRAIN || link->from != box)
            continue;
          has_drain = TRUE;
          carried += state->primed[i] ? state->flow[i] : nappe_drain_inlet_flow (link, middle, NULL);
        }
      if (carried < flow)
        low = middle;
      else
        high = middle;
    }
  if (has_drain)
    state->level[box] = fmax (state->level[box], high);
}

/* The boxes, then the vessels above them: the display stands over what it pours into, and over a narrowed weir as high as
 * the flow needs. */
static void
seed_upper_vessels (NappeState *state, const NappeNetwork *network, const NappeState *running)
{
  g_autofree gboolean *filling = g_new0 (gboolean, network->n_nodes);

  nappe_network_reach (network, network->display, FALSE, filling);
  for (guint i = 0; i < network->n_nodes; i++)
    if (filling[i] && network->nodes[i].kind == NAPPE_NODE_BOX)
      seed_box (state, network, i, nappe_box_inflow (network, running, i));
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_JOINT && nappe_link_is_open (&network->links[i]))
      state->level[network->links[i].from] = fmax (state->level[network->links[i].from], state->level[network->links[i].to]);
  double *display = &state->level[network->display];
  double needed = INFINITY;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind != NAPPE_LINK_WEIR || link->from != network->display || !filling[link->to])
        continue;
      double head = link->weir.open_share < 1 ? nappe_weir_head_for_flow (&link->weir, running->flow[i]) : 0;
      needed = fmin (needed, fmax (state->level[link->to], link->sill + head));
    }
  if (isfinite (needed))
    *display = fmax (*display, fmin (needed, network->nodes[network->display].rim));
  for (guint i = 0; i < network->n_nodes; i++)
    if (filling[i])
      state->level[i] = fmin (state->level[i], *display);
}

/* The return chamber gives what display and boxes take up, until its pump draws air; what it cannot give they do not get. */
static void
seed_volumes (NappeState *state, const NappeNetwork *network, double total)
{
  const NappeNode *chamber = &network->nodes[network->return_chamber];
  const NappeNode *display = &network->nodes[network->display];
  double *level = &state->level[network->return_chamber];
  double lowest = chamber->floor, missing;

  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PUMP && network->links[i].from == network->return_chamber)
      lowest = fmax (lowest, network->links[i].pump_inlet + SEED_DEPTH);
  missing = nappe_network_volume (network, state->level) + state->pipes - total;
  double gives = fmax (0, nappe_node_volume (chamber, *level) - nappe_node_volume (chamber, lowest));
  *level = nappe_node_level (chamber, nappe_node_volume (chamber, *level) - fmin (missing, gives));
  if (missing <= gives)
    return;
  double fall = (missing - gives) / display->area;
  state->level[network->display] -= fall;
  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_BOX)
      state->level[i] = fmin (state->level[i], state->level[network->display]);
}

/* The surface or end that a drain's trunk leads to from a node. Sections are compiled in the direction of the flow. */
static double
end_of_trunk (const NappeState *state, const NappeNetwork *network, guint drain)
{
  guint node = network->links[drain].to;
  double end = state->level[node];

  for (guint i = drain + 1; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind != NAPPE_LINK_PIPE || !link->trunk || link->from != node)
        continue;
      node = link->to;
      end = fmax (link->sill, state->level[node]);
    }
  return end;
}

/* A junction below a closed drain gets nothing: its head sinks to about where the trunk ends. */
static void
seed_junctions (NappeState *state, const NappeNetwork *network, const NappeState *running)
{
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *drain = &network->links[i];

      if (drain->kind != NAPPE_LINK_DRAIN || running->flow[i] <= 0 || (drain->open_share > 0 && !drain->shut))
        continue;
      state->primed[i] = FALSE;
      double end = end_of_trunk (state, network, i);
      for (guint l = i; l < network->n_links; l++)
        if ((l == i || network->links[l].drain == (gint) i) && network->nodes[network->links[l].to].kind == NAPPE_NODE_JUNCTION)
          state->level[network->links[l].to] = end;
    }
}

void
nappe_state_expect_change (NappeState *state, const NappeNetwork *changed, const NappeState *running, double total)
{
  seed_junctions (state, changed, running);
  seed_upper_vessels (state, changed, running);
  seed_volumes (state, changed, total);
}

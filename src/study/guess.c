/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a running system will stand, near enough for the solver to start from: each edge carries a share of what the pumps
 * can give at most. What is a guess here moves no result, only the time until it is found. */
#include "study/state.h"

#include <math.h>
#include <string.h>

/* Flow through the system, as a share of the pumps' end-of-curve flow; and over a side vessel's spout, as a share of that. */
#define FLOW_SHARE 0.6
#define SIDE_SHARE 0.1
/* Water over a drain's crest, difference of level across a joint or cloth, and depth over a starved pump's inlet [m]. */
#define DRAIN_HEAD 0.03
#define JOINT_HEAD 0.01
#define CLOTH_HEAD 0.005
#define GAP_HEAD 1e-3
#define STARVED_DEPTH 0.005
/* Halvings that fit the level in the return chamber to all water, to a millimetre in a metre. */
#define FIT_HALVINGS 10

static double
pump_end_flow (const NappeNetwork *network)
{
  double sum = 0;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_PUMP && link->speed > 0 && link->from == network->return_chamber)
        sum += MAX (link->count, 1) * link->speed * link->curve.flow[link->curve.n - 1];
    }
  return sum;
}

/* Level of the chamber left or right of one that stands at `inner`: over a baffle stands the head of the flow. */
static double
neighbour_level (const NappeNetwork *network, guint left, double inner, double flow)
{
  double level = inner;
  gboolean gap = FALSE;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->from != left || network->nodes[link->to].kind != NAPPE_NODE_CHAMBER)
        continue;
      gap |= link->kind == NAPPE_LINK_GAP;
      if (link->kind == NAPPE_LINK_WEIR)
        level = fmax (inner, link->sill + nappe_weir_head_for_flow (&link->weir, flow));
    }
  return gap ? inner + GAP_HEAD : level;
}

/* Chambers from the return chamber outwards. */
static void
guess_chambers (NappeState *self, const NappeNetwork *network, double flow)
{
  gint centre = (gint) network->return_chamber;

  for (gint direction = -1; direction <= 1; direction += 2)
    for (gint i = centre + direction; i >= 0 && i < (gint) network->n_nodes; i += direction)
      {
        if (network->nodes[i].kind != NAPPE_NODE_CHAMBER)
          break;
        double level = neighbour_level (network, (guint) MIN (i, i - direction), self->level[i - direction], flow);
        self->level[i] = fmin (level, network->nodes[i].rim);
      }
}

/* The display and side vessels brim over their crests. */
static void
guess_crests (NappeState *self, const NappeNetwork *network, double flow)
{
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      const NappeNode *from = &network->nodes[link->from];
      double *level = &self->level[link->from];

      if (link->kind != NAPPE_LINK_WEIR || (from->kind != NAPPE_NODE_DISPLAY && from->kind != NAPPE_NODE_VESSEL))
        continue;
      double share = from->kind == NAPPE_NODE_VESSEL ? SIDE_SHARE : 1;
      *level = fmin (*level, link->sill + nappe_weir_head_for_flow (&link->weir, share * flow));
    }
}

/* Each box stands over its drains' inlets, an inner box over the outer one, a sock over its chamber. */
static void
guess_boxes (NappeState *self, const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      double *level = &self->level[link->from];

      if (link->kind == NAPPE_LINK_DRAIN)
        *level = fmax (*level, fmin (link->inlet.crest + DRAIN_HEAD, network->nodes[link->from].rim));
      else if (link->kind == NAPPE_LINK_SOCK)
        *level = fmax (*level, self->level[link->to] + CLOTH_HEAD);
    }
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      double *level = &self->level[link->from];

      if (link->kind == NAPPE_LINK_JOINT)
        *level = fmax (*level, fmin (fmax (self->level[link->to], link->joint.height) + JOINT_HEAD,
                                     network->nodes[link->from].rim));
    }
}

static void
guess_above (NappeState *self, const NappeNetwork *network, double return_level)
{
  double flow = FLOW_SHARE * pump_end_flow (network);

  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];
      gboolean brims = node->kind == NAPPE_NODE_DISPLAY || node->kind == NAPPE_NODE_VESSEL;

      self->level[i] = node->kind == NAPPE_NODE_FLOOR ? 0 : brims ? node->rim : node->floor;
    }
  self->level[network->return_chamber] = return_level;
  guess_chambers (self, network, flow);
  if (network->reservoir != G_MAXUINT)
    self->level[network->reservoir] = network->reservoir_level;
  guess_crests (self, network, flow);
  guess_boxes (self, network);
  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_JUNCTION)
      self->level[i] = self->level[network->display];
}

/* Water that the guess needs beyond all that there is, with the pump lines full [m3]. */
static double
excess (NappeState *self, const NappeNetwork *network, double return_level)
{
  guess_above (self, network, return_level);
  nappe_state_measure (self, network);
  return self->vessels + self->pipes - network->total_volume;
}

/* Fits the return chamber to the total. When that leaves the pump without water, the display gets less. */
static void
guess_from_total (NappeState *self, const NappeNetwork *network)
{
  const NappeNode *chamber = &network->nodes[network->return_chamber];
  const NappeNode *display = &network->nodes[network->display];
  double low = chamber->floor, high = chamber->rim;

  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PUMP && network->links[i].from == network->return_chamber)
      low = fmax (low, network->links[i].pump_inlet + STARVED_DEPTH);
  double missing = excess (self, network, low);
  if (missing > 0)
    {
      double *level = &self->level[network->display];

      *level = nappe_node_level (display, fmax (0, nappe_node_volume (display, *level) - missing));
      return;
    }
  for (guint i = 0; i < FIT_HALVINGS; i++)
    {
      double middle = 0.5 * (low + high);

      if (excess (self, network, middle) < 0)
        low = middle;
      else
        high = middle;
    }
}

void
nappe_state_guess (NappeState *self, const NappeNetwork *network)
{
  memset (self->flow, 0, network->n_links * sizeof *self->flow);
  nappe_state_expect_primed (self, network);
  if (isnan (network->total_volume))
    guess_above (self, network, network->kept_level);
  else
    guess_from_total (self, network);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/over-rim.h"

#include <math.h>

/* Halvings that find a level to less than a nanometre. */
#define HALVINGS 40

typedef struct
{
  const NappeNetwork *network;
  const NappeState *running;
  double *level;   /* by node: to which it sinks meanwhile, z [m] */
} Loss;

static gboolean
is_upper (const NappeNode *node)
{
  return node->kind == NAPPE_NODE_DISPLAY || node->kind == NAPPE_NODE_BOX;
}

/* Over a vessel's rim; less than the solver can tell from nothing is nothing [m3/s]. */
static double
rim_flow (const NappeNetwork *network, const NappeState *state, guint node)
{
  double sum = 0;

  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_RIM && network->links[i].from == node)
      sum += state->flow[i] > NAPPE_BALANCE_TOLERANCE ? state->flow[i] : 0;
  return sum;
}

double
nappe_over_rim_rate (const NappeNetwork *network, const NappeState *state)
{
  double sum = 0;

  for (guint i = 0; i < network->n_nodes; i++)
    sum += rim_flow (network, state, i);
  return sum;
}

double
nappe_over_rim_upper_rate (const NappeNetwork *network, const NappeState *state)
{
  double sum = 0;

  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind != NAPPE_NODE_CHAMBER)
      sum += rim_flow (network, state, i);
  return sum;
}

double
nappe_over_rim_sump_share (const NappeNetwork *network, const NappeState *running)
{
  double over = 0;

  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_CHAMBER || network->nodes[i].kind == NAPPE_NODE_VESSEL)
      over += rim_flow (network, running, i);
  return over > 0 ? over / (over + fmax (0, running->pump_flow)) : 0;
}

static double
flow_at (const NappeNetwork *network, const NappeState *running, guint link, double from, double to)
{
  NappeLinkMode mode = { running->primed[link], running->flow[link] };
  NappeLinkFlow result = { 0, 0, 0 };

  nappe_link_law (network, &network->links[link], &mode, from, to, &result);
  return result.flow;
}

/* The lowest level from which a link passes a flow to another level. */
static double
passing_level (const NappeNetwork *network, const NappeState *running, guint link, double to, double flow)
{
  double high = running->level[network->links[link].from], low = fmin (high, fmax (to, network->links[link].sill));

  for (guint step = 0; step < HALVINGS; step++)
    {
      double middle = 0.5 * (low + high);

      if (flow_at (network, running, link, middle, to) < flow)
        low = middle;
      else
        high = middle;
    }
  return low;
}

/* What a vessel's ways down carry with it at a level, of what they carry now, as a share. */
static double
carried_share (const Loss *self, guint node, double level)
{
  double now = rim_flow (self->network, self->running, node), then = 0;

  for (guint i = 0; i < self->network->n_links; i++)
    {
      const NappeLink *link = &self->network->links[i];

      if (link->from != node || link->kind == NAPPE_LINK_RIM || self->running->flow[i] <= 0)
        continue;
      now += self->running->flow[i];
      then += CLAMP (flow_at (self->network, self->running, i, level, self->running->level[link->to]), 0,
                     self->running->flow[i]);
    }
  return now > 0 ? then / now : 0;
}

/* Lets a vessel sink to a level, and those above it until no more comes from them than a share of what does now. */
static void
sink (const Loss *self, guint node, double level, double share)
{
  const NappeNetwork *network = self->network;

  self->level[node] = fmin (self->level[node], level);
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      gboolean edge = link->kind == NAPPE_LINK_WEIR || link->kind == NAPPE_LINK_JOINT;

      double flow = self->running->flow[i];

      if (link->to == node && edge && is_upper (&network->nodes[link->from]) && flow > 0)
        sink (self, link->from, passing_level (network, self->running, i, level, share * flow), share);
    }
}

double
nappe_over_rim_loss (const NappeNetwork *network, const NappeState *running, gboolean carried, double *level)
{
  Loss self = { network, running, level };
  double sum = 0;

  for (guint i = 0; i < network->n_nodes; i++)
    level[i] = running->level[i];
  for (guint i = 0; i < network->n_nodes; i++)
    {
      double rim = network->nodes[i].rim;
      gboolean slows = !carried && is_upper (&network->nodes[i]);

      if (rim_flow (network, running, i) > 0)
        sink (&self, i, fmin (rim, running->level[i]), slows ? carried_share (&self, i, rim) : 1);
    }
  for (guint i = 0; i < network->n_nodes; i++)
    if (level[i] < running->level[i])
      sum += nappe_node_volume (&network->nodes[i], running->level[i])
             - nappe_node_volume (&network->nodes[i], level[i]);
  return sum;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the water stands when no way leads down from the display to the pump any more. */
#include "study/changed.h"
#include "study/pools.h"
#include "study/state.h"

#include <math.h>

/* Within this the level of standing water is found [m]. */
#define STANDING_TOLERANCE 1e-13
/* Rounds in which it and the water in the nozzles find each other; each shrinks the miss by pipe over plan area. */
#define STANDING_ROUNDS 40
/* A change of the pipes' water that ends them [m3]. */
#define STANDING_MISS 1e-12

/* Water that may be missing from a rest, as a share of all. */
#define MOST_MISS 1e-9

/* The display and the boxes that fill with it. */
typedef struct
{
  const NappeNetwork *network;
  const NappeState *running;
  const gboolean *filling; /* by node */
} Group;

static double
group_brim (const Group *self)
{
  double lowest = INFINITY;

  for (guint i = 0; i < self->network->n_nodes; i++)
    if (self->filling[i])
      lowest = fmin (lowest, self->network->nodes[i].rim);
  return lowest;
}

/* Where a vessel of the group stands with all of it at one level: there, or where it stood if that is higher, but not
 * over its rim. */
static double
vessel_level (const Group *self, guint node, double level)
{
  return fmin (fmax (level, self->running->level[node]), self->network->nodes[node].rim);
}

static double
group_volume (const Group *self, double level)
{
  double sum = 0;

  for (guint i = 0; i < self->network->n_nodes; i++)
    if (self->filling[i])
      sum += nappe_node_volume (&self->network->nodes[i], vessel_level (self, i, level));
  return sum;
}

/* Puts the water that is left for it into the group: it rises together; what it cannot hold spills. */
static void
fill_group (const Group *self, NappeState *state, double volume)
{
  double low = self->network->nodes[self->network->display].floor, high = group_brim (self);

  state->spilled = fmax (0, volume - group_volume (self, high));
  if (state->spilled > 0)
    low = high;
  while (high - low > STANDING_TOLERANCE)
    {
      double middle = 0.5 * (low + high);

      if (group_volume (self, middle) < volume)
        low = middle;
      else
        high = middle;
    }
  for (guint i = 0; i < self->network->n_nodes; i++)
    if (self->filling[i])
      state->level[i] = vessel_level (self, i, high);
}

/* A box that gets nothing any more runs out through its open drains, an inner one through its joint. */
static double
emptied_level (const Group *self, guint box)
{
  double level = fmin (self->running->level[box], self->network->nodes[box].rim);

  for (guint i = 0; i < self->network->n_links; i++)
    {
      const NappeLink *link = &self->network->links[i];

      if (link->kind == NAPPE_LINK_DRAIN && link->from == box && nappe_link_is_open (link))
        level = fmin (level, self->running->primed[i] ? fmin (link->inlet.brink, link->inlet.crest) : link->inlet.crest);
      else if (link->kind == NAPPE_LINK_JOINT && link->from == box && nappe_link_is_open (link))
        level = fmin (level, fmax (link->sill, emptied_level (self, link->to)));
    }
  return fmax (level, self->network->nodes[box].floor);
}

/* A side vessel runs out over its spout; a sock stands as high as its chamber, which is known by then. */
static double
drained_level (const NappeNetwork *network, const NappeState *state, guint node)
{
  double level = state->level[node];

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->from != node)
        continue;
      if (link->kind == NAPPE_LINK_WEIR)
        level = fmin (level, link->sill);
      else if (link->kind == NAPPE_LINK_SOCK)
        level = fmin (level, state->level[link->to]);
    }
  return fmax (level, network->nodes[node].floor);
}

/* Empties the sump's chambers to the pump's inlet, and all vessels that nothing fills. */
static void
empty_the_rest (const Group *self, NappeState *state)
{
  const NappeNetwork *network = self->network;
  g_autoptr (NappePools) pools = nappe_pools_new (network, state->level);
  gint return_chamber = nappe_pools_find (pools, &network->nodes[network->return_chamber]);
  double inlet = INFINITY;

  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PUMP && network->links[i].from == network->return_chamber)
      inlet = fmin (inlet, network->links[i].pump_inlet);
  nappe_pools_settle (pools);
  if (return_chamber >= 0)
    nappe_pools_drain (pools, (guint) return_chamber, inlet);
  for (guint i = 0; i < network->n_nodes; i++)
    {
      gint vessel = nappe_pools_find (pools, &network->nodes[i]);

      if (vessel >= 0)
        state->level[i] = pools->level[vessel];
      else if (network->nodes[i].kind == NAPPE_NODE_BOX && !self->filling[i])
        state->level[i] = emptied_level (self, i);
    }
  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_VESSEL || network->nodes[i].kind == NAPPE_NODE_SOCK)
      state->level[i] = drained_level (network, state, i);
}

void
nappe_state_stand (NappeState *state, NappeNetwork *changed, const NappeState *running, double total)
{
  g_autofree gboolean *filling = g_new0 (gboolean, changed->n_nodes);
  Group group = { changed, running, filling };
  double moved = INFINITY, rest = 0;

  nappe_network_reach (changed, changed->display, FALSE, filling);
  for (guint i = 0; i < changed->n_links; i++)
    {
      state->flow[i] = 0;
      state->primed[i] = FALSE;
      /* A pump that draws air holds no column up: its line's water is lifted with the rest. */
      if (changed->links[i].kind == NAPPE_LINK_PUMP)
        changed->links[i].speed = 0;
    }
  empty_the_rest (&group, state);
  for (guint i = 0; i < changed->n_nodes; i++)
    if (!filling[i] && changed->nodes[i].kind != NAPPE_NODE_FLOOR && changed->nodes[i].kind != NAPPE_NODE_JUNCTION)
      rest += nappe_node_volume (&changed->nodes[i], state->level[i]);
  nappe_state_measure (state, changed);
  /* The nozzles' ends hold water up to the level that is sought. */
  for (guint round = 0; round < STANDING_ROUNDS && moved > STANDING_MISS; round++)
    {
      double pipes = state->pipes;

      fill_group (&group, state, total - rest - pipes);
      nappe_state_measure (state, changed);
      moved = fabs (state->pipes - pipes);
    }
  double miss = fabs (state->vessels + state->pipes + state->spilled - total);
  state->rest = moved <= STANDING_MISS && miss <= MOST_MISS * total ? NAPPE_REST_FOUND : NAPPE_REST_NOT_FOUND;
  state->draws_air = TRUE;
}

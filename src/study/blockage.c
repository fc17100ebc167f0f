/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What becomes of a running system with drains blocked: the water stays the same, so the return chamber
 * gives what the display and boxes take up. Either all comes to a new rest, or the pump uncovers its inlet and
 * lifts only what still comes down, or the display reaches its rim first. In the last case water leaves until the
 * pump has nothing more to lift than the drains carry with the display brimming. */
#include "study/state.h"

#include <math.h>

/* Halvings that find a start for the solver to a fraction of a millimetre. */
#define SEED_HALVINGS 10
/* Rounds in which the water in the pipes and the level find each other. */
#define PIPE_ROUNDS 3

/* The vessel that stands highest over its rim, or G_MAXUINT. */
static guint
overtopped (const NappeNetwork *network, const NappeState *state)
{
  double most = 0;
  guint worst = G_MAXUINT;

  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];
      double over = state->level[i] - node->rim;

      if (node->kind != NAPPE_NODE_FLOOR && node->kind != NAPPE_NODE_JUNCTION && over > most)
        {
          most = over;
          worst = i;
        }
    }
  return worst;
}

/* A rest that holds `total` in vessels and pipes together. */
static void
settle_with_total (NappeState *state, NappeBalance *balance, const NappeNetwork *network, double total)
{
  g_autofree gboolean *held = g_new0 (gboolean, network->n_nodes);
  NappeBalanceCase situation = { held, network->return_chamber, 0, TRUE };

  if (network->reservoir != G_MAXUINT)
    held[network->reservoir] = TRUE;
  for (guint round = 0; round < PIPE_ROUNDS; round++)
    {
      situation.total_volume = total - state->pipes;
      nappe_state_settle (state, balance, network, &situation);
      if (state->rest == NAPPE_REST_NOT_FOUND || fabs (state->vessels + state->pipes - total) < 1e-9 * total)
        return;
    }
}

/* One vessel brims; the pump lifts what the drains still carry. */
static void
settle_brimming (NappeState *state, NappeBalance *balance, const NappeNetwork *network, guint vessel)
{
  g_autofree gboolean *held = g_new0 (gboolean, network->n_nodes);
  NappeBalanceCase situation = { held, G_MAXUINT, 0, TRUE };

  held[vessel] = TRUE;
  if (network->reservoir != G_MAXUINT)
    held[network->reservoir] = TRUE;
  state->level[vessel] = network->nodes[vessel].rim;
  nappe_state_settle (state, balance, network, &situation);
}

/* Fresh water that the top-off adds while the return chamber stands below its kept level [m3]. */
static double
top_off (const NappeNetwork *network, const NappeState *state, const NappeState *running)
{
  const NappeNode *chamber = &network->nodes[network->return_chamber];
  double missing = nappe_node_volume (chamber, running->level[network->return_chamber])
                   - nappe_node_volume (chamber, state->level[network->return_chamber]);

  return network->reservoir_volume > 0 && missing > 0 ? network->reservoir_volume : 0;
}

/* With the kept level restored by the top-off, the least that it must add [m3]; INFINITY: no such rest. */
static double
top_off_needed (const NappeBlockage *self, NappeBalance *balance, const NappeNetwork *network, double total)
{
  g_autofree gboolean *held = g_new0 (gboolean, network->n_nodes);
  NappeBalanceCase situation = { held, G_MAXUINT, 0, TRUE };
  NappeState state;

  nappe_state_init (&state, network);
  nappe_state_copy (&state, &self->state, network);
  held[network->return_chamber] = TRUE;
  if (network->reservoir != G_MAXUINT)
    held[network->reservoir] = TRUE;
  state.level[network->return_chamber] = network->kept_level;
  nappe_state_settle (&state, balance, network, &situation);
  double needed = state.rest == NAPPE_REST_NOT_FOUND ? INFINITY : state.vessels + state.pipes - total;
  nappe_state_clear (&state);
  return needed;
}

/* Where a box will stand, as a start: the level at which the open inlets let in what flowed before. */
static void
seed_box (NappeState *state, const NappeNetwork *network, guint box, double flow)
{
  double low = state->level[box], high = network->nodes[box].rim;

  for (guint step = 0; step < SEED_HALVINGS && low < high; step++)
    {
      double middle = 0.5 * (low + high), carried = 0;

      for (guint i = 0; i < network->n_links; i++)
        {
          const NappeLink *link = &network->links[i];

          if (link->kind == NAPPE_LINK_DRAIN && link->from == box)
            carried += state->primed[i] ? state->flow[i] : nappe_drain_inlet_flow (link, middle, NULL);
        }
      if (carried < flow)
        low = middle;
      else
        high = middle;
    }
  state->level[box] = fmax (state->level[box], high);
}

/* A junction below a blocked drain gets nothing: its head sinks to the lowest surface or end that it leads to. */
static void
seed_junction (NappeState *state, const NappeNetwork *network, const NappeLink *blocked)
{
  double lowest = INFINITY;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_PIPE && link->from == blocked->to)
        lowest = fmin (lowest, fmax (link->sill, state->level[link->to]));
    }
  if (network->nodes[blocked->to].kind == NAPPE_NODE_JUNCTION && isfinite (lowest))
    state->level[blocked->to] = lowest;
}

static void
judge (NappeBlockage *self, NappeBalance *balance, const NappeNetwork *network, const NappeState *running, double total)
{
  guint brimming = overtopped (network, &self->state);
  double display_free = 0;

  self->floods = brimming != G_MAXUINT;
  if (self->floods)
    {
      settle_brimming (&self->state, balance, network, brimming);
      self->state.spilled = fmax (0, total - self->state.vessels - self->state.pipes);
    }
  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_DISPLAY || network->nodes[i].kind == NAPPE_NODE_BOX)
      display_free += fmax (0, nappe_node_volume (&network->nodes[i], network->nodes[i].rim)
                                   - nappe_node_volume (&network->nodes[i], running->level[i]));
  self->display_rise = self->state.level[network->display] - running->level[network->display];
  self->freeboard = fmax (0, network->nodes[network->display].rim - self->state.level[network->display]);
  self->time_to_rim = self->floods && running->pump_flow > 0 ? display_free / running->pump_flow : INFINITY;
}

void
nappe_study_blockage_run (NappeBlockage *self, NappeBalance *balance, const NappeNetwork *network, const NappeState *running)
{
  g_autoptr (NappeNetwork) changed = nappe_network_copy (network);
  double total = running->vessels + running->pipes;

  for (guint i = 0; i < network->n_links; i++)
    {
      gboolean named = self->all_drains;

      for (guint b = 0; b < self->n_blocked; b++)
        named |= self->blocked[b] == i;
      if (network->links[i].kind == NAPPE_LINK_DRAIN && named)
        nappe_network_block (changed, i, self->open_share);
    }
  nappe_state_copy (&self->state, running, network);
  for (guint i = 0; i < network->n_links; i++)
    if (changed->links[i].kind == NAPPE_LINK_DRAIN && changed->links[i].open_share <= 0)
      {
        self->state.primed[i] = FALSE;
        seed_junction (&self->state, changed, &changed->links[i]);
      }
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_WEIR && network->links[i].from == network->display)
      seed_box (&self->state, changed, network->links[i].to, running->flow[i]);
  settle_with_total (&self->state, balance, changed, total);
  double added = top_off (changed, &self->state, running);
  if (added > 0)
    {
      const NappeNode *reservoir = &network->nodes[network->reservoir];
      double full = nappe_node_volume (reservoir, running->level[network->reservoir]);

      /* The reservoir is one of the vessels: what it gives changes places, not the total. */
      self->top_off_added = added = CLAMP (top_off_needed (self, balance, changed, total), 0, added);
      self->state.level[network->reservoir] = nappe_node_level (reservoir, full - added);
      settle_with_total (&self->state, balance, changed, total);
    }
  judge (self, balance, changed, running, total);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What becomes of a running system with drains blocked: the water stays the same, so the return chamber
 * gives what the display and boxes take up. Either all comes to a new rest, or the pump uncovers its inlet and
 * lifts only what still comes down, or the display reaches its rim first. In the last case water leaves until the
 * pump has nothing more to lift than the drains carry with the display brimming. */
#include "study/state.h"

#include "study/pools.h"

#include <math.h>

/* Halvings that find a start for the solver to a fraction of a millimetre. */
#define SEED_HALVINGS 10
/* Depth over a starved pump's inlet to start from: half of where its flow fades [m]. */
#define SEED_DEPTH 0.005
/* Turns that pipes and levels take, and the miss that ends them, as a share of all water. */
#define MOST_TURNS 12
#define TURN_TOLERANCE 1e-9
/* Within this the level of standing water is found [m]. */
#define STANDING_TOLERANCE 1e-13
/* Rounds in which it and the water in the nozzles find each other; each shrinks the miss by pipe over plan area. */
#define STANDING_ROUNDS 40
/* A change of the pipes' water that ends them [m3]. */
#define STANDING_MISS 1e-12

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

/* Solves with the pipes' water held, measures it, and again, until both fit. */
static void
take_turns (NappeState *state, NappeBalance *balance, const NappeNetwork *network, NappeBalanceCase *situation)
{
  for (guint turn = 0; turn < MOST_TURNS; turn++)
    {
      situation->pipes = state->pipes;
      nappe_state_settle (state, balance, network, situation);
      double miss = state->vessels + state->pipes - situation->total_volume;
      if (state->rest == NAPPE_REST_NOT_FOUND || fabs (miss) < TURN_TOLERANCE * situation->total_volume)
        return;
    }
  state->rest = NAPPE_REST_NOT_FOUND;
}

/* A rest that holds `total` in vessels and pipes together. Where the iteration does not find it with the pipes
 * following the flows, pipes and levels take turns. */
static void
settle_with_total (NappeState *state, NappeBalance *balance, const NappeNetwork *network, double total)
{
  g_autofree gboolean *held = g_new0 (gboolean, network->n_nodes);
  NappeBalanceCase situation = { held, network->return_chamber, total, NAN, TRUE };
  NappeState start;

  if (network->reservoir != G_MAXUINT)
    held[network->reservoir] = TRUE;
  nappe_state_init (&start, network);
  nappe_state_copy (&start, state, network);
  nappe_state_settle (state, balance, network, &situation);
  if (state->rest == NAPPE_REST_NOT_FOUND)
    {
      nappe_state_copy (state, &start, network);
      take_turns (state, balance, network, &situation);
    }
  nappe_state_clear (&start);
}

/* One vessel brims; the pump lifts what the drains still carry. */
static void
settle_brimming (NappeState *state, NappeBalance *balance, const NappeNetwork *network, guint vessel)
{
  g_autofree gboolean *held = g_new0 (gboolean, network->n_nodes);
  NappeBalanceCase situation = { held, G_MAXUINT, 0, 0, TRUE };

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
  NappeBalanceCase situation = { held, G_MAXUINT, 0, 0, TRUE };
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

/* What the top-off gives changes places, not the total: the reservoir is one of the vessels. */
static void
take_from_reservoir (NappeState *state, const NappeNetwork *network, double volume)
{
  if (network->reservoir == G_MAXUINT || volume <= 0)
    return;
  const NappeNode *reservoir = &network->nodes[network->reservoir];
  double *level = &state->level[network->reservoir];

  *level = nappe_node_level (reservoir, nappe_node_volume (reservoir, *level) - volume);
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

/* The return chamber gives what display and boxes take up, until its pump draws air; what it cannot give they do not get. */
static void
seed_volumes (NappeState *state, const NappeNetwork *network, double total)
{
  const NappeNode *chamber = &network->nodes[network->return_chamber];
  const NappeNode *display = &network->nodes[network->display];
  double *level = &state->level[network->return_chamber];
  double lowest = chamber->floor, missing;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_PUMP && link->from == network->return_chamber)
        lowest = fmax (lowest, link->pump_inlet + SEED_DEPTH);
      if (link->kind == NAPPE_LINK_WEIR && link->from == network->display)
        state->level[network->display] = fmax (state->level[network->display], state->level[link->to]);
    }
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
settle_with_top_off (NappeBlockage *self, NappeBalance *balance, const NappeNetwork *network, const NappeState *running,
                     double total)
{
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_WEIR && network->links[i].from == network->display)
      seed_box (&self->state, network, network->links[i].to, running->flow[i]);
  seed_volumes (&self->state, network, total);
  settle_with_total (&self->state, balance, network, total);
  double added = top_off (network, &self->state, running);
  if (added <= 0)
    return;
  self->top_off_added = CLAMP (top_off_needed (self, balance, network, total), 0, added);
  take_from_reservoir (&self->state, network, self->top_off_added);
  settle_with_total (&self->state, balance, network, total);
}

static gboolean
has_open_drain (const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_DRAIN && network->links[i].open_share > 0 && !network->links[i].shut)
      return TRUE;
  return FALSE;
}

/* The height up to which display and boxes fill as one: the lowest of their rims. */
static double
brim (const NappeNetwork *network)
{
  double lowest = INFINITY;

  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_DISPLAY || network->nodes[i].kind == NAPPE_NODE_BOX)
      lowest = fmin (lowest, network->nodes[i].rim);
  return lowest;
}

/* Water of display and boxes with all of them at one level, or where they stood if that is higher. */
static double
volume_above (const NappeNetwork *network, const NappeState *running, double level)
{
  double sum = 0;

  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_DISPLAY || network->nodes[i].kind == NAPPE_NODE_BOX)
      sum += nappe_node_volume (&network->nodes[i], fmax (level, running->level[i]));
  return sum;
}

/* Puts the water that is left for them into display and boxes: they rise together; what they cannot hold spills. */
static void
fill_above (NappeState *state, const NappeNetwork *network, const NappeState *running, double volume)
{
  double low = network->nodes[network->display].floor, high = brim (network);

  state->spilled = fmax (0, volume - volume_above (network, running, high));
  if (state->spilled > 0)
    low = high;
  while (high - low > STANDING_TOLERANCE)
    {
      double middle = 0.5 * (low + high);

      if (volume_above (network, running, middle) < volume)
        low = middle;
      else
        high = middle;
    }
  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_DISPLAY || network->nodes[i].kind == NAPPE_NODE_BOX)
      state->level[i] = fmax (high, running->level[i]);
}

/* Nothing comes down: the pump lifts all that reaches its inlet, its own line's water included, and then stands. */
static void
settle_standing (NappeState *state, const NappeNetwork *network, const NappeState *running, double total)
{
  g_autoptr (NappePools) pools = NULL;
  double inlet = INFINITY, sump = 0;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_PUMP && link->from == network->return_chamber)
        inlet = fmin (inlet, link->pump_inlet);
      state->flow[i] = 0;
    }
  pools = nappe_pools_new (network, state->level);
  nappe_pools_settle (pools);
  nappe_pools_drain (pools, (guint) nappe_pools_find (pools, &network->nodes[network->return_chamber]), inlet);
  for (guint i = 0; i < network->n_nodes; i++)
    {
      gint vessel = nappe_pools_find (pools, &network->nodes[i]);

      if (vessel < 0)
        continue;
      state->level[i] = pools->level[vessel];
      sump += nappe_node_volume (&network->nodes[i], state->level[i]);
    }
  nappe_state_measure (state, network);
  /* The nozzles' ends hold water up to the level that is sought. */
  double moved = INFINITY;
  for (guint round = 0; round < STANDING_ROUNDS && moved > STANDING_MISS; round++)
    {
      double pipes = state->pipes;

      fill_above (state, network, running, total - sump - pipes);
      nappe_state_measure (state, network);
      moved = fabs (state->pipes - pipes);
    }
  state->rest = moved <= STANDING_MISS ? NAPPE_REST_FOUND : NAPPE_REST_NOT_FOUND;
  state->draws_air = TRUE;
}

static void
judge (NappeBlockage *self, NappeBalance *balance, const NappeNetwork *network, const NappeState *running, double total)
{
  guint brimming = overtopped (network, &self->state);
  double display_free = 0;

  self->floods = brimming != G_MAXUINT || self->state.spilled > 0;
  if (brimming != G_MAXUINT)
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

/* Whether all that is blocked was dry anyhow, beside drains that are open. */
static gboolean
changes_nothing (const NappeNetwork *changed, const NappeState *running)
{
  for (guint i = 0; i < changed->n_links; i++)
    if (changed->links[i].kind == NAPPE_LINK_DRAIN && changed->links[i].open_share < 1 && running->flow[i] > 0)
      return FALSE;
  return has_open_drain (changed);
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
    if (changed->links[i].kind == NAPPE_LINK_DRAIN && changed->links[i].open_share <= 0 && running->flow[i] > 0)
      {
        self->state.primed[i] = FALSE;
        seed_junction (&self->state, changed, &changed->links[i]);
      }
  if (changes_nothing (changed, running))
    self->state.rest = running->rest;
  else if (has_open_drain (changed))
    settle_with_top_off (self, balance, changed, running, total);
  else
    {
      /* A pump that draws air holds no column up: its line's water is lifted with the rest. */
      for (guint i = 0; i < changed->n_links; i++)
        if (changed->links[i].kind == NAPPE_LINK_PUMP)
          changed->links[i].speed = 0;
      self->top_off_added = network->reservoir_volume;
      take_from_reservoir (&self->state, network, self->top_off_added);
      settle_standing (&self->state, changed, running, total);
    }
  judge (self, balance, changed, running, total);
}

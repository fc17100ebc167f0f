/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What becomes of a running system after a change: the water stays the same, so the return chamber gives what the
 * display and boxes take up, or takes what they give. One of these ends is reached:
 * - no pump lifts any more, or none is strong enough: all runs down as after a power cut, the check valve counted as failed;
 * - no way leads down any more: all that the pump can lift stands in the display, or goes over a rim;
 * - all comes to a new rest, or the pump uncovers its inlet and lifts only what still comes down;
 * - a vessel reaches its rim first: water leaves until the pump has nothing more to lift than what the ways down carry
 *   with that vessel brimming.
 * What runs over a rim already spills meanwhile (over-rim.h): the rest is sought with what is left.
 * A drowned emergency drain is never taken as primed here: that could make a flood look better than it is. */
#include "study/changed.h"
#include "study/over-rim.h"
#include "study/state.h"

#include <math.h>
#include <string.h>

/* Less than this lifts nothing: a millilitre a day [m3/s]. */
#define IDLE_FLOW 1e-11
/* A vessel this near its rim at the end brims [m]. */
#define BRIM_TOLERANCE 1e-9

gboolean
nappe_link_is_open (const NappeLink *link)
{
  switch (link->kind)
    {
    case NAPPE_LINK_WEIR:
      return link->weir.open_share > 0 && link->weir.length > 0;
    case NAPPE_LINK_JOINT:
      return !link->shut && link->open_share > 0 && (!link->joint.siphon || link->joint.primed);
    case NAPPE_LINK_DRAIN:
      return !link->shut && link->open_share > 0;
    case NAPPE_LINK_PIPE:
      return !link->shut;
    case NAPPE_LINK_GAP:
    case NAPPE_LINK_SOCK:
      return TRUE;
    case NAPPE_LINK_PUMP:
    case NAPPE_LINK_RIM:
      return FALSE;
    default:
      g_return_val_if_reached (FALSE);
    }
}

void
nappe_network_reach (const NappeNetwork *network, guint from, gboolean drains, gboolean *reached)
{
  gboolean any = TRUE;

  reached[from] = TRUE;
  while (any)
    {
      any = FALSE;
      for (guint i = 0; i < network->n_links; i++)
        {
          const NappeLink *link = &network->links[i];
          /* Between the chambers of a sump water goes either way. */
          gboolean back = link->kind == NAPPE_LINK_GAP || link->kind == NAPPE_LINK_SOCK
                          || (link->kind == NAPPE_LINK_WEIR && network->nodes[link->from].kind == NAPPE_NODE_CHAMBER);

          gboolean upper = link->kind == NAPPE_LINK_WEIR || link->kind == NAPPE_LINK_JOINT;

          if (reached[link->from] == reached[link->to] || (reached[link->to] && !back) || (!upper && !drains)
              || !nappe_link_is_open (link))
            continue;
          reached[link->from] = reached[link->to] = any = TRUE;
        }
    }
}

static gboolean
has_way_down (const NappeNetwork *network)
{
  g_autofree gboolean *reached = g_new0 (gboolean, network->n_nodes);

  nappe_network_reach (network, network->display, TRUE, reached);
  return reached[network->return_chamber];
}

/* Whether a pump that runs has an open way to some vessel. */
static gboolean
is_lifting (const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *pump = &network->links[i];
      g_autofree gboolean *reached = NULL;

      if (pump->kind != NAPPE_LINK_PUMP || pump->speed <= 0 || pump->head_left <= 0)
        continue;
      reached = g_new0 (gboolean, network->n_nodes);
      nappe_network_reach (network, pump->to, TRUE, reached);
      for (guint node = 0; node < network->n_nodes; node++)
        if (reached[node] && network->nodes[node].kind != NAPPE_NODE_JUNCTION && node != network->floor)
          return TRUE;
    }
  return FALSE;
}

/* A rest that holds `total` in vessels and pipes together. */
static void
settle_with_total (NappeState *state, NappeBalance *balance, const NappeNetwork *network, double total)
{
  g_autofree gboolean *held = g_new0 (gboolean, network->n_nodes);
  NappeBalanceCase situation = { .held = held, .total_node = network->return_chamber, .total_volume = total, .pipes = NAN,
                                 .rims_closed = TRUE };

  if (network->reservoir != G_MAXUINT)
    held[network->reservoir] = TRUE;
  nappe_state_settle_total (state, balance, network, &situation);
}

/* Fresh water that the top-off could add while the return chamber stands below the level that it keeps [m3]. */
static double
top_off (const NappeNetwork *network, const NappeState *state, const NappeState *running)
{
  guint chamber = network->return_chamber;

  return state->level[chamber] < running->level[chamber] ? network->reservoir_volume : 0;
}

/* With that level restored by the top-off, the least that it must add [m3]; INFINITY: no such rest. */
static double
top_off_needed (const NappeState *found, NappeBalance *balance, const NappeNetwork *network, const NappeState *running,
                double total)
{
  g_autofree gboolean *held = g_new0 (gboolean, network->n_nodes);
  NappeBalanceCase situation = { .held = held, .total_node = G_MAXUINT, .rims_closed = TRUE };
  NappeState state;

  nappe_state_init (&state, network);
  nappe_state_copy (&state, found, network);
  held[network->return_chamber] = TRUE;
  if (network->reservoir != G_MAXUINT)
    held[network->reservoir] = TRUE;
  state.level[network->return_chamber] = running->level[network->return_chamber];
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

static void
settle_with_top_off (NappeBlockage *self, NappeBalance *balance, const NappeNetwork *network, const NappeState *running,
                     double total)
{
  nappe_state_expect_change (&self->state, network, running, total);
  settle_with_total (&self->state, balance, network, total);
  double most = top_off (network, &self->state, running);
  if (most <= 0)
    return;
  self->top_off_added = CLAMP (top_off_needed (&self->state, balance, network, running, total), 0, most);
  take_from_reservoir (&self->state, network, self->top_off_added);
  settle_with_total (&self->state, balance, network, total);
}

/* Whether no pump lifts anything though water covers its inlet: it is too weak. Water that stands still stands at more
 * levels than one; the true one is where it comes to when it runs down. */
static gboolean
is_idle (const NappeNetwork *network, const NappeState *state)
{
  if (state->rest == NAPPE_REST_NOT_FOUND || state->draws_air)
    return FALSE;
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PUMP && state->flow[i] > IDLE_FLOW)
      return FALSE;
  return TRUE;
}

/* Nothing lifts: all runs down. Counted with a failed check valve, the safe side for the sump. */
static void
run_down (NappeBlockage *self, NappeNetwork *changed, const NappeNetwork *network, const NappeState *running)
{
  NappeState *state = &self->state;
  NappePowerCut cut = { 0 };

  self->runs_down = TRUE;
  nappe_state_init (&cut.state, changed);
  /* A power cut begins with the pumps as they ran: the lines of those that did are full. */
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PUMP)
      changed->links[i].speed = network->links[i].speed;
  nappe_study_power_cut (&cut, changed, running, FALSE, TRUE);
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PUMP)
      changed->links[i].speed = 0;
  if (cut.known)
    nappe_state_copy (state, &cut.state, changed);
  else
    state->rest = NAPPE_REST_NOT_FOUND;
  nappe_state_clear (&cut.state);
  g_free (cut.ledger);
}

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

/* Lets a vessel brim: the pump lifts what still comes down. Where drains break or prime over it, the water that is there may
 * be too little for the rest that is found so: then there is none, and what stood over the rim is what has spilled. */
static void
brim (NappeState *state, NappeBalance *balance, const NappeNetwork *network, const NappeBalanceCase *situation, guint vessel,
      double total)
{
  NappeState before;

  state->level[vessel] = network->nodes[vessel].rim;
  nappe_state_init (&before, network);
  nappe_state_copy (&before, state, network);
  nappe_state_settle (state, balance, network, situation);
  state->spilled = total - state->vessels - state->pipes;
  if (state->spilled < 0 && state->rest != NAPPE_REST_NOT_FOUND)
    {
      nappe_state_copy (state, &before, network);
      nappe_state_measure (state, network);
      state->spilled = total - state->vessels - state->pipes;
      state->rest = NAPPE_REST_CYCLES;
    }
  state->spilled = fmax (0, state->spilled);
  nappe_state_clear (&before);
}

/* What stands over its rim brims. A vessel that overtops with it brims too, so there are at most as many rounds as
 * vessels. */
static void
settle_brimming (NappeBlockage *self, NappeBalance *balance, const NappeNetwork *network, double total)
{
  g_autofree gboolean *held = g_new0 (gboolean, network->n_nodes);
  NappeBalanceCase situation = { .held = held, .total_node = G_MAXUINT, .rims_closed = TRUE };
  guint vessel;

  if (network->reservoir != G_MAXUINT)
    held[network->reservoir] = TRUE;
  while (self->state.rest != NAPPE_REST_NOT_FOUND && (vessel = overtopped (network, &self->state)) != G_MAXUINT && !held[vessel])
    {
      self->floods = held[vessel] = TRUE;
      brim (&self->state, balance, network, &situation, vessel, total);
    }
}

static double
free_volume (const NappeNetwork *network, const NappeState *running, guint node)
{
  const NappeNode *vessel = &network->nodes[node];

  return fmax (0, nappe_node_volume (vessel, vessel->rim) - nappe_node_volume (vessel, running->level[node]));
}

/* All that flows into a vessel [m3/s]. */
static double
flow_into (const NappeNetwork *network, const NappeState *state, guint node)
{
  double sum = 0;

  for (guint i = 0; i < network->n_links; i++)
    sum += network->links[i].to == node     ? fmax (0, state->flow[i])
           : network->links[i].from == node ? fmax (0, -state->flow[i])
                                            : 0;
  return sum;
}

/* What a vessel fills with, at the most: all that is pumped. A side vessel whose own way out is blocked gets what it got before:
 * the display gives, and does not rise. */
static double
filling_rate (const NappeBlockage *self, const NappeNetwork *network, const NappeState *running, guint node)
{
  gboolean own = self->n_blocked == 1 && network->links[self->blocked[0]].from == node
                 && network->nodes[node].kind == NAPPE_NODE_VESSEL;

  return own ? fmin (running->pump_flow, flow_into (network, running, node)) : running->pump_flow;
}

/* How long it takes until water goes over a rim, at the least [s]: what must fill is a vessel that brims at the end; where it is
 * the display or a box that is no lower, all that fills with the display. */
static double
least_time_to_fill (const NappeBlockage *self, const NappeNetwork *network, const NappeState *running)
{
  g_autofree gboolean *filling = g_new0 (gboolean, network->n_nodes);
  double least = INFINITY, together = 0, rim = network->nodes[network->display].rim;

  nappe_network_reach (network, network->display, FALSE, filling);
  for (guint i = 0; i < network->n_nodes; i++)
    if (filling[i])
      together += free_volume (network, running, i);
  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind != NAPPE_NODE_FLOOR && network->nodes[i].kind != NAPPE_NODE_JUNCTION
        && self->state.level[i] >= network->nodes[i].rim - BRIM_TOLERANCE)
      least = fmin (least, (filling[i] && network->nodes[i].rim >= rim ? together : free_volume (network, running, i))
                               / filling_rate (self, network, running, i));
  return least;
}

static void
judge (NappeBlockage *self, const NappeNetwork *network, const NappeState *running)
{
  self->floods |= self->state.spilled > 0;
  self->display_rise = self->state.level[network->display] - running->level[network->display];
  self->freeboard = fmax (0, network->nodes[network->display].rim - self->state.level[network->display]);
  if (nappe_over_rim_rate (network, running) > 0)
    self->time_to_rim = 0;
  else if (self->floods && running->pump_flow > 0)
    self->time_to_rim = least_time_to_fill (self, network, running);
  else
    self->time_to_rim = INFINITY;
}

/* The state to start from: a siphon that had no rest is tried primed again. */
static void
start (NappeBlockage *self, const NappeNetwork *network, const NappeState *running)
{
  nappe_state_copy (&self->state, running, network);
  self->state.spilled = 0;
  for (guint i = 0; i < network->n_links && running->rest == NAPPE_REST_CYCLES; i++)
    self->state.primed[i] = network->links[i].kind == NAPPE_LINK_DRAIN && network->links[i].inlet.role == NAPPE_DRAIN_SIPHON
                            && !network->links[i].inlet.vented;
}

/* Whether a pump turns slower, or lifts less, than it did. */
static gboolean
is_slowed (const NappeNetwork *changed, const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PUMP
        && (changed->links[i].speed < network->links[i].speed
            || changed->links[i].head_left < network->links[i].head_left))
      return TRUE;
  return FALSE;
}

/* What a change lets run down out of display and boxes [m3]. */
static double
comes_down (const NappeNetwork *network, const NappeState *state, const NappeState *running)
{
  double sum = 0;

  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_DISPLAY || network->nodes[i].kind == NAPPE_NODE_BOX)
      sum += nappe_node_volume (&network->nodes[i], running->level[i])
             - nappe_node_volume (&network->nodes[i], state->level[i]);
  return fmax (0, sum);
}

/* While pumps run and ways lead down. Returns whether a rest was found in which the pumps lift something. */
static gboolean
settle_circling (NappeBlockage *self, NappeBalance *balance, const NappeNetwork *changed, const NappeState *running,
                 double total, double lost)
{
  double share = nappe_over_rim_sump_share (changed, running);

  settle_with_top_off (self, balance, changed, running, total - lost);
  if (lost > 0 && self->state.rest == NAPPE_REST_NOT_FOUND)
    {
      /* By way of the rest that all the water would find. */
      start (self, changed, running);
      settle_with_top_off (self, balance, changed, running, total);
      settle_with_total (&self->state, balance, changed, total - lost);
    }
  if (share > 0 && self->state.rest != NAPPE_REST_NOT_FOUND)
    {
      lost += share * comes_down (changed, &self->state, running);
      take_from_reservoir (&self->state, changed, -self->top_off_added);
      self->top_off_added = 0;
      settle_with_top_off (self, balance, changed, running, total - lost);
    }
  if (is_idle (changed, &self->state))
    return FALSE;
  self->state.spilled = lost;
  settle_brimming (self, balance, changed, total);
  return TRUE;
}

void
nappe_changed_settle (NappeBlockage *self, NappeBalance *balance, NappeNetwork *changed, const NappeNetwork *network,
                      const NappeState *running)
{
  g_autofree double *level = g_new0 (double, changed->n_nodes);
  double total = running->vessels + running->pipes, lost = nappe_over_rim_loss (changed, running, TRUE, level);

  if (is_slowed (changed, network))
    lost += NAPPE_SPINS_OVER_RIM * NAPPE_SPIN_TIME * nappe_over_rim_upper_rate (network, running);
  self->floods = self->runs_down = FALSE;
  self->top_off_added = 0;
  start (self, changed, running);
  /* What is lost is gone: a start nearer to the end. */
  memcpy (self->state.level, level, changed->n_nodes * sizeof *level);
  if (!is_lifting (changed))
    run_down (self, changed, network, running);
  else if (has_way_down (changed))
    {
      if (!settle_circling (self, balance, changed, running, total, lost))
        {
          self->top_off_added = 0;
          run_down (self, changed, network, running);
        }
    }
  else
    {
      self->top_off_added = changed->reservoir_volume;
      take_from_reservoir (&self->state, changed, self->top_off_added);
      nappe_state_stand (&self->state, changed, running, total - lost);
      self->state.spilled += lost;
    }
  judge (self, changed, running);
  self->state.spilled += running->spilled;
}

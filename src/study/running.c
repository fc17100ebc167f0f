/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steady state with siphons.
 *
 * A siphon is a two-state link. The solver first takes every siphon as primed. One whose box would then stand
 * below the level where it draws air cannot hold: it is taken as unprimed and the state is solved anew.
 * If it would prime again there (its pipe backs up, or sweeps its air away), it has no rest: the system cycles,
 * and no level in between is reported as steady. */
#include "study/state.h"

#include "physics/drop-inlet.h"

#include <math.h>

/* Flow with which the first guess begins, as a share of the pump's end-of-curve flow. */
#define GUESS_SHARE 0.6
/* An unprimed pipe counts as backed up when its inlet lets in this share of what it carries full. */
#define BACKED_UP 0.999

static double
pump_end_flow (const NappeNetwork *network)
{
  double sum = 0;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_PUMP && link->speed > 0)
        sum += link->speed * link->curve.flow[link->curve.n - 1];
    }
  return sum;
}

/* Chambers from the return chamber outwards: over each baffle stands the head of the flow. */
static void
guess_chambers (NappeState *self, const NappeNetwork *network, double flow)
{
  gint centre = (gint) network->return_chamber;

  for (gint direction = -1; direction <= 1; direction += 2)
    for (gint i = centre + direction; i >= 0 && i < (gint) network->n_nodes; i += direction)
      {
        if (network->nodes[i].kind != NAPPE_NODE_CHAMBER)
          break;
        double inner = self->level[i - direction], level = inner;
        guint left = (guint) MIN (i, i - direction);
        for (guint l = 0; l < network->n_links; l++)
          {
            const NappeLink *link = &network->links[l];

            if (link->kind == NAPPE_LINK_WEIR && link->from == left)
              level = fmax (inner, link->sill + nappe_weir_head_for_flow (&link->weir, flow));
          }
        for (guint l = 0; l < network->n_links; l++)
          if (network->links[l].kind == NAPPE_LINK_GAP && network->links[l].from == left)
            level = inner + 1e-3;
        self->level[i] = fmin (level, network->nodes[i].rim);
      }
}

void
nappe_state_guess (NappeState *self, const NappeNetwork *network)
{
  double flow = GUESS_SHARE * pump_end_flow (network);

  for (guint i = 0; i < network->n_nodes; i++)
    self->level[i] = network->nodes[i].kind == NAPPE_NODE_FLOOR ? 0 : network->nodes[i].floor;
  self->level[network->return_chamber] = network->kept_level;
  guess_chambers (self, network, flow);
  if (network->reservoir != G_MAXUINT)
    self->level[network->reservoir] = network->reservoir_level;
  self->level[network->display] = network->nodes[network->display].rim;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_WEIR && network->nodes[link->to].kind == NAPPE_NODE_BOX)
        self->level[network->display]
            = fmin (self->level[network->display], link->sill + nappe_weir_head_for_flow (&link->weir, flow));
    }
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      self->primed[i] = link->kind == NAPPE_LINK_DRAIN && link->inlet.role == NAPPE_DRAIN_SIPHON;
      if (link->kind == NAPPE_LINK_DRAIN)
        self->level[link->from] = fmax (self->level[link->from], fmin (link->inlet.crest + 0.03, network->nodes[link->from].rim));
    }
  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_JUNCTION)
      self->level[i] = self->level[network->display];
}

/* Whether an unprimed siphon would prime where the state has it. */
static gboolean
would_prime (const NappeNetwork *network, guint index, const NappeState *state)
{
  const NappeLink *link = &network->links[index];
  double level = state->level[link->from];
  double full = nappe_drain_full_flow (network, link, level, state->level[link->to], 0, NULL);

  if (link->inlet.vented || state->flow[index] <= 0)
    return FALSE;
  return nappe_drain_inlet_flow (link, level, NULL) >= BACKED_UP * full
         || nappe_full_bore_froude (state->flow[index], link->inlet.bore) >= NAPPE_FROUDE_PRIME;
}

static gboolean
solve (NappeState *self, NappeBalance *balance, const NappeNetwork *network, const NappeBalanceCase *situation)
{
  g_autofree NappeLinkMode *mode = g_new0 (NappeLinkMode, MAX (network->n_links, 1));

  for (guint i = 0; i < network->n_links; i++)
    mode[i] = (NappeLinkMode){ self->primed[i], self->flow[i] };
  NappeBalanceOutcome outcome = nappe_balance_solve (balance, network, situation, mode, self->level, self->flow);
  self->residual = outcome.residual;
  self->worst_node = outcome.worst_node;
  self->iterations += outcome.iterations;
  return outcome.settled;
}

/* Takes as unprimed every siphon that cannot hold in the solved state. Returns whether there was one. */
static gboolean
break_siphons (NappeState *self, const NappeNetwork *network, gboolean *broken)
{
  gboolean any = FALSE;

  for (guint i = 0; i < network->n_links; i++)
    if (self->primed[i] && self->level[network->links[i].from] < network->links[i].inlet.brink)
      {
        self->primed[i] = FALSE;
        broken[i] = any = TRUE;
      }
  return any;
}

void
nappe_state_settle (NappeState *self, NappeBalance *balance, const NappeNetwork *network, const NappeBalanceCase *situation)
{
  g_autofree gboolean *broken = g_new0 (gboolean, MAX (network->n_links, 1));

  self->iterations = 0;
  do
    self->rest = solve (self, balance, network, situation) ? NAPPE_REST_FOUND : NAPPE_REST_NOT_FOUND;
  while (self->rest == NAPPE_REST_FOUND && break_siphons (self, network, broken));
  for (guint i = 0; i < network->n_links && self->rest == NAPPE_REST_FOUND; i++)
    if (broken[i] && would_prime (network, i, self))
      self->rest = NAPPE_REST_CYCLES;
  nappe_state_measure (self, network);
}

void
nappe_study_run (NappeState *self, NappeBalance *balance, const NappeNetwork *network)
{
  g_autofree gboolean *held = g_new0 (gboolean, network->n_nodes);
  NappeBalanceCase situation = { held, G_MAXUINT, 0, 0, FALSE };

  if (!network->runnable)
    return;
  held[network->return_chamber] = TRUE;
  nappe_state_guess (self, network);
  nappe_state_settle (self, balance, network, &situation);
}

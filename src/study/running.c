/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steady state with drains that prime.
 *
 * A drain that has no vent is a two-state link: unprimed its inlet lets in what crest and orifice pass, primed it runs
 * full bore. A siphon is first taken as primed, every other drain as unprimed. Then, as long as something changes:
 * - a primed drain breaks whose box stands below the level where it draws air, unless water still closes its pipe there:
 *   the unprimed inlet would pass as much as the full bore, or enough to sweep the air away;
 * - a drain that has broken and would prime again where it then stands has no rest: the system cycles, and no level in
 *   between is reported as steady;
 * - an unprimed drain primes whose inlet lets in what the full bore carries, or whose flow sweeps its air away. Of several,
 *   the one with the lowest inlet, which the rising water reaches first; it holds only with a margin of level.
 * Each drain primes at most once and breaks at most once, so the search ends. */
#include "study/state.h"

#include "physics/drop-inlet.h"

#include <math.h>
#include <string.h>

/* An unprimed pipe counts as backed up when its inlet lets in this share of what it carries full. */
#define BACKED_UP 0.999
/* A drain that has just primed must stand this far above where it breaks: primed and broken at one level, it would
 * chatter [m]. */
#define PRIME_MARGIN 1e-4
/* What a drain has done in the search. */
#define HAS_PRIMED 1
#define HAS_BROKEN 2
/* Turns that pipes and levels take, and the miss that ends them, as a share of all water. */
#define MOST_TURNS 12
#define TURN_TOLERANCE 1e-9

void
nappe_state_expect_primed (NappeState *self, const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      self->primed[i] = link->kind == NAPPE_LINK_DRAIN && link->inlet.role == NAPPE_DRAIN_SIPHON && !link->inlet.vented;
    }
}

/* Whether water would close an unprimed drain's pipe with the box at its level in the state. */
static gboolean
closes_its_pipe (const NappeState *self, const NappeNetwork *network, guint index)
{
  const NappeLink *link = &network->links[index];
  double level = self->level[link->from], flow = self->flow[index];

  if (link->inlet.vented || flow <= 0)
    return FALSE;
  double inlet = nappe_drain_inlet_flow (link, level, NULL);
  if (nappe_full_bore_froude (self->primed[index] ? fmin (inlet, flow) : flow, link->inlet.bore) >= NAPPE_FROUDE_PRIME)
    return TRUE;
  double full = self->primed[index] ? flow : nappe_drain_full_flow (network, link, level, self->level[link->to], flow, NULL);
  return inlet >= BACKED_UP * full;
}

static gboolean
solve (NappeState *self, NappeBalance *balance, const NappeNetwork *network, const NappeBalanceCase *situation)
{
  NappeLinkMode *mode = nappe_balance_scratch (balance)->mode;

  for (guint i = 0; i < network->n_links; i++)
    mode[i] = (NappeLinkMode){ self->primed[i], self->flow[i] };
  NappeBalanceOutcome outcome = nappe_balance_solve (balance, network, situation, mode, self->level, self->flow);
  self->residual = outcome.residual;
  self->worst_node = outcome.worst_node;
  self->iterations += outcome.iterations;
  return outcome.settled;
}

/* Takes as unprimed every drain that cannot hold in the solved state. Returns whether there was one. */
static gboolean
break_drains (NappeState *self, const NappeNetwork *network, guint8 *switched)
{
  gboolean any = FALSE;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (!self->primed[i])
        continue;
      double margin = switched[i] & HAS_PRIMED ? PRIME_MARGIN : 0;
      if (self->level[link->from] >= link->inlet.brink + margin || closes_its_pipe (self, network, i))
        continue;
      self->primed[i] = FALSE;
      switched[i] |= HAS_BROKEN;
      any = TRUE;
    }
  return any;
}

static gboolean
primes_again (const NappeState *self, const NappeNetwork *network, const guint8 *switched)
{
  for (guint i = 0; i < network->n_links; i++)
    if (switched[i] & HAS_BROKEN && closes_its_pipe (self, network, i))
      return TRUE;
  return FALSE;
}

/* Takes as primed the lowest of the drains that prime in the solved state, and all of the same height. Returns whether
 * there was one. */
static gboolean
prime_lowest (NappeState *self, const NappeNetwork *network, guint8 *switched)
{
  double lowest = INFINITY;
  gboolean any = FALSE;

  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < network->n_links; i++)
      {
        const NappeLink *link = &network->links[i];

        if (link->kind != NAPPE_LINK_DRAIN || self->primed[i] || switched[i] || link->inlet.crest > lowest
            || !closes_its_pipe (self, network, i))
          continue;
        if (pass == 0)
          lowest = link->inlet.crest;
        else
          {
            self->primed[i] = any = TRUE;
            switched[i] |= HAS_PRIMED;
          }
      }
  return any;
}

void
nappe_state_settle (NappeState *self, NappeBalance *balance, const NappeNetwork *network, const NappeBalanceCase *situation)
{
  guint8 *switched = nappe_balance_scratch (balance)->switched;

  memset (switched, 0, network->n_links * sizeof *switched);
  self->iterations = 0;
  for (guint i = 0; i < network->n_links && !situation->drains_prime; i++)
    self->primed[i] = self->primed[i] && network->links[i].inlet.role == NAPPE_DRAIN_SIPHON;
  for (;;)
    {
      self->rest = solve (self, balance, network, situation) ? NAPPE_REST_FOUND : NAPPE_REST_NOT_FOUND;
      if (self->rest == NAPPE_REST_NOT_FOUND)
        break;
      if (break_drains (self, network, switched))
        continue;
      if (primes_again (self, network, switched))
        {
          self->rest = NAPPE_REST_CYCLES;
          break;
        }
      if (!situation->drains_prime || !prime_lowest (self, network, switched))
        break;
    }
  nappe_state_measure (self, network);
}

/* Solves with the pipes' water held, measures it, and again, until both fit. */
static void
take_turns (NappeState *self, NappeBalance *balance, const NappeNetwork *network, const NappeBalanceCase *situation)
{
  NappeBalanceCase turn = *situation;

  for (guint count = 0; count < MOST_TURNS; count++)
    {
      turn.pipes = self->pipes;
      nappe_state_settle (self, balance, network, &turn);
      double miss = self->vessels + self->pipes - turn.total_volume;
      if (self->rest == NAPPE_REST_NOT_FOUND || fabs (miss) < TURN_TOLERANCE * turn.total_volume)
        return;
    }
  self->rest = NAPPE_REST_NOT_FOUND;
}

void
nappe_state_settle_total (NappeState *self, NappeBalance *balance, const NappeNetwork *network,
                          const NappeBalanceCase *situation)
{
  const NappeBalanceScratch *start = nappe_balance_scratch (balance);

  memcpy (start->level, self->level, network->n_nodes * sizeof *self->level);
  memcpy (start->flow, self->flow, network->n_links * sizeof *self->flow);
  memcpy (start->primed, self->primed, network->n_links * sizeof *self->primed);
  nappe_state_settle (self, balance, network, situation);
  if (self->rest != NAPPE_REST_NOT_FOUND)
    return;
  memcpy (self->level, start->level, network->n_nodes * sizeof *self->level);
  memcpy (self->flow, start->flow, network->n_links * sizeof *self->flow);
  memcpy (self->primed, start->primed, network->n_links * sizeof *self->primed);
  nappe_state_measure (self, network);
  take_turns (self, balance, network, situation);
}

/* The vessel that stands highest over its rim, or G_MAXUINT. */
static guint
overtopped (const NappeState *self, const NappeNetwork *network)
{
  double most = 0;
  guint worst = G_MAXUINT;

  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];
      double over = self->level[i] - node->rim;

      if (node->kind != NAPPE_NODE_FLOOR && node->kind != NAPPE_NODE_JUNCTION && over > most)
        {
          most = over;
          worst = i;
        }
    }
  return worst;
}

/* All water given: the level in the return chamber follows. More than fits goes to the floor: one vessel then brims. Another
 * that overtops with it leaves still less water, so each brims at most once. */
static void
run_with_total (NappeState *self, NappeBalance *balance, const NappeNetwork *network)
{
  gboolean *held = nappe_balance_scratch (balance)->held;
  NappeBalanceCase situation = { held, network->return_chamber, network->total_volume, NAN, TRUE, TRUE };

  self->spilled = 0;
  nappe_state_settle_total (self, balance, network, &situation);
  situation.total_node = G_MAXUINT;
  guint brimming = overtopped (self, network);
  for (guint count = 0; count < network->n_nodes && brimming != G_MAXUINT && self->rest != NAPPE_REST_NOT_FOUND; count++)
    {
      memset (held, 0, network->n_nodes * sizeof *held);
      held[brimming] = TRUE;
      self->level[brimming] = network->nodes[brimming].rim;
      nappe_state_settle (self, balance, network, &situation);
      self->spilled = fmax (0, network->total_volume - self->vessels - self->pipes);
      brimming = overtopped (self, network);
    }
}

/* From the levels and flows of the state on. */
static void
run_from_here (NappeState *self, NappeBalance *balance, const NappeNetwork *network)
{
  gboolean *held = nappe_balance_scratch (balance)->held;
  NappeBalanceCase situation = { held, G_MAXUINT, 0, 0, FALSE, TRUE };

  memset (held, 0, network->n_nodes * sizeof *held);
  if (!isnan (network->total_volume))
    {
      run_with_total (self, balance, network);
      return;
    }
  held[network->return_chamber] = TRUE;
  nappe_state_settle (self, balance, network, &situation);
}

void
nappe_study_run (NappeState *self, NappeBalance *balance, const NappeNetwork *network)
{
  if (!network->runnable)
    return;
  nappe_state_guess (self, network);
  run_from_here (self, balance, network);
}

void
nappe_study_run_warm (NappeState *self, NappeBalance *balance, const NappeNetwork *network)
{
  gboolean usable = self->rest == NAPPE_REST_FOUND;

  if (!network->runnable)
    return;
  for (guint i = 0; i < network->n_nodes; i++)
    usable = usable && isfinite (self->level[i]);
  if (usable)
    {
      nappe_state_expect_primed (self, network);
      if (isnan (network->total_volume))
        self->level[network->return_chamber] = network->kept_level;
      run_from_here (self, balance, network);
    }
  if (!usable || self->rest == NAPPE_REST_NOT_FOUND)
    nappe_study_run (self, balance, network);
}

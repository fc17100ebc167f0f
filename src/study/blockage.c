/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drains, a weir or another way down blocked while the pump runs. */
#include "study/changed.h"
#include "study/state.h"

#include <math.h>

static gboolean
is_blocked (const NappeBlockage *self, const NappeNetwork *network, guint link)
{
  gboolean named = self->all_drains && network->links[link].kind == NAPPE_LINK_DRAIN;

  for (guint b = 0; b < self->n_blocked; b++)
    named |= self->blocked[b] == link;
  return named;
}

/* Whether all that is blocked was dry anyhow, beside drains that are open, and no water runs over a rim. */
static gboolean
changes_nothing (const NappeBlockage *self, const NappeNetwork *network, const NappeState *running)
{
  gboolean drain_left = FALSE;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      gboolean blocked = is_blocked (self, network, i);

      if ((blocked || link->kind == NAPPE_LINK_RIM) && running->flow[i] > NAPPE_BALANCE_TOLERANCE)
        return FALSE;
      drain_left |= link->kind == NAPPE_LINK_DRAIN && !blocked && !link->shut;
    }
  return drain_left;
}

static void
block (const NappeBlockage *self, NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    {
      if (!is_blocked (self, network, i))
        continue;
      if (network->links[i].kind == NAPPE_LINK_DRAIN)
        nappe_network_block (network, i, self->open_share);
      else if (network->links[i].kind == NAPPE_LINK_WEIR)
        nappe_network_block_weir (network, i, self->open_share);
      else if (network->links[i].kind == NAPPE_LINK_JOINT)
        nappe_network_block_joint (network, i, self->open_share);
      else if (network->links[i].kind == NAPPE_LINK_SOCK)
        network->links[i].sock.load = 1 - self->open_share;
    }
}

void
nappe_study_blockage_run_on (NappeBlockage *self, NappeBalance *balance, NappeNetwork *scratch, const NappeNetwork *network,
                             const NappeState *running)
{
  nappe_network_restore (scratch, network);
  if (!changes_nothing (self, network, running))
    {
      block (self, scratch);
      nappe_changed_settle (self, balance, scratch, network, running);
      return;
    }
  nappe_state_copy (&self->state, running, network);
  self->floods = self->runs_down = FALSE;
  self->display_rise = self->top_off_added = 0;
  self->freeboard = fmax (0, network->nodes[network->display].rim - running->level[network->display]);
  self->time_to_rim = INFINITY;
}

void
nappe_study_blockage_run (NappeBlockage *self, NappeBalance *balance, const NappeNetwork *network, const NappeState *running)
{
  g_autoptr (NappeNetwork) scratch = nappe_network_copy (network);

  nappe_study_blockage_run_on (self, balance, scratch, network, running);
}

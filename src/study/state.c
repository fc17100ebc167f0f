/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/state.h"

#include <math.h>
#include <string.h>

void
nappe_state_init (NappeState *self, const NappeNetwork *network)
{
  *self = (NappeState){ .rest = NAPPE_REST_NOT_RUNNABLE };
  self->level = g_new0 (double, MAX (network->n_nodes, 1));
  self->flow = g_new0 (double, MAX (network->n_links, 1));
  self->primed = g_new0 (gboolean, MAX (network->n_links, 1));
}

void
nappe_state_copy (NappeState *self, const NappeState *from, const NappeNetwork *network)
{
  NappeState into = *from;

  into.level = memcpy (self->level, from->level, network->n_nodes * sizeof *from->level);
  into.flow = memcpy (self->flow, from->flow, network->n_links * sizeof *from->flow);
  into.primed = memcpy (self->primed, from->primed, network->n_links * sizeof *from->primed);
  *self = into;
}

void
nappe_state_clear (NappeState *self)
{
  g_clear_pointer (&self->level, g_free);
  g_clear_pointer (&self->flow, g_free);
  g_clear_pointer (&self->primed, g_free);
}

double
nappe_state_held (const NappeState *self, const NappeNetwork *network, guint index)
{
  const NappeLink *link = &network->links[index];
  gint drain = link->kind == NAPPE_LINK_DRAIN ? (gint) index : link->drain;

  return nappe_link_held (network, link, self->flow[index], self->level[link->to], drain >= 0 && self->primed[drain]);
}

void
nappe_state_measure (NappeState *self, const NappeNetwork *network)
{
  self->vessels = nappe_network_volume (network, self->level);
  self->pipes = self->pump_flow = self->display_flow = 0;
  self->draws_air = FALSE;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      self->pipes += nappe_state_held (self, network, i);
      if (link->kind == NAPPE_LINK_PUMP)
        {
          self->pump_flow += self->flow[i];
          self->draws_air |= link->speed > 0 && self->level[link->from] < link->pump_inlet + NAPPE_AIR_DEPTH;
        }
      if (link->kind == NAPPE_LINK_PIPE && link->to == network->display)
        self->display_flow += self->flow[i];
    }
}

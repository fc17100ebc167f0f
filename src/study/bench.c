/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/bench.h"

#include <math.h>
#include <string.h>

/* Steps of false position; halving alone would take as many to come from a metre to a millionth of a millimetre. */
#define MOST_STEPS 60
/* An unprimed pipe counts as backed up when its inlet lets in this share of what it carries full; as in running.c. */
#define BACKED_UP 0.999
/* Newton steps on a law whose power lies between 0.5 and 1.5, in logarithms; it takes four. */
#define MOST_INLET_STEPS 30
#define INLET_TOLERANCE 1e-12

void
nappe_bench_init (NappeBench *self, const NappeStudy *study, NappeBalance *balance)
{
  guint n_nodes = study->network->n_nodes, n_links = MAX (study->network->n_links, 1);

  *self = (NappeBench){ .balance = balance, .running = &study->running, .original = study->network };
  self->network = nappe_network_copy (study->network);
  self->held = g_new (gboolean, n_nodes);
  self->level = g_new (double, n_nodes);
  self->mode = g_new0 (NappeLinkMode, n_links);
  self->flow = g_new0 (double, n_links);
}

void
nappe_bench_clear (NappeBench *self)
{
  g_clear_pointer (&self->network, nappe_network_free);
  g_clear_pointer (&self->held, g_free);
  g_clear_pointer (&self->level, g_free);
  g_clear_pointer (&self->mode, g_free);
  g_clear_pointer (&self->flow, g_free);
}

void
nappe_bench_take (NappeBench *self, guint box)
{
  const NappeNetwork *network = self->network;

  self->box = box;
  memcpy (self->level, self->running->level, network->n_nodes * sizeof *self->level);
  memcpy (self->flow, self->running->flow, network->n_links * sizeof *self->flow);
  for (guint i = 0; i < network->n_nodes; i++)
    self->held[i] = TRUE;
  /* Links are compiled in the direction of the flow, so one pass finds all junctions below the box. */
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      gboolean below = link->kind == NAPPE_LINK_DRAIN ? link->from == box
                                                      : link->kind == NAPPE_LINK_PIPE && !self->held[link->from];

      if (below && network->nodes[link->to].kind == NAPPE_NODE_JUNCTION)
        self->held[link->to] = FALSE;
      self->mode[i] = (NappeLinkMode){ self->running->primed[i], self->running->flow[i] };
    }
}

static gboolean
is_drain_of_box (const NappeBench *self, guint link)
{
  return self->network->links[link].kind == NAPPE_LINK_DRAIN && self->network->links[link].from == self->box;
}

void
nappe_bench_prime_only (NappeBench *self, guint link)
{
  for (guint i = 0; i < self->network->n_links; i++)
    if (is_drain_of_box (self, i))
      self->mode[i].primed = i == link;
}

double
nappe_bench_carried (NappeBench *self, double level)
{
  NappeBalanceCase situation = { self->held, G_MAXUINT, 0, 0, TRUE };
  const NappeNetwork *network = self->network;
  double sum = 0;

  self->level[self->box] = level;
  if (!nappe_balance_solve (self->balance, network, &situation, self->mode, self->level, NULL).settled)
    return NAN;
  for (guint i = 0; i < network->n_links; i++)
    {
      NappeLinkFlow result;

      if (!is_drain_of_box (self, i))
        continue;
      nappe_link_law (network, &network->links[i], &self->mode[i], level, self->level[network->links[i].to], &result);
      self->flow[i] = result.flow;
      sum += result.flow;
    }
  return sum;
}

double
nappe_bench_urge (const NappeBench *self, guint index)
{
  const NappeLink *link = &self->network->links[index];
  double level = self->level[self->box];
  double inlet = nappe_drain_inlet_flow (link, level, NULL);
  double full = nappe_drain_full_flow (self->network, link, level, self->level[link->to], self->mode[index].guess, NULL);

  if (inlet <= 0 || full <= 0)
    return 0;
  return fmax (nappe_full_bore_froude (fmin (inlet, full), link->inlet.bore) / NAPPE_FROUDE_PRIME,
               inlet / (BACKED_UP * full));
}

double
nappe_bench_zero (NappeBench *self, NappeBenchRise rise, gpointer data, double low, double at_low, double high, double at_high,
                  double x_tolerance, double value_tolerance)
{
  int side = 0;

  for (guint step = 0; step < MOST_STEPS && high - low > x_tolerance; step++)
    {
      double x = (low * at_high - high * at_low) / (at_high - at_low);

      if (!(x > low && x < high))
        x = 0.5 * (low + high);
      double value = rise (self, x, data);
      if (isnan (value) || fabs (value) <= value_tolerance)
        return isnan (value) ? NAN : x;
      /* The end that stays twice counts half, so that both ends close in. */
      if (value < 0)
        {
          low = x;
          at_low = value;
          at_high = side < 0 ? 0.5 * at_high : at_high;
          side = -1;
        }
      else
        {
          high = x;
          at_high = value;
          at_low = side > 0 ? 0.5 * at_low : at_low;
          side = 1;
        }
    }
  return high;
}

double
nappe_bench_inlet_level (const NappeLink *drain, double flow)
{
  double head = drain->inlet.bore;

  for (guint step = 0; step < MOST_INLET_STEPS; step++)
    {
      double slope, now = nappe_drain_inlet_flow (drain, drain->inlet.crest + head, &slope);
      double miss = log (flow / now);

      if (!(now > 0))
        return INFINITY; /* blocked */
      head *= exp (miss * now / (slope * head));
      if (fabs (miss) < INLET_TOLERANCE)
        break;
    }
  return drain->inlet.crest + head;
}

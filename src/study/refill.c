/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/refill.h"

#include "physics/drop-inlet.h"
#include "study/bench.h"

#include <math.h>

/* Slices of the water over the weir. */
#define SLICES 64
/* Halvings that find a level to less than a nanometre. */
#define HALVINGS 40

typedef struct
{
  const NappeNetwork *network;
  const NappeState *running;
  guint drain;     /* link */
  guint box;       /* node */
  double lowest;   /* edge over which the display feeds the box, z [m] */
} Refill;

/* What goes over the display's weirs with nothing standing behind them [m3/s]; into_box: over the box's alone. */
static double
weir_flow (const Refill *self, double level, gboolean into_box)
{
  const NappeNetwork *network = self->network;
  double sum = 0;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      NappeLinkMode mode = { FALSE, 0 };
      NappeLinkFlow result = { 0, 0, 0 };

      if (link->kind != NAPPE_LINK_WEIR || link->from != network->display || (into_box && link->to != self->box))
        continue;
      nappe_link_law (network, link, &mode, level, network->nodes[link->to].floor, &result);
      sum += result.flow;
    }
  return sum;
}

/* The share of a section's running flow that it would pass at the heads that it runs at, were it narrowed since. */
static double
passing_share (const Refill *self, guint index)
{
  const NappeLink *link = &self->network->links[index];
  NappeLinkMode mode = { self->running->primed[index], self->running->flow[index] };
  NappeLinkFlow result = { 0, 0, 0 };

  nappe_link_law (self->network, link, &mode, self->running->level[link->from], self->running->level[link->to],
                  &result);
  return CLAMP (result.flow / self->running->flow[index], 0, 1);
}

/* What the siphon carries at the least until it breaks: losses rise faster than the flow does, so that with all flows in
 * proportion to the head of the worse end, with the box at the break level and the surfaces at their rims, each end has
 * head to spare. */
static double
least_full_flow (const Refill *self)
{
  const NappeNetwork *network = self->network;
  double box = self->running->level[self->box], share = 1;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      const NappeNode *end = &network->nodes[link->to];

      if ((i != self->drain && link->drain != (gint) self->drain) || self->running->flow[i] <= 0)
        continue;
      share = fmin (share, passing_share (self, i));
      if (end->kind == NAPPE_NODE_JUNCTION)
        continue;
      double now = box - fmax (link->sill, self->running->level[link->to]);
      double then = network->links[self->drain].inlet.brink - fmax (link->sill, end->rim);
      share = fmin (share, now > 0 ? fmax (0, then) / now : 0);
    }
  return share * fmax (0, self->running->flow[self->drain]);
}

/* The highest level of the display, up to one, from which no more comes into the box than a flow. */
static double
passing_level (const Refill *self, double high, double flow)
{
  double low = self->lowest;

  if (weir_flow (self, high, TRUE) <= flow)
    return high;
  for (guint step = 0; step < HALVINGS; step++)
    {
      double middle = 0.5 * (low + high);

      if (weir_flow (self, middle, TRUE) > flow)
        high = middle;
      else
        low = middle;
    }
  return low;
}

/* What comes into the box after the siphon has broken, at the least [m3]. start: level of the display from which on it is
 * certain that it primes no more. above: in the box over its break level [m3]. */
static double
left_at_break (const Refill *self, double start, double above, double full)
{
  const NappeNode *display = &self->network->nodes[self->network->display];
  double slice = (start - self->lowest) / SLICES, time = 0, come = 0, left = 0;
  gboolean broken = FALSE;

  for (guint i = 0; i < SLICES; i++)
    {
      double high = start - i * slice, all = weir_flow (self, high - 0.5 * slice, FALSE);
      double volume = nappe_node_volume (display, high) - nappe_node_volume (display, high - slice);

      if (!(all > 0))
        break;
      double into = volume * weir_flow (self, high - 0.5 * slice, TRUE) / all;
      if (broken)
        {
          left += into;
          continue;
        }
      time += volume / all;
      come += into;
      broken = full * time >= above + come;
    }
  return left;
}

static gboolean
find_edge (Refill *self)
{
  self->lowest = INFINITY;
  for (guint i = 0; i < self->network->n_links; i++)
    {
      const NappeLink *link = &self->network->links[i];

      if (link->kind == NAPPE_LINK_WEIR && link->to == self->box && link->from == self->network->display)
        self->lowest = fmin (self->lowest, link->sill);
    }
  return isfinite (self->lowest);
}

double
nappe_refill_level (const NappeNetwork *network, const NappeState *running, guint drain, double backflow)
{
  const NappeLink *link = &network->links[drain];
  const NappeNode *box = &network->nodes[link->from];
  Refill self = { network, running, drain, link->from, INFINITY };
  double brink = fmax (link->inlet.brink, box->floor), crest = fmax (link->inlet.crest, box->floor);

  if (brink >= crest || !find_edge (&self))
    return fmin (brink, crest);
  double full = least_full_flow (&self), highest = fmin (running->level[network->display], backflow);
  /* It may prime again while the weir passes what closes its pipe: that counts as if it broke for the first time after that. */
  double closes = fmin (full, nappe_froude_flow (NAPPE_FROUDE_PRIME, link->inlet.bore));
  double start = passing_level (&self, highest, closes);
  if (!(start > self.lowest) || full <= 0)
    return brink;
  double stands = fmax (running->level[self.box], nappe_bench_inlet_level (link, weir_flow (&self, start, TRUE)));
  double lifted = NAPPE_SPIN_TIME * running->display_flow;
  double above = nappe_node_volume (box, stands) - nappe_node_volume (box, brink) + lifted;
  double left = left_at_break (&self, start, above, full);
  return fmin (crest, nappe_node_level (box, nappe_node_volume (box, brink) + left));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a drain primes by itself, and at which level of its box.
 *
 * An unprimed drain's urge to prime (bench.h) rises with the level: in both the inlet's flow and its share of what the
 * pipe carries full, the head over the inlet weighs more than the head over the exit. So there is one level where it
 * reaches 1, and the greatest urge while the box fills is that at the end of the filling. There the drains, all still
 * unprimed, carry what runs into the box; or the box brims. Both levels follow from the inlets alone as long as no
 * pipe backs up, and are sought with the pipes only where one does. What lies below the drains stands as it does while
 * running, though after a power cut the sump stands higher at first: that holds the drains back and brings priming
 * nearer. A margin, never a promise: published Froude numbers that sweep air away go from 0.6 to 1.5. */
#include "study/drain-parts.h"

#include <math.h>

/* Levels are found to this [m], flows and urges to this share. */
#define LEVEL_TOLERANCE 1e-7
#define SHARE_TOLERANCE 1e-6

static double
urge_at_level (NappeBench *self, double level, gpointer data)
{
  const guint *link = data;

  /* Without a tee behind it the drain alone tells. */
  if (self->held[self->network->links[*link].to])
    self->level[self->box] = level;
  else if (isnan (nappe_bench_carried (self, level)))
    return NAN;
  return nappe_bench_urge (self, *link) - 1;
}

static double
carried_over_inflow (NappeBench *self, double level, gpointer data)
{
  const double *inflow = data;

  return nappe_bench_carried (self, level) / *inflow - 1;
}

/* What all inlets of the box let in, were no pipe to back up, over what runs into the box, less one. */
static double
let_in_over_inflow (NappeBench *self, double level, gpointer data)
{
  const double *inflow = data;
  double sum = 0;

  for (guint i = 0; i < self->network->n_links; i++)
    {
      const NappeLink *link = &self->network->links[i];

      if (link->kind == NAPPE_LINK_DRAIN && link->from == self->box && !link->shut)
        sum += nappe_drain_inlet_flow (link, level, NULL);
    }
  return sum / *inflow - 1;
}

/* The highest level that the box can come to: its own rim, or the display's when that is lower, since it fills from there. */
static double
highest_level (const NappeBench *self)
{
  const NappeNetwork *network = self->network;

  return fmin (network->nodes[self->box].rim, network->nodes[network->display].rim);
}

/* Level at which the unprimed drains of the box carry what runs into it; the highest level when they do not. */
static double
filled_level (NappeBench *self, double inflow, double top)
{
  double low = self->network->nodes[self->box].floor, at_low = -1, at_top = let_in_over_inflow (self, top, &inflow);

  if (!(at_top > 0) || !(low < top))
    return top;
  low = nappe_bench_zero (self, let_in_over_inflow, &inflow, low, -1, top, at_top, LEVEL_TOLERANCE, SHARE_TOLERANCE);
  at_low = carried_over_inflow (self, low, &inflow);
  if (!(at_low < -2 * SHARE_TOLERANCE))
    return low;
  at_top = carried_over_inflow (self, top, &inflow);
  if (!(at_top > 0))
    return top;
  return nappe_bench_zero (self, carried_over_inflow, &inflow, low, at_low, top, at_top, LEVEL_TOLERANCE, SHARE_TOLERANCE);
}

/* Level at which the drain primes: where its inlet lets in what sweeps the air away, or below that where its pipe
 * backs up. NaN: not below the highest level. */
static double
prime_level (NappeBench *self, guint index, double top)
{
  const NappeLink *link = &self->network->links[index];
  double crest = link->inlet.crest;
  double sweeps = nappe_bench_inlet_level (link, nappe_froude_flow (NAPPE_FROUDE_PRIME, link->inlet.bore));
  double high = fmin (sweeps, top);

  if (!(crest < high))
    return NAN;
  double at_high = urge_at_level (self, high, &index);
  if (fabs (at_high) <= SHARE_TOLERANCE)
    return high;
  return at_high > 0 ? nappe_bench_zero (self, urge_at_level, &index, crest, -1, high, at_high, LEVEL_TOLERANCE, SHARE_TOLERANCE)
                     : NAN;
}

double
nappe_box_inflow (const NappeNetwork *network, const NappeState *state, guint box)
{
  double sum = 0;

  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].to == box)
      sum += fmax (0, state->flow[i]);
  return sum;
}

void
nappe_drain_prime (NappeBench *bench, NappeDrainReport *report)
{
  const NappeLink *link = &bench->network->links[report->link];
  double top = highest_level (bench);
  guint index = report->link;

  report->prime_level = report->prime_margin = NAN;
  if (link->inlet.vented || link->shut || link->open_share <= 0)
    return;
  nappe_bench_prime_only (bench, G_MAXUINT);
  report->prime_level = prime_level (bench, index, top);
  double inflow = nappe_box_inflow (bench->network, bench->running, bench->box);
  if (report->role != NAPPE_DRAIN_SIPHON || inflow <= 0)
    return;
  report->prime_margin = urge_at_level (bench, filled_level (bench, inflow, top), &index) + 1;
}

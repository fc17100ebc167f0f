/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a drain primes by itself, and at which level of its box.
 *
 * An unprimed drain's urge to prime (bench.h) rises with the level: in both the inlet's flow and its share of what the
 * pipe carries full, the head over the inlet weighs more than the head over the exit. So the level where it reaches 1 is
 * found by false position, and the greatest urge while the box fills is that at the end of the filling. There the
 * drains, all still unprimed, carry what runs into the box; or the box brims. What lies below the drains stands as it
 * does while running, though after a power cut the sump stands higher at first: that holds the drains back and
 * brings priming nearer. A margin, never a promise: published Froude numbers that sweep air away go from 0.6 to 1.5. */
#include "study/drain-parts.h"

#include <math.h>

/* Levels are found to this [m], flows and urges to this share. */
#define LEVEL_TOLERANCE 1e-7
#define SHARE_TOLERANCE 1e-6

static double
urge_at_level (NappeBench *self, double level, gpointer data)
{
  const guint *link = data;
  double carried = nappe_bench_carried (self, level);

  return isnan (carried) ? NAN : nappe_bench_urge (self, *link) - 1;
}

static double
flow_at_level (NappeBench *self, double level, gpointer data)
{
  const double *flow = data;

  return nappe_bench_carried (self, level) - *flow;
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
  double low = INFINITY, at_top = flow_at_level (self, top, &inflow);

  for (guint i = 0; i < self->network->n_links; i++)
    if (self->network->links[i].kind == NAPPE_LINK_DRAIN && self->network->links[i].from == self->box)
      low = fmin (low, self->network->links[i].inlet.crest);
  if (!(at_top > 0) || !(low < top))
    return top;
  return nappe_bench_zero (self, flow_at_level, &inflow, low, -inflow, top, at_top, LEVEL_TOLERANCE, SHARE_TOLERANCE * inflow);
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
  double crest = link->inlet.crest, top = highest_level (bench);
  guint index = report->link;

  report->prime_level = report->prime_margin = NAN;
  if (link->inlet.vented || link->shut || link->open_share <= 0)
    return;
  nappe_bench_prime_only (bench, G_MAXUINT);
  double at_top = urge_at_level (bench, top, &index);
  if (at_top >= 0 && crest < top)
    report->prime_level = nappe_bench_zero (bench, urge_at_level, &index, crest, -1, top, at_top, LEVEL_TOLERANCE, SHARE_TOLERANCE);
  double inflow = nappe_box_inflow (bench->network, bench->running, bench->box);
  if (report->role != NAPPE_DRAIN_SIPHON || inflow <= 0)
    return;
  report->prime_margin = urge_at_level (bench, filled_level (bench, inflow, top), &index) + 1;
}

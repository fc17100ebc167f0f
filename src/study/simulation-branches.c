/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How an open drain with tees shares what comes down: like full pipes under the column that stands over the junction.
 * The flow into a junction's branches rises with its head; the head for a flow is found by Newton's method between
 * bounds, and within a branch that leads to another tee again. */
#include "study/simulation-private.h"

#include <math.h>

#define MOST_STEPS 60
/* A flow is met to this share of it, or to this [m3/s]. */
#define SHARE_TOLERANCE 1e-10
#define FLOW_TOLERANCE 1e-14
/* More head than any column has [m]. */
#define MUCH_HEAD 20.0

/* The lowest head from which water runs out of a junction. */
static double
lowest_end (const NappeTime *self, const NappeLine *line, guint junction)
{
  double lowest = INFINITY;

  for (guint i = 0; i < line->n_links; i++)
    {
      const NappeLink *link = &self->network->links[line->links[i]];

      if (link->from != junction || !nappe_time_is_open (self, line->links[i]))
        continue;
      lowest = fmin (lowest, self->volume[link->to] == G_MAXUINT ? lowest_end (self, line, link->to)
                                                                 : fmax (self->level[link->to], link->sill));
    }
  return lowest;
}

/* Flow of one section from a head above it. */
static double
section_flow (NappeTime *self, NappeLine *line, guint index, double head, double *slope)
{
  const NappeNetwork *network = self->network;
  const NappeLink *link = &network->links[index];
  const NappeStretch *run = network->stretches + link->first_stretch;
  gboolean ends = self->volume[link->to] != G_MAXUINT;
  double low = ends ? fmax (self->level[link->to], link->sill) : lowest_end (self, line, link->to), high = head, flow = 0;

  *slope = 0;
  if (!(head > low))
    return 0;
  if (ends)
    {
      flow = nappe_run_flow (run, link->n_stretches, head - low, &network->water, self->guess[index].guess, slope);
      self->guess[index].guess = flow;
      return flow;
    }
  /* Between the junctions: what comes down to the next equals what it hands on. */
  double middle = 0.5 * (low + high), down_slope = 0, on_slope = 0;
  for (guint step = 0; step < MOST_STEPS; step++)
    {
      double on = nappe_line_flow_at (self, line, link->to, middle, &on_slope);
      double down = nappe_run_flow (run, link->n_stretches, head - middle, &network->water, self->guess[index].guess, &down_slope);
      double miss = down - on;

      self->guess[index].guess = flow = down;
      if (fabs (miss) <= SHARE_TOLERANCE * down + FLOW_TOLERANCE)
        break;
      if (miss > 0)
        low = middle;
      else
        high = middle;
      double next = middle + miss / (down_slope + on_slope);
      middle = next > low && next < high ? next : 0.5 * (low + high);
    }
  *slope = down_slope + on_slope > 0 ? down_slope * on_slope / (down_slope + on_slope) : 0;
  return flow;
}

double
nappe_line_flow_at (NappeTime *self, NappeLine *line, guint junction, double head, double *slope)
{
  double sum = 0;

  *slope = 0;
  for (guint i = 0; i < line->n_links; i++)
    {
      guint index = line->links[i];
      double one;

      if (self->network->links[index].from != junction)
        continue;
      self->flow[index] = nappe_time_is_open (self, index) ? section_flow (self, line, index, head, &one) : (one = 0);
      sum += self->flow[index];
      *slope += one;
    }
  return sum;
}

double
nappe_line_head_for (NappeTime *self, NappeLine *line, guint junction, double flow, double start)
{
  double low = lowest_end (self, line, junction), high = low + MUCH_HEAD;
  double head = start > low && start < high ? start : low + 0.1;

  if (!isfinite (low))
    return low;
  for (guint step = 0; step < MOST_STEPS; step++)
    {
      double slope, miss = flow - nappe_line_flow_at (self, line, junction, head, &slope);

      if (fabs (miss) <= SHARE_TOLERANCE * flow + FLOW_TOLERANCE)
        break;
      if (miss > 0)
        low = head;
      else
        high = head;
      double next = head + miss / slope;
      head = next > low && next < high ? next : 0.5 * (low + high);
    }
  return head;
}

double
nappe_line_full_flow (NappeTime *self, NappeLine *line, double level, double *head, double *slope)
{
  const NappeNetwork *network = self->network;
  const NappeLink *drain = &network->links[line->root];
  double low = lowest_end (self, line, drain->to), high = level, flow = 0;

  *slope = 0;
  if (!(high > low))
    return 0;
  *head = *head > low && *head < high ? *head : 0.5 * (low + high);
  for (guint step = 0; step < MOST_STEPS; step++)
    {
      double on_slope, down_slope, on = nappe_line_flow_at (self, line, drain->to, *head, &on_slope);

      flow = nappe_drain_full_flow (network, drain, level, *head, self->guess[line->root].guess, &down_slope);
      *slope = down_slope + on_slope > 0 ? down_slope * on_slope / (down_slope + on_slope) : 0;
      if (fabs (flow - on) <= SHARE_TOLERANCE * flow + FLOW_TOLERANCE)
        break;
      if (flow > on)
        low = *head;
      else
        high = *head;
      double next = *head + (flow - on) / (down_slope + on_slope);
      *head = next > low && next < high ? next : 0.5 * (low + high);
    }
  return flow;
}

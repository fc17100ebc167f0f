/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How an open drain with tees shares what comes down: like full pipes under the column that stands over the junction.
 * The flow into a junction's branches rises with its head; the head for a flow is found by Newton's method on the flows of
 * the branches, or where that finds no way by one between bounds of the head, and within a branch that leads to another
 * tee again. */
#include "study/simulation-private.h"

#include <math.h>

#define MOST_STEPS 60
/* A flow is met to this share of it, or to this [m3/s]. */
#define SHARE_TOLERANCE 1e-10
#define FLOW_TOLERANCE 1e-14
/* Branches of one tee, and steps, within which their flows are looked for all at once. */
#define MOST_BRANCHES 4
#define QUICK_STEPS 12
/* More head than any column has [m]. */
#define MUCH_HEAD 20.0

double
nappe_line_lowest_end (const NappeTime *self, const NappeLine *line, guint junction)
{
  double lowest = INFINITY;

  for (guint i = 0; i < line->n_links; i++)
    {
      const NappeLink *link = &self->network->links[line->links[i]];

      if (link->from != junction || !nappe_time_is_open (self, line->links[i]))
        continue;
      lowest = fmin (lowest, self->volume[link->to] == G_MAXUINT ? nappe_line_lowest_end (self, line, link->to)
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
  double low = ends ? fmax (self->level[link->to], link->sill) : nappe_line_lowest_end (self, line, link->to),
         high = head, flow = 0;

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
      double down = nappe_run_flow (run, link->n_stretches, head - middle, &network->water, self->guess[index].guess,
                                    &down_slope);
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

typedef struct
{
  guint index;         /* link */
  double low, base, by_head; /* flow at no head of the straight law [m3/s], and its slope [m2/s] */
} Branch;

/* The branches of a junction that stand under its head, each with its loss drawn straight at the flow of its guess; those
 * over it carry nothing. Returns how many there are, 0 where this is no way to find their flows. */
static guint
straighten_branches (NappeTime *self, const NappeLine *line, guint junction, double head, Branch *branches)
{
  const NappeNetwork *network = self->network;
  guint n = 0;

  for (guint i = 0; i < line->n_links; i++)
    {
      guint index = line->links[i];
      const NappeLink *link = &network->links[index];
      double low = self->level[link->to], flow = self->guess[index].guess, slope;

      if (link->from != junction || !nappe_time_is_open (self, index))
        continue;
      if (self->volume[link->to] == G_MAXUINT || n == MOST_BRANCHES || !(flow > 0))
        return 0;
      low = fmax (low, link->sill);
      self->flow[index] = 0;
      if (head <= low)
        continue;
      double lost = nappe_run_head (network->stretches + link->first_stretch, link->n_stretches, flow, &network->water, &slope);
      branches[n++] = (Branch){ index, low, flow - (low + lost) / slope, 1 / slope };
    }
  return n;
}

/* Flows of a junction's branches that add up to a flow, by Newton's method on all of them at once: near to the last ones it
 * takes two or three losses of each, where to find them by way of the head takes ten. FALSE: not found so. */
static gboolean
share_quickly (NappeTime *self, const NappeLine *line, guint junction, double flow, double *head)
{
  Branch branches[MOST_BRANCHES];
  double last = *head;

  for (guint step = 0; step < QUICK_STEPS; step++)
    {
      double base = 0, by_head = 0, change = 0, lowest = INFINITY;
      guint n = straighten_branches (self, line, junction, last, branches);

      for (guint b = 0; b < n; b++)
        {
          base += branches[b].base;
          by_head += branches[b].by_head;
        }
      last = (flow - base) / by_head;
      for (guint b = 0; b < n; b++)
        {
          double *guess = &self->guess[branches[b].index].guess, next = branches[b].base + branches[b].by_head * last;

          if (!(next > 0) || !isfinite (next))
            return FALSE;
          change = fmax (change, fabs (next - *guess));
          lowest = fmin (lowest, last - branches[b].low);
          *guess = self->flow[branches[b].index] = next;
        }
      if (n == 0 || !(lowest > 0))
        return FALSE;
      if (change <= SHARE_TOLERANCE * flow + FLOW_TOLERANCE)
        {
          *head = last;
          return TRUE;
        }
    }
  return FALSE;
}

double
nappe_line_head_for (NappeTime *self, NappeLine *line, guint junction, double flow, double start)
{
  double low = nappe_line_lowest_end (self, line, junction), high = low + MUCH_HEAD;
  double head = start > low && start < high ? start : low + 0.1;

  if (!isfinite (low))
    return low;
  if (share_quickly (self, line, junction, flow, &head))
    return head;
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
  double low = nappe_line_lowest_end (self, line, drain->to), high = level, flow = 0;

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

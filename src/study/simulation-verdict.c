/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a simulation ended: whether as it began, at rest, or in a cycle. */
#include "study/simulation-private.h"

#include <math.h>

/* Levels this near to where they were count as returned [m]. */
#define RETURNED 0.002
/* A level that moves no faster is at rest: 0.1 mm a minute [m/s]. */
#define AT_REST (1e-4 / 60)
/* Primings of one drain that make a cycle; its period is the mean of so many turns at most. */
#define CYCLE_PRIMES 3
#define CYCLE_TURNS 10
/* A cycle that has stopped for so many periods is none any more. */
#define CYCLE_GONE 3
/* Water that counts as a drop [m3]. */
#define DROP 5e-8

static gboolean
is_compared (const NappeTime *self, guint node)
{
  return self->volume[node] != G_MAXUINT && node != self->network->floor && node != self->network->reservoir;
}

static gboolean
has_returned (const NappeTime *self, const double *start, const double *end)
{
  for (guint i = 0; i < self->network->n_nodes; i++)
    if (is_compared (self, i)
        && fabs (nappe_node_level (&self->network->nodes[i], end[self->volume[i]])
                 - nappe_node_level (&self->network->nodes[i], start[self->volume[i]])) > RETURNED)
      return FALSE;
  for (guint i = 0; i < self->n_lines; i++)
    if (self->lines[i].drain && (self->lines[i].mode == NAPPE_LINE_FULL) != self->result->primed[self->lines[i].root])
      return FALSE;
  return TRUE;
}

static gboolean
is_at_rest (NappeTime *self, const double *end, double t)
{
  g_autofree double *rate = g_new0 (double, self->n_states);

  nappe_time_evaluate (self, t, end, rate);
  for (guint i = 0; i < self->network->n_nodes; i++)
    {
      const NappeNode *node = &self->network->nodes[i];

      if (is_compared (self, i)
          && fabs (rate[self->volume[i]]) > AT_REST * (self->level[i] < node->step ? node->area_low : node->area))
        return FALSE;
    }
  return TRUE;
}

/* Swing of a box's level between two times. */
static double
swing_between (const NappeSimulation *self, guint node, double from, double to)
{
  double low = INFINITY, high = -INFINITY;

  for (guint f = 0; f < self->n_frames; f++)
    if (self->time[f] >= from && self->time[f] <= to)
      {
        low = fmin (low, self->level[f * self->network->n_nodes + node]);
        high = fmax (high, self->level[f * self->network->n_nodes + node]);
      }
  return high - low;
}

static void
find_cycle (NappeTime *self, guint drain, double t)
{
  NappeSimulation *result = self->result;
  double last = NAN, first = NAN, before = NAN;
  guint turns = 0;

  for (guint e = result->n_events; e-- > 0 && turns <= CYCLE_TURNS;)
    {
      const NappeEvent *event = &result->events[e];

      if (event->kind != NAPPE_EVENT_PRIMES || event->index != drain)
        continue;
      if (turns == 0)
        last = event->time;
      else if (turns == 1)
        before = event->time;
      first = event->time;
      turns++;
    }
  if (turns < CYCLE_PRIMES)
    return;
  double period = (last - first) / (turns - 1);
  if (result->n_events < NAPPE_SIMULATION_EVENTS_MAX && t - last > CYCLE_GONE * period)
    return;
  result->cycles = TRUE;
  result->period = period;
  result->swing = swing_between (result, self->network->links[drain].from, before, last);
}

void
nappe_time_judge (NappeTime *self, const double *start, const double *end, double t)
{
  NappeSimulation *result = self->result;
  double before = 0, after = 0;

  for (guint i = 0; i < self->n_states; i++)
    {
      gboolean water = i != self->topped;

      for (guint l = 0; l < self->n_lines && water; l++)
        water = i < self->lines[l].first_flow || i >= self->lines[l].first_flow + self->lines[l].most_flows;
      before += water ? start[i] : 0;
      after += water ? end[i] : 0;
    }
  result->balance_error = (after - before) / fmax (before, 1e-9);
  result->spilled = end[self->volume[self->network->floor]];
  result->added = end[self->topped];
  result->evaporated = end[self->air];
  /* Of a leak that water has risen to later. */
  for (guint f = 0; f < result->n_frames && result->time[f] < result->first_drop && self->leaks->len > 0; f++)
    if (result->on_floor[f] > DROP)
      result->first_drop = result->time[f];
  result->period = result->swing = NAN;
  for (guint i = 0; i < self->n_lines && !result->cycles; i++)
    if (self->lines[i].drain)
      find_cycle (self, self->lines[i].root, t);
  result->settles = !result->cycles && is_at_rest (self, end, t);
  result->returns = has_returned (self, start, end);
}

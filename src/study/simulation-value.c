/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A simulation as a value: sharing it, and asking it about a time. */
#include "study/simulation.h"

#include <math.h>
#include <string.h>

NappeSimulation *
nappe_simulation_ref (NappeSimulation *self)
{
  g_atomic_ref_count_inc (&self->references);
  return self;
}

void
nappe_simulation_unref (NappeSimulation *self)
{
  if (self == NULL || !g_atomic_ref_count_dec (&self->references))
    return;
  g_clear_pointer (&self->plan, nappe_plan_free);
  g_clear_pointer (&self->network, nappe_network_free);
  g_free (self->time);
  g_free (self->level);
  g_free (self->flow);
  g_free (self->on_floor);
  g_free (self->primed);
  g_free (self->events);
  g_free (self->peak);
  g_free (self->peak_time);
  g_free (self->lowest);
  g_free (self->lowest_time);
  g_free (self);
}

/* The frame before a time, and how far it is on the way to the next. */
static guint
frame_before (const NappeSimulation *self, double time, double *way)
{
  guint low = 0, high = self->n_frames - 1;

  *way = 0;
  if (!(time > self->time[0]))
    return 0;
  if (time >= self->time[high])
    return high;
  while (high - low > 1)
    {
      guint middle = low + (high - low) / 2;

      if (self->time[middle] <= time)
        low = middle;
      else
        high = middle;
    }
  *way = (time - self->time[low]) / (self->time[high] - self->time[low]);
  return low;
}

/* Of values by frame, `width` of them a frame. */
static double
value_at (const NappeSimulation *self, const double *values, gsize width, gsize index, double time)
{
  double way;

  if (self->n_frames == 0)
    return NAN;
  gsize frame = frame_before (self, time, &way);
  double value = values[frame * width + index];
  return way > 0 ? value + way * (values[(frame + 1) * width + index] - value) : value;
}

double
nappe_simulation_level (const NappeSimulation *self, guint node, double time)
{
  g_return_val_if_fail (node < self->network->n_nodes, NAN);
  return value_at (self, self->level, self->network->n_nodes, node, time);
}

double
nappe_simulation_flow (const NappeSimulation *self, guint link, double time)
{
  g_return_val_if_fail (link < self->network->n_links, NAN);
  return value_at (self, self->flow, self->network->n_links, link, time);
}

double
nappe_simulation_on_floor (const NappeSimulation *self, double time)
{
  return value_at (self, self->on_floor, 1, 0, time);
}

void
nappe_simulation_state (const NappeSimulation *self, double time, NappeState *state)
{
  const NappeNetwork *network = self->network;

  for (guint i = 0; i < network->n_nodes; i++)
    state->level[i] = nappe_simulation_level (self, i, time);
  for (guint i = 0; i < network->n_links; i++)
    {
      state->flow[i] = nappe_simulation_flow (self, i, time);
      state->primed[i] = self->primed[i];
    }
  for (guint e = 0; e < self->n_events && self->events[e].time <= time; e++)
    if (self->events[e].kind == NAPPE_EVENT_PRIMES || self->events[e].kind == NAPPE_EVENT_BREAKS)
      state->primed[self->events[e].index] = self->events[e].kind == NAPPE_EVENT_PRIMES;
  state->rest = NAPPE_REST_FOUND;
  state->spilled = nappe_simulation_on_floor (self, time);
  state->pump_flow = state->display_flow = 0;
  state->draws_air = FALSE;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_PUMP)
        state->pump_flow += state->flow[i];
      else if (link->kind == NAPPE_LINK_PIPE && link->to == network->display)
        state->display_flow += state->flow[i];
    }
  for (guint e = 0; e < self->n_events && self->events[e].time <= time; e++)
    if (self->events[e].kind == NAPPE_EVENT_PUMP_AIR || self->events[e].kind == NAPPE_EVENT_PUMP_COVERED)
      state->draws_air = self->events[e].kind == NAPPE_EVENT_PUMP_AIR;
  state->vessels = state->pipes = NAN;
}

const char *
nappe_event_nick (NappeEventKind kind)
{
  static const char *const nicks[] = {
    [NAPPE_EVENT_HAPPENING] = "happening",
    [NAPPE_EVENT_PRIMES] = "primes",
    [NAPPE_EVENT_BREAKS] = "breaks",
    [NAPPE_EVENT_INLET_WET] = "inlet-wet",
    [NAPPE_EVENT_INLET_DRY] = "inlet-dry",
    [NAPPE_EVENT_AIR_IN_RETURN] = "air-in-return",
    [NAPPE_EVENT_RETURN_FULL] = "return-full",
    [NAPPE_EVENT_PUMP_AIR] = "pump-air",
    [NAPPE_EVENT_PUMP_COVERED] = "pump-covered",
    [NAPPE_EVENT_OVER_RIM] = "over-rim",
    [NAPPE_EVENT_FLOAT_CALLS] = "float-calls",
    [NAPPE_EVENT_FLOAT_RESTS] = "float-rests",
    [NAPPE_EVENT_RESERVOIR_EMPTY] = "reservoir-empty",
    [NAPPE_EVENT_WEIR_DRY] = "weir-dry",
    [NAPPE_EVENT_WEIR_WET] = "weir-wet",
  };

  return (guint) kind < G_N_ELEMENTS (nicks) ? nicks[kind] : NULL;
}

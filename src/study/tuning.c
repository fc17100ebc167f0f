/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tuning window of a valved siphon: how far the flow into its box may drift before the level in the box
 * leaves the band that the siphon needs. The level is asked for each bound, the drains answer with the flow that they
 * carry there; everything below the drains stays as it is (a full solution differs by less than half a point). */
#include "study/drain-parts.h"

#include "physics/drop-inlet.h"

#include <math.h>
#include <string.h>

/* Of the box's flow: what an open channel should carry when the siphon is tuned, at most; and of its quiet flow. */
#define TRICKLE_SHARE 0.05
#define TRICKLE_OF_QUIET 0.5
/* An opening is found to this share of its travel, or until the siphon misses its flow by this share: beyond what a
   valve's table knows. */
#define OPENING_TOLERANCE 1e-4
#define FLOW_TOLERANCE 1e-4
/* Step of the valve for its sensitivity, share of travel. */
#define VALVE_STEP 0.001
/* Step of the level for it [m]. */
#define LEVEL_STEP 1e-4
/* Degrees of a ball valve's handle from shut to open. */
#define BALL_DEGREES 90.0

static double
drift (NappeBench *self, double level, double flow)
{
  return nappe_bench_carried (self, level) / flow - 1;
}

/* The lowest inlet of a role in the box, of equal ones the first by id; or NULL. */
static const NappeLink *
lowest_inlet (const NappeBench *self, int role)
{
  const NappeLink *lowest = NULL;

  for (guint i = 0; i < self->network->n_links; i++)
    {
      const NappeLink *link = &self->network->links[i];

      if (link->kind == NAPPE_LINK_DRAIN && link->from == self->box && link->inlet.role == role && !link->shut
          && (lowest == NULL || link->inlet.crest < lowest->inlet.crest
              || (link->inlet.crest == lowest->inlet.crest && strcmp (link->id, lowest->id) < 0)))
        lowest = link;
    }
  return lowest;
}

static void
find_window (NappeBench *self, NappeDrainReport *report, double flow)
{
  const NappeLink *siphon = &self->network->links[report->link];
  const NappeLink *channel = lowest_inlet (self, NAPPE_DRAIN_OPEN_CHANNEL);
  const NappeLink *emergency = lowest_inlet (self, NAPPE_DRAIN_EMERGENCY);
  NappeTuningWindow *window = &report->window;

  window->known = TRUE;
  window->breaks = drift (self, siphon->inlet.brink, flow);
  if (channel != NULL)
    {
      g_strlcpy (window->channel, channel->id, sizeof window->channel);
      window->channel_dry = drift (self, channel->inlet.crest, flow);
      window->channel_loud
          = drift (self, nappe_bench_inlet_level (channel, nappe_froude_flow (NAPPE_FROUDE_QUIET, channel->inlet.bore)), flow);
    }
  if (emergency != NULL)
    {
      g_strlcpy (window->emergency, emergency->id, sizeof window->emergency);
      window->emergency_wet = drift (self, emergency->inlet.crest, flow);
    }
  window->down = isnan (window->channel_dry) ? window->breaks : fmax (window->breaks, window->channel_dry);
  window->up = fmin (isnan (window->channel_loud) ? INFINITY : window->channel_loud,
                     isnan (window->emergency_wet) ? INFINITY : window->emergency_wet);
  if (!isfinite (window->up))
    window->up = drift (self, self->network->nodes[self->box].rim, flow);
}

/* The level that the siphon should be tuned to: a trickle over the open channel, or else the middle of the band
 * between its break and the next inlet, or the weir, above. */
static double
tuned_level (const NappeBench *self, const NappeDrainReport *report, double flow)
{
  const NappeLink *siphon = &self->network->links[report->link];
  const NappeLink *channel = lowest_inlet (self, NAPPE_DRAIN_OPEN_CHANNEL);
  const NappeLink *emergency = lowest_inlet (self, NAPPE_DRAIN_EMERGENCY);
  double top = self->network->nodes[self->box].rim;

  if (channel != NULL && channel->inlet.crest > siphon->inlet.brink)
    {
      double usual = fmin (TRICKLE_SHARE * flow,
                           TRICKLE_OF_QUIET * nappe_froude_flow (NAPPE_FROUDE_QUIET, channel->inlet.bore));

      return nappe_bench_inlet_level (channel, self->network->trickle > 0 ? self->network->trickle : usual);
    }
  for (guint i = 0; i < self->network->n_links; i++)
    if (self->network->links[i].kind == NAPPE_LINK_WEIR && self->network->links[i].to == self->box)
      top = fmin (top, self->network->links[i].sill);
  if (emergency != NULL)
    top = fmin (top, emergency->inlet.crest);
  return 0.5 * (siphon->inlet.brink + top);
}

typedef struct
{
  guint valve;  /* link */
  double level; /* of the box, z [m] */
  double flow;  /* wanted of all its drains [m3/s] */
} Aim;

static double
miss_at_opening (NappeBench *self, double opening, gpointer data)
{
  const Aim *aim = data;

  nappe_network_set_opening (self->network, aim->valve, opening);
  return nappe_bench_carried (self, aim->level) - aim->flow;
}

/* The valve's opening at which the siphon carries what the others leave at the tuned level. NaN: not even fully open. */
static void
find_opening (NappeBench *self, NappeDrainReport *report, guint valve, double flow)
{
  Aim aim = { valve, tuned_level (self, report, flow), flow };
  double low = 0, high = 1;
  double now = miss_at_opening (self, report->opening, &aim), at_low = now - self->flow[report->link];

  nappe_network_set_opening (self->network, valve, 1);
  nappe_bench_carried (self, self->running->level[self->box]);
  report->flow_valve_open = self->flow[report->link];
  double at_high = now < 0 ? miss_at_opening (self, 1, &aim) : now;
  /* The others carry all, or even the open valve lets too little through. */
  if (!(at_low < 0) || !(at_high >= 0))
    return;
  /* Where it stands is mostly near where it should. */
  if (now < 0)
    {
      low = report->opening;
      at_low = now;
    }
  else
    high = report->opening;
  report->opening_wanted
      = nappe_bench_zero (self, miss_at_opening, &aim, low, at_low, high, at_high, OPENING_TOLERANCE, FLOW_TOLERANCE * flow);
}

/* How far the box's level moves for one part in a hundred of the valve's travel, and for what a hand turns: a turn of
 * the stem, or a degree of a ball's handle. */
static void
find_sensitivity (NappeBench *self, NappeDrainReport *report, guint valve, double flow)
{
  const NappeLinkValve *known = &self->network->links[valve].valve;
  double level = self->running->level[self->box];
  double slope = (nappe_bench_carried (self, level + LEVEL_STEP) - nappe_bench_carried (self, level - LEVEL_STEP))
                 / (2 * LEVEL_STEP);

  nappe_network_set_opening (self->network, valve, report->opening - VALVE_STEP);
  double less = nappe_bench_carried (self, level);
  if (!(slope > 0))
    return;
  double rise_of_travel = (flow - less) / slope / VALVE_STEP;
  report->window.rise_per_percent = rise_of_travel * 0.01;
  if (g_str_equal (known->kind, "ball"))
    report->rise_per_turn = rise_of_travel / BALL_DEGREES;
  else if (known->turns > 0)
    report->rise_per_turn = rise_of_travel / known->turns;
}

void
nappe_drain_tune (NappeBench *bench, NappeDrainReport *report)
{
  gint valve = nappe_network_valve_link (bench->network, report->link);
  NappeRest rest = bench->running->rest;
  double flow = 0;

  for (guint i = 0; i < bench->network->n_links; i++)
    if (bench->network->links[i].kind == NAPPE_LINK_DRAIN && bench->network->links[i].from == bench->box)
      flow += bench->running->flow[i];
  if (flow <= 0 || rest == NAPPE_REST_NOT_FOUND)
    return;
  if (rest == NAPPE_REST_FOUND && bench->running->primed[report->link])
    {
      find_window (bench, report, flow);
      if (valve >= 0 && report->opening > VALVE_STEP)
        find_sensitivity (bench, report, (guint) valve, flow);
    }
  if (valve < 0)
    return;
  /* A siphon that could not hold is asked what it would carry if it were tuned. */
  bench->mode[report->link].primed = TRUE;
  find_opening (bench, report, (guint) valve, flow);
  nappe_network_set_opening (bench->network, (guint) valve, report->opening);
}

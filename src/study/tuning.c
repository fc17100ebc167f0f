/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tuning window of a valved siphon: how far the flow into its box may drift before the level in the box
 * leaves the band that the siphon needs. The level is asked for each bound, the drains answer with the flow that they
 * carry there; everything below the drains stays as it is (a full solution differs by less than half a point). */
#include "study/state.h"

#include "physics/drop-inlet.h"

#include <math.h>

/* Of the box's flow: what an open channel should carry when the siphon is tuned, at most; and of its quiet flow. */
#define TRICKLE_SHARE 0.05
#define TRICKLE_OF_QUIET 0.5
/* Halvings that find an opening to a thousandth of its travel, beyond what a valve's table knows. */
#define OPENING_HALVINGS 10
/* Step of the valve for its sensitivity, share of travel. */
#define VALVE_STEP 0.001

typedef struct
{
  NappeBalance *balance;
  NappeNetwork *network; /* a copy that may be changed */
  gboolean *held;
  NappeLinkMode *mode;
  NappeState state;      /* the running state, with the level in the box and the heads below it moved */
  guint box;
  gint valve;            /* link with the siphon's valve, or -1 */
} Bench;

/* Everything stays as it is but the heads in the pipes below the box. */
static void
bench_init (Bench *self, NappeStudy *study, NappeBalance *balance, guint drain)
{
  guint box = study->network->links[drain].from;

  *self = (Bench){ balance, nappe_network_copy (study->network), NULL, NULL, { 0 }, box,
                   nappe_network_valve_link (study->network, drain) };
  self->held = g_new (gboolean, self->network->n_nodes);
  for (guint i = 0; i < self->network->n_nodes; i++)
    self->held[i] = TRUE;
  /* Links are compiled in the direction of the flow, so one pass finds all junctions. */
  for (guint i = 0; i < self->network->n_links; i++)
    {
      const NappeLink *link = &self->network->links[i];
      gboolean below = link->kind == NAPPE_LINK_DRAIN ? link->from == box : link->kind == NAPPE_LINK_PIPE && !self->held[link->from];

      if (below && self->network->nodes[link->to].kind == NAPPE_NODE_JUNCTION)
        self->held[link->to] = FALSE;
    }
  nappe_state_init (&self->state, self->network);
  nappe_state_copy (&self->state, &study->running, self->network);
  self->mode = g_new0 (NappeLinkMode, MAX (self->network->n_links, 1));
  for (guint i = 0; i < self->network->n_links; i++)
    self->mode[i] = (NappeLinkMode){ study->running.primed[i], study->running.flow[i] };
}

static void
bench_clear (Bench *self)
{
  nappe_network_free (self->network);
  g_free (self->held);
  g_free (self->mode);
  nappe_state_clear (&self->state);
}

/* Flow of every link with the box at a level and the vessels below as they run; G_MAXUINT: all drains of the box, else one. */
static double
carried (Bench *self, double level, guint only)
{
  NappeBalanceCase situation = { self->held, G_MAXUINT, 0, 0, TRUE };
  const NappeNetwork *network = self->network;
  double sum = 0;

  self->state.level[self->box] = level;
  if (!nappe_balance_solve (self->balance, network, &situation, self->mode, self->state.level, NULL).settled)
    return NAN;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      NappeLinkFlow result;

      if (link->kind != NAPPE_LINK_DRAIN || link->from != self->box || (only != G_MAXUINT && only != i))
        continue;
      nappe_link_law (network, link, &self->mode[i], level, self->state.level[link->to], &result);
      sum += result.flow;
    }
  return sum;
}

static double
drift (Bench *self, double level, double flow)
{
  return carried (self, level, G_MAXUINT) / flow - 1;
}

/* Level at which a drain's inlet passes a flow, by halving: the inlet's law only rises. */
static double
inlet_level (const NappeLink *link, double flow)
{
  double low = link->inlet.crest, high = low + 1;

  for (guint i = 0; i < 60; i++)
    {
      double middle = 0.5 * (low + high);

      if (nappe_drain_inlet_flow (link, middle, NULL) < flow)
        low = middle;
      else
        high = middle;
    }
  return high;
}

/* The lowest inlet of a role in the box, or NULL. */
static const NappeLink *
lowest_inlet (const Bench *self, int role)
{
  const NappeLink *lowest = NULL;

  for (guint i = 0; i < self->network->n_links; i++)
    {
      const NappeLink *link = &self->network->links[i];

      if (link->kind == NAPPE_LINK_DRAIN && link->from == self->box && link->inlet.role == role && !link->shut
          && (lowest == NULL || link->inlet.crest < lowest->inlet.crest))
        lowest = link;
    }
  return lowest;
}

static void
find_window (Bench *self, NappeDrainReport *report, double flow)
{
  const NappeLink *siphon = &self->network->links[report->link];
  const NappeLink *channel = lowest_inlet (self, NAPPE_DRAIN_OPEN_CHANNEL);
  const NappeLink *emergency = lowest_inlet (self, NAPPE_DRAIN_EMERGENCY);
  NappeTuningWindow *window = &report->window;

  window->known = TRUE;
  window->breaks = drift (self, siphon->inlet.brink, flow);
  if (channel != NULL)
    {
      window->channel_dry = drift (self, channel->inlet.crest, flow);
      window->channel_loud
          = drift (self, inlet_level (channel, nappe_froude_flow (NAPPE_FROUDE_QUIET, channel->inlet.bore)), flow);
    }
  if (emergency != NULL)
    window->emergency_wet = drift (self, emergency->inlet.crest, flow);
  window->down = isnan (window->channel_dry) ? window->breaks : fmax (window->breaks, window->channel_dry);
  window->up = fmin (isnan (window->channel_loud) ? INFINITY : window->channel_loud,
                     isnan (window->emergency_wet) ? INFINITY : window->emergency_wet);
  if (!isfinite (window->up))
    window->up = drift (self, self->network->nodes[self->box].rim, flow);
}

/* The level that the siphon should be tuned to: a trickle over the open channel, or else the middle of the band
 * between its break and the next inlet, or the weir, above. */
static double
tuned_level (const Bench *self, const NappeDrainReport *report, double flow)
{
  const NappeLink *siphon = &self->network->links[report->link];
  const NappeLink *channel = lowest_inlet (self, NAPPE_DRAIN_OPEN_CHANNEL);
  const NappeLink *emergency = lowest_inlet (self, NAPPE_DRAIN_EMERGENCY);
  double top = self->network->nodes[self->box].rim;

  if (channel != NULL && channel->inlet.crest > siphon->inlet.brink)
    {
      double quiet = nappe_froude_flow (NAPPE_FROUDE_QUIET, channel->inlet.bore);

      return inlet_level (channel, fmin (TRICKLE_SHARE * flow, TRICKLE_OF_QUIET * quiet));
    }
  for (guint i = 0; i < self->network->n_links; i++)
    if (self->network->links[i].kind == NAPPE_LINK_WEIR && self->network->links[i].to == self->box)
      top = fmin (top, self->network->links[i].sill);
  if (emergency != NULL)
    top = fmin (top, emergency->inlet.crest);
  return 0.5 * (siphon->inlet.brink + top);
}

/* The valve's opening at which the siphon carries what the others leave at the tuned level. Its flow rises with the
 * opening, so halving finds it. NaN: not even fully open. */
static void
find_opening (Bench *self, NappeDrainReport *report, double flow, double running_level)
{
  double level = tuned_level (self, report, flow), low = 0, high = 1;
  double others = carried (self, level, G_MAXUINT) - carried (self, level, report->link);
  double wanted = flow - others;

  nappe_network_set_opening (self->network, (guint) self->valve, 1);
  report->flow_valve_open = carried (self, running_level, report->link);
  if (!(wanted > 0) || !(carried (self, level, report->link) >= wanted))
    return;
  for (guint i = 0; i < OPENING_HALVINGS; i++)
    {
      double middle = 0.5 * (low + high);

      nappe_network_set_opening (self->network, (guint) self->valve, middle);
      if (carried (self, level, report->link) < wanted)
        low = middle;
      else
        high = middle;
    }
  report->opening_wanted = high;
}

/* How far the box's level moves for one part in a hundred of the valve's travel. */
static void
find_sensitivity (Bench *self, NappeDrainReport *report, double level)
{
  double rise = 1e-4;
  double slope = (carried (self, level + rise, G_MAXUINT) - carried (self, level - rise, G_MAXUINT)) / (2 * rise);
  double now = carried (self, level, report->link);

  nappe_network_set_opening (self->network, (guint) self->valve, report->opening - VALVE_STEP);
  double less = carried (self, level, report->link);
  nappe_network_set_opening (self->network, (guint) self->valve, report->opening);
  if (slope > 0)
    report->window.rise_per_percent = (now - less) / slope * (0.01 / VALVE_STEP);
}

void
nappe_study_tune (NappeStudy *self, NappeBalance *balance, NappeDrainReport *report)
{
  const NappeLink *link = &self->network->links[report->link];
  double flow = 0;
  Bench bench;

  for (guint i = 0; i < self->network->n_links; i++)
    if (self->network->links[i].kind == NAPPE_LINK_DRAIN && self->network->links[i].from == link->from)
      flow += self->running.flow[i];
  if (flow <= 0 || self->running.rest == NAPPE_REST_NOT_FOUND)
    return;
  bench_init (&bench, self, balance, report->link);
  double level = self->running.level[link->from];
  if (self->running.rest == NAPPE_REST_FOUND && self->running.primed[report->link])
    {
      find_window (&bench, report, flow);
      if (bench.valve >= 0 && report->opening > VALVE_STEP)
        find_sensitivity (&bench, report, level);
    }
  if (bench.valve >= 0)
    {
      /* A siphon that could not hold is asked what it would carry if it were tuned. */
      bench.mode[report->link].primed = TRUE;
      find_opening (&bench, report, flow, level);
    }
  bench_clear (&bench);
}

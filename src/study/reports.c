/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What people ask of each drain, pump and weir, read off the running state. */
#include "study/drain-parts.h"
#include "study/state.h"

#include "physics/drop-inlet.h"
#include "physics/submergence.h"
#include "study/pools.h"

#include <math.h>

/* The weir law's spread at heads below its tested range (water over an aquarium's crest). */
#define WEIR_SPREAD 0.2
/* Depth over the inlet below which a pump counts as drawing air [m]. */
#define AIR_DEPTH 0.010

NappeDrainState
nappe_drain_state (const NappeNetwork *network, const NappeState *state, guint index)
{
  const NappeLink *link = &network->links[index];
  double flow = state->flow[index];

  if (flow <= 0)
    return NAPPE_DRAIN_DRY;
  if (state->primed[index])
    return NAPPE_DRAIN_FULL;
  if (nappe_drain_inlet_flow (link, state->level[link->from], NULL) > flow * (1 + 1e-9))
    return NAPPE_DRAIN_FULL; /* the pipe, not the inlet, is what limits it */
  double froude = nappe_full_bore_froude (flow, link->inlet.bore);
  if (froude < NAPPE_FROUDE_QUIET)
    return NAPPE_DRAIN_QUIET;
  return froude < NAPPE_FROUDE_PRIME ? NAPPE_DRAIN_ENTRAINING : NAPPE_DRAIN_SWEEPING;
}

NappeInletControl
nappe_drain_control (const NappeNetwork *network, const NappeState *state, guint index)
{
  const NappeLink *link = &network->links[index];
  NappeDropInlet inlet = { link->inlet.bore, link->inlet.rim_diameter };
  NappeDrainState pipe = nappe_drain_state (network, state, index);

  if (pipe == NAPPE_DRAIN_DRY)
    return NAPPE_INLET_DRY;
  if (pipe == NAPPE_DRAIN_FULL)
    return NAPPE_INLET_FULL;
  return nappe_drop_inlet_control (&inlet, state->level[link->from] - link->inlet.crest, INFINITY);
}

/* The surface or the end that a drain's water comes out at: of the branch that leads lowest. */
static double
exit_submergence (const NappeStudy *self, const NappeLink *drain)
{
  double deepest = -INFINITY;

  for (guint i = 0; i < self->network->n_links; i++)
    {
      const NappeLink *link = &self->network->links[i];
      gboolean pipe = link->kind == NAPPE_LINK_DRAIN || link->kind == NAPPE_LINK_PIPE;

      if (pipe && *link->outlet != '\0' && g_str_equal (link->line, drain->line))
        deepest = fmax (deepest, self->running.level[link->to] - link->sill);
    }
  return isfinite (deepest) ? deepest : NAN;
}

static void
report_drain (NappeStudy *self, NappeBench *bench, NappeDrainReport *report)
{
  const NappeNetwork *network = self->network;
  const NappeLink *link = &network->links[report->link];
  double level = self->running.level[link->from], rim = network->nodes[network->display].rim;
  double bore = link->inlet.bore;
  NappeTuningWindow *window = &report->window;

  g_strlcpy (report->id, link->id, sizeof report->id);
  report->role = link->inlet.role;
  report->flow = self->running.flow[report->link];
  report->velocity = report->flow / (0.25 * G_PI * bore * bore);
  report->froude = nappe_full_bore_froude (report->flow, bore);
  report->head_over_inlet = level - link->inlet.crest;
  report->quiet_flow = nappe_froude_flow (NAPPE_FROUDE_QUIET, bore);
  report->capacity_full = nappe_drain_full_flow (network, link, rim, self->running.level[link->to], report->flow, NULL);
  report->capacity_inlet = fmin (nappe_drain_inlet_flow (link, rim, NULL), report->capacity_full);
  double safe = link->inlet.role == NAPPE_DRAIN_SIPHON ? report->capacity_full : report->capacity_inlet;
  report->reserve = fmax (0, safe - report->flow);
  report->exit_submergence = exit_submergence (self, link);
  gint valve = nappe_network_valve_link (network, report->link);
  report->opening = NAN;
  if (valve >= 0)
    {
      report->opening = network->links[valve].valve.opening;
      g_strlcpy (report->valve, network->links[valve].valve.piece, sizeof report->valve);
      g_strlcpy (report->valve_kind, network->links[valve].valve.kind, sizeof report->valve_kind);
    }
  report->opening_wanted = report->flow_valve_open = report->rise_per_turn = NAN;
  window->breaks = window->channel_dry = window->channel_loud = window->emergency_wet = NAN;
  window->down = window->up = window->rise_per_percent = NAN;
  report->state = nappe_drain_state (network, &self->running, report->link);
  report->control = nappe_drain_control (network, &self->running, report->link);
  nappe_bench_take (bench, link->from);
  if (link->inlet.role == NAPPE_DRAIN_SIPHON)
    nappe_drain_tune (bench, report);
  nappe_drain_prime (bench, report);
  nappe_drain_cycle (bench, report);
}

/* The pipes that lead on from a pump, also those of a line that its own joins: by link. */
static gboolean *
pipes_behind (const NappeNetwork *network, const NappeLink *pump)
{
  gboolean *behind = g_new0 (gboolean, network->n_links);
  g_autofree gboolean *reached = g_new0 (gboolean, network->n_nodes);
  gboolean grows = TRUE;

  reached[pump->to] = TRUE;
  while (grows)
    {
      grows = FALSE;
      for (guint i = 0; i < network->n_links; i++)
        {
          const NappeLink *pipe = &network->links[i];

          if (behind[i] || pipe->kind != NAPPE_LINK_PIPE || !reached[pipe->from])
            continue;
          behind[i] = grows = TRUE;
          reached[pipe->to] = reached[pipe->to] || network->nodes[pipe->to].kind == NAPPE_NODE_JUNCTION;
        }
    }
  return behind;
}

static void
report_pump (NappeStudy *self, NappePumpReport *report)
{
  const NappeNetwork *network = self->network;
  const NappeLink *link = &network->links[report->link];
  g_autofree gboolean *behind = pipes_behind (network, link);
  double suction = self->running.level[link->from], up = -INFINITY, highest = link->highest;

  g_strlcpy (report->id, link->id, sizeof report->id);
  g_strlcpy (report->line, link->line, sizeof report->line);
  report->flow = self->running.flow[report->link];
  report->head = self->running.level[link->to] - suction;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *pipe = &network->links[i];

      if (!behind[i])
        continue;
      if (*pipe->outlet != '\0' && network->nodes[pipe->to].kind != NAPPE_NODE_JUNCTION)
        up = fmax (up, fmax (pipe->sill, self->running.level[pipe->to]));
      highest = fmax (highest, pipe->highest);
    }
  report->static_head = isfinite (up) ? up - suction : NAN;
  report->lift_head = highest - suction;
  report->submergence = suction - link->pump_inlet;
  report->submergence_wanted
      = isnan (link->inlet_bore) ? NAN : nappe_submergence_hi (link->inlet_bore, report->flow / link->count);
  if (link->speed > 0)
    {
      report->shut_off_head = nappe_pump_head (&link->curve, 0, link->speed, link->head_left, NULL);
      report->end_flow = link->count * link->speed * link->curve.flow[link->curve.n - 1];
    }
}

static void
report_weir (NappeStudy *self, NappeWeirReport *report)
{
  const NappeLink *link = &self->network->links[report->link];

  g_strlcpy (report->id, link->id, sizeof report->id);
  report->flow = self->running.flow[report->link];
  report->film = self->running.level[link->from] - link->sill;
  report->fall = link->sill - self->running.level[link->to];
  report->film_low = nappe_weir_head_for_flow (&link->weir, report->flow / (1 + WEIR_SPREAD));
  report->film_high = nappe_weir_head_for_flow (&link->weir, report->flow / (1 - WEIR_SPREAD));
}

/* What the pump can take out of the sump before it draws air. */
static double
liftable (const NappeStudy *self)
{
  const NappeNetwork *network = self->network;
  g_autoptr (NappePools) pools = nappe_pools_new (network, self->running.level);
  gint vessel = nappe_pools_find (pools, &network->nodes[network->return_chamber]);
  double inlet = INFINITY;

  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PUMP && network->links[i].from == network->return_chamber)
      inlet = fmin (inlet, network->links[i].pump_inlet + AIR_DEPTH);
  return vessel >= 0 && isfinite (inlet) ? nappe_pools_drainable (pools, (guint) vessel, inlet) : 0;
}

static void
report_display (NappeStudy *self)
{
  const NappeNetwork *network = self->network;
  const NappeNode *display = &network->nodes[network->display];

  self->display_volume = nappe_node_volume (display, self->running.level[network->display]);
  self->display_turnover = self->display_volume > 0 ? self->running.display_flow / self->display_volume : 0;
  self->pump_liftable = liftable (self);
  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];

      /* A box takes up water only as far as its own rim or the display's, whichever is lower. */
      if (node->kind == NAPPE_NODE_DISPLAY || node->kind == NAPPE_NODE_BOX)
        self->display_free += fmax (0, nappe_node_volume (node, fmin (node->rim, display->rim))
                                           - nappe_node_volume (node, self->running.level[i]));
    }
}

void
nappe_study_report (NappeStudy *self, NappeBalance *balance)
{
  const NappeNetwork *network = self->network;
  guint drain = 0, pump = 0, weir = 0;
  NappeBench bench;

  nappe_bench_init (&bench, self, balance);
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      self->n_drains += link->kind == NAPPE_LINK_DRAIN;
      self->n_pumps += link->kind == NAPPE_LINK_PUMP;
      self->n_weirs += link->kind == NAPPE_LINK_WEIR && link->from == network->display;
    }
  self->drains = g_new0 (NappeDrainReport, self->n_drains);
  self->pumps = g_new0 (NappePumpReport, self->n_pumps);
  self->weirs = g_new0 (NappeWeirReport, self->n_weirs);
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_DRAIN)
        {
          self->drains[drain].link = i;
          report_drain (self, &bench, &self->drains[drain++]);
        }
      else if (link->kind == NAPPE_LINK_PUMP)
        {
          self->pumps[pump].link = i;
          report_pump (self, &self->pumps[pump++]);
        }
      else if (link->kind == NAPPE_LINK_WEIR && link->from == network->display)
        {
          self->weirs[weir].link = i;
          report_weir (self, &self->weirs[weir++]);
        }
    }
  report_display (self);
  nappe_study_report_level_runs (self);
  nappe_study_report_chambers (self, &bench);
  nappe_bench_clear (&bench);
}

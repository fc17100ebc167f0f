/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chambers of the sump as they run: what goes through each, how fast, and which bubbles it stops. */
#include "study/drain-parts.h"
#include "study/state.h"

#include "physics/bubble.h"

#include <math.h>

/* Width of the sump across the flow [m]: that of a baffle beside the chamber; NaN without one. */
static double
width_of (const NappeNetwork *network, guint node)
{
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_WEIR && (link->from == node || link->to == node)
          && network->nodes[link->from].kind == NAPPE_NODE_CHAMBER && network->nodes[link->to].kind == NAPPE_NODE_CHAMBER)
        return link->weir.length;
    }
  return NAN;
}

static double
flow_into (const NappeNetwork *network, const NappeState *state, guint node)
{
  double sum = 0;

  for (guint i = 0; i < network->n_links; i++)
    {
      if (network->links[i].to == node)
        sum += fmax (0, state->flow[i]);
      if (network->links[i].from == node)
        sum += fmax (0, -state->flow[i]);
    }
  return sum;
}

static void
report_chamber (const NappeStudy *self, NappeChamberReport *report)
{
  const NappeNetwork *network = self->network;
  const NappeNode *node = &network->nodes[report->node];

  g_strlcpy (report->id, node->id, sizeof report->id);
  report->role = node->chamber_role;
  report->level = self->running.level[report->node];
  report->depth = fmax (0, report->level - node->floor);
  report->volume = nappe_node_volume (node, report->level);
  report->flow = flow_into (network, &self->running, report->node);
  report->speed_along = report->depth > 0 ? report->flow / (width_of (network, report->node) * report->depth) : NAN;
  report->speed_down = report->flow / (report->level < node->step ? node->area_low : node->area);
  report->residence = report->flow > 0 ? report->volume / report->flow : INFINITY;
  report->turnover = report->volume > 0 ? report->flow / report->volume : 0;
  report->bubble_stopped = nappe_bubble_diameter_for_speed (report->speed_down, &network->water);
  report->level_low = report->level_high = NAN;
}

static NappeChamberReport *
report_of_node (NappeStudy *self, guint node)
{
  for (guint i = 0; i < self->n_chambers; i++)
    if (self->chambers[i].node == node)
      return &self->chambers[i];
  return NULL;
}

/* Level of a vessel while running with a baffle's top at a height; NaN where the system finds no rest. */
static double
level_with_top (NappeBench *bench, NappeState *state, guint baffle, double top, guint node)
{
  const NappeNetwork *network = bench->network;
  NappeLink *link = &bench->network->links[baffle];
  double sill = link->sill, height = link->weir.height;

  nappe_state_copy (state, bench->running, network);
  state->level[node] += top - sill;
  link->sill = top;
  link->weir.height = height + top - sill;
  nappe_study_run_warm (state, bench->balance, network);
  link->sill = sill;
  link->weir.height = height;
  return state->rest == NAPPE_REST_FOUND ? state->level[node] : NAN;
}

/* The chamber upstream of an adjustable baffle is the one whose level it sets. */
static void
report_range (NappeStudy *self, NappeBench *bench, NappeState *state, guint baffle)
{
  const NappeLink *link = &self->network->links[baffle];
  guint upstream = self->running.flow[baffle] < 0 ? link->to : link->from;
  NappeChamberReport *report = report_of_node (self, upstream);

  if (report == NULL)
    return;
  if (isfinite (link->sill_low))
    report->level_low = level_with_top (bench, state, baffle, link->sill_low, upstream);
  if (isfinite (link->sill_high))
    report->level_high = level_with_top (bench, state, baffle, link->sill_high, upstream);
}

void
nappe_study_report_chambers (NappeStudy *self, NappeBench *bench)
{
  const NappeNetwork *network = self->network;
  NappeState state;
  guint n = 0;

  for (guint i = 0; i < network->n_nodes; i++)
    self->n_chambers += network->nodes[i].kind == NAPPE_NODE_CHAMBER;
  self->chambers = g_new0 (NappeChamberReport, self->n_chambers);
  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_CHAMBER)
      {
        self->chambers[n].node = i;
        report_chamber (self, &self->chambers[n++]);
      }
  nappe_state_init (&state, network);
  for (guint i = 0; i < network->n_links; i++)
    if (isfinite (network->links[i].sill_low) || isfinite (network->links[i].sill_high))
      report_range (self, bench, &state, i);
  nappe_state_clear (&state);
}

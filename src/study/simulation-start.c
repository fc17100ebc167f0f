/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a running state to states in time. */
#include "study/simulation-private.h"

#include "physics/drop-inlet.h"

#include <math.h>
#include <string.h>

/* What an error of a step may be: of a vessel's level [m], of water in pipes and on the floor [m3], of a flow as a share of
 * the pumps'. */
#define LEVEL_TOLERANCE 2.5e-6
#define CONTENT_TOLERANCE 1e-6
#define FLOOR_TOLERANCE 1e-7
#define FLOW_TOLERANCE 2e-4
#define LEAST_PUMP_FLOW 1e-5

static void
find_pumps (NappeTime *self)
{
  NappeNetwork *network = self->network;

  self->pumps = g_new0 (NappePumpSpeed, MAX (network->n_links, 1));
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PUMP && network->links[i].curve.n >= 2)
      {
        double speed = network->links[i].speed;

        self->pumps[self->n_pumps++] = (NappePumpSpeed){ i, speed, speed, -INFINITY, speed };
      }
}

static void
number_states (NappeTime *self)
{
  const NappeNetwork *network = self->network;

  self->volume = g_new0 (guint, network->n_nodes);
  for (guint i = 0; i < network->n_nodes; i++)
    self->volume[i] = network->nodes[i].kind == NAPPE_NODE_JUNCTION ? G_MAXUINT : self->n_states++;
  self->air = self->n_states++;
  self->topped = self->n_states++;
  nappe_time_find_lines (self);
}

static void
set_tolerances (NappeTime *self)
{
  const NappeNetwork *network = self->network;

  self->tolerance = g_new (double, self->n_states);
  for (guint i = 0; i < self->n_states; i++)
    self->tolerance[i] = CONTENT_TOLERANCE;
  for (guint i = 0; i < network->n_nodes; i++)
    if (self->volume[i] != G_MAXUINT && i != network->floor)
      self->tolerance[self->volume[i]] = LEVEL_TOLERANCE * fmin (network->nodes[i].area, network->nodes[i].area_low);
  self->tolerance[self->volume[network->floor]] = FLOOR_TOLERANCE;
  self->tolerance[self->air] = self->tolerance[self->topped] = 10 * CONTENT_TOLERANCE;
  for (guint l = 0; l < self->n_lines; l++)
    for (guint k = 0; k < self->lines[l].most_flows; k++)
      self->tolerance[self->lines[l].first_flow + k] = FLOW_TOLERANCE * self->pump_flow;
  for (guint i = 0; i < self->n_states; i++)
    self->tolerance[i] *= self->share;
}

/* An end that passes nothing because it hangs in air has drawn air: its water stands as high as the junction's head. */
static void
start_ends (NappeTime *self, NappeLine *line, const NappeState *running, double *y)
{
  for (guint e = 0; e < line->n_ends; e++)
    {
      NappeLineEndState *end = &line->ends[e];
      const NappeLink *link = &self->network->links[end->link];
      double whole = nappe_column_whole (&end->column), head = running->level[link->from];

      if (running->flow[end->link] != 0 || link->shut || !end->holds || self->volume[link->from] != G_MAXUINT
          || running->level[link->to] > fmax (link->sill, link->siphon_break))
        continue;
      y[line->content] -= whole;
      end->airy = TRUE;
      y[end->content] = NAPPE_TIME_DREGS * whole;
      for (double content = NAPPE_TIME_DREGS; content < 1; content += NAPPE_TIME_DREGS)
        if (nappe_column_level (&end->column, content * whole, NULL) <= head)
          y[end->content] = content * whole;
    }
}

static void
start_return (NappeTime *self, NappeLine *line, const NappeState *running, double *y)
{
  gboolean runs = TRUE;

  for (guint i = 0; i < line->n_links; i++)
    if (self->network->links[line->links[i]].kind == NAPPE_LINK_PUMP)
      runs = FALSE;
  for (guint i = 0; i < line->n_links; i++)
    runs |= running->flow[line->links[i]] != 0;
  nappe_line_find_loops (self, line, y);
  if (runs)
    {
      line->mode = NAPPE_LINE_FULL;
      y[line->content] = nappe_column_whole (&line->column);
      start_ends (self, line, running, y);
      for (guint k = 0; k < line->n_flows; k++)
        y[line->first_flow + k] = running->flow[line->links[line->chord[k]]];
      return;
    }
  double source = self->level[self->network->links[line->root].from];
  line->mode = NAPPE_LINE_OPEN;
  for (guint i = 0; i < line->n_links; i++)
    y[line->content] += nappe_link_content_below (self->network, &self->network->links[line->links[i]], source);
}

static void
start_drain (NappeTime *self, NappeLine *line, const NappeState *running, double *y)
{
  double whole = nappe_column_whole (&line->column), flow = running->flow[line->root];

  nappe_line_find_loops (self, line, y);
  line->mode = running->primed[line->root] ? NAPPE_LINE_FULL : NAPPE_LINE_OPEN;
  if (line->mode == NAPPE_LINE_FULL)
    {
      y[line->content] = whole;
      start_ends (self, line, running, y);
      for (guint k = 0; k < line->n_flows; k++)
        y[line->first_flow + k] = running->flow[line->links[line->chord[k]]];
      return;
    }
  double tail = nappe_line_tail (self, line);
  double wetted = flow > 0 ? fmin (1, nappe_stack_wetted_share (nappe_line_bore_of (self, line), flow)) : 0;
  y[line->content] = tail + wetted * (whole - tail);
  line->junction = running->level[self->network->links[line->root].to];
}

void
nappe_time_start (NappeTime *self, const NappeState *running, double *y)
{
  const NappeNetwork *network = self->network;

  memset (y, 0, self->n_states * sizeof *y);
  for (guint i = 0; i < network->n_nodes; i++)
    if (self->volume[i] != G_MAXUINT && i != network->floor)
      y[self->volume[i]] = nappe_node_volume (&network->nodes[i], fmax (running->level[i], network->nodes[i].floor));
  nappe_time_take_levels (self, y);
  for (guint i = 0; i < network->n_links; i++)
    {
      self->flow[i] = running->flow[i];
      self->guess[i].guess = running->flow[i];
      if (network->links[i].kind == NAPPE_LINK_PUMP)
        self->pump_flow += fabs (running->flow[i]);
    }
  self->pump_flow = fmax (self->pump_flow, LEAST_PUMP_FLOW);
  for (guint i = 0; i < self->n_lines; i++)
    {
      NappeLine *line = &self->lines[i];
      double sum = 0;

      if (line->drain)
        start_drain (self, line, running, y);
      else
        start_return (self, line, running, y);
      for (guint e = 0; e < line->n_ends; e++)
        sum += fmax (0, running->flow[line->ends[e].link]);
      for (guint e = 0; e < line->n_ends; e++)
        line->share[e] = sum > 0 ? fmax (0, running->flow[line->ends[e].link]) / sum : 1.0 / line->n_ends;
    }
  set_tolerances (self);
}

void
nappe_time_init (NappeTime *self, const NappeStudy *study, const NappePlan *plan, double evaporation)
{
  guint n_links = MAX (study->network->n_links, 1);

  self->plan = plan;
  self->network = nappe_network_copy (study->network);
  self->original = study->network;
  self->evaporation = fmax (evaporation, 0);
  self->power = TRUE;
  self->ramps = g_array_new (FALSE, FALSE, sizeof (NappeRamp));
  self->leaks = g_array_new (FALSE, FALSE, sizeof (NappeLeak));
  self->level = g_new0 (double, study->network->n_nodes);
  self->flow = g_new0 (double, n_links);
  self->guess = g_new0 (NappeLinkMode, n_links);
  self->law = g_new0 (NappeLinkFlow, n_links);
  self->head_by_flow = g_new0 (double, n_links);
  self->head_by_level = g_new0 (double, n_links);
  self->shut_at = g_new0 (double, n_links);
  self->check_shut = g_new0 (gboolean, n_links);
  find_pumps (self);
  number_states (self);
  self->seen = g_new0 (double, self->n_states);
  self->seen_at = NAN;
  nappe_time_find_watches (self);
  if (study->network->return_chamber != G_MAXUINT)
    self->float_level = study->running.level[study->network->return_chamber];
}

void
nappe_time_clear (NappeTime *self)
{
  nappe_time_clear_lines (self);
  nappe_network_free (self->network);
  g_array_free (self->ramps, TRUE);
  g_array_free (self->leaks, TRUE);
  g_free (self->level);
  g_free (self->flow);
  g_free (self->guess);
  g_free (self->law);
  g_free (self->head_by_flow);
  g_free (self->head_by_level);
  g_free (self->shut_at);
  g_free (self->check_shut);
  g_free (self->seen);
  g_free (self->pumps);
  g_free (self->volume);
  g_free (self->watches);
  g_free (self->watched);
  g_free (self->tolerance);
}

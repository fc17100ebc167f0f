/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The equations of the time simulation: how fast every state changes.
 *
 * Vessels exchange water by the laws of law.h at their levels. A full line's loops are driven by the heads of the
 * surfaces at both ends, the pumps' heads and the losses: sum of inertia dQ/dt = head. A return line whose water
 * has fallen is a column that stands in it: its pumps, or stopped ones as passages, exchange water with it by their law.
 * A drain with a free surface takes in what its inlet lets in and lets out what a stack with its water in it carries
 * (Wyly and Eaton, drop-inlet.h), so that at rest it holds what law.h says; in a drain that fills, half of what comes
 * in displaces air (common practice; the published ratios of air to water go from 0.2 to 1).
 * Every flow leaves one state and enters another in the same expression. */
#include "study/simulation-private.h"

#include "physics/gravity.h"
#include "physics/orifice.h"
#include "study/state.h"

#include <math.h>
#include <string.h>

/* Resistance of a pipe's end that hangs in air and passes nothing back [s/m2]: a nanolitre a second for a metre. */
#define SHUT 1e12
/* Head of suction that holds the dregs of a line's end back [m]. */
#define SUCTION 10.0
/* Depth within which what is taken from a reservoir, or evaporates, fades [m]. */
#define SHALLOW 0.005
/* Number of spin times after which a pump's speed is where it goes. */
#define SPINS 12.0
/* Rise of a level by which the pump's head is probed [m]. */
#define SMALL_RISE 1e-6
/* Levels nearer to each other exchange water by a straightened law [m]. */
#define STEEP_HEAD 1e-4
/* The same between a chamber and what stands in the line of its pump that stands still: its column is thin, so that it holds
 * millilitres only [m]. */
#define STEEP_COLUMN 2e-2
/* Share of what comes into a filling drain that goes on through it. */
#define SWEPT_SHARE 0.5
/* Time in which rising water fills the end of a drain that it drowns [s]. */
#define TAIL_TIME 0.3
/* Least flow by which a drain's outflow is shared among its ends [m3/s]: with less the lowest end takes all, and two of one
 * height would take turns. */
#define LEAST_SHARED 1e-6

static double
fade (double depth)
{
  double share = depth / SHALLOW;

  return share <= 0 ? 0 : share >= 1 ? 1 : share * share * (3 - 2 * share);
}

double
nappe_time_pump_speed (const NappePumpSpeed *pump, double t, double *standing)
{
  double times = (t - pump->since) / NAPPE_SPIN_TIME, left = times >= SPINS ? 0 : exp (-fmax (times, 0));

  *standing = pump->target > 0 ? 0 : 1 - left;
  return left > 0 ? pump->target + (pump->from - pump->target) * left : pump->target;
}

void
nappe_time_take_speeds (NappeTime *self, double t)
{
  double standing;

  for (guint p = 0; p < self->n_pumps; p++)
    {
      NappeLink *link = &self->network->links[self->pumps[p].link];

      /* One that is worn out gives no head: it is a passage. */
      link->speed = link->head_left > 0 ? nappe_time_pump_speed (&self->pumps[p], t, &standing) : 0;
    }
}

void
nappe_time_take_levels (NappeTime *self, const double *y)
{
  for (guint i = 0; i < self->network->n_nodes; i++)
    if (self->volume[i] != G_MAXUINT && i != self->network->floor)
      self->level[i] = nappe_node_level (&self->network->nodes[i], y[self->volume[i]]);
}

/* rate NULL: only the flows are wanted. */
static void
move (double *rate, guint from, guint to, double flow)
{
  if (rate == NULL)
    return;
  rate[from] -= flow;
  rate[to] += flow;
}

/* The law of a link between two levels that lie nearer to each other than `band`: there its slope has nearly no bound, and
 * Newton's method swings about such a point without end. The law at `band` is drawn straight through zero, with its
 * value and slope kept where it sets in: levels rest where they should, and come there right to less than the band. */
static void
straighten (NappeTime *self, guint index, double from, double to, double band, NappeLinkFlow *result)
{
  const NappeLink *link = &self->network->links[index];
  double middle = 0.5 * (from + to), way = (from - to) / band;

  nappe_link_law (self->network, link, &self->guess[index], middle + 0.5 * band, middle - 0.5 * band, result);
  double chord = result->flow / band, slope = 0.5 * (result->slope_from - result->slope_to);
  double bend = chord > 0 ? 0.5 * (slope / chord - 1) : 0, lift = 0.5 * (result->slope_from + result->slope_to);
  result->flow = chord * (from - to) * (1 - bend + bend * way * way);
  slope = chord * (1 - bend + 3 * bend * way * way);
  result->slope_from = slope + lift * way;
  result->slope_to = -slope + lift * way;
}

static void
exchange (NappeTime *self, guint index, NappeLinkFlow *result)
{
  const NappeLink *link = &self->network->links[index];
  double from = self->level[link->from], to = self->level[link->to];
  gboolean steep = link->kind != NAPPE_LINK_RIM && link->kind != NAPPE_LINK_SOCK && fabs (from - to) < STEEP_HEAD
                   && fmin (from, to) > link->sill + STEEP_HEAD && link->to != self->network->floor;

  if (steep)
    straighten (self, index, from, to, STEEP_HEAD, result);
  else
    nappe_link_law (self->network, link, &self->guess[index], from, to, result);
}

static void
run_plain_links (NappeTime *self, double *rate)
{
  for (guint p = 0; p < self->n_plain; p++)
    {
      guint i = self->plain[p];
      const NappeLink *link = &self->network->links[i];

      exchange (self, i, &self->law[i]);
      self->flow[i] = self->law[i].flow;
      move (rate, self->volume[link->from], self->volume[link->to], self->flow[i]);
    }
}

double
nappe_line_airy_level (const NappeLineEndState *end, double content, double *slope)
{
  double dregs = NAPPE_TIME_DREGS * nappe_column_whole (&end->column), rise;
  double short_of = fmax (0, 1 - content / dregs);
  double level = nappe_column_level (&end->column, content, &rise);

  if (slope != NULL)
    *slope = rise + 2 * SUCTION * short_of / dregs;
  return level - SUCTION * short_of * short_of;
}

const NappeLineEndState *
nappe_line_find_end (const NappeLine *line, guint link)
{
  for (guint e = 0; e < line->n_ends; e++)
    if (line->ends[e].link == link)
      return &line->ends[e];
  return NULL;
}

/* Head at the downstream end of a section into a vessel. */
static double
end_head (const NappeTime *self, const NappeLineEndState *end, const double *y)
{
  const NappeLink *link = &self->network->links[end->link];

  return end->airy ? nappe_line_airy_level (end, y[end->content], NULL) : fmax (self->level[link->to], link->sill);
}

/* Head that a section gives to the loop along its direction: of its surfaces, less its losses, and of its pump. */
static double
section_head (NappeTime *self, const NappeLine *line, guint index, const double *y, double t)
{
  const NappeNetwork *network = self->network;
  const NappeLink *link = &network->links[index];
  double flow = self->flow[index], head = 0, slope, further;

  if (self->volume[link->from] != G_MAXUINT)
    head += self->level[link->from];
  if (link->kind == NAPPE_LINK_PUMP)
    {
      double standing = 0;

      for (guint p = 0; p < self->n_pumps; p++)
        if (self->pumps[p].link == index)
          nappe_time_pump_speed (&self->pumps[p], t, &standing);
      double drive = nappe_pump_drive (link, self->level[link->from], flow, standing, &slope);
      self->head_by_flow[index] = slope;
      self->head_by_level[index]
          = 1 + (nappe_pump_drive (link, self->level[link->from] + SMALL_RISE, flow, standing, &further) - drive) / SMALL_RISE;
      return head + drive;
    }
  self->head_by_flow[index] = 0;
  self->head_by_level[index] = 1;
  const NappeLineEndState *end = nappe_line_find_end (line, index);
  if (end != NULL)
    {
      head -= end_head (self, end, y);
      if (end->airy)
        {
          double rise;

          /* What stands in it would swing for minutes, though it is part air and comes to rest at once. */
          nappe_line_airy_level (end, y[end->content], &rise);
          self->head_by_flow[index] -= sqrt (rise * nappe_time_inertia (self, index));
        }
      if (flow < 0 && !end->holds && self->level[link->to] <= fmax (link->sill, link->siphon_break))
        self->head_by_flow[index] -= SHUT;
    }
  head += self->head_by_flow[index] * flow;
  head -= nappe_run_head (network->stretches + link->first_stretch, link->n_stretches, flow, &network->water, &slope);
  self->head_by_flow[index] -= slope;
  return head;
}

double
nappe_line_head_at (NappeTime *self, NappeLine *line, guint node, guint without, double t, const double *y)
{
  const NappeLineEndState *mouth = nappe_line_find_end (line, without);
  double head = NAN;

  /* Water has to rise to a mouth over the surface before it comes out. */
  if (mouth != NULL && self->network->links[without].to == node)
    return end_head (self, mouth, y);
  if (self->volume[node] != G_MAXUINT)
    return self->level[node];
  for (guint i = 0; i < line->n_links && isnan (head); i++)
    {
      guint index = line->links[i];
      const NappeLink *link = &self->network->links[index];

      if (index == without || !nappe_time_is_open (self, index) || (link->from != node && link->to != node))
        continue;
      /* What section_head counts of the surfaces at a section's ends is a head already. */
      double gain = section_head (self, line, index, y, t);
      if (link->from == node && self->volume[link->to] != G_MAXUINT)
        head = -gain;
      else if (link->to == node && self->volume[link->from] != G_MAXUINT)
        head = gain;
      else if (link->from == node)
        head = nappe_line_head_at (self, line, link->to, index, t, y) - gain;
      else
        head = nappe_line_head_at (self, line, link->from, index, t, y) + gain;
    }
  return head;
}

static void
run_full_line (NappeTime *self, NappeLine *line, double t, const double *y, double *rate)
{
  const NappeNetwork *network = self->network;

  nappe_line_spread_flows (self, line, y);
  memset (line->drive, 0, MAX (line->n_flows, 1) * sizeof *line->drive);
  for (guint i = 0; i < line->n_links; i++)
    {
      guint index = line->links[i];
      const NappeLink *link = &network->links[index];
      double head = 0;
      gboolean wanted = FALSE;

      for (guint k = 0; k < line->n_flows; k++)
        wanted |= line->loop[k * line->n_links + i] != 0;
      if (!wanted)
        continue;
      if (rate != NULL)
        head = section_head (self, line, index, y, t);
      for (guint k = 0; k < line->n_flows; k++)
        line->drive[k] += line->loop[k * line->n_links + i] * head;
      if (rate == NULL)
        continue;
      const NappeLineEndState *end = nappe_line_find_end (line, index);
      if (self->volume[link->from] != G_MAXUINT)
        rate[self->volume[link->from]] -= self->flow[index];
      if (end != NULL)
        rate[end->airy ? end->content : self->volume[link->to]] += self->flow[index];
    }
  for (guint k = 0; k < line->n_flows && rate != NULL; k++)
    for (guint m = 0; m < line->n_flows; m++)
      rate[line->first_flow + k] += line->mass[k * line->n_flows + m] * line->drive[m];
}

/* Whether a check valve keeps a line's column from running back through a pump. */
static gboolean
is_held_back (const NappeTime *self, const NappeLine *line, const NappeLink *pump)
{
  for (guint i = 0; i < line->n_links; i++)
    {
      const NappeLink *link = &self->network->links[line->links[i]];

      if (link->trunk && (link->one_way || link->shut) && g_str_equal (link->line, pump->line))
        return TRUE;
    }
  return FALSE;
}

/* A pump and a column over its chamber. Near the level where nothing flows, water runs back by a law without bound in its
 * slope, through a pump that stands as through one that runs: straightened as `straighten` does it. */
static void
lift (NappeTime *self, guint index, double level, NappeLinkFlow *result)
{
  const NappeLink *link = &self->network->links[index];
  double from = self->level[link->from];
  double still = link->speed > 0 ? nappe_pump_head (&link->curve, 0, link->speed, link->head_left, NULL) : 0;
  double over = level - from - still;

  if (link->speed <= 0 && fabs (over) < STEEP_COLUMN)
    straighten (self, index, from, level, STEEP_COLUMN, result);
  else if (link->speed > 0 && over > 0 && over < STEEP_COLUMN)
    {
      nappe_link_law (self->network, link, &self->guess[index], from, from + still + STEEP_COLUMN, result);
      double chord = result->flow / STEEP_COLUMN, way = over / STEEP_COLUMN, bend = 0.5 * (result->slope_to / chord - 1);
      result->flow = chord * over * (1 - bend + bend * way * way);
      result->slope_to = chord * (1 - bend + 3 * bend * way * way);
      result->slope_from = -result->slope_to;
    }
  else
    nappe_link_law (self->network, link, &self->guess[index], from, level, result);
}

static void
run_column (NappeTime *self, NappeLine *line, const double *y, double *rate)
{
  double whole = nappe_column_whole (&line->column), content = y[line->content];
  double level = nappe_column_level (&line->column, content, NULL), left = content / (NAPPE_TIME_DREGS * whole);

  for (guint i = 0; i < line->n_links; i++)
    {
      guint index = line->links[i];
      const NappeLink *link = &self->network->links[index];
      NappeLinkFlow *result = &self->law[index];

      self->flow[index] = 0;
      if (link->kind != NAPPE_LINK_PUMP)
        continue;
      lift (self, index, level, result);
      if (result->flow < 0)
        {
          double passes = is_held_back (self, line, link) ? 0 : CLAMP (left, 0, 1);

          result->flow *= passes;
          result->slope_from *= passes;
          result->slope_to *= passes;
        }
      self->flow[index] = result->flow;
      move (rate, self->volume[link->from], line->content, result->flow);
    }
}

/* What a stack of the drain's bore carries with this water in it. */
static double
stack_outflow (NappeTime *self, NappeLine *line, const double *y)
{
  double whole = nappe_column_whole (&line->column), tail = nappe_line_tail (self, line);
  double moving = y[line->content] - tail;

  line->outflow_by_content = 1 / TAIL_TIME;
  if (moving <= 0)
    return moving / TAIL_TIME;
  double flow = nappe_stack_flow (nappe_line_bore_of (self, line), moving / fmax (whole - tail, 0.01 * whole));
  line->outflow_by_content = 5.0 / 3 * flow / moving; /* the stack's law is a power of its water */
  return flow;
}

/* Hands the outflow of an open drain to its ends. */
static void
share_out (NappeTime *self, NappeLine *line, double outflow, double *rate)
{
  double sum = 0;

  for (guint e = 0; e < line->n_ends; e++)
    sum += fmax (0, self->flow[line->ends[e].link]);
  for (guint e = 0; e < line->n_ends; e++)
    {
      const NappeLink *link = &self->network->links[line->ends[e].link];
      double share = sum > 0 ? fmax (0, self->flow[line->ends[e].link]) / sum : e == 0;

      move (rate, line->content, self->volume[link->to], share * outflow);
      if (line->ends[e].link != line->root)
        self->flow[line->ends[e].link] = share * outflow;
    }
}

void
nappe_line_find_inflow (NappeTime *self, NappeLine *line)
{
  const NappeNetwork *network = self->network;
  const NappeLink *drain = &network->links[line->root];
  gboolean branched = self->volume[drain->to] == G_MAXUINT;
  double level = self->level[drain->from], inlet_slope, full_slope, head, low;

  line->backing = line->inflow_by_level = line->inflow_by_end = 0;
  /* Blocked or shut it lets nothing in, and what its pipes hold runs out, as in the balances. */
  line->inflow = line->inlet = nappe_time_is_open (self, line->root) ? nappe_drain_inlet_flow (drain, level, &inlet_slope) : 0;
  if (line->inlet <= 0)
    return;
  head = branched ? nappe_line_head_for (self, line, drain->to, fmax (line->inlet, LEAST_SHARED), line->junction)
                  : fmax (self->level[drain->to], drain->sill);
  low = branched ? nappe_line_lowest_end (self, line, drain->to) : head;
  double lost = nappe_run_head (network->stretches + drain->first_stretch, drain->n_stretches, line->inlet,
                                &network->water, NULL);
  if (level > low)
    line->backing = sqrt ((lost + head - low) / (level - low));
  line->inflow_by_level = inlet_slope;
  /* Most of the time the pipes carry more than comes in, and how much more need not be known. */
  if (lost > level - head)
    {
      double full = nappe_drain_full_flow (network, drain, level, head, self->guess[line->root].guess, &full_slope);

      if (branched)
        full = nappe_line_full_flow (self, line, level, &head, &full_slope);
      if (full > 0)
        self->guess[line->root].guess = full;
      line->inflow = full;
      line->inflow_by_level = full_slope;
      line->inflow_by_end = branched || head <= drain->sill ? 0 : -full_slope;
    }
  if (branched && isfinite (head))
    line->junction = head;
}

void
nappe_line_run_open_drain (NappeTime *self, NappeLine *line, const double *y, double *rate)
{
  const NappeLink *drain = &self->network->links[line->root];

  line->inlet = line->backing = line->inflow = line->inflow_by_level = line->inflow_by_end = line->outflow_by_content = 0;
  for (guint i = 0; i < line->n_links; i++)
    self->flow[line->links[i]] = 0;
  gboolean swept = line->mode == NAPPE_LINE_SWEPT, holds = nappe_column_whole (&line->column) > NAPPE_TIME_LEAST_CONTENT;
  double outflow = holds && !swept ? stack_outflow (self, line, y) : 0;
  nappe_line_find_inflow (self, line);
  /* Where more goes out than comes in, that is shared by its own heads. */
  if (self->volume[drain->to] == G_MAXUINT && (line->inlet <= 0 || outflow > line->inlet))
    nappe_line_head_for (self, line, drain->to, fmax (outflow, LEAST_SHARED), line->junction);
  self->flow[line->root] = line->inflow;
  if (swept || !holds)
    outflow = (swept ? SWEPT_SHARE : 1) * line->inflow;
  move (rate, self->volume[drain->from], line->content, line->inflow);
  share_out (self, line, outflow, rate);
}

static void
run_lines (NappeTime *self, double t, const double *y, double *rate)
{
  for (guint i = 0; i < self->n_lines; i++)
    {
      NappeLine *line = &self->lines[i];

      if (line->mode == NAPPE_LINE_FULL)
        run_full_line (self, line, t, y, rate);
      else if (line->drain)
        nappe_line_run_open_drain (self, line, y, rate);
      else
        run_column (self, line, y, rate);
    }
}

static void
run_small_flows (NappeTime *self, double *rate)
{
  const NappeNetwork *network = self->network;
  guint chamber = network->return_chamber, reservoir = network->reservoir;

  for (guint i = 0; i < self->leaks->len; i++)
    {
      const NappeLeak *leak = &g_array_index (self->leaks, NappeLeak, i);
      double head = fmax (0, self->level[leak->node] - leak->height);

      move (rate, self->volume[leak->node], self->volume[network->floor],
            nappe_orifice_flow (leak->area, NAPPE_ORIFICE_COEFFICIENT, head, NULL));
    }
  if (chamber == G_MAXUINT)
    return;
  if (self->top_off_on && self->power && !self->no_top_off && reservoir != G_MAXUINT)
    {
      double flow = network->top_off_flow * fade (self->level[reservoir] - network->nodes[reservoir].floor);

      move (rate, self->volume[reservoir], self->volume[chamber], flow);
      rate[self->topped] += flow;
    }
  double wet = fade (self->level[chamber] - network->nodes[chamber].floor);
  double display_wet = fade (self->level[network->display] - network->nodes[network->display].floor);
  move (rate, self->volume[chamber], self->air, self->evaporation * wet);
  move (rate, self->volume[network->display], self->air, self->evaporation * (1 - wet) * display_wet);
}

void
nappe_time_evaluate (NappeTime *self, double t, const double *y, double *rate)
{
  if (self->ramps->len > 0)
    nappe_time_run_ramps (self, t);
  nappe_time_take_speeds (self, t);
  if (rate != NULL)
    memset (rate, 0, self->n_states * sizeof *rate);
  nappe_time_take_levels (self, y);
  run_plain_links (self, rate);
  run_lines (self, t, y, rate);
  if (rate != NULL)
    run_small_flows (self, rate);
  memcpy (self->seen, y, self->n_states * sizeof *y);
  self->seen_at = rate != NULL ? t : NAN;
}

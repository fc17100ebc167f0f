/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Events: what is watched, and what it does.
 *
 * Every watch has a value that falls through 0 when its event comes. Switches change the equations:
 * - an open drain without a vent begins to fill when its inlet lets in what the pipe carries full, or enough to sweep the
 *   air away (Froude number 1); its air is out when its pipes are full: it primes. Its flow goes on from what comes in;
 * - a full drain breaks when its box stands below the brink and its unprimed inlet would pass less than the full bore
 *   and too little to sweep the air. Each of these is wanted to a margin that priming does not have, so that a drain
 *   never makes and breaks at one level;
 * - a check valve shuts when water would run back through it, and opens when the head behind it is the greater;
 * - an end of a line draws air when water runs back in it and the surface stands no higher than its mouth or hole;
 *   when all ends have, the line is a column that falls back;
 * - a column that a pump has lifted to the top of its line is a full line again.
 * After each switch all switches are asked again before time goes on. */
#include "study/simulation-private.h"

#include "physics/drop-inlet.h"
#include "study/state.h"

#include <math.h>

/* Share of the full bore that the inlet lets in at which the pipe counts as backed up, as in running.c. */
#define BACKED_UP 0.999
/* Below this urge a full drain can break, and a filling one gives up. */
#define GIVES_UP 0.97
/* Levels are compared by the millimetre, flows by the millilitre a second. */
#define MILLIMETRE 1e-3
#define SMALL_FLOW 1e-6
/* Share of the pumps' flow that counts as flowing back: a check valve needs as much to shut, and less is within what the
 * integrator lets pass. An end whose surface has fallen FAR below its mouth draws air with a tenth of it. */
#define BACKFLOW_SHARE 0.01
#define FAR 1e-3
/* A check valve that has shut stays so for as long (common practice: a flap takes a few tenths of a second). Where lines
 * join, what it stops swings on beside it, and would have it open and shut thousands of times a second [s]. */
#define FLAP_TIME 0.3
/* Water over an edge that is wet, half of it over one that has run dry: it comes down to the edge itself so slowly that only
 * the integrator's last digit would tell when [m]. */
#define REPORT_BAND 0.0003
/* Between in water and in air [m]. */
#define PUMP_BAND 0.002
/* About the height at which a vessel's plan area changes [m]. */
#define STEP_BAND 1e-5
/* Depth of a reservoir that counts as empty [m]: there the top-off's flow fades (simulation-flows.c). */
#define EMPTY_DEPTH 0.005
/* Fall of the level at which the float calls (common practice: a few millimetres) [m]. */
#define FLOAT_BAND 0.002
/* A switch is taken as fallen beyond this. */
#define FALLEN -1e-9
#define MOST_ROUNDS 50

gboolean
nappe_time_is_switch (const NappeWatch *watch)
{
  return watch->kind <= NAPPE_WATCH_FLOAT;
}

static void
add_watch (NappeTime *self, NappeWatchKind kind, guint index, guint end)
{
  self->watches[self->n_watches++] = (NappeWatch){ kind, index, end, FALSE };
}

static gboolean
has_top_off (const NappeTime *self)
{
  const NappeNetwork *network = self->network;

  return network->reservoir != G_MAXUINT && network->return_chamber != G_MAXUINT && network->top_off_flow > 0
         && network->reservoir_volume > 0;
}

static void
find_line_watches (NappeTime *self)
{
  for (guint i = 0; i < self->n_lines; i++)
    {
      const NappeLine *line = &self->lines[i];

      if (line->drain && !self->network->links[line->root].inlet.vented)
        add_watch (self, NAPPE_WATCH_DRAIN, i, 0);
      if (!line->drain)
        add_watch (self, NAPPE_WATCH_COLUMN, i, 0);
      for (guint e = 0; e < line->n_ends; e++)
        if (line->ends[e].holds)
          add_watch (self, NAPPE_WATCH_END, i, e);
      for (guint l = 0; l < line->n_links; l++)
        if (self->network->links[line->links[l]].one_way)
          add_watch (self, NAPPE_WATCH_CHECK, i, line->links[l]);
    }
}

void
nappe_time_find_watches (NappeTime *self)
{
  const NappeNetwork *network = self->network;
  guint most = 2 * self->n_lines + 4 * network->n_links + network->n_nodes + self->n_pumps + 2;

  self->watches = g_new0 (NappeWatch, most);
  self->watched = g_new0 (double, most);
  find_line_watches (self);
  if (has_top_off (self))
    {
      add_watch (self, NAPPE_WATCH_FLOAT, 0, 0);
      add_watch (self, NAPPE_WATCH_RESERVOIR, 0, 0);
    }
  for (guint p = 0; p < self->n_pumps; p++)
    add_watch (self, NAPPE_WATCH_PUMP_AIR, p, 0);
  for (guint i = 0; i < network->n_nodes; i++)
    if (self->volume[i] != G_MAXUINT && network->nodes[i].area_low != network->nodes[i].area && isfinite (network->nodes[i].step))
      add_watch (self, NAPPE_WATCH_STEP, i, 0);
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_DRAIN)
        add_watch (self, NAPPE_WATCH_INLET, i, 0);
      else if (link->kind == NAPPE_LINK_RIM)
        add_watch (self, NAPPE_WATCH_RIM, i, 0);
      else if (link->kind == NAPPE_LINK_WEIR && network->nodes[link->from].kind == NAPPE_NODE_DISPLAY)
        add_watch (self, NAPPE_WATCH_WEIR, i, 0);
    }
}

/* How near water is to closing the drain's pipe, 1: it does. flow: that runs down the pipe. backing: 1 where the inlet
 * lets in what the pipe carries full. */
static double
urge (const NappeLink *drain, double inlet, double backing, double flow)
{
  if (inlet <= 0 || flow <= 0)
    return 0;
  return fmax (nappe_full_bore_froude (fmin (inlet, flow), drain->inlet.bore) / NAPPE_FROUDE_PRIME, backing / BACKED_UP);
}

static double
watch_drain (NappeTime *self, NappeLine *line, const double *y)
{
  const NappeLink *drain = &self->network->links[line->root];
  double level = self->level[drain->from], whole = nappe_column_whole (&line->column);

  if (line->mode == NAPPE_LINE_FULL)
    {
      if (!nappe_time_is_open (self, line->root))
        return -1;
      nappe_line_spread_flows (self, line, y);
      double flow = self->flow[line->root], over = (level - drain->inlet.brink) / MILLIMETRE;
      double inlet = nappe_drain_inlet_flow (drain, level, NULL);
      double keeps = over > 0 ? over : fmax (over, urge (drain, inlet, inlet / flow, flow) - GIVES_UP);
      return fmin (keeps, 1 + flow / SMALL_FLOW);
    }
  if (level <= drain->inlet.crest)
    return line->mode == NAPPE_LINE_SWEPT ? -1 : 1;
  if (!nappe_time_is_open (self, line->root))
    return line->mode == NAPPE_LINE_SWEPT ? -1 : 1;
  nappe_line_find_inflow (self, line);
  double now = urge (drain, line->inlet, line->backing, line->inflow);
  if (line->mode == NAPPE_LINE_SWEPT)
    return fmin ((whole - y[line->content]) / fmax (whole, NAPPE_TIME_LEAST_CONTENT), now - GIVES_UP);
  return 1 - now;
}

static double
watch_end (NappeTime *self, const NappeLine *line, const NappeLineEndState *end, const double *y)
{
  const NappeLink *link = &self->network->links[end->link];
  double whole = nappe_column_whole (&end->column);

  if (line->mode != NAPPE_LINE_FULL)
    return 1;
  if (end->airy)
    return (whole - y[end->content]) / whole;
  nappe_line_spread_flows (self, line, y);
  double over = self->level[link->to] - fmax (link->sill, link->siphon_break);
  double backflow = BACKFLOW_SHARE * self->pump_flow * CLAMP (1 + over / FAR, 0.1, 1);
  return fmax (1 + self->flow[end->link] / backflow, over / MILLIMETRE);
}

static double
watch_check (NappeTime *self, NappeLine *line, guint index, double t, const double *y)
{
  const NappeLink *link = &self->network->links[index];

  if (!link->one_way)
    return self->check_shut[index] ? -1 : 1;
  if (line->mode != NAPPE_LINE_FULL)
    return self->check_shut[index] ? -1 : 1;
  nappe_line_spread_flows (self, line, y);
  if (!self->check_shut[index])
    return 1 + self->flow[index] / (BACKFLOW_SHARE * self->pump_flow);
  if (t < self->shut_at[index] + FLAP_TIME)
    return 1;
  double over = nappe_line_head_at (self, line, link->to, index, t, y) - nappe_line_head_at (self, line, link->from, index, t, y);
  return isnan (over) ? 1 : 1 + over / MILLIMETRE;
}

static double
watch_float (const NappeTime *self)
{
  double over = self->level[self->network->return_chamber] - self->float_level;

  if (!self->power || self->top_off_stuck || self->no_top_off)
    return 1;
  return (self->top_off_on ? -over : over + FLOAT_BAND) / MILLIMETRE;
}

/* A level that is on above a height, and off a band below it; or the other way round. */
static double
watch_level (const NappeWatch *watch, double level, double height, double band, gboolean below)
{
  double over = below ? height - level : level - height;

  return (watch->on ? over + band : -over) / MILLIMETRE;
}

static double
watch_pump (const NappeTime *self, const NappeWatch *watch)
{
  const NappePumpSpeed *pump = &self->pumps[watch->index];
  const NappeLink *link = &self->network->links[pump->link];

  if (pump->target <= 0)
    return watch->on ? -1 : 1;
  return watch_level (watch, self->level[link->from], link->pump_inlet + NAPPE_AIR_DEPTH, PUMP_BAND, TRUE);
}

static double
watch_value (NappeTime *self, const NappeWatch *watch, double t, const double *y)
{
  const NappeNetwork *network = self->network;
  NappeLine *line = watch->kind <= NAPPE_WATCH_CHECK ? &self->lines[watch->index] : NULL;
  gboolean of_link = watch->kind == NAPPE_WATCH_INLET || watch->kind == NAPPE_WATCH_RIM || watch->kind == NAPPE_WATCH_WEIR;
  const NappeLink *link = of_link ? &network->links[watch->index] : NULL;

  switch (watch->kind)
    {
    case NAPPE_WATCH_DRAIN:
      return watch_drain (self, line, y);
    case NAPPE_WATCH_END:
      return watch_end (self, line, &line->ends[watch->end], y);
    case NAPPE_WATCH_COLUMN:
      return line->mode == NAPPE_LINE_OPEN ? 1 - y[line->content] / nappe_column_whole (&line->column) : 1;
    case NAPPE_WATCH_CHECK:
      return watch_check (self, line, watch->end, t, y);
    case NAPPE_WATCH_FLOAT:
      return watch_float (self);
    case NAPPE_WATCH_INLET:
      return watch_level (watch, self->level[link->from], link->inlet.crest + REPORT_BAND, 0.5 * REPORT_BAND, FALSE);
    case NAPPE_WATCH_PUMP_AIR:
      return watch_pump (self, watch);
    case NAPPE_WATCH_RIM:
      return watch->on ? 1 : -(self->level[link->from] - link->sill) / MILLIMETRE;
    case NAPPE_WATCH_WEIR:
      return watch_level (watch, self->level[link->from], link->sill + REPORT_BAND, 0.5 * REPORT_BAND, FALSE);
    case NAPPE_WATCH_RESERVOIR:
      return watch_level (watch, self->level[network->reservoir], network->nodes[network->reservoir].floor + EMPTY_DEPTH,
                          PUMP_BAND, TRUE);
    case NAPPE_WATCH_STEP:
      return watch_level (watch, self->level[watch->index], network->nodes[watch->index].step, STEP_BAND, FALSE);
    default:
      g_return_val_if_reached (1);
    }
}

void
nappe_time_watch (NappeTime *self, double t, const double *y, double *value)
{
  if (self->ramps->len > 0)
    nappe_time_run_ramps (self, t);
  nappe_time_take_speeds (self, t);
  nappe_time_take_levels (self, y);
  for (guint i = 0; i < self->n_watches; i++)
    value[i] = watch_value (self, &self->watches[i], t, y);
}

/* All water of a line into one place, at rest. */
void
nappe_line_open (NappeTime *self, NappeLine *line, double *y)
{
  for (guint e = 0; e < line->n_ends; e++)
    {
      y[line->content] += y[line->ends[e].content];
      y[line->ends[e].content] = 0;
      line->ends[e].airy = FALSE;
    }
  for (guint k = 0; k < line->most_flows; k++)
    y[line->first_flow + k] = 0;
  line->mode = NAPPE_LINE_OPEN;
}

/* The line runs full from now on; what came into it comes out of its ends, shared as it was. */
static void
fill (NappeTime *self, NappeLine *line, double inflow, double *y)
{
  line->mode = NAPPE_LINE_FULL;
  for (guint k = 0; k < line->n_flows; k++)
    {
      guint index = line->links[line->chord[k]];
      const NappeLink *link = &self->network->links[index];
      double flow = link->pump >= 0 ? self->flow[link->pump] : inflow;

      for (guint e = 0; e < line->n_ends; e++)
        if (line->ends[e].link == index)
          flow = inflow * line->share[e];
      y[line->first_flow + k] = flow;
    }
}

/* How what leaves an open drain is shared among its ends; of a return line, as it was at the start. */
static void
note_shares (NappeTime *self, NappeLine *line)
{
  double sum = 0;

  for (guint e = 0; e < line->n_ends; e++)
    sum += fmax (0, self->flow[line->ends[e].link]);
  for (guint e = 0; e < line->n_ends; e++)
    line->share[e] = sum > 0 ? fmax (0, self->flow[line->ends[e].link]) / sum : 1.0 / line->n_ends;
}

static gboolean
act_drain (NappeTime *self, NappeLine *line, double t, double *y)
{
  const NappeLink *drain = &self->network->links[line->root];

  if (line->mode == NAPPE_LINE_FULL)
    {
      nappe_line_open (self, line, y);
      nappe_record_event (self, t, NAPPE_EVENT_BREAKS, line->root, drain->id);
      return TRUE;
    }
  if (line->mode == NAPPE_LINE_SWEPT && self->level[drain->from] <= drain->inlet.crest)
    {
      line->mode = NAPPE_LINE_OPEN;
      return TRUE;
    }
  nappe_line_run_open_drain (self, line, y, NULL);
  double whole = nappe_column_whole (&line->column);
  if (line->mode == NAPPE_LINE_OPEN && y[line->content] < whole)
    line->mode = NAPPE_LINE_SWEPT;
  else if (y[line->content] >= whole * (1 - 1e-6))
    {
      note_shares (self, line);
      fill (self, line, line->inflow, y);
      nappe_record_event (self, t, NAPPE_EVENT_PRIMES, line->root, drain->id);
    }
  else
    line->mode = NAPPE_LINE_OPEN;
  return TRUE;
}

/* Whether water can still come into a full line through one of its ends that run back, or a pump drives it. */
static gboolean
is_fed (const NappeTime *self, const NappeLine *line)
{
  for (guint e = 0; e < line->n_ends; e++)
    {
      const NappeLink *link = &self->network->links[line->ends[e].link];

      if (!line->ends[e].airy && (self->level[link->to] > fmax (link->sill, link->siphon_break) || !line->ends[e].holds))
        return TRUE;
    }
  for (guint p = 0; p < self->n_pumps; p++)
    if (self->pumps[p].target > 0 && self->line_of[self->pumps[p].link] == self->line_of[line->root])
      for (guint e = 0; e < line->n_ends; e++)
        if (!line->ends[e].airy)
          return TRUE;
  return FALSE;
}

static gboolean
act_end (NappeTime *self, NappeLine *line, NappeLineEndState *end, double t, double *y)
{
  const NappeLink *link = &self->network->links[end->link];
  double whole = nappe_column_whole (&end->column);

  if (end->airy)
    {
      y[line->content] += y[end->content];
      y[end->content] = 0;
      end->airy = FALSE;
      nappe_record_event (self, t, NAPPE_EVENT_RETURN_FULL, end->link, link->id);
      return TRUE;
    }
  y[line->content] -= whole;
  y[end->content] += whole;
  end->airy = TRUE;
  if (!line->drain)
    nappe_record_event (self, t, NAPPE_EVENT_AIR_IN_RETURN, end->link, link->id);
  if (!line->drain && !is_fed (self, line))
    nappe_line_open (self, line, y);
  return TRUE;
}

static gboolean
act_column (NappeTime *self, NappeLine *line, double t, double *y)
{
  double inflow = 0;

  nappe_time_evaluate (self, t, y, NULL);
  for (guint i = 0; i < line->n_links; i++)
    if (self->network->links[line->links[i]].kind == NAPPE_LINK_PUMP)
      inflow += self->flow[line->links[i]];
  if (inflow <= 0)
    return FALSE;
  fill (self, line, inflow, y);
  for (guint e = 0; e < line->n_ends; e++)
    nappe_record_event (self, t, NAPPE_EVENT_RETURN_FULL, line->ends[e].link, self->network->links[line->ends[e].link].id);
  return TRUE;
}

static void
report (NappeTime *self, NappeWatch *watch, double t, NappeEventKind on, NappeEventKind off, guint link)
{
  watch->on = !watch->on;
  nappe_record_event (self, t, watch->on ? on : off, link, self->network->links[link].id);
}

static void
report_rim (NappeTime *self, NappeWatch *watch, double t)
{
  guint node = self->network->links[watch->index].from;

  watch->on = TRUE;
  self->result->first_drop = fmin (self->result->first_drop, t);
  nappe_record_event (self, t, NAPPE_EVENT_OVER_RIM, node, self->network->nodes[node].id);
}

gboolean
nappe_time_act (NappeTime *self, guint index, double t, double *y)
{
  NappeWatch *watch = &self->watches[index];
  const NappeNetwork *network = self->network;

  switch (watch->kind)
    {
    case NAPPE_WATCH_DRAIN:
      return act_drain (self, &self->lines[watch->index], t, y);
    case NAPPE_WATCH_END:
      return act_end (self, &self->lines[watch->index], &self->lines[watch->index].ends[watch->end], t, y);
    case NAPPE_WATCH_COLUMN:
      return act_column (self, &self->lines[watch->index], t, y);
    case NAPPE_WATCH_CHECK:
      self->check_shut[watch->end] = !self->check_shut[watch->end];
      self->shut_at[watch->end] = t;
      nappe_line_find_loops (self, &self->lines[watch->index], y);
      return TRUE;
    case NAPPE_WATCH_FLOAT:
      self->top_off_on = !self->top_off_on;
      nappe_record_event (self, t, self->top_off_on ? NAPPE_EVENT_FLOAT_CALLS : NAPPE_EVENT_FLOAT_RESTS, network->return_chamber,
                          network->nodes[network->return_chamber].id);
      return TRUE;
    case NAPPE_WATCH_INLET:
      report (self, watch, t, NAPPE_EVENT_INLET_WET, NAPPE_EVENT_INLET_DRY, watch->index);
      return FALSE;
    case NAPPE_WATCH_PUMP_AIR:
      report (self, watch, t, NAPPE_EVENT_PUMP_AIR, NAPPE_EVENT_PUMP_COVERED, self->pumps[watch->index].link);
      return FALSE;
    case NAPPE_WATCH_RIM:
      report_rim (self, watch, t);
      return TRUE; /* a fresh start, so that the first drop is a drop */
    case NAPPE_WATCH_WEIR:
      report (self, watch, t, NAPPE_EVENT_WEIR_WET, NAPPE_EVENT_WEIR_DRY, watch->index);
      return FALSE;
    case NAPPE_WATCH_RESERVOIR:
      watch->on = !watch->on;
      if (watch->on)
        nappe_record_event (self, t, NAPPE_EVENT_RESERVOIR_EMPTY, network->reservoir, network->nodes[network->reservoir].id);
      return FALSE;
    case NAPPE_WATCH_STEP:
      watch->on = !watch->on; /* no event, but a frame: its level turns sharply here, though its volume does not */
      return FALSE;
    default:
      g_return_val_if_reached (FALSE);
    }
}

gboolean
nappe_time_settle (NappeTime *self, double t, double *y)
{
  gboolean changed = FALSE, again = TRUE;

  for (guint round = 0; again && round < MOST_ROUNDS; round++)
    {
      again = FALSE;
      nappe_time_watch (self, t, y, self->watched);
      for (guint i = 0; i < self->n_watches && !again; i++)
        if (self->watched[i] < FALLEN && nappe_time_is_switch (&self->watches[i]))
          again = nappe_time_act (self, i, t, y);
      changed |= again;
    }
  return changed;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/run-down.h"

#include "study/refill.h"

#include <math.h>

/* Rounds in which vessels share out water before each gives all to the way that stops it. The ways that stop vessels
 * lead to lower and lower stops and never back, so one more round for each vessel ends it. */
#define ROUNDS_OF_SHARES 24
/* Water above a stop that is none [m3]. */
#define NO_WATER 1e-15

/* Looks for the vessels that water in a line's pipes can come to. */
typedef struct
{
  const NappeNetwork *network;
  gboolean check_valve_holds;
  gboolean backwards;   /* against the flow too, and through stopped pumps */
  gboolean *seen;       /* by node */
  /* Called for each: through which link the water arrives. */
  void (*found) (gpointer data, guint node, guint link);
  gpointer data;
} Search;

static gboolean
is_vessel (const NappeNetwork *network, guint node)
{
  return network->nodes[node].kind != NAPPE_NODE_JUNCTION && node != network->floor;
}

static void
follow (Search *self, guint junction)
{
  const NappeNetwork *network = self->network;

  self->seen[junction] = TRUE;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      gboolean onwards = link->from == junction;
      guint other = onwards ? link->to : link->from;

      if ((!onwards && (link->to != junction || !self->backwards)) || link->shut || self->seen[other])
        continue;
      if (link->kind != NAPPE_LINK_PIPE && link->kind != NAPPE_LINK_PUMP)
        continue;
      if (!onwards && link->one_way && self->check_valve_holds)
        continue;
      if (is_vessel (network, other))
        self->found (self->data, other, i);
      else if (other != network->floor)
        follow (self, other);
    }
}

/* Searches from one end of a link on. */
static void
search (Search *self, guint start)
{
  g_autofree gboolean *seen = g_new0 (gboolean, self->network->n_nodes);

  self->seen = seen;
  if (is_vessel (self->network, start))
    self->found (self->data, start, G_MAXUINT);
  else if (start != self->network->floor)
    follow (self, start);
}

/* Collects the ways of one link. */
typedef struct
{
  NappeRunDown *run;
  const NappeState *running;
  guint from;          /* vessel that runs down */
  guint link;          /* by which water leaves it */
  double edge;
  gboolean siphon, siphon_break_open;
} Collector;

static void
add_way (gpointer data, guint node, guint arrives)
{
  Collector *self = data;
  const NappeNetwork *network = self->run->network;
  guint end = arrives == G_MAXUINT ? self->link : arrives;
  const NappeLink *link = &network->links[end];
  NappeWay way = { self->from, node, self->edge, fabs (self->running->flow[end]), self->siphon, self->link };

  if (node == self->from)
    return;
  /* A siphon that comes out of an open end goes no lower than that end, or than a hole above it. */
  if (self->siphon && link->kind == NAPPE_LINK_PIPE && link->to == node)
    way.edge = fmax (way.edge, self->siphon_break_open ? link->siphon_break : link->sill);
  way.edge = fmax (way.edge, network->nodes[self->from].floor);
  g_array_append_val (self->run->ways, way);
}

static void
add_line_ways (Collector *collector, gboolean backwards, gboolean check_valve_holds, guint start)
{
  Search lookup = { collector->run->network, check_valve_holds, backwards, NULL, add_way, collector };

  search (&lookup, start);
}

static void
collect (NappeRunDown *self, const NappeState *running, gboolean check_valve_holds, gboolean siphon_break_open)
{
  for (guint i = 0; i < self->network->n_links; i++)
    {
      const NappeLink *link = &self->network->links[i];
      Collector collector = { self, running, link->from, i, link->sill, FALSE, siphon_break_open };

      if (link->shut)
        continue;
      switch (link->kind)
        {
        case NAPPE_LINK_WEIR:
          if (self->above[link->from] && link->weir.open_share > 0)
            add_way (&collector, link->to, G_MAXUINT);
          break;
        case NAPPE_LINK_JOINT:
          if (link->open_share > 0 && (!link->joint.siphon || link->joint.primed))
            add_way (&collector, link->to, G_MAXUINT);
          break;
        case NAPPE_LINK_DRAIN:
          collector.edge = link->inlet.crest;
          if (link->open_share > 0)
            add_line_ways (&collector, FALSE, check_valve_holds, link->to);
          break;
        case NAPPE_LINK_PIPE:
          collector.from = link->to;
          collector.siphon = TRUE;
          if (siphon_break_open)
            collector.edge = link->siphon_break;
          if (link->drain < 0 && self->above[link->to] && !(link->one_way && check_valve_holds))
            add_line_ways (&collector, TRUE, check_valve_holds, link->from);
          break;
        case NAPPE_LINK_PUMP:
          collector.edge = link->pump_inlet;
          collector.siphon = TRUE;
          if (self->above[link->from])
            add_line_ways (&collector, TRUE, check_valve_holds, link->to);
          break;
        default:
          break;
        }
    }
}

/* Full, a drain runs until air enters; what then still comes fills its box again. */
static void
lower_full_drains (NappeRunDown *self, const NappeState *running)
{
  const NappeNetwork *network = self->network;
  double backflow = INFINITY;

  for (guint w = 0; w < self->ways->len; w++)
    {
      const NappeWay *way = &g_array_index (self->ways, NappeWay, w);

      if (way->siphon && way->from == network->display)
        backflow = fmin (backflow, way->edge);
    }
  for (guint w = 0; w < self->ways->len; w++)
    {
      NappeWay *way = &g_array_index (self->ways, NappeWay, w);

      if (network->links[way->link].kind == NAPPE_LINK_DRAIN && running->primed[way->link])
        way->edge = fmax (nappe_refill_level (network, running, way->link, backflow), network->nodes[way->from].floor);
    }
}

/* The level that a way takes its vessel down to. */
static double
way_level (const NappeRunDown *self, const NappeWay *way)
{
  return fmax (way->edge, self->stop[way->to]);
}

/* Each vessel stops where its deepest way does, and that where the next vessel stops: found by repetition. */
static void
find_stops (NappeRunDown *self)
{
  gboolean moved = TRUE;

  while (moved)
    {
      moved = FALSE;
      for (guint w = 0; w < self->ways->len; w++)
        {
          const NappeWay *way = &g_array_index (self->ways, NappeWay, w);
          double level = way_level (self, way);

          if (!self->above[way->from] || level >= self->stop[way->from])
            continue;
          self->stop[way->from] = level;
          self->stop_way[way->from] = w;
          moved = TRUE;
        }
    }
}

/* Whether all that a side vessel gives goes to the sump's own vessels, over its spout first: it then shares their
 * levels and belongs to the pools. */
static gboolean
stands_at_sump (const NappeRunDown *self, guint vessel)
{
  const NappeNetwork *network = self->network;
  gboolean spout = FALSE;

  for (guint w = 0; w < self->ways->len; w++)
    {
      const NappeWay *way = &g_array_index (self->ways, NappeWay, w);

      if (way->from != vessel || way->edge >= network->nodes[vessel].rim)
        continue;
      if (network->nodes[way->to].kind != NAPPE_NODE_CHAMBER)
        return FALSE;
      spout |= !way->siphon;
    }
  return spout;
}

NappeRunDown *
nappe_run_down_new (const NappeNetwork *network, const NappeState *running, gboolean check_valve_holds,
                    gboolean siphon_break_open)
{
  NappeRunDown *self = g_new0 (NappeRunDown, 1);

  self->network = network;
  self->ways = g_array_new (FALSE, FALSE, sizeof (NappeWay));
  self->stop = g_new0 (double, network->n_nodes);
  self->stop_way = g_new0 (guint, network->n_nodes);
  self->above = g_new0 (gboolean, network->n_nodes);
  self->volume = g_new0 (double, network->n_nodes);
  for (guint i = 0; i < network->n_nodes; i++)
    {
      NappeNodeKind kind = network->nodes[i].kind;

      self->above[i] = kind == NAPPE_NODE_DISPLAY || kind == NAPPE_NODE_BOX || kind == NAPPE_NODE_VESSEL;
    }
  collect (self, running, check_valve_holds, siphon_break_open);
  lower_full_drains (self, running);
  for (guint i = 0; i < network->n_nodes; i++)
    {
      if (network->nodes[i].kind == NAPPE_NODE_VESSEL)
        self->above[i] = !stands_at_sump (self, i);
      self->stop[i] = self->above[i] ? INFINITY : -INFINITY;
      self->stop_way[i] = G_MAXUINT;
      if (self->above[i])
        self->volume[i] = nappe_node_volume (&network->nodes[i], running->level[i]);
    }
  find_stops (self);
  return self;
}

void
nappe_run_down_free (NappeRunDown *self)
{
  if (self == NULL)
    return;
  g_array_free (self->ways, TRUE);
  g_free (self->stop);
  g_free (self->stop_way);
  g_free (self->above);
  g_free (self->volume);
  g_free (self);
}

static void
hand_on (NappeRunDown *self, const NappeWay *way, double volume, double *took)
{
  if (self->above[way->to])
    self->volume[way->to] += volume;
  else
    took[way->to] += volume;
}

/* Whether a way takes water at this level, when siphons do or do not. */
static gboolean
is_open (const NappeRunDown *self, const NappeWay *way, guint vessel, double level, gboolean siphons)
{
  return way->from == vessel && way->siphon == siphons && way_level (self, way) < level;
}

/* Down to where the next of the open ways ends; shares the slice among them. Returns the level reached. */
static double
give_slice (NappeRunDown *self, guint vessel, double level, double *took)
{
  const NappeNode *node = &self->network->nodes[vessel];
  double next = -INFINITY, weight = 0;
  gboolean siphons = TRUE;
  guint n = 0;

  for (guint w = 0; w < self->ways->len; w++)
    siphons &= !is_open (self, &g_array_index (self->ways, NappeWay, w), vessel, level, FALSE);
  for (guint w = 0; w < self->ways->len; w++)
    {
      const NappeWay *way = &g_array_index (self->ways, NappeWay, w);

      if (!is_open (self, way, vessel, level, siphons))
        continue;
      next = fmax (next, way_level (self, way));
      weight += way->weight;
      n++;
    }
  double slice = nappe_node_volume (node, level) - nappe_node_volume (node, next);
  for (guint w = 0; w < self->ways->len; w++)
    {
      const NappeWay *way = &g_array_index (self->ways, NappeWay, w);

      if (is_open (self, way, vessel, level, siphons))
        hand_on (self, way, weight > 0 ? slice * way->weight / weight : slice / n, took);
    }
  self->volume[vessel] -= slice;
  return next;
}

/* A box that nothing runs out of gives what stands over the edge that it is fed over back to where it came from. */
static void
give_back (NappeRunDown *self)
{
  const NappeNetwork *network = self->network;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      gboolean edge = link->kind == NAPPE_LINK_WEIR || link->kind == NAPPE_LINK_JOINT;

      if (!edge || !self->above[link->from] || !self->above[link->to] || isfinite (self->stop[link->to])
          || isinf (self->stop[link->from]))
        continue;
      double kept = nappe_node_volume (&network->nodes[link->to], fmax (link->sill, self->stop[link->from]));
      double back = fmax (0, self->volume[link->to] - kept);
      self->volume[link->to] -= back;
      self->volume[link->from] += back;
    }
}

void
nappe_run_down_settle (NappeRunDown *self, double *took)
{
  const NappeNetwork *network = self->network;
  gboolean moved = TRUE;

  give_back (self);
  for (guint round = 0; moved && round < ROUNDS_OF_SHARES + network->n_nodes; round++)
    {
      moved = FALSE;
      for (guint i = 0; i < network->n_nodes; i++)
        {
          const NappeNode *node = &network->nodes[i];
          double kept = isfinite (self->stop[i]) ? nappe_node_volume (node, self->stop[i]) : INFINITY;

          if (!self->above[i] || self->volume[i] <= kept + NO_WATER)
            continue;
          moved = TRUE;
          if (round < ROUNDS_OF_SHARES)
            for (double level = nappe_node_level (node, self->volume[i]); level > self->stop[i];)
              level = give_slice (self, i, level, took);
          else
            hand_on (self, &g_array_index (self->ways, NappeWay, self->stop_way[i]), self->volume[i] - kept, took);
          self->volume[i] = kept;
        }
    }
}

/* Keeps the end that a pipe's water prefers: through a pump, else the first. Where the pipe comes out itself is none. */
typedef struct
{
  const NappeNetwork *network;
  guint outlet, end;
  gboolean by_pump;
} EndSearch;

static void
take_end (gpointer data, guint node, guint arrives)
{
  EndSearch *self = data;
  gboolean by_pump = arrives != G_MAXUINT && self->network->links[arrives].kind == NAPPE_LINK_PUMP;

  if (node == self->outlet || (self->end != G_MAXUINT && (self->by_pump || !by_pump)))
    return;
  self->end = node;
  self->by_pump = by_pump;
}

guint
nappe_run_down_pipe_end (const NappeNetwork *network, guint link, gboolean check_valve_holds)
{
  const NappeLink *pipe = &network->links[link];
  gboolean of_drain = pipe->kind == NAPPE_LINK_DRAIN || pipe->drain >= 0;
  gboolean runs_on = of_drain || network->nodes[pipe->to].kind == NAPPE_NODE_CHAMBER;
  EndSearch ends = { network, runs_on ? G_MAXUINT : pipe->to, G_MAXUINT, FALSE };
  Search lookup = { network, check_valve_holds, !of_drain, NULL, take_end, &ends };

  if (runs_on)
    search (&lookup, pipe->to);
  else if (!(pipe->one_way && check_valve_holds) || pipe->n_before_check > 0)
    search (&lookup, pipe->from);
  return ends.end;
}

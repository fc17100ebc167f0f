/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/pools.h"

#include <math.h>

/* Two pools that differ by less stand at one level [m]. */
#define SAME_LEVEL 1e-12

/* Height at which water passes between two neighbours: the gap's lower edge, or the wall's top. */
static double
edge_between (const NappeNetwork *network, guint left)
{
  double edge = INFINITY;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if ((link->kind == NAPPE_LINK_WEIR || link->kind == NAPPE_LINK_GAP) && link->from == left && link->to == left + 1)
        edge = fmin (edge, link->kind == NAPPE_LINK_GAP ? link->gap_floor : link->sill);
    }
  return edge;
}

NappePools *
nappe_pools_new (const NappeNetwork *network, const double *level)
{
  NappePools *self = g_new0 (NappePools, 1);

  self->node = g_new0 (const NappeNode *, network->n_nodes);
  self->level = g_new0 (double, network->n_nodes);
  self->edge = g_new0 (double, network->n_nodes);
  self->pool = g_new0 (guint, network->n_nodes);
  /* Chambers are compiled one after another, so neighbours in the sump are neighbours in the list. */
  for (guint i = 0; i < network->n_nodes; i++)
    {
      if (network->nodes[i].kind != NAPPE_NODE_CHAMBER)
        continue;
      self->node[self->n] = &network->nodes[i];
      self->level[self->n] = fmax (level[i], network->nodes[i].floor);
      self->pool[self->n] = self->n;
      self->edge[self->n] = edge_between (network, i);
      self->n++;
    }
  return self;
}

void
nappe_pools_free (NappePools *self)
{
  if (self == NULL)
    return;
  g_free (self->node);
  g_free (self->level);
  g_free (self->edge);
  g_free (self->pool);
  g_free (self);
}

gint
nappe_pools_find (const NappePools *self, const NappeNode *node)
{
  for (guint i = 0; i < self->n; i++)
    if (self->node[i] == node)
      return (gint) i;
  return -1;
}

/* One past the last vessel of the pool that begins at `first`. */
static guint
pool_end (const NappePools *self, guint first)
{
  guint end = first + 1;

  while (end < self->n && self->pool[end] == first)
    end++;
  return end;
}

static double
pool_volume (const NappePools *self, guint first, guint end, double level)
{
  double sum = 0;

  for (guint i = first; i < end; i++)
    sum += nappe_node_volume (self->node[i], level);
  return sum;
}

/* The level at which the pool holds this volume: it is piecewise straight between `from` and an edge, so
 * a few secant steps are exact. */
static double
pool_level (const NappePools *self, guint first, guint end, double from, double volume)
{
  double level = from;

  for (guint step = 0; step < 8; step++)
    {
      double area = 0, miss = volume - pool_volume (self, first, end, level);

      for (guint i = first; i < end; i++)
        area += level < self->node[i]->step ? self->node[i]->area_low : self->node[i]->area;
      if (fabs (miss) <= 1e-15 || area <= 0)
        break;
      level += miss / area;
    }
  return level;
}

static void
set_pool (NappePools *self, guint first, guint end, double level)
{
  for (guint i = first; i < end; i++)
    self->level[i] = level;
}

/* The pool's lowest way out. neighbour: the vessel beyond it, or G_MAXUINT for the floor. */
static double
lowest_edge (const NappePools *self, guint first, guint end, guint *neighbour)
{
  double edge = INFINITY;

  *neighbour = G_MAXUINT;
  for (guint i = first; i < end; i++)
    edge = fmin (edge, self->node[i]->rim);
  if (first > 0 && self->edge[first - 1] <= edge)
    {
      edge = self->edge[first - 1];
      *neighbour = first - 1;
    }
  /* Of two equal ways water takes the one to the lower pool. */
  if (end < self->n
      && (self->edge[end - 1] < edge
          || (self->edge[end - 1] == edge && (*neighbour == G_MAXUINT || self->level[end] < self->level[*neighbour]))))
    {
      edge = self->edge[end - 1];
      *neighbour = end;
    }
  return edge;
}

static void
merge (NappePools *self, guint a, guint b)
{
  guint left = MIN (self->pool[a], self->pool[b]), right = MAX (self->pool[a], self->pool[b]);
  guint end = pool_end (self, right);

  for (guint i = right; i < end; i++)
    self->pool[i] = left;
}

void
nappe_pools_pour (NappePools *self, guint vessel, double volume)
{
  while (volume > 0)
    {
      guint first = self->pool[vessel], end = pool_end (self, first), neighbour;
      double edge = lowest_edge (self, first, end, &neighbour), level = self->level[first];
      double have = pool_volume (self, first, end, level);
      double room = fmax (0, pool_volume (self, first, end, edge) - have);

      if (volume <= room)
        {
          set_pool (self, first, end, pool_level (self, first, end, level, have + volume));
          return;
        }
      volume -= room;
      set_pool (self, first, end, fmax (level, edge));
      if (neighbour == G_MAXUINT)
        {
          self->spilled += volume;
          return;
        }
      if (self->level[neighbour] >= edge - SAME_LEVEL)
        merge (self, vessel, neighbour);
      else
        vessel = neighbour;
    }
}

void
nappe_pools_settle (NappePools *self)
{
  g_autofree double *excess = g_new0 (double, MAX (self->n, 1));

  for (guint i = 0; i < self->n; i++)
    {
      double edge = self->node[i]->rim;

      if (i > 0)
        edge = fmin (edge, self->edge[i - 1]);
      if (i + 1 < self->n)
        edge = fmin (edge, self->edge[i]);
      double keep = fmin (self->level[i], fmax (edge, self->node[i]->floor));
      excess[i] = nappe_node_volume (self->node[i], self->level[i]) - nappe_node_volume (self->node[i], keep);
      self->level[i] = keep;
      self->pool[i] = i;
    }
  for (guint i = 0; i < self->n; i++)
    nappe_pools_pour (self, i, excess[i]);
}

/* Where vessel i ends when one is emptied to a level: at the highest edge between the two. */
static double
drained_level (const NappePools *self, guint i, guint vessel, double level)
{
  for (guint edge = MIN (i, vessel); edge < MAX (i, vessel); edge++)
    level = fmax (level, self->edge[edge]);
  return fmin (level, self->level[i]);
}

void
nappe_pools_drain (NappePools *self, guint vessel, double level)
{
  for (guint i = 0; i < self->n; i++)
    {
      self->level[i] = drained_level (self, i, vessel, level);
      self->pool[i] = i;
    }
}

double
nappe_pools_drainable (const NappePools *self, guint vessel, double level)
{
  double sum = 0;

  for (guint i = 0; i < self->n; i++)
    sum += nappe_node_volume (self->node[i], self->level[i])
           - nappe_node_volume (self->node[i], drained_level (self, i, vessel, level));
  return sum;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/pools.h"

#include <math.h>

/* Two pools that differ by less stand at one level [m]. */
#define SAME_LEVEL 1e-12
/* Steps in which a pool's level is found between brackets; volume over level is a broken line, so a few do. */
#define MOST_LEVEL_STEPS 60

static gboolean
pours_into_chamber (const NappeNetwork *network, guint node)
{
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_WEIR && network->links[i].from == node)
      return network->nodes[network->links[i].to].kind == NAPPE_NODE_CHAMBER;
  return FALSE;
}

static gboolean
is_pooled (const NappeNetwork *network, guint node)
{
  NappeNodeKind kind = network->nodes[node].kind;

  return kind == NAPPE_NODE_CHAMBER || kind == NAPPE_NODE_SOCK
         || (kind == NAPPE_NODE_VESSEL && pours_into_chamber (network, node));
}

void
nappe_pools_join (NappePools *self, guint node_a, guint node_b, double height)
{
  NappePoolEdge edge = { self->vessel_of[node_a], self->vessel_of[node_b], height };

  if (edge.a != G_MAXUINT && edge.b != G_MAXUINT && edge.a != edge.b)
    g_array_append_val (self->edges, edge);
}

/* Water passes over walls and spouts, under a gap, and through cloth from its lower end on. */
static void
join_neighbours (NappePools *self, const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_WEIR)
        nappe_pools_join (self, link->from, link->to, link->sill);
      else if (link->kind == NAPPE_LINK_GAP)
        nappe_pools_join (self, link->from, link->to, link->gap_floor);
      else if (link->kind == NAPPE_LINK_SOCK && link->sock.load < 1)
        nappe_pools_join (self, link->from, link->to, link->sock.bottom);
    }
}

NappePools *
nappe_pools_new (const NappeNetwork *network, const double *level)
{
  NappePools *self = g_new0 (NappePools, 1);

  self->node = g_new0 (const NappeNode *, network->n_nodes);
  self->level = g_new0 (double, network->n_nodes);
  self->pool = g_new0 (guint, network->n_nodes);
  self->reach = g_new0 (double, network->n_nodes);
  self->vessel_of = g_new0 (guint, network->n_nodes);
  self->n_nodes = network->n_nodes;
  self->nodes = network->nodes;
  self->edges = g_array_new (FALSE, FALSE, sizeof (NappePoolEdge));
  for (guint i = 0; i < network->n_nodes; i++)
    {
      self->vessel_of[i] = G_MAXUINT;
      if (!is_pooled (network, i))
        continue;
      self->vessel_of[i] = self->n;
      self->node[self->n++] = &network->nodes[i];
    }
  join_neighbours (self, network);
  nappe_pools_reset (self, level);
  return self;
}

void
nappe_pools_reset (NappePools *self, const double *level)
{
  self->spilled = 0;
  for (guint i = 0; i < self->n_nodes; i++)
    {
      guint vessel = self->vessel_of[i];

      if (vessel == G_MAXUINT)
        continue;
      self->level[vessel] = fmax (level[i], self->nodes[i].floor);
      self->pool[vessel] = vessel;
    }
}

void
nappe_pools_free (NappePools *self)
{
  if (self == NULL)
    return;
  g_free (self->node);
  g_free (self->level);
  g_free (self->pool);
  g_free (self->reach);
  g_free (self->vessel_of);
  g_array_free (self->edges, TRUE);
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

static double
pool_volume (const NappePools *self, guint pool, double level, double *area)
{
  double sum = 0;

  *area = 0;
  for (guint i = 0; i < self->n; i++)
    {
      const NappeNode *node = self->node[i];

      if (self->pool[i] != pool)
        continue;
      sum += nappe_node_volume (node, level);
      if (level >= node->floor)
        *area += level < node->step ? node->area_low : node->area;
    }
  return sum;
}

/* The level between two others at which the pool holds a volume. */
static double
pool_level (const NappePools *self, guint pool, double low, double high, double volume)
{
  double level = low;

  for (guint step = 0; step < MOST_LEVEL_STEPS; step++)
    {
      double area, miss = volume - pool_volume (self, pool, level, &area);

      if (fabs (miss) <= 1e-15)
        break;
      if (miss > 0)
        low = level;
      else
        high = level;
      double next = area > 0 ? level + miss / area : high;
      level = next > low && next <= high ? next : isfinite (high) ? 0.5 * (low + high) : next;
    }
  return level;
}

static void
set_pool (NappePools *self, guint pool, double level)
{
  for (guint i = 0; i < self->n; i++)
    if (self->pool[i] == pool)
      self->level[i] = level;
}

/* The pool's lowest way out. neighbour: the vessel beyond it, or G_MAXUINT for the floor. Of equal ways water takes
 * one to a vessel rather than one to the floor, and the one to the lowest vessel. */
static double
lowest_edge (const NappePools *self, guint pool, guint *neighbour)
{
  double height = INFINITY;

  *neighbour = G_MAXUINT;
  for (guint i = 0; i < self->n; i++)
    if (self->pool[i] == pool)
      height = fmin (height, self->node[i]->rim);
  for (guint e = 0; e < self->edges->len; e++)
    {
      const NappePoolEdge *edge = &g_array_index (self->edges, NappePoolEdge, e);
      gboolean has_a = self->pool[edge->a] == pool, has_b = self->pool[edge->b] == pool;
      guint beyond = has_a ? edge->b : edge->a;

      if (has_a == has_b || edge->height > height)
        continue;
      if (edge->height < height || *neighbour == G_MAXUINT || self->level[beyond] < self->level[*neighbour])
        *neighbour = beyond;
      height = edge->height;
    }
  return height;
}

static void
merge (NappePools *self, guint a, guint b)
{
  guint into = MIN (self->pool[a], self->pool[b]), gone = MAX (self->pool[a], self->pool[b]);

  for (guint i = 0; i < self->n; i++)
    if (self->pool[i] == gone)
      self->pool[i] = into;
}

void
nappe_pools_pour (NappePools *self, guint vessel, double volume)
{
  while (volume > 0)
    {
      guint pool = self->pool[vessel], neighbour;
      double height = lowest_edge (self, pool, &neighbour), level = self->level[vessel], area;
      double have = pool_volume (self, pool, level, &area);
      double room = fmax (0, pool_volume (self, pool, height, &area) - have);

      if (volume <= room)
        {
          set_pool (self, pool, pool_level (self, pool, level, height, have + volume));
          return;
        }
      volume -= room;
      set_pool (self, pool, fmax (level, height));
      if (neighbour == G_MAXUINT)
        {
          self->spilled += volume;
          return;
        }
      if (self->level[neighbour] >= height - SAME_LEVEL)
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
    self->pool[i] = i;
  for (guint i = 0; i < self->n; i++)
    {
      guint neighbour;
      double height = lowest_edge (self, i, &neighbour);
      double keep = fmin (self->level[i], fmax (height, self->node[i]->floor));

      excess[i] = nappe_node_volume (self->node[i], self->level[i]) - nappe_node_volume (self->node[i], keep);
      self->level[i] = keep;
    }
  for (guint i = 0; i < self->n; i++)
    nappe_pools_pour (self, i, excess[i]);
}

/* Where each vessel ends when one is emptied to a level: at the highest edge on the lowest path between the two. */
static void
find_reach (const NappePools *self, guint vessel, double level)
{
  gboolean moved = TRUE;

  for (guint i = 0; i < self->n; i++)
    self->reach[i] = i == vessel ? level : INFINITY;
  while (moved)
    {
      moved = FALSE;
      for (guint e = 0; e < self->edges->len; e++)
        {
          const NappePoolEdge *edge = &g_array_index (self->edges, NappePoolEdge, e);
          double to_a = fmax (edge->height, self->reach[edge->b]), to_b = fmax (edge->height, self->reach[edge->a]);

          moved |= to_a < self->reach[edge->a] || to_b < self->reach[edge->b];
          self->reach[edge->a] = fmin (self->reach[edge->a], to_a);
          self->reach[edge->b] = fmin (self->reach[edge->b], to_b);
        }
    }
  for (guint i = 0; i < self->n; i++)
    self->reach[i] = fmin (self->reach[i], self->level[i]);
}

void
nappe_pools_drain (NappePools *self, guint vessel, double level)
{
  find_reach (self, vessel, level);
  for (guint i = 0; i < self->n; i++)
    {
      self->level[i] = self->reach[i];
      self->pool[i] = i;
    }
}

double
nappe_pools_drainable (const NappePools *self, guint vessel, double level)
{
  double sum = 0;

  find_reach (self, vessel, level);
  for (guint i = 0; i < self->n; i++)
    sum += nappe_node_volume (self->node[i], self->level[i]) - nappe_node_volume (self->node[i], self->reach[i]);
  return sum;
}

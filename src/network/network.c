/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "network/network.h"

#include "physics/fitting.h"

#include <math.h>

NappeNetwork *
nappe_network_copy (const NappeNetwork *self)
{
  NappeNetwork *copy = g_memdup2 (self, sizeof *self);

  copy->nodes = g_memdup2 (self->nodes, self->n_nodes * sizeof *self->nodes);
  copy->links = g_memdup2 (self->links, self->n_links * sizeof *self->links);
  copy->stretches = g_memdup2 (self->stretches, self->n_stretches * sizeof *self->stretches);
  copy->contents = g_memdup2 (self->contents, self->n_contents * sizeof *self->contents);
  copy->level_pieces = g_memdup2 (self->level_pieces, self->n_level_pieces * sizeof *self->level_pieces);
  copy->problems = g_memdup2 (self->problems, self->n_problems * sizeof *self->problems);
  for (guint i = 0; i < self->n_problems; i++)
    copy->problems[i].text = g_strdup (self->problems[i].text);
  if (self->catalogue != NULL)
    copy->catalogue = nappe_catalogue_ref (self->catalogue);
  return copy;
}

void
nappe_network_free (NappeNetwork *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; i < self->n_problems; i++)
    g_free (self->problems[i].text);
  g_free (self->nodes);
  g_free (self->links);
  g_free (self->stretches);
  g_free (self->contents);
  g_free (self->level_pieces);
  g_free (self->problems);
  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
  g_free (self);
}

gint
nappe_network_find_node (const NappeNetwork *self, const char *id)
{
  for (guint i = 0; i < self->n_nodes; i++)
    if (*self->nodes[i].id != '\0' && g_str_equal (self->nodes[i].id, id))
      return (gint) i;
  return -1;
}

gint
nappe_network_find_link (const NappeNetwork *self, NappeLinkKind kind, const char *id)
{
  for (guint i = 0; i < self->n_links; i++)
    if (self->links[i].kind == kind && g_str_equal (self->links[i].id, id))
      return (gint) i;
  return -1;
}

void
nappe_network_block (NappeNetwork *self, guint link, double open_share)
{
  NappeLink *drain = &self->links[link];

  g_return_if_fail (drain->kind == NAPPE_LINK_DRAIN);
  drain->open_share = CLAMP (open_share, 0, 1);
  self->stretches[drain->first_stretch].k = drain->inlet.entrance_k + nappe_k_plate (drain->open_share);
}

void
nappe_network_set_opening (NappeNetwork *self, guint link, double opening)
{
  NappeLinkValve *valve = &self->links[link].valve;

  g_return_if_fail (valve->n_points > 0);
  valve->opening = opening;
  valve->k = nappe_valve_k (valve->points, valve->n_points, opening);
  self->links[link].shut = !isfinite (valve->k);
  self->stretches[valve->stretch].k = valve->k;
}

double
nappe_node_volume (const NappeNode *node, double level)
{
  double low = MIN (level, node->step) - node->floor;
  double high = level - MAX (node->step, node->floor);

  return (low > 0 ? low * node->area_low : 0) + (high > 0 ? high * node->area : 0);
}

double
nappe_node_level (const NappeNode *node, double volume)
{
  double low = fmax (0, node->step - node->floor);

  if (volume <= low * node->area_low)
    return node->floor + (node->area_low > 0 ? volume / node->area_low : 0);
  return node->floor + low + (volume - low * node->area_low) / node->area;
}

double
nappe_network_volume (const NappeNetwork *self, const double *level)
{
  double sum = 0;

  for (guint i = 0; i < self->n_nodes; i++)
    if (self->nodes[i].kind != NAPPE_NODE_FLOOR && self->nodes[i].kind != NAPPE_NODE_JUNCTION)
      sum += nappe_node_volume (&self->nodes[i], level[i]);
  return sum;
}

gint
nappe_network_valve_link (const NappeNetwork *self, guint drain)
{
  /* Sections of a trunk are compiled in the direction of the flow. */
  for (guint i = drain; i < self->n_links; i++)
    if (self->links[i].trunk && self->links[i].valve.n_points > 0
        && g_str_equal (self->links[i].line, self->links[drain].line))
      return (gint) i;
  return -1;
}

double
nappe_link_content (const NappeNetwork *self, const NappeLink *link)
{
  double sum = 0;

  for (guint i = 0; i < link->n_contents; i++)
    sum += self->contents[link->first_content + i].volume;
  return sum;
}

double
nappe_link_content_below (const NappeNetwork *self, const NappeLink *link, double level)
{
  double sum = 0;

  for (guint i = 0; i < link->n_contents; i++)
    {
      const NappeContent *content = &self->contents[link->first_content + i];

      if (level >= content->high)
        sum += content->volume;
      else if (level > content->low)
        sum += content->volume * (level - content->low) / (content->high - content->low);
    }
  return sum;
}

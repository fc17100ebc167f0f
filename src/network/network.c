/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "network/network.h"

#include "physics/fitting.h"

#include <math.h>
#include <string.h>

NappeNetwork *
nappe_network_copy (const NappeNetwork *self)
{
  NappeNetwork *copy = g_memdup2 (self, sizeof *self);

  copy->nodes = g_memdup2 (self->nodes, self->n_nodes * sizeof *self->nodes);
  copy->links = g_memdup2 (self->links, self->n_links * sizeof *self->links);
  copy->stretches = g_memdup2 (self->stretches, self->n_stretches * sizeof *self->stretches);
  copy->losses = g_memdup2 (self->losses, self->n_losses * sizeof *self->losses);
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
  g_free (self->losses);
  g_free (self->contents);
  g_free (self->level_pieces);
  g_free (self->problems);
  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
  g_free (self);
}

/* memcpy that takes an empty pool. */
static void *
overwrite (void *into, const void *from, gsize size)
{
  return size > 0 ? memcpy (into, from, size) : into;
}

void
nappe_network_restore (NappeNetwork *self, const NappeNetwork *original)
{
  NappeNetwork own = *self;

  g_return_if_fail (self->n_nodes == original->n_nodes && self->n_links == original->n_links
                    && self->n_stretches == original->n_stretches && self->n_losses == original->n_losses
                    && self->n_contents == original->n_contents && self->n_level_pieces == original->n_level_pieces
                    && self->n_problems == original->n_problems);
  *self = *original;
  self->nodes = overwrite (own.nodes, original->nodes, own.n_nodes * sizeof *own.nodes);
  self->links = overwrite (own.links, original->links, own.n_links * sizeof *own.links);
  self->stretches = overwrite (own.stretches, original->stretches, own.n_stretches * sizeof *own.stretches);
  self->losses = overwrite (own.losses, original->losses, own.n_losses * sizeof *own.losses);
  self->contents = overwrite (own.contents, original->contents, own.n_contents * sizeof *own.contents);
  self->level_pieces = overwrite (own.level_pieces, original->level_pieces, own.n_level_pieces * sizeof *own.level_pieces);
  /* Scenarios change no problem and no catalogue. */
  self->problems = own.problems;
  self->catalogue = own.catalogue;
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

/* Gives what is a stretch of its own, and its entry among the losses, another coefficient. */
static void
set_k (NappeNetwork *self, const NappeLink *link, guint stretch, double k)
{
  self->stretches[stretch].k = k;
  for (guint i = link->first_loss; i < link->first_loss + link->n_losses; i++)
    if (self->losses[i].stretch == stretch)
      self->losses[i].k = k;
}

void
nappe_network_block (NappeNetwork *self, guint link, double open_share)
{
  NappeLink *drain = &self->links[link];

  g_return_if_fail (drain->kind == NAPPE_LINK_DRAIN);
  drain->open_share = CLAMP (open_share, 0, 1);
  set_k (self, drain, drain->first_stretch, drain->inlet.entrance_k + nappe_k_plate (drain->open_share));
}

void
nappe_network_block_weir (NappeNetwork *self, guint link, double open_share)
{
  g_return_if_fail (self->links[link].kind == NAPPE_LINK_WEIR);
  self->links[link].weir.open_share = CLAMP (open_share, 0, 1);
}

/* Of equal bulkheads or tubes the flow falls as their open area does. */
void
nappe_network_block_joint (NappeNetwork *self, guint link, double open_share)
{
  NappeLink *joint = &self->links[link];

  joint->open_share = open_share;
  joint->joint.primed = joint->joint.siphon && open_share > 0;
}

void
nappe_network_set_opening (NappeNetwork *self, guint link, double opening)
{
  NappeLinkValve *valve = &self->links[link].valve;
  gboolean shut = FALSE;

  g_return_if_fail (valve->n_points > 0);
  valve->opening = opening;
  valve->k = nappe_valve_k (valve->points, valve->n_points, opening);
  set_k (self, &self->links[link], valve->stretch, valve->k);
  /* Another valve along the link may be shut. */
  for (guint i = 0; i < self->links[link].n_stretches; i++)
    shut |= !isfinite (self->stretches[self->links[link].first_stretch + i].k);
  self->links[link].shut = shut;
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

static double
content_below (const NappeNetwork *self, const NappeLink *link, guint n, double level)
{
  double sum = 0;

  for (guint i = 0; i < n; i++)
    {
      const NappeContent *content = &self->contents[link->first_content + i];

      if (level >= content->high)
        sum += content->volume;
      else if (level > content->low)
        sum += content->volume * (level - content->low) / (content->high - content->low);
    }
  return sum;
}

double
nappe_link_content_below (const NappeNetwork *self, const NappeLink *link, double level)
{
  return content_below (self, link, link->n_contents, level);
}

double
nappe_link_content_held (const NappeNetwork *self, const NappeLink *link, double level)
{
  double sum = content_below (self, link, link->n_before_check, level);

  for (guint i = link->n_before_check; i < link->n_contents; i++)
    sum += self->contents[link->first_content + i].volume;
  return sum;
}

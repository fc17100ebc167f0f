/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a build and its layout to vessels and links: what the parts of the compiler share, and what is found last. */
#include "network/compile-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdarg.h>

guint
nappe_compiler_add_node (NappeCompiler *self, NappePart *part, NappeNodeKind kind)
{
  NappeNode node = { .kind = kind, .chamber_role = -1, .floor = -INFINITY, .rim = INFINITY, .step = -INFINITY };

  if (part != NULL)
    g_strlcpy (node.id, nappe_part_get_id (part), sizeof node.id);
  g_array_append_val (self->nodes, node);
  return self->nodes->len - 1;
}

NappeLink *
nappe_compiler_add_link (NappeCompiler *self, NappePart *part, NappeLinkKind kind, guint from, guint to)
{
  NappeLink link = { .kind = kind,
                     .from = from,
                     .to = to,
                     .open_share = 1,
                     .sill = -INFINITY,
                     .siphon_break = -INFINITY,
                     .highest = -INFINITY,
                     .drain = -1,
                     .pump = -1,
                     .inlet_bore = NAN,
                     .pump_inlet = NAN,
                     .count = 1,
                     .sill_low = NAN,
                     .sill_high = NAN,
                     .valve = { .turns = NAN } };

  if (part != NULL)
    g_strlcpy (link.id, nappe_part_get_id (part), sizeof link.id);
  g_array_append_val (self->links, link);
  return &g_array_index (self->links, NappeLink, self->links->len - 1);
}

NappeNode *
nappe_compiler_node (NappeCompiler *self, guint index)
{
  return &g_array_index (self->nodes, NappeNode, index);
}

gint
nappe_compiler_vessel (NappeCompiler *self, const char *id)
{
  for (guint i = 0; i < self->nodes->len && *id != '\0'; i++)
    if (g_str_equal (nappe_compiler_node (self, i)->id, id))
      return (gint) i;
  return -1;
}

void
nappe_compiler_problem (NappeCompiler *self, NappePart *part, const char *format, ...)
{
  NappeProblem problem = { 0 };
  va_list arguments;

  va_start (arguments, format);
  problem.text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  if (part != NULL)
    g_strlcpy (problem.part, nappe_part_get_id (part), sizeof problem.part);
  g_array_append_val (self->problems, problem);
}

/* The first pump that draws from the sump; one that feeds a side vessel from the tank brings nothing back up. */
static void
find_return_chamber (NappeCompiler *self)
{
  NappeNetwork *network = self->network;

  for (guint i = 0; i < self->links->len; i++)
    {
      const NappeLink *link = &g_array_index (self->links, NappeLink, i);

      if (link->kind == NAPPE_LINK_PUMP && nappe_compiler_node (self, link->from)->kind == NAPPE_NODE_CHAMBER
          && network->return_chamber == G_MAXUINT)
        network->return_chamber = link->from;
    }
  network->kept_level = NAN;
  if (network->return_chamber == G_MAXUINT)
    {
      nappe_compiler_problem (self, NULL, _("No pump brings the water back up."));
      return;
    }
  if (nappe_is_given (network->total_volume))
    return; /* the level follows from it */
  NappePart *part = nappe_build_find (self->build, nappe_compiler_node (self, network->return_chamber)->id);
  if (nappe_is_given (NAPPE_CHAMBER (part)->kept_level))
    network->kept_level = self->layout->sump.floor + NAPPE_CHAMBER (part)->kept_level;
  else
    {
      network->return_chamber = G_MAXUINT;
      nappe_compiler_problem (self, part, _("The level kept in this chamber is not given, so no level can be computed."));
    }
}

/* Flow of a top-off's pump: its own, its item's, or what small ones usually give (common practice: a litre a minute) [m3/s]. */
static double
top_off_flow (const NappeEquipment *part, NappeCatalogue *catalogue)
{
  const NappeItem *item = nappe_catalogue_find (catalogue, part->item);

  if (nappe_is_given (part->flow) && part->flow > 0)
    return part->flow;
  return item != NULL && item->flow > 0 ? item->flow : 1e-3 / 60;
}

/* What a top-off can add: the reservoir's water, when something is there to move it. */
static void
find_reservoir (NappeCompiler *self)
{
  NappeNetwork *network = self->network;
  double flow = 0;

  for (guint i = 0; i < self->build->equipment->len; i++)
    {
      const NappeEquipment *part = NAPPE_EQUIPMENT (self->build->equipment->pdata[i]);

      if (part->kind == NAPPE_EQUIPMENT_TOP_OFF)
        flow += MAX (part->count, 1) * top_off_flow (part, network->catalogue);
    }
  if (network->reservoir == G_MAXUINT)
    return;
  const NappeNode *node = nappe_compiler_node (self, network->reservoir);
  const NappeChamber *part = NAPPE_CHAMBER (nappe_build_find (self->build, node->id));
  network->reservoir_level = node->floor + (nappe_is_given (part->kept_level) ? part->kept_level : 0);
  network->top_off_flow = flow;
  if (flow > 0)
    network->reservoir_volume = nappe_node_volume (node, network->reservoir_level);
}

/* Whether water comes into a box at all: over a weir, or from an inner box. */
static gboolean
is_fed (NappeCompiler *self, guint box)
{
  for (guint i = 0; i < self->links->len; i++)
    {
      const NappeLink *link = &g_array_index (self->links, NappeLink, i);

      if (link->to == box && (link->kind == NAPPE_LINK_WEIR || link->kind == NAPPE_LINK_JOINT))
        return TRUE;
    }
  return FALSE;
}

static gboolean
has_way_down (NappeCompiler *self)
{
  for (guint i = 0; i < self->links->len; i++)
    {
      const NappeLink *link = &g_array_index (self->links, NappeLink, i);

      if (link->kind == NAPPE_LINK_DRAIN && !link->shut && is_fed (self, link->from))
        return TRUE;
    }
  return FALSE;
}

static gboolean
has_way_up (NappeCompiler *self)
{
  for (guint i = 0; i < self->links->len; i++)
    {
      const NappeLink *link = &g_array_index (self->links, NappeLink, i);

      if (link->kind == NAPPE_LINK_PUMP && link->speed > 0 && nappe_compiler_node (self, link->from)->kind == NAPPE_NODE_CHAMBER)
        return TRUE;
    }
  return FALSE;
}

static void
hand_over (NappeCompiler *self)
{
  NappeNetwork *network = self->network;

  network->n_nodes = self->nodes->len;
  network->n_links = self->links->len;
  network->n_stretches = self->stretches->len;
  network->n_losses = self->losses->len;
  network->n_contents = self->contents->len;
  network->n_level_pieces = self->level_pieces->len;
  network->n_problems = self->problems->len;
  network->nodes = (NappeNode *) (void *) g_array_free (self->nodes, FALSE);
  network->links = (NappeLink *) (void *) g_array_free (self->links, FALSE);
  network->stretches = (NappeStretch *) (void *) g_array_free (self->stretches, FALSE);
  network->losses = (NappeLoss *) (void *) g_array_free (self->losses, FALSE);
  network->contents = (NappeContent *) (void *) g_array_free (self->contents, FALSE);
  network->level_pieces = (NappeLevelPiece *) (void *) g_array_free (self->level_pieces, FALSE);
  network->problems = (NappeProblem *) (void *) g_array_free (self->problems, FALSE);
}

/* Tells each pipe which drain or pump it hangs on. */
static void
join_lines (NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    for (guint head = 0; head < network->n_links && network->links[i].kind == NAPPE_LINK_PIPE; head++)
      {
        if (!g_str_equal (network->links[head].line, network->links[i].line))
          continue;
        if (network->links[head].kind == NAPPE_LINK_DRAIN)
          network->links[i].drain = (gint) head;
        else if (network->links[head].kind == NAPPE_LINK_PUMP)
          network->links[i].pump = (gint) head;
      }
}

NappeNetwork *
nappe_network_compile (NappeBuild *build, const NappeLayout *layout, NappeCatalogue *catalogue)
{
  NappeNetwork *network = g_new0 (NappeNetwork, 1);
  NappeCompiler self = { .build = build,
                         .layout = layout,
                         .nodes = g_array_new (FALSE, FALSE, sizeof (NappeNode)),
                         .links = g_array_new (FALSE, FALSE, sizeof (NappeLink)),
                         .stretches = g_array_new (FALSE, FALSE, sizeof (NappeStretch)),
                         .losses = g_array_new (FALSE, FALSE, sizeof (NappeLoss)),
                         .contents = g_array_new (FALSE, FALSE, sizeof (NappeContent)),
                         .level_pieces = g_array_new (FALSE, FALSE, sizeof (NappeLevelPiece)),
                         .problems = g_array_new (FALSE, FALSE, sizeof (NappeProblem)),
                         .network = network };

  network->return_chamber = network->reservoir = G_MAXUINT;
  network->total_volume = NAPPE_BUILD_WATER (build)->total_volume;
  network->trickle = NAPPE_BUILD_TARGETS (build)->trickle;
  network->bubble_size = NAPPE_BUILD_TARGETS (build)->bubble_size;
  network->catalogue = nappe_catalogue_ref (catalogue);
  nappe_water_init (&network->water, NAPPE_BUILD_WATER (build)->temperature, NAPPE_BUILD_WATER (build)->salinity);
  network->floor = nappe_compiler_add_node (&self, NULL, NAPPE_NODE_FLOOR);
  nappe_compiler_node (&self, network->floor)->floor = 0;
  nappe_compile_vessels (&self);
  for (guint i = 0; i < layout->n_drains; i++)
    nappe_compile_drain (&self, &layout->drains[i]);
  for (guint i = 0; i < layout->n_returns; i++)
    nappe_compile_return (&self, &layout->returns[i]);
  find_return_chamber (&self);
  find_reservoir (&self);
  if (layout->n_boxes == 0)
    nappe_compiler_problem (&self, build->tank, _("The tank has no overflow box."));
  else if (!has_way_down (&self))
    nappe_compiler_problem (&self, NULL, _("No open drain leads down to the sump."));
  network->runnable = network->return_chamber != G_MAXUINT && has_way_down (&self) && has_way_up (&self);
  hand_over (&self);
  join_lines (network);
  return network;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a build and its layout to vessels and links. */
#include "network/compile-private.h"

#include "physics/orifice.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdarg.h>

/* Rock lies in the lower part of a display: below this share of the weir's height. */
#define ROCK_HEIGHT_SHARE 0.75
/* However much rock, this share of the plan stays water. */
#define LEAST_OPEN_PLAN 0.1

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
  NappeLink link = { .kind = kind, .from = from, .to = to, .open_share = 1, .sill = -INFINITY,
                     .siphon_break = -INFINITY, .highest = -INFINITY, .drain = -1, .pump = -1, .inlet_bore = NAN, .pump_inlet = NAN,
                     .count = 1, .sill_low = NAN, .sill_high = NAN };

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

/* A vessel's top edge, over which water goes to the floor. */
static void
add_rim (NappeCompiler *self, NappePart *part, guint node, const NappeFrame *frame, double thickness)
{
  NappeLink *link = nappe_compiler_add_link (self, part, NAPPE_LINK_RIM, node, self->network->floor);

  link->sill = frame->rim;
  link->weir = (NappeWeir){ .length = 2 * (frame->right - frame->left + frame->back - frame->front),
                            .height = frame->rim - frame->floor,
                            .thickness = thickness,
                            .open_share = 1 };
}

static void
set_vessel (NappeNode *node, const NappeFrame *frame, double area)
{
  node->floor = frame->floor;
  node->rim = frame->rim;
  node->area = node->area_low = area;
}

/* Plan that internal boxes take from the display [m2]. */
static double
box_footprints (const NappeLayout *layout)
{
  double sum = 0;

  for (guint i = 0; i < layout->n_boxes; i++)
    {
      const NappeBoxLayout *box = &layout->boxes[i];
      double wall = box->part->wall_thickness;

      if (box->part->style == NAPPE_OVERFLOW_INTERNAL)
        sum += (box->frame.right - box->frame.left + wall) * (box->frame.back - box->frame.front + wall);
    }
  return sum;
}

static void
compile_display (NappeCompiler *self)
{
  const NappeTank *tank = NAPPE_BUILD_TANK (self->build);
  const NappeFrame *frame = &self->layout->tank;
  guint index = nappe_compiler_add_node (self, self->build->tank, NAPPE_NODE_DISPLAY);
  NappeNode *node = nappe_compiler_node (self, index);
  double plan = tank->length * tank->width;
  double area = fmax (plan - box_footprints (self->layout), LEAST_OPEN_PLAN * plan);
  double lowest_weir = frame->rim;

  self->network->display = index;
  set_vessel (node, frame, area);
  for (guint i = 0; i < self->layout->n_boxes; i++)
    lowest_weir = fmin (lowest_weir, self->layout->boxes[i].weir);
  double height = fmax (lowest_weir - frame->floor, 0);
  node->step = frame->floor + ROCK_HEIGHT_SHARE * height;
  node->area_low = area * fmax (1 - tank->displaced / ROCK_HEIGHT_SHARE, LEAST_OPEN_PLAN);
  add_rim (self, self->build->tank, index, frame, tank->wall_thickness);
}

static void
compile_box (NappeCompiler *self, const NappeBoxLayout *box)
{
  NappeOverflow *part = box->part;
  guint index = nappe_compiler_add_node (self, NAPPE_PART (part), NAPPE_NODE_BOX);

  set_vessel (nappe_compiler_node (self, index), &box->frame, part->length * part->width);
  /* What an internal box cannot hold goes back into the display: it brims with the tank. */
  if (part->style == NAPPE_OVERFLOW_INTERNAL)
    nappe_compiler_node (self, index)->rim = self->layout->tank.rim;
  NappeLink *link = nappe_compiler_add_link (self, NAPPE_PART (part), NAPPE_LINK_WEIR, self->network->display, index);
  link->sill = box->weir;
  link->weir = (NappeWeir){ .length = part->weir_length,
                            .height = part->weir_height,
                            .thickness = part->weir_thickness,
                            .slot_count = (guint) MAX (part->slot_count, 0),
                            .slot_width = part->slot_width,
                            .slot_depth = part->slot_depth,
                            .open_share = 1 };
  if (part->style != NAPPE_OVERFLOW_INTERNAL)
    add_rim (self, NAPPE_PART (part), index, &box->frame, part->wall_thickness);
}

static void
compile_chamber (NappeCompiler *self, const NappeChamberLayout *chamber)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (self->build);
  NappeChamber *part = chamber->part;
  guint index = nappe_compiler_add_node (self, NAPPE_PART (part), NAPPE_NODE_CHAMBER);
  NappeNode *node = nappe_compiler_node (self, index);

  /* Media and rock are counted up to the rim, so that free space is never overstated. */
  set_vessel (node, &chamber->frame, part->length * sump->width * fmax (1 - part->displaced, LEAST_OPEN_PLAN));
  node->chamber_role = part->role;
  add_rim (self, NAPPE_PART (part), index, &chamber->frame, sump->wall_thickness);
  if (part->role == NAPPE_CHAMBER_RESERVOIR && self->network->reservoir == G_MAXUINT)
    self->network->reservoir = index;
}

static void
compile_baffle (NappeCompiler *self, guint i)
{
  const NappeBaffleLayout *baffle = &self->layout->baffles[i];
  const NappeSump *sump = NAPPE_BUILD_SUMP (self->build);
  guint left = (guint) nappe_compiler_vessel (self, nappe_part_get_id (NAPPE_PART (self->layout->chambers[i].part)));
  NappePart *part = NAPPE_PART (baffle->part);
  NappeLink *link = nappe_compiler_add_link (self, part, NAPPE_LINK_WEIR, left, left + 1);

  link->sill = fmin (baffle->top, self->layout->sump.rim);
  if (nappe_is_given (baffle->part->lowest_top))
    link->sill_low = fmin (self->layout->sump.floor + baffle->part->lowest_top, self->layout->sump.rim);
  if (nappe_is_given (baffle->part->highest_top))
    link->sill_high = fmin (self->layout->sump.floor + baffle->part->highest_top, self->layout->sump.rim);
  link->weir = (NappeWeir){ .length = sump->width,
                            .height = link->sill - self->layout->sump.floor,
                            .thickness = baffle->part->thickness,
                            .open_share = 1 };
  if (baffle->part->gap_height <= 0)
    return;
  link = nappe_compiler_add_link (self, part, NAPPE_LINK_GAP, left, left + 1);
  link->gap_area = baffle->part->gap_height * sump->width;
  link->gap_floor = self->layout->sump.floor;
  link->weir.length = sump->width;
  link->sill = link->gap_floor;
}

static void
compile_sump (NappeCompiler *self)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (self->build);

  for (guint i = 0; i < self->layout->n_chambers; i++)
    compile_chamber (self, &self->layout->chambers[i]);
  for (guint i = 0; i < self->layout->n_baffles; i++)
    compile_baffle (self, i);
  if (sump->chambers->len == 0)
    nappe_compiler_problem (self, self->build->sump, _ ("The sump has no chamber."));
  else if (sump->baffles->len != sump->chambers->len - 1)
    nappe_compiler_problem (self, self->build->sump,
                            /* Translators: the first %u is a count of baffles, the second of chambers. */
                            _ ("%u baffles cannot divide %u chambers: between two neighbours stands one baffle."),
                            sump->baffles->len, sump->chambers->len);
}

static void
find_return_chamber (NappeCompiler *self)
{
  NappeNetwork *network = self->network;

  for (guint i = 0; i < self->links->len; i++)
    {
      const NappeLink *link = &g_array_index (self->links, NappeLink, i);

      if (link->kind == NAPPE_LINK_PUMP && network->return_chamber == G_MAXUINT)
        network->return_chamber = link->from;
    }
  if (network->return_chamber == G_MAXUINT)
    {
      nappe_compiler_problem (self, NULL, _ ("No pump brings the water back up."));
      return;
    }
  NappePart *part = nappe_build_find (self->build, nappe_compiler_node (self, network->return_chamber)->id);
  if (nappe_is_given (NAPPE_CHAMBER (part)->kept_level))
    network->kept_level = self->layout->sump.floor + NAPPE_CHAMBER (part)->kept_level;
  else
    {
      network->return_chamber = G_MAXUINT;
      nappe_compiler_problem (self, part, _ ("The level kept in this chamber is not given, so no level can be computed."));
    }
}

/* What a top-off can add: the reservoir's water, when something is there to move it. */
static void
find_reservoir (NappeCompiler *self)
{
  NappeNetwork *network = self->network;
  gboolean has_top_off = FALSE;

  for (guint i = 0; i < self->build->equipment->len; i++)
    has_top_off |= NAPPE_EQUIPMENT (self->build->equipment->pdata[i])->kind == NAPPE_EQUIPMENT_TOP_OFF;
  if (network->reservoir == G_MAXUINT)
    return;
  const NappeNode *node = nappe_compiler_node (self, network->reservoir);
  const NappeChamber *part = NAPPE_CHAMBER (nappe_build_find (self->build, node->id));
  network->reservoir_level = node->floor + (nappe_is_given (part->kept_level) ? part->kept_level : 0);
  if (has_top_off)
    network->reservoir_volume = nappe_node_volume (node, network->reservoir_level);
}

static gboolean
has_way (NappeCompiler *self, NappeLinkKind kind)
{
  for (guint i = 0; i < self->links->len; i++)
    {
      const NappeLink *link = &g_array_index (self->links, NappeLink, i);

      if (link->kind == kind && !link->shut && (kind != NAPPE_LINK_PUMP || link->speed > 0))
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
  NappeCompiler self = { build,
                         layout,
                         g_array_new (FALSE, FALSE, sizeof (NappeNode)),
                         g_array_new (FALSE, FALSE, sizeof (NappeLink)),
                         g_array_new (FALSE, FALSE, sizeof (NappeStretch)),
                         g_array_new (FALSE, FALSE, sizeof (NappeLoss)),
                         g_array_new (FALSE, FALSE, sizeof (NappeContent)),
                         g_array_new (FALSE, FALSE, sizeof (NappeLevelPiece)),
                         g_array_new (FALSE, FALSE, sizeof (NappeProblem)),
                         network };

  network->return_chamber = network->reservoir = G_MAXUINT;
  network->total_volume = NAPPE_BUILD_WATER (build)->total_volume;
  network->trickle = NAPPE_BUILD_TARGETS (build)->trickle;
  network->bubble_size = NAPPE_BUILD_TARGETS (build)->bubble_size;
  network->catalogue = nappe_catalogue_ref (catalogue);
  nappe_water_init (&network->water, NAPPE_BUILD_WATER (build)->temperature, NAPPE_BUILD_WATER (build)->salinity);
  network->floor = nappe_compiler_add_node (&self, NULL, NAPPE_NODE_FLOOR);
  nappe_compiler_node (&self, network->floor)->floor = 0;
  compile_display (&self);
  for (guint i = 0; i < layout->n_boxes; i++)
    compile_box (&self, &layout->boxes[i]);
  compile_sump (&self);
  for (guint i = 0; i < layout->n_drains; i++)
    nappe_compile_drain (&self, &layout->drains[i]);
  for (guint i = 0; i < layout->n_returns; i++)
    nappe_compile_return (&self, &layout->returns[i]);
  find_return_chamber (&self);
  find_reservoir (&self);
  if (layout->n_boxes == 0)
    nappe_compiler_problem (&self, build->tank, _ ("The tank has no overflow box."));
  else if (!has_way (&self, NAPPE_LINK_DRAIN))
    nappe_compiler_problem (&self, NULL, _ ("No open drain leads down to the sump."));
  network->runnable = network->return_chamber != G_MAXUINT && has_way (&self, NAPPE_LINK_DRAIN) && has_way (&self, NAPPE_LINK_PUMP);
  hand_over (&self);
  join_lines (network);
  return network;
}

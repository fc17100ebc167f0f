/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/open-water.h"

#include "physics/surface-heat.h"

#include <math.h>

/* Depth over the inlet below which a pump counts as drawing air [m]. */
#define AIR_DEPTH 0.010

static double
conductivity (int material)
{
  return material == NAPPE_MATERIAL_GLASS ? NAPPE_CONDUCTIVITY_GLASS : NAPPE_CONDUCTIVITY_ACRYLIC;
}

/* Depth of a vessel's running water; 0 for one that is not there. */
static double
depth_of (const NappeStudy *study, NappePart *part)
{
  gint index = nappe_network_find_node (study->network, nappe_part_get_id (part));

  if (index < 0)
    return 0;
  const NappeNode *node = &study->network->nodes[index];
  return fmax (0, fmin (study->running.level[index], node->rim) - node->floor);
}

/* A vessel with a surface of plan [m2] of which a share is covered, and walls of a length [m] to the room. */
static void
add_vessel (NappeOpenWater *self, double depth, double plan, double cover, double walls, double transmittance)
{
  if (depth <= 0)
    return;
  self->open += plan * (1 - cover);
  self->covered += plan * cover;
  self->wall_transmittance += walls * depth * transmittance;
}

static void
add_tank (NappeOpenWater *self, NappeBuild *build, const NappeStudy *study)
{
  const NappeTank *tank = NAPPE_BUILD_TANK (build);
  double transmittance = nappe_panel_transmittance (tank->wall_thickness, conductivity (tank->material));

  /* Boxes within the tank are part of its plan: they have a surface as well. */
  add_vessel (self, depth_of (study, build->tank), tank->length * tank->width, tank->cover,
              2 * (tank->length + tank->width), transmittance);
  for (guint i = 0; i < build->overflows->len; i++)
    {
      const NappeOverflow *box = build->overflows->pdata[i];

      if (box->style == NAPPE_OVERFLOW_INTERNAL)
        continue;
      /* Its fourth wall is the tank's. */
      add_vessel (self, depth_of (study, build->overflows->pdata[i]), box->length * box->width, 0,
                  box->length + box->width + fmin (box->length, box->width),
                  nappe_panel_transmittance (box->wall_thickness, conductivity (tank->material)));
    }
}

static void
add_sump (NappeOpenWater *self, NappeBuild *build, const NappeStudy *study)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  double transmittance = nappe_panel_transmittance (sump->wall_thickness, conductivity (sump->material));

  for (guint i = 0; i < sump->chambers->len; i++)
    {
      NappeChamber *chamber = sump->chambers->pdata[i];
      guint ends = (i == 0) + (i + 1 == sump->chambers->len);

      if (chamber->role != NAPPE_CHAMBER_RESERVOIR)
        add_vessel (self, depth_of (study, NAPPE_PART (chamber)), chamber->length * sump->width, 0,
                    2 * chamber->length + ends * sump->width, transmittance);
    }
}

gboolean
nappe_open_water_measure (NappeOpenWater *self, NappeBuild *build, const NappeStudy *study)
{
  *self = (NappeOpenWater){ 0 };
  add_tank (self, build, study);
  add_sump (self, build, study);
  for (guint i = 0; i < build->vessels->len; i++)
    {
      const NappeSideVessel *vessel = build->vessels->pdata[i];

      /* Its material is not known: glass, which lets more through, is the safe side. */
      add_vessel (self, depth_of (study, build->vessels->pdata[i]), vessel->length * vessel->width, 0,
                  2 * (vessel->length + vessel->width),
                  nappe_panel_transmittance (vessel->wall_thickness, NAPPE_CONDUCTIVITY_GLASS));
    }
  return self->open + self->covered > 0;
}

double
nappe_open_water_volume (const NappeStudy *study)
{
  const NappeNetwork *network = study->network;
  double all = study->running.vessels + study->running.pipes;

  if (network->reservoir != G_MAXUINT)
    all -= nappe_node_volume (&network->nodes[network->reservoir], study->running.level[network->reservoir]);
  return all;
}

/* Height down to which the water on both sides of a link falls together; INFINITY: the two are not tied. */
static double
tie_height (const NappeStudy *study, const NappeLink *link)
{
  double lower = fmin (study->running.level[link->from], study->running.level[link->to]);
  double height;

  switch (link->kind)
    {
    case NAPPE_LINK_GAP:
      height = link->gap_floor;
      break;
    case NAPPE_LINK_WEIR:
      height = link->sill; /* only a drowned one ties */
      break;
    case NAPPE_LINK_SOCK:
      height = link->sock.bottom;
      break;
    default:
      return INFINITY;
    }
  return lower > height ? height : INFINITY;
}

/* Height down to which each node follows the return chamber; INFINITY: it does not. */
static void
find_ties (const NappeStudy *study, double *tie)
{
  const NappeNetwork *network = study->network;

  for (guint i = 0; i < network->n_nodes; i++)
    tie[i] = INFINITY;
  tie[network->return_chamber] = network->nodes[network->return_chamber].floor;
  for (guint round = 0; round < network->n_nodes; round++)
    for (guint i = 0; i < network->n_links; i++)
      {
        const NappeLink *link = &network->links[i];
        double height = tie_height (study, link);

        if (link->from == network->reservoir || link->to == network->reservoir)
          continue;
        tie[link->to] = fmin (tie[link->to], fmax (tie[link->from], height));
        tie[link->from] = fmin (tie[link->from], fmax (tie[link->to], height));
      }
}

double
nappe_open_water_fallen (const NappeStudy *study, double depth)
{
  const NappeNetwork *network = study->network;
  double sum = 0;

  if (network->return_chamber == G_MAXUINT)
    return 0;
  g_autofree double *tie = g_new (double, network->n_nodes);
  find_ties (study, tie);
  for (guint i = 0; i < network->n_nodes; i++)
    {
      double level = study->running.level[i];

      if (isfinite (tie[i]) && level > tie[i])
        sum += nappe_node_volume (&network->nodes[i], level)
               - nappe_node_volume (&network->nodes[i], fmax (level - depth, tie[i]));
    }
  return sum;
}

double
nappe_open_water_depth_to_air (const NappeStudy *study)
{
  const NappeNetwork *network = study->network;
  double highest = -INFINITY;

  if (network->return_chamber == G_MAXUINT)
    return INFINITY;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_PUMP && link->from == network->return_chamber && link->speed > 0)
        highest = fmax (highest, link->pump_inlet + AIR_DEPTH);
    }
  return study->running.level[network->return_chamber] - highest;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/loads.h"

#include "physics/gravity.h"
#include "physics/plate.h"
#include "study/open-water.h"

#include <math.h>

#define PASCAL_MPA 1e6
#define ROCK_DENSITY 2700.0 /* [kg/m3], calcite and aragonite are 2710 to 2930 (mineral handbooks) */
#define PVC_DENSITY 1400.0  /* [kg/m3], common handbook value */
#define PANELS_OF_A_VESSEL 3

/* What a panel is made of. */
typedef struct
{
  double density;    /* [kg/m3] */
  double elasticity; /* for loads of years [Pa]; 0: not known */
  double poisson;
  double strength;   /* for loads of years [Pa] */
} Material;

/* Glass: EN 572-1. Acrylic: a sheet creeps to about half of its short-term stiffness of 3.1 GPa within years (from memory). Of
 * another material only that plastics have about this density. */
static const Material materials[] = {
  [NAPPE_MATERIAL_GLASS] = { 2500, 70e9, 0.23, 0.29 * 45 * PASCAL_MPA / 1.8 },
  [NAPPE_MATERIAL_ACRYLIC] = { 1190, 1.5e9, 0.37, 5 * PASCAL_MPA },
  [NAPPE_MATERIAL_OTHER] = { 1190, 0, 0, 0 },
};

/* What tempering adds to the strength of glass, EN 16612 (from memory). */
#define TEMPERED_MORE ((120 - 45) * PASCAL_MPA / 1.2)

/* Inside measures of a tank or sump. */
typedef struct
{
  NappePart *part;
  double length, width, height, wall, bottom;
  int material;
  int bottom_temper, side_temper;
} Shell;

static Shell
tank_shell (NappeBuild *build)
{
  const NappeTank *tank = NAPPE_BUILD_TANK (build);

  return (Shell){ build->tank, tank->length, tank->width, tank->height, tank->wall_thickness, tank->bottom_thickness,
                  tank->material, tank->bottom_temper, tank->side_temper };
}

static Shell
sump_shell (NappeBuild *build)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);

  return (Shell){ build->sump, sump->length, sump->width, sump->height, sump->wall_thickness, sump->bottom_thickness,
                  sump->material, NAPPE_TEMPER_UNKNOWN, NAPPE_TEMPER_UNKNOWN };
}

/* Walls and bottom of an open box of inside measures [m3]. */
static double
shell_volume (double length, double width, double height, double wall, double bottom)
{
  double outside = (length + 2 * wall) * (width + 2 * wall);

  return (outside - length * width) * height + outside * bottom;
}

static double
strength_of (const Shell *shell, int side)
{
  const int tempers[] = {
    /* Of front and back the weaker counts, and nothing is said of the front. */
    [NAPPE_PANEL_FRONT] = NAPPE_TEMPER_UNKNOWN,
    [NAPPE_PANEL_SIDE] = shell->side_temper,
    [NAPPE_PANEL_BOTTOM] = shell->bottom_temper,
  };
  gboolean tempered = shell->material == NAPPE_MATERIAL_GLASS && tempers[side] == NAPPE_TEMPER_TEMPERED;

  return materials[shell->material].strength + (tempered ? TEMPERED_MORE : 0);
}

/* FALSE: its thickness or material is not known. */
static gboolean
solve_panel (NappePanel *solved, const Shell *shell, int side, double water_density)
{
  const Material *material = &materials[shell->material];
  gboolean lies = side == NAPPE_PANEL_BOTTOM;
  double pressure = water_density * NAPPE_GRAVITY * shell->height;
  NappePanel panel = { .side = side, .length = side == NAPPE_PANEL_SIDE ? shell->width : shell->length,
                       .height = lies ? shell->width : shell->height, .thickness = lies ? shell->bottom : shell->wall };
  NappePlateResult result;

  if (panel.thickness <= 0 || panel.length <= 0 || panel.height <= 0 || material->elasticity <= 0)
    return FALSE;
  nappe_plate_solve (&(NappePlate){ .length = panel.length, .height = panel.height, .thickness = panel.thickness,
                                    .elasticity = material->elasticity, .poisson = material->poisson,
                                    .load_bottom = pressure, .load_top = lies ? pressure : 0, .top_free = !lies },
                     &result);
  g_strlcpy (panel.part, nappe_part_get_id (shell->part), sizeof panel.part);
  panel.stress = result.stress;
  panel.stress_middle = result.stress_middle;
  panel.deflection = result.deflection;
  panel.small = result.small;
  panel.strength = strength_of (shell, side);
  panel.safety = panel.strength / panel.stress;
  *solved = panel;
  return TRUE;
}

static void
add_panels (NappeLoads *self, const Shell *shell, double water_density)
{
  for (int side = NAPPE_PANEL_FRONT; side <= NAPPE_PANEL_BOTTOM; side++)
    self->n_panels += solve_panel (&self->panels[self->n_panels], shell, side, water_density);
}

guint
nappe_loads_weakest_upright (NappeBuild *build, const NappeStudy *study, NappePanel panels[2])
{
  const Shell shells[] = { tank_shell (build), sump_shell (build) };
  double density = study->network->water.density;
  guint n = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (shells); i++)
    {
      NappePanel side;

      if (!solve_panel (&panels[n], &shells[i], NAPPE_PANEL_FRONT, density))
        continue;
      /* Of two panels as high and thick the longer one bends more, and no front counts as tempered. */
      if (shells[i].width > shells[i].length && solve_panel (&side, &shells[i], NAPPE_PANEL_SIDE, density)
          && side.safety < panels[n].safety)
        panels[n] = side;
      n++;
    }
  return n;
}

/* Walls of the overflow boxes [m3]. One within the tank has two walls of its own, as in a corner, and no bottom. */
static double
box_walls (NappeBuild *build)
{
  double sum = 0;

  for (guint i = 0; i < build->overflows->len; i++)
    {
      const NappeOverflow *box = build->overflows->pdata[i];
      double height = fmax (0, box->rim_height - box->floor_height);

      if (box->style == NAPPE_OVERFLOW_INTERNAL)
        sum += (box->length + box->width) * box->wall_thickness * height;
      else
        sum += shell_volume (box->length, box->width, height, box->wall_thickness, box->wall_thickness);
    }
  return sum;
}

static double
glass_mass (NappeBuild *build)
{
  const Shell shells[] = { tank_shell (build), sump_shell (build) };
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  double sum = materials[shells[0].material].density * box_walls (build);
  double baffles = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (shells); i++)
    sum += materials[shells[i].material].density
           * shell_volume (shells[i].length, shells[i].width, shells[i].height, shells[i].wall, shells[i].bottom);
  for (guint i = 0; i < sump->baffles->len; i++)
    {
      const NappeBaffle *baffle = sump->baffles->pdata[i];

      baffles += fmax (0, baffle->top_height - baffle->gap_height) * baffle->thickness * sump->width;
    }
  sum += materials[sump->material].density * baffles;
  for (guint i = 0; i < build->vessels->len; i++)
    {
      const NappeSideVessel *vessel = build->vessels->pdata[i];

      /* Of a material that is not given; glass is the heaviest. */
      sum += materials[NAPPE_MATERIAL_GLASS].density
             * shell_volume (vessel->length, vessel->width, vessel->height, vessel->wall_thickness, vessel->wall_thickness);
    }
  return sum;
}

static double
depth_of (const NappeStudy *study, const char *id)
{
  gint index = nappe_network_find_node (study->network, id);

  return index < 0 ? 0 : fmax (0, study->running.level[index] - study->network->nodes[index].floor);
}

/* What takes the place of water in the tank: a share of what would stand in it up to its lowest crest [m3]. */
static double
tank_rock (NappeBuild *build)
{
  const NappeTank *tank = NAPPE_BUILD_TANK (build);
  double depth = tank->height;

  for (guint i = 0; i < build->overflows->len; i++)
    depth = fmin (depth, NAPPE_OVERFLOW (build->overflows->pdata[i])->weir_height);
  return tank->displaced * tank->length * tank->width * depth;
}

typedef struct
{
  NappeCatalogue *catalogue;
  double volume; /* of pipe walls [m3] */
} PipeSum;

static void
add_pipe (NappePart *part, gpointer user_data)
{
  PipeSum *sum = user_data;

  if (!NAPPE_IS_PIECE (part))
    return;
  const NappeItem *item = nappe_catalogue_find (sum->catalogue, NAPPE_PIECE (part)->item);
  if (item != NULL && (item->kind == NAPPE_ITEM_PIPE || item->kind == NAPPE_ITEM_HOSE))
    sum->volume += G_PI_4 * fmax (0, item->outside_diameter * item->outside_diameter - item->bore * item->bore)
                   * NAPPE_PIECE (part)->length;
}

static double
pipe_mass (NappeBuild *build, NappeCatalogue *catalogue)
{
  PipeSum sum = { catalogue, 0 };

  nappe_part_visit (NAPPE_PART (build), add_pipe, &sum);
  return PVC_DENSITY * sum.volume;
}

static void
add_contents (NappeLoads *self, NappeBuild *build, const NappeStudy *study)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  double rock = tank_rock (build), other = 0;

  for (guint i = 0; i < sump->chambers->len; i++)
    {
      NappeChamber *chamber = sump->chambers->pdata[i];
      double volume = chamber->displaced * chamber->length * sump->width
                      * depth_of (study, nappe_part_get_id (NAPPE_PART (chamber)));

      if (chamber->role == NAPPE_CHAMBER_REFUGIUM)
        rock += volume;
      else
        other += volume;
    }
  for (guint i = 0; i < build->vessels->len; i++)
    {
      NappeSideVessel *vessel = build->vessels->pdata[i];

      rock += vessel->displaced * vessel->length * vessel->width * depth_of (study, nappe_part_get_id (NAPPE_PART (vessel)));
    }
  self->mass_rock = ROCK_DENSITY * rock;
  self->mass_other = study->network->water.density * other;
}

static double
water_mass (NappeBuild *build, const NappeStudy *study)
{
  double tank_water = nappe_open_water_volume (study);
  NappeWater fresh;

  nappe_water_init (&fresh, NAPPE_BUILD_ROOM (build)->temperature, 0);
  return study->network->water.density * tank_water
         + fresh.density * (study->running.vessels + study->running.pipes - tank_water);
}

NappeLoads *
nappe_loads_new_weight (NappeBuild *build, NappeCatalogue *catalogue, const NappeStudy *study)
{
  NappeLoads *self = g_new0 (NappeLoads, 1);
  const NappeStand *stand = NAPPE_BUILD_STAND (build);

  self->known = study->running.rest == NAPPE_REST_FOUND || study->running.rest == NAPPE_REST_CYCLES;
  self->footprint = stand->length * stand->width;
  self->floor_allowed = NAPPE_BUILD_ROOM (build)->floor_load;
  self->mass_water = self->mass_rock = self->mass_other = self->mass_glass = NAN;
  if (self->known)
    {
      self->mass_water = water_mass (build, study);
      self->mass_glass = glass_mass (build);
      add_contents (self, build, study);
      self->mass_other += pipe_mass (build, catalogue);
    }
  self->mass = self->mass_water + self->mass_glass + self->mass_rock + self->mass_other;
  self->floor_pressure = self->footprint > 0 ? self->mass * NAPPE_GRAVITY / self->footprint : NAN;
  return self;
}

NappeLoads *
nappe_loads_new (NappeBuild *build, NappeCatalogue *catalogue, const NappeStudy *study)
{
  NappeLoads *self = nappe_loads_new_weight (build, catalogue, study);
  const Shell shells[] = { tank_shell (build), sump_shell (build) };

  self->panels = g_new0 (NappePanel, G_N_ELEMENTS (shells) * PANELS_OF_A_VESSEL);
  for (gsize i = 0; i < G_N_ELEMENTS (shells); i++)
    add_panels (self, &shells[i], study->network->water.density);
  return self;
}

void
nappe_loads_free (NappeLoads *self)
{
  if (self == NULL)
    return;
  g_free (self->panels);
  g_free (self);
}

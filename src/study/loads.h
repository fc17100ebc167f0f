/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weight, load on the floor, stress and bending of panels. A caution for a person to have checked, never an approval. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_PANEL_FRONT,  /* front and back */
  NAPPE_PANEL_SIDE,   /* left and right */
  NAPPE_PANEL_BOTTOM, /* as if it rested on its four edges alone; one that lies on a flat plate carries next to nothing */
} NappePanelSide;

/* One upright panel or a bottom. Upright ones are held at the bottom and both sides, with no brace along the rim; every
 * edge is free to turn (physics/plate.h). Glue, which holds edges a little, and holes, which weaken, are left out. */
typedef struct
{
  char part[NAPPE_PART_ID_MAX + 1]; /* tank or sump */
  int side;            /* NappePanelSide */
  double length, height, thickness; /* clear span; water's depth at the rim, of a bottom its width; glass [m] */
  double stress;       /* greatest principal stress anywhere, water up to the rim [Pa] */
  double stress_middle; /* greatest on the upright middle line alone: what tables of plates give [Pa] */
  double deflection;   /* greatest [m]; of acrylic after years */
  /* Of the material as assumed for a load of years [Pa]. Glass by EN 16612 (from memory): annealed, and all of unknown
     temper, 0.29 * 45 / 1.8 = 7.25 MPa; tempered (120 - 45) / 1.2 more. Acrylic: 5 MPa (from memory). */
  double strength;
  double safety;       /* strength over stress */
  gboolean small;      /* deflection below half the thickness: the theory holds */
} NappePanel;

typedef struct
{
  gboolean known;      /* a steady state is there; else masses and pressure are NaN. Panels do not ask for one */
  /* Running [kg]. Water: in vessels, pipes and reservoir. Glass: panels of all vessels, of whatever they are made.
     Rock: what displaces water in tank, refugium and side vessels, by the density of limestone. Other: what displaces water in
     the other chambers, taken as heavy as that water, and pipes. Fittings and equipment are light beside these and not
     counted. */
  double mass_water, mass_glass, mass_rock, mass_other;
  double mass;          /* all [kg]; the stand's is not known and not counted */
  double footprint;     /* of the stand [m2] */
  double floor_pressure; /* weight over the footprint [Pa]; under feet or skids it is a multiple. NaN: no footprint */
  double floor_allowed; /* as given for the room [Pa]; NaN: not given */
  guint n_panels;       /* of tank and sump where thickness and material are known */
  NappePanel *panels;
} NappeLoads;

/* Transfer full, never NULL. */
NappeLoads *nappe_loads_new (NappeBuild *build, NappeCatalogue *catalogue, const NappeStudy *study);
/* The same without panels, which take nearly all the time. Transfer full, never NULL. */
NappeLoads *nappe_loads_new_weight (NappeBuild *build, NappeCatalogue *catalogue, const NappeStudy *study);
/* The upright panel with the least safety of the tank, then of the sump; a vessel of which thickness or material is not known
 * is left out. Returns how many. */
guint nappe_loads_weakest_upright (NappeBuild *build, const NappeStudy *study, NappePanel panels[2]);
void nappe_loads_free (NappeLoads *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeLoads, nappe_loads_free)

G_END_DECLS

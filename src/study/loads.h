/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weight, load on the floor, stress and bending of panels. A caution for a person to have checked, never an approval. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

/* One upright panel or a bottom. */
typedef struct
{
  char part[NAPPE_PART_ID_MAX + 1]; /* tank or sump */
  int side;            /* NappePanelSide */
  double length, height, thickness; /* clear span, water's depth at the rim, glass [m] */
  double stress;       /* greatest bending stress, water up to the rim [Pa] */
  double deflection;   /* greatest [m] */
  double strength;     /* of the material as assumed for a load of years [Pa] */
  double safety;       /* strength over stress */
  gboolean small;      /* deflection below half the thickness: the theory holds */
} NappePanel;
typedef enum { NAPPE_PANEL_FRONT, NAPPE_PANEL_SIDE, NAPPE_PANEL_BOTTOM } NappePanelSide;

typedef struct
{
  gboolean known;
  double mass_water, mass_glass, mass_rock, mass_other; /* full [kg]; rock: what displaces water, by the density of limestone */
  double mass;          /* all [kg]; the stand's is not known and not counted */
  double footprint;     /* of the stand [m2] */
  double floor_pressure; /* weight over the footprint [Pa] */
  double floor_allowed; /* as given for the room [Pa]; NaN: not given */
  guint n_panels;
  NappePanel *panels;
} NappeLoads;

/* Transfer full, never NULL. */
NappeLoads *nappe_loads_new (NappeBuild *build, NappeCatalogue *catalogue, const NappeStudy *study);
void nappe_loads_free (NappeLoads *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeLoads, nappe_loads_free)

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A flat rectangular panel that rests on its bottom and both upright edges, free to turn on them (simply supported).
 * The top edge is free, as in a tank without a rim, or rests too. The load is even along the length and changes evenly
 * from the bottom edge to the top one: water up to the rim has nothing at the top.
 * A caution for a person to have checked, never an approval: glued joints, bad edges and holes are not in it. */
typedef struct {
  double   length;      /* between the upright edges [m], > 0 */
  double   height;      /* from bottom to top edge [m], > 0; the width of a panel that lies */
  double   thickness;   /* [m], > 0 */
  double   elasticity;  /* Young's modulus [Pa], > 0 */
  double   poisson;     /* Poisson's ratio, 0..0.5 */
  double   load_bottom; /* pressure at the bottom edge [Pa] */
  double   load_top;    /* pressure at the top edge [Pa] */
  gboolean top_free;    /* the top edge is not held */
} NappePlate;

typedef struct {
  double   stress_middle; /* greatest bending stress along or up the upright middle line [Pa]: what tables of plates give */
  double   stress;        /* greatest principal stress anywhere [Pa], at least the above. In a long panel with a free top
                             it lies beside the upright edges: they alone keep the panel from turning on its bottom
                             edge, and that twists it the more the longer it is, which tables leave out */
  double   deflection;    /* greatest [m] */
  gboolean small;         /* deflection below half the thickness: the theory holds. Beyond it the panel is stiffer than said */
} NappePlateResult;

/* Bending of a thin plate with small deflection (Kirchhoff), by Levy's single series: Timoshenko and Woinowsky-Krieger,
 * Theory of Plates and Shells, articles 29 and following. Stress is 6 M / t^2. Exact but for the series' end and the
 * search for the greatest value, together within 0.1 % for lengths from a fiftieth to fifty times the height.
 * Every result is proportional to the load. */
void nappe_plate_solve (const NappePlate *plate,
                        NappePlateResult *result);

G_END_DECLS

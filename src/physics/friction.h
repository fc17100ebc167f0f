/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Darcy friction factor f of a round pipe, head loss = f (L/D) V^2/2g.
 * Below Re 2000 laminar, 64/Re (Hagen and Poiseuille). Above 4000 the Colebrook-White equation
 * 1/sqrt f = -2 lg (e/3.7 + 2.51/(Re sqrt f)) (Colebrook 1939). Between them no law holds; f Re^2, which is
 * head loss but for a constant, is joined by a cubic with the slopes of both ends, so that
 * head loss rises strictly and smoothly with flow.
 */

/* reynolds: V D / viscosity, > 0. relative_roughness: height of roughness over bore, >= 0.
 * Returns f; INFINITY at Re = 0. */
double nappe_friction_factor (double reynolds,
                              double relative_roughness);

/* f Re^2, finite and smooth from reynolds = 0 on. slope: (out) (nullable) its derivative by Re, > 0. */
double nappe_friction_group (double  reynolds,
                             double  relative_roughness,
                             double *slope);

G_END_DECLS

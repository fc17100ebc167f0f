/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "physics/water.h"

#include <glib.h>

G_BEGIN_DECLS

/* A length of full pipe of one bore with all fittings reckoned on that bore. */
typedef struct {
  double bore;      /* inner diameter [m], > 0 */
  double length;    /* [m], >= 0; 0 for a lone fitting */
  double roughness; /* height [m], >= 0; smooth plastic 1.5e-6 */
  double k;         /* sum of constant loss coefficients on V^2/2g; below 0 counts as 0; INFINITY is shut */
  double k1;        /* sum of the fittings' K1, adding k1/Re to k (Hooper 1981, Darby 1999), >= 0 */
} NappeStretch;

/*
 * Loss of head = (f L/D + k + k1/Re) V^2/2g (Darcy and Weisbach), f as in friction.h.
 * The part k V^2 has no slope at rest; where it is below 0.01 mm of head it is bent to a straight line
 * through zero, so that a run of mere fittings has a finite slope both ways.
 * All functions are odd in flow and head, and strictly increasing unless shut.
 */

/* flow [m3/s], positive along the pipe. Returns the loss of head [m], sign of flow. */
double nappe_stretch_head (const NappeStretch *stretch,
                           double              flow,
                           const NappeWater   *water);

/* Loss of head [m] of n stretches one behind the other.
 * slope: (out) (nullable) dh/dQ [s/m2], > 0; finite unless shut. */
double nappe_run_head (const NappeStretch *stretches,
                       gsize               n,
                       double              flow,
                       const NappeWater   *water,
                       double             *slope);

/* Flow [m3/s] that loses head [m] over the run: the inverse of nappe_run_head to 1e-12.
 * guess: flow near the answer [m3/s], or 0 for none; saves time, changes nothing else.
 * slope: (out) (nullable) dQ/dh [m2/s], finite, >= 0.
 * A shut run gives 0 and slope 0. A run with no loss at all is a bug of the caller: critical message, 0. */
double nappe_run_flow (const NappeStretch *stretches,
                       gsize               n,
                       double              head,
                       const NappeWater   *water,
                       double              guess,
                       double             *slope);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* One row of a valve's published table. Known to a factor of two at best when throttled. */
typedef struct {
  double opening; /* share of the handle's way, 1 open; > 0, rising from row to row */
  double k;       /* loss coefficient on V^2/2g of the valve's bore, > 0, finite, falling from row to row */
} NappeValvePoint;

/* A check valve has no table: its coefficient is that of the flap fully lifted (nappe_k_darby). Below the least speed that
 * lifts it, 35 ft/s times the root of the water's volume in ft3/lb, or 1.35 m/s (Crane TP-410, swing check, made for flaps
 * of metal), the flap hangs partly open and about the head that it takes there is lost at any flow: up to
 * K (1.35 m/s)^2 / 2g. No source has that for light flaps of plastic, so it is left out, and a slow line with a check
 * valve carries less than reckoned: the safe side for floods, not for turnover. */

/* points: n rows, n >= 1. opening: 0..1. Returns K: ln K straight between rows; the last row's K above it; below
 * the first row K ~ opening^-m, m carried on from the first two rows and at least 2 (a narrow slot),
 * so that K rises without bound; INFINITY at opening <= 0. Strictly falling where rows do. */
double nappe_valve_k (const NappeValvePoint *points,
                      gsize                  n,
                      double                 opening);

/* The opening (0..1) at which the valve has loss coefficient k; the last row's opening when k is less than
 * the open valve has, 0 when k is INFINITY. */
double nappe_valve_opening_for_k (const NappeValvePoint *points,
                                  gsize                  n,
                                  double                 k);

G_END_DECLS

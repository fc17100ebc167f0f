/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define NAPPE_PUMP_CURVE_MAX 16

/* Head against flow at full speed, joined by a monotone cubic (Fritsch and Carlson 1980; slopes by the weighted harmonic mean
 * of Fritsch and Butland 1984). Fill by nappe_pump_curve_init only. */
typedef struct {
  gsize  n;                           /* points, 2..NAPPE_PUMP_CURVE_MAX */
  double flow[NAPPE_PUMP_CURVE_MAX];  /* [m3/s], rising, first >= 0 */
  double head[NAPPE_PUMP_CURVE_MAX];  /* [m], falling */
  double slope[NAPPE_PUMP_CURVE_MAX]; /* dH/dQ at the points [s/m2], < 0 */
} NappePumpCurve;

/* flows [m3/s], heads [m]: n values each. FALSE, and curve untouched, unless 2 <= n <= NAPPE_PUMP_CURVE_MAX, all finite,
 * flows rise strictly from >= 0 and heads fall strictly. */
gboolean nappe_pump_curve_init (NappePumpCurve *curve,
                                const double   *flows,
                                const double   *heads,
                                gsize           n);

/* Head [m] at flow [m3/s] with the pump at speed (share of full, 1 = full) and with wear: head_factor (share of a new pump's
 * head left, 1 = new): H = head_factor s^2 C (Q/s) (affinity laws). Beyond the last point straight on at the end slope (may go
 * below 0); before the first, and for flow running back, straight on at the first slope, so the head rises above
 * shut-off. A pump at speed <= 0 gives 0: as a stopped pump it is a passage, which is the network's matter.
 * slope: (out) (nullable) dH/dQ [s/m2], < 0 at speed > 0. */
double nappe_pump_head (const NappePumpCurve *curve,
                        double                flow,
                        double                speed,
                        double                head_factor,
                        double               *slope);

/* Flow [m3/s] at which the pump gives head [m]: the inverse, negative above shut-off. 0 at speed or head_factor <= 0.
 * slope: (out) (nullable) dQ/dH [m2/s], < 0. */
double nappe_pump_flow_at_head (const NappePumpCurve *curve,
                                double                head,
                                double                speed,
                                double                head_factor,
                                double               *slope);

G_END_DECLS

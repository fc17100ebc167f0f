/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Upward-looking open end of a vertical pipe. */
typedef struct {
  double bore;         /* of the pipe [m], > 0 */
  double rim_diameter; /* of the edge that water runs over [m]; 0, or below bore: the bore */
} NappeDropInlet;

typedef enum {
  NAPPE_INLET_DRY,     /* no water over the rim */
  NAPPE_INLET_CREST,   /* the rim is a weir */
  NAPPE_INLET_ORIFICE, /* the drowned mouth is an orifice */
  NAPPE_INLET_FULL     /* the full pipe behind it takes less than the mouth would give */
} NappeInletControl;

/* Full-bore Froude number V / sqrt (g D) up to which air rises against the water: self-venting and quiet
 * (Hills, Chemical Engineering, 5 September 1983; Simpson 1968). */
#define NAPPE_FROUDE_QUIET 0.3
/* And from which on air is swept down and the pipe primes (same source; may begin lower: 0.6..1.5 in print). */
#define NAPPE_FROUDE_PRIME 1.0
/* Wetted share of a drain stack at its usual rating (Wyly and Eaton, NBS Monograph 31, 1961). */
#define NAPPE_STACK_WETTED_SHARE (7.0 / 24.0)

/* Flow into the inlet [m3/s] under head [m] of water over the rim: the lesser of the crest 1.84 pi D_rim h^1.5 and the
 * orifice 0.6 A sqrt (2 g h) (EPA SWMM Reference Manual II ch. 6; drop-inlet spillway practice). In a band of 1.3
 * either side of the head where they meet the corner is rounded (at most 6.4 % low). 0 for head <= 0.
 * slope: (out) (nullable) dQ/dh [m2/s], >= 0. The full pipe's limit is the caller's. */
double nappe_drop_inlet_flow (const NappeDropInlet *inlet,
                              double                head,
                              double               *slope);

/* What controls at head [m], given what the full pipe behind could carry, full_flow [m3/s]
 * (INFINITY when of no interest). */
NappeInletControl nappe_drop_inlet_control (const NappeDropInlet *inlet,
                                            double                head,
                                            double                full_flow);

/* Head [m] over the rim at which crest and orifice pass the same. */
double nappe_drop_inlet_change_head (const NappeDropInlet *inlet);

/* V / sqrt (g D) with V = flow [m3/s] over the full area of bore [m]; sign of flow. And the flow for a number. */
double nappe_full_bore_froude (double flow,
                               double bore);
double nappe_froude_flow (double froude,
                          double bore);

/* Flow [m3/s] of a tall drain stack of bore [m] at terminal speed with wetted_share (0..1) of its section water:
 * 27.8 r^(5/3) D^(8/3) US gpm, D in inches (Wyly and Eaton, NBS Monograph 31). Made for stacks of 2 in
 * and more, several metres high: in an aquarium an index of noise, no capacity. */
double nappe_stack_flow (double bore,
                         double wetted_share);

/* The wetted share (may exceed 1) at which such a stack carries flow [m3/s]; 0 for flow <= 0. */
double nappe_stack_wetted_share (double bore,
                                 double flow);

G_END_DECLS

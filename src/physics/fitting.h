/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Loss coefficients K of fittings, head = K V^2/2g on the bore named. */

/* Darby's three K (Darby 1999; Chemical Engineering Fluid Mechanics 2001): k1/Re + ki (1 + kd / n^0.3).
 * nominal_inches: nominal size [in] (Darby's table for inches), > 0. reynolds > 0. */
double nappe_k_darby (double k1,
                      double ki,
                      double kd,
                      double nominal_inches,
                      double reynolds);

/* The part of it that does not depend on flow, ki (1 + kd / n^0.3): goes into NappeStretch.k, k1 into .k1. */
double nappe_k_darby_fixed (double ki,
                            double kd,
                            double nominal_inches);

/* Hooper's two K (Hooper 1981): k1/Re + k_infinite (1 + 1/d). bore_inches: inner diameter [in], > 0. */
double nappe_k_hooper (double k1,
                       double k_infinite,
                       double bore_inches,
                       double reynolds);

/* Sudden contraction, 0.5 (1 - beta^2) (Crane TP-410), on the SMALL bore. Bores [m], > 0;
 * 0 when bore_small >= bore_large. */
double nappe_k_contraction (double bore_large,
                            double bore_small);

/* Sudden expansion, (1 - beta^2)^2 (Borda and Carnot), on the SMALL bore. Bores as above. */
double nappe_k_expansion (double bore_large,
                          double bore_small);

typedef enum {
  NAPPE_ENTRANCE_FLUSH,            /* square-edged, in the plane of the wall */
  NAPPE_ENTRANCE_PROJECTING,       /* open pipe end standing in the water */
  NAPPE_ENTRANCE_DOWNTURNED_ELBOW, /* elbow looking down; holds the loss of that elbow too */
  NAPPE_ENTRANCE_STRAINER          /* flush or projecting end under a clean strainer */
} NappeEntrance;

/* K of the way into a pipe, on its bore. Flush 0.5 (Crane TP-410, Idelchik); projecting 0.8 (Munson; 0.5 for
 * a thick rim to 1.0 for a thin one); downturned elbow 1.2 = thick rim 0.5 and elbow 0.7 (Darby, 1 in), so
 * do not count that elbow again; strainer 1.3 (common practice, clean; good to a half). */
double nappe_k_entrance (NappeEntrance entrance);

/* K of a submerged end or a free jet: the whole velocity head, 1. */
double nappe_k_exit (void);

/* K of a thin sharp-edged plate or grid that leaves open_share (0..1) of the pipe's area free, on the whole bore:
 * ((1 - s) + 0.707 sqrt (1 - s))^2 / s^2 (Idelchik, Handbook of Hydraulic Resistance, thin-edged grids;
 * 4.0 at one half, where Blevins has 3.8). INFINITY at 0, 0 at 1. */
double nappe_k_plate (double open_share);

G_END_DECLS

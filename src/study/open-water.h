/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The surfaces and wet panels of a running system, and what a little less water in it does. For heat.c. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

/* Of all vessels that hold water but the reservoir, whose water is not the tank's. */
typedef struct
{
  double open, covered;      /* surface; what stands in it is under water, so that it takes none away [m2] */
  double wall_transmittance; /* heat for each kelvin through upright panels as far as they are wet [W/K] */
} NappeOpenWater;

/* FALSE: no vessel holds water. The study has a running state. */
gboolean nappe_open_water_measure (NappeOpenWater *self, NappeBuild *build, const NappeStudy *study);

/* In vessels and pipes without the reservoir, running [m3]. */
double nappe_open_water_volume (const NappeStudy *study);

/* Water that is missing when the running level of the return chamber has fallen by depth [m] while the pump runs on [m3]. What
 * stands in open connection with it falls with it, as far as the connection reaches down; all other levels stay. */
double nappe_open_water_fallen (const NappeStudy *study, double depth);

/* Fall of the return chamber's level until the first of the pumps there draws air [m]; at most 0: it does; INFINITY: no
 * pump runs there. */
double nappe_open_water_depth_to_air (const NappeStudy *study);

G_END_DECLS

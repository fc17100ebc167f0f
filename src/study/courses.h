/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many cases played at once. */
#pragma once

#include "study/simulation.h"

G_BEGIN_DECLS

/* Plays plans with as many threads as asked for, 1..8. Returns NappeSimulation in the order of the plans, NULL where one
 * could not be played or was cancelled; freed with the array. Transfer full. Which thread plays what changes nothing.
 *  plans        NappePlan; not owned
 *  evaporation  from all surfaces [m3/s]; nappe_heat_new knows it; 0: none
 *  cancellable  may be NULL */
GPtrArray *nappe_courses_new (const NappeStudy *study, const GPtrArray *plans, double evaporation, guint threads,
                              GCancellable *cancellable);

G_END_DECLS

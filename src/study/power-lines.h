/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who draws electricity, and how much of it warms the water. For heat.c. */
#pragma once

#include "study/heat.h"

G_BEGIN_DECLS

/* Of a power line. */
typedef enum
{
  NAPPE_POWER_PUMP,    /* of a return line */
  NAPPE_POWER_LIGHT,
  NAPPE_POWER_HEATER,
  NAPPE_POWER_CHILLER,
  NAPPE_POWER_OTHER,
} NappePowerUse;

typedef struct
{
  NappePowerLine line;
  NappePowerUse use;
  double single; /* power of one of the equal ones [W] */
} NappePowerEntry;

/* Heat that a small water chiller takes from the water over the power that it draws (common practice, from memory). */
#define NAPPE_CHILLER_YIELD 2.0

/* All users with a known power, in the order of the build (element-type NappePowerEntry). Duty as the build says; heaters and
 * chillers run when the water wants it, which the caller knows. unknown: (out) count of those whose power is not given. */
GArray *nappe_power_entries (NappeBuild *build, NappeCatalogue *catalogue, guint *unknown);

/* Sorts by mean power, largest first; equal ones by id. */
void nappe_power_sort (GArray *entries);

G_END_DECLS

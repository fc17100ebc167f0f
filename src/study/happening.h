/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What befalls a running system, and when: the plan of a time simulation. */
#pragma once

#include "study/scenario.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_HAPPEN_POWER_OFF, /* every pump and the top-off stop */
  NAPPE_HAPPEN_POWER_ON,
  NAPPE_HAPPEN_CHANGE,     /* as in scenario.h, from its present value to `change.value` over `over` */
  NAPPE_HAPPEN_BLOCK_HOLE, /* siphon-break hole of an outlet, or of all with part "": closed; value 0 opens it again */
  NAPPE_HAPPEN_CHECK_STICKS,   /* check valves of a return line, or of all with part "": stand open; 0: hold again */
  NAPPE_HAPPEN_TOP_OFF_STICKS, /* the top-off runs whatever its float says, until its reservoir is empty; 0: minds it
                                  again */
  NAPPE_HAPPEN_NO_TOP_OFF,     /* the reservoir is empty; 0: as it was */
  NAPPE_HAPPEN_LEAK,  /* a round hole in a vessel: `bore`, `height` over the vessel's floor, its water goes to the floor
                       */
  NAPPE_HAPPEN_SPEED, /* every pump to a share of full speed, with part "" */
} NappeHappenKind;

typedef struct
{
  double at;                  /* from the start [s], >= 0 */
  double over;                /* it takes so long, evenly [s]; 0: at once (changes only) */
  NappeHappenKind kind;
  NappeScenarioChange change; /* of CHANGE: all of it; of others: part, and value (1 unless told otherwise) */
  double bore, height;        /* of LEAK [m] */
} NappeHappening;

/* A case: a name and happenings in order of time. */
typedef struct
{
  char *id;            /* stable: "power-cut", "restart", "block-siphon", "trial-2" ... */
  char *title;         /* translated, for people */
  double length;       /* simulated time [s] */
  guint n;
  NappeHappening *happenings;
} NappePlan;

void nappe_plan_free (NappePlan *self);
NappePlan *nappe_plan_copy (const NappePlan *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappePlan, nappe_plan_free)

/* Longest and most that is simulated. */
#define NAPPE_PLAN_LONGEST (31 * 86400.0)
#define NAPPE_PLAN_HAPPENINGS_MAX 1000

/* Every case that makes sense for a system: power cut; power cut and restart; each drain blocked at once; each drain
 * blocked slowly; all drains blocked; top-off stuck on; siphon-break holes blocked in a power cut; check valves stuck
 * in a power cut; socks loaded; pumps worn; pumps at half speed; each drain valve closed by hand; a leak at half height
 * of the display; two days with the reservoir empty; then the trials of the build, in the order of the file. Transfer
 * full: NappePlan, freed with the array. */
GPtrArray *nappe_plans_of (NappeBuild *build, const NappeStudy *study);
/* One of them by its id. NULL with NAPPE_SCENARIO_ERROR_PART naming those that exist. Transfer full. */
NappePlan *nappe_plan_find (NappeBuild *build, const NappeStudy *study, const char *id, GError **error);
/* Whether every happening names a part that it can befall and holds sensible numbers: NAPPE_SCENARIO_ERROR with place
 * and cause. */
gboolean nappe_plan_check (const NappePlan *self, const NappeNetwork *network, GError **error);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the system asks of a pump: the head behind it for every flow through it. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

typedef struct
{
  double flow, head; /* [m3/s]; over the level that the pump draws from [m] */
} NappeSystemPoint;

/* Read off the study's network: the head at the pump's outlet is held, every vessel stays at its running level, the lines
 * behind answer by their own laws. The curve meets the pump's where the pump runs. Backwards flow is left out. */
typedef struct
{
  guint n;                  /* 0: there is no running state, or nothing flows below the given head */
  NappeSystemPoint *points; /* flow and head rise; the first has no flow, or next to none */
} NappeSystemCurve;

/* pump: index among the study's pumps. It ends where either of the given most flow [m3/s] > 0 and most head [m] is met.
 * Transfer full, never NULL. */
NappeSystemCurve *nappe_system_curve_new (const NappeStudy *study, guint pump, double most_flow, double most_head);
void nappe_system_curve_free (NappeSystemCurve *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeSystemCurve, nappe_system_curve_free)

/* Flow at which other pumps would run in this system, each with its own curve: where both curves meet [m3/s]; NaN: they do not.
 *  pump       item with a curve
 *  count      equal ones side by side, 1..
 *  speed      share of full speed; head_left: of a new pump's head, both above 0 */
double nappe_system_curve_meet (const NappeSystemCurve *self, const NappeItem *pump, int count, double speed, double head_left);

/* Head that a pump of the study gives at a flow through it, at its speed, wear and water level: by the network's law [m]. */
double nappe_study_pump_head (const NappeStudy *study, guint pump, double flow);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What would happen if: a running system with things changed, at its new rest. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

#define NAPPE_SCENARIO_ERROR (nappe_scenario_error_quark ())
GQuark nappe_scenario_error_quark (void);
typedef enum
{
  NAPPE_SCENARIO_ERROR_PART,  /* no part of this id that the change could befall */
  NAPPE_SCENARIO_ERROR_RANGE, /* the value is not finite or outside 0..1 */
} NappeScenarioError;

/* What is changed. All values are shares 0..1. */
typedef enum
{
  NAPPE_CHANGE_BLOCK,       /* of a drain's inlet, or of a weir's crest or slots: blocked share. A weir is named by the
                               overflow, baffle, side vessel or filter sock (its holder's edge) that it is the edge of */
  NAPPE_CHANGE_BLOCK_JOINT, /* of an overflow: blocked share of its bulkheads or siphon tubes; 1 is "siphon lost" */
  NAPPE_CHANGE_OPENING,     /* of a valve, by the id of its piece, or by that of the drain whose first valve it is */
  NAPPE_CHANGE_SPEED,       /* of a pump, by its id or its line's: share of full speed; 0 stops it */
  NAPPE_CHANGE_WEAR,        /* of a pump: share of its head that wear has left */
  NAPPE_CHANGE_LOAD,        /* of a filter sock: closed share of its cloth */
} NappeChangeKind;

typedef struct
{
  NappeChangeKind kind;
  char part[NAPPE_PART_ID_MAX + 1];
  double value;
} NappeScenarioChange;

/* Nicks of the kinds for command and JSON: "block", "block-joint", "opening", "speed", "wear", "load". NULL or FALSE for an
 * unknown one. */
const char *nappe_change_nick (NappeChangeKind kind);
gboolean nappe_change_from_nick (const char *nick, NappeChangeKind *kind);

/* Applies a change to a network of the build. FALSE and an error: nothing changed. */
gboolean nappe_scenario_change (NappeNetwork *network, const NappeScenarioChange *change, GError **error);

typedef struct
{
  NappeNetwork *network;  /* changed copy; indices as in the study's */
  NappeBlockage outcome;  /* state, floods, display_rise, freeboard, time_to_rim, runs_down, top_off_added; n_blocked is 0 */
  guint n_drains;
  NappeDrainState *drain_state; /* in the order of the study's drains */
} NappeScenario;

/* All water stays what it was while running; what does not fit goes over a rim (outcome.floods), and so does what
 * runs over one already until it comes to rest. Only siphons count as
 * primed, which is the safe side for floods. When no pump lifts any more, or none is strong enough to, all runs down as
 * after a power cut with the check valve failed (outcome.runs_down). Transfer full; NULL with an error when a change
 * cannot be made. A system that has no running state gives that one back, with its rest and without drains. */
NappeScenario *nappe_scenario_new (const NappeStudy *study, const NappeScenarioChange *changes, guint n_changes, GError **error);
void nappe_scenario_free (NappeScenario *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeScenario, nappe_scenario_free)

G_END_DECLS

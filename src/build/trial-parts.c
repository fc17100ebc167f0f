/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kinds of the time simulation: trials and what happens in them. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "build/field-rows.h"
#include "build/kinds.h"

/* Longest trial [s], and most happenings in one: study/happening.h takes no more. */
#define TIME_MAX (31 * 86400.0)
#define HAPPENINGS_MAX 1000

static const NappeChoice what_choices[] = {
  [NAPPE_WHAT_POWER_OFF] = { "power-off", N_ ("The power fails") },
  [NAPPE_WHAT_POWER_ON] = { "power-on", N_ ("The power comes back") },
  [NAPPE_WHAT_BLOCK] = { "block", N_ ("A drain or weir is blocked") },
  [NAPPE_WHAT_BLOCK_JOINT] = { "block-joint", N_ ("Bulkheads or siphon tubes are blocked") },
  [NAPPE_WHAT_OPENING] = { "opening", N_ ("A valve is turned") },
  [NAPPE_WHAT_SPEED] = { "speed", N_ ("A pump, or all, runs at another speed") },
  [NAPPE_WHAT_WEAR] = { "wear", N_ ("A pump wears") },
  [NAPPE_WHAT_LOAD] = { "load", N_ ("A filter sock loads") },
  [NAPPE_WHAT_BLOCK_HOLE] = { "block-hole", N_ ("A siphon-break hole, or all, is blocked") },
  [NAPPE_WHAT_CHECK_STICKS] = { "check-sticks", N_ ("A check valve, or all, stands open") },
  [NAPPE_WHAT_TOP_OFF_STICKS] = { "top-off-sticks", N_ ("The top-off is stuck on") },
  [NAPPE_WHAT_NO_TOP_OFF] = { "no-top-off", N_ ("The reservoir is empty") },
  [NAPPE_WHAT_LEAK] = { "leak", N_ ("A vessel leaks") },
  { NULL, NULL },
};

static const NappeField trial_step_fields[] = {
  NAPPE_CHOICE_ROW (NappeTrialStep, what, what_choices, NAPPE_WHAT_POWER_OFF, N_ ("What happens"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeTrialStep, at, DURATION, 0, TIME_MAX, 0, N_ ("When, from the start"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeTrialStep, over, DURATION, 0, TIME_MAX, 0, N_ ("How long it takes")),
  NAPPE_REFERENCE_ROW (NappeTrialStep, part, NULL, N_ ("Part that it befalls")),
  NAPPE_NUMBER_ROW (NappeTrialStep, value, SHARE, 0, 1, 1, N_ ("Share")),
  NAPPE_NUMBER_ROW (NappeTrialStep, bore, LENGTH, 0.0005, 0.5, 0.006, N_ ("Bore of the leak")),
  NAPPE_NUMBER_ROW (NappeTrialStep, height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0, N_ ("Leak over the vessel’s floor")),
};
NAPPE_DEFINE_PART (NappeTrialStep, nappe_trial_step, "happening", N_ ("Happening"), trial_step_fields,
                   G_N_ELEMENTS (trial_step_fields), NULL, 0)

static const NappeField trial_fields[] = {
  NAPPE_NUMBER_ROW (NappeTrial, length, DURATION, 1, TIME_MAX, 1800, N_ ("Simulated time"), .required = TRUE),
};
static const NappeSlot trial_slots[] = {
  NAPPE_LIST_ROW (NappeTrial, happenings, nappe_trial_step_get_type, HAPPENINGS_MAX),
};
NAPPE_DEFINE_PART (NappeTrial, nappe_trial, "trial", N_ ("Trial"), trial_fields, G_N_ELEMENTS (trial_fields),
                   trial_slots, G_N_ELEMENTS (trial_slots))

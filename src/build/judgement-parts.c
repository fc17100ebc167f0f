/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kinds in which people judge the rules: other limits, other severities, answers to findings. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "build/choices.h"
#include "build/field-rows.h"
#include "build/kinds.h"

#define PER_HOUR (1.0 / 3600.0)

/* Ranges keep what a person may hold for sensible; each field bears the name of its limit in rules/rule-limits.h. */
static const NappeField limits_fields[] = {
  NAPPE_OPTIONAL_ROW (NappeLimits, nozzle_depth, LENGTH, 0, 0.5, N_ ("Depth of a nozzle under the surface")),
  NAPPE_OPTIONAL_ROW (NappeLimits, emergency_clear, LENGTH, 0, 0.1, N_ ("Emergency inlet above the running level")),
  NAPPE_OPTIONAL_ROW (NappeLimits, froude_quiet, NUMBER, 0.05, 1, N_ ("Froude number up to which a pipe is quiet")),
  NAPPE_OPTIONAL_ROW (NappeLimits, valve_least, SHARE, 0, 0.5, N_ ("Least opening of a tuned valve")),
  NAPPE_OPTIONAL_ROW (NappeLimits, valve_most, SHARE, 0.5, 1, N_ ("Greatest opening of a tuned valve")),
  NAPPE_OPTIONAL_ROW (NappeLimits, film_thin, LENGTH, 0, 0.05, N_ ("Thinnest film over the weir")),
  NAPPE_OPTIONAL_ROW (NappeLimits, film_thick, LENGTH, 0.001, 0.2, N_ ("Thickest film over the weir")),
  NAPPE_OPTIONAL_ROW (NappeLimits, pump_most, SHARE, 0.3, 1, N_ ("Greatest share of a pump’s last flow")),
  NAPPE_OPTIONAL_ROW (NappeLimits, pump_cover, LENGTH, 0, 0.5, N_ ("Water over a pump’s inlet")),
  NAPPE_OPTIONAL_ROW (NappeLimits, dilution, SALINITY, 0, 40, N_ ("Fall of the salinity that strains animals")),
  NAPPE_OPTIONAL_ROW (NappeLimits, dilution_harm, SALINITY, 0, 40, N_ ("Fall of the salinity that harms animals")),
  NAPPE_OPTIONAL_ROW (NappeLimits, dry_time, DURATION, 0, 30 * 86400.0, N_ ("Time that the return chamber lasts unattended")),
  NAPPE_OPTIONAL_ROW (NappeLimits, outlet_depth, LENGTH, 0, 0.5, N_ ("Depth of a siphon’s end under the surface")),
  NAPPE_OPTIONAL_ROW (NappeLimits, outlet_drop, LENGTH, 0, 1, N_ ("Drop from a pipe’s end to the surface")),
  NAPPE_OPTIONAL_ROW (NappeLimits, level_run, LENGTH, 0, 5, N_ ("Level pipe in a siphon")),
  NAPPE_OPTIONAL_ROW (NappeLimits, short_run, LENGTH, 0, 5, N_ ("Sideways pipe that needs no fall")),
  NAPPE_OPTIONAL_ROW (NappeLimits, run_fall, SHARE, 0, 0.5, N_ ("Fall of a sideways drain pipe")),
  NAPPE_OPTIONAL_ROW (NappeLimits, mouth_cover, NUMBER, 0, 10, N_ ("Water over a siphon’s mouth, in bores")),
  NAPPE_OPTIONAL_ROW (NappeLimits, slot_least, LENGTH, 0, 0.1, N_ ("Narrowest slot of a weir")),
  NAPPE_OPTIONAL_ROW (NappeLimits, weir_drop, LENGTH, 0, 2, N_ ("Fall behind the weir")),
  NAPPE_OPTIONAL_ROW (NappeLimits, speed_pressure, SPEED, 0.1, 10, N_ ("Speed in a return line")),
  NAPPE_OPTIONAL_ROW (NappeLimits, speed_suction, SPEED, 0.1, 10, N_ ("Speed in a pump’s inlet")),
  NAPPE_OPTIONAL_ROW (NappeLimits, speed_drain, SPEED, 0.1, 10, N_ ("Speed in a full drain")),
  NAPPE_OPTIONAL_ROW (NappeLimits, pump_near_shut, SHARE, 0, 0.9, N_ ("Least share of a pump’s last flow")),
  NAPPE_OPTIONAL_ROW (NappeLimits, pump_slow, SHARE, 0, 1, N_ ("Least speed of a pump that fits")),
  NAPPE_OPTIONAL_ROW (NappeLimits, high_spot, LENGTH, 0, 1, N_ ("Height of a high spot in a return line")),
  NAPPE_OPTIONAL_ROW (NappeLimits, hose_bend, NUMBER, 0.5, 20, N_ ("Least bend of a hose in outside diameters")),
  NAPPE_OPTIONAL_ROW (NappeLimits, valve_reach, LENGTH, 0.1, 2, N_ ("Reach of an arm to a valve")),
  NAPPE_OPTIONAL_ROW (NappeLimits, hole_clear, NUMBER, 0, 3, N_ ("Glass beside a hole in its diameters")),
  NAPPE_OPTIONAL_ROW (NappeLimits, hole_glass, NUMBER, 0.5, 10, N_ ("Least glass beside a hole in thicknesses")),
  NAPPE_OPTIONAL_ROW (NappeLimits, gap_speed, SPEED, 0.01, 2, N_ ("Fastest stream under a baffle")),
  NAPPE_OPTIONAL_ROW (NappeLimits, gap_share, SHARE, 0.05, 1, N_ ("Highest gap under a baffle, share of the depth")),
  NAPPE_OPTIONAL_ROW (NappeLimits, probe_cover, LENGTH, 0, 0.5, N_ ("Water over the foot of a probe")),
  NAPPE_OPTIONAL_ROW (NappeLimits, cup_clearance, LENGTH, 0, 1, N_ ("Room to lift a skimmer’s cup")),
  NAPPE_OPTIONAL_ROW (NappeLimits, service_height, LENGTH, 0, 2, N_ ("Room over the sump’s rim")),
  NAPPE_OPTIONAL_ROW (NappeLimits, refugium_turnover, RATE, PER_HOUR, 1000 * PER_HOUR, N_ ("Greatest turnover of a refugium")),
  NAPPE_OPTIONAL_ROW (NappeLimits, refugium_wet, SHARE, 0, 1, N_ ("Depth of a refugium that stays in a power cut")),
  NAPPE_OPTIONAL_ROW (NappeLimits, water_cold, TEMPERATURE, 0, 30, N_ ("Coldest water for the animals")),
  NAPPE_OPTIONAL_ROW (NappeLimits, water_warm, TEMPERATURE, 15, 40, N_ ("Warm water for the animals")),
  NAPPE_OPTIONAL_ROW (NappeLimits, water_hot, TEMPERATURE, 15, 45, N_ ("Hottest water for the animals")),
  NAPPE_OPTIONAL_ROW (NappeLimits, circuit_share, SHARE, 0.1, 1, N_ ("Share of a circuit’s rating that may be drawn for hours")),
  NAPPE_OPTIONAL_ROW (NappeLimits, floor_usual, PRESSURE, 500, 1e5, N_ ("Load that floors are usually reckoned for")),
  NAPPE_OPTIONAL_ROW (NappeLimits, panel_safety, NUMBER, 0.2, 10, N_ ("Least safety of a panel")),
};
NAPPE_DEFINE_PART (NappeLimits, nappe_limits, "limits", N_ ("Limits"), limits_fields, G_N_ELEMENTS (limits_fields),
                   NULL, 0)

const NappeChoice nappe_weight_choices[4] = {
  [NAPPE_WEIGHT_ADVICE] = { "advice", N_ ("Advice") },
  [NAPPE_WEIGHT_PROBLEM] = { "problem", N_ ("Problem") },
  [NAPPE_WEIGHT_DANGER] = { "danger", N_ ("Danger") },
  { NULL, NULL },
};

static const NappeField weighing_fields[] = {
  NAPPE_TEXT_ROW (NappeWeighing, rule, NAPPE_PART_ID_MAX, N_ ("Rule"), .required = TRUE),
  NAPPE_CHOICE_ROW (NappeWeighing, weight, nappe_weight_choices, NAPPE_WEIGHT_PROBLEM, N_ ("Weighs as"),
                    .required = TRUE),
};
NAPPE_DEFINE_PART (NappeWeighing, nappe_weighing, "weighing", N_ ("Weighing"), weighing_fields,
                   G_N_ELEMENTS (weighing_fields), NULL, 0)

static const NappeChoice answerer_choices[] = {
  [NAPPE_ANSWERER_PLANNER] = { "planner", N_ ("Planner") },
  [NAPPE_ANSWERER_REVIEWER] = { "reviewer", N_ ("Reviewer") },
  { NULL, NULL },
};

static const NappeField answer_fields[] = {
  NAPPE_TEXT_ROW (NappeAnswer, rule, NAPPE_PART_ID_MAX, N_ ("Rule"), .required = TRUE),
  /* No reference: one to a part that was taken out would be emptied, and answer for the whole build. */
  NAPPE_TEXT_ROW (NappeAnswer, part, NAPPE_PART_ID_MAX, N_ ("Part")),
  NAPPE_CHOICE_ROW (NappeAnswer, weight, nappe_weight_choices, NAPPE_WEIGHT_ADVICE, N_ ("What it was when answered"),
                    .required = TRUE),
  NAPPE_TEXT_ROW (NappeAnswer, reason, NAPPE_TEXT_MAX, N_ ("Reason"), .required = TRUE),
  NAPPE_CHOICE_ROW (NappeAnswer, answerer, answerer_choices, NAPPE_ANSWERER_PLANNER, N_ ("Answered by")),
  NAPPE_TEXT_ROW (NappeAnswer, author, NAPPE_TEXT_MAX, N_ ("Author")),
  NAPPE_TEXT_ROW (NappeAnswer, date, NAPPE_TEXT_MAX, N_ ("Date")),
};
NAPPE_DEFINE_PART (NappeAnswer, nappe_answer, "answer", N_ ("Answer"), answer_fields, G_N_ELEMENTS (answer_fields),
                   NULL, 0)

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kinds around the water: room, water, stand, targets, notes. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "build/choices.h"
#include "build/field-rows.h"
#include "build/kinds.h"

const NappeChoice nappe_stated_choices[4] = {
  [NAPPE_STATED_UNKNOWN] = { "unknown", N_ ("Not known") },
  [NAPPE_STATED_YES] = { "yes", N_ ("Yes") },
  [NAPPE_STATED_NO] = { "no", N_ ("No") },
  { NULL, NULL },
};

static const NappeField room_fields[] = {
  NAPPE_NUMBER_ROW (NappeRoom, temperature, TEMPERATURE, 0, 45, 22, N_ ("Room temperature")),
  NAPPE_NUMBER_ROW (NappeRoom, humidity, SHARE, 0, 1, 0.5, N_ ("Relative humidity")),
  NAPPE_NUMBER_ROW (NappeRoom, mains_voltage, VOLTAGE, 90, 260, 230, N_ ("Mains voltage")),
  NAPPE_OPTIONAL_ROW (NappeRoom, electricity_price, NUMBER, 0, 1e6, N_ ("Price of a kilowatt-hour")),
  NAPPE_TEXT_ROW (NappeRoom, currency, NAPPE_CURRENCY_MAX, N_ ("Currency of the price")),
  NAPPE_OPTIONAL_ROW (NappeRoom, floor_load, PRESSURE, 0, 1e5, N_ ("Load that the floor may carry")),
  NAPPE_OPTIONAL_ROW (NappeRoom, circuit_amperes, NUMBER, 1, 100, N_ ("Rating of the mains circuit in amperes")),
  NAPPE_CHOICE_ROW (NappeRoom, residual_current, nappe_stated_choices, NAPPE_STATED_UNKNOWN,
                    N_ ("Residual-current protection")),
  NAPPE_CHOICE_ROW (NappeRoom, drip_loops, nappe_stated_choices, NAPPE_STATED_UNKNOWN, N_ ("Drip loops on all cables")),
  NAPPE_CHOICE_ROW (NappeRoom, sockets_clear, nappe_stated_choices, NAPPE_STATED_UNKNOWN,
                    N_ ("Sockets clear of falling water")),
};
NAPPE_DEFINE_PART (NappeRoom, nappe_room, "room", N_ ("Room"), room_fields, G_N_ELEMENTS (room_fields), NULL, 0)

/* 25 °C and 35 g/kg: the usual state of a reef tank. */
static const NappeField water_fields[] = {
  NAPPE_NUMBER_ROW (NappeWaterCondition, temperature, TEMPERATURE, 0, 45, 25, N_ ("Water temperature")),
  NAPPE_NUMBER_ROW (NappeWaterCondition, salinity, SALINITY, 0, 60, 35, N_ ("Salinity")),
  NAPPE_OPTIONAL_ROW (NappeWaterCondition, total_volume, VOLUME, 0.001, 100, N_ ("Water in the whole system")),
};
NAPPE_DEFINE_PART (NappeWaterCondition, nappe_water_condition, "water", N_ ("Water"), water_fields,
                   G_N_ELEMENTS (water_fields), NULL, 0)

static const NappeField stand_fields[] = {
  NAPPE_NUMBER_ROW (NappeStand, length, LENGTH, 0, NAPPE_LENGTH_MAX, 1.3, N_ ("Outside length"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeStand, width, LENGTH, 0, NAPPE_LENGTH_MAX, 0.65, N_ ("Outside width"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeStand, height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0.85, N_ ("Height"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeStand, wall_thickness, LENGTH, 0, NAPPE_THICKNESS_MAX, 0.018, N_ ("Wall thickness")),
  NAPPE_NUMBER_ROW (NappeStand, top_thickness, LENGTH, 0, NAPPE_THICKNESS_MAX, 0.018, N_ ("Top thickness")),
  NAPPE_OPTIONAL_ROW (NappeStand, door_length, LENGTH, 0, NAPPE_LENGTH_MAX, N_ ("Length of the door opening")),
  NAPPE_OPTIONAL_ROW (NappeStand, door_height, LENGTH, 0, NAPPE_HEIGHT_MAX, N_ ("Height of the door opening")),
};
NAPPE_DEFINE_PART (NappeStand, nappe_stand, "stand", N_ ("Stand"), stand_fields, G_N_ELEMENTS (stand_fields), NULL, 0)

#define PER_HOUR (1.0 / 3600.0)

static const NappeField targets_fields[] = {
  NAPPE_NUMBER_ROW (NappeTargets, turnover_min, RATE, 0, 100 * PER_HOUR, 5 / 3600.0, N_ ("Least turnover")),
  NAPPE_NUMBER_ROW (NappeTargets, turnover_max, RATE, 0, 100 * PER_HOUR, 10 / 3600.0, N_ ("Greatest turnover")),
  NAPPE_OPTIONAL_ROW (NappeTargets, sump_turnover_min, RATE, 0, 100 * PER_HOUR, N_ ("Least turnover of the sump")),
  NAPPE_OPTIONAL_ROW (NappeTargets, sump_turnover_max, RATE, 0, 100 * PER_HOUR, N_ ("Greatest turnover of the sump")),
  NAPPE_NUMBER_ROW (NappeTargets, sump_freeboard, LENGTH, 0, 1, 0.025, N_ ("Freeboard of the sump after a power cut")),
  NAPPE_NUMBER_ROW (NappeTargets, display_freeboard, LENGTH, 0, 1, 0.01,
                    N_ ("Freeboard of the tank with a drain blocked")),
  NAPPE_NUMBER_ROW (NappeTargets, pump_drift, SHARE, 0, 1, 0.1, N_ ("Expected drift of the pump’s flow")),
  NAPPE_OPTIONAL_ROW (NappeTargets, trickle, FLOW, 0, 0.1, N_ ("Trickle wanted in the open channel")),
  NAPPE_NUMBER_ROW (NappeTargets, bubble_size, LENGTH, 1e-5, 0.01, 0.0005, N_ ("Smallest bubble to be stopped")),
  NAPPE_COUNT_ROW (NappeTargets, days_away, 0, 365, 3, N_ ("Days away without topping up")),
  NAPPE_OPTIONAL_ROW (NappeTargets, smallest_animal, LENGTH, 0.0005, 0.5, N_ ("Thickness of the smallest animal")),
};
NAPPE_DEFINE_PART (NappeTargets, nappe_targets, "targets", N_ ("Targets"), targets_fields,
                   G_N_ELEMENTS (targets_fields), NULL, 0)

/* Longest text of a note [byte]. */
#define NOTE_MAX 20000

static const NappeField note_fields[] = {
  NAPPE_REFERENCE_ROW (NappeNote, part, NULL, N_ ("Part")),
  NAPPE_TEXT_ROW (NappeNote, text, NOTE_MAX, N_ ("Text"), .required = TRUE),
  NAPPE_TEXT_ROW (NappeNote, author, NAPPE_TEXT_MAX, N_ ("Author")),
  NAPPE_TEXT_ROW (NappeNote, date, NAPPE_TEXT_MAX, N_ ("Date")),
};
NAPPE_DEFINE_PART (NappeNote, nappe_note, "note", N_ ("Note"), note_fields, G_N_ELEMENTS (note_fields), NULL, 0)

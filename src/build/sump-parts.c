/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kinds below: the sump, its chambers and baffles, and equipment. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "build/choices.h"
#include "build/field-rows.h"
#include "build/kinds.h"

static const NappeChoice chamber_role_choices[] = {
  [NAPPE_CHAMBER_DRAIN] = { "drain", N_ ("Drain chamber") },
  [NAPPE_CHAMBER_SOCK] = { "sock", N_ ("Filter-sock chamber") },
  [NAPPE_CHAMBER_SKIMMER] = { "skimmer", N_ ("Skimmer chamber") },
  [NAPPE_CHAMBER_REACTOR] = { "reactor", N_ ("Reactor chamber") },
  [NAPPE_CHAMBER_BUBBLE_TRAP] = { "bubble-trap", N_ ("Bubble trap") },
  [NAPPE_CHAMBER_REFUGIUM] = { "refugium", N_ ("Refugium") },
  [NAPPE_CHAMBER_RETURN] = { "return", N_ ("Return chamber") },
  [NAPPE_CHAMBER_RESERVOIR] = { "reservoir", N_ ("Top-off reservoir") },
  { NULL, NULL },
};

static const NappeField chamber_fields[] = {
  NAPPE_CHOICE_ROW (NappeChamber, role, chamber_role_choices, NAPPE_CHAMBER_SKIMMER, N_ ("Role"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeChamber, length, LENGTH, 0.005, NAPPE_LENGTH_MAX, 0.2, N_ ("Clear length"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeChamber, displaced, SHARE, 0, 0.9, 0, N_ ("Share taken by media and equipment")),
  NAPPE_OPTIONAL_ROW (NappeChamber, kept_level, LENGTH, 0, NAPPE_HEIGHT_MAX, N_ ("Kept water level")),
};
NAPPE_DEFINE_PART (NappeChamber, nappe_chamber, "chamber", N_ ("Chamber"), chamber_fields,
                   G_N_ELEMENTS (chamber_fields), NULL, 0)

static const NappeField baffle_fields[] = {
  NAPPE_NUMBER_ROW (NappeBaffle, top_height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0.22, N_ ("Top over the sump’s floor"),
                    .required = TRUE),
  NAPPE_NUMBER_ROW (NappeBaffle, gap_height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0, N_ ("Gap under it")),
  NAPPE_NUMBER_ROW (NappeBaffle, thickness, LENGTH, 0, NAPPE_THICKNESS_MAX, 0.006, N_ ("Thickness")),
  NAPPE_OPTIONAL_ROW (NappeBaffle, lowest_top, LENGTH, 0, NAPPE_HEIGHT_MAX, N_ ("Lowest top of an adjustable baffle")),
  NAPPE_OPTIONAL_ROW (NappeBaffle, highest_top, LENGTH, 0, NAPPE_HEIGHT_MAX,
                      N_ ("Highest top of an adjustable baffle")),
};
NAPPE_DEFINE_PART (NappeBaffle, nappe_baffle, "baffle", N_ ("Baffle"), baffle_fields, G_N_ELEMENTS (baffle_fields),
                   NULL, 0)

#define CHAMBERS_MAX 24

static const NappeField sump_fields[] = {
  NAPPE_NUMBER_ROW (NappeSump, length, LENGTH, 0.05, NAPPE_LENGTH_MAX, 0.9, N_ ("Inside length"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeSump, width, LENGTH, 0.05, NAPPE_LENGTH_MAX, 0.45, N_ ("Inside width"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeSump, height, LENGTH, 0.05, NAPPE_HEIGHT_MAX, 0.4, N_ ("Inside height"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeSump, wall_thickness, LENGTH, 0, NAPPE_THICKNESS_MAX, 0.008, N_ ("Wall thickness")),
  NAPPE_NUMBER_ROW (NappeSump, bottom_thickness, LENGTH, 0, NAPPE_THICKNESS_MAX, 0.008, N_ ("Bottom thickness")),
  NAPPE_NUMBER_ROW (NappeSump, x, LENGTH, -NAPPE_LENGTH_MAX, NAPPE_LENGTH_MAX, 0.1,
                    N_ ("Distance from the stand’s left side")),
  NAPPE_NUMBER_ROW (NappeSump, base_height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0.03, N_ ("Underside over the room’s floor")),
  NAPPE_CHOICE_ROW (NappeSump, material, nappe_material_choices, NAPPE_MATERIAL_GLASS, N_ ("Material")),
};
static const NappeSlot sump_slots[] = {
  NAPPE_LIST_ROW (NappeSump, chambers, nappe_chamber_get_type, CHAMBERS_MAX),
  NAPPE_LIST_ROW (NappeSump, baffles, nappe_baffle_get_type, CHAMBERS_MAX - 1),
};
NAPPE_DEFINE_PART (NappeSump, nappe_sump, "sump", N_ ("Sump"), sump_fields, G_N_ELEMENTS (sump_fields), sump_slots,
                   G_N_ELEMENTS (sump_slots))

static const NappeChoice equipment_choices[] = {
  [NAPPE_EQUIPMENT_SKIMMER] = { "skimmer", N_ ("Protein skimmer") },
  [NAPPE_EQUIPMENT_HEATER] = { "heater", N_ ("Heater") },
  [NAPPE_EQUIPMENT_REACTOR] = { "reactor", N_ ("Reactor") },
  [NAPPE_EQUIPMENT_UV] = { "uv", N_ ("UV clarifier") },
  [NAPPE_EQUIPMENT_CHILLER] = { "chiller", N_ ("Chiller") },
  [NAPPE_EQUIPMENT_LIGHT] = { "light", N_ ("Light") },
  [NAPPE_EQUIPMENT_TOP_OFF] = { "top-off", N_ ("Top-off pump") },
  [NAPPE_EQUIPMENT_DOSING] = { "dosing", N_ ("Dosing pump") },
  [NAPPE_EQUIPMENT_PROBE] = { "probe", N_ ("Probe") },
  [NAPPE_EQUIPMENT_MEDIA] = { "media", N_ ("Filter media") },
  [NAPPE_EQUIPMENT_SOCK] = { "sock", N_ ("Filter sock") },
  [NAPPE_EQUIPMENT_OTHER] = { "other", N_ ("Other equipment") },
  { NULL, NULL },
};

/* Most of any equipment: 20 kW, and 360 000 L/h. */
static const NappeField equipment_fields[] = {
  NAPPE_CHOICE_ROW (NappeEquipment, kind, equipment_choices, NAPPE_EQUIPMENT_OTHER, N_ ("Kind"), .required = TRUE),
  NAPPE_ITEM_ROW (NappeEquipment, item, N_ ("Catalogue item")),
  NAPPE_REFERENCE_ROW (NappeEquipment, where, "tank chamber vessel", N_ ("Stands in")),
  NAPPE_NUMBER_ROW (NappeEquipment, x, LENGTH, 0, NAPPE_LENGTH_MAX, 0.02, N_ ("Distance from the left side")),
  NAPPE_NUMBER_ROW (NappeEquipment, base_height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0,
                    N_ ("Height over the floor it stands on")),
  NAPPE_OPTIONAL_ROW (NappeEquipment, length, LENGTH, 0, NAPPE_LENGTH_MAX, N_ ("Length")),
  NAPPE_OPTIONAL_ROW (NappeEquipment, width, LENGTH, 0, NAPPE_LENGTH_MAX, N_ ("Width")),
  NAPPE_OPTIONAL_ROW (NappeEquipment, height, LENGTH, 0, NAPPE_HEIGHT_MAX, N_ ("Height")),
  NAPPE_OPTIONAL_ROW (NappeEquipment, depth_min, LENGTH, 0, NAPPE_HEIGHT_MAX, N_ ("Least water depth")),
  NAPPE_OPTIONAL_ROW (NappeEquipment, depth_max, LENGTH, 0, NAPPE_HEIGHT_MAX, N_ ("Greatest water depth")),
  NAPPE_OPTIONAL_ROW (NappeEquipment, power, POWER, 0, 20000, N_ ("Power")),
  NAPPE_OPTIONAL_ROW (NappeEquipment, flow, FLOW, 0, 0.1, N_ ("Flow of its own pump")),
  NAPPE_COUNT_ROW (NappeEquipment, count, 1, 100, 1, N_ ("Number of equal ones")),
  NAPPE_NUMBER_ROW (NappeEquipment, load, SHARE, 0, 1, 0, N_ ("Share of the sock’s cloth that is closed")),
  NAPPE_NUMBER_ROW (NappeEquipment, duty, SHARE, 0, 1, 1, N_ ("Share of the day that it runs")),
  NAPPE_OPTIONAL_ROW (NappeEquipment, heat_share, SHARE, 0, 1, N_ ("Share of its power that warms the water")),
};
NAPPE_DEFINE_PART (NappeEquipment, nappe_equipment, "equipment", N_ ("Equipment"), equipment_fields,
                   G_N_ELEMENTS (equipment_fields), NULL, 0)

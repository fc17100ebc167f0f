/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kinds at the top: the tank and its overflow boxes. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "build/choices.h"
#include "build/field-rows.h"
#include "build/kinds.h"

const NappeChoice nappe_material_choices[] = {
  [NAPPE_MATERIAL_GLASS] = { "glass", N_ ("Glass") },
  [NAPPE_MATERIAL_ACRYLIC] = { "acrylic", N_ ("Acrylic") },
  [NAPPE_MATERIAL_OTHER] = { "other", N_ ("Other material") },
  { NULL, NULL },
};

static const NappeChoice temper_choices[] = {
  [NAPPE_TEMPER_UNKNOWN] = { "unknown", N_ ("Not known") },
  [NAPPE_TEMPER_ANNEALED] = { "annealed", N_ ("Annealed: can be drilled") },
  [NAPPE_TEMPER_TEMPERED] = { "tempered", N_ ("Tempered: must not be drilled") },
  { NULL, NULL },
};

static const NappeField tank_fields[] = {
  NAPPE_NUMBER_ROW (NappeTank, length, LENGTH, 0.05, NAPPE_LENGTH_MAX, 1.2, N_ ("Inside length"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeTank, width, LENGTH, 0.05, NAPPE_LENGTH_MAX, 0.6, N_ ("Inside width"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeTank, height, LENGTH, 0.05, NAPPE_HEIGHT_MAX, 0.55, N_ ("Inside height"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeTank, wall_thickness, LENGTH, 0, NAPPE_THICKNESS_MAX, 0.012, N_ ("Wall thickness")),
  NAPPE_NUMBER_ROW (NappeTank, bottom_thickness, LENGTH, 0, NAPPE_THICKNESS_MAX, 0.012, N_ ("Bottom thickness")),
  NAPPE_NUMBER_ROW (NappeTank, displaced, SHARE, 0, 0.9, 0.1, N_ ("Share taken by rock and sand")),
  NAPPE_NUMBER_ROW (NappeTank, cover, SHARE, 0, 1, 0, N_ ("Share of the surface under a lid")),
  NAPPE_CHOICE_ROW (NappeTank, material, nappe_material_choices, NAPPE_MATERIAL_GLASS, N_ ("Material")),
  NAPPE_CHOICE_ROW (NappeTank, bottom_temper, temper_choices, NAPPE_TEMPER_UNKNOWN, N_ ("Bottom panel")),
  NAPPE_CHOICE_ROW (NappeTank, back_temper, temper_choices, NAPPE_TEMPER_UNKNOWN, N_ ("Back panel")),
  NAPPE_CHOICE_ROW (NappeTank, side_temper, temper_choices, NAPPE_TEMPER_UNKNOWN, N_ ("Side panels")),
};
NAPPE_DEFINE_PART (NappeTank, nappe_tank, "tank", N_ ("Tank"), tank_fields, G_N_ELEMENTS (tank_fields), NULL, 0)

static const NappeChoice style_choices[] = {
  [NAPPE_OVERFLOW_INTERNAL] = { "internal", N_ ("Internal box") },
  [NAPPE_OVERFLOW_EXTERNAL] = { "external", N_ ("External box") },
  [NAPPE_OVERFLOW_SLIM] = { "slim", N_ ("Slim internal weir with an external box") },
  [NAPPE_OVERFLOW_RIM] = { "rim", N_ ("Box that hangs on the rim") },
  { NULL, NULL },
};

static const NappeChoice side_choices[] = {
  [NAPPE_SIDE_LEFT] = { "left", N_ ("Left wall") },
  [NAPPE_SIDE_RIGHT] = { "right", N_ ("Right wall") },
  [NAPPE_SIDE_BACK] = { "back", N_ ("Back wall") },
  [NAPPE_SIDE_CENTRE] = { "centre", N_ ("Free-standing in the tank") },
  { NULL, NULL },
};

static const NappeField overflow_fields[] = {
  NAPPE_CHOICE_ROW (NappeOverflow, style, style_choices, NAPPE_OVERFLOW_INTERNAL, N_ ("Style"), .required = TRUE),
  NAPPE_CHOICE_ROW (NappeOverflow, side, side_choices, NAPPE_SIDE_BACK, N_ ("Side"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeOverflow, x, LENGTH, -NAPPE_LENGTH_MAX, NAPPE_LENGTH_MAX, 0,
                    N_ ("Distance from the tank’s left wall")),
  NAPPE_NUMBER_ROW (NappeOverflow, length, LENGTH, 0.01, NAPPE_LENGTH_MAX, 0.3, N_ ("Inside length"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeOverflow, width, LENGTH, 0.01, NAPPE_LENGTH_MAX, 0.12, N_ ("Inside width"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeOverflow, floor_height, LENGTH, -2, NAPPE_HEIGHT_MAX, 0,
                    N_ ("Floor of the box over the tank’s floor")),
  NAPPE_NUMBER_ROW (NappeOverflow, rim_height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0.55,
                    N_ ("Top of the box over the tank’s floor"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeOverflow, wall_thickness, LENGTH, 0, NAPPE_THICKNESS_MAX, 0.006, N_ ("Wall thickness")),
  NAPPE_NUMBER_ROW (NappeOverflow, weir_length, LENGTH, 0.01, NAPPE_LENGTH_MAX, 0.3, N_ ("Weir length"),
                    .required = TRUE),
  NAPPE_NUMBER_ROW (NappeOverflow, weir_height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0.5, N_ ("Weir height"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeOverflow, weir_thickness, LENGTH, 0, NAPPE_THICKNESS_MAX, 0.006, N_ ("Weir thickness")),
  NAPPE_COUNT_ROW (NappeOverflow, slot_count, 0, 1000, 0, N_ ("Number of slots")),
  NAPPE_NUMBER_ROW (NappeOverflow, slot_width, LENGTH, 0, 1, 0.006, N_ ("Slot width")),
  NAPPE_NUMBER_ROW (NappeOverflow, slot_depth, LENGTH, 0, 1, 0.025, N_ ("Slot depth")),
  NAPPE_NUMBER_ROW (NappeOverflow, inner_length, LENGTH, 0.01, NAPPE_LENGTH_MAX, 0.3, N_ ("Length of the inner box")),
  NAPPE_NUMBER_ROW (NappeOverflow, inner_width, LENGTH, 0.005, NAPPE_LENGTH_MAX, 0.05, N_ ("Width of the inner box")),
  NAPPE_NUMBER_ROW (NappeOverflow, inner_depth, LENGTH, 0.005, NAPPE_HEIGHT_MAX, 0.12,
                    N_ ("Depth of the inner box under the crest")),
  NAPPE_COUNT_ROW (NappeOverflow, joint_count, 0, 24, 2, N_ ("Number of bulkheads or siphon tubes")),
  NAPPE_NUMBER_ROW (NappeOverflow, joint_bore, LENGTH, 0.003, 0.5, 0.04, N_ ("Bore of a bulkhead or siphon tube")),
  NAPPE_OPTIONAL_ROW (NappeOverflow, joint_height, LENGTH, 0, NAPPE_HEIGHT_MAX,
                      N_ ("Middle of the bulkheads, or ends of the siphon tubes, over the tank’s floor")),
  NAPPE_NUMBER_ROW (NappeOverflow, joint_length, LENGTH, 0, NAPPE_LENGTH_MAX, 0.1,
                    N_ ("Length of a bulkhead or siphon tube")),
};
NAPPE_DEFINE_PART (NappeOverflow, nappe_overflow, "overflow", N_ ("Overflow box"), overflow_fields,
                   G_N_ELEMENTS (overflow_fields), NULL, 0)

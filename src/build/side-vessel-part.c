/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The kind beside the tank: a vessel with a pump of its own and a spout. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "build/field-rows.h"
#include "build/kinds.h"

static const NappeChoice role_choices[] = {
  [NAPPE_VESSEL_REFUGIUM] = { "refugium", N_ ("Refugium") },
  [NAPPE_VESSEL_OTHER] = { "other", N_ ("Other vessel") },
  { NULL, NULL },
};

static const NappeField side_vessel_fields[] = {
  NAPPE_CHOICE_ROW (NappeSideVessel, role, role_choices, NAPPE_VESSEL_REFUGIUM, N_ ("Role")),
  NAPPE_NUMBER_ROW (NappeSideVessel, length, LENGTH, 0.02, NAPPE_LENGTH_MAX, 0.4, N_ ("Inside length"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeSideVessel, width, LENGTH, 0.02, NAPPE_LENGTH_MAX, 0.12, N_ ("Inside width"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeSideVessel, height, LENGTH, 0.02, NAPPE_HEIGHT_MAX, 0.3, N_ ("Inside height"),
                    .required = TRUE),
  NAPPE_NUMBER_ROW (NappeSideVessel, wall_thickness, LENGTH, 0, NAPPE_THICKNESS_MAX, 0.005, N_ ("Wall thickness")),
  NAPPE_NUMBER_ROW (NappeSideVessel, x, LENGTH, -NAPPE_LENGTH_MAX, NAPPE_LENGTH_MAX, 0,
                    N_ ("Distance from the tank’s left wall")),
  NAPPE_NUMBER_ROW (NappeSideVessel, base_height, LENGTH, -2, NAPPE_HEIGHT_MAX, 0.25,
                    N_ ("Floor of the vessel over the tank’s floor"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappeSideVessel, displaced, SHARE, 0, 0.9, 0.1, N_ ("Share taken by rock, sand and weed")),
  NAPPE_NUMBER_ROW (NappeSideVessel, spout_height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0.26, N_ ("Spout over its floor"),
                    .required = TRUE),
  NAPPE_NUMBER_ROW (NappeSideVessel, spout_width, LENGTH, 0.002, NAPPE_LENGTH_MAX, 0.06, N_ ("Width of the spout")),
  NAPPE_REFERENCE_ROW (NappeSideVessel, into, "tank overflow chamber", N_ ("Pours into"), .required = TRUE),
};
NAPPE_DEFINE_PART (NappeSideVessel, nappe_side_vessel, "vessel", N_ ("Side vessel"), side_vessel_fields,
                   G_N_ELEMENTS (side_vessel_fields), NULL, 0)

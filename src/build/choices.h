/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Alternatives that several kinds share; for the files of kinds only. */
#pragma once

#include "build/field.h"

extern const NappeChoice nappe_material_choices[4]; /* by NappeMaterial, then the empty row */
extern const NappeChoice nappe_weight_choices[4];   /* by NappeWeight, then the empty row */
extern const NappeChoice nappe_stated_choices[4];   /* by NappeStated, then the empty row */

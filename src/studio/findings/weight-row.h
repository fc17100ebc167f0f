/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What one rule weighs in a build: as the rule says, or otherwise. A change goes through the build, so that it can be
 * undone. */
#pragma once

#include <adwaita.h>

#include "build/build.h"
#include "rules/rules.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_WEIGHT_ROW (nappe_weight_row_get_type ())
G_DECLARE_FINAL_TYPE (NappeWeightRow, nappe_weight_row, NAPPE, WEIGHT_ROW, AdwActionRow)

GtkWidget *nappe_weight_row_new (NappeBuild *build, const NappeRuleInfo *rule);
/* Shows the build's present weight. */
void nappe_weight_row_refresh (NappeWeightRow *self);

G_END_DECLS

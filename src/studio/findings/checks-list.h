/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the rules checked and found fine, and what they did not check and why; can be searched.
 *
 * Signal `chosen` (NappeFinding *): the person chose one. */
#pragma once

#include "studio/findings/finding-list.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_CHECKS_LIST (nappe_checks_list_get_type ())
G_DECLARE_FINAL_TYPE (NappeChecksList, nappe_checks_list, NAPPE, CHECKS_LIST, GtkWidget)

/* Copied; an outcome of NULL empties it. */
void nappe_checks_list_set_means (NappeChecksList *self, const NappeFindingListMeans *means);
void nappe_checks_list_remember_open (NappeChecksList *self, GHashTable *open);

G_END_DECLS

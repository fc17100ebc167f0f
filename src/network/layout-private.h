/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of the layout share. */
#pragma once

#include "network/layout.h"

G_BEGIN_DECLS

/* layout-vessels.c: fills all but the lines. */
void nappe_layout_place_vessels (NappeLayout *self, NappeBuild *build, NappeCatalogue *catalogue);
/* Index in chambers, or -1. */
gint nappe_layout_find_chamber (const NappeLayout *self, const char *id);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a dragged handle comes to lie: in line with something near, else on the grid of a rule. Needs no display. */
#pragma once

#include "picture/handles.h"

G_BEGIN_DECLS

/* A guide catches a handle so near to it [px]. */
#define NAPPE_SNAP_REACH 4.0

/* Step of the grid: 1 mm or 1/16 in; coarse: 10 mm or 1/2 in [m]. */
double nappe_snap_step (NappeUnitSystem units, gboolean coarse);

typedef struct
{
  double value;      /* SI, within the handle's range */
  gboolean on_guide;
  double guide;      /* that caught it [px] */
  const char *why;   /* why it went no farther, the handle's; NULL: it went as far as it was dragged */
} NappeSnap;

/* offset: of the pointer since the handle was taken, in px of the picture along the handle's axis, upwards counting as positive
 * for one that is upright. guides: of the picture in which it was taken; the handle's own place is no guide to it. reach: of a
 * guide [px]; 0: the grid alone. */
NappeSnap nappe_snap (const NappeHandle *handle, double offset, double step, const NappeGuide *guides, guint n, double reach);

G_END_DECLS

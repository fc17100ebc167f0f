/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What goes along when a number of a part changes, so that the build stays of one piece: the pipe under an inlet grows
 * with it, a chamber gives way to its neighbour. */
#pragma once

#include "build/build.h"

G_BEGIN_DECLS

typedef struct
{
  NappePart *part;        /* owned by the build */
  const NappeField *field; /* a number of it that is given */
  double factor;          /* it changes by so much for each unit that the other one changes */
} NappeFollower;

/* What follows a field of a part; empty for most. NappeFollower, transfer full.
 *   drain crest_height     the first pipe, where it leads down; mouth_height and break_height
 *   chamber length         its right neighbour's length, the last one's left neighbour's, the other way
 *   overflow floor_height  crest_height, mouth_height and break_height of its drains, the other way
 *   pump inlet_height      its outlet_height; the first pipe of its line that leads up, the other way
 *   sump length            the return chamber's length; without one, the last chamber's */
GArray *nappe_build_followers (NappeBuild *self, NappePart *part, const char *field);

/* Sets a number and what follows it, as one undoable step, or as part of the open transaction. FALSE with an error of
 * NAPPE_BUILD_ERROR, and nothing changed, when any of them cannot stand there. */
gboolean nappe_build_set_coupled (NappeBuild *self, NappePart *part, const char *field, double value, GError **error);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What goes along when a number of a part changes, so that the build stays of one piece: the pipe under an inlet grows
 * with it, a chamber gives way to its neighbour, lines still end in the vessels that they lead to. */
#pragma once

#include "build/build.h"

G_BEGIN_DECLS

typedef struct
{
  NappePart *part;         /* owned by the build */
  const NappeField *field; /* a number of it that is given */
  double factor;           /* it changes by so much for each unit that the other one changes; the length of a pipe that leads
                              sideways by so much of its reach, and where that would fall below nothing it leads back */
} NappeFollower;

/* What follows a field of a part; empty for most. NappeFollower, transfer full.
 *   drain crest_height     the first pipe, where it leads down, else the next upright one; mouth_height and break_height
 *   chamber length         its right neighbour's length, the last one's left neighbour's, the other way
 *   baffle thickness       the length of the longer chamber beside it, the other way
 *   overflow floor_height  crest_height, mouth_height and break_height of its drains and their first pipe, the other way
 *   overflow weir_height   joint_height of two boxes, as the inner one hangs on the weir
 *   overflow inner_depth   joint_height, the other way
 *   pump inlet_height      its outlet_height
 *   sump length            the return chamber's length; without one, the last chamber's
 *   tank height            weirs, boxes, inlets, nozzles, siphon-break holes, side vessels and lights, which go with the rim
 * And wherever a vessel, an inlet or a pump is moved: a pipe of each line between it and what stays, an upright one or one
 * that leads sideways, as the move goes. A line that has no such pipe does not follow sideways. */
GArray *nappe_build_followers (NappeBuild *self, NappePart *part, const char *field);

/* By how much the number that it follows may change until the follower comes to its own end: *least <= 0 <= *most. */
void nappe_follower_range (const NappeFollower *self, double *least, double *most);

/* Sets a number and what follows it, as one undoable step, or as part of the open transaction. FALSE with an error of
 * NAPPE_BUILD_ERROR, and nothing changed, when any of them cannot stand there. */
gboolean nappe_build_set_coupled (NappeBuild *self, NappePart *part, const char *field, double value, GError **error);

G_END_DECLS

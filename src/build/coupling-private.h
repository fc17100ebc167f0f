/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared between the files of the coupling alone. */
#pragma once

#include "build/coupling.h"

typedef enum { NAPPE_AXIS_X, NAPPE_AXIS_Y, NAPPE_AXIS_Z, NAPPE_AXIS_COUNT } NappeAxis;

/* Left and right, front and back, down and up are opposites. */
NappeAxis nappe_axis_of_piece (const NappePiece *piece);

/* What a number moves: how far each place goes for each unit that the number grows. x, y and z as in network/layout.h. */
typedef struct
{
  NappeBuild *build;
  NappePart *part; /* whose number it is */
  const char *field;
  guint axes;      /* along which anything may move: bits 1 << NappeAxis */
  double left, right, back; /* faces of the tank */
  double floor, rim;        /* of the tank: what stands on it, what hangs on its rim */
  double sump_x, sump_z;    /* of the sump as a whole */
} NappeMotion;

/* Adds a follower; one that is there already follows by both. part: a number of it that is given. */
void nappe_follow (GArray *followers, gpointer part, const char *field, double factor);

/* Whether a box hangs on the rim, so that its floor goes along with it. */
gboolean nappe_box_hangs (const NappeOverflow *box);
/* How far a chamber's left side goes within the sump. */
double nappe_motion_of_chamber (const NappeMotion *self, guint index);

/* Adds the pieces that grow or shrink so that every line still begins and ends where its vessels are. */
void nappe_follow_lines (GArray *followers, const NappeMotion *motion);

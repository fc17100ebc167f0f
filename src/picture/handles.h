/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a number of the build can be taken hold of in a picture: a point that moves along one axis, what it stands for and
 * how far it goes. A picture says where its handles are and draws none of them: they belong to whoever lets a person drag. */
#pragma once

#include "picture/picture.h"

G_BEGIN_DECLS

typedef struct
{
  const char *part, *field; /* id of the part, name of its number: changed with nappe_build_set_coupled() */
  gboolean upright;         /* moves up and down; else to the left and right */
  double x, y;              /* [px] of the picture */
  double per_pixel;         /* SI value per px along x, or along −y when upright; the sign is included */
  double value, least, most; /* SI, of the field; least ≤ value ≤ most, what follows the field counted in */
  const char *label;        /* translated: the field's label */
  const char *picked;       /* id of the part whose picking shows it; a wall is shown with either neighbour */
  const char *least_why, *most_why; /* translated: why it stops there, a sentence */
} NappeHandle;

/* Lets it keep its words itself: puts copies into `words` in their place. */
void nappe_handle_keep_words (NappeHandle *self, GStringChunk *words);

/* All handles of a picture, in the order of its parts. Owned by the picture. */
const NappeHandle *nappe_picture_handles (NappePicture *self, guint *n);

/* What a handle may be lined up with: where another one stands, and surfaces of water. */
typedef struct
{
  gboolean upright; /* met by a handle that moves up and down */
  double at;        /* y of it, else x [px] */
} NappeGuide;
/* Owned by the picture. */
const NappeGuide *nappe_picture_guides (NappePicture *self, guint *n);

G_END_DECLS

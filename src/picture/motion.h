/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arrows that travel with the water, over a picture that was made with `motion`.
 *
 * The picture of the next moment has the same lines, so that the arrows go on from where they were; each line's are as
 * fast as its water, in one proportion for all lines of a picture. */
#pragma once

#include "picture/picture.h"

G_BEGIN_DECLS

typedef struct _NappeMotion NappeMotion;

NappeMotion *nappe_motion_new (void);
void nappe_motion_free (NappeMotion *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeMotion, nappe_motion_free)

/* So much time has gone by for the person [s]: not the simulated time. Negative or not finite counts as none. */
void nappe_motion_advance (NappeMotion *self, NappePicture *picture, double seconds);
/* Draws the arrows where they are, in the picture's own units. */
void nappe_motion_draw (const NappeMotion *self, NappePicture *picture, cairo_t *cr);

G_END_DECLS

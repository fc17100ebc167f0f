/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The side elevation: the whole build to scale, seen from the front. */
#pragma once

#include "picture/scene.h"

G_BEGIN_DECLS

/* Fills an empty scene. study and verdict may be NULL: then the build is drawn dry, and without
 * findings. A study whose running state was not found is drawn dry too, with a line that says why. */
void nappe_elevation_compose (NappeScene *scene, const NappePictureOptions *options, NappeBuild *build, const NappeLayout *layout,
                              const NappeStudy *study, const NappeVerdict *verdict);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plan: the sump from above, with what stands in it and the pipes that end over it. */
#pragma once

#include "picture/scene.h"

G_BEGIN_DECLS

/* Fills an empty scene. study may be NULL: then the sump is drawn dry. */
void nappe_sump_plan_compose (NappeScene *scene, const NappePictureOptions *options, NappeBuild *build, const NappeLayout *layout,
                         const NappeStudy *study, const NappeVerdict *verdict);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The panes that are drilled or cut, each seen from outside, with the places of its holes. */
#pragma once

#include "picture/scene.h"

G_BEGIN_DECLS

/* Fills an empty scene. study may be NULL. */
void nappe_panels_compose (NappeScene *scene, const NappePictureOptions *options, NappeBuild *build, const NappeLayout *layout,
                           const NappeStudy *study, const NappeVerdict *verdict);

G_END_DECLS

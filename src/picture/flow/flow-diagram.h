/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The flow diagram: display on top, overflow boxes, drains as parallel verticals, the sump's chambers
 * in their order, the return with its pump. Not to scale; it lays itself out for any build. Symbols
 * after ISO 10628-2 and ISO 14617. */
#pragma once

#include "picture/scene.h"

G_BEGIN_DECLS

/* Composes the diagram onto an empty scene. Nothing is kept of the arguments. */
void nappe_flow_diagram_compose (NappeScene *scene, const NappePictureOptions *options, NappeBuild *build,
                                 const NappeLayout *layout, const NappeStudy *study, const NappeVerdict *verdict);

G_END_DECLS

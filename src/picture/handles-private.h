/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For pictures that have handles. */
#pragma once

#include "picture/handles.h"
#include "picture/scene.h"

G_BEGIN_DECLS

/* Handles of one part stand at least so far apart [px]. */
#define NAPPE_HANDLE_APART 24.0

/* Adds a handle for a number of a part. Value, range and label are those of its field and of what follows it; a number that
 * is not given, or a place that is not finite, gets none: NULL. One that would stand on another of the same picked part gives
 * way along the axis that it does not move on. Owned by the scene and good until the next one is added. */
NappeHandle *nappe_scene_handle (NappeScene *self, NappeBuild *build, gpointer picked, gpointer part, const char *field,
                                 gboolean upright, double x, double y, double per_pixel);
/* Narrows the range, but never so far that the value lies outside. why: a translated sentence, copied. Any handle may be NULL. */
void nappe_scene_handle_least (NappeScene *self, NappeHandle *handle, double least, const char *why);
void nappe_scene_handle_most (NappeScene *self, NappeHandle *handle, double most, const char *why);

/* Adds what a handle may be lined up with besides other handles. */
void nappe_scene_guide (NappeScene *self, gboolean upright, double at);

const NappeHandle *nappe_scene_handles (const NappeScene *self, guint *n);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What sentences call a part. */
#pragma once

#include "build/build.h"

G_BEGIN_DECLS

/* A part's name in quotes, or its kind and id: “Main siphon”, Drain “drain-2”. An outlet without a name goes by its
 * line, a piece by its place in the run: Piece 5 of “Return line”; an id that no part has stands in quotes. Transfer full. */
char *nappe_part_words (NappeBuild *build, const char *id);

/* The same as a caption, without quotes around a name: Main siphon, Piece 5 of “Return line”; "" for "", which is the
 * whole build. Transfer full. */
char *nappe_part_caption (NappeBuild *build, const char *id);

G_END_DECLS

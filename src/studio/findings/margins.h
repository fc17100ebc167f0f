/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Margins: the limits that a person holds builds to, apart from any build. They become limits of a build only when the person
 * says so, as one step to undo: what a file says must not depend on who opens it. */
#pragma once

#include "build/build.h"

G_BEGIN_DECLS

/* What a build's limits are set to, as margins: a{sd}, floating. */
GVariant *nappe_margins_of (NappeBuild *build);

/* How many of the margins could be put into a build. What is no limit, or out of its range, does not count: settings may hold
 * anything. */
guint nappe_margins_count (GVariant *margins);

/* Sets the limits of a build to the margins; limits without one stay. One step to undo, or none where all are so already. */
void nappe_margins_put_in (GVariant *margins, NappeBuild *build);

G_END_DECLS

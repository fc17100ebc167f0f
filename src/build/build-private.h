/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared between build.c and editing.c alone. */
#pragma once

#include "build/build.h"
#include "build/history.h"

/* The ids of all parts: a set of char * (transfer full). */
GHashTable *nappe_build_ids (NappeBuild *self);
/* "drain-1" or the next that the set does not hold. (transfer full) */
char *nappe_build_free_id_among (GHashTable *ids, const char *kind);

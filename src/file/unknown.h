/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Members of a file that this version does not know; parts carry them (nappe_part_set_unknown), so
 * that saving writes them back. */
#pragma once

#include <json-glib/json-glib.h>

#include "build/part.h"

typedef struct
{
  JsonObject *members; /* of the part's object; NULL: none */
  JsonArray *points;   /* the curve as it was read, when its points have further members; else NULL */
} NappeUnknown;

/* Keeps what the object holds beyond the part's fields, slots, id and name.
 * known: further names to leave out, ended by NULL; nullable. */
void nappe_unknown_keep (NappePart *part, JsonObject *object, const char *const *known);
/* What was kept, or NULL. Owned by the part. */
const NappeUnknown *nappe_unknown_of (NappePart *part);
/* Adds all members of `from` that `names`, ended by NULL, does not list to `to`. */
void nappe_unknown_add (JsonObject *from, const char *const *names, JsonObject *to);
/* The names of a curve's point, ended by NULL. */
extern const char *const nappe_point_names[3];

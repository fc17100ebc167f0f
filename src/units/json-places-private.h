/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "units/json-guard.h"

/* The tree of values that the guard builds while it reads.  A node is a number; the root is 0 and
 * exists from the start.  Names are those after escapes have been resolved. */

G_BEGIN_DECLS

#define NAPPE_JSON_ROOT 0u

NappeJsonPlaces *nappe_json_places_new (guint root_line);

/* How many values there are, the root among them. */
guint nappe_json_places_count (const NappeJsonPlaces *places);

/* Adds the member `name` (not NUL-terminated) of the object `parent`; a FALSE return means that
 * the object has that member already: then nothing is added and *node is the one that is there. */
gboolean nappe_json_places_add_member (NappeJsonPlaces *places, guint32 parent, const char *name,
                                       gsize length, guint line, guint32 *node);

/* Adds element `index` of the array `parent`. The caller gives each index once. */
guint32 nappe_json_places_add_element (NappeJsonPlaces *places, guint32 parent, guint32 index, guint line);

/* The path of a node for people, shortened when long: "drains[1].length_mm"; "" for the root. */
char *nappe_json_places_path (const NappeJsonPlaces *places, guint32 node);

G_END_DECLS

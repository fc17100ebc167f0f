/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where parts stand in a file. */
#pragma once

#include "build/part.h"

/* The value of the member "format". */
#define NAPPE_FILE_FORMAT "nappe-build"

/* "drains[2].outlets[0]"; "" for the root. member: of the part, appended; nullable. (transfer full) */
char *nappe_part_path (NappePart *part, const char *member);

/* The id that a part has when the file gives none: of a single in the root the slot's name, "tank"; of a
 * single in another part that part's id with the slot's name, "return-pump"; NULL for others.
 * (transfer full) */
char *nappe_part_usual_id (NappePart *part);

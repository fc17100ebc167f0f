/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One part and all below as a text of its own, as a clipboard carries it:
 *
 *   { "format": "nappe-part", "version": 1, "kind": "drain", "part": { … as in a build file … } } */
#pragma once

#include "file/file.h"

G_BEGIN_DECLS

/* Longest text that is read [byte]. */
#define NAPPE_PART_TEXT_MAX (1024 * 1024)

/* Transfer full. */
char *nappe_file_write_part_text (NappePart *part);

/* The part, with the ids of the text, in no build (transfer full); or NULL with an error of NAPPE_FILE_ERROR. Whether its
 * numbers are within their ranges and its references name anything is left to nappe_build_insert. The text may come from
 * anywhere. */
NappePart *nappe_file_read_part_text (const char *text, GError **error);

G_END_DECLS

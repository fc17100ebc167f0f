/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON as people like to read it: two spaces of indentation, and short objects of plain values on
 * one line. */
#pragma once

#include <json-glib/json-glib.h>

/* The text of a value, with a closing line end. The same for the same value. (transfer full) */
char *nappe_file_json_text (JsonNode *root, gsize *length);

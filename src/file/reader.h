/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared between the files of the reader alone. */
#pragma once

#include <json-glib/json-glib.h>

#include "file/file.h"
#include "units/json-guard.h"

/* One text on its way to a build. Functions return FALSE once an error is set. */
typedef struct
{
  const char *name;              /* what errors call the text */
  const NappeJsonPlaces *places; /* lines of its members; NULL: messages tell none */
  GError **error;
} NappeReader;

/* Sets an error at a member of the part (the part itself with NULL). Returns FALSE. */
gboolean nappe_reader_fail (NappeReader *self, NappePart *part, const char *member, NappeFileError code,
                            const char *format, ...) G_GNUC_PRINTF (5, 6);

/* What a node is, for people: "a number", "a list", ... Static. */
const char *nappe_reader_kind_of (JsonNode *node);

/* A text from the file as a message may quote it: one short line. (transfer full) */
char *nappe_reader_excerpt (const char *text);

/* A part from an object with its own identity, fields and slots. */
gboolean nappe_reader_read_part (NappeReader *self, NappePart *part, JsonNode *node);

/* reader-values.c: the value that a node has for a field, whose type `value` was initialised to. Its range is not
 * looked at. */
gboolean nappe_reader_read_value (NappeReader *self, NappePart *part, const NappeField *field, JsonNode *node,
                                  GValue *value);

/* reader-values.c: puts the value of a node into a field. */
gboolean nappe_reader_read_field (NappeReader *self, NappePart *part, const NappeField *field, JsonNode *node);

/* reader-checks.c: what holds for the build as a whole: ids are unique, references name parts of right
 * kinds, tees stand in the line's own run, baffles fit the chambers. */
gboolean nappe_reader_check_whole (NappeReader *self, NappeBuild *build);

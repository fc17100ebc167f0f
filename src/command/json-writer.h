/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes JSON (RFC 8259) for other programs. Numbers carry nine significant digits: a computed
 * value has no more to say, and they come out the same on every machine. The key of a quantity is
 * its name and the unit of the build file, "level" and a length give "level_mm". */
#pragma once

#include "units/quantity.h"

G_BEGIN_DECLS

typedef struct
{
  GString *text;
  guint depth;
  gboolean needs_comma;
} NappeJsonWriter;

void nappe_json_writer_init (NappeJsonWriter *self);
/* The whole text with a line break at its end; transfer full. The writer is spent. */
char *nappe_json_writer_end (NappeJsonWriter *self);

/* In all of these the key is NULL for the root and inside arrays. */
void nappe_json_open (NappeJsonWriter *self, const char *key, char bracket); /* '{' or '[' */
void nappe_json_close (NappeJsonWriter *self, char bracket);                 /* '}' or ']' */
void nappe_json_text (NappeJsonWriter *self, const char *key, const char *text); /* NULL gives null */
void nappe_json_flag (NappeJsonWriter *self, const char *key, gboolean flag);
void nappe_json_count (NappeJsonWriter *self, const char *key, guint count);
/* si: SI value; not-a-number and infinite give null. */
void nappe_json_quantity (NappeJsonWriter *self, const char *key, NappeQuantity quantity, double si);

G_END_DECLS

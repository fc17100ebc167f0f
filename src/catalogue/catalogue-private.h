/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

#include "catalogue/catalogue.h"

G_BEGIN_DECLS

/* Reads one row of a catalogue file.
 *  row      the row's object
 *  sources  nullable: the file's object of sources by short name
 *  own      whether the row is the user's
 *  strings  keeps every text of the item; must outlive it
 *  member   out, transfer full, set with an error: the member to blame; NULL if it is the whole row
 * Returns an item to be freed by nappe_item_free(), or NULL with a NAPPE_CATALOGUE_ERROR whose
 * message does not say where: the caller adds file and line. */
NappeItem *nappe_item_read (JsonObject *row, JsonObject *sources, gboolean own, GStringChunk *strings,
                            char **member, GError **error);

/* What no single member shows: that the item's members fit each other. Otherwise as above. */
gboolean nappe_item_check (const NappeItem *item, char **member, GError **error);

void nappe_item_free (NappeItem *item);

/* A row of a catalogue file. */
typedef struct
{
  guint index;     /* among the rows of its file */
  guint line;      /* on which it begins, from 1 */
  char *id;        /* "": it gives none */
  NappeItem *item; /* owned; NULL: the row cannot be used */
  char *problem;   /* why, with file, line and reason; NULL: nothing is wrong */
} NappeFileRow;
void nappe_file_row_free (gpointer data);

/* Reads a file and appends its rows to `rows`, of NappeFileRow, in order. Of an own file a bad row says what is wrong with
 * it, and only a file that cannot be read at all is an error; else a bad row is an error too. Messages name file and line. */
gboolean nappe_catalogue_file_read (const char *path, gboolean own, GStringChunk *strings, GPtrArray *rows, GError **error);

/* The two halves of it, for an own file that is about to be changed. shown: its name for messages. */
gboolean nappe_catalogue_file_load (const char *path, char **text, gsize *length, GError **error);
gboolean nappe_catalogue_text_read (const char *text, gsize length, const char *shown, GStringChunk *strings, GPtrArray *rows,
                                    GError **error);

/* Where a row, and the list of all rows, stand in the text of a file that nappe_catalogue_text_read() took. */
typedef struct
{
  gsize start, end; /* [bytes]; end: behind its last byte */
} NappeTextSpan;
/* of NappeTextSpan; list: (out) what is between the brackets. NULL: they are not where a program may change them, since
 * "items" is written with escapes. Transfer full. */
GArray *nappe_row_spans (const char *text, gsize length, NappeTextSpan *list);

/* The beginning of a text from a file, for a message. Transfer full. */
char *nappe_catalogue_short_text (const char *text);

/* Whether `name` is in the list of shipped names that are marked for translation. */
gboolean nappe_item_name_is_translatable (const char *name);

G_END_DECLS

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

/* Reads a file and appends its items to `items`, in order.
 *  lines       of guint: gets the line on which each item begins
 *  complaints  nullable: with it, a bad row is left out and named there (char*), and only a file
 *              that cannot be read at all is an error; without it, a bad row is an error too
 * Messages name file and line. */
gboolean nappe_catalogue_file_read (const char *path, gboolean own, GStringChunk *strings, GPtrArray *items,
                                    GArray *lines, GPtrArray *complaints, GError **error);

/* The beginning of a text from a file, for a message. Transfer full. */
char *nappe_catalogue_short_text (const char *text);

/* Whether `name` is in the list of shipped names that are marked for translation. */
gboolean nappe_item_name_is_translatable (const char *name);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table that finds its own column widths, wraps its cells, and breaks over pages with its head
 * repeated. Private to the room; lengths in [pt]. */
#pragma once

#include "sheet/pages.h"

G_BEGIN_DECLS

typedef struct _NappeTable NappeTable;

/* kinds: a letter for every column, 't' for text, 'n' for figures, which are set flush right and never
 * wrapped. heads: as many translated texts, copied. */
NappeTable *nappe_table_new (const char *kinds, const char *const *heads);
void nappe_table_free (NappeTable *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeTable, nappe_table_free)

/* Appends cells from left to right; a row begins by itself when the one before is full. */
void nappe_table_add (NappeTable *self, const char *text);
void nappe_table_take (NappeTable *self, char *text); /* the same; frees text */
/* The row that was begun last is a total: a line above, heavy type. */
void nappe_table_emphasise (NappeTable *self);

guint nappe_table_n_rows (const NappeTable *self);
/* Height of the head and the first few rows, to keep a heading with them. */
double nappe_table_first_height (NappeTable *self, NappePages *pages);
void nappe_table_draw (NappeTable *self, NappePages *pages);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Columns of plain text for a terminal: the first is set left, the others right. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct _NappeTextTable NappeTextTable;

NappeTextTable *nappe_text_table_new (guint n_columns);
void nappe_text_table_free (NappeTextTable *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeTextTable, nappe_text_table_free)

/* Lets a column be set left too. */
void nappe_text_table_set_left (NappeTextTable *self, guint column);
/* Adds the next cell, row by row; the text is copied, NULL is an empty cell. */
void nappe_text_table_add (NappeTextTable *self, const char *text);
/* The same; the text is taken. */
void nappe_text_table_take (NappeTextTable *self, char *text);
/* Appends all rows, each indented by some blanks and with no blanks at its end. */
void nappe_text_table_print (const NappeTextTable *self, guint indent, GString *to);

/* Appends a paragraph broken at blanks so that no line is wider than `width` columns, every line
 * indented. Line breaks in the text are kept; a word wider than a line stands alone. */
void nappe_text_wrap (const char *text, guint indent, guint width, GString *to);

G_END_DECLS

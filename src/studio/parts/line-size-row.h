/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pipe of a whole line: another one changes every piece in its size. */
#pragma once

#include <gtk/gtk.h>

#include "studio/document/document.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_LINE_SIZE_ROW (nappe_line_size_row_get_type ())
G_DECLARE_FINAL_TYPE (NappeLineSizeRow, nappe_line_size_row, NAPPE, LINE_SIZE_ROW, GtkListBoxRow)

/* part: a drain, return line or outlet. The document has a catalogue. */
GtkWidget *nappe_line_size_row_new (NappeDocument *document, NappePart *part, NappeUnitSystem units);
/* Shows the pipe that the line has. */
void nappe_line_size_row_refresh (NappeLineSizeRow *self);
/* As if chosen: id of a pipe or hose. */
void nappe_line_size_row_choose (NappeLineSizeRow *self, const char *pipe);
/* Why the last choice could not be made; "": it was. */
const char *nappe_line_size_row_get_reason (NappeLineSizeRow *self);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One piece of a run, in a run list: what it is, its length and the head lost in it; opened, the fields that mean something for
 * it. A menu moves it, adds a piece behind it and takes it out. */
#pragma once

#include <adwaita.h>

#include "studio/document/document.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_RUN_ROW (nappe_run_row_get_type ())
G_DECLARE_FINAL_TYPE (NappeRunRow, nappe_run_row, NAPPE, RUN_ROW, AdwExpanderRow)

GtkWidget *nappe_run_row_new (NappeDocument *document, NappePart *piece, NappeUnitSystem units);
/* Not owned. */
NappePart *nappe_run_row_get_piece (NappeRunRow *self);
/* Shows the piece as it is. lost: head lost in it [m]; NaN: not known. The document has a catalogue. */
void nappe_run_row_refresh (NappeRunRow *self, double lost);

G_END_DECLS

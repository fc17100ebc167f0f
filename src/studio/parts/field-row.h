/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One field of a part: its label, an editor that fits its type, and what is wrong with what was
 * typed. Text is checked while it is typed and taken over on Return or when the focus leaves; a
 * change goes through the build, so that it can be undone. */
#pragma once

#include <gtk/gtk.h>

#include "build/build.h"
#include "catalogue/catalogue.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_FIELD_ROW (nappe_field_row_get_type ())
G_DECLARE_FINAL_TYPE (NappeFieldRow, nappe_field_row, NAPPE, FIELD_ROW, GtkListBoxRow)

/* field NULL: the name that the person gave the part. catalogue: nullable; without it the ids of
 * items are typed. */
GtkWidget *nappe_field_row_new (NappeBuild *build, NappePart *part, const NappeField *field,
                                NappeCatalogue *catalogue, NappeUnitSystem units);

/* For a number that need not be given: says what holds when it is not, why, and lets a button take the person's own
 * value away. Both translated. */
void nappe_field_row_explain (NappeFieldRow *self, const char *usual, const char *reason);

/* What also comes into the part, in the same step, when this number is given while that text is empty: the currency of a
 * price. field: name of a text of the part. */
void nappe_field_row_bring (NappeFieldRow *self, const char *field, const char *text);

/* Shows the part's present value, unless something is being typed. */
void nappe_field_row_refresh (NappeFieldRow *self);

/* Whether what stands in the editor cannot be taken. */
gboolean nappe_field_row_has_error (NappeFieldRow *self);

G_END_DECLS

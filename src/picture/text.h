/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Texts of the pictures: one family with tabular figures in four sizes.
 *
 * A text is shaped once, on the thread that makes it, and then is a list of glyphs: it can be drawn
 * on any thread and any cairo surface, and stays selectable text in PDF. */
#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

typedef enum { NAPPE_TEXT_SMALL, NAPPE_TEXT_BODY, NAPPE_TEXT_HEAD, NAPPE_TEXT_TITLE } NappeTextSize; /* 11, 12, 14, 20 px */
typedef enum { NAPPE_TEXT_REGULAR, NAPPE_TEXT_STRONG } NappeTextWeight; /* 400, 600 */

/* Shapes texts. Belongs to the thread that made it. */
typedef struct _NappeTextShaper NappeTextShaper;
/* scale: of all sizes; 1 normal. */
NappeTextShaper *nappe_text_shaper_new (double scale);
void nappe_text_shaper_free (NappeTextShaper *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeTextShaper, nappe_text_shaper_free)
double nappe_text_shaper_scale (const NappeTextShaper *self);
/* Height of one line of a size, the same for every text [px]. */
double nappe_text_shaper_line_height (NappeTextShaper *self, NappeTextSize size);

typedef struct _NappeText NappeText;
/* One line. Characters that no font has, and bytes that are not UTF-8, are shown as boxes. */
NappeText *nappe_text_new (NappeTextShaper *shaper, const char *text, NappeTextSize size, NappeTextWeight weight);
void nappe_text_free (NappeText *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeText, nappe_text_free)
double nappe_text_width (const NappeText *self);  /* [px] */
double nappe_text_height (const NappeText *self); /* of the line [px] */
const char *nappe_text_string (const NappeText *self);
/* Draws with the top left corner of the line's box at the context's origin, in its current colour. */
void nappe_text_draw (const NappeText *self, cairo_t *cr);

G_END_DECLS

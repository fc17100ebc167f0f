/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pages of a paper as they are filled from top to bottom: text that wraps and breaks over
 * pages, headings that go into the PDF's outline, a footer with "page x of y".
 *
 * Private to the room. Lengths are PostScript points [pt], x to the right and y down from the
 * page's top left corner. The same calls are made twice: once against a surface that keeps nothing,
 * to learn how many pages there will be, and once for the file. */
#pragma once

#include <cairo.h>

#include "picture/palette.h"
#include "sheet/letters.h"
#include "sheet/sheet.h"

G_BEGIN_DECLS

typedef struct _NappePages NappePages;

/* Landscape size of a paper [pt]. */
void nappe_pages_paper_size (NappePaper paper, double *width, double *height);

/* surface: the PDF to write, or NULL to count the pages only. letters: borrowed. n_pages: how many
 * there will be, 0 while counting. footer: left part of the footer, one line. */
NappePages *nappe_pages_new (cairo_surface_t *surface, NappeLetters *letters, NappePaper paper, guint n_pages,
                             const char *footer);
/* Closes the last page. Returns the number of pages. Frees. */
guint nappe_pages_finish (NappePages *self);

void nappe_pages_begin (NappePages *self); /* a fresh page */
/* Moves to a fresh page unless this much height is left. */
void nappe_pages_need (NappePages *self, double height);
void nappe_pages_skip (NappePages *self, double height);

/* A section's heading, entered in the outline; stays together with the `follows` points below it. */
void nappe_pages_heading (NappePages *self, const char *text, double follows);
void nappe_pages_bookmark (NappePages *self, const char *text); /* outline entry alone, at the current place */
/* Wrapped text, its left edge moved in by indent; breaks between lines where the page ends. */
void nappe_pages_paragraph (NappePages *self, NappeLettering lettering, double indent, const char *text);

/* Draws lines first .. before `last` with the top of the first one at y; returns the y below them.
 * flush_right: they end at the layout's width instead of beginning at x. */
double nappe_pages_draw_lines (NappePages *self, PangoLayout *layout, NappeLettering lettering, double x, double y,
                               int first, int last, gboolean flush_right);
/* Text at a place, at most max_lines of it (0: all); returns the y below it. */
double nappe_pages_draw_text (NappePages *self, NappeLettering lettering, double x, double y, double width,
                              int max_lines, const char *text);
/* Straight line of the given ink, thickness in [pt]. */
void nappe_pages_rule (NappePages *self, double x1, double y1, double x2, double y2, double thickness,
                       NappeRole role);

NappeLetters *nappe_pages_letters (NappePages *self);
gboolean nappe_pages_is_counting (NappePages *self);
cairo_t *nappe_pages_cairo (NappePages *self);
double nappe_pages_left (NappePages *self);
double nappe_pages_right (NappePages *self);
double nappe_pages_top (NappePages *self);
double nappe_pages_bottom (NappePages *self); /* above the footer */
double nappe_pages_y (NappePages *self);      /* where the next thing goes */
void nappe_pages_set_y (NappePages *self, double y);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Set text of the papers: one family in four sizes, wrapped to a width.
 *
 * Private to the room. Lengths in [pt]. Every text is shaped once and kept, since a paper is set
 * twice: to count its pages and to write them. Text breaks at the same places on every surface and
 * in every language setting of the machine. */
#pragma once

#include <pango/pango.h>

G_BEGIN_DECLS

typedef enum
{
  NAPPE_LETTERING_TITLE,   /* 15 pt, heavy */
  NAPPE_LETTERING_HEADING, /* 10.5 pt, heavy */
  NAPPE_LETTERING_STRONG,  /* 9 pt, heavy */
  NAPPE_LETTERING_BODY,    /* 9 pt */
  NAPPE_LETTERING_SOFT,    /* 8.25 pt, soft ink */
  NAPPE_LETTERING_FINE,    /* 8.25 pt, ink */
} NappeLettering;

typedef struct _NappeLetters NappeLetters;

NappeLetters *nappe_letters_new (void);
void nappe_letters_free (NappeLetters *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeLetters, nappe_letters_free)

/* A text wrapped to a width (< 0: its lines as they are), at most max_lines of it with an ellipsis
 * for the rest (0: all). Bytes that are not UTF-8 are replaced. Owned by the letters; not to be changed. */
PangoLayout *nappe_letters_layout (NappeLetters *self, NappeLettering lettering, double width, int max_lines,
                                   const char *text);
double nappe_letters_width (NappeLetters *self, NappeLettering lettering, const char *text);
/* Of the widest piece between spaces. */
double nappe_letters_longest_word (NappeLetters *self, NappeLettering lettering, const char *text);

double nappe_lettering_size (NappeLettering lettering);
double nappe_lettering_line_height (NappeLettering lettering);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The specification sheet: a PDF of several pages. Needs no display. */
#pragma once

#include "picture/picture.h"

G_BEGIN_DECLS

typedef enum { NAPPE_PAPER_A4, NAPPE_PAPER_LETTER } NappePaper;

typedef struct
{
  NappePaper paper;
  NappeUnitSystem units;
  const char *file_name;  /* shown in the title block, or NULL */
  const char *file_hash;  /* sha256 in hex of the build file, or NULL */
  const char *date;       /* ISO 8601 day, printed and put in the PDF's metadata; NULL: the build's date, else none */
} NappeSheetOptions;

/* Byte-for-byte the same for the same input and fonts. Written beside and renamed, so that an
 * older file survives any failure. */
gboolean nappe_sheet_write (const NappeSheetOptions *options, NappeBuild *build, const NappeLayout *layout,
                            const NappeStudy *study, const NappeVerdict *verdict, const char *path, GError **error);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared between the files that write the specification sheet. */
#pragma once

#include "sheet/pages.h"
#include "sheet/table.h"

G_BEGIN_DECLS

/* All that a section may say, and where it says it. Nothing is owned. */
typedef struct
{
  const NappeSheetOptions *options;
  const char *date; /* ISO 8601 day, or "" */
  NappeBuild *build;
  const NappeLayout *layout;
  const NappeStudy *study;
  const NappeVerdict *verdict;
  NappePages *pages;
} NappeSheet;

/* Pictures are made in pixels [pt/px]. */
#define NAPPE_SHEET_POINTS_PER_PIXEL 0.75

/* Number with or without its unit in the sheet's units; "—" for NaN. Transfer full. */
char *nappe_sheet_quantity (const NappeSheet *sheet, NappeQuantity quantity, double value);
char *nappe_sheet_number (const NappeSheet *sheet, NappeQuantity quantity, double value);
/* Head of a column of figures: "level, mm". Transfer full. */
char *nappe_sheet_head (const NappeSheet *sheet, const char *text, NappeQuantity quantity);
/* The running state's value, or NaN when there is no steady state to speak of. */
double nappe_sheet_running (const NappeSheet *sheet, double value);
/* A heading and its table, or the heading and one line when the table has no rows. */
void nappe_sheet_section (const NappeSheet *sheet, const char *heading, NappeTable *table, const char *empty);
/* A table of two columns: what and how much. */
void nappe_sheet_pair (NappeTable *table, const char *label, char *value); /* takes value */

/* Sections. The front and each of the drawings are a page. */
void nappe_sheet_front (const NappeSheet *sheet);
void nappe_sheet_drawings (const NappeSheet *sheet);
void nappe_sheet_basis (const NappeSheet *sheet);
void nappe_sheet_vessels (const NappeSheet *sheet);
void nappe_sheet_levels (const NappeSheet *sheet);
void nappe_sheet_power_cut (const NappeSheet *sheet);
void nappe_sheet_charts (const NappeSheet *sheet);
void nappe_sheet_blockages (const NappeSheet *sheet);
void nappe_sheet_drains (const NappeSheet *sheet);
void nappe_sheet_tuning (const NappeSheet *sheet);
void nappe_sheet_pumps (const NappeSheet *sheet);
void nappe_sheet_weirs (const NappeSheet *sheet);
void nappe_sheet_chambers (const NappeSheet *sheet);
void nappe_sheet_level_runs (const NappeSheet *sheet);
void nappe_sheet_head_ledgers (const NappeSheet *sheet);
void nappe_sheet_heat (const NappeSheet *sheet);
void nappe_sheet_weight (const NappeSheet *sheet);
void nappe_sheet_panels (const NappeSheet *sheet);
void nappe_sheet_findings (const NappeSheet *sheet);
void nappe_sheet_fine (const NappeSheet *sheet);
void nappe_sheet_cautions (const NappeSheet *sheet);
void nappe_sheet_signatures (const NappeSheet *sheet);

G_END_DECLS

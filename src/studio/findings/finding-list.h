/* SPDX-License-Identifier: GPL-3.0-or-later */
/* List boxes whose rows are findings (NappeFindingRow). */
#pragma once

#include <gtk/gtk.h>

#include "studio/findings/cure-finder.h"

G_BEGIN_DECLS

/* What rows are made with. */
typedef struct
{
  NappeOutcome *outcome;   /* that the findings are of */
  NappeCureFinder *finder; /* NULL: the rows offer no cures */
  GHashTable *open;        /* char *, see nappe_finding_list_remember_open */
} NappeFindingListMeans;

/* Makes the rows agree with findings of the outcome. A finding, known by its rule and part, that was there before keeps its
 * row, and with it the focus and whether it is open. */
void nappe_finding_list_match (GtkListBox *list, GPtrArray *findings, const NappeFindingListMeans *means);
void nappe_finding_list_empty (GtkListBox *list);

NappeFinding *nappe_finding_list_finding_of (GtkListBoxRow *row);
/* The first row about a finding's rule and part, of whatever study; NULL: none. */
GtkListBoxRow *nappe_finding_list_row_of (GtkListBox *list, NappeFinding *finding);

/* Writes down which findings have an open row, and strikes out those whose row is shut. */
void nappe_finding_list_remember_open (GtkListBox *list, GHashTable *open);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The findings of an outcome, worst first, those that somebody answered, and what was checked and is fine. While cases
 * are still played in time, a line says so.
 *
 * Signal `picked` (const char *part): the person chose a finding; "" when it speaks of the whole
 * build. */
#pragma once

#include <gtk/gtk.h>

#include "studio/findings/cure-finder.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_FINDINGS_PANEL (nappe_findings_panel_get_type ())
G_DECLARE_FINAL_TYPE (NappeFindingsPanel, nappe_findings_panel, NAPPE, FINDINGS_PANEL, GtkWidget)

/* Looks for the cures of its findings; before the first outcome. */
void nappe_findings_panel_set_finder (NappeFindingsPanel *self, NappeCureFinder *finder);

/* NULL empties it. A finding, known by its rule and part, stays picked, open and focused when the new outcome has it too.
 * One that only playing shows is picked and open again once that is done. */
void nappe_findings_panel_set_outcome (NappeFindingsPanel *self, NappeOutcome *outcome);

/* Marks the first finding about a part, without a signal; NULL: none. */
void nappe_findings_panel_select_part (NappeFindingsPanel *self, const char *part);

/* Picks and opens the next (1) or the previous (-1) finding; the ends join. */
void nappe_findings_panel_step (NappeFindingsPanel *self, int direction);

/* The verdict in words, "2 dangers, 1 problem". Transfer full. */
char *nappe_findings_panel_summary (const NappeVerdict *verdict);

G_END_DECLS

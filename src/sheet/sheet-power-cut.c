/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What runs down in a power cut, by where it was, and where it goes. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/cut-words.h"

static void
add_ledger_row (const NappeSheet *sheet, NappeTable *table, const NappeCutCase *cases, guint n, const NappeLedgerLine *line)
{
  double sign = line->kind == NAPPE_LEDGER_CHAMBER ? -1.0 : 1.0;

  nappe_table_take (table, nappe_cut_source_words (sheet->build, line));
  for (guint i = 0; i < n; i++)
    nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME, sign * nappe_cut_volume (cases[i].cut, line)));
}

static void
add_ledger (const NappeSheet *sheet, NappeTable *table, const NappeCutCase *cases, guint n, gboolean chambers)
{
  for (guint i = 0; i < n; i++)
    {
      const NappePowerCut *cut = cases[i].cut;

      for (guint j = 0; cut->known && j < cut->n_ledger; j++)
        if ((cut->ledger[j].kind == NAPPE_LEDGER_CHAMBER) == chambers && !nappe_cut_was_listed (cases, i, j))
          add_ledger_row (sheet, table, cases, n, &cut->ledger[j]);
    }
}

static void
add_cut_total (const NappeSheet *sheet, NappeTable *table, const char *label, const NappeCutCase *cases, guint n, gsize offset)
{
  nappe_table_add (table, label);
  for (guint i = 0; i < n; i++)
    nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME,
                                                 cases[i].cut->known ? G_STRUCT_MEMBER (double, cases[i].cut, offset) : NAN));
}

void
nappe_sheet_power_cut (const NappeSheet *sheet)
{
  NappeCutCase cases[NAPPE_CUT_CASES_MOST];
  guint n = nappe_cut_cases (sheet->study, cases);
  g_autoptr (GPtrArray) heads = g_ptr_array_new_with_free_func (g_free);
  gboolean known = FALSE;

  g_ptr_array_add (heads, g_strdup (_("water that comes down, by where it was")));
  for (guint i = 0; i < n; i++)
    {
      g_ptr_array_add (heads, nappe_sheet_head (sheet, cases[i].head, NAPPE_QUANTITY_VOLUME));
      known = known || cases[i].cut->known;
    }
  g_autoptr (NappeTable) table = nappe_table_new (n == NAPPE_CUT_CASES_MOST ? "tnnn" : "tnn", (const char *const *) heads->pdata);
  if (known)
    {
      add_ledger (sheet, table, cases, n, FALSE);
      add_cut_total (sheet, table, _("all that comes down"), cases, n, G_STRUCT_OFFSET (NappePowerCut, run_back));
      nappe_table_emphasise (table);
      add_ledger (sheet, table, cases, n, TRUE);
      add_cut_total (sheet, table, _("room in the sump above its running levels"), cases, n,
                     G_STRUCT_OFFSET (NappePowerCut, sump_free));
      add_cut_total (sheet, table, _("on the floor of the room"), cases, n, G_STRUCT_OFFSET (NappePowerCut, state.spilled));
      nappe_table_emphasise (table);
    }
  nappe_sheet_section (sheet, _("Power cut"), table, _("The levels after a power cut are not known."));
}

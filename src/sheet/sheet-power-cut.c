/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What runs down in a power cut, by where it was, and where it goes. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/wording.h"

#define N_CUTS 3 /* most cases; without a check valve one less */

/* Cases with the heads of their columns. Returns how many there are. */
static guint
get_cuts (const NappeStudy *study, const NappePowerCut *cuts[N_CUTS], const char *heads[N_CUTS])
{
  gboolean valve = nappe_wording_has_check_valve (study->network);
  guint n = 0;

  heads[n] = valve ? _("check valve failed") : _("siphon breaks open");
  cuts[n++] = &study->cut_check_failed;
  if (valve)
    {
      heads[n] = _("check valve holds");
      cuts[n++] = &study->cut_check_holds;
    }
  heads[n] = valve ? _("check valve failed and siphon breaks blocked") : _("siphon breaks blocked");
  cuts[n++] = &study->cut_break_blocked;
  return n;
}

static gboolean
is_same_source (const NappeLedgerLine *a, const NappeLedgerLine *b)
{
  return a->kind == b->kind && g_str_equal (a->id, b->id);
}

/* All that came from one source: a line of several pipes has an entry for each. NaN: not known. */
static double
ledger_volume (const NappePowerCut *cut, const NappeLedgerLine *line)
{
  double volume = 0.0;

  if (!cut->known)
    return NAN;
  for (guint i = 0; i < cut->n_ledger; i++)
    if (is_same_source (&cut->ledger[i], line))
      volume += cut->ledger[i].volume;
  return volume;
}

/* Whether a source came up before: in an earlier case, or earlier in this one. */
static gboolean
was_listed (const NappePowerCut *const *cuts, guint cut, guint index)
{
  const NappeLedgerLine *line = &cuts[cut]->ledger[index];

  for (guint i = 0; i <= cut; i++)
    for (guint j = 0; cuts[i]->known && j < (i < cut ? cuts[i]->n_ledger : index); j++)
      if (is_same_source (&cuts[i]->ledger[j], line))
        return TRUE;
  return FALSE;
}

static char *
ledger_label (const NappeSheet *sheet, const NappeLedgerLine *line)
{
  const char *name = nappe_wording_part (sheet->build, line->id);

  switch (line->kind)
    {
    case NAPPE_LEDGER_DRAIN_PIPES:
    case NAPPE_LEDGER_RETURN_PIPES:
      /* Translators: water that stands in the pipes of a line; %s is the line's name */
      return g_strdup_printf (_("pipes of %s"), name);
    case NAPPE_LEDGER_CHAMBER:
      /* Translators: water that a chamber of the sump takes up; %s is its name */
      return g_strdup_printf (_("taken up by %s"), name);
    case NAPPE_LEDGER_DISPLAY:
    case NAPPE_LEDGER_BOX:
    default:
      return g_strdup (name);
    }
}

static void
add_ledger_row (const NappeSheet *sheet, NappeTable *table, const NappePowerCut *const *cuts, guint n,
                const NappeLedgerLine *line)
{
  double sign = line->kind == NAPPE_LEDGER_CHAMBER ? -1.0 : 1.0;

  nappe_table_take (table, ledger_label (sheet, line));
  for (guint i = 0; i < n; i++)
    nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME, sign * ledger_volume (cuts[i], line)));
}

static void
add_ledger (const NappeSheet *sheet, NappeTable *table, const NappePowerCut *const *cuts, guint n,
            gboolean chambers)
{
  for (guint i = 0; i < n; i++)
    for (guint j = 0; cuts[i]->known && j < cuts[i]->n_ledger; j++)
      if ((cuts[i]->ledger[j].kind == NAPPE_LEDGER_CHAMBER) == chambers && !was_listed (cuts, i, j))
        add_ledger_row (sheet, table, cuts, n, &cuts[i]->ledger[j]);
}

static void
add_cut_total (const NappeSheet *sheet, NappeTable *table, const char *label, const NappePowerCut *const *cuts, guint n,
               gsize offset)
{
  nappe_table_add (table, label);
  for (guint i = 0; i < n; i++)
    nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME,
                                                 cuts[i]->known ? G_STRUCT_MEMBER (double, cuts[i], offset) : NAN));
}

void
nappe_sheet_power_cut (const NappeSheet *sheet)
{
  const NappePowerCut *cuts[N_CUTS];
  const char *names[N_CUTS];
  guint n = get_cuts (sheet->study, cuts, names);
  g_autoptr (GPtrArray) heads = g_ptr_array_new_with_free_func (g_free);
  gboolean known = FALSE;

  g_ptr_array_add (heads, g_strdup (_("water that comes down, by where it was")));
  for (guint i = 0; i < n; i++)
    {
      g_ptr_array_add (heads, nappe_sheet_head (sheet, names[i], NAPPE_QUANTITY_VOLUME));
      known = known || cuts[i]->known;
    }
  g_autoptr (NappeTable) table = nappe_table_new (n == N_CUTS ? "tnnn" : "tnn", (const char *const *) heads->pdata);
  if (known)
    {
      add_ledger (sheet, table, cuts, n, FALSE);
      add_cut_total (sheet, table, _("all that comes down"), cuts, n, G_STRUCT_OFFSET (NappePowerCut, run_back));
      nappe_table_emphasise (table);
      add_ledger (sheet, table, cuts, n, TRUE);
      add_cut_total (sheet, table, _("room in the sump above its running levels"), cuts, n,
                     G_STRUCT_OFFSET (NappePowerCut, sump_free));
      add_cut_total (sheet, table, _("on the floor of the room"), cuts, n, G_STRUCT_OFFSET (NappePowerCut, state.spilled));
      nappe_table_emphasise (table);
    }
  nappe_sheet_section (sheet, _("Power cut"), table, _("The levels after a power cut are not known."));
}

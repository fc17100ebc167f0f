/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/cut-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/wording.h"

guint
nappe_cut_cases (const NappeStudy *study, NappeCutCase cases[NAPPE_CUT_CASES_MOST])
{
  gboolean valve = nappe_wording_has_check_valve (study->network);
  guint n = 0;

  cases[n++] = (NappeCutCase) { valve ? _("check valve failed") : _("siphon breaks open"), &study->cut_check_failed };
  if (valve)
    cases[n++] = (NappeCutCase) { _("check valve holds"), &study->cut_check_holds };
  cases[n++] = (NappeCutCase) { valve ? _("check valve failed and siphon breaks blocked") : _("siphon breaks blocked"),
                                &study->cut_break_blocked };
  return n;
}

static gboolean
is_same_source (const NappeLedgerLine *a, const NappeLedgerLine *b)
{
  return a->kind == b->kind && g_str_equal (a->id, b->id);
}

double
nappe_cut_volume (const NappePowerCut *cut, const NappeLedgerLine *source)
{
  double volume = 0.0;

  if (!cut->known)
    return NAN;
  for (guint i = 0; i < cut->n_ledger; i++)
    if (is_same_source (&cut->ledger[i], source))
      volume += cut->ledger[i].volume;
  return volume;
}

gboolean
nappe_cut_was_listed (const NappeCutCase *cases, guint index, guint line)
{
  const NappeLedgerLine *source = &cases[index].cut->ledger[line];

  for (guint i = 0; i <= index; i++)
    for (guint j = 0; cases[i].cut->known && j < (i < index ? cases[i].cut->n_ledger : line); j++)
      if (is_same_source (&cases[i].cut->ledger[j], source))
        return TRUE;
  return FALSE;
}

char *
nappe_cut_source_words (NappeBuild *build, const NappeLedgerLine *source)
{
  const char *name = nappe_wording_part (build, source->id);

  switch (source->kind)
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

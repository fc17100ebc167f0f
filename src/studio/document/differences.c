/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/document/differences.h"

#include <glib/gi18n-lib.h>

/* Numbers of the whole build that are looked at first: what ends on the floor, what may, and what runs. */
static const char *const weighty[] = { "on_the_floor", "sump_margin", "run_back", "pump_flow" };

/* Bands are left out: they are there for one of the two alone while a person drags. */
static GPtrArray *
results_of (const NappeOutcome *outcome, const char *part)
{
  const NappeResultSources sources = { .build = outcome->build, .study = outcome->study };

  return nappe_results_of_part (&sources, part);
}

static void
compare (GPtrArray *lines, const NappeResult *before, const NappeResult *after, NappeUnitSystem units)
{
  g_autofree char *was = NULL, *is = NULL, *line = NULL;

  if (before == NULL || after == NULL || !nappe_result_is_known (before) || !nappe_result_is_known (after))
    return;
  was = nappe_result_value_text (before, units);
  is = nappe_result_value_text (after, units);
  if (g_str_equal (was, is))
    return;
  /* Translators: what a change does to a number: its label, its value before and after */
  line = g_strdup_printf (_("%1$s: %2$s → %3$s"), after->label, was, is);
  /* The build's numbers are some of its parts' too. */
  if (!g_ptr_array_find_with_equal_func (lines, line, g_str_equal, NULL))
    g_ptr_array_add (lines, g_steal_pointer (&line));
}

/* Those that a study alone gives: what takes playing cases in time is not known while a person drags. */
static guint
count_findings (const NappeVerdict *verdict)
{
  guint n = 0;

  for (guint i = 0; i < verdict->findings->len; i++)
    {
      const NappeRuleInfo *rule = nappe_rules_find (nappe_finding_get_rule (verdict->findings->pdata[i]));

      n += rule == NULL || !rule->timed;
    }
  return n;
}

static void
compare_findings (GPtrArray *lines, const NappeOutcome *before, const NappeOutcome *after)
{
  guint was = count_findings (before->verdict), is = count_findings (after->verdict);

  if (was != is)
    /* Translators: how many findings there were before a change, and after it */
    g_ptr_array_add (lines, g_strdup_printf (_("Findings: %1$u → %2$u"), was, is));
}

static void
compare_part (GPtrArray *lines, const NappeOutcome *before, const NappeOutcome *after, const char *part)
{
  g_autoptr (GPtrArray) was = results_of (before, part), is = results_of (after, part);

  for (guint i = 0; i < is->len; i++)
    {
      const NappeResult *result = is->pdata[i];

      compare (lines, nappe_results_find (was, result->key), result, after->units);
    }
}

GPtrArray *
nappe_differences (const NappeOutcome *before, const NappeOutcome *after, const char *part, guint most)
{
  const char *tank = nappe_part_get_id (after->build->tank);
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) was = results_of (before, ""), is = results_of (after, "");

  for (gsize i = 0; i < G_N_ELEMENTS (weighty); i++)
    compare (lines, nappe_results_find (was, weighty[i]), nappe_results_find (is, weighty[i]), after->units);
  compare_part (lines, before, after, part);
  if (!g_str_equal (part, tank))
    compare_part (lines, before, after, tank);
  if (lines->len >= most)
    g_ptr_array_set_size (lines, (int) most - 1);
  compare_findings (lines, before, after);
  return lines;
}

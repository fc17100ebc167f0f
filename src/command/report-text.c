/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "command/report.h"
#include "command/text-table.h"
#include "picture/wording.h"
#include "results/part-words.h"

#define INDENT 2u
#define DEEPER 6u
#define WIDTH 96u

static void
add_heading (GString *text, const char *heading)
{
  g_string_append_printf (text, "\n%s\n", heading);
}

/* A number with its band; "—" for one that is not there. Transfer full. */
static char *
result_text (const NappeCase *self, const GPtrArray *results, const char *key)
{
  const NappeResult *result = nappe_results_find (results, key);

  return result != NULL ? nappe_result_text (result, self->units) : nappe_case_number (self, NAPPE_QUANTITY_NUMBER, NAN);
}

static void
add_number (const NappeCase *self, NappeTextTable *table, NappeQuantity quantity, double si)
{
  nappe_text_table_take (table, nappe_case_number (self, quantity, si));
}

/* A paragraph with a word before it, unless it is empty. */
static void
add_paragraph (GString *text, const char *label, const char *paragraph)
{
  g_autofree char *whole = NULL;

  if (*paragraph == '\0')
    return;
  whole = label != NULL ? g_strdup_printf ("%s %s", label, paragraph) : g_strdup (paragraph);
  nappe_text_wrap (whole, DEEPER, WIDTH, text);
}

static void
add_finding (const NappeCase *self, GString *text, NappeFinding *finding, gboolean working)
{
  const char *part = nappe_finding_get_part (finding);
  g_autofree char *steps = nappe_finding_working_text (finding, self->units);

  if (nappe_finding_get_severity (finding) == NAPPE_SEVERITY_FINE)
    g_string_append_printf (text, "   •  %s", nappe_finding_get_title (finding));
  else
    {
      /* What was answered is not numbered. */
      if (nappe_finding_get_number (finding) > 0)
        g_string_append_printf (text, "%4u  ", nappe_finding_get_number (finding));
      else
        g_string_append (text, "   •  ");
      g_string_append_printf (text, "%s: %s", nappe_severity_label (nappe_finding_get_severity (finding)),
                              nappe_finding_get_title (finding));
    }
  if (*part != '\0')
    {
      g_autofree char *caption = nappe_part_caption (self->build, part);
      g_string_append_printf (text, " (%s)", caption);
    }
  g_string_append_c (text, '\n');
  add_paragraph (text, NULL, nappe_finding_get_text (finding));
  /* Translators: before what would cure a finding. */
  add_paragraph (text, _("Remedy:"), nappe_finding_get_remedy (finding));
  add_paragraph (text, NULL, nappe_finding_get_changed (finding));
  add_paragraph (text, NULL, nappe_finding_get_answer (finding));
  if (!working)
    return;
  if (*steps != '\0')
    {
      nappe_text_wrap (_("Working:"), DEEPER, WIDTH, text);
      nappe_text_wrap (steps, DEEPER + 2, WIDTH, text);
    }
  /* Translators: before the book or standard that a finding rests on. */
  add_paragraph (text, _("Source:"), nappe_finding_get_source (finding));
}

/* Those of a list that were checked, or those that were not. */
static void
add_list (const NappeCase *self, GString *text, const char *heading, const GPtrArray *list, gboolean checked,
          gboolean working)
{
  gboolean headed = FALSE;

  for (guint i = 0; i < list->len; i++)
    {
      if (nappe_finding_get_checked (list->pdata[i]) != checked)
        continue;
      if (!headed)
        add_heading (text, heading);
      headed = TRUE;
      add_finding (self, text, list->pdata[i], working);
    }
}

static void
add_findings (const NappeCase *self, GString *text, const NappeReportOptions *options)
{
  const NappeVerdict *verdict = self->verdict;

  add_list (self, text, _("Findings"), verdict->findings, TRUE, options->working);
  /* Translators: findings that somebody gave a reason for, why they may stand. */
  add_list (self, text, _("Answered"), verdict->answered, TRUE, options->working);
  if (!options->all)
    return;
  add_list (self, text, _("Checked and fine"), verdict->fine, TRUE, options->working);
  add_list (self, text, _("Not checked, or does not apply"), verdict->fine, FALSE, options->working);
}

static void
add_levels (const NappeCase *self, GString *text)
{
  const NappeStudy *study = self->study;
  const NappeNetwork *network = study->network;
  const NappeState *cut = study->cut_check_failed.known ? &study->cut_check_failed.state : NULL;
  g_autoptr (NappeTextTable) table = nappe_text_table_new (4);

  nappe_text_table_add (table, NULL);
  nappe_text_table_add (table, _("running"));
  nappe_text_table_add (table, _("after a power cut"));
  nappe_text_table_add (table, _("rim"));
  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];

      if (node->kind > NAPPE_NODE_VESSEL)
        continue;
      nappe_text_table_take (table, nappe_case_name (self, node->id));
      add_number (self, table, NAPPE_QUANTITY_LENGTH, study->running.level != NULL ? study->running.level[i] : NAN);
      add_number (self, table, NAPPE_QUANTITY_LENGTH, cut != NULL ? cut->level[i] : NAN);
      add_number (self, table, NAPPE_QUANTITY_LENGTH, node->rim);
    }
  add_heading (text, _("Levels above the room's floor"));
  nappe_text_table_print (table, INDENT, text);
}

/* The tuning window of a valved siphon: "−12 % … +7 % of the flow". */
static char *
window_text (const NappeCase *self, const NappeTuningWindow *window)
{
  g_autofree char *down = NULL, *up = NULL;

  if (!window->known)
    return g_strdup ("");
  down = nappe_case_number (self, NAPPE_QUANTITY_SHARE, fabs (window->down));
  up = nappe_case_number (self, NAPPE_QUANTITY_SHARE, fabs (window->up));
  return g_strdup_printf ("−%s … +%s", down, up);
}

static void
add_drains (const NappeCase *self, GString *text)
{
  g_autoptr (NappeTextTable) table = nappe_text_table_new (8);
  const char *const headings[] = {
    NULL, _("role"), _("flow"), _("runs"), _("speed"), _("can take more"), _("valve open"), _("flow may change by"),
  };

  nappe_text_table_set_left (table, 1);
  nappe_text_table_set_left (table, 3);
  for (gsize i = 0; i < G_N_ELEMENTS (headings); i++)
    nappe_text_table_add (table, headings[i]);
  for (guint i = 0; i < self->study->n_drains; i++)
    {
      const NappeDrainReport *drain = &self->study->drains[i];
      NappePart *part = nappe_build_find (self->build, drain->id);

      nappe_text_table_add (table, nappe_wording_part (self->build, drain->id));
      nappe_text_table_add (table, part != NULL ? nappe_wording_choice (part, "role") : NULL);
      add_number (self, table, NAPPE_QUANTITY_FLOW, drain->flow);
      nappe_text_table_add (table, nappe_wording_drain_state (drain->state));
      add_number (self, table, NAPPE_QUANTITY_SPEED, drain->velocity);
      add_number (self, table, NAPPE_QUANTITY_FLOW, drain->reserve);
      if (nappe_is_given (drain->opening))
        add_number (self, table, NAPPE_QUANTITY_SHARE, drain->opening);
      else
        nappe_text_table_add (table, NULL);
      nappe_text_table_take (table, window_text (self, &drain->window));
    }
  if (self->study->n_drains == 0)
    return;
  add_heading (text, _("Drains"));
  nappe_text_table_print (table, INDENT, text);
}

static void
add_weirs (const NappeCase *self, GString *text)
{
  g_autoptr (NappeTextTable) table = nappe_text_table_new (4);

  nappe_text_table_add (table, NULL);
  nappe_text_table_add (table, _("flow"));
  nappe_text_table_add (table, _("water over the crest"));
  nappe_text_table_add (table, _("fall into the box"));
  for (guint i = 0; i < self->study->n_weirs; i++)
    {
      const NappeWeirReport *weir = &self->study->weirs[i];

      nappe_text_table_add (table, nappe_wording_part (self->build, weir->id));
      add_number (self, table, NAPPE_QUANTITY_FLOW, weir->flow);
      add_number (self, table, NAPPE_QUANTITY_LENGTH, weir->film);
      add_number (self, table, NAPPE_QUANTITY_LENGTH, weir->fall);
    }
  if (self->study->n_weirs == 0)
    return;
  add_heading (text, _("Weirs"));
  nappe_text_table_print (table, INDENT, text);
}

static void
add_pumps (const NappeCase *self, GString *text)
{
  g_autoptr (NappeTextTable) table = nappe_text_table_new (5);

  nappe_text_table_add (table, NULL);
  nappe_text_table_add (table, _("flow"));
  nappe_text_table_add (table, _("head"));
  nappe_text_table_add (table, _("of it height"));
  nappe_text_table_add (table, _("water over its inlet"));
  for (guint i = 0; i < self->study->n_pumps; i++)
    {
      const NappePumpReport *pump = &self->study->pumps[i];

      nappe_text_table_add (table, nappe_wording_part (self->build, pump->id));
      add_number (self, table, NAPPE_QUANTITY_FLOW, pump->flow);
      add_number (self, table, NAPPE_QUANTITY_HEAD, pump->head);
      add_number (self, table, NAPPE_QUANTITY_HEAD, pump->static_head);
      add_number (self, table, NAPPE_QUANTITY_LENGTH, pump->submergence);
    }
  if (self->study->n_pumps == 0)
    return;
  add_heading (text, _("Pumps"));
  nappe_text_table_print (table, INDENT, text);
}

static void
add_ledger_row (const NappeCase *self, NappeTextTable *table, const char *label, double volume)
{
  nappe_text_table_add (table, label);
  add_number (self, table, NAPPE_QUANTITY_VOLUME, volume);
}

/* A line with branches stands in the ledger once for each of its pipes; people read one sum. */
static double
volume_of_part (const NappePowerCut *cut, const char *id)
{
  double volume = 0.0;

  for (guint i = 0; i < cut->n_ledger; i++)
    if (g_str_equal (cut->ledger[i].id, id) && cut->ledger[i].kind != NAPPE_LEDGER_CHAMBER)
      volume += cut->ledger[i].volume;
  return volume;
}

/* Whether an earlier line of the ledger is of the same part. */
static gboolean
is_listed (const NappePowerCut *cut, guint line)
{
  for (guint i = 0; i < line; i++)
    if (g_str_equal (cut->ledger[i].id, cut->ledger[line].id))
      return TRUE;
  return FALSE;
}

static void
add_power_cut (const NappeCase *self, GString *text, const NappePowerCut *cut, const char *heading)
{
  g_autoptr (NappeTextTable) table = nappe_text_table_new (2);

  if (!cut->known)
    return;
  for (guint i = 0; i < cut->n_ledger; i++)
    if (cut->ledger[i].kind != NAPPE_LEDGER_CHAMBER && !is_listed (cut, i))
      add_ledger_row (self, table, nappe_wording_part (self->build, cut->ledger[i].id),
                      volume_of_part (cut, cut->ledger[i].id));
  add_ledger_row (self, table, _("All that runs down"), cut->run_back);
  add_ledger_row (self, table, _("The sump can take up to its rim"), cut->sump_free);
  add_ledger_row (self, table, _("On the floor"), cut->state.spilled);
  add_heading (text, heading);
  nappe_text_table_print (table, INDENT, text);
}

/* Label and value, with its band, of some of a part's results. */
static void
add_results (const NappeCase *self, NappeTextTable *table, const GPtrArray *results, const char *const *keys)
{
  for (; *keys != NULL; keys++)
    {
      const NappeResult *result = nappe_results_find (results, *keys);

      if (result == NULL || !nappe_result_is_known (result))
        continue;
      nappe_text_table_add (table, result->label);
      nappe_text_table_take (table, nappe_result_text (result, self->units));
    }
}

static void
add_heat (const NappeCase *self, GString *text, const GPtrArray *results)
{
  static const char *const keys[] = {
    "evaporation_a_day", "days_reservoir_lasts", "days_to_air", "heat_wanted", "heater_power", "heater_power_one_failed",
    "power", "energy_a_year_kwh", "cost_a_year", NULL,
  };
  g_autoptr (NappeTextTable) table = nappe_text_table_new (2);

  if (self->heat == NULL || !self->heat->known)
    return;
  nappe_text_table_set_left (table, 1);
  add_results (self, table, results, keys);
  add_heading (text, _("Evaporation, heat and power"));
  nappe_text_table_print (table, INDENT, text);
}

/* The least strength over stress of the upright panels: a bottom lies on something. */
static double
least_safety (const NappeCase *self)
{
  double least = INFINITY;

  for (guint i = 0; i < self->loads->n_panels; i++)
    if (self->loads->panels[i].side != NAPPE_PANEL_BOTTOM)
      least = fmin (least, self->loads->panels[i].safety);
  return least;
}

static void
add_weight (const NappeCase *self, GString *text, const GPtrArray *results)
{
  static const char *const keys[] = { "mass", "floor_pressure", "floor_allowed", NULL };
  g_autoptr (NappeTextTable) table = nappe_text_table_new (2);

  if (self->loads == NULL || !self->loads->known)
    return;
  nappe_text_table_set_left (table, 1);
  add_results (self, table, results, keys);
  if (isfinite (least_safety (self)))
    {
      nappe_text_table_add (table, _("Strength of the weakest upright panel over its stress"));
      add_number (self, table, NAPPE_QUANTITY_NUMBER, least_safety (self));
    }
  add_heading (text, _("Weight and panels"));
  nappe_text_table_print (table, INDENT, text);
  nappe_text_wrap (_("These are cautions and no approval: have a person who knows floors and glass check them."), INDENT,
                   WIDTH, text);
}

char *
nappe_report_text (const NappeCase *self, const NappeReportOptions *options)
{
  GString *text = g_string_new (NULL);
  g_autofree char *counts = nappe_verdict_counts_text (self->verdict);
  g_autoptr (GPtrArray) results = nappe_case_results (self, "");
  g_autofree char *turnover = result_text (self, results, "display_turnover");
  g_autofree char *flow = result_text (self, results, "pump_flow");
  const char *trouble = nappe_wording_rest (self->study->running.rest);

  g_string_append_printf (text, "%s\n", *self->build->title != '\0' ? self->build->title : self->name);
  g_string_append_printf (text, "%s: %s\n", nappe_severity_label (nappe_verdict_worst (self->verdict)),
                          *counts != '\0' ? counts : _("nothing to say against this build"));
  if (trouble != NULL)
    g_string_append_printf (text, "%s\n", trouble);
  else
    /* Translators: the first %s is a flow, “2 990 L/h (2 750–3 190)”, the second a rate, “8.1 /h (7.5–8.6)”. */
    g_string_append_printf (text, _("Pump flow %s, turnover of the display %s\n"), flow, turnover);
  add_findings (self, text, options);
  add_levels (self, text);
  add_weirs (self, text);
  add_drains (self, text);
  add_pumps (self, text);
  add_power_cut (self, text, &self->study->cut_check_failed, _("Power cut: the water that runs down"));
  if (options->all)
    {
      add_power_cut (self, text, &self->study->cut_check_holds, _("Power cut with the check valve holding"));
      add_power_cut (self, text, &self->study->cut_break_blocked, _("Power cut with the siphon-break holes blocked"));
    }
  add_heat (self, text, results);
  add_weight (self, text, results);
  return g_string_free (text, FALSE);
}

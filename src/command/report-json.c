/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The members are described in nappe(1); they may only be added to within one version. */
#include "command/report-json-parts.h"
#include "command/report.h"
#include "command/result-json.h"
#include "command/words.h"
#include "config.h"

#define REPORT_VERSION 1u
/* A band leaves 5 in a hundred samples below it and above it (study/spread.h). */
#define SHARE_BETWEEN 0.9

static void
add_findings (NappeJsonWriter *json, const char *key, const GPtrArray *findings)
{
  nappe_json_open (json, key, '[');
  for (guint i = 0; i < findings->len; i++)
    {
      NappeFinding *finding = g_ptr_array_index (findings, i);
      NappeQuantity quantity = nappe_finding_get_quantity (finding);

      nappe_json_open (json, NULL, '{');
      nappe_json_count (json, "number", nappe_finding_get_number (finding));
      nappe_json_text (json, "rule", nappe_finding_get_rule (finding));
      nappe_json_text (json, "severity", nappe_severity_nick (nappe_finding_get_severity (finding)));
      nappe_json_text (json, "part", nappe_finding_get_part (finding));
      nappe_json_text (json, "title", nappe_finding_get_title (finding));
      nappe_json_text (json, "text", nappe_finding_get_text (finding));
      nappe_json_text (json, "remedy", nappe_finding_get_remedy (finding));
      nappe_json_text (json, "source", nappe_finding_get_source (finding));
      nappe_json_text (json, "changed", nappe_finding_get_changed (finding));
      nappe_json_text (json, "answer", nappe_finding_get_answer (finding));
      nappe_json_flag (json, "checked", nappe_finding_get_checked (finding));
      nappe_json_quantity (json, "value", quantity, nappe_finding_get_value (finding));
      nappe_json_quantity (json, "limit", quantity, nappe_finding_get_limit (finding));
      nappe_json_working (json, nappe_finding_get_working (finding));
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_verdict (NappeJsonWriter *json, const NappeVerdict *verdict)
{
  nappe_json_open (json, "verdict", '{');
  nappe_json_text (json, "worst", nappe_severity_nick (nappe_verdict_worst (verdict)));
  nappe_json_count (json, "dangers", verdict->n_danger);
  nappe_json_count (json, "problems", verdict->n_problem);
  nappe_json_count (json, "advice", verdict->n_advice);
  nappe_json_close (json, '}');
}

/* What the bands beside the numbers mean. */
static void
add_bands (NappeJsonWriter *json, const NappeSpread *spread)
{
  nappe_json_open (json, "bands", '{');
  nappe_json_text (json, "sampling", "so many of the samples lie between low and high");
  nappe_json_text (json, "first-order", "the value divided and multiplied by the uncertainty of its law alone");
  nappe_json_count (json, "samples", spread != NULL ? spread->n_samples : 0);
  nappe_json_count (json, "samples_settled", spread != NULL ? spread->n_settled : 0);
  nappe_json_quantity (json, "share_between", NAPPE_QUANTITY_SHARE, SHARE_BETWEEN);
  nappe_json_close (json, '}');
}

static void
add_running (NappeJsonWriter *json, const NappeCase *self)
{
  static const char *const of_build[] = { "pump_flow", "vessels", "pipes", NULL };
  static const char *const of_tank[] = { "display_flow", "display_turnover", "display_free", NULL };
  g_autoptr (GPtrArray) build = nappe_case_results (self, ""),
                        tank = nappe_case_results (self, nappe_part_get_id (self->build->tank));

  nappe_json_open (json, "running", '{');
  nappe_json_text (json, "rest", nappe_rest_nick (self->study->running.rest));
  nappe_json_results (json, build, of_build);
  nappe_json_quantity (json, "display_volume", NAPPE_QUANTITY_VOLUME, self->study->display_volume);
  nappe_json_results (json, tank, of_tank);
  nappe_json_flag (json, "pump_draws_air", self->study->running.draws_air);
  nappe_json_close (json, '}');
}

static void
add_cut_numbers (NappeJsonWriter *json, const NappePowerCut *cut)
{
  nappe_json_quantity (json, "run_back", NAPPE_QUANTITY_VOLUME, cut->run_back);
  nappe_json_quantity (json, "sump_free", NAPPE_QUANTITY_VOLUME, cut->sump_free);
  nappe_json_quantity (json, "sump_margin", NAPPE_QUANTITY_LENGTH, cut->sump_margin);
  nappe_json_quantity (json, "on_the_floor", NAPPE_QUANTITY_VOLUME, cut->state.spilled);
}

/* results: of the sump, with bands, for the kind of power cut that they are of; NULL for the others. */
static void
add_power_cut (NappeJsonWriter *json, const NappePowerCut *cut, const GPtrArray *results)
{
  static const char *const keys[] = { "run_back", "sump_free", "sump_margin", "on_the_floor", "power_cut_flood_chance",
                                      NULL };

  if (!cut->known)
    return;
  nappe_json_open (json, NULL, '{');
  nappe_json_flag (json, "check_valve_holds", cut->check_valve_holds);
  nappe_json_flag (json, "siphon_break_open", cut->siphon_break_open);
  if (results != NULL)
    nappe_json_results (json, results, keys);
  else
    add_cut_numbers (json, cut);
  nappe_json_open (json, "ledger", '[');
  for (guint i = 0; i < cut->n_ledger; i++)
    {
      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "kind", nappe_ledger_nick (cut->ledger[i].kind));
      nappe_json_text (json, "part", cut->ledger[i].id);
      nappe_json_quantity (json, "volume", NAPPE_QUANTITY_VOLUME, cut->ledger[i].volume);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
  nappe_json_close (json, '}');
}

static void
add_power_cuts (NappeJsonWriter *json, const NappeCase *self)
{
  g_autoptr (GPtrArray) results = nappe_case_results (self, nappe_part_get_id (self->build->sump));

  nappe_json_open (json, "power_cuts", '[');
  add_power_cut (json, &self->study->cut_check_failed, results);
  add_power_cut (json, &self->study->cut_check_holds, NULL);
  add_power_cut (json, &self->study->cut_break_blocked, NULL);
  nappe_json_close (json, ']');
}

static void
add_blockages (NappeJsonWriter *json, const NappeStudy *study)
{
  nappe_json_open (json, "blockages", '[');
  for (guint i = 0; i < study->n_blockages; i++)
    {
      const NappeBlockage *blockage = &study->blockages[i];

      nappe_json_open (json, NULL, '{');
      nappe_json_flag (json, "all_drains", blockage->all_drains);
      nappe_json_open (json, "blocked", '[');
      for (guint b = 0; b < blockage->n_blocked && b < G_N_ELEMENTS (blockage->blocked); b++)
        nappe_json_text (json, NULL, study->network->links[blockage->blocked[b]].id);
      nappe_json_close (json, ']');
      nappe_json_flag (json, "floods", blockage->floods);
      nappe_json_quantity (json, "display_rise", NAPPE_QUANTITY_LENGTH, blockage->display_rise);
      nappe_json_quantity (json, "freeboard", NAPPE_QUANTITY_LENGTH, blockage->freeboard);
      nappe_json_quantity (json, "time_to_rim", NAPPE_QUANTITY_DURATION, blockage->time_to_rim);
      nappe_json_quantity (json, "top_off_added", NAPPE_QUANTITY_VOLUME, blockage->top_off_added);
      nappe_json_quantity (json, "on_the_floor", NAPPE_QUANTITY_VOLUME, blockage->state.spilled);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

char *
nappe_report_json (const NappeCase *self, const NappeReportOptions *options)
{
  NappeJsonWriter json;

  nappe_json_writer_init (&json);
  nappe_json_open (&json, NULL, '{');
  nappe_json_text (&json, "format", "nappe-check");
  nappe_json_count (&json, "version", REPORT_VERSION);
  nappe_json_text (&json, "program", NAPPE_VERSION);
  nappe_json_text (&json, "file", self->name);
  nappe_json_text (&json, "title", self->build->title);
  add_verdict (&json, self->verdict);
  add_findings (&json, "findings", self->verdict->findings);
  add_findings (&json, "answered", self->verdict->answered);
  if (options->all)
    add_findings (&json, "fine", self->verdict->fine);
  add_bands (&json, self->spread);
  add_running (&json, self);
  nappe_report_json_parts (&json, self);
  add_power_cuts (&json, self);
  add_blockages (&json, self->study);
  nappe_json_close (&json, '}');
  return nappe_json_writer_end (&json);
}

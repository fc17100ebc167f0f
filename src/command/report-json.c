/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The members are described in nappe(1); they may only be added to within one version. */
#include <math.h>

#include "command/json-writer.h"
#include "command/report.h"
#include "command/words.h"
#include "config.h"
#include "picture/wording.h"

#define REPORT_VERSION 1u

static void
add_working (NappeJsonWriter *json, const NappeWorking *working)
{
  if (working == NULL)
    return;
  nappe_json_open (json, "working", '{');
  nappe_json_text (json, "formula", working->formula);
  nappe_json_open (json, "inputs", '[');
  for (guint i = 0; i < working->inputs->len; i++)
    {
      const NappeWorkingInput *input = &g_array_index (working->inputs, NappeWorkingInput, i);

      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "symbol", input->symbol);
      nappe_json_text (json, "label", input->label);
      nappe_json_quantity (json, "value", input->quantity, input->value);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
  nappe_json_close (json, '}');
}

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
      nappe_json_quantity (json, "value", quantity, nappe_finding_get_value (finding));
      nappe_json_quantity (json, "limit", quantity, nappe_finding_get_limit (finding));
      add_working (json, nappe_finding_get_working (finding));
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

static void
add_running (NappeJsonWriter *json, const NappeStudy *study)
{
  nappe_json_open (json, "running", '{');
  nappe_json_text (json, "rest", nappe_rest_nick (study->running.rest));
  nappe_json_quantity (json, "pump_flow", NAPPE_QUANTITY_FLOW, study->running.pump_flow);
  nappe_json_quantity (json, "display_flow", NAPPE_QUANTITY_FLOW, study->running.display_flow);
  nappe_json_quantity (json, "display_volume", NAPPE_QUANTITY_VOLUME, study->display_volume);
  nappe_json_quantity (json, "display_turnover", NAPPE_QUANTITY_RATE, study->display_turnover);
  nappe_json_quantity (json, "vessels", NAPPE_QUANTITY_VOLUME, study->running.vessels);
  nappe_json_quantity (json, "pipes", NAPPE_QUANTITY_VOLUME, study->running.pipes);
  nappe_json_flag (json, "pump_draws_air", study->running.draws_air);
  nappe_json_close (json, '}');
}

static double
level_of (const NappeState *state, gboolean known, guint node)
{
  return known && state->level != NULL ? state->level[node] : NAN;
}

static void
add_vessels (NappeJsonWriter *json, const NappeCase *self)
{
  const NappeStudy *study = self->study;

  nappe_json_open (json, "vessels", '[');
  for (guint i = 0; i < study->network->n_nodes; i++)
    {
      const NappeNode *node = &study->network->nodes[i];

      if (node->kind > NAPPE_NODE_VESSEL)
        continue;
      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "id", node->id);
      nappe_json_text (json, "name", nappe_wording_part (self->build, node->id));
      nappe_json_text (json, "kind", nappe_node_nick (node->kind));
      nappe_json_quantity (json, "floor", NAPPE_QUANTITY_LENGTH, node->floor);
      nappe_json_quantity (json, "rim", NAPPE_QUANTITY_LENGTH, node->rim);
      nappe_json_quantity (json, "running_level", NAPPE_QUANTITY_LENGTH, level_of (&study->running, TRUE, i));
      nappe_json_quantity (json, "power_cut_level", NAPPE_QUANTITY_LENGTH,
                           level_of (&study->cut_check_failed.state, study->cut_check_failed.known, i));
      nappe_json_quantity (json, "power_cut_check_valve_holds_level", NAPPE_QUANTITY_LENGTH,
                           level_of (&study->cut_check_holds.state, study->cut_check_holds.known, i));
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_window (NappeJsonWriter *json, const NappeTuningWindow *window)
{
  if (!window->known)
    return;
  nappe_json_open (json, "tuning_window", '{');
  nappe_json_quantity (json, "down", NAPPE_QUANTITY_SHARE, window->down);
  nappe_json_quantity (json, "up", NAPPE_QUANTITY_SHARE, window->up);
  nappe_json_quantity (json, "siphon_breaks", NAPPE_QUANTITY_SHARE, window->breaks);
  nappe_json_quantity (json, "channel_dry", NAPPE_QUANTITY_SHARE, window->channel_dry);
  nappe_json_quantity (json, "channel_loud", NAPPE_QUANTITY_SHARE, window->channel_loud);
  nappe_json_quantity (json, "emergency_wet", NAPPE_QUANTITY_SHARE, window->emergency_wet);
  nappe_json_close (json, '}');
}

static void
add_drains (NappeJsonWriter *json, const NappeCase *self)
{
  nappe_json_open (json, "drains", '[');
  for (guint i = 0; i < self->study->n_drains; i++)
    {
      const NappeDrainReport *drain = &self->study->drains[i];

      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "id", drain->id);
      nappe_json_text (json, "name", nappe_wording_part (self->build, drain->id));
      nappe_json_text (json, "role", nappe_choice_nick (nappe_build_find (self->build, drain->id), "role"));
      nappe_json_text (json, "state", nappe_drain_state_nick (drain->state));
      nappe_json_quantity (json, "flow", NAPPE_QUANTITY_FLOW, drain->flow);
      nappe_json_quantity (json, "speed", NAPPE_QUANTITY_SPEED, drain->velocity);
      nappe_json_quantity (json, "froude", NAPPE_QUANTITY_NUMBER, drain->froude);
      nappe_json_quantity (json, "head_over_inlet", NAPPE_QUANTITY_LENGTH, drain->head_over_inlet);
      nappe_json_quantity (json, "quiet_flow", NAPPE_QUANTITY_FLOW, drain->quiet_flow);
      nappe_json_quantity (json, "capacity_inlet", NAPPE_QUANTITY_FLOW, drain->capacity_inlet);
      nappe_json_quantity (json, "capacity_full", NAPPE_QUANTITY_FLOW, drain->capacity_full);
      nappe_json_quantity (json, "reserve", NAPPE_QUANTITY_FLOW, drain->reserve);
      nappe_json_quantity (json, "exit_submergence", NAPPE_QUANTITY_LENGTH, drain->exit_submergence);
      nappe_json_quantity (json, "valve_opening", NAPPE_QUANTITY_SHARE, drain->opening);
      nappe_json_quantity (json, "valve_opening_wanted", NAPPE_QUANTITY_SHARE, drain->opening_wanted);
      nappe_json_quantity (json, "flow_valve_open", NAPPE_QUANTITY_FLOW, drain->flow_valve_open);
      add_window (json, &drain->window);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_weirs (NappeJsonWriter *json, const NappeCase *self)
{
  nappe_json_open (json, "weirs", '[');
  for (guint i = 0; i < self->study->n_weirs; i++)
    {
      const NappeWeirReport *weir = &self->study->weirs[i];

      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "id", weir->id);
      nappe_json_text (json, "name", nappe_wording_part (self->build, weir->id));
      nappe_json_quantity (json, "flow", NAPPE_QUANTITY_FLOW, weir->flow);
      nappe_json_quantity (json, "film", NAPPE_QUANTITY_LENGTH, weir->film);
      nappe_json_quantity (json, "film_low", NAPPE_QUANTITY_LENGTH, weir->film_low);
      nappe_json_quantity (json, "film_high", NAPPE_QUANTITY_LENGTH, weir->film_high);
      nappe_json_quantity (json, "fall", NAPPE_QUANTITY_LENGTH, weir->fall);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_pumps (NappeJsonWriter *json, const NappeCase *self)
{
  nappe_json_open (json, "pumps", '[');
  for (guint i = 0; i < self->study->n_pumps; i++)
    {
      const NappePumpReport *pump = &self->study->pumps[i];

      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "id", pump->id);
      nappe_json_text (json, "name", nappe_wording_part (self->build, pump->id));
      nappe_json_text (json, "line", pump->line);
      nappe_json_quantity (json, "flow", NAPPE_QUANTITY_FLOW, pump->flow);
      nappe_json_quantity (json, "head", NAPPE_QUANTITY_HEAD, pump->head);
      nappe_json_quantity (json, "static_head", NAPPE_QUANTITY_HEAD, pump->static_head);
      nappe_json_quantity (json, "shut_off_head", NAPPE_QUANTITY_HEAD, pump->shut_off_head);
      nappe_json_quantity (json, "lift_head", NAPPE_QUANTITY_HEAD, pump->lift_head);
      nappe_json_quantity (json, "submergence", NAPPE_QUANTITY_LENGTH, pump->submergence);
      nappe_json_quantity (json, "submergence_wanted", NAPPE_QUANTITY_LENGTH, pump->submergence_wanted);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_power_cut (NappeJsonWriter *json, const NappePowerCut *cut)
{
  if (!cut->known)
    return;
  nappe_json_open (json, NULL, '{');
  nappe_json_flag (json, "check_valve_holds", cut->check_valve_holds);
  nappe_json_flag (json, "siphon_break_open", cut->siphon_break_open);
  nappe_json_quantity (json, "run_back", NAPPE_QUANTITY_VOLUME, cut->run_back);
  nappe_json_quantity (json, "sump_free", NAPPE_QUANTITY_VOLUME, cut->sump_free);
  nappe_json_quantity (json, "sump_margin", NAPPE_QUANTITY_LENGTH, cut->sump_margin);
  nappe_json_quantity (json, "on_the_floor", NAPPE_QUANTITY_VOLUME, cut->state.spilled);
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
  if (options->all)
    add_findings (&json, "fine", self->verdict->fine);
  add_running (&json, self->study);
  add_vessels (&json, self);
  add_weirs (&json, self);
  add_drains (&json, self);
  add_pumps (&json, self);
  nappe_json_open (&json, "power_cuts", '[');
  add_power_cut (&json, &self->study->cut_check_failed);
  add_power_cut (&json, &self->study->cut_check_holds);
  add_power_cut (&json, &self->study->cut_break_blocked);
  nappe_json_close (&json, ']');
  add_blockages (&json, self->study);
  nappe_json_close (&json, '}');
  return nappe_json_writer_end (&json);
}

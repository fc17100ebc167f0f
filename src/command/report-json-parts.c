/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The members are described in nappe(1); they may only be added to within one version. */
#include "command/report-json-parts.h"

#include <math.h>

#include "command/result-json.h"
#include "command/words.h"
#include "study/head-ledger.h"

/* Opens the object of a part, with its id and name. */
static void
open_part (NappeJsonWriter *json, const NappeCase *self, const char *id)
{
  g_autofree char *name = nappe_case_name (self, id);

  nappe_json_open (json, NULL, '{');
  nappe_json_text (json, "id", id);
  nappe_json_text (json, "name", name);
}

static void
add_vessels (NappeJsonWriter *json, const NappeCase *self)
{
  const NappeNetwork *network = self->study->network;

  nappe_json_open (json, "vessels", '[');
  for (guint i = 0; i < network->n_nodes; i++)
    {
      static const char *const levels[] = {
        "running_level", "running_depth", "running_volume", "running_freeboard", "power_cut_level", "power_cut_freeboard",
        "power_cut_check_valve_holds_level", "power_cut_siphon_break_blocked_level", "drains_blocked_level", NULL,
      };
      const NappeNode *node = &network->nodes[i];
      g_autoptr (GPtrArray) results = NULL;

      if (node->kind > NAPPE_NODE_VESSEL)
        continue;
      results = nappe_case_results (self, node->id);
      open_part (json, self, node->id);
      nappe_json_text (json, "kind", nappe_node_nick (node->kind));
      nappe_json_quantity (json, "floor", NAPPE_QUANTITY_LENGTH, node->floor);
      nappe_json_quantity (json, "rim", NAPPE_QUANTITY_LENGTH, node->rim);
      nappe_json_results (json, results, levels);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_weirs (NappeJsonWriter *json, const NappeCase *self)
{
  static const char *const keys[] = { "flow", "film", "fall", "film_half_blocked", "freeboard_half_blocked",
                                      "joint_flow", "joint_head", "joint_speed", NULL };

  nappe_json_open (json, "weirs", '[');
  for (guint i = 0; i < self->study->n_weirs; i++)
    {
      const char *id = self->study->weirs[i].id;
      g_autoptr (GPtrArray) results = nappe_case_results (self, id);
      const NappeResult *film = nappe_results_find (results, "film");

      open_part (json, self, id);
      nappe_json_results (json, results, keys);
      /* Members of this version, known or not. */
      if (film != NULL && film->method == NAPPE_BAND_NONE)
        {
          nappe_json_quantity (json, "film_low", NAPPE_QUANTITY_LENGTH, NAN);
          nappe_json_quantity (json, "film_high", NAPPE_QUANTITY_LENGTH, NAN);
        }
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
  nappe_json_quantity (json, "rise_per_percent", NAPPE_QUANTITY_LENGTH, window->rise_per_percent);
  nappe_json_close (json, '}');
}

static void
add_cycle (NappeJsonWriter *json, const NappeSiphonCycle *cycle)
{
  if (!cycle->cycles)
    return;
  nappe_json_open (json, "cycle", '{');
  nappe_json_quantity (json, "primes_at", NAPPE_QUANTITY_LENGTH, cycle->primes_at);
  nappe_json_quantity (json, "breaks_at", NAPPE_QUANTITY_LENGTH, cycle->breaks_at);
  nappe_json_quantity (json, "swing", NAPPE_QUANTITY_LENGTH, cycle->swing);
  nappe_json_quantity (json, "period", NAPPE_QUANTITY_DURATION, cycle->period);
  nappe_json_quantity (json, "flow_full", NAPPE_QUANTITY_FLOW, cycle->flow_full);
  nappe_json_close (json, '}');
}

static void
add_drains (NappeJsonWriter *json, const NappeCase *self)
{
  static const char *const keys[] = {
    "flow", "speed", "froude", "stack_share", "head_over_inlet", "head_used", "quiet_flow", "capacity_inlet",
    "capacity_full", "reserve", "exit_submergence", "valve_opening", "valve_opening_wanted", "flow_valve_open",
    "rise_per_turn", "prime_level", "prime_margin", "blocked_rise", "blocked_freeboard", "blocked_on_the_floor",
    "blocked_flood_chance", NULL,
  };

  nappe_json_open (json, "drains", '[');
  for (guint i = 0; i < self->study->n_drains; i++)
    {
      const NappeDrainReport *drain = &self->study->drains[i];
      g_autoptr (GPtrArray) results = nappe_case_results (self, drain->id);

      open_part (json, self, drain->id);
      nappe_json_text (json, "role", nappe_choice_nick (nappe_build_find (self->build, drain->id), "role"));
      nappe_json_text (json, "state", nappe_drain_state_nick (drain->state));
      nappe_json_text (json, "control", nappe_control_nick (drain->control));
      nappe_json_text (json, "valve", drain->valve);
      nappe_json_results (json, results, keys);
      add_window (json, &drain->window);
      add_cycle (json, &drain->cycle);
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
      g_autoptr (GPtrArray) results = nappe_case_results (self, pump->id);

      open_part (json, self, pump->id);
      nappe_json_text (json, "line", pump->line);
      nappe_json_results (json, results, NULL);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_chambers (NappeJsonWriter *json, const NappeCase *self)
{
  static const char *const keys[] = { "running_level", "running_depth", "running_volume", "flow", "speed_along",
                                      "speed_down", "residence", "turnover", "bubble_stopped", "level_low",
                                      "level_high", NULL };

  nappe_json_open (json, "chambers", '[');
  for (guint i = 0; i < self->study->n_chambers; i++)
    {
      const char *id = self->study->chambers[i].id;
      g_autoptr (GPtrArray) results = nappe_case_results (self, id);

      open_part (json, self, id);
      nappe_json_text (json, "role", nappe_choice_nick (nappe_build_find (self->build, id), "role"));
      nappe_json_results (json, results, keys);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

/* The parts of one kind that have no report of their own. */
typedef struct
{
  NappeJsonWriter *json;
  const NappeCase *self;
  GType type;
} Visit;

static void
add_part (NappePart *part, gpointer user_data)
{
  const Visit *visit = user_data;
  g_autoptr (GPtrArray) results = NULL;

  if (!G_TYPE_CHECK_INSTANCE_TYPE (part, visit->type))
    return;
  results = nappe_case_results (visit->self, nappe_part_get_id (part));
  if (results->len == 0)
    return;
  open_part (visit->json, visit->self, nappe_part_get_id (part));
  nappe_json_results (visit->json, results, NULL);
  nappe_json_close (visit->json, '}');
}

static void
add_parts (NappeJsonWriter *json, const NappeCase *self, const char *key, GType type)
{
  Visit visit = { json, self, type };

  nappe_json_open (json, key, '[');
  nappe_part_visit (NAPPE_PART (self->build), add_part, &visit);
  nappe_json_close (json, ']');
}

static void
add_level_runs (NappeJsonWriter *json, const NappeStudy *study)
{
  nappe_json_open (json, "level_runs", '[');
  for (guint i = 0; i < study->n_level_runs; i++)
    {
      const NappeLevelRun *run = &study->level_runs[i];

      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "drain", run->drain);
      nappe_json_text (json, "piece", run->piece);
      nappe_json_quantity (json, "flow", NAPPE_QUANTITY_FLOW, run->flow);
      nappe_json_quantity (json, "bore", NAPPE_QUANTITY_LENGTH, run->bore);
      nappe_json_quantity (json, "fall", NAPPE_QUANTITY_SHARE, run->fall);
      nappe_json_quantity (json, "depth", NAPPE_QUANTITY_LENGTH, run->depth);
      nappe_json_quantity (json, "full_flow", NAPPE_QUANTITY_FLOW, run->full_flow);
      nappe_json_flag (json, "full", run->full);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_ledger (NappeJsonWriter *json, const NappeCase *self, const char *line)
{
  g_autoptr (NappeHeadLedger) ledger = nappe_head_ledger_new (self->study, &self->study->running, line);

  nappe_json_open (json, NULL, '{');
  nappe_json_text (json, "line", line);
  nappe_json_flag (json, "full", ledger->full);
  nappe_json_open (json, "losses", '[');
  for (guint i = 0; i < ledger->n; i++)
    {
      const NappeHeadLine *loss = &ledger->lines[i];

      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "piece", loss->piece);
      nappe_json_text (json, "kind", nappe_loss_nick (loss->kind));
      nappe_json_text (json, "outlet", self->study->network->links[loss->link].outlet);
      nappe_json_quantity (json, "flow", NAPPE_QUANTITY_FLOW, loss->flow);
      nappe_json_quantity (json, "bore", NAPPE_QUANTITY_LENGTH, loss->bore);
      nappe_json_quantity (json, "speed", NAPPE_QUANTITY_SPEED, loss->velocity);
      nappe_json_quantity (json, "reynolds", NAPPE_QUANTITY_NUMBER, loss->reynolds);
      nappe_json_quantity (json, "friction", NAPPE_QUANTITY_NUMBER, loss->friction);
      nappe_json_quantity (json, "k", NAPPE_QUANTITY_NUMBER, loss->k);
      nappe_json_quantity (json, "head", NAPPE_QUANTITY_HEAD, loss->head);
      nappe_json_quantity (json, "passed", NAPPE_QUANTITY_HEAD, loss->passed);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
  nappe_json_close (json, '}');
}

static void
add_ledgers (NappeJsonWriter *json, const NappeCase *self)
{
  nappe_json_open (json, "head_ledgers", '[');
  for (guint i = 0; i < self->study->n_drains; i++)
    add_ledger (json, self, self->study->drains[i].id);
  for (guint i = 0; i < self->study->n_pumps; i++)
    add_ledger (json, self, self->study->pumps[i].line);
  nappe_json_close (json, ']');
}

/* An object of all numbers of a part that there is one of. */
static void
add_single (NappeJsonWriter *json, const NappeCase *self, const char *key, NappePart *part)
{
  g_autoptr (GPtrArray) results = nappe_case_results (self, nappe_part_get_id (part));

  nappe_json_open (json, key, '{');
  nappe_json_results (json, results, NULL);
}

static void
add_power (NappeJsonWriter *json, const NappeHeat *heat)
{
  nappe_json_open (json, "users", '[');
  for (guint i = 0; heat != NULL && i < heat->n_power; i++)
    {
      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "part", heat->lines[i].part);
      nappe_json_quantity (json, "power", NAPPE_QUANTITY_POWER, heat->lines[i].power);
      nappe_json_quantity (json, "duty", NAPPE_QUANTITY_SHARE, heat->lines[i].duty);
      nappe_json_quantity (json, "heat_share", NAPPE_QUANTITY_SHARE, heat->lines[i].heat_share);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_panels (NappeJsonWriter *json, const NappeLoads *loads)
{
  nappe_json_open (json, "panels", '[');
  for (guint i = 0; loads != NULL && i < loads->n_panels; i++)
    {
      const NappePanel *panel = &loads->panels[i];

      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "part", panel->part);
      nappe_json_text (json, "side", nappe_panel_nick (panel->side));
      nappe_json_quantity (json, "length", NAPPE_QUANTITY_LENGTH, panel->length);
      nappe_json_quantity (json, "height", NAPPE_QUANTITY_LENGTH, panel->height);
      nappe_json_quantity (json, "thickness", NAPPE_QUANTITY_LENGTH, panel->thickness);
      nappe_json_quantity (json, "stress", NAPPE_QUANTITY_PRESSURE, panel->stress);
      nappe_json_quantity (json, "deflection", NAPPE_QUANTITY_LENGTH, panel->deflection);
      nappe_json_quantity (json, "strength", NAPPE_QUANTITY_PRESSURE, panel->strength);
      nappe_json_quantity (json, "safety", NAPPE_QUANTITY_NUMBER, panel->safety);
      nappe_json_flag (json, "theory_holds", panel->small);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

void
nappe_report_json_parts (NappeJsonWriter *json, const NappeCase *self)
{
  add_vessels (json, self);
  add_weirs (json, self);
  add_drains (json, self);
  add_pumps (json, self);
  add_chambers (json, self);
  add_parts (json, self, "outlets", NAPPE_TYPE_OUTLET);
  add_parts (json, self, "baffles", NAPPE_TYPE_BAFFLE);
  add_level_runs (json, self->study);
  add_ledgers (json, self);
  add_single (json, self, "water", self->build->water);
  nappe_json_close (json, '}');
  add_single (json, self, "heat", self->build->room);
  add_power (json, self->heat);
  nappe_json_close (json, '}');
  add_single (json, self, "loads", self->build->stand);
  add_panels (json, self->loads);
  nappe_json_close (json, '}');
}

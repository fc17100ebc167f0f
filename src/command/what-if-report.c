/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "command/json-writer.h"
#include "command/text-table.h"
#include "command/what-if.h"
#include "command/words.h"
#include "config.h"
#include "picture/wording.h"
#include "results/state-words.h"
#include "study/over-rim.h"

#define INDENT 2u
#define WHAT_IF_VERSION 1u

static double
level_of (const NappeState *state, guint node)
{
  return state->level != NULL ? state->level[node] : NAN;
}

static double
flow_of (const NappeState *state, guint link)
{
  return state->flow != NULL ? state->flow[link] : NAN;
}

static void
add_number (const NappeCase *self, NappeTextTable *table, NappeQuantity quantity, double si)
{
  nappe_text_table_take (table, nappe_case_number (self, quantity, si));
}

/* One sentence for each change. */
static const char *
change_format (NappeChangeKind kind)
{
  switch (kind)
    {
    case NAPPE_CHANGE_BLOCK:
      /* Translators: what is changed: a part, then a share: “Main siphon: 50% blocked”. So in the texts below. */
      return _("%s: %s blocked");
    case NAPPE_CHANGE_BLOCK_JOINT:
      return _("%s: %s of what joins its boxes blocked");
    case NAPPE_CHANGE_OPENING:
      return _("%s: valve %s open");
    case NAPPE_CHANGE_SPEED:
      return _("%s: at %s of full speed");
    case NAPPE_CHANGE_WEAR:
      return _("%s: %s of its head lost to wear");
    case NAPPE_CHANGE_LOAD:
    default:
      return _("%s: %s of its cloth closed");
    }
}

static void
add_changes (const NappeCase *self, GString *text, const GArray *changes)
{
  for (guint i = 0; i < changes->len; i++)
    {
      const NappeScenarioChange *change = &g_array_index (changes, NappeScenarioChange, i);
      g_autofree char *share = nappe_case_number (self, NAPPE_QUANTITY_SHARE, nappe_what_if_share (change));
      g_autofree char *name = nappe_case_name (self, change->part);

      g_string_append (text, "  ");
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
      g_string_append_printf (text, change_format (change->kind), name, share);
#pragma GCC diagnostic pop
      g_string_append_c (text, '\n');
    }
}

static gboolean
has_check_valve (const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].one_way)
      return TRUE;
  return FALSE;
}

/* What the verdict begins from, where that is not a system that runs on with all its water. */
static void
add_circumstances (const NappeCase *self, GString *text, const NappeBlockage *outcome)
{
  const NappeNetwork *network = self->study->network;
  const NappeState *running = &self->study->running;
  double over = running->flow != NULL ? nappe_over_rim_rate (network, running) : 0;
  g_autofree char *rate = nappe_case_number (self, NAPPE_QUANTITY_FLOW, over);

  if (over > 0)
    {
      /* Translators: %s is a flow, “120 L/h”. */
      g_string_append_printf (text, _("Before the change %s run over a rim; from then on nothing replaces it."), rate);
      g_string_append_c (text, '\n');
    }
  if (!outcome->runs_down)
    return;
  if (has_check_valve (network))
    g_string_append (text, _("No pump lifts any more: all runs down as in a power cut, the check valve counted as "
                             "failed."));
  else
    g_string_append (text, _("No pump lifts any more: all runs down as in a power cut."));
  g_string_append_c (text, '\n');
}

static void
add_verdict (const NappeCase *self, GString *text, const NappeBlockage *outcome)
{
  g_autofree char *spilled = nappe_case_number (self, NAPPE_QUANTITY_VOLUME, outcome->state.spilled);
  g_autofree char *time = nappe_case_number (self, NAPPE_QUANTITY_DURATION, outcome->time_to_rim);
  g_autofree char *free_height = nappe_case_number (self, NAPPE_QUANTITY_LENGTH, outcome->freeboard);
  const char *trouble = nappe_wording_rest (outcome->state.rest);

  if (trouble != NULL)
    g_string_append_printf (text, "%s\n", trouble);
  add_circumstances (self, text, outcome);
  if (outcome->floods)
    {
      /* Translators: %s is a volume, “12.3 L”. */
      g_string_append_printf (text, _("Danger: water reaches the floor, %s of it."), spilled);
      if (isfinite (outcome->time_to_rim) && outcome->time_to_rim > 0)
        {
          g_string_append_c (text, ' ');
          /* Translators: %s is a time, “45 s”. */
          g_string_append_printf (text, _("It is at a rim after %s at the earliest."), time);
        }
      g_string_append_c (text, '\n');
    }
  else if (trouble == NULL)
    {
      /* Translators: %s is a length, “43 mm”. */
      g_string_append_printf (text, _("No water reaches the floor; the display stays %s below its rim."), free_height);
      g_string_append_c (text, '\n');
    }
  if (outcome->state.draws_air)
    g_string_append_printf (text, "%s\n", _("A return pump draws air."));
}

static void
add_levels (const NappeCase *self, GString *text, const NappeState *after)
{
  const NappeNetwork *network = self->study->network;
  g_autoptr (NappeTextTable) table = nappe_text_table_new (5);

  nappe_text_table_add (table, NULL);
  nappe_text_table_add (table, _("before"));
  nappe_text_table_add (table, _("then"));
  nappe_text_table_add (table, _("change"));
  nappe_text_table_add (table, _("rim"));
  for (guint i = 0; i < network->n_nodes; i++)
    {
      double before = level_of (&self->study->running, i), then = level_of (after, i);

      if (network->nodes[i].kind > NAPPE_NODE_VESSEL)
        continue;
      nappe_text_table_take (table, nappe_case_name (self, network->nodes[i].id));
      add_number (self, table, NAPPE_QUANTITY_LENGTH, before);
      add_number (self, table, NAPPE_QUANTITY_LENGTH, then);
      add_number (self, table, NAPPE_QUANTITY_LENGTH, then - before);
      add_number (self, table, NAPPE_QUANTITY_LENGTH, network->nodes[i].rim);
    }
  g_string_append_printf (text, "\n%s\n", _("Levels above the room's floor"));
  nappe_text_table_print (table, INDENT, text);
}

static void
add_flows (const NappeCase *self, GString *text, const NappeScenario *scenario)
{
  const NappeState *before = &self->study->running, *after = &scenario->outcome.state;
  g_autoptr (NappeTextTable) table = nappe_text_table_new (4);

  nappe_text_table_set_left (table, 3);
  nappe_text_table_add (table, NULL);
  nappe_text_table_add (table, _("before"));
  nappe_text_table_add (table, _("then"));
  nappe_text_table_add (table, _("runs"));
  for (guint i = 0; i < scenario->n_drains; i++)
    {
      const NappeDrainReport *drain = &self->study->drains[i];

      nappe_text_table_take (table, nappe_case_name (self, drain->id));
      add_number (self, table, NAPPE_QUANTITY_FLOW, flow_of (before, drain->link));
      add_number (self, table, NAPPE_QUANTITY_FLOW, flow_of (after, drain->link));
      nappe_text_table_add (table, nappe_drain_state_word (scenario->drain_state[i]));
    }
  for (guint i = 0; i < self->study->n_pumps; i++)
    {
      const NappePumpReport *pump = &self->study->pumps[i];

      nappe_text_table_take (table, nappe_case_name (self, pump->id));
      add_number (self, table, NAPPE_QUANTITY_FLOW, flow_of (before, pump->link));
      add_number (self, table, NAPPE_QUANTITY_FLOW, flow_of (after, pump->link));
      nappe_text_table_add (table, NULL);
    }
  g_string_append_printf (text, "\n%s\n", _("Flows"));
  nappe_text_table_print (table, INDENT, text);
}

char *
nappe_what_if_text (const NappeCase *self, const NappeScenario *scenario, const GArray *changes)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, "%s\n", *self->build->title != '\0' ? self->build->title : self->name);
  add_changes (self, text, changes);
  add_verdict (self, text, &scenario->outcome);
  add_levels (self, text, &scenario->outcome.state);
  add_flows (self, text, scenario);
  return g_string_free (text, FALSE);
}

static void
add_json_changes (NappeJsonWriter *json, const GArray *changes)
{
  nappe_json_open (json, "changes", '[');
  for (guint i = 0; i < changes->len; i++)
    {
      const NappeScenarioChange *change = &g_array_index (changes, NappeScenarioChange, i);

      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "kind", nappe_change_nick (change->kind));
      nappe_json_text (json, "part", change->part);
      nappe_json_quantity (json, "share", NAPPE_QUANTITY_SHARE, nappe_what_if_share (change));
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_json_levels (NappeJsonWriter *json, const NappeCase *self, const NappeState *after)
{
  const NappeNetwork *network = self->study->network;

  nappe_json_open (json, "vessels", '[');
  for (guint i = 0; i < network->n_nodes; i++)
    {
      g_autofree char *name = NULL;

      if (network->nodes[i].kind > NAPPE_NODE_VESSEL)
        continue;
      name = nappe_case_name (self, network->nodes[i].id);
      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "id", network->nodes[i].id);
      nappe_json_text (json, "name", name);
      nappe_json_quantity (json, "rim", NAPPE_QUANTITY_LENGTH, network->nodes[i].rim);
      nappe_json_quantity (json, "level_before", NAPPE_QUANTITY_LENGTH, level_of (&self->study->running, i));
      nappe_json_quantity (json, "level", NAPPE_QUANTITY_LENGTH, level_of (after, i));
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

/* state: fixed word of how a drain runs; NULL: leave it out. */
static void
add_json_flow (NappeJsonWriter *json, const NappeCase *self, const NappeState *after, const char *id, guint link,
               const char *state)
{
  g_autofree char *name = nappe_case_name (self, id);

  nappe_json_open (json, NULL, '{');
  nappe_json_text (json, "id", id);
  nappe_json_text (json, "name", name);
  if (state != NULL)
    nappe_json_text (json, "state", state);
  nappe_json_quantity (json, "flow_before", NAPPE_QUANTITY_FLOW, flow_of (&self->study->running, link));
  nappe_json_quantity (json, "flow", NAPPE_QUANTITY_FLOW, flow_of (after, link));
  nappe_json_close (json, '}');
}

static void
add_json_outcome (NappeJsonWriter *json, const NappeBlockage *outcome)
{
  nappe_json_text (json, "rest", nappe_rest_nick (outcome->state.rest));
  nappe_json_flag (json, "floods", outcome->floods);
  nappe_json_flag (json, "runs_down", outcome->runs_down);
  nappe_json_flag (json, "pump_draws_air", outcome->state.draws_air);
  nappe_json_quantity (json, "pump_flow", NAPPE_QUANTITY_FLOW, outcome->state.pump_flow);
  nappe_json_quantity (json, "display_rise", NAPPE_QUANTITY_LENGTH, outcome->display_rise);
  nappe_json_quantity (json, "freeboard", NAPPE_QUANTITY_LENGTH, outcome->freeboard);
  nappe_json_quantity (json, "time_to_rim", NAPPE_QUANTITY_DURATION, outcome->time_to_rim);
  nappe_json_quantity (json, "top_off_added", NAPPE_QUANTITY_VOLUME, outcome->top_off_added);
  nappe_json_quantity (json, "on_the_floor", NAPPE_QUANTITY_VOLUME, outcome->state.spilled);
}

char *
nappe_what_if_json (const NappeCase *self, const NappeScenario *scenario, const GArray *changes)
{
  const NappeState *after = &scenario->outcome.state;
  NappeJsonWriter json;

  nappe_json_writer_init (&json);
  nappe_json_open (&json, NULL, '{');
  nappe_json_text (&json, "format", "nappe-what-if");
  nappe_json_count (&json, "version", WHAT_IF_VERSION);
  nappe_json_text (&json, "program", NAPPE_VERSION);
  nappe_json_text (&json, "file", self->name);
  nappe_json_text (&json, "title", self->build->title);
  add_json_changes (&json, changes);
  add_json_outcome (&json, &scenario->outcome);
  add_json_levels (&json, self, after);
  nappe_json_open (&json, "drains", '[');
  for (guint i = 0; i < scenario->n_drains; i++)
    add_json_flow (&json, self, after, self->study->drains[i].id, self->study->drains[i].link,
                   nappe_drain_state_nick (scenario->drain_state[i]));
  nappe_json_close (&json, ']');
  nappe_json_open (&json, "pumps", '[');
  for (guint i = 0; i < self->study->n_pumps; i++)
    add_json_flow (&json, self, after, self->study->pumps[i].id, self->study->pumps[i].link, NULL);
  nappe_json_close (&json, ']');
  nappe_json_close (&json, '}');
  return nappe_json_writer_end (&json);
}

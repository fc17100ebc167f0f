/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the flow diagram says of each part, beside it and to assistive technology. */
#include "picture/flow/flow-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/moment.h"
#include "picture/wording.h"

#define LEAST_TOLD 5e-5 /* less water than this reads as nothing [m3] */

static char *
quantity (const NappeFlow *flow, NappeQuantity kind, double value)
{
  return nappe_quantity_format (kind, value, flow->options->units, 0);
}

const char *
nappe_flow_column_part (const NappeFlow *flow, const NappeFlowColumn *column)
{
  const NappeLineLayout *line = nappe_flow_line (flow, column);

  if (line == NULL)
    return nappe_part_get_id (NAPPE_PART (flow->layout->vessels[column->line].part));
  if (column->kind == NAPPE_COLUMN_DRAIN_BRANCH || column->kind == NAPPE_COLUMN_RETURN_BRANCH)
    return nappe_part_get_id (NAPPE_PART (line->outlets[column->outlet].part));
  return nappe_part_get_id (line->part);
}

/* NaN, or no water moving, is no flow to draw. */
static double
flow_or_none (const NappeFlow *flow, double value)
{
  if (!isfinite (value))
    return 0.0;
  return flow->at_moment ? nappe_moment_flow (value) : value;
}

double
nappe_flow_trunk_flow (const NappeFlow *flow, const NappeFlowColumn *column)
{
  const char *id = nappe_part_get_id (nappe_flow_line (flow, column)->part);

  return flow->flowing ? flow_or_none (flow, nappe_study_flow (flow->study, flow->state, id)) : 0.0;
}

double
nappe_flow_outlet_flow (const NappeFlow *flow, const NappeLineLayout *line, gint outlet, double trunk)
{
  const NappeNetwork *network = flow->study->network;
  const char *id;

  if (!flow->flowing || outlet < 0)
    return 0.0;
  id = nappe_part_get_id (NAPPE_PART (line->outlets[outlet].part));
  for (guint i = 0; i < network->n_links; i++)
    if (g_str_equal (network->links[i].outlet, id))
      return flow_or_none (flow, flow->state->flow[i]);
  return line->n_outlets == 1 ? trunk : 0.0;
}

guint
nappe_flow_valves (const NappeRoute *route, const NappeLeg **legs, guint n)
{
  guint found = 0;

  for (guint i = 0; i < route->n_legs && found < n; i++)
    if (route->legs[i].item != NULL && route->legs[i].item->kind == NAPPE_ITEM_VALVE)
      legs[found++] = &route->legs[i];
  return found;
}

static void
add_line (NappeFlowColumn *column, char *text)
{
  guint n = 0;

  while (n < NAPPE_FLOW_LABEL_LINES && column->lines[n] != NULL)
    n++;
  if (n < NAPPE_FLOW_LABEL_LINES)
    column->lines[n] = text;
  else
    g_free (text);
}

void
nappe_flow_clear_words (NappeFlowColumn *column)
{
  for (guint i = 0; i < NAPPE_FLOW_LABEL_LINES; i++)
    g_clear_pointer (&column->lines[i], g_free);
  g_clear_pointer (&column->figure, g_free);
}

static void
add_flow (NappeFlow *flow, NappeFlowColumn *column, double amount)
{
  add_line (column, quantity (flow, NAPPE_QUANTITY_FLOW, amount));
  column->figure = nappe_quantity_format_number (NAPPE_QUANTITY_FLOW, amount, flow->options->units, 0);
}

static void
add_valve_lines (NappeFlow *flow, NappeFlowColumn *column, const NappeRoute *route)
{
  const NappeLeg *valves[3];
  guint n = nappe_flow_valves (route, valves, G_N_ELEMENTS (valves));

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *opening = quantity (flow, NAPPE_QUANTITY_SHARE, valves[i]->piece->opening);
      if (g_strcmp0 (valves[i]->item->valve_kind, "check") == 0)
        add_line (column, g_strdup (_("check valve")));
      else
        /* Translators: of a valve; %s is a share such as "38 %" */
        add_line (column, g_strdup_printf (_("valve %s open"), opening));
    }
}

static void
add_window_line (NappeFlow *flow, NappeFlowColumn *column, const NappeTuningWindow *window)
{
  if (!window->known || isnan (window->down) || isnan (window->up))
    return;
  g_autofree char *down = quantity (flow, NAPPE_QUANTITY_SHARE, fabs (window->down));
  g_autofree char *up = quantity (flow, NAPPE_QUANTITY_SHARE, fabs (window->up));
  /* Translators: by how much the pump's flow may fall and rise before a siphon is out of tune */
  add_line (column, g_strdup_printf (_("holds −%s to +%s"), down, up));
}

static void
drain_words (NappeFlow *flow, NappeFlowColumn *column)
{
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  const NappeDrainReport *drain = nappe_study_drain (flow->study, nappe_part_get_id (line->part));

  if (drain == NULL)
    {
      add_line (column, g_strdup (_("carries nothing")));
      return;
    }
  if (drain->state == NAPPE_DRAIN_DRY)
    {
      g_autofree char *reserve = quantity (flow, NAPPE_QUANTITY_FLOW, drain->reserve);
      add_line (column, g_strdup (nappe_wording_drain_state (drain->state)));
      /* Translators: of a drain that is dry; %s is a flow */
      add_line (column, g_strdup_printf (_("can carry %s"), reserve));
    }
  else
    {
      add_flow (flow, column, drain->flow);
      add_line (column, g_strdup (nappe_wording_drain_state (drain->state)));
      add_line (column, quantity (flow, NAPPE_QUANTITY_SPEED, drain->velocity));
    }
  add_valve_lines (flow, column, &line->trunk);
  add_window_line (flow, column, &drain->window);
}

static void
return_words (NappeFlow *flow, NappeFlowColumn *column)
{
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  const NappePumpReport *pump = nappe_study_pump (flow->study, nappe_part_get_id (line->part));

  if (pump == NULL)
    {
      add_line (column, g_strdup (_("carries nothing")));
      return;
    }
  g_autofree char *head = quantity (flow, NAPPE_QUANTITY_HEAD, pump->head);
  int count = NAPPE_PUMP (NAPPE_RETURN_LINE (line->part)->pump)->count;
  add_flow (flow, column, pump->flow);
  if (count > 1)
    add_line (column, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d pump", "%d pumps side by side", (gulong) count), count));
  /* Translators: what a pump works against; %s is a length */
  add_line (column, g_strdup_printf (_("%s of head"), head));
  if (column->line == 0)
    {
      g_autofree char *turnover = quantity (flow, NAPPE_QUANTITY_RATE, flow->study->display_turnover);
      /* Translators: how often the display's water is turned over; %s is a rate such as "8.0 /h" */
      add_line (column, g_strdup_printf (_("turnover %s"), turnover));
    }
  add_valve_lines (flow, column, &line->trunk);
}

/* All entries of a part together [m3]; NaN when it has none. */
static double
run_back_of (const NappeFlow *flow, const char *id)
{
  const NappePowerCut *cut = &flow->study->cut_check_failed;
  double volume = NAN;

  for (guint i = 0; i < cut->n_ledger; i++)
    if (g_str_equal (cut->ledger[i].id, id))
      volume = (isnan (volume) ? 0.0 : volume) + cut->ledger[i].volume;
  return volume;
}

char *
nappe_flow_run_back_words (const NappeFlow *flow, const char *id)
{
  double volume = run_back_of (flow, id);
  g_autofree char *amount = quantity (flow, NAPPE_QUANTITY_VOLUME, fabs (volume));

  if (isnan (volume) || fabs (volume) < LEAST_TOLD)
    return NULL;
  if (volume < 0.0)
    /* Translators: water that a vessel receives in a power cut */
    return g_strdup_printf (_("takes up %s"), amount);
  /* Translators: water that runs down from a vessel or a pipe in a power cut */
  return g_strdup_printf (_("gives back %s"), amount);
}

/* What flows, unless nothing does, and how. */
static void
moment_words (NappeFlow *flow, NappeFlowColumn *column, double amount)
{
  gboolean drain = column->kind == NAPPE_COLUMN_DRAIN || column->kind == NAPPE_COLUMN_DRAIN_BRANCH;
  gboolean full = drain && nappe_moment_is_full (flow->study, flow->state,
                                                 nappe_part_get_id (nappe_flow_line (flow, column)->part));

  if (fabs (amount) > 0.0)
    add_flow (flow, column, fabs (amount));
  add_line (column, g_strdup (nappe_moment_word (drain, full, amount)));
}

void
nappe_flow_column_words (NappeFlow *flow, NappeFlowColumn *column)
{
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  const char *id = nappe_flow_column_part (flow, column);
  gboolean is_branch = nappe_flow_is_branch (column);

  add_line (column, g_strdup (nappe_wording_part (flow->build, id)));
  if (line == NULL)
    {
      if (flow->flowing)
        add_flow (flow, column, nappe_flow_spout_flow (flow, column->line));
      /* Translators: of a side vessel that gives back its water over a spout */
      add_line (column, g_strdup (_("over its spout")));
      return;
    }
  if (!flow->flowing)
    {
      if (flow->state != NULL && !is_branch)
        {
          char *back = nappe_flow_run_back_words (flow, id);
          add_line (column, back != NULL ? back : g_strdup (_("no flow")));
        }
      return;
    }
  if (flow->at_moment)
    moment_words (flow, column, is_branch ? nappe_flow_outlet_flow (flow, line, column->outlet, NAN)
                                          : nappe_flow_trunk_flow (flow, column));
  else if (is_branch)
    {
      const NappeOutletLayout *outlet = &line->outlets[column->outlet];
      add_flow (flow, column, nappe_flow_outlet_flow (flow, line, column->outlet, NAN));
      add_valve_lines (flow, column, &outlet->route);
    }
  else if (column->kind == NAPPE_COLUMN_DRAIN)
    drain_words (flow, column);
  else
    return_words (flow, column);
}

char *
nappe_flow_describe_column (const NappeFlow *flow, const NappeFlowColumn *column)
{
  GString *text = g_string_new (NULL);

  /* The name is the item's label. */
  for (guint i = 1; i < NAPPE_FLOW_LABEL_LINES && column->lines[i] != NULL; i++)
    g_string_append_printf (text, "%s%s", i > 1 ? ", " : "", column->lines[i]);
  if (column->chamber >= 0)
    {
      const char *name = nappe_part_display_name (NAPPE_PART (flow->layout->chambers[column->chamber].part));
      if (text->len > 0)
        g_string_append (text, ", ");
      if (column->kind == NAPPE_COLUMN_RETURN)
        /* Translators: of a return line; %s is the chamber that its pump stands in */
        g_string_append_printf (text, _("from %s"), name);
      else
        /* Translators: of a pipe; %s is the chamber that it ends in */
        g_string_append_printf (text, _("into %s"), name);
    }
  return g_string_free (text, FALSE);
}

char *
nappe_flow_describe_vessel (const NappeFlow *flow, const char *id)
{
  GString *text = g_string_new (NULL);
  double level = flow->state != NULL ? nappe_study_level (flow->study, flow->state, id) : NAN;

  if (isnan (level))
    g_string_append (text, _("level not known"));
  else
    {
      g_autofree char *height = quantity (flow, NAPPE_QUANTITY_LENGTH, level);
      /* Translators: of the water in a vessel; %s is a height */
      g_string_append_printf (text, _("level %s above the floor"), height);
    }
  if (flow->state != NULL && !flow->flowing)
    {
      g_autofree char *back = nappe_flow_run_back_words (flow, id);
      if (back != NULL)
        g_string_append_printf (text, ", %s", back);
    }
  return g_string_free (text, FALSE);
}

char *
nappe_flow_describe_equipment (const NappeFlow *flow, NappeEquipment *equipment)
{
  const char *kind = nappe_wording_choice (NAPPE_PART (equipment), "kind");
  gint sock = nappe_flow_find_sock (flow, nappe_part_get_id (NAPPE_PART (equipment)));

  if (sock >= 0 && flow->socks[sock].width > 0.0)
    {
      g_autofree char *level = nappe_flow_describe_vessel (flow, nappe_part_get_id (NAPPE_PART (equipment)));
      g_autofree char *closed = quantity (flow, NAPPE_QUANTITY_SHARE, equipment->load);
      /* Translators: of a filter sock: its kind, its level, the share of its cloth that dirt has closed */
      return g_strdup_printf (_("%1$s, %2$s, %3$s closed"), kind, level, closed);
    }
  if (*equipment->where == '\0')
    return g_strdup (kind);
  /* Translators: a kind of equipment, then what it stands in */
  return g_strdup_printf (_("%s in %s"), kind, nappe_wording_part (flow->build, equipment->where));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drains: what each carries, how it runs, what it could carry, and how it is tuned. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "results/result-list.h"
#include "results/state-words.h"

static const NappeLink *
link_of (const NappeResultList *list, const NappeDrainReport *report)
{
  return &list->network->links[report->link];
}

static double
area_of (double bore)
{
  return 0.25 * G_PI * bore * bore;
}

/* What a full pipe's flow follows from. */
static void
add_pipe_inputs (NappeResultList *list, NappeResult *result, const NappeLink *link, double level)
{
  const NappeStretch *stretches = list->network->stretches + link->first_stretch;
  double exit = fmax (link->sill, nappe_result_list_level (list, &list->study->running, link->to)), length = 0.0;

  for (guint i = 0; i < link->n_stretches; i++)
    length += stretches[i].length;
  nappe_result_input (result, "h", _("from the level in the box to the next level, end or tee"),
                      NAPPE_QUANTITY_LENGTH, level - exit);
  nappe_result_input (result, "D", _("bore"), NAPPE_QUANTITY_LENGTH, link->inlet.bore);
  nappe_result_input (result, "L", _("length of pipe"), NAPPE_QUANTITY_LENGTH, length);
  if (link->n_stretches == 1)
    nappe_result_input (result, "K", _("sum of the constant loss coefficients"), NAPPE_QUANTITY_NUMBER, stretches->k);
}

static void
add_inlet_inputs (NappeResult *result, const NappeLink *link, double level)
{
  nappe_result_input (result, "h", _("water over its inlet"), NAPPE_QUANTITY_LENGTH, level - link->inlet.crest);
  nappe_result_input (result, "D", _("rim of the inlet, or the bore"), NAPPE_QUANTITY_LENGTH,
                      fmax (link->inlet.rim_diameter, link->inlet.bore));
  nappe_result_input (result, "A", _("area of the bore"), NAPPE_QUANTITY_AREA, area_of (link->inlet.bore));
  nappe_result_input (result, "", _("open share"), NAPPE_QUANTITY_SHARE, link->open_share);
}

static NappeLawName
law_of_control (NappeInletControl control)
{
  switch (control)
    {
    case NAPPE_INLET_FULL:
      return NAPPE_LAW_FULL_PIPE;
    case NAPPE_INLET_ORIFICE:
      return NAPPE_LAW_INLET_ORIFICE;
    case NAPPE_INLET_DRY:
    case NAPPE_INLET_CREST:
    default:
      return NAPPE_LAW_INLET_CREST;
    }
}

static void
add_flow (NappeResultList *list, const NappeDrainReport *report)
{
  const NappeLink *link = link_of (list, report);
  const NappeBand *band = nappe_result_list_flow_band (list, report->link);
  double level = nappe_result_list_level (list, &list->study->running, link->from), area = area_of (link->inlet.bore);
  NappeLawName law = law_of_control (report->control);
  NappeResult *result = nappe_result_list_add (list, "flow", _("Flow"), NAPPE_QUANTITY_FLOW, report->flow, law);

  if (law == NAPPE_LAW_FULL_PIPE)
    add_pipe_inputs (list, result, link, level);
  else
    add_inlet_inputs (result, link, level);
  nappe_result_sampled (result, band);
  result
    = nappe_result_list_add_word (list, "state", _("Runs"), nappe_drain_state_word (report->state), NAPPE_LAW_FROUDE);
  nappe_result_input (result, "Fr", _("Froude number of the full bore"), NAPPE_QUANTITY_NUMBER, report->froude);
  nappe_result_list_add_word (list, "control", _("Held down by"), nappe_inlet_control_word (report->control), law);
  result = nappe_result_list_add (list, "speed", _("Speed in the full bore"), NAPPE_QUANTITY_SPEED, report->velocity,
                                  NAPPE_LAW_MEAN_SPEED);
  nappe_result_input (result, "Q", _("flow"), NAPPE_QUANTITY_FLOW, report->flow);
  nappe_result_input (result, "A", _("area of the bore"), NAPPE_QUANTITY_AREA, area);
  nappe_result_sampled_scaled (result, band, 1.0 / area);
  result = nappe_result_list_add (list, "froude", _("Froude number"), NAPPE_QUANTITY_NUMBER, report->froude,
                                  NAPPE_LAW_FROUDE);
  nappe_result_input (result, "V", _("speed in the full bore"), NAPPE_QUANTITY_SPEED, report->velocity);
  nappe_result_input (result, "D", _("bore"), NAPPE_QUANTITY_LENGTH, link->inlet.bore);
  nappe_result_sampled_scaled (result, band, nappe_full_bore_froude (1.0, link->inlet.bore));
  result = nappe_result_list_add (list, "stack_share", _("Wetted share of a tall stack"), NAPPE_QUANTITY_SHARE,
                                  nappe_stack_wetted_share (link->inlet.bore, report->flow), NAPPE_LAW_STACK);
  nappe_result_input (result, "Q", _("flow"), NAPPE_QUANTITY_FLOW, report->flow);
  nappe_result_input (result, "D", _("bore"), NAPPE_QUANTITY_LENGTH, link->inlet.bore);
}

/* The lowest of the ends of a drain: what it falls to [m]; NaN: it has none. deepest: (out) the link whose end lies
 * deepest below the surface it leads to, or -1. */
static double
find_ends (const NappeResultList *list, const NappeDrainReport *report, gint *deepest)
{
  double lowest = NAN, most = -INFINITY;

  *deepest = -1;
  for (guint i = 0; i < list->network->n_links; i++)
    {
      const NappeLink *link = &list->network->links[i];
      double level = nappe_result_list_level (list, &list->study->running, link->to);

      if (*link->outlet == '\0' || !g_str_equal (link->line, report->id) || isnan (level))
        continue;
      lowest = fmin (lowest, fmax (link->sill, level));
      if (level - link->sill <= most)
        continue;
      most = level - link->sill;
      *deepest = (gint) i;
    }
  return lowest;
}

static void
add_heads (NappeResultList *list, const NappeDrainReport *report)
{
  const NappeLink *link = link_of (list, report);
  double level = nappe_result_list_level (list, &list->study->running, link->from);
  gint deepest;
  double exit = find_ends (list, report, &deepest);
  NappeResult *result = nappe_result_list_add (list, "head_over_inlet", _("Water over its inlet"),
                                               NAPPE_QUANTITY_LENGTH, report->head_over_inlet, NAPPE_LAW_HEIGHT);

  nappe_result_input (result, "z1", _("level in the box"), NAPPE_QUANTITY_LENGTH, level);
  nappe_result_input (result, "z2", _("inlet"), NAPPE_QUANTITY_LENGTH, link->inlet.crest);
  nappe_result_sampled_shifted (result, nappe_result_list_level_band (list, link->from), 1.0, -link->inlet.crest);
  result = nappe_result_list_add (list, "head_used", _("Height it falls through"), NAPPE_QUANTITY_LENGTH, level - exit,
                                  NAPPE_LAW_HEIGHT);
  nappe_result_input (result, "z1", _("level in the box"), NAPPE_QUANTITY_LENGTH, level);
  nappe_result_input (result, "z2", _("lowest level or end it leads to"), NAPPE_QUANTITY_LENGTH, exit);
  result = nappe_result_list_add (list, "exit_submergence", _("Exit below the surface"), NAPPE_QUANTITY_LENGTH,
                                  report->exit_submergence, NAPPE_LAW_HEIGHT);
  if (deepest < 0)
    return;
  link = &list->network->links[deepest];
  nappe_result_input (result, "z1", _("level it leads to"), NAPPE_QUANTITY_LENGTH,
                      nappe_result_list_level (list, &list->study->running, link->to));
  nappe_result_input (result, "z2", _("exit"), NAPPE_QUANTITY_LENGTH, link->sill);
}

static void
add_capacities (NappeResultList *list, const NappeDrainReport *report)
{
  const NappeLink *link = link_of (list, report);
  double rim = list->network->nodes[list->network->display].rim;
  NappeResult *result = nappe_result_list_add (list, "quiet_flow", _("Stays quiet up to"), NAPPE_QUANTITY_FLOW,
                                               report->quiet_flow, NAPPE_LAW_QUIET);

  nappe_result_input (result, "D", _("bore"), NAPPE_QUANTITY_LENGTH, link->inlet.bore);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "capacity_inlet", _("Inlet carries at most"), NAPPE_QUANTITY_FLOW,
                                  report->capacity_inlet, NAPPE_LAW_INLET_LEAST);
  add_inlet_inputs (result, link, rim);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "capacity_full", _("Full bore carries at most"), NAPPE_QUANTITY_FLOW,
                                  report->capacity_full, NAPPE_LAW_FULL_PIPE);
  add_pipe_inputs (list, result, link, rim);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "reserve", _("Can take more"), NAPPE_QUANTITY_FLOW, report->reserve,
                                  NAPPE_LAW_RESERVE);
  nappe_result_input (result, "", _("inlet carries at most"), NAPPE_QUANTITY_FLOW, report->capacity_inlet);
  nappe_result_input (result, "", _("full bore carries at most"), NAPPE_QUANTITY_FLOW, report->capacity_full);
  nappe_result_input (result, "Q", _("flow"), NAPPE_QUANTITY_FLOW, report->flow);
}

static void
add_bound (NappeResultList *list, const char *key, const char *label, double bound)
{
  NappeResult *result = nappe_result_list_add (list, key, label, NAPPE_QUANTITY_SHARE, bound, NAPPE_LAW_WINDOW);

  nappe_result_input (result, "Q", _("flow of the pumps"), NAPPE_QUANTITY_FLOW, list->study->running.pump_flow);
}

static void
add_tuning (NappeResultList *list, const NappeDrainReport *report)
{
  const NappeTuningWindow *window = &report->window;
  gboolean ball = g_str_equal (report->valve_kind, "ball");
  NappeResult *result;

  nappe_result_list_add (list, "valve_opening", _("Valve is open"), NAPPE_QUANTITY_SHARE, report->opening,
                         NAPPE_LAW_GIVEN);
  result = nappe_result_list_add (list, "valve_opening_wanted", _("Valve should be open"), NAPPE_QUANTITY_SHARE,
                                  report->opening_wanted, NAPPE_LAW_VALVE_TUNING);
  nappe_result_input (result, "", _("trickle asked for"), NAPPE_QUANTITY_FLOW, list->network->trickle);
  nappe_result_input (result, "Q", _("flow of the pumps"), NAPPE_QUANTITY_FLOW, list->study->running.pump_flow);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "flow_valve_open", _("Carries with the valve fully open"), NAPPE_QUANTITY_FLOW,
                                  report->flow_valve_open, NAPPE_LAW_FULL_PIPE);
  add_pipe_inputs (list, result, link_of (list, report),
                   nappe_result_list_level (list, &list->study->running, link_of (list, report)->from));
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "rise_per_turn",
                                  ball ? _("Rise of the box for a degree of the handle")
                                       : _("Rise of the box for a turn of the stem"),
                                  NAPPE_QUANTITY_LENGTH, report->rise_per_turn, NAPPE_LAW_VALVE_TUNING);
  nappe_result_input (result, "", _("the same for a hundredth of the travel"), NAPPE_QUANTITY_LENGTH,
                      window->known ? window->rise_per_percent : NAN);
  if (!window->known)
    return;
  add_bound (list, "flow_may_fall", _("Flow may fall by"), -window->down);
  add_bound (list, "flow_may_rise", _("Flow may rise by"), window->up);
  add_bound (list, "siphon_breaks", _("Siphon breaks when the flow changes by"), window->breaks);
  add_bound (list, "channel_dry", _("Open channel runs dry when the flow changes by"), window->channel_dry);
  add_bound (list, "channel_loud", _("Open channel becomes loud when the flow changes by"), window->channel_loud);
  add_bound (list, "emergency_wet", _("Emergency gets water when the flow changes by"), window->emergency_wet);
}

/* How a siphon starts, and what it does when it finds no rest. */
static void
add_priming (NappeResultList *list, const NappeDrainReport *report)
{
  const NappeSiphonCycle *cycle = &report->cycle;
  const NappeLink *link = link_of (list, report);
  NappeResult *result;

  if (link->inlet.vented)
    return;
  result = nappe_result_list_add (list, "prime_level", _("Primes with the box at"), NAPPE_QUANTITY_LENGTH,
                                  report->prime_level, NAPPE_LAW_PRIMING);
  nappe_result_input (result, "", _("inlet"), NAPPE_QUANTITY_LENGTH, link->inlet.crest);
  result = nappe_result_list_add (list, "prime_margin", _("Margin of starting by itself (above 1 it does)"),
                                  NAPPE_QUANTITY_NUMBER, report->prime_margin, NAPPE_LAW_PRIMING);
  nappe_result_input (result, "Q", _("flow of the pumps"), NAPPE_QUANTITY_FLOW, list->study->running.pump_flow);
  nappe_result_by_law (result);
  if (!cycle->cycles)
    return;
  result = nappe_result_list_add (list, "cycle_period", _("Starts and breaks again every"), NAPPE_QUANTITY_DURATION,
                                  cycle->period, NAPPE_LAW_CYCLE);
  nappe_result_input (result, "", _("primes with the box at"), NAPPE_QUANTITY_LENGTH, cycle->primes_at);
  nappe_result_input (result, "", _("breaks with the box at"), NAPPE_QUANTITY_LENGTH, cycle->breaks_at);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "cycle_swing", _("Swing of the box’s level"), NAPPE_QUANTITY_LENGTH, cycle->swing,
                                  NAPPE_LAW_HEIGHT);
  nappe_result_input (result, "z1", _("primes with the box at"), NAPPE_QUANTITY_LENGTH, cycle->primes_at);
  nappe_result_input (result, "z2", _("breaks with the box at"), NAPPE_QUANTITY_LENGTH, cycle->breaks_at);
  result = nappe_result_list_add (list, "cycle_flow", _("Flow while it is primed"), NAPPE_QUANTITY_FLOW,
                                  cycle->flow_full, NAPPE_LAW_FULL_PIPE);
  add_pipe_inputs (list, result, link, cycle->primes_at);
}

static void
add_if_blocked (NappeResultList *list)
{
  const NappeBlockage *blocked = nappe_study_blockage (list->study, list->part);
  NappeResult *result;

  if (blocked == NULL)
    return;
  result = nappe_result_list_add (list, "blocked_rise", _("Blocked, the display rises by"), NAPPE_QUANTITY_LENGTH,
                                  blocked->display_rise, NAPPE_LAW_BALANCE);
  nappe_result_input (result, "Q", _("flow of the pumps before"), NAPPE_QUANTITY_FLOW, list->study->running.pump_flow);
  result = nappe_result_list_add (list, "blocked_freeboard", _("Blocked, free below the display’s rim"),
                                  NAPPE_QUANTITY_LENGTH, blocked->freeboard, NAPPE_LAW_BALANCE);
  nappe_result_input (result, "Q", _("flow of the pumps before"), NAPPE_QUANTITY_FLOW, list->study->running.pump_flow);
  result = nappe_result_list_add (list, "blocked_on_the_floor", _("Blocked, on the floor"), NAPPE_QUANTITY_VOLUME,
                                  blocked->state.spilled, NAPPE_LAW_BALANCE);
  nappe_result_input (result, "", _("rise of the display’s level"), NAPPE_QUANTITY_LENGTH, blocked->display_rise);
  if (list->spread == NULL || list->spread->blockage_flood_chance == NULL || list->spread->n_blockage_samples == 0)
    return;
  result = nappe_result_list_add (
    list, "blocked_flood_chance", _("Blocked, share of samples that flood"), NAPPE_QUANTITY_SHARE,
    list->spread->blockage_flood_chance[blocked - list->study->blockages], NAPPE_LAW_SAMPLED_SHARE);
  nappe_result_input (result, "n", _("samples"), NAPPE_QUANTITY_COUNT, list->spread->n_blockage_samples);
}

void
nappe_results_add_drain (NappeResultList *list)
{
  const NappeDrainReport *report = nappe_study_drain (list->study, list->part);

  if (report == NULL)
    return;
  add_flow (list, report);
  add_heads (list, report);
  add_capacities (list, report);
  add_tuning (list, report);
  add_priming (list, report);
  add_if_blocked (list);
  nappe_results_add_ledger (list, list->part);
}

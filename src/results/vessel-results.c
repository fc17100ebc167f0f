/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Vessels: tank, boxes, chambers, side vessels, the inside of filter socks. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "results/result-list.h"

/* A level after one kind of power cut. */
static void
add_cut_level (NappeResultList *list, guint node, const NappePowerCut *cut, const char *key, const char *label)
{
  double level = cut->known ? nappe_result_list_level (list, &cut->state, node) : NAN;
  NappeResult *result = nappe_result_list_add (list, key, label, NAPPE_QUANTITY_LENGTH, level, NAPPE_LAW_STILL_WATER);

  nappe_result_input (result, "V", _("all that runs down"), NAPPE_QUANTITY_VOLUME, cut->run_back);
  nappe_result_input (result, "A", _("plan area of the vessel"), NAPPE_QUANTITY_AREA, list->network->nodes[node].area);
  if (cut == &list->study->cut_check_failed && list->spread != NULL)
    nappe_result_sampled (result, &list->spread->cut_level[node]);
}

/* What the level of the running state follows from: a level that is kept, or the balance of flows. */
static void
add_running_level (NappeResultList *list, guint node, double level)
{
  gboolean kept = node == list->network->return_chamber && !isnan (list->network->kept_level);
  NappeResult *result = nappe_result_list_add (list, "running_level", _("Level while running"), NAPPE_QUANTITY_LENGTH,
                                               level, kept ? NAPPE_LAW_GIVEN : NAPPE_LAW_BALANCE);
  const NappeNode *vessel = &list->network->nodes[node];
  double in = 0.0;

  for (guint i = 0; i < list->network->n_links; i++)
    {
      double flow = nappe_result_list_flow (list, i);

      if (list->network->links[i].to == node && flow > 0.0)
        in += flow;
      else if (list->network->links[i].from == node && flow < 0.0)
        in -= flow;
    }
  if (!kept)
    nappe_result_input (result, "Q", _("flow through it"), NAPPE_QUANTITY_FLOW, in);
  nappe_result_input (result, "z0", _("floor of the vessel"), NAPPE_QUANTITY_LENGTH, vessel->floor);
  nappe_result_sampled (result, nappe_result_list_level_band (list, node));
}

static void
add_contents (NappeResultList *list, guint node, double level)
{
  const NappeNode *vessel = &list->network->nodes[node];
  const NappeBand *band = nappe_result_list_level_band (list, node);
  NappeResult *depth = nappe_result_list_add (list, "running_depth", _("Depth while running"), NAPPE_QUANTITY_LENGTH,
                                              level - vessel->floor, NAPPE_LAW_HEIGHT);
  NappeResult *volume
    = nappe_result_list_add (list, "running_volume", _("Volume while running"), NAPPE_QUANTITY_VOLUME,
                             isnan (level) ? NAN : nappe_node_volume (vessel, level), NAPPE_LAW_VOLUME);

  nappe_result_input (depth, "z1", _("level while running"), NAPPE_QUANTITY_LENGTH, level);
  nappe_result_input (depth, "z2", _("floor of the vessel"), NAPPE_QUANTITY_LENGTH, vessel->floor);
  nappe_result_sampled_shifted (depth, band, 1.0, -vessel->floor);
  nappe_result_input (volume, "A", _("plan area, net of what stands in it"), NAPPE_QUANTITY_AREA, vessel->area);
  if (vessel->area_low < vessel->area)
    nappe_result_input (volume, "", _("the same in the lower part"), NAPPE_QUANTITY_AREA, vessel->area_low);
  nappe_result_input (volume, "z", _("level while running"), NAPPE_QUANTITY_LENGTH, level);
  nappe_result_input (volume, "z0", _("floor of the vessel"), NAPPE_QUANTITY_LENGTH, vessel->floor);
  if (band != NULL)
    nappe_result_sampled (
      volume, &(NappeBand) { nappe_node_volume (vessel, band->low), nappe_node_volume (vessel, band->high) });
}

static void
add_freeboard (NappeResultList *list, guint node, double level, const NappeBand *band, const char *key,
               const char *label)
{
  const NappeNode *vessel = &list->network->nodes[node];
  NappeResult *result
    = nappe_result_list_add (list, key, label, NAPPE_QUANTITY_LENGTH, vessel->rim - level, NAPPE_LAW_HEIGHT);

  nappe_result_input (result, "z1", _("rim"), NAPPE_QUANTITY_LENGTH, vessel->rim);
  nappe_result_input (result, "z2", _("level"), NAPPE_QUANTITY_LENGTH, level);
  nappe_result_sampled_shifted (result, band, -1.0, vessel->rim);
}

void
nappe_results_add_vessel (NappeResultList *list, guint node)
{
  const NappeStudy *study = list->study;
  const NappePowerCut *cut = &study->cut_check_failed;
  const NappeBlockage *all = nappe_study_blockage (study, NULL);
  double running = nappe_result_list_level (list, &study->running, node);
  double after = cut->known ? nappe_result_list_level (list, &cut->state, node) : NAN;
  double blocked = all != NULL ? nappe_result_list_level (list, &all->state, node) : NAN;
  NappeResult *result;

  add_running_level (list, node, running);
  add_contents (list, node, running);
  add_freeboard (list, node, running, nappe_result_list_level_band (list, node), "running_freeboard",
                 _("Free below the rim while running"));
  add_cut_level (list, node, cut, "power_cut_level", _("Level after a power cut"));
  add_freeboard (list, node, after, list->spread != NULL ? &list->spread->cut_level[node] : NULL, "power_cut_freeboard",
                 _("Free below the rim after a power cut"));
  add_cut_level (list, node, &study->cut_check_holds, "power_cut_check_valve_holds_level",
                 _("The same with the check valve holding"));
  add_cut_level (list, node, &study->cut_break_blocked, "power_cut_siphon_break_blocked_level",
                 _("The same with siphon-break holes blocked"));
  result = nappe_result_list_add (list, "drains_blocked_level", _("Level with all drains blocked"),
                                  NAPPE_QUANTITY_LENGTH, blocked, NAPPE_LAW_BALANCE);
  nappe_result_input (result, "Q", _("flow of the pumps before"), NAPPE_QUANTITY_FLOW, study->running.pump_flow);
}

static void
add_turnover (NappeResultList *list)
{
  const NappeStudy *study = list->study;
  const NappeBand *band = list->spread != NULL ? &list->spread->display_flow : NULL;
  NappeResult *flow = nappe_result_list_add (list, "display_flow", _("Flow through the display"), NAPPE_QUANTITY_FLOW,
                                             nappe_result_list_running (list, study->running.display_flow),
                                             NAPPE_LAW_BALANCE);
  NappeResult *turnover = nappe_result_list_add (list, "display_turnover", _("Turnover"), NAPPE_QUANTITY_RATE,
                                                 nappe_result_list_running (list, study->display_turnover),
                                                 NAPPE_LAW_TURNOVER);

  nappe_result_input (flow, "Q", _("flow of all pumps"), NAPPE_QUANTITY_FLOW, study->running.pump_flow);
  nappe_result_sampled (flow, band);
  nappe_result_input (turnover, "Q", _("flow through the display"), NAPPE_QUANTITY_FLOW, study->running.display_flow);
  nappe_result_input (turnover, "V", _("water in the display"), NAPPE_QUANTITY_VOLUME, study->display_volume);
  if (study->display_volume > 0.0)
    nappe_result_sampled_scaled (turnover, band, 1.0 / study->display_volume);
}

/* What happens to the display when no drain works. */
static void
add_all_blocked (NappeResultList *list)
{
  const NappeBlockage *all = nappe_study_blockage (list->study, NULL);
  NappeResult *result;

  result = nappe_result_list_add (list, "display_free", _("Room up to the rims of display and boxes"),
                                  NAPPE_QUANTITY_VOLUME, nappe_result_list_running (list, list->study->display_free),
                                  NAPPE_LAW_VOLUME);
  nappe_result_input (result, "", _("that the pump can lift before it draws air"), NAPPE_QUANTITY_VOLUME,
                      list->study->pump_liftable);
  if (all == NULL)
    return;
  result = nappe_result_list_add (list, "drains_blocked_freeboard", _("Free below the rim with all drains blocked"),
                                  NAPPE_QUANTITY_LENGTH, all->freeboard, NAPPE_LAW_BALANCE);
  nappe_result_input (result, "", _("rise of the display’s level"), NAPPE_QUANTITY_LENGTH, all->display_rise);
  result = nappe_result_list_add (list, "drains_blocked_time_to_rim", _("Then reaches the rim at the earliest after"),
                                  NAPPE_QUANTITY_DURATION, all->time_to_rim, NAPPE_LAW_TIME_TO_FILL);
  nappe_result_input (result, "V", _("room up to the rims of display and boxes"), NAPPE_QUANTITY_VOLUME,
                      list->study->display_free);
  nappe_result_input (result, "Q", _("flow of the pumps"), NAPPE_QUANTITY_FLOW, list->study->running.pump_flow);
}

void
nappe_results_add_tank (NappeResultList *list)
{
  if (list->network->display >= list->network->n_nodes)
    return;
  nappe_results_add_vessel (list, list->network->display);
  add_turnover (list);
  add_all_blocked (list);
  nappe_results_add_panels (list);
}

static void
add_speeds (NappeResultList *list, const NappeChamberReport *report)
{
  const NappeBand *level = nappe_result_list_level_band (list, report->node);
  NappeResult *result
    = nappe_result_list_add (list, "flow", _("Flow through it"), NAPPE_QUANTITY_FLOW, report->flow, NAPPE_LAW_SUM);

  for (guint i = 0; i < list->network->n_links; i++)
    {
      const NappeLink *link = &list->network->links[i];
      double flow = nappe_result_list_flow (list, i), in = link->to == report->node ? flow : -flow;

      if ((link->to == report->node || link->from == report->node) && in > 0.0)
        nappe_result_input (result, "", nappe_result_list_name (list, *link->id != '\0' ? link->id : link->line),
                            NAPPE_QUANTITY_FLOW, in);
    }

  result = nappe_result_list_add (list, "speed_along", _("Mean speed along"), NAPPE_QUANTITY_SPEED,
                                  report->speed_along, NAPPE_LAW_MEAN_SPEED);
  nappe_result_input (result, "Q", _("flow through it"), NAPPE_QUANTITY_FLOW, report->flow);
  nappe_result_input (result, "", _("depth"), NAPPE_QUANTITY_LENGTH, report->depth);
  result = nappe_result_list_add (list, "speed_down", _("Mean speed downwards"), NAPPE_QUANTITY_SPEED,
                                  report->speed_down, NAPPE_LAW_MEAN_SPEED);
  nappe_result_input (result, "Q", _("flow through it"), NAPPE_QUANTITY_FLOW, report->flow);
  nappe_result_input (result, "A", _("plan area"), NAPPE_QUANTITY_AREA, list->network->nodes[report->node].area);
  result = nappe_result_list_add (list, "residence", _("Water stays in it for"), NAPPE_QUANTITY_DURATION,
                                  report->residence, NAPPE_LAW_RESIDENCE);
  nappe_result_input (result, "V", _("volume while running"), NAPPE_QUANTITY_VOLUME, report->volume);
  nappe_result_input (result, "Q", _("flow through it"), NAPPE_QUANTITY_FLOW, report->flow);
  if (level != NULL && report->depth > 0.0 && isfinite (report->residence))
    nappe_result_sampled_scaled (
      result, &(NappeBand) { level->low - report->level + report->depth, level->high - report->level + report->depth },
      report->residence / report->depth);
  result = nappe_result_list_add (list, "turnover", _("Turnover"), NAPPE_QUANTITY_RATE, report->turnover,
                                  NAPPE_LAW_TURNOVER);
  nappe_result_input (result, "Q", _("flow through it"), NAPPE_QUANTITY_FLOW, report->flow);
  nappe_result_input (result, "V", _("volume while running"), NAPPE_QUANTITY_VOLUME, report->volume);
  result = nappe_result_list_add (list, "bubble_stopped", _("Smallest bubble it stops"), NAPPE_QUANTITY_LENGTH,
                                  report->bubble_stopped, NAPPE_LAW_BUBBLE);
  nappe_result_input (result, "", _("speed downwards"), NAPPE_QUANTITY_SPEED, report->speed_down);
  nappe_result_by_law (result);
}

void
nappe_results_add_chamber (NappeResultList *list)
{
  const NappeChamberReport *report = nappe_study_chamber (list->study, list->part);
  gint node = nappe_network_find_node (list->network, list->part);
  NappeResult *result;

  if (node < 0)
    return;
  nappe_results_add_vessel (list, (guint) node);
  if (report == NULL)
    return;
  add_speeds (list, report);
  if (isnan (report->level_low) && isnan (report->level_high))
    return;
  result = nappe_result_list_add (list, "level_low", _("Level with the baffle at its lowest"), NAPPE_QUANTITY_LENGTH,
                                  report->level_low, NAPPE_LAW_BALANCE);
  nappe_result_input (result, "Q", _("flow through it"), NAPPE_QUANTITY_FLOW, report->flow);
  result = nappe_result_list_add (list, "level_high", _("Level with the baffle at its highest"), NAPPE_QUANTITY_LENGTH,
                                  report->level_high, NAPPE_LAW_BALANCE);
  nappe_result_input (result, "Q", _("flow through it"), NAPPE_QUANTITY_FLOW, report->flow);
}

void
nappe_results_add_sump (NappeResultList *list)
{
  nappe_results_add_power_cut (list);
  nappe_results_add_panels (list);
}

/* The inside of filter socks: what the cloth passes, and what goes over the holder. */
void
nappe_results_add_sock (NappeResultList *list, guint node)
{
  nappe_results_add_vessel (list, node);
  for (guint i = 0; i < list->network->n_links; i++)
    {
      const NappeLink *link = &list->network->links[i];
      gboolean cloth = link->kind == NAPPE_LINK_SOCK;
      NappeResult *result;

      if (link->from != node || (!cloth && link->kind != NAPPE_LINK_WEIR))
        continue;
      result
        = nappe_result_list_add (list, cloth ? "flow_cloth" : "flow_over_holder",
                                 cloth ? _("Flow through the cloth") : _("Flow over the holder"), NAPPE_QUANTITY_FLOW,
                                 nappe_result_list_flow (list, i), cloth ? NAPPE_LAW_SOCK : NAPPE_LAW_WEIR);
      if (cloth)
        nappe_result_input (result, "load", _("closed share of the cloth"), NAPPE_QUANTITY_SHARE, link->sock.load);
      nappe_result_input (result, "z1", _("level inside"), NAPPE_QUANTITY_LENGTH,
                          nappe_result_list_level (list, &list->study->running, link->from));
      nappe_result_input (result, "z2", _("level outside"), NAPPE_QUANTITY_LENGTH,
                          nappe_result_list_level (list, &list->study->running, link->to));
      nappe_result_sampled (result, nappe_result_list_flow_band (list, i));
    }
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole build: its flow, its water, and what a power cut brings down. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "results/result-list.h"
#include "study/state.h"

static void
add_flows (NappeResultList *list)
{
  const NappeState *running = &list->study->running;
  NappeResult *result = nappe_result_list_add (list, "pump_flow", _("Flow of the pumps"), NAPPE_QUANTITY_FLOW,
                                               nappe_result_list_running (list, running->pump_flow), NAPPE_LAW_SUM);

  for (guint i = 0; i < list->study->n_pumps; i++)
    nappe_result_input (result, "", nappe_result_list_name (list, list->study->pumps[i].id), NAPPE_QUANTITY_FLOW,
                        list->study->pumps[i].flow);
  nappe_result_sampled (result, list->spread != NULL ? &list->spread->pump_flow : NULL);
  result = nappe_result_list_add (list, "display_turnover", _("Turnover of the display"), NAPPE_QUANTITY_RATE,
                                  nappe_result_list_running (list, list->study->display_turnover), NAPPE_LAW_TURNOVER);
  nappe_result_input (result, "Q", _("flow through the display"), NAPPE_QUANTITY_FLOW, running->display_flow);
  nappe_result_input (result, "V", _("water in the display"), NAPPE_QUANTITY_VOLUME, list->study->display_volume);
  if (list->spread != NULL && list->study->display_volume > 0.0)
    nappe_result_sampled_scaled (result, &list->spread->display_flow, 1.0 / list->study->display_volume);
}

/* How sure it is that the system comes to rest at all. */
static void
add_settled_share (NappeResultList *list)
{
  const NappeSpread *spread = list->spread;
  NappeResult *result;

  if (spread == NULL || spread->n_samples == 0)
    return;
  result = nappe_result_list_add (list, "settled_share", _("Share of samples that come to rest"), NAPPE_QUANTITY_SHARE,
                                  (double) spread->n_settled / spread->n_samples, NAPPE_LAW_SAMPLED_SHARE);
  nappe_result_input (result, "n", _("samples"), NAPPE_QUANTITY_COUNT, spread->n_samples);
}

static void
add_water (NappeResultList *list)
{
  const NappeState *running = &list->study->running;
  const NappeNetwork *network = list->network;
  NappeResult *result = nappe_result_list_add (list, "vessels", _("Water in all vessels"), NAPPE_QUANTITY_VOLUME,
                                               nappe_result_list_running (list, running->vessels), NAPPE_LAW_SUM);

  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind <= NAPPE_NODE_VESSEL)
      nappe_result_input (result, "", nappe_result_list_name (list, network->nodes[i].id), NAPPE_QUANTITY_VOLUME,
                          nappe_node_volume (&network->nodes[i], nappe_result_list_level (list, running, i)));
  result = nappe_result_list_add (list, "pipes", _("Water in the pipes"), NAPPE_QUANTITY_VOLUME,
                                  nappe_result_list_running (list, running->pipes), NAPPE_LAW_SUM);
  for (guint i = 0; !isnan (result->value) && i < network->n_links; i++)
    if (network->links[i].n_contents > 0)
      nappe_result_input (result, "", nappe_result_list_name (list, network->links[i].line), NAPPE_QUANTITY_VOLUME,
                          nappe_state_held (running, network, i));
  result = nappe_result_list_add (list, "water", _("All water"), NAPPE_QUANTITY_VOLUME,
                                  nappe_result_list_running (list, running->vessels + running->pipes), NAPPE_LAW_SUM);
  nappe_result_input (result, "", _("water in all vessels"), NAPPE_QUANTITY_VOLUME, running->vessels);
  nappe_result_input (result, "", _("water in the pipes"), NAPPE_QUANTITY_VOLUME, running->pipes);
}

/* Volume that each kind of place gives. */
static void
add_ledger_inputs (NappeResult *result, const NappePowerCut *cut)
{
  const struct
  {
    NappeLedgerKind kind;
    const char *label;
  } places[] = {
    { NAPPE_LEDGER_DISPLAY, _("from the display") },
    { NAPPE_LEDGER_BOX, _("from the boxes") },
    { NAPPE_LEDGER_DRAIN_PIPES, _("from the drains’ pipes") },
    { NAPPE_LEDGER_RETURN_PIPES, _("from the return pipes") },
    { NAPPE_LEDGER_VESSEL, _("from vessels beside") },
  };

  for (gsize p = 0; p < G_N_ELEMENTS (places); p++)
    {
      double volume = 0.0;

      for (guint i = 0; i < cut->n_ledger; i++)
        if (cut->ledger[i].kind == places[p].kind)
          volume += cut->ledger[i].volume;
      nappe_result_input (result, "", places[p].label, NAPPE_QUANTITY_VOLUME, volume);
    }
}

/* What each chamber can take up to the sump's rim above its running level. */
static void
add_room_inputs (NappeResultList *list, NappeResult *result)
{
  for (guint i = 0; i < list->network->n_nodes; i++)
    {
      const NappeNode *node = &list->network->nodes[i];
      double level = nappe_result_list_level (list, &list->study->running, i);

      if (node->kind == NAPPE_NODE_CHAMBER && !isnan (level))
        nappe_result_input (result, "", nappe_result_list_name (list, node->id), NAPPE_QUANTITY_VOLUME,
                            fmax (0.0, nappe_node_volume (node, node->rim) - nappe_node_volume (node, level)));
    }
}

/* Rim and level of the chamber that stands highest after the power cut. */
static void
add_highest_chamber (NappeResultList *list, NappeResult *result)
{
  double highest = -INFINITY, rim = NAN;

  for (guint i = 0; i < list->network->n_nodes; i++)
    {
      const NappeNode *node = &list->network->nodes[i];
      double level = nappe_result_list_level (list, &list->study->cut_check_failed.state, i);

      if (node->kind == NAPPE_NODE_CHAMBER && level > highest)
        {
          highest = level;
          rim = node->rim;
        }
    }
  nappe_result_input (result, "z1", _("rim of the sump"), NAPPE_QUANTITY_LENGTH, rim);
  nappe_result_input (result, "z2", _("level of the highest chamber"), NAPPE_QUANTITY_LENGTH, highest);
}

static void
add_cut_variant (NappeResultList *list, const NappePowerCut *cut, const char *key, const char *label)
{
  NappeResult *result;

  if (!cut->known)
    return;
  result = nappe_result_list_add (list, key, label, NAPPE_QUANTITY_VOLUME, cut->run_back, NAPPE_LAW_SUM);
  add_ledger_inputs (result, cut);
}

void
nappe_results_add_power_cut (NappeResultList *list)
{
  const NappePowerCut *cut = &list->study->cut_check_failed;
  const NappeSpread *spread = list->spread;
  NappeResult *result;

  if (!cut->known)
    return;
  result = nappe_result_list_add (list, "run_back", _("Runs down in a power cut"), NAPPE_QUANTITY_VOLUME,
                                  cut->run_back, NAPPE_LAW_SUM);
  add_ledger_inputs (result, cut);
  nappe_result_sampled (result, spread != NULL ? &spread->run_back : NULL);
  result = nappe_result_list_add (list, "sump_free", _("Can be taken up to the rim"), NAPPE_QUANTITY_VOLUME,
                                  cut->sump_free, NAPPE_LAW_SUM);
  add_room_inputs (list, result);
  result = nappe_result_list_add (list, "sump_margin", _("Then free below the sump’s rim"), NAPPE_QUANTITY_LENGTH,
                                  cut->sump_margin, NAPPE_LAW_HEIGHT);
  add_highest_chamber (list, result);
  nappe_result_sampled (result, spread != NULL ? &spread->sump_margin : NULL);
  result = nappe_result_list_add (list, "on_the_floor", _("On the floor after a power cut"), NAPPE_QUANTITY_VOLUME,
                                  cut->state.spilled, NAPPE_LAW_STILL_WATER);
  nappe_result_input (result, "", _("runs down in a power cut"), NAPPE_QUANTITY_VOLUME, cut->run_back);
  nappe_result_input (result, "", _("can be taken up to the rim"), NAPPE_QUANTITY_VOLUME, cut->sump_free);
  nappe_result_sampled (result, spread != NULL ? &spread->cut_spilled : NULL);
  if (spread != NULL)
    {
      result
        = nappe_result_list_add (list, "power_cut_flood_chance", _("Share of samples in which a power cut floods"),
                                 NAPPE_QUANTITY_SHARE, spread->cut_flood_chance, NAPPE_LAW_SAMPLED_SHARE);
      nappe_result_input (result, "n", _("samples"), NAPPE_QUANTITY_COUNT, spread->n_settled);
    }
  add_cut_variant (list, &list->study->cut_check_holds, "run_back_check_valve_holds",
                   _("The same with the check valve holding"));
  add_cut_variant (list, &list->study->cut_break_blocked, "run_back_siphon_break_blocked",
                   _("The same with siphon-break holes blocked"));
}

void
nappe_results_add_build (NappeResultList *list)
{
  add_flows (list);
  add_settled_share (list);
  add_water (list);
  nappe_results_add_power_cut (list);
  nappe_results_add_heat (list);
  nappe_results_add_loads (list);
}

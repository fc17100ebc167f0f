/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pumps, return lines and the ends of lines. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "results/result-list.h"

static const NappeBand *
pump_head_band (const NappeResultList *list, const NappePumpReport *report)
{
  return list->spread != NULL ? &list->spread->pump_head[report - list->study->pumps] : NULL;
}

static void
add_pump_inputs (NappeResult *result, const NappeLink *link)
{
  nappe_result_input (result, "s", _("share of full speed"), NAPPE_QUANTITY_SHARE, link->speed);
  nappe_result_input (result, "w", _("share of the head that wear has left"), NAPPE_QUANTITY_SHARE, link->head_left);
  nappe_result_input (result, "", _("pumps side by side"), NAPPE_QUANTITY_COUNT, link->count);
}

static void
add_operating_point (NappeResultList *list, const NappePumpReport *report)
{
  const NappeLink *link = &list->network->links[report->link];
  NappeResult *result
    = nappe_result_list_add (list, "flow", _("Flow"), NAPPE_QUANTITY_FLOW, report->flow, NAPPE_LAW_PUMP);

  nappe_result_input (result, "H", _("head"), NAPPE_QUANTITY_HEAD, report->head);
  add_pump_inputs (result, link);
  nappe_result_sampled (result, nappe_result_list_flow_band (list, report->link));
  result = nappe_result_list_add (list, "head", _("Head"), NAPPE_QUANTITY_HEAD, report->head, NAPPE_LAW_PUMP);
  nappe_result_input (result, "Q", _("flow"), NAPPE_QUANTITY_FLOW, report->flow);
  add_pump_inputs (result, link);
  nappe_result_sampled (result, pump_head_band (list, report));
  result = nappe_result_list_add (list, "static_head", _("Of it height"), NAPPE_QUANTITY_HEAD, report->static_head,
                                  NAPPE_LAW_HEIGHT);
  nappe_result_input (result, "z2", _("level that it draws from"), NAPPE_QUANTITY_LENGTH,
                      nappe_result_list_level (list, &list->study->running, link->from));
  result = nappe_result_list_add (list, "friction_head", _("Of it friction"), NAPPE_QUANTITY_HEAD,
                                  report->head - report->static_head, NAPPE_LAW_FULL_PIPE);
  nappe_result_input (result, "H", _("head"), NAPPE_QUANTITY_HEAD, report->head);
  nappe_result_input (result, "", _("of it height"), NAPPE_QUANTITY_HEAD, report->static_head);
  nappe_result_sampled_shifted (result, pump_head_band (list, report), 1.0, -report->static_head);
}

static void
add_pump_limits (NappeResultList *list, const NappePumpReport *report)
{
  const NappeLink *link = &list->network->links[report->link];
  double level = nappe_result_list_level (list, &list->study->running, link->from);
  NappeResult *result = nappe_result_list_add (list, "shut_off_head", _("Head at no flow"), NAPPE_QUANTITY_HEAD,
                                               report->shut_off_head, NAPPE_LAW_PUMP);

  add_pump_inputs (result, link);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "end_flow", _("Last flow of its curve"), NAPPE_QUANTITY_FLOW, report->end_flow,
                                  NAPPE_LAW_PUMP);
  add_pump_inputs (result, link);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "lift_head", _("Must lift on restart"), NAPPE_QUANTITY_HEAD, report->lift_head,
                                  NAPPE_LAW_HEIGHT);
  nappe_result_input (result, "z2", _("level that it draws from"), NAPPE_QUANTITY_LENGTH, level);
  result = nappe_result_list_add (list, "submergence", _("Water over its inlet"), NAPPE_QUANTITY_LENGTH,
                                  report->submergence, NAPPE_LAW_HEIGHT);
  nappe_result_input (result, "z1", _("level that it draws from"), NAPPE_QUANTITY_LENGTH, level);
  nappe_result_input (result, "z2", _("middle of its inlet"), NAPPE_QUANTITY_LENGTH, link->pump_inlet);
  nappe_result_sampled_shifted (result, nappe_result_list_level_band (list, link->from), 1.0, -link->pump_inlet);
  result = nappe_result_list_add (list, "submergence_wanted", _("Wanted over its inlet"), NAPPE_QUANTITY_LENGTH,
                                  report->submergence_wanted, NAPPE_LAW_SUBMERGENCE);
  nappe_result_input (result, "Q", _("flow"), NAPPE_QUANTITY_FLOW, report->flow / link->count);
  nappe_result_input (result, "D", _("bore of its inlet"), NAPPE_QUANTITY_LENGTH, link->inlet_bore);
  nappe_result_by_law (result);
}

void
nappe_results_add_pump (NappeResultList *list)
{
  const NappePumpReport *report = nappe_study_pump (list->study, list->part);

  if (report != NULL)
    {
      add_operating_point (list, report);
      add_pump_limits (list, report);
    }
  nappe_results_add_power (list);
}

void
nappe_results_add_return_line (NappeResultList *list)
{
  const NappePumpReport *report = nappe_study_pump (list->study, list->part);

  if (report == NULL)
    return;
  add_operating_point (list, report);
  nappe_results_add_ledger (list, list->part);
}

/* The link that ends in an outlet, or -1. */
static gint
outlet_link (const NappeResultList *list)
{
  for (guint i = 0; i < list->network->n_links; i++)
    if (g_str_equal (list->network->links[i].outlet, list->part))
      return (gint) i;
  return -1;
}

void
nappe_results_add_outlet (NappeResultList *list)
{
  gint index = outlet_link (list);
  const NappeLink *link;
  const NappeBand *band;
  double bore, area, flow, level;
  NappeResult *result;

  if (index < 0 || list->network->links[index].n_stretches == 0)
    return;
  link = &list->network->links[index];
  band = nappe_result_list_flow_band (list, (guint) index);
  flow = nappe_result_list_flow (list, (guint) index);
  level = nappe_result_list_level (list, &list->study->running, link->to);
  bore = list->network->stretches[link->first_stretch + link->n_stretches - 1].bore;
  area = 0.25 * G_PI * bore * bore;
  result = nappe_result_list_add (list, "flow", _("Flow"), NAPPE_QUANTITY_FLOW, flow, NAPPE_LAW_FULL_PIPE);
  nappe_result_input (result, "h", _("head lost from the joint before it"), NAPPE_QUANTITY_HEAD,
                      link->kind == NAPPE_LINK_PIPE
                        ? nappe_result_list_level (list, &list->study->running, link->from) - fmax (level, link->sill)
                        : NAN);
  nappe_result_input (result, "D", _("bore at its end"), NAPPE_QUANTITY_LENGTH, bore);
  nappe_result_sampled (result, band);
  result = nappe_result_list_add (list, "speed", _("Speed at its end"), NAPPE_QUANTITY_SPEED, flow / area,
                                  NAPPE_LAW_MEAN_SPEED);
  nappe_result_input (result, "Q", _("flow"), NAPPE_QUANTITY_FLOW, flow);
  nappe_result_input (result, "A", _("area of the bore"), NAPPE_QUANTITY_AREA, area);
  nappe_result_sampled_scaled (result, band, 1.0 / area);
  if (list->network->nodes[link->to].kind == NAPPE_NODE_JUNCTION)
    return;
  result = nappe_result_list_add (list, "exit_submergence", _("Exit below the surface"), NAPPE_QUANTITY_LENGTH,
                                  level - link->sill, NAPPE_LAW_HEIGHT);
  nappe_result_input (result, "z1", _("level it leads to"), NAPPE_QUANTITY_LENGTH, level);
  nappe_result_input (result, "z2", _("exit"), NAPPE_QUANTITY_LENGTH, link->sill);
  nappe_result_sampled_shifted (result, nappe_result_list_level_band (list, link->to), 1.0, -link->sill);
}

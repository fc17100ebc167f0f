/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What water flows over or under: weirs of boxes, baffles, spouts, and the joints between the boxes of an overflow. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "results/result-list.h"

static double
running_level (const NappeResultList *list, guint node)
{
  return nappe_result_list_level (list, &list->study->running, node);
}

/* What a weir's law is fed with. */
static void
add_weir_inputs (NappeResultList *list, NappeResult *result, const NappeLink *link)
{
  const NappeWeir *weir = &link->weir;

  nappe_result_input (result, "h", _("level over the crest"), NAPPE_QUANTITY_LENGTH,
                      running_level (list, link->from) - link->sill);
  nappe_result_input (result, "h2", _("level behind over the crest"), NAPPE_QUANTITY_LENGTH,
                      fmax (0.0, running_level (list, link->to) - link->sill));
  nappe_result_input (result, "b", _("length of the crest"), NAPPE_QUANTITY_LENGTH, weir->length);
  nappe_result_input (result, "p", _("height of the crest over the floor before it"), NAPPE_QUANTITY_LENGTH,
                      weir->height);
  nappe_result_input (result, "", _("thickness of the wall"), NAPPE_QUANTITY_LENGTH, weir->thickness);
  nappe_result_input (result, "", _("open share"), NAPPE_QUANTITY_SHARE, weir->open_share);
  if (weir->slot_count == 0)
    return;
  nappe_result_input (result, "", _("slots"), NAPPE_QUANTITY_COUNT, weir->slot_count);
  nappe_result_input (result, "", _("width of a slot"), NAPPE_QUANTITY_LENGTH, weir->slot_width);
  nappe_result_input (result, "", _("depth of a slot"), NAPPE_QUANTITY_LENGTH, weir->slot_depth);
}

static NappeLawName
weir_law (const NappeLink *link)
{
  return link->weir.slot_count > 0 ? NAPPE_LAW_SLOT_WEIR : NAPPE_LAW_WEIR;
}

static void
add_weir_flow (NappeResultList *list, guint index, const char *key, const char *label)
{
  const NappeLink *link = &list->network->links[index];
  NappeResult *result = nappe_result_list_add (list, key, label, NAPPE_QUANTITY_FLOW,
                                               nappe_result_list_flow (list, index), weir_law (link));

  add_weir_inputs (list, result, link);
  nappe_result_sampled (result, nappe_result_list_flow_band (list, index));
}

static void
add_film (NappeResultList *list, const NappeWeirReport *report)
{
  const NappeLink *link = &list->network->links[report->link];
  NappeResult *film = nappe_result_list_add (list, "film", _("Water over the crest"), NAPPE_QUANTITY_LENGTH,
                                             report->film, weir_law (link));
  NappeResult *fall;

  nappe_result_input (film, "Q", _("flow over the weir"), NAPPE_QUANTITY_FLOW, report->flow);
  add_weir_inputs (list, film, link);
  if (list->spread != NULL)
    nappe_result_sampled (film, &list->spread->film[report - list->study->weirs]);
  else
    nappe_result_between (film, report->film_low, report->film_high);
  fall = nappe_result_list_add (list, "fall", _("Fall into the box"), NAPPE_QUANTITY_LENGTH, report->fall,
                                NAPPE_LAW_HEIGHT);
  nappe_result_input (fall, "z1", _("crest"), NAPPE_QUANTITY_LENGTH, link->sill);
  nappe_result_input (fall, "z2", _("level in the box"), NAPPE_QUANTITY_LENGTH, running_level (list, link->to));
  nappe_result_sampled_shifted (fall, nappe_result_list_level_band (list, link->to), -1.0, link->sill);
}

/* Half of the crest blocked. */
static void
add_blocked_weir (NappeResultList *list, const NappeWeirReport *report)
{
  const NappeLink *link = &list->network->links[report->link];
  const NappeBlockage *blocked = list->study->weir_blocked;
  NappeResult *result;

  if (blocked == NULL)
    return;
  blocked += report - list->study->weirs;
  result = nappe_result_list_add (list, "film_half_blocked", _("Water over the crest with half of it blocked"),
                                  NAPPE_QUANTITY_LENGTH,
                                  nappe_result_list_level (list, &blocked->state, link->from) - link->sill,
                                  weir_law (link));
  nappe_result_input (result, "", _("open share"), NAPPE_QUANTITY_SHARE, blocked->open_share);
  nappe_result_input (result, "", _("rise of the display’s level"), NAPPE_QUANTITY_LENGTH, blocked->display_rise);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "freeboard_half_blocked",
                                  _("Free below the display’s rim with half of it blocked"), NAPPE_QUANTITY_LENGTH,
                                  blocked->freeboard, NAPPE_LAW_BALANCE);
  nappe_result_input (result, "", _("rise of the display’s level"), NAPPE_QUANTITY_LENGTH, blocked->display_rise);
}

/* Bulkheads or siphon tubes from the inner box to the outer one. */
static void
add_joint (NappeResultList *list, guint index)
{
  const NappeLink *link = &list->network->links[index];
  double flow = nappe_result_list_flow (list, index), bore = link->joint.bore;
  double area = link->joint.count * 0.25 * G_PI * bore * bore;
  double head = running_level (list, link->from) - running_level (list, link->to);
  NappeResult *result = nappe_result_list_add (list, "joint_flow", _("Flow through the joints of its boxes"),
                                               NAPPE_QUANTITY_FLOW, flow, NAPPE_LAW_FULL_PIPE);

  nappe_result_input (result, "h", _("inner level over outer level"), NAPPE_QUANTITY_LENGTH, head);
  nappe_result_input (result, "", _("bulkheads or tubes"), NAPPE_QUANTITY_COUNT, link->joint.count);
  nappe_result_input (result, "D", _("bore"), NAPPE_QUANTITY_LENGTH, bore);
  nappe_result_sampled (result, nappe_result_list_flow_band (list, index));
  result = nappe_result_list_add (list, "joint_head", _("Inner level over outer level"), NAPPE_QUANTITY_LENGTH, head,
                                  NAPPE_LAW_FULL_PIPE);
  nappe_result_input (result, "Q", _("flow through the joints"), NAPPE_QUANTITY_FLOW, flow);
  nappe_result_input (result, "D", _("bore"), NAPPE_QUANTITY_LENGTH, bore);
  result = nappe_result_list_add (list, "joint_speed", _("Speed in the joints"), NAPPE_QUANTITY_SPEED,
                                  area > 0.0 ? flow / area : NAN, NAPPE_LAW_MEAN_SPEED);
  nappe_result_input (result, "Q", _("flow through the joints"), NAPPE_QUANTITY_FLOW, flow);
  nappe_result_input (result, "A", _("area of all joints"), NAPPE_QUANTITY_AREA, area);
  if (area > 0.0)
    nappe_result_sampled_scaled (result, nappe_result_list_flow_band (list, index), 1.0 / area);
}

static void
add_inner_box (NappeResultList *list)
{
  g_autofree char *id = g_strconcat (list->part, NAPPE_INNER_SUFFIX, NULL);
  gint inner = nappe_network_find_node (list->network, id);
  gint joint = nappe_network_find_link (list->network, NAPPE_LINK_JOINT, list->part);
  NappeResult *result;

  if (inner < 0)
    return;
  result = nappe_result_list_add (list, "inner_level", _("Level in the inner box while running"),
                                  NAPPE_QUANTITY_LENGTH, running_level (list, (guint) inner), NAPPE_LAW_BALANCE);
  nappe_result_sampled (result, nappe_result_list_level_band (list, (guint) inner));
  if (joint >= 0)
    add_joint (list, (guint) joint);
}

void
nappe_results_add_overflow (NappeResultList *list)
{
  const NappeWeirReport *report = nappe_study_weir (list->study, list->part);
  gint node = nappe_network_find_node (list->network, list->part);

  if (report != NULL)
    {
      add_weir_flow (list, report->link, "flow", _("Flow over the weir"));
      add_film (list, report);
      add_blocked_weir (list, report);
    }
  add_inner_box (list);
  if (node >= 0)
    nappe_results_add_vessel (list, (guint) node);
}

static void
add_gap (NappeResultList *list, guint index)
{
  const NappeLink *link = &list->network->links[index];
  double flow = nappe_result_list_flow (list, index);
  double head = running_level (list, link->from) - running_level (list, link->to);
  NappeResult *result
    = nappe_result_list_add (list, "flow_under", _("Flow under it"), NAPPE_QUANTITY_FLOW, flow, NAPPE_LAW_GAP);

  nappe_result_input (result, "A", _("open area"), NAPPE_QUANTITY_AREA, link->gap_area);
  nappe_result_input (result, "h", _("difference of levels"), NAPPE_QUANTITY_LENGTH, head);
  nappe_result_sampled (result, nappe_result_list_flow_band (list, index));
  result = nappe_result_list_add (list, "speed_under", _("Speed in the gap"), NAPPE_QUANTITY_SPEED,
                                  link->gap_area > 0.0 ? flow / link->gap_area : NAN, NAPPE_LAW_MEAN_SPEED);
  nappe_result_input (result, "Q", _("flow under it"), NAPPE_QUANTITY_FLOW, flow);
  nappe_result_input (result, "A", _("open area"), NAPPE_QUANTITY_AREA, link->gap_area);
}

static void
add_over (NappeResultList *list, guint index)
{
  const NappeLink *link = &list->network->links[index];
  double highest = fmax (running_level (list, link->from), running_level (list, link->to));
  NappeResult *film;

  add_weir_flow (list, index, "flow_over", _("Flow over it"));
  film = nappe_result_list_add (list, "film", _("Water over its top"), NAPPE_QUANTITY_LENGTH, highest - link->sill,
                                NAPPE_LAW_HEIGHT);
  nappe_result_input (film, "z1", _("higher level"), NAPPE_QUANTITY_LENGTH, highest);
  nappe_result_input (film, "z2", _("top of it"), NAPPE_QUANTITY_LENGTH, link->sill);
}

void
nappe_results_add_baffle (NappeResultList *list)
{
  gint over = nappe_network_find_link (list->network, NAPPE_LINK_WEIR, list->part);
  gint under = nappe_network_find_link (list->network, NAPPE_LINK_GAP, list->part);
  NappeResult *result = nappe_result_list_add (list, "flow", _("Flow"), NAPPE_QUANTITY_FLOW,
                                               nappe_study_flow (list->study, &list->study->running, list->part),
                                               NAPPE_LAW_SUM);

  if (over >= 0)
    nappe_result_input (result, "", _("flow over it"), NAPPE_QUANTITY_FLOW, nappe_result_list_flow (list, (guint) over));
  if (under >= 0)
    nappe_result_input (result, "", _("flow under it"), NAPPE_QUANTITY_FLOW,
                        nappe_result_list_flow (list, (guint) under));
  if (over >= 0)
    add_over (list, (guint) over);
  if (under >= 0)
    add_gap (list, (guint) under);
}

void
nappe_results_add_spout (NappeResultList *list)
{
  gint node = nappe_network_find_node (list->network, list->part);
  gint spout = nappe_network_find_link (list->network, NAPPE_LINK_WEIR, list->part);

  if (spout >= 0)
    add_weir_flow (list, (guint) spout, "flow", _("Flow over its spout"));
  if (node < 0)
    return;
  nappe_results_add_vessel (list, (guint) node);
  if (spout >= 0)
    {
      const NappeNode *vessel = &list->network->nodes[node];
      double flow = nappe_result_list_flow (list, (guint) spout);
      double volume = nappe_node_volume (vessel, running_level (list, (guint) node));
      NappeResult *result = nappe_result_list_add (list, "turnover", _("Turnover"), NAPPE_QUANTITY_RATE,
                                                   volume > 0.0 ? flow / volume : NAN, NAPPE_LAW_TURNOVER);

      nappe_result_input (result, "Q", _("flow over its spout"), NAPPE_QUANTITY_FLOW, flow);
      nappe_result_input (result, "V", _("volume while running"), NAPPE_QUANTITY_VOLUME, volume);
      if (volume > 0.0)
        nappe_result_sampled_scaled (result, nappe_result_list_flow_band (list, (guint) spout), 1.0 / volume);
    }
}

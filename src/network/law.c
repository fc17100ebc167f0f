/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each link's law calls one law of the physics room with the heads that the link sees, which are
 * never below its sill. */
#include "network/law.h"

#include "physics/drop-inlet.h"
#include "physics/orifice.h"

#include <math.h>

/* Depth over its inlet within which a pump's flow fades as the vessel runs dry [m]. A real pump sputters;
 * what is reported then is "draws air". */
#define PUMP_FADE 0.010
/* Depth over a pipe's end within which backflow into it fades as the end comes out of the water [m]. */
#define BACKFLOW_FADE 0.010

static void
weir_law (const NappeLink *link, double head_from, double head_to, NappeLinkFlow *result)
{
  result->flow = nappe_weir_flow (&link->weir, head_from - link->sill, head_to - link->sill, &result->slope_from,
                                  &result->slope_to);
}

/* A gap passes the head between the levels, through no more of its height than stands in water on the
 * higher side. */
static void
gap_law (const NappeLink *link, double head_from, double head_to, NappeLinkFlow *result)
{
  double from = fmax (head_from, link->gap_floor), to = fmax (head_to, link->gap_floor);
  double height = link->gap_area / link->weir.length;
  double wet = fmax (from, to) - link->gap_floor;
  double share = fmin (1, wet / height), slope;
  double full = nappe_orifice_flow (link->gap_area, NAPPE_ORIFICE_COEFFICIENT, from - to, &slope);
  double wetting = share < 1 ? full / height : 0;

  result->flow = share * full;
  result->slope_from = head_from > link->gap_floor ? share * slope + (from >= to ? wetting : 0) : 0;
  result->slope_to = head_to > link->gap_floor ? -share * slope + (from < to ? wetting : 0) : 0;
}

double
nappe_drain_inlet_flow (const NappeLink *link, double level, double *slope)
{
  NappeDropInlet inlet = { link->inlet.bore, link->inlet.rim_diameter };
  double flow = link->open_share * nappe_drop_inlet_flow (&inlet, level - link->inlet.crest, slope);

  if (slope != NULL)
    *slope *= link->open_share;
  return flow;
}

double
nappe_drain_full_flow (const NappeNetwork *network, const NappeLink *link, double level, double head_to, double guess,
                       double *slope)
{
  double head = level - fmax (head_to, link->sill);

  if (link->open_share <= 0 || link->shut || head <= 0)
    {
      if (slope != NULL)
        *slope = 0;
      return 0;
    }
  return nappe_run_flow (network->stretches + link->first_stretch, link->n_stretches, head, &network->water, guess, slope);
}

static void
drain_law (const NappeNetwork *network, const NappeLink *link, NappeLinkMode *mode, double head_from, double head_to,
           NappeLinkFlow *result)
{
  double inlet_slope = 0, full_slope = 0;
  double inlet = mode->primed ? INFINITY : nappe_drain_inlet_flow (link, head_from, &inlet_slope);

  *result = (NappeLinkFlow){ 0, 0, 0 };
  if (inlet <= 0)
    return;
  double full = nappe_drain_full_flow (network, link, head_from, head_to, mode->guess, &full_slope);
  mode->guess = full;
  if (inlet < full)
    {
      result->flow = inlet;
      result->slope_from = inlet_slope;
      return;
    }
  result->flow = full;
  result->slope_from = full_slope;
  result->slope_to = head_to > link->sill ? -full_slope : 0;
}

/* Smooth rise from 0 to 1 over a depth [m]. */
static double
fade (double depth, double over, double *slope)
{
  double share = depth / over;

  *slope = share <= 0 || share >= 1 ? 0 : 6 * share * (1 - share) / over;
  return share <= 0 ? 0 : share >= 1 ? 1 : share * share * (3 - 2 * share);
}

/* From a junction to a vessel or another junction; backwards only as far as the end stands in water. */
static void
pipe_law (const NappeNetwork *network, const NappeLink *link, NappeLinkMode *mode, double head_from, double head_to,
          NappeLinkFlow *result)
{
  double head = head_from - fmax (head_to, link->sill), slope;

  *result = (NappeLinkFlow){ 0, 0, 0 };
  if (link->shut || (head < 0 && (link->one_way || head_to <= link->sill)))
    return;
  result->flow = nappe_run_flow (network->stretches + link->first_stretch, link->n_stretches, head, &network->water,
                                 mode->guess, &slope);
  mode->guess = result->flow;
  result->slope_from = slope;
  result->slope_to = head_to > link->sill ? -slope : 0;
  if (head >= 0)
    return;
  double wetting, wet = fade (head_to - link->sill, BACKFLOW_FADE, &wetting);
  result->slope_from *= wet;
  result->slope_to = result->slope_to * wet + result->flow * wetting;
  result->flow *= wet;
}

static void
pump_law (const NappeLink *link, double head_from, double head_to, NappeLinkFlow *result)
{
  *result = (NappeLinkFlow){ 0, 0, 0 };
  if (link->speed <= 0)
    return;
  double slope, fade_slope, share = fade (head_from - link->pump_inlet, PUMP_FADE, &fade_slope);
  double flow = nappe_pump_flow_at_head (&link->curve, head_to - head_from, link->speed, link->head_left, &slope);

  if (flow <= 0 || share <= 0)
    return;
  result->flow = share * flow;
  result->slope_to = share * slope;
  result->slope_from = -share * slope + fade_slope * flow;
}

double
nappe_link_held (const NappeNetwork *network, const NappeLink *link, double flow, double level_to, gboolean primed)
{
  double whole = nappe_link_content (network, link);

  if (whole <= 0)
    return 0;
  if (primed || (link->pump >= 0 && network->links[link->pump].speed > 0))
    return whole;
  double tail = nappe_link_content_below (network, link, level_to);
  if (flow <= 0)
    return tail;
  double wetted = fmin (1, nappe_stack_wetted_share (network->stretches[link->first_stretch].bore, flow));
  return tail + wetted * (whole - tail);
}

void
nappe_link_law (const NappeNetwork *network, const NappeLink *link, NappeLinkMode *mode, double head_from, double head_to,
                NappeLinkFlow *result)
{
  switch (link->kind)
    {
    case NAPPE_LINK_WEIR:
      weir_law (link, head_from, head_to, result);
      break;
    case NAPPE_LINK_RIM:
      weir_law (link, head_from, link->sill - 1, result);
      result->slope_to = 0;
      break;
    case NAPPE_LINK_GAP:
      gap_law (link, head_from, head_to, result);
      break;
    case NAPPE_LINK_DRAIN:
      drain_law (network, link, mode, head_from, head_to, result);
      break;
    case NAPPE_LINK_PIPE:
      pipe_law (network, link, mode, head_from, head_to, result);
      break;
    case NAPPE_LINK_PUMP:
      pump_law (link, head_from, head_to, result);
      break;
    default:
      g_assert_not_reached ();
    }
}

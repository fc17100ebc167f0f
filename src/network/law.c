/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each link's law calls one law of the physics room with the heads that the link sees, which are
 * never below its sill. */
#include "network/law.h"

#include "physics/drop-inlet.h"
#include "physics/gravity.h"
#include "physics/manning.h"
#include "physics/orifice.h"

#include <math.h>

/* Depth over its inlet within which a pump's flow fades as the vessel runs dry [m]. A real pump sputters;
 * what is reported then is "draws air". */
#define PUMP_FADE 0.010
/* Where a pump's inlet is quite out of the water, what it can still draw, so that its law can be inverted [-]. */
#define LEAST_FADE 1e-5
/* Depth of a box within which a full drain's flow fades, so that none empties its box below the floor before it is taken
 * as broken [m]. */
#define DRY_FADE 0.005
/* Depth over a pipe's end within which backflow into it fades as the end comes out of the water [m]. */
#define BACKFLOW_FADE 0.010
/* Depth over a sock's lower end within which its cloth begins to pass water [m]. */
#define CLOTH_FADE 0.001
/* Speed of water in a return line's pipe running back at which the pipe counts as full [m/s]. */
#define FULL_BACKFLOW 0.05

/* A flow law that is off by a share is off in its slopes too. */
static void
apply_spread (const NappeLink *link, NappeLinkFlow *result)
{
  result->flow *= 1 + link->spread;
  result->slope_from *= 1 + link->spread;
  result->slope_to *= 1 + link->spread;
}

/* Smooth rise from 0 to 1 over a depth [m]. */
static double
fade (double depth, double over, double *slope)
{
  double share = depth / over;

  *slope = share <= 0 || share >= 1 ? 0 : 6 * share * (1 - share) / over;
  return share <= 0 ? 0 : share >= 1 ? 1 : share * share * (3 - 2 * share);
}

static void
weir_law (const NappeLink *link, double head_from, double head_to, NappeLinkFlow *result)
{
  result->flow = nappe_weir_flow (&link->weir, head_from - link->sill, head_to - link->sill, &result->slope_from,
                                  &result->slope_to);
  apply_spread (link, result);
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
  apply_spread (link, result);
}

double
nappe_drain_inlet_flow (const NappeLink *link, double level, double *slope)
{
  NappeDropInlet inlet = { link->inlet.bore, link->inlet.rim_diameter };
  double share = link->open_share * (1 + link->spread);
  double flow = share * nappe_drop_inlet_flow (&inlet, level - link->inlet.crest, slope);

  if (slope != NULL)
    *slope *= share;
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
  double wetting = 0, wet = mode->primed ? fade (head_from - network->nodes[link->from].floor, DRY_FADE, &wetting) : 1;
  result->flow = wet * full;
  result->slope_from = wet * full_slope + wetting * full;
  result->slope_to = head_to > link->sill ? -wet * full_slope : 0;
}

/* From a junction to a vessel or another junction; backwards only as long as the end, and the hole that breaks its siphon,
 * stand in water. */
static void
pipe_law (const NappeNetwork *network, const NappeLink *link, NappeLinkMode *mode, double head_from, double head_to,
          NappeLinkFlow *result)
{
  double head = head_from - fmax (head_to, link->sill), slope;
  double air = fmax (link->sill, link->siphon_break);

  *result = (NappeLinkFlow){ 0, 0, 0 };
  if (link->shut || (head < 0 && (link->one_way || head_to <= air)))
    return;
  result->flow = nappe_run_flow (network->stretches + link->first_stretch, link->n_stretches, head, &network->water,
                                 mode->guess, &slope);
  mode->guess = result->flow;
  result->slope_from = slope;
  result->slope_to = head_to > link->sill ? -slope : 0;
  if (head >= 0)
    return;
  double wetting, wet = fade (head_to - air, BACKFLOW_FADE, &wetting);
  result->slope_from *= wet;
  result->slope_to = result->slope_to * wet + result->flow * wetting;
  result->flow *= wet;
}

/* Bulkheads pass the head between the boxes, through no more of their bore than stands in water on the higher side;
 * below their lower edge a level does not count. Siphon tubes pass it as long as the higher side covers their ends and
 * they hold their prime. A tube whose other end hangs in air goes on running out of it: were it to stop then, its flow
 * would rise with the level that it runs to. */
static void
joint_law (const NappeNetwork *network, const NappeLink *link, NappeLinkMode *mode, double head_from, double head_to,
           NappeLinkFlow *result)
{
  const NappeJoint *joint = &link->joint;
  double from = fmax (head_from, link->sill), to = fmax (head_to, link->sill);
  double wet = fmax (from, to) - link->sill, wetting = 0, share, slope;

  *result = (NappeLinkFlow){ 0, 0, 0 };
  if (wet <= 0 || link->shut || (joint->siphon && !joint->primed))
    return;
  if (joint->siphon)
    share = fade (wet, joint->bore, &wetting);
  else
    share = wet < joint->bore ? nappe_part_full_area (joint->bore, wet) / (0.25 * G_PI * joint->bore * joint->bore) : 1;
  /* The area grows with the depth by the width of the surface. */
  if (!joint->siphon && wet < joint->bore)
    wetting = 2 * sqrt (wet * (joint->bore - wet)) / (0.25 * G_PI * joint->bore * joint->bore);
  double one = nappe_run_flow (network->stretches + link->first_stretch, link->n_stretches, from - to, &network->water,
                               mode->guess, &slope);
  mode->guess = one;
  share *= joint->count * link->open_share;
  wetting *= joint->count * link->open_share * one;
  result->flow = share * one;
  result->slope_from = head_from > link->sill ? share * slope + (from >= to ? wetting : 0) : 0;
  result->slope_to = head_to > link->sill ? -share * slope + (from < to ? wetting : 0) : 0;
  apply_spread (link, result);
}

/* Area of cloth under water times the head at it, taken together from a sock's lower end up to a level [m3]:
 * the integral of the depth over the cloth, so that what passes between two levels is the difference of theirs.
 * slope: its derivative [m2]. */
static double
cloth_depth (const NappeSock *sock, double level, double *slope)
{
  double depth = level - sock->bottom, rise = 1;

  if (depth <= 0)
    {
      *slope = 0;
      return 0;
    }
  if (depth < CLOTH_FADE)
    {
      rise = depth / CLOTH_FADE;
      depth *= 0.5 * rise;
    }
  else
    depth -= 0.5 * CLOTH_FADE;
  double wet = fmin (depth, fmax (0, sock->top - sock->bottom));
  *slope = rise * (sock->bottom_area + sock->perimeter * wet);
  return sock->bottom_area * depth + sock->perimeter * wet * (depth - 0.5 * wet);
}

/* Speed through cloth is in proportion to the head at it (Darcy's law), so at a height z between the levels it is
 * conductance (from - z). Both ways: a chamber that stands higher fills the sock. */
static void
sock_law (const NappeLink *link, double head_from, double head_to, NappeLinkFlow *result)
{
  double slope_from, slope_to;
  double inside = cloth_depth (&link->sock, head_from, &slope_from);
  double outside = cloth_depth (&link->sock, head_to, &slope_to);
  double open = link->sock.conductance * (1 - CLAMP (link->sock.load, 0, 1));

  *result = (NappeLinkFlow){ open * (inside - outside), open * slope_from, -open * slope_to };
  apply_spread (link, result);
}

/* Flow through a pump that is held still, of one pump [m3/s], sign of head [m]: an open passage. Nothing is published
 * for pumps of this size; taken is a passage that at the flow at the curve's end loses the head of no flow. */
static double
passage_flow (const NappePumpCurve *curve, double head, double *slope)
{
  double shut_off = nappe_pump_head (curve, 0, 1, 1, NULL);

  return nappe_orifice_flow (curve->flow[curve->n - 1] / sqrt (2 * NAPPE_GRAVITY * shut_off), 1, head, slope);
}

/* Equal pumps side by side share the flow under one head. A running pump that is pushed back passes water backwards
 * under what the head is above that of no flow; a stopped one is a passage both ways. What a pump draws fades as its
 * inlet comes out of the water. */
static void
pump_law (const NappeLink *link, double head_from, double head_to, NappeLinkFlow *result)
{
  double head = head_to - head_from, flow, slope;

  *result = (NappeLinkFlow){ 0, 0, 0 };
  if (link->curve.n == 0)
    return;
  if (link->speed <= 0)
    {
      flow = -passage_flow (&link->curve, head, &slope);
      slope = -slope;
    }
  else
    {
      flow = nappe_pump_flow_at_head (&link->curve, head, link->speed, link->head_left, &slope);
      if (flow < 0)
        {
          flow = -passage_flow (&link->curve,
                                head - nappe_pump_head (&link->curve, 0, link->speed, link->head_left, NULL), &slope);
          slope = -slope;
        }
    }
  double fade_slope = 0, share = flow > 0 ? fade (head_from - link->pump_inlet, PUMP_FADE, &fade_slope) : 1;
  result->flow = link->count * share * flow;
  result->slope_to = link->count * share * slope;
  result->slope_from = link->count * (fade_slope * flow - share * slope);
}

/* Head lost in the passage of one pump, sign of flow; without the straight piece below 0.01 mm of passage_flow. */
static double
passage_head (const NappePumpCurve *curve, double flow, double *slope)
{
  double share = flow / curve->flow[curve->n - 1], shut_off = nappe_pump_head (curve, 0, 1, 1, NULL);

  *slope = 2 * shut_off * fabs (share) / curve->flow[curve->n - 1];
  return shut_off * share * fabs (share);
}

double
nappe_pump_drive (const NappeLink *link, double level, double flow, double standing, double *slope)
{
  double ignored, lost = 0, lost_slope = 0, head = 0, head_slope = 0;
  double share = fmax (fade (level - link->pump_inlet, PUMP_FADE, &ignored), LEAST_FADE);

  /* One that runs counts as choked both ways, or its head would have a corner where the flow turns; one that stands lets
     water back. */
  if (flow <= 0)
    share = link->speed > 0 ? share + (1 - share) * standing : 1;
  double one = flow / (link->count * share);

  if (link->speed > 0)
    head = nappe_pump_head (&link->curve, fmax (one, 0), link->speed, link->head_left, &head_slope);
  if (link->speed <= 0 || one < 0)
    {
      lost = passage_head (&link->curve, one, &lost_slope);
      head_slope = 0;
    }
  else if (standing > 0)
    {
      lost = standing * passage_head (&link->curve, one, &lost_slope);
      lost_slope *= standing;
    }
  *slope = (head_slope - lost_slope) / (link->count * share);
  return head - lost;
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
  double bore = network->stretches[link->first_stretch].bore, ignored;
  /* A line that siphons back through a stopped pump is full. */
  if (flow < 0)
    return tail + fade (-flow, FULL_BACKFLOW * 0.25 * G_PI * bore * bore, &ignored) * (whole - tail);
  if (flow == 0)
    return tail;
  double wetted = fmin (1, nappe_stack_wetted_share (bore, flow));
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
    case NAPPE_LINK_JOINT:
      joint_law (network, link, mode, head_from, head_to, result);
      break;
    case NAPPE_LINK_SOCK:
      sock_law (link, head_from, head_to, result);
      break;
    default:
      g_assert_not_reached ();
    }
}

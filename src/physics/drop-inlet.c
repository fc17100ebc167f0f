/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/drop-inlet.h"

#include "physics/gravity.h"
#include "physics/orifice.h"

#include <math.h>

/* Crest coefficient [m^0.5/s]: 3.33 in feet (Francis). */
#define CREST_COEFFICIENT 1.84
/* How far either side of the change the corner is rounded, as a factor of head, and its ln. */
#define ROUNDED_FACTOR 1.3
#define ROUNDED_BAND 0.26236426446749106

/* Litres of a US gallon are exact (231 in3, inch 25.4 mm): cubic metres per second of one gallon a minute. */
#define GALLON_A_MINUTE (231.0 * 0.0254 * 0.0254 * 0.0254 / 60.0)
#define INCH 0.0254

static double
bore_area (double bore)
{
  return G_PI_4 * bore * bore;
}

static double
crest_factor (const NappeDropInlet *inlet)
{
  return CREST_COEFFICIENT * G_PI * MAX (inlet->rim_diameter, inlet->bore);
}

static double
orifice_factor (const NappeDropInlet *inlet)
{
  return NAPPE_ORIFICE_COEFFICIENT * bore_area (inlet->bore) * sqrt (2.0 * NAPPE_GRAVITY);
}

double
nappe_drop_inlet_change_head (const NappeDropInlet *inlet)
{
  return orifice_factor (inlet) / crest_factor (inlet);
}

double
nappe_drop_inlet_flow (const NappeDropInlet *inlet,
                       double                head,
                       double               *slope)
{
  double crest = crest_factor (inlet), orifice = orifice_factor (inlet);
  double place, flow, power; /* power: d ln Q / d ln h */

  if (!(head > 0.0))
    {
      if (slope)
        *slope = 0.0;
      return 0.0;
    }
  place = head * crest / orifice;
  if (place * ROUNDED_FACTOR <= 1.0)
    {
      power = 1.5;
      flow = crest * head * sqrt (head);
    }
  else if (place >= ROUNDED_FACTOR)
    {
      power = 0.5;
      flow = orifice * sqrt (head);
    }
  else
    {
      /* ln Q bends from the one straight line to the other along a parabola in ln h. */
      double beyond = log (place) + ROUNDED_BAND;

      power = 1.5 - beyond / (2.0 * ROUNDED_BAND);
      flow = crest * head * sqrt (head) * exp (-beyond * beyond / (4.0 * ROUNDED_BAND));
    }
  if (slope)
    *slope = power * flow / head;
  return flow;
}

NappeInletControl
nappe_drop_inlet_control (const NappeDropInlet *inlet,
                          double                head,
                          double                full_flow)
{
  if (!(head > 0.0))
    return NAPPE_INLET_DRY;
  if (full_flow < nappe_drop_inlet_flow (inlet, head, NULL))
    return NAPPE_INLET_FULL;
  return head < nappe_drop_inlet_change_head (inlet) ? NAPPE_INLET_CREST : NAPPE_INLET_ORIFICE;
}

double
nappe_full_bore_froude (double flow,
                        double bore)
{
  return flow / nappe_froude_flow (1.0, bore);
}

double
nappe_froude_flow (double froude,
                   double bore)
{
  return froude * bore_area (bore) * sqrt (NAPPE_GRAVITY * bore);
}

double
nappe_stack_flow (double bore,
                  double wetted_share)
{
  double inches = bore / INCH;

  return GALLON_A_MINUTE * 27.8 * pow (MAX (wetted_share, 0.0), 5.0 / 3.0) * pow (inches, 8.0 / 3.0);
}

double
nappe_stack_wetted_share (double bore,
                          double flow)
{
  return pow (MAX (flow, 0.0) / nappe_stack_flow (bore, 1.0), 0.6);
}

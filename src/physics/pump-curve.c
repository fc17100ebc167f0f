/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/pump-curve.h"

#include <math.h>

/* Least slope at either end, as a share of the first or last chord: a curve may start flat, but its continuation
 * must fall. */
#define LEAST_END_SLOPE 0.05

/* Slope at an end from the two chords next to it (three-point formula, kept monotone; Moler, Numerical Computing, 3.6). */
static double
end_slope (double width,
           double next_width,
           double chord,
           double next_chord)
{
  double slope = ((2.0 * width + next_width) * chord - width * next_chord) / (width + next_width);

  return CLAMP (slope, 3.0 * chord, LEAST_END_SLOPE * chord);
}

static void
set_slopes (NappePumpCurve *curve)
{
  gsize last = curve->n - 1;
  double width[NAPPE_PUMP_CURVE_MAX], chord[NAPPE_PUMP_CURVE_MAX];

  for (gsize i = 0; i < last; i++)
    {
      width[i] = curve->flow[i + 1] - curve->flow[i];
      chord[i] = (curve->head[i + 1] - curve->head[i]) / width[i];
    }
  if (last == 1)
    {
      curve->slope[0] = curve->slope[1] = chord[0];
      return;
    }
  for (gsize i = 1; i < last; i++)
    {
      double before = 2.0 * width[i] + width[i - 1];
      double after = width[i] + 2.0 * width[i - 1];

      curve->slope[i] = (before + after) / (before / chord[i - 1] + after / chord[i]);
    }
  curve->slope[0] = end_slope (width[0], width[1], chord[0], chord[1]);
  curve->slope[last] = end_slope (width[last - 1], width[last - 2], chord[last - 1], chord[last - 2]);
}

gboolean
nappe_pump_curve_init (NappePumpCurve *curve,
                       const double   *flows,
                       const double   *heads,
                       gsize           n)
{
  if (n < 2 || n > NAPPE_PUMP_CURVE_MAX)
    return FALSE;
  for (gsize i = 0; i < n; i++)
    {
      if (!isfinite (flows[i]) || !isfinite (heads[i]) || flows[i] < 0.0)
        return FALSE;
      if (i > 0 && (flows[i] <= flows[i - 1] || heads[i] >= heads[i - 1]))
        return FALSE;
    }
  curve->n = n;
  for (gsize i = 0; i < n; i++)
    {
      curve->flow[i] = flows[i];
      curve->head[i] = heads[i];
    }
  set_slopes (curve);
  return TRUE;
}

/* Head on the piece between points i and i + 1, and its slope. */
static double
piece_head (const NappePumpCurve *curve,
            gsize                 i,
            double                flow,
            double               *slope)
{
  double width = curve->flow[i + 1] - curve->flow[i];
  double chord = (curve->head[i + 1] - curve->head[i]) / width;
  double part = flow - curve->flow[i];
  double first = curve->slope[i], second = curve->slope[i + 1];
  double square = (3.0 * chord - 2.0 * first - second) / width;
  double cube = (first + second - 2.0 * chord) / (width * width);

  *slope = first + part * (2.0 * square + part * 3.0 * cube);
  return curve->head[i] + part * (first + part * (square + part * cube));
}

/* The curve at full speed, over all flows. */
static double
curve_head (const NappePumpCurve *curve,
            double                flow,
            double               *slope)
{
  gsize last = curve->n - 1, i = 0;
  gsize end = flow <= curve->flow[0] ? 0 : last;

  if (flow <= curve->flow[0] || flow >= curve->flow[last])
    {
      *slope = curve->slope[end];
      return curve->head[end] + *slope * (flow - curve->flow[end]);
    }
  while (flow > curve->flow[i + 1])
    i++;
  return piece_head (curve, i, flow, slope);
}

/* Flow on the piece from point i at head between those of its ends: Newton, kept in a bracket. */
static double
piece_flow (const NappePumpCurve *curve,
            gsize                 i,
            double                head,
            double               *slope)
{
  double low = curve->flow[i], high = curve->flow[i + 1];
  double part = (curve->head[i] - head) / (curve->head[i] - curve->head[i + 1]);
  double flow = low + part * (high - low);

  for (int step = 0; step < 100; step++)
    {
      double excess = piece_head (curve, i, flow, slope) - head;
      double next;

      if (excess >= 0.0)
        low = flow;
      if (excess <= 0.0)
        high = flow;
      next = flow - excess / *slope;
      if (!(next >= low && next <= high))
        next = 0.5 * (low + high);
      if (fabs (next - flow) <= 1e-15 * curve->flow[i + 1])
        break;
      flow = next;
    }
  (void) piece_head (curve, i, flow, slope);
  return flow;
}

double
nappe_pump_head (const NappePumpCurve *curve,
                 double                flow,
                 double                speed,
                 double                head_factor,
                 double               *slope)
{
  double head = 0.0, rate = 0.0;

  if (speed > 0.0)
    {
      head = head_factor * speed * speed * curve_head (curve, flow / speed, &rate);
      rate *= head_factor * speed;
    }
  if (slope)
    *slope = rate;
  return head;
}

double
nappe_pump_flow_at_head (const NappePumpCurve *curve,
                         double                head,
                         double                speed,
                         double                head_factor,
                         double               *slope)
{
  gsize last = curve->n - 1, i = 0, end;
  double rate, flow, full_head;

  if (!(speed > 0.0 && head_factor > 0.0))
    {
      if (slope)
        *slope = 0.0;
      return 0.0;
    }
  full_head = head / (head_factor * speed * speed);
  end = full_head >= curve->head[0] ? 0 : last;
  if (full_head >= curve->head[0] || full_head <= curve->head[last])
    {
      rate = curve->slope[end];
      flow = curve->flow[end] + (full_head - curve->head[end]) / rate;
    }
  else
    {
      while (full_head < curve->head[i + 1])
        i++;
      flow = piece_flow (curve, i, full_head, &rate);
    }
  if (slope)
    *slope = 1.0 / (rate * head_factor * speed);
  return flow * speed;
}

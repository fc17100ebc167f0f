/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/stretch.h"

#include "physics/friction.h"
#include "physics/gravity.h"

#include <math.h>

/* Head [m] below which the quadratic loss of a fitting is straightened. */
#define STRAIGHT_HEAD 1e-5
/* Flow or head this small is on the straight part of every law, so its slope at rest serves. */
#define TINY_HEAD 1e-15
/* Relative miss of head from which one more step leaves nothing but rounding of flow, and less than 1e-9 of its slope. */
#define LAST_MISS 1e-10

/* V^2 for V >= 0, but where k V^2/2g is less than STRAIGHT_HEAD an odd cubic with the same value and slope there. */
static double
softened_square (double  speed,
                 double  k,
                 double *slope)
{
  double bound, part;

  if (k * speed * speed >= 2.0 * NAPPE_GRAVITY * STRAIGHT_HEAD)
    {
      *slope = 2.0 * speed;
      return speed * speed;
    }
  bound = sqrt (2.0 * NAPPE_GRAVITY * STRAIGHT_HEAD / k);
  part = speed / bound;
  *slope = 0.5 * bound * (1.0 + 3.0 * part * part);
  return 0.5 * bound * speed * (1.0 + part * part);
}

/* Loss of one stretch at flow >= 0 and its slope. */
static double
stretch_loss (const NappeStretch *stretch,
              double              flow,
              const NappeWater   *water,
              double             *slope)
{
  double bore = stretch->bore;
  double area = G_PI_4 * bore * bore;
  double speed = flow / area;
  double per_speed = 0.0; /* slope by speed of 2 g h */
  double twice_g_head = 0.0;
  double part, rate;

  if (stretch->length > 0.0)
    {
      double viscous = water->kinematic / bore;
      double scale = viscous * viscous * stretch->length / bore;

      part = nappe_friction_group (speed / viscous, stretch->roughness / bore, &rate);
      twice_g_head += scale * part;
      per_speed += scale * rate / viscous;
    }
  if (stretch->k > 0.0)
    {
      part = softened_square (speed, stretch->k, &rate);
      twice_g_head += stretch->k * part;
      per_speed += stretch->k * rate;
    }
  if (stretch->k1 > 0.0)
    {
      rate = stretch->k1 * water->kinematic / bore;
      twice_g_head += rate * speed;
      per_speed += rate;
    }
  *slope = per_speed / (2.0 * NAPPE_GRAVITY * area);
  return twice_g_head / (2.0 * NAPPE_GRAVITY);
}

static gboolean
is_shut (const NappeStretch *stretches,
         gsize               n)
{
  for (gsize i = 0; i < n; i++)
    if (isinf (stretches[i].k) && stretches[i].k > 0.0)
      return TRUE;
  return FALSE;
}

/* Loss of a run that is not shut, flow >= 0. */
static double
open_run_loss (const NappeStretch *stretches,
               gsize               n,
               double              flow,
               const NappeWater   *water,
               double             *slope)
{
  double head = 0.0, rate = 0.0;

  for (gsize i = 0; i < n; i++)
    {
      double own_rate;

      head += stretch_loss (&stretches[i], flow, water, &own_rate);
      rate += own_rate;
    }
  *slope = rate;
  return head;
}

double
nappe_run_head (const NappeStretch *stretches,
                gsize               n,
                double              flow,
                const NappeWater   *water,
                double             *slope)
{
  double rate = 0.0, head;

  if (is_shut (stretches, n))
    {
      head = flow == 0.0 ? 0.0 : INFINITY;
      rate = INFINITY;
    }
  else
    head = open_run_loss (stretches, n, fabs (flow), water, &rate);
  if (slope)
    *slope = rate;
  return copysign (head, flow);
}

double
nappe_stretch_head (const NappeStretch *stretch,
                    double              flow,
                    const NappeWater   *water)
{
  return nappe_run_head (stretch, 1, flow, water, NULL);
}

/* A flow that would lose head if friction were f = 0.03: near enough to start from. */
static double
first_guess (const NappeStretch *stretches,
             gsize               n,
             double              head)
{
  double resistance = 0.0;

  for (gsize i = 0; i < n; i++)
    {
      double bore = stretches[i].bore;
      double area = G_PI_4 * bore * bore;

      resistance += (MAX (stretches[i].k, 0.0) + 0.03 * stretches[i].length / bore + 1e-3)
                    / (2.0 * NAPPE_GRAVITY * area * area);
    }
  return sqrt (head / resistance);
}

/* Newton on ln flow against ln head, whose slope lies between 1 (laminar) and 3 (the joint between laminar and
 * turbulent), kept inside the bracket found so far. */
static double
solve_flow (const NappeStretch *stretches,
            gsize               n,
            double              head,
            const NappeWater   *water,
            double              start,
            double             *rate)
{
  double low = 0.0, high = INFINITY;
  double flow = start;

  for (int step = 0; step < 100; step++)
    {
      double loss = open_run_loss (stretches, n, flow, water, rate);
      double miss = log (head / loss);
      double power = flow * *rate / loss; /* d ln head / d ln flow */
      double move = CLAMP (miss / power, -20.0, 20.0), next;

      if (fabs (miss) < LAST_MISS)
        {
          *rate *= 1.0 + (power - 1.0) * move;
          return flow * (1.0 + move);
        }
      if (miss >= 0.0)
        low = flow;
      if (miss <= 0.0)
        high = flow;
      next = flow * exp (move);
      if (!(next > low && next < high))
        next = isinf (high) ? 2.0 * low : (low > 0.0 ? sqrt (low * high) : 0.5 * high);
      if (next == flow)
        break;
      flow = next;
    }
  return flow;
}

/* Whether anything in an open run holds the water back. */
static gboolean
has_loss (const NappeStretch *stretches,
          gsize               n)
{
  for (gsize i = 0; i < n; i++)
    if (stretches[i].length > 0.0 || stretches[i].k > 0.0 || stretches[i].k1 > 0.0)
      return TRUE;
  return FALSE;
}

double
nappe_run_flow (const NappeStretch *stretches,
                gsize               n,
                double              head,
                const NappeWater   *water,
                double              guess,
                double             *slope)
{
  double size = fabs (head);
  double rate = INFINITY, flow = 0.0;

  if (!is_shut (stretches, n))
    {
      if (!has_loss (stretches, n))
        g_critical ("a run of pipe without any loss has no flow of its own");
      else if (size <= TINY_HEAD)
        {
          (void) open_run_loss (stretches, n, 0.0, water, &rate);
          flow = size / rate;
        }
      else
        {
          guess = fabs (guess);
          flow = solve_flow (stretches, n, size, water,
                             guess > 0.0 && isfinite (guess) ? guess : first_guess (stretches, n, size), &rate);
        }
    }
  if (slope)
    *slope = 1.0 / rate;
  return copysign (flow, head);
}

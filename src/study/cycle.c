/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The period and swing of a siphon that finds no rest.
 *
 * Unprimed, its box rises to the level where it primes; primed, it empties the box down to the brink, where it
 * draws air and breaks. Each way takes the integral of A dz / |Qin - Qout (z)|, A the box's plan, with the other drains
 * unprimed and the flow into the box as it is on the mean; the display's part of the swing is left out. The
 * integrals are cut at every inlet's crest, where the drains' law bends, and into panels with Gauss and
 * Legendre's five points. */
#include "study/drain-parts.h"

#include <math.h>

/* Panels between two bends: the integrand steepens where filling slows down towards the level that it primes at. */
#define PANELS 4
/* Urge to prime from which on a drain of a system without a rest counts as the cause: 1 but for rounding. */
#define URGE 0.99999
/* Gauss and Legendre's points and weights on -1..1 (Abramowitz and Stegun 25.4.30, n = 5). */
static const double points[5] = { -0.906179845938664, -0.538469310105683, 0, 0.538469310105683, 0.906179845938664 };
static const double weights[5]
    = { 0.236926885056189, 0.478628670499366, 0.568888888888889, 0.478628670499366, 0.236926885056189 };

typedef struct
{
  guint siphon;    /* link */
  double inflow;   /* into the box [m3/s] */
  double time;     /* that it took so far [s]; INFINITY: the level does not move that way */
  double carried;  /* by the siphon meanwhile [m3] */
} Passage;

/* From one level to another without a bend between; rising or falling. */
static void
pass_smoothly (NappeBench *self, Passage *passage, double from, double to)
{
  double half = 0.5 * (to - from) / PANELS;

  for (guint panel = 0; panel < PANELS; panel++)
    for (guint i = 0; i < G_N_ELEMENTS (points); i++)
      {
        double level = from + half * (2 * panel + 1 + points[i]);
        double gain = passage->inflow - nappe_bench_carried (self, level);
        const NappeNode *box = &self->network->nodes[self->box];
        double time = weights[i] * half * (level < box->step ? box->area_low : box->area) / gain;

        passage->time += time > 0 ? time : INFINITY;
        passage->carried += time > 0 ? time * self->flow[passage->siphon] : 0;
      }
}

/* The next crest of an inlet of the box on the way from one level to another, or the other level. */
static double
next_bend (const NappeBench *self, double from, double to)
{
  double next = to;

  for (guint i = 0; i < self->network->n_links; i++)
    {
      const NappeLink *link = &self->network->links[i];

      if (link->kind != NAPPE_LINK_DRAIN || link->from != self->box)
        continue;
      if (to > from && link->inlet.crest > from)
        next = fmin (next, link->inlet.crest);
      else if (to < from && link->inlet.crest < from)
        next = fmax (next, link->inlet.crest);
    }
  return next;
}

static void
pass (NappeBench *self, Passage *passage, double from, double to)
{
  while (from != to)
    {
      double next = next_bend (self, from, to);

      pass_smoothly (self, passage, from, next);
      from = next;
    }
}

void
nappe_drain_cycle (NappeBench *bench, NappeDrainReport *report)
{
  const NappeLink *siphon = &bench->network->links[report->link];
  NappeSiphonCycle *cycle = &report->cycle;
  Passage up = { .siphon = report->link, .inflow = nappe_box_inflow (bench->network, bench->running, bench->box) };
  Passage down = up;

  *cycle = (NappeSiphonCycle){ FALSE, NAN, NAN, NAN, NAN, NAN };
  if (bench->running->rest != NAPPE_REST_CYCLES || bench->running->primed[report->link] || siphon->inlet.vented)
    return;
  /* The level found is that of a box whose drains are all unprimed: which of them do not stay so? */
  double level = bench->running->level[bench->box];
  nappe_bench_prime_only (bench, G_MAXUINT);
  nappe_bench_carried (bench, level);
  if (nappe_bench_urge (bench, report->link) < URGE)
    return;
  cycle->cycles = TRUE;
  cycle->breaks_at = siphon->inlet.brink;
  /* Below its brink it breaks as soon as it primes. */
  cycle->primes_at = fmax (fmin (report->prime_level, level), cycle->breaks_at);
  cycle->swing = cycle->primes_at - cycle->breaks_at;
  pass (bench, &up, cycle->breaks_at, cycle->primes_at);
  nappe_bench_prime_only (bench, report->link);
  pass (bench, &down, cycle->primes_at, cycle->breaks_at);
  cycle->period = up.time + down.time;
  nappe_bench_carried (bench, cycle->primes_at);
  cycle->flow_full = down.time > 0 && isfinite (down.time) ? down.carried / down.time : bench->flow[report->link];
}

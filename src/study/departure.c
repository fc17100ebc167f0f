/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/departure.h"

#include <math.h>

/* Standard deviations: shares of the value, but the kept level [m]. */
#define PUMP_DEVIATION 0.05
#define LOSS_DEVIATION 0.10
#define LOW_HEAD_DEVIATION 0.10
#define HIGH_HEAD_DEVIATION 0.025
#define LEVEL_DEVIATION 0.0025
/* Head over an edge up to which its law is an extrapolation: all its tests were above (Kindsvater and Carter) [m]. */
#define LOW_HEAD 0.030
/* Growth narrows a bore by nothing up to this [m]. */
#define MOST_GROWTH 0.0005
/* Share of a bore that growth never goes below. */
#define LEAST_BORE 0.5
/* A departure beyond this many deviations would have been sent back, or seen. */
#define MOST_DEVIATIONS 3.0

/* What a draw is for; with the index of what departs and the sample it names the draw. */
typedef enum
{
  DRAW_PUMP_FLOW,
  DRAW_PUMP_HEAD,
  DRAW_LOSS,
  DRAW_GROWTH,
  DRAW_EDGE,
  DRAW_LEVEL,
} Draw;

/* Scrambles a number so that neighbours have nothing in common (finisher of SplitMix64: Steele, Lea and Flood, OOPSLA 2014). */
static guint64
scramble (guint64 value)
{
  value = (value ^ (value >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  value = (value ^ (value >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return value ^ (value >> 31);
}

/* Evenly in 0..1, both excluded. The same for the same arguments: no order of asking matters. */
static double
even (guint sample, Draw draw, guint index, guint turn)
{
  guint64 name = scramble (scramble (((guint64) sample << 32) | index) + ((guint64) draw << 8) + turn + 1);

  return ((double) (name >> 11) + 0.5) / (double) (G_GUINT64_CONSTANT (1) << 53);
}

/* About 1, normally distributed with a deviation (Box and Muller 1958). */
static double
factor (guint sample, Draw draw, guint index, double deviation)
{
  double radius = sqrt (-2 * log (even (sample, draw, index, 0)));
  double normal = radius * cos (2 * G_PI * even (sample, draw, index, 1));

  return 1 + deviation * CLAMP (normal, -MOST_DEVIATIONS, MOST_DEVIATIONS);
}

/* Flow and head of a maker's curve are each read off wrongly. */
static void
depart_curve (NappePumpCurve *curve, double flow, double head)
{
  for (gsize i = 0; i < curve->n; i++)
    {
      curve->flow[i] *= flow;
      curve->head[i] *= head;
      curve->slope[i] *= head / flow;
    }
}

/* The first link of the line that a link belongs to: one hand glued all of it. */
static guint
first_of_line (const NappeNetwork *self, guint index)
{
  for (guint i = 0; i < index && *self->links[index].line != '\0'; i++)
    if (g_str_equal (self->links[i].line, self->links[index].line))
      return i;
  return index;
}

static void
depart_pipes (NappeNetwork *self, guint index, guint sample)
{
  NappeLink *link = &self->links[index];
  guint line = first_of_line (self, index);
  double loss = factor (sample, DRAW_LOSS, line, LOSS_DEVIATION);
  double growth = MOST_GROWTH * even (sample, DRAW_GROWTH, line, 0);
  double narrowed = 1; /* bore of the first stretch over that as planned */

  for (guint i = 0; i < link->n_stretches; i++)
    {
      NappeStretch *stretch = &self->stretches[link->first_stretch + i];
      double share = fmax (1 - growth / stretch->bore, LEAST_BORE);

      stretch->k *= loss;
      stretch->k1 *= loss;
      stretch->bore *= share;
      if (i == 0)
        narrowed = share;
    }
  link->valve.k *= loss;
  for (guint i = 0; i < link->n_contents; i++)
    self->contents[link->first_content + i].volume *= narrowed * narrowed;
  if (link->kind != NAPPE_LINK_DRAIN)
    return;
  link->inlet.entrance_k *= loss;
  link->inlet.bore *= narrowed;
}

static void
depart_edge (NappeLink *link, double head, guint index, guint sample)
{
  double deviation = head < LOW_HEAD ? LOW_HEAD_DEVIATION : HIGH_HEAD_DEVIATION;

  link->spread = factor (sample, DRAW_EDGE, index, deviation) - 1;
}

void
nappe_network_depart (NappeNetwork *self, const NappeState *running, guint sample)
{
  double level = LEVEL_DEVIATION * (factor (sample, DRAW_LEVEL, 0, 1) - 1);

  for (guint i = 0; i < self->n_links; i++)
    {
      NappeLink *link = &self->links[i];
      double higher = fmax (running->level[link->from], running->level[link->to]);

      if (link->kind == NAPPE_LINK_PUMP)
        depart_curve (&link->curve, factor (sample, DRAW_PUMP_FLOW, i, PUMP_DEVIATION),
                      factor (sample, DRAW_PUMP_HEAD, i, PUMP_DEVIATION));
      else if (link->kind == NAPPE_LINK_DRAIN || link->kind == NAPPE_LINK_PIPE || link->kind == NAPPE_LINK_JOINT)
        depart_pipes (self, i, sample);
      if (link->kind == NAPPE_LINK_WEIR || link->kind == NAPPE_LINK_RIM)
        depart_edge (link, higher - link->sill, i, sample);
      else if (link->kind == NAPPE_LINK_DRAIN)
        depart_edge (link, running->level[link->from] - link->inlet.crest, i, sample);
    }
  self->kept_level += level;
  /* Where all water is given instead, it was measured by the same eye. */
  self->total_volume += level * self->nodes[self->return_chamber].area;
}

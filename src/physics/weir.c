/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/weir.h"

#include "physics/gravity.h"

#include <math.h>

/* Kindsvater and Carter's extra head [m], and the head over which it is faded in. */
#define EXTRA_HEAD 0.001
#define FADE_HEAD 0.003
/* Width [m] below which the extra width is cut down: the narrowest weir of the tests. */
#define NARROW_WIDTH 0.15
/* Largest head over crest height of the tests. */
#define MAX_APPROACH 2.0
/* Where 1 - (h2/h1)^1.5 is less than this, Villemonte's unbounded slope is replaced. */
#define LEVEL_BAND 0.001
#define VILLEMONTE_POWER 0.385
/* Water over the crest thinner than this [m] stands still; keeps quotients finite. */
#define FILM 1e-12

/* Coefficients Ce = base + approach * h/p and extra width by crest length over channel width, as rounded in common
 * texts (USBR Water Measurement Manual, chapter 7; row 0 from memory). */
static const struct
{
  double width_share, base, approach, extra_width;
} contraction_table[] = {
  { 0.0, 0.587, -0.0023, 0.0024 }, { 0.2, 0.589, -0.0018, 0.0024 }, { 0.4, 0.591, 0.0058, 0.0027 },
  { 0.5, 0.592, 0.011, 0.0030 },   { 0.6, 0.593, 0.018, 0.0036 },   { 0.7, 0.595, 0.030, 0.0041 },
  { 0.8, 0.596, 0.045, 0.0042 },   { 0.9, 0.598, 0.064, 0.0035 },   { 1.0, 0.602, 0.075, -0.0009 },
};

/* What the free law needs, worked out once per call. */
typedef struct {
  double scale;         /* 2/3 sqrt (2g) times effective width [m^1.5/s] */
  double base;          /* Ce at no approach */
  double approach;      /* rise of Ce with head over height */
  double crest_height;  /* [m], 0 for none */
  double thickness;     /* [m] */
} Crest;

static Crest
crest_of (double width,
          double width_share,
          double count,
          double height,
          double thickness)
{
  gsize i = 1;
  double part, extra, above, below;
  Crest crest = { .crest_height = MAX (height, 0.0), .thickness = MAX (thickness, 0.0) };

  width_share = CLAMP (width_share, 0.0, 1.0);
  while (contraction_table[i].width_share < width_share)
    i++;
  below = contraction_table[i - 1].width_share;
  above = contraction_table[i].width_share;
  part = (width_share - below) / (above - below);
#define BETWEEN(member) \
  (contraction_table[i - 1].member + part * (contraction_table[i].member - contraction_table[i - 1].member))
  crest.base = BETWEEN (base);
  crest.approach = BETWEEN (approach);
  extra = BETWEEN (extra_width) * MIN (1.0, width / NARROW_WIDTH);
#undef BETWEEN
  crest.scale = 2.0 / 3.0 * sqrt (2.0 * NAPPE_GRAVITY) * count * (width + extra);
  return crest;
}

/* Head plus the extra millimetre, faded in. */
static double
effective_head (double  head,
                double *slope)
{
  double part = head / FADE_HEAD;

  if (part >= 1.0)
    {
      *slope = 1.0;
      return head + EXTRA_HEAD;
    }
  *slope = 1.0 + EXTRA_HEAD / FADE_HEAD * 6.0 * part * (1.0 - part);
  return head + EXTRA_HEAD * part * part * (3.0 - 2.0 * part);
}

/* Head over crest height, bent to at most MAX_APPROACH. */
static double
approach_ratio (double  head,
                double  crest_height,
                double *slope)
{
  double ratio, bend, root;

  *slope = 0.0;
  if (crest_height <= 0.0)
    return 0.0;
  ratio = head / crest_height;
  bend = ratio / MAX_APPROACH;
  bend = 1.0 + bend * bend * bend * bend;
  root = 1.0 / sqrt (sqrt (bend));
  *slope = root / (bend * crest_height);
  return ratio * root;
}

/* Share of a sharp crest's flow that a thick one passes. */
static double
thick_crest_share (double  head,
                   double  thickness,
                   double *slope)
{
  double ratio, fourth, lost;

  *slope = 0.0;
  if (thickness <= 0.0)
    return 1.0;
  ratio = head / thickness;
  fourth = ratio * ratio * ratio * ratio;
  lost = 2.0 / 9.0 / (1.0 + fourth);
  *slope = isfinite (fourth) ? 4.0 * lost * fourth / (1.0 + fourth) / head : 0.0;
  return 1.0 - lost;
}

/* Free flow at head > 0, with its slope. */
static double
free_flow (const Crest *crest,
           double       head,
           double      *slope)
{
  double head_slope, ratio_slope, share_slope;
  double effective = effective_head (head, &head_slope);
  double coefficient = crest->base + crest->approach * approach_ratio (head, crest->crest_height, &ratio_slope);
  double share = thick_crest_share (head, crest->thickness, &share_slope);
  double root = sqrt (effective);
  double power = effective * root;

  *slope = crest->scale
           * (crest->approach * ratio_slope * power * share + coefficient * 1.5 * root * head_slope * share
              + coefficient * power * share_slope);
  return crest->scale * coefficient * power * share;
}

/* u^0.385 for u >= 0, continued through 0 by an odd cubic below LEVEL_BAND. */
static double
drowning (double  u,
          double *slope)
{
  if (u < LEVEL_BAND)
    {
      double chord = pow (LEVEL_BAND, VILLEMONTE_POWER - 1.0);
      double part = u / LEVEL_BAND;
      double bend = 0.5 * (1.0 - VILLEMONTE_POWER);

      *slope = chord * (1.0 + bend - 3.0 * bend * part * part);
      return chord * u * (1.0 + bend - bend * part * part);
    }
  {
    double value = pow (u, VILLEMONTE_POWER);

    *slope = VILLEMONTE_POWER * value / u;
    return value;
  }
}

/* Flow over the crest from high to low, head_high >= head_low. Slopes by both. */
static double
drowned_flow (const Crest *crest,
              double       head_high,
              double       head_low,
              double      *slope_high,
              double      *slope_low)
{
  double flow, rate, share, share_slope, ratio, power;

  *slope_high = *slope_low = 0.0;
  if (head_high <= FILM)
    return 0.0;
  flow = free_flow (crest, head_high, &rate);
  if (head_low <= 0.0)
    {
      *slope_high = rate;
      return flow;
    }
  ratio = head_low / head_high;
  power = ratio * sqrt (ratio);
  share = drowning (1.0 - power, &share_slope);
  *slope_high = rate * share + flow * share_slope * 1.5 * power / head_high;
  *slope_low = -flow * share_slope * 1.5 * sqrt (ratio) / head_high;
  return flow * share;
}

/* Adds sign times the flow over crest from up to down, and its slopes, to the totals. */
static void
add_crest (const Crest *crest,
           double       sign,
           double       head_up,
           double       head_down,
           double       totals[3])
{
  double high, low;

  if (head_up >= head_down)
    {
      totals[0] += sign * drowned_flow (crest, head_up, head_down, &high, &low);
      totals[1] += sign * high;
      totals[2] += sign * low;
    }
  else
    {
      totals[0] -= sign * drowned_flow (crest, head_down, head_up, &high, &low);
      totals[1] -= sign * low;
      totals[2] -= sign * high;
    }
}

/* Adds the flow through the open slots and over the wall's top. */
static void
add_toothed_wall (const NappeWeir *weir,
                  double           open_share,
                  double           head_up,
                  double           head_down,
                  double           totals[3])
{
  double pitch = weir->length / weir->slot_count;
  double width = MIN (weir->slot_width, pitch);
  double depth = MAX (weir->slot_depth, 0.0);
  Crest slots = crest_of (width, width / pitch, weir->slot_count * open_share, weir->height, weir->thickness), top;

  add_crest (&slots, 1.0, head_up, head_down, totals);
  if (MAX (head_up, head_down) - depth <= FILM)
    return;
  top = crest_of (weir->length, 1.0, 1.0, weir->height > 0.0 ? weir->height + depth : 0.0, weir->thickness);
  add_crest (&slots, -1.0, head_up - depth, head_down - depth, totals);
  add_crest (&top, 1.0, head_up - depth, head_down - depth, totals);
}

double
nappe_weir_flow (const NappeWeir *weir,
                 double           head_up,
                 double           head_down,
                 double          *slope_up,
                 double          *slope_down)
{
  double totals[3] = { 0.0, 0.0, 0.0 };
  double open_share = CLAMP (weir->open_share, 0.0, 1.0);

  if (weir->length <= 0.0 || MAX (head_up, head_down) <= FILM)
    ;
  else if (weir->slot_count > 0)
    add_toothed_wall (weir, open_share, head_up, head_down, totals);
  else
    {
      Crest crest = crest_of (weir->length * open_share, 1.0, 1.0, weir->height, weir->thickness);

      add_crest (&crest, 1.0, head_up, head_down, totals);
    }
  if (slope_up)
    *slope_up = totals[1];
  if (slope_down)
    *slope_down = totals[2];
  return totals[0];
}

double
nappe_weir_head_for_flow (const NappeWeir *weir,
                          double           flow)
{
  double low = 0.0, high = 0.01, head;

  if (!(flow > 0.0))
    return 0.0;
  while (nappe_weir_flow (weir, high, -1.0, NULL, NULL) < flow)
    {
      low = high;
      high *= 2.0;
      if (high > 1e6)
        return INFINITY;
    }
  head = 0.5 * (low + high);
  for (int step = 0; step < 200 && high - low > 1e-15 * high; step++)
    {
      double slope, next;
      double miss = nappe_weir_flow (weir, head, -1.0, &slope, NULL) - flow;

      if (miss > 0.0)
        high = head;
      else
        low = head;
      next = head - miss / slope;
      if (fabs (next - head) <= 1e-15 * head)
        break;
      head = next > low && next < high ? next : 0.5 * (low + high);
    }
  return head;
}

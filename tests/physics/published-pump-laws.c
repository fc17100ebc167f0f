/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "published-laws.h"

#include "physics/pump-curve.h"

#include <math.h>

/* A pump of head top - steep Q^2, given by points up to flow most. */
static NappePumpCurve
parabolic_pump (double top,
                double steep,
                double most)
{
  NappePumpCurve curve;
  double flows[NAPPE_PUMP_CURVE_MAX], heads[NAPPE_PUMP_CURVE_MAX];

  for (gsize i = 0; i < NAPPE_PUMP_CURVE_MAX; i++)
    {
      flows[i] = most * (double) i / (NAPPE_PUMP_CURVE_MAX - 1);
      heads[i] = top - steep * flows[i] * flows[i];
    }
  g_assert_true (nappe_pump_curve_init (&curve, flows, heads, NAPPE_PUMP_CURVE_MAX));
  return curve;
}

static double
speeded_share (const PublishedRow *row,
               double              flow_share,
               double              head_share)
{
  NappePumpCurve curve = parabolic_pump (3.0, 1e6, 1.5e-3);
  double at_full = nappe_pump_head (&curve, 1e-3, 1.0, 1.0, NULL);

  /* The point that the affinity laws make of flow 1e-3: exact on either axis if it is on the curve. */
  g_assert_cmpfloat (fabs (nappe_pump_head (&curve, 1e-3 * flow_share, IN ("speed"), 1.0, NULL) - at_full * head_share), <, 1e-9);
  return nappe_pump_flow_at_head (&curve, at_full * head_share, IN ("speed"), 1.0, NULL) / 1e-3;
}

static double
affinity_flow (const PublishedRow *row)
{
  return speeded_share (row, IN ("speed"), IN ("speed") * IN ("speed"));
}

static double
affinity_head (const PublishedRow *row)
{
  NappePumpCurve curve = parabolic_pump (3.0, 1e6, 1.5e-3);

  return nappe_pump_head (&curve, 1e-3 * IN ("speed"), IN ("speed"), 1.0, NULL) / nappe_pump_head (&curve, 1e-3, 1.0, 1.0, NULL);
}

static double
small_pump_excess (double              flow,
                   const PublishedRow *row)
{
  NappePumpCurve curve = parabolic_pump (IN ("H0"), IN ("a"), 12.0);

  return nappe_pump_head (&curve, flow, 1.0, 1.0, NULL) - IN ("dz") - IN ("b") * flow * flow;
}

static double
small_pump_flow (const PublishedRow *row)
{
  return published_falling_root (small_pump_excess, row, 0.0, 12.0);
}

static double
small_pump_head (const PublishedRow *row)
{
  double flow = small_pump_flow (row);

  return IN ("dz") + IN ("b") * flow * flow;
}

/* Head of the six-point pump less what the system wants, for a number of pumps in series and in parallel. */
static double
six_point_excess (double              flow,
                  const PublishedRow *row)
{
  const double flows[] = { 0, 110, 180, 250, 300, 340 }, heads[] = { 100, 90, 80, 60, 40, 20 };
  double series = g_str_has_suffix (row->id, "S") ? 2.0 : 1.0, parallel = g_str_has_suffix (row->id, "P") ? 2.0 : 1.0;
  NappePumpCurve curve;

  g_assert_true (nappe_pump_curve_init (&curve, flows, heads, G_N_ELEMENTS (flows)));
  return series * nappe_pump_head (&curve, flow / parallel, 1.0, 1.0, NULL) - IN ("static") - IN ("c") * flow * flow;
}

static double
six_point_flow (const PublishedRow *row)
{
  return published_falling_root (six_point_excess, row, 0.0, 340.0);
}

const PublishedLaw published_pump_laws[] = {
  { "PUMP-AFF-Q", affinity_flow },
  { "PUMP-AFF-H", affinity_head },
  { "PUMP-OP-2Q", small_pump_flow },
  { "PUMP-OP-2H", small_pump_head },
  { "PUMP-OP-3", six_point_flow },
  { NULL, NULL },
};

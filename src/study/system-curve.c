/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/system-curve.h"

#include "physics/pump-curve.h"
#include "study/balance.h"

#include <math.h>
#include <string.h>

#define N_POINTS 40u
/* Halvings of a head: from tens of metres to a thousandth of a millimetre. */
#define HALVINGS 24u
/* Where backward flow is looked for at most, under the level that the pump draws from [m]. */
#define DEEPEST 20.0

typedef struct
{
  const NappeStudy *study;
  const NappeLink *pump;
  NappeBalance *balance;
  gboolean *held;      /* by node */
  double *level;       /* by node */
  double *flow;        /* by link */
  NappeLinkMode *mode; /* by link */
} Bench;

static void
bench_init (Bench *self, const NappeStudy *study, guint pump)
{
  const NappeNetwork *network = study->network;

  *self = (Bench){ .study = study, .pump = &network->links[study->pumps[pump].link] };
  self->balance = nappe_balance_new (network->n_nodes, network->n_links);
  self->held = g_new (gboolean, network->n_nodes);
  self->level = g_memdup2 (study->running.level, network->n_nodes * sizeof *self->level);
  self->flow = g_memdup2 (study->running.flow, network->n_links * sizeof *self->flow);
  self->mode = g_new0 (NappeLinkMode, network->n_links);
  for (guint i = 0; i < network->n_nodes; i++)
    self->held[i] = network->nodes[i].kind != NAPPE_NODE_JUNCTION || i == self->pump->to;
  for (guint i = 0; i < network->n_links; i++)
    self->mode[i] = (NappeLinkMode){ study->running.primed[i], study->running.flow[i] };
}

static void
bench_clear (Bench *self)
{
  nappe_balance_free (self->balance);
  g_free (self->held);
  g_free (self->level);
  g_free (self->flow);
  g_free (self->mode);
}

/* Flow that leaves the junction behind the pump with this head there over the pump's own level; NaN: not found. */
static double
flow_at (Bench *self, double head)
{
  const NappeNetwork *network = self->study->network;
  const NappeBalanceCase situation = { self->held, G_MAXUINT, 0, 0, TRUE };
  double sum = 0;

  self->level[self->pump->to] = self->study->running.level[self->pump->from] + head;
  if (!nappe_balance_solve (self->balance, network, &situation, self->mode, self->level, self->flow).settled)
    return NAN;
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].from == self->pump->to)
      sum += self->flow[i];
    else if (network->links[i].to == self->pump->to && &network->links[i] != self->pump)
      sum -= self->flow[i];
  return sum;
}

/* The head in low..high above which more than a flow leaves. */
static double
head_for (Bench *self, double flow, double low, double high)
{
  for (guint i = 0; i < HALVINGS; i++)
    {
      double middle = 0.5 * (low + high);

      if (flow_at (self, middle) > flow)
        high = middle;
      else
        low = middle;
    }
  return high;
}

static void
sample (Bench *self, GArray *points, double most_flow, double most_head)
{
  double begin, end = most_head;

  if (!(flow_at (self, most_head) > 0))
    return;
  begin = head_for (self, NAPPE_BALANCE_TOLERANCE, -DEEPEST, most_head);
  if (flow_at (self, most_head) > most_flow)
    end = head_for (self, most_flow, begin, most_head);
  for (guint i = 0; i < N_POINTS; i++)
    {
      /* Losses grow about with the square of the flow: so the flows come evenly. */
      double share = (double) i / (N_POINTS - 1);
      NappeSystemPoint point = { 0, begin + (end - begin) * share * share };

      point.flow = flow_at (self, point.head);
      if (isfinite (point.flow))
        g_array_append_val (points, point);
    }
}

NappeSystemCurve *
nappe_system_curve_new (const NappeStudy *study, guint pump, double most_flow, double most_head)
{
  NappeSystemCurve *self = g_new0 (NappeSystemCurve, 1);
  GArray *points = g_array_new (FALSE, FALSE, sizeof (NappeSystemPoint));

  if (study->running.rest == NAPPE_REST_FOUND && pump < study->n_pumps
      && study->network->nodes[study->network->links[study->pumps[pump].link].to].kind == NAPPE_NODE_JUNCTION)
    {
      Bench bench;

      bench_init (&bench, study, pump);
      sample (&bench, points, most_flow, most_head);
      bench_clear (&bench);
    }
  self->n = points->len;
  self->points = (NappeSystemPoint *) (void *) g_array_free (points, FALSE);
  return self;
}

void
nappe_system_curve_free (NappeSystemCurve *self)
{
  if (self == NULL)
    return;
  g_free (self->points);
  g_free (self);
}

double
nappe_system_curve_meet (const NappeSystemCurve *self, const NappeItem *pump, int count, double speed, double head_left)
{
  NappePumpCurve curve;
  double over_before = NAN;

  if (!nappe_pump_curve_init (&curve, pump->curve_flow, pump->curve_head, pump->n_curve))
    return NAN;
  for (guint i = 0; i < self->n; i++)
    {
      /* What the pumps give over what the system asks: falls from point to point. */
      double over = nappe_pump_head (&curve, self->points[i].flow / count, speed, head_left, NULL) - self->points[i].head;
      if (over <= 0 && i > 0 && over_before > 0)
        {
          double share = over_before / (over_before - over);
          return self->points[i - 1].flow + share * (self->points[i].flow - self->points[i - 1].flow);
        }
      over_before = over;
    }
  return NAN;
}

double
nappe_study_pump_head (const NappeStudy *study, guint pump, double flow)
{
  const NappeLink *link = &study->network->links[study->pumps[pump].link];
  double slope;

  return nappe_pump_drive (link, study->running.level[link->from], flow, 0, &slope);
}

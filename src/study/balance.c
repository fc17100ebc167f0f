/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/balance.h"

#include "study/newton.h"

#include <math.h>
#include <string.h>
#include <sunmatrix/sunmatrix_dense.h>

/* Bounds of the pseudo-time step [s]; the longest is tried first. With it a vessel that nothing ties down still stays put. */
#define LONGEST_STEP 1e9
#define SHORTEST_STEP 1e-7
#define STEP_GROWTH 100.0
#define STEP_CUT 1e-3
#define MOST_STEPS 150
/* Imbalance that may be left of a step [m3/s], and what levels known to 16 digits leave of it in any case: vessel's area times
   their rounding [m3], over the step. */
#define STEP_TOLERANCE 1e-13
#define STEP_ROUNDING 1e-14
/* Evaluations after which a step counts as failed: KINSOL's line search has no bound of its own where a law's corner
   makes its direction lead uphill. */
#define MOST_EVALUATIONS 200
/* A junction holds no water; this gives it inertia in pseudo-time, enough to keep the Jacobian regular when nothing flows
   through it, and little enough for no vessel to notice that it fills or empties: ten millilitres for a metre of head [m2]. */
#define JUNCTION_AREA 1e-5

/* Share of a flow up to which its slope is trusted to foretell a change. */
#define LONGEST_LEAP 0.3

struct _NappeBalance
{
  guint n_nodes, n_links, n_unknown;
  SUNContext context;
  NappeNewton **newton;   /* by count of unknowns, made when first wanted; n_nodes + 1 of them */
  NappeBalanceScratch scratch;
  guint *active;          /* links that touch an unknown */
  guint n_active;
  guint *node_of;         /* by unknown */
  gint *unknown_of;       /* by node, or -1 */
  double *trial;          /* by node: levels that the laws see */
  double *anchor;         /* by unknown: level at the start of the pseudo-time step [m] */
  double *net;            /* by node: sum of flows into it [m3/s] */
  NappeLinkFlow *link_flow;
  double *seen;           /* by node: levels of the last evaluation */
  gboolean seen_any;
  guint evaluations;      /* in the current step */
  gboolean evaluated;     /* net and link_flow belong to trial */
  double step;            /* [s] */
  double pipes, found;    /* with total_node: what the pipes are taken to hold in this step, and what they hold [m3] */
  double taken_then, found_then; /* what they were taken to hold in the last step, and held at its end; NaN: none [m3] */
  const NappeNetwork *network;
  const NappeBalanceCase *situation;
  NappeLinkMode *mode;
};

/* Where the slopes of the last evaluation lead, the inversion of a pipe's law begins nearer to its answer. */
static void
bring_forward (NappeBalance *self, guint index)
{
  const NappeLink *link = &self->network->links[index];
  const NappeLinkFlow *last = &self->link_flow[index];
  double change = last->slope_from * (self->trial[link->from] - self->seen[link->from])
                  + last->slope_to * (self->trial[link->to] - self->seen[link->to]);

  if (fabs (change) < LONGEST_LEAP * fabs (last->flow) && self->mode[index].guess == last->flow)
    self->mode[index].guess += change;
}

static void
evaluate_links (NappeBalance *self)
{
  const NappeNetwork *network = self->network;

  memset (self->net, 0, network->n_nodes * sizeof *self->net);
  for (guint a = 0; a < self->n_active; a++)
    {
      guint i = self->active[a];
      const NappeLink *link = &network->links[i];
      NappeLinkFlow *result = &self->link_flow[i];

      if (self->seen_any)
        bring_forward (self, i);
      nappe_link_law (network, link, &self->mode[i], self->trial[link->from], self->trial[link->to], result);
      self->net[link->from] -= result->flow;
      self->net[link->to] += result->flow;
    }
  memcpy (self->seen, self->trial, network->n_nodes * sizeof *self->seen);
  self->evaluated = self->seen_any = TRUE;
}

static double
node_area (const NappeNode *node, double level)
{
  if (node->kind == NAPPE_NODE_JUNCTION)
    return JUNCTION_AREA;
  return level < node->step ? node->area_low : node->area;
}

/* Water in all vessels less what the pipes leave of the total [m3]. */
static double
excess_volume (const NappeBalance *self, double pipes)
{
  return nappe_network_volume (self->network, self->trial) + pipes - self->situation->total_volume;
}

/* The same with the total's vessel going on below its floor, empty as it is: so the iteration finds its way back from there. */
static double
excess_for_iteration (const NappeBalance *self)
{
  const NappeNode *node = &self->network->nodes[self->situation->total_node];
  double below = fmin (0, self->trial[self->situation->total_node] - node->floor);

  return excess_volume (self, self->pipes) + node_area (node, node->floor) * below;
}

/* What the pipes hold at the flows of the last evaluation [m3]. */
static double
pipe_volume (const NappeBalance *self)
{
  const NappeNetwork *network = self->network;
  double sum = 0;

  if (!isnan (self->situation->pipes))
    return self->situation->pipes;
  for (guint a = 0; a < self->n_active; a++)
    {
      guint i = self->active[a];
      const NappeLink *link = &network->links[i];
      gint drain = link->kind == NAPPE_LINK_DRAIN ? (gint) i : link->drain;

      if (link->n_contents > 0)
        sum += nappe_link_held (network, link, self->link_flow[i].flow, self->trial[link->to],
                                drain >= 0 && self->mode[drain].primed);
    }
  return sum;
}

/* Brings the links to these levels, unless they are there already. */
static void
take_levels (NappeBalance *self, N_Vector levels)
{
  const double *value = N_VGetArrayPointer (levels);
  gboolean moved = FALSE;

  for (guint i = 0; i < self->n_unknown; i++)
    {
      double *level = &self->trial[self->node_of[i]];

      moved |= *level != value[i];
      *level = value[i];
    }
  if (moved || !self->evaluated)
    evaluate_links (self);
}

static int
balance_function (N_Vector levels, N_Vector result, void *data)
{
  NappeBalance *self = data;
  double *out = N_VGetArrayPointer (result);

  if (++self->evaluations > MOST_EVALUATIONS)
    return -1; /* ends the step */
  take_levels (self, levels);
  for (guint i = 0; i < self->n_unknown; i++)
    {
      guint node = self->node_of[i];
      double area = node_area (&self->network->nodes[node], self->trial[node]);

      out[i] = node == self->situation->total_node
                   ? excess_for_iteration (self)
                   : area * (self->trial[node] - self->anchor[i]) / self->step - self->net[node];
      if (!isfinite (out[i]))
        return 1;
    }
  return 0;
}

/* The links' slopes are those of the last evaluation, which KINSOL makes at the same levels; it hands over a matrix of zeros. */
static int
balance_jacobian (N_Vector levels, N_Vector value, SUNMatrix matrix, void *data, N_Vector spare_a, N_Vector spare_b)
{
  NappeBalance *self = data;
  const NappeNetwork *network = self->network;

  take_levels (self, levels);
  for (guint i = 0; i < self->n_unknown; i++)
    {
      guint node = self->node_of[i];

      SM_ELEMENT_D (matrix, i, i) = node_area (&network->nodes[node], self->trial[node]) / self->step;
    }
  for (guint a = 0; a < self->n_active; a++)
    {
      const NappeLink *link = &network->links[self->active[a]];
      const NappeLinkFlow *flow = &self->link_flow[self->active[a]];
      gint from = self->unknown_of[link->from], to = self->unknown_of[link->to];

      if (from >= 0)
        SM_ELEMENT_D (matrix, from, from) += flow->slope_from;
      if (to >= 0)
        SM_ELEMENT_D (matrix, to, to) -= flow->slope_to;
      if (from >= 0 && to >= 0)
        {
          SM_ELEMENT_D (matrix, from, to) += flow->slope_to;
          SM_ELEMENT_D (matrix, to, from) -= flow->slope_from;
        }
    }
  gint total = self->situation->total_node == G_MAXUINT ? -1 : self->unknown_of[self->situation->total_node];
  for (guint i = 0; total >= 0 && i < self->n_unknown; i++)
    {
      const NappeNode *node = &network->nodes[self->node_of[i]];
      double level = self->trial[self->node_of[i]];

      gboolean empty = level < node->floor && (gint) i != total;
      SM_ELEMENT_D (matrix, total, i) = node->kind == NAPPE_NODE_JUNCTION || empty ? 0 : node_area (node, level);
    }
  return 0;
}

static NappeNewton *
newton_for (NappeBalance *self, guint n)
{
  if (self->newton[n] == NULL)
    self->newton[n] = nappe_newton_new (self->context, n, balance_function, balance_jacobian, self);
  return self->newton[n];
}

NappeBalance *
nappe_balance_new (guint n_nodes, guint n_links)
{
  NappeBalance *self = g_new0 (NappeBalance, 1);

  self->n_nodes = n_nodes;
  self->n_links = n_links;
  self->newton = g_new0 (NappeNewton *, n_nodes + 1);
  self->scratch.mode = g_new0 (NappeLinkMode, n_links);
  self->scratch.switched = g_new0 (guint8, n_links);
  self->scratch.held = g_new0 (gboolean, n_nodes);
  self->scratch.level = g_new0 (double, n_nodes);
  self->scratch.flow = g_new0 (double, n_links);
  self->scratch.primed = g_new0 (gboolean, n_links);
  self->active = g_new0 (guint, n_links);
  self->node_of = g_new0 (guint, n_nodes);
  self->unknown_of = g_new0 (gint, n_nodes);
  self->trial = g_new0 (double, n_nodes);
  self->anchor = g_new0 (double, n_nodes);
  self->net = g_new0 (double, n_nodes);
  self->seen = g_new0 (double, n_nodes);
  self->link_flow = g_new0 (NappeLinkFlow, n_links);
  SUNContext_Create (NULL, &self->context);
  return self;
}

void
nappe_balance_free (NappeBalance *self)
{
  if (self == NULL)
    return;
  for (guint n = 0; n <= self->n_nodes; n++)
    nappe_newton_free (self->newton[n]);
  SUNContext_Free (&self->context);
  g_free (self->newton);
  g_free (self->scratch.mode);
  g_free (self->scratch.switched);
  g_free (self->scratch.held);
  g_free (self->scratch.level);
  g_free (self->scratch.flow);
  g_free (self->scratch.primed);
  g_free (self->active);
  g_free (self->node_of);
  g_free (self->unknown_of);
  g_free (self->trial);
  g_free (self->anchor);
  g_free (self->net);
  g_free (self->seen);
  g_free (self->link_flow);
  g_free (self);
}

NappeBalanceScratch *
nappe_balance_scratch (NappeBalance *self)
{
  return &self->scratch;
}

/* The node of the total comes last: its row is full (newton.h). */
static guint
number_unknowns (NappeBalance *self, const NappeNetwork *network, const NappeBalanceCase *situation)
{
  guint n = 0;

  for (guint i = 0; i < network->n_nodes; i++)
    {
      gboolean free_node = i != network->floor && i != situation->total_node && !situation->held[i];

      self->unknown_of[i] = free_node ? (gint) n : -1;
      if (free_node)
        self->node_of[n++] = i;
    }
  if (situation->total_node != G_MAXUINT)
    {
      self->unknown_of[situation->total_node] = (gint) n;
      self->node_of[n++] = situation->total_node;
    }
  self->n_active = 0;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      gboolean closed = link->kind == NAPPE_LINK_RIM && situation->rims_closed;

      if (!closed && (self->unknown_of[link->from] >= 0 || self->unknown_of[link->to] >= 0))
        self->active[self->n_active++] = i;
    }
  return n;
}

/* The pipes' water jumps where a flow begins, which no Newton iteration likes: each step takes it as known, and the next one
 * takes what was found, brought forward by the secant of the last two. Since more water in the pipes leaves less for the
 * vessels, which lets less into the pipes, the answer lies between what was taken and what was found. */
static void
take_pipes (NappeBalance *self)
{
  double found = self->found, taken = self->pipes, change = taken - self->taken_then;
  double slope = isnan (change) || change == 0 ? 0 : fmin (0, (found - self->found_then) / change);

  self->taken_then = taken;
  self->found_then = found;
  self->pipes = isnan (taken) ? found : taken + (found - taken) / (1 - slope);
}

/* The true balance, without pseudo-time, at the levels in `trial`. */
static void
judge (NappeBalance *self, NappeBalanceOutcome *outcome)
{
  double excess = 0;

  if (!self->evaluated)
    evaluate_links (self);
  if (self->situation->total_node != G_MAXUINT)
    {
      self->found = pipe_volume (self);
      excess = excess_volume (self, self->found);
    }
  outcome->residual = 0;
  for (guint i = 0; i < self->n_unknown; i++)
    {
      guint node = self->node_of[i];
      double miss = node == self->situation->total_node ? fabs (excess) : fabs (self->net[node]);

      if (miss > outcome->residual || !isfinite (miss))
        {
          outcome->residual = miss;
          outcome->worst_node = node;
        }
    }
  outcome->settled = outcome->residual <= NAPPE_BALANCE_TOLERANCE;
}

/* Whether a step took more out of the total's vessel than it held: so long that the imbalance of a pump which lifts the last of
 * the water is lost in rounding. */
static gboolean
overdrawn (const NappeBalance *self, const double *level)
{
  gint total = self->situation->total_node == G_MAXUINT ? -1 : self->unknown_of[self->situation->total_node];

  return total >= 0 && level[total] < fmin (self->anchor[total], self->network->nodes[self->situation->total_node].floor);
}

/* One implicit step from the anchor. FALSE: it is too long, `trial` is back at the anchor. */
static gboolean
take_step (NappeBalance *self, NappeBalanceOutcome *outcome)
{
  NappeNewton *newton = self->newton[self->n_unknown];
  double *value = nappe_newton_unknown (newton);

  self->evaluations = 0;
  memcpy (value, self->anchor, self->n_unknown * sizeof *value);
  gboolean good = nappe_newton_solve (newton, STEP_TOLERANCE + STEP_ROUNDING / self->step, &outcome->iterations)
                  && !overdrawn (self, value);
  if (!good)
    memcpy (value, self->anchor, self->n_unknown * sizeof *value);
  take_levels (self, nappe_newton_vector (newton));
  return good;
}

/* Flows of all links: those that the solver followed, and the others at the levels that were held. */
static void
report_flows (NappeBalance *self, double *flow)
{
  const NappeNetwork *network = self->network;

  for (guint i = 0; i < network->n_links; i++)
    flow[i] = NAN;
  for (guint a = 0; a < self->n_active; a++)
    flow[self->active[a]] = self->link_flow[self->active[a]].flow;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      NappeLinkFlow result = { 0, 0, 0 };

      if (!isnan (flow[i]))
        continue;
      if (link->kind != NAPPE_LINK_RIM || !self->situation->rims_closed)
        nappe_link_law (network, link, &self->mode[i], self->trial[link->from], self->trial[link->to], &result);
      flow[i] = result.flow;
    }
}

NappeBalanceOutcome
nappe_balance_solve (NappeBalance *self, const NappeNetwork *network, const NappeBalanceCase *situation, NappeLinkMode *mode,
                     double *level, double *flow)
{
  NappeBalanceOutcome outcome = { FALSE, INFINITY, 0, 0 };

  self->network = network;
  self->situation = situation;
  self->mode = mode;
  self->step = LONGEST_STEP;
  self->pipes = self->taken_then = self->found_then = NAN;
  self->evaluated = self->seen_any = FALSE;
  memcpy (self->trial, level, network->n_nodes * sizeof *level);
  self->n_unknown = number_unknowns (self, network, situation);
  if (self->n_unknown == 0)
    outcome = (NappeBalanceOutcome){ TRUE, 0, 0, 0 };
  else if (newton_for (self, self->n_unknown) != NULL)
    {
      judge (self, &outcome);
      if (situation->total_node != G_MAXUINT)
        take_pipes (self);
      for (guint count = 0; count < MOST_STEPS && !outcome.settled && self->step >= SHORTEST_STEP; count++)
        {
          for (guint i = 0; i < self->n_unknown; i++)
            self->anchor[i] = self->trial[self->node_of[i]];
          gboolean good = take_step (self, &outcome);
          self->step = good ? fmin (self->step * STEP_GROWTH, LONGEST_STEP) : self->step * STEP_CUT;
          judge (self, &outcome);
          if (good && situation->total_node != G_MAXUINT)
            take_pipes (self);
        }
    }
  memcpy (level, self->trial, network->n_nodes * sizeof *level);
  if (flow != NULL)
    report_flows (self, flow);
  return outcome;
}

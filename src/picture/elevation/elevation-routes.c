/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Axes of the pipes as seen from the front.
 *
 * Heights are true. Two upright pipes that would cover each other, because one stands behind the
 * other, are moved apart sideways by the least that shows both; the key says by how much. */
#include "picture/elevation/elevation-private.h"

#include <math.h>

#include "picture/moment.h"

/* Clear paper between two upright pipes [px]. */
#define CLEARANCE 5.0
/* How far one pipe may be moved [px]. */
#define FARTHEST 60.0

void
nappe_drawn_pipe_free (gpointer pipe)
{
  NappeDrawnPipe *self = pipe;
  g_array_unref (self->points);
  g_array_unref (self->fittings);
  g_free (self);
}

static gboolean
ends_in_tank (const NappeElevation *self, const NappeDrawnPipe *pipe)
{
  const char *tank = nappe_elevation_id (self->build->tank);
  if (pipe->outlet)
    return g_str_equal (pipe->outlet->part->into, tank);
  for (guint i = 0; i < pipe->line->n_outlets; i++)
    {
      const NappeOutletLayout *outlet = &pipe->line->outlets[i];
      if (outlet->tee_leg == -1 && outlet->route.n_legs == 0 && g_str_equal (outlet->part->into, tank))
        return TRUE;
    }
  return FALSE;
}

gboolean
nappe_elevation_is_behind (const NappeElevation *self, const NappeDrawnPipe *pipe, guint index)
{
  const NappeFrame *tank = &self->layout->tank;
  const NappePipePoint *point = &g_array_index (pipe->points, NappePipePoint, index), *next = point + 1;
  /* What ends in the tank comes down inside it, whatever the pieces add up to. */
  if (index + 2 == pipe->points->len && ends_in_tank (self, pipe))
    return FALSE;
  return fmin (point->y, next->y) > tank->back && fmax (point->z, next->z) > tank->floor && fmin (point->z, next->z) < tank->rim
         && fmax (point->x, next->x) > tank->left && fmin (point->x, next->x) < tank->right;
}

static void
add_point (NappeDrawnPipe *pipe, double x, double y, double z, const NappeLeg *leg)
{
  NappePipePoint point = { x, y, z, leg ? leg->bore : 0, leg ? leg->outside : 0, 0 };
  g_array_append_val (pipe->points, point);
}

/* A drain's inlet with a downturned mouth: from the mouth up, over the crest and down into the pipe. */
static void
add_downturned_inlet (NappeElevation *self, NappeDrawnPipe *pipe, const NappeLeg *leg)
{
  const NappeLineLayout *line = pipe->line;
  const NappeDrain *drain = NAPPE_DRAIN (line->part);
  double turn = leg->outside * 1.35, x = line->trunk.start.x, top = line->crest + leg->outside / 2;
  /* Toward the roomier side of the box. */
  if (line->box >= 0)
    {
      const NappeFrame *box = &self->layout->boxes[line->box].frame;
      if (x - box->left > box->right - x)
        turn = -turn;
    }
  double mouth = fmin (line->mouth, top);
  if (!nappe_is_given (drain->mouth_height))
    mouth = fmin (mouth, line->crest - leg->outside * 0.9);
  add_point (pipe, x + turn, line->trunk.start.y, mouth, leg);
  add_point (pipe, x + turn, line->trunk.start.y, top, leg);
  add_point (pipe, x, line->trunk.start.y, top, leg);
}

/* Whether the leg runs back over the stretch before it: rising behind the tank, say, and coming down
 * before it. The corner is doubled then, so that the two can be drawn side by side. */
static gboolean
turns_back (const NappeDrawnPipe *pipe, const NappeLeg *leg)
{
  if (pipe->points->len < 2)
    return FALSE;
  const NappePipePoint *last = &g_array_index (pipe->points, NappePipePoint, pipe->points->len - 1), *before = last - 1;
  double level = fabs (last->x - before->x) + fabs (leg->to.x - leg->from.x);
  return level < 1e-6 && (last->z - before->z) * (leg->to.z - leg->from.z) < 0;
}

static gboolean
is_hose (const NappeLeg *leg)
{
  return leg->item && leg->item->kind == NAPPE_ITEM_HOSE;
}

/* A hose that turns into the next one does so in an arc. */
static void
mark_bend (NappeDrawnPipe *pipe, const NappeLeg *leg, const NappeLeg *next)
{
  double radius = leg->piece->bend_radius;
  if (is_hose (leg) && is_hose (next))
    g_array_index (pipe->points, NappePipePoint, pipe->points->len - 1).bend = nappe_is_given (radius) ? radius
                                                                                                        : 4 * leg->outside;
}

static void
add_legs (NappeDrawnPipe *pipe)
{
  for (guint i = 0; i < pipe->route->n_legs; i++)
    {
      const NappeLeg *leg = &pipe->route->legs[i];
      gboolean is_pipe = leg->item ? leg->item->kind == NAPPE_ITEM_PIPE || leg->item->kind == NAPPE_ITEM_HOSE
          : leg->piece->length > 0;
      double run = hypot (leg->to.x - leg->from.x, leg->to.z - leg->from.z);
      /* A pipe toward the viewer or away shows its round end. */
      if (!is_pipe || (run <= 1e-6 && leg->piece->length > 0))
        {
          NappePipeFitting fitting = { leg, pipe->points->len - 1 };
          g_array_append_val (pipe->fittings, fitting);
        }
      if (run > 1e-6 && pipe->points->len > 0)
        {
          NappePipePoint *from = &g_array_index (pipe->points, NappePipePoint, pipe->points->len - 1);
          if (pipe->points->len == 1)
            {
              from->bore = leg->bore;
              from->outside = leg->outside;
            }
          if (turns_back (pipe, leg))
            add_point (pipe, leg->from.x, leg->from.y, leg->from.z, leg);
          else if (i > 0)
            mark_bend (pipe, leg - 1, leg);
          add_point (pipe, leg->to.x, leg->to.y, leg->to.z, leg);
        }
      else if (pipe->points->len > 0)
        g_array_index (pipe->points, NappePipePoint, pipe->points->len - 1).y = leg->to.y;
    }
}

static double
mean_depth (const NappeRoute *route)
{
  double sum = route->start.y;
  for (guint i = 0; i < route->n_legs; i++)
    sum += route->legs[i].to.y;
  return sum / (route->n_legs + 1);
}

static NappeDrawnPipe *
new_pipe (NappeElevation *self, const NappeLineLayout *line, const NappeOutletLayout *outlet, gboolean drain)
{
  NappeDrawnPipe *pipe = g_new0 (NappeDrawnPipe, 1);
  pipe->line = line;
  pipe->outlet = outlet;
  pipe->route = outlet ? &outlet->route : &line->trunk;
  pipe->drain = drain;
  pipe->points = g_array_new (FALSE, FALSE, sizeof (NappePipePoint));
  pipe->fittings = g_array_new (FALSE, FALSE, sizeof (NappePipeFitting));
  pipe->depth = mean_depth (&line->trunk);
  pipe->order = self->pipes->len;
  pipe->flow = NAN;
  return pipe;
}

/* Flow that leaves by an outlet; NaN: no link ends in it. */
static double
exit_flow (const NappeElevation *self, const char *outlet)
{
  const NappeNetwork *network = self->study->network;
  double sum = NAN;
  for (guint i = 0; i < network->n_links; i++)
    if (g_str_equal (network->links[i].outlet, outlet))
      sum = isnan (sum) ? self->shown->flow[i] : sum + self->shown->flow[i];
  return sum;
}

/* How full the pipe runs in the shown state. */
static void
set_water (NappeElevation *self, NappeDrawnPipe *pipe)
{
  gboolean full = !pipe->drain;
  if (!self->study || !self->shown)
    return;
  const NappeDrainReport *report = nappe_study_drain (self->study, nappe_elevation_id (pipe->line->part));
  if (pipe->drain && self->at_moment)
    full = nappe_moment_is_full (self->study, self->shown, nappe_elevation_id (pipe->line->part));
  else if (pipe->drain && report)
    full = report->state == NAPPE_DRAIN_FULL;
  pipe->flow = pipe->outlet ? exit_flow (self, nappe_elevation_id (pipe->outlet->part))
                            : nappe_study_flow (self->study, self->shown, nappe_elevation_id (pipe->line->part));
  if (isnan (pipe->flow) && !pipe->outlet && !pipe->drain)
    pipe->flow = nappe_study_flow (self->study, self->shown, nappe_elevation_id (NAPPE_RETURN_LINE (pipe->line->part)->pump));
  /* A branch that the study does not name carries what its trunk does. */
  if (isnan (pipe->flow) && pipe->outlet && pipe->line->n_outlets == 1)
    pipe->flow = nappe_study_flow (self->study, self->shown, nappe_elevation_id (pipe->line->part));
  if (self->at_moment)
    pipe->flow = nappe_moment_flow (pipe->flow);
  if (fabs (pipe->flow) > 1e-9)
    pipe->water = full ? NAPPE_ROLE_MOVING : NAPPE_ROLE_TRICKLE;
}

static void
lay_line (NappeElevation *self, const NappeLineLayout *line, gboolean drain)
{
  NappeDrawnPipe *trunk = new_pipe (self, line, NULL, drain);
  const NappeLeg *first = line->trunk.n_legs > 0 ? &line->trunk.legs[0] : NULL;
  if (drain && first && NAPPE_DRAIN (line->part)->inlet == NAPPE_INLET_DOWNTURNED_ELBOW)
    add_downturned_inlet (self, trunk, first);
  else
    add_point (trunk, line->trunk.start.x, line->trunk.start.y, line->trunk.start.z, first);
  add_legs (trunk);
  set_water (self, trunk);
  g_ptr_array_add (self->pipes, trunk);
  for (guint i = 0; i < line->n_outlets; i++)
    {
      const NappeOutletLayout *outlet = &line->outlets[i];
      if (outlet->tee_leg == -2)
        continue;
      NappeDrawnPipe *branch = new_pipe (self, line, outlet, drain);
      const NappePipePoint *last = &g_array_index (trunk->points, NappePipePoint, trunk->points->len - 1);
      /* A branch at the trunk's end repeats its last stretch, so that the corner between them is drawn. */
      if (outlet->tee_leg == -1 && trunk->points->len > 1)
        {
          g_array_append_val (branch->points, last[-1]);
          branch->lead = 1;
        }
      const NappePoint *start = &outlet->route.start;
      add_point (branch, start->x, start->y, start->z, outlet->route.n_legs > 0 ? &outlet->route.legs[0] : NULL);
      add_legs (branch);
      set_water (self, branch);
      g_ptr_array_add (self->pipes, branch);
    }
}

/* An upright stretch of an axis: points first .. last have one x. */
typedef struct
{
  NappeDrawnPipe *pipe;
  guint first, last;
  double x, low, high, outside; /* [m] */
} Upright;

static void
find_uprights (NappeDrawnPipe *pipe, GArray *uprights)
{
  const NappePipePoint *points = (const NappePipePoint *) (void *) pipe->points->data;
  guint i = 0;
  while (i < pipe->points->len)
    {
      Upright upright = { pipe, i, i, points[i].x, points[i].z, points[i].z, 0 };
      for (guint k = i + 1; k < pipe->points->len && fabs (points[k].x - upright.x) < 1e-6; k++)
        {
          if (fabs (points[k].z - points[k - 1].z) < 1e-9)
            break; /* a doubled corner */
          upright.last = k;
          upright.low = fmin (upright.low, points[k].z);
          upright.high = fmax (upright.high, points[k].z);
          upright.outside = fmax (upright.outside, points[k].outside);
        }
      if (upright.last > i)
        g_array_append_val (uprights, upright);
      i = upright.last + 1;
    }
}

/* How deep an upright at x would lie over those already placed [px]. */
static double
cover (const NappeElevation *self, const GArray *placed, const Upright *one, double x)
{
  double worst = 0;
  for (guint i = 0; i < placed->len; i++)
    {
      const Upright *other = &g_array_index (placed, Upright, i);
      double apart = fabs (other->x - x) * self->scale;
      double wanted = (other->outside + one->outside) / 2 * self->scale + (other->pipe == one->pipe ? 1 : CLEARANCE);
      double shared = fmin (other->high, one->high) - fmax (other->low, one->low);
      if (shared > 0.004 && apart < wanted)
        worst = fmax (worst, wanted - apart);
    }
  return worst;
}

static void
move_upright (NappeElevation *self, const GArray *placed, Upright *upright)
{
  double best = 0, least = cover (self, placed, upright, upright->x);
  for (double step = 1; step <= FARTHEST && least > 0; step += 1)
    for (int side = 1; side >= -1; side -= 2)
      {
        double covered = cover (self, placed, upright, upright->x + side * step / self->scale);
        if (covered < least - 0.5)
          {
            least = covered;
            best = side * step / self->scale;
          }
      }
  NappePipePoint *points = (NappePipePoint *) (void *) upright->pipe->points->data;
  for (guint k = upright->first; k <= upright->last; k++)
    points[k].x += best;
  upright->x += best;
  self->moved = fmax (self->moved, fabs (best));
}

/* The corner of a moved trunk that a branch begins at. */
static void
follow_trunk (NappeElevation *self, NappeDrawnPipe *branch)
{
  const NappeDrawnPipe *trunk = NULL;
  for (guint i = 0; i < self->pipes->len && !trunk; i++)
    {
      const NappeDrawnPipe *pipe = self->pipes->pdata[i];
      if (pipe->line == branch->line && !pipe->outlet)
        trunk = pipe;
    }
  NappePipePoint *points = (NappePipePoint *) (void *) branch->points->data;
  const NappePipePoint *along = (const NappePipePoint *) (void *) trunk->points->data;
  double start_x = points[branch->lead].x, shift = 0;
  if (branch->outlet->tee_leg == -1)
    shift = along[trunk->points->len - 1].x - start_x;
  else
    for (guint i = 0; i < trunk->fittings->len; i++)
      {
        const NappePipeFitting *fitting = &g_array_index (trunk->fittings, NappePipeFitting, i);
        if (fitting->leg == &branch->line->trunk.legs[branch->outlet->tee_leg])
          shift = along[fitting->point].x - start_x;
      }
  if (branch->lead)
    points[0] = along[trunk->points->len - 2];
  for (guint k = branch->lead; k < branch->points->len; k++)
    if (fabs (points[k].x - start_x) < 1e-6 || k == branch->lead)
      points[k].x += shift;
    else
      break;
}

static gint
by_depth (gconstpointer a, gconstpointer b)
{
  const NappeDrawnPipe *first = *(NappeDrawnPipe *const *) a, *second = *(NappeDrawnPipe *const *) b;
  if (first->depth != second->depth)
    return first->depth < second->depth ? 1 : -1;
  return first->order < second->order ? -1 : first->order > second->order ? 1 : 0;
}

void
nappe_elevation_lay_pipes (NappeElevation *self)
{
  g_autoptr (GArray) placed = g_array_new (FALSE, FALSE, sizeof (Upright));
  for (guint i = 0; i < self->layout->n_drains; i++)
    lay_line (self, &self->layout->drains[i], TRUE);
  for (guint i = 0; i < self->layout->n_returns; i++)
    lay_line (self, &self->layout->returns[i], FALSE);
  for (guint i = 0; i < self->pipes->len; i++)
    {
      NappeDrawnPipe *pipe = self->pipes->pdata[i];
      g_autoptr (GArray) uprights = g_array_new (FALSE, FALSE, sizeof (Upright));
      if (pipe->outlet)
        follow_trunk (self, pipe);
      find_uprights (pipe, uprights);
      for (guint k = 0; k < uprights->len; k++)
        {
          Upright *upright = &g_array_index (uprights, Upright, k);
          if (!pipe->outlet || upright->first > pipe->lead)
            move_upright (self, placed, upright);
          g_array_append_val (placed, *upright);
        }
    }
  for (guint i = 0; i < self->pipes->len; i++)
    nappe_elevation_join_pipe (self, self->pipes->pdata[i]);
  for (guint i = 0; i < self->pipes->len; i++)
    nappe_elevation_round_bends (self, self->pipes->pdata[i]);
  g_ptr_array_sort (self->pipes, by_depth);
}

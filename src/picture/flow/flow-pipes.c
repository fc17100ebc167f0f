/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pipes of the flow diagram: walls and water, arrows, valves. */
#include "picture/flow/flow-private.h"

#include <math.h>

#define THINNEST 2.0 /* a pipe's inside without flow, or nearly [px] */
#define THICKEST 9.0 /* with the largest flow of the build [px] */
#define NOTHING 1e-9  /* less flow is none [m3/s] */
#define VALVE_SIZE 8.0
#define WIDE 6.0      /* an inside that an arrow fits into [px] */
/* How fast arrows travel with the largest flow of the build, and with any [px a second]. */
#define PACE 110.0
#define SLOWEST 8.0

void
nappe_flow_go (NappeFlowPipe *pipe, double x, double y)
{
  if (pipe->n == NAPPE_FLOW_POINTS_MAX || (pipe->n > 0 && hypot (pipe->x[pipe->n - 1] - x, pipe->y[pipe->n - 1] - y) < 0.5))
    return;
  pipe->x[pipe->n] = x;
  pipe->y[pipe->n++] = y;
}

static double
weight_of (const NappeFlow *flow, double amount)
{
  double share = flow->largest > 0.0 ? fabs (amount) / flow->largest : 0.0;
  return THINNEST + (THICKEST - THINNEST) * CLAMP (share, 0.0, 1.0);
}

static void
trace_pipe (NappeFlow *flow, const NappeFlowPipe *pipe, NappeRole role, double weight)
{
  NappeStyle style = { .stroke = role, .weight = weight, .round = TRUE };

  nappe_scene_move (flow->scene, pipe->x[0], pipe->y[0]);
  for (guint i = 1; i < pipe->n; i++)
    nappe_scene_line (flow->scene, pipe->x[i], pipe->y[i]);
  nappe_scene_paint (flow->scene, NAPPE_LAYER_PIPE, &style);
}

static double
arrow_size (double weight)
{
  return weight >= WIDE ? 7.0 : 10.0;
}

static NappeRole
arrow_role (double weight)
{
  return weight >= WIDE ? NAPPE_ROLE_ARROW : NAPPE_ROLE_INK;
}

/* The line that arrows travel along, of still pipes too. */
static void
add_stream (NappeFlow *flow, const NappeFlowPipe *pipe)
{
  double weight = weight_of (flow, pipe->amount), share = flow->largest > 0.0 ? fabs (pipe->amount) / flow->largest : 0.0;
  double speed = fabs (pipe->amount) > NOTHING ? copysign (CLAMP (PACE * share, SLOWEST, 2.0 * PACE), pipe->amount) : 0.0;
  NappeStream *stream = nappe_scene_stream (flow->scene, arrow_role (weight), arrow_size (weight), speed);

  for (guint i = 0; i < pipe->n; i++)
    {
      NappeStreamPoint point = { pipe->x[i], pipe->y[i], FALSE };
      g_array_append_val (stream->points, point);
    }
}

/* Arrow in the middle of every stretch that is long enough. */
static void
draw_arrows (NappeFlow *flow, const NappeFlowPipe *pipe)
{
  double weight = weight_of (flow, pipe->amount);

  for (guint i = 1; i < pipe->n; i++)
    {
      double dx = pipe->x[i] - pipe->x[i - 1], dy = pipe->y[i] - pipe->y[i - 1];
      double length = hypot (dx, dy), size = arrow_size (weight);
      double along = pipe->n == 2 || length > 160.0 ? 0.78 : 0.5, way = pipe->amount < 0.0 ? -1.0 : 1.0;
      if (length < 26.0)
        continue;
      nappe_mark_arrow (flow->scene, NAPPE_LAYER_PIPE, pipe->x[i - 1] + along * dx + way * 0.5 * size * dx / length,
                        pipe->y[i - 1] + along * dy + way * 0.5 * size * dy / length, way * dx, way * dy, size,
                        arrow_role (weight));
    }
}

/* Walls of all pipes of a line first, then their insides, so that a tee is open and a crossing is not. */
void
nappe_flow_draw_pipes (NappeFlow *flow, const NappeFlowPipe *pipes, guint n)
{
  for (guint i = 0; i < n; i++)
    if (pipes[i].n > 1)
      trace_pipe (flow, &pipes[i], NAPPE_ROLE_INK, weight_of (flow, pipes[i].amount) + 2.4);
  for (guint i = 0; i < n; i++)
    if (pipes[i].n > 1)
      trace_pipe (flow, &pipes[i], fabs (pipes[i].amount) > NOTHING ? NAPPE_ROLE_MOVING : NAPPE_ROLE_AIR,
                  weight_of (flow, pipes[i].amount));
  for (guint i = 0; i < n; i++)
    {
      double half = 0.5 * weight_of (flow, pipes[i].amount) + 2.0;
      if (flow->options->motion)
        add_stream (flow, &pipes[i]);
      else if (fabs (pipes[i].amount) > NOTHING)
        draw_arrows (flow, &pipes[i]);
      for (guint j = 1; j < pipes[i].n; j++)
        {
          NappeBox box = nappe_box_between (pipes[i].x[j - 1], pipes[i].y[j - 1], pipes[i].x[j], pipes[i].y[j]);
          nappe_scene_block (flow->scene, NAPPE_BLOCK_PIPE, nappe_box_grown (box, half));
          nappe_scene_hit (flow->scene, pipes[i].part, nappe_box_grown (box, half + 3.0));
        }
    }
}

/* Valves of a run, one below the other on its vertical. */
void
nappe_flow_draw_valves (NappeFlow *flow, const NappeFlowColumn *column, const NappeRoute *route, gboolean upward)
{
  const NappeLeg *legs[4];
  guint n = nappe_flow_valves (route, legs, G_N_ELEMENTS (legs));
  double top = flow->label_top + 14.0, bottom = flow->lanes_top - VALVE_SIZE - 4.0;
  double pitch = n > 1 ? MIN (30.0, (bottom - top) / (n - 1)) : 30.0;

  for (guint i = 0; i < n; i++)
    {
      guint place = upward ? n - 1 - i : i;
      double y = MIN (top + 14.0 + pitch * place, bottom);
      const char *id = nappe_part_get_id (NAPPE_PART (legs[i]->piece));
      nappe_mark_valve (flow->scene, column->x, y, 0.0, upward ? -1.0 : 1.0, VALVE_SIZE, legs[i]->item->valve_kind,
                        legs[i]->piece->opening);
      nappe_scene_block (flow->scene, NAPPE_BLOCK_MARK,
                         (NappeBox) { column->x - VALVE_SIZE, y - VALVE_SIZE, 2.0 * VALVE_SIZE, 2.0 * VALVE_SIZE });
      nappe_scene_hit (flow->scene, id, (NappeBox) { column->x - 11.0, y - 11.0, 22.0, 22.0 });
      nappe_flow_anchor (flow, id, column->x - NAPPE_FLOW_MARK_OFFSET, y, column->x, y);
    }
}

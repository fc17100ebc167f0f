/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drains and returns of the flow diagram: their pipes, valves, pumps, and the labels beside them. */
#include "picture/flow-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define THINNEST 2.0 /* a pipe's inside without flow, or nearly [px] */
#define THICKEST 9.0 /* with the largest flow of the build [px] */
#define VALVE_SIZE 8.0
#define PUMP_RADIUS 12.0
#define POINTS_MAX 8
#define MARK_OFFSET 22.0 /* how far left of a vertical its findings are pinned [px] */

/* A pipe of one flow: its corners. */
typedef struct
{
  double x[POINTS_MAX], y[POINTS_MAX];
  guint n;
  double amount;   /* [m3/s] */
  const char *part;
} Pipe;

static void
go (Pipe *pipe, double x, double y)
{
  if (pipe->n == POINTS_MAX || (pipe->n > 0 && hypot (pipe->x[pipe->n - 1] - x, pipe->y[pipe->n - 1] - y) < 0.5))
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
trace_pipe (NappeFlow *flow, const Pipe *pipe, NappeRole role, double weight)
{
  NappeStyle style = { .stroke = role, .weight = weight, .round = TRUE };

  nappe_scene_move (flow->scene, pipe->x[0], pipe->y[0]);
  for (guint i = 1; i < pipe->n; i++)
    nappe_scene_line (flow->scene, pipe->x[i], pipe->y[i]);
  nappe_scene_paint (flow->scene, NAPPE_LAYER_PIPE, &style);
}

/* Arrow in the middle of every stretch that is long enough. */
static void
draw_arrows (NappeFlow *flow, const Pipe *pipe)
{
  double weight = weight_of (flow, pipe->amount);

  for (guint i = 1; i < pipe->n; i++)
    {
      double dx = pipe->x[i] - pipe->x[i - 1], dy = pipe->y[i] - pipe->y[i - 1];
      double length = hypot (dx, dy), size = weight >= 6.0 ? 7.0 : 10.0;
      double along = pipe->n == 2 || length > 160.0 ? 0.78 : 0.5;
      if (length < 26.0)
        continue;
      nappe_mark_arrow (flow->scene, NAPPE_LAYER_PIPE, pipe->x[i - 1] + along * dx + 0.5 * size * dx / length,
                        pipe->y[i - 1] + along * dy + 0.5 * size * dy / length, dx, dy, size,
                        weight >= 6.0 ? NAPPE_ROLE_ARROW : NAPPE_ROLE_INK);
    }
}

/* Walls of all pipes of a line first, then their insides, so that a tee is open and a crossing is not. */
static void
draw_pipes (NappeFlow *flow, const Pipe *pipes, guint n)
{
  for (guint i = 0; i < n; i++)
    if (pipes[i].n > 1)
      trace_pipe (flow, &pipes[i], NAPPE_ROLE_INK, weight_of (flow, pipes[i].amount) + 2.4);
  for (guint i = 0; i < n; i++)
    if (pipes[i].n > 1)
      trace_pipe (flow, &pipes[i], fabs (pipes[i].amount) > 1e-9 ? NAPPE_ROLE_MOVING : NAPPE_ROLE_AIR,
                  weight_of (flow, pipes[i].amount));
  for (guint i = 0; i < n; i++)
    {
      double half = 0.5 * weight_of (flow, pipes[i].amount) + 2.0;
      if (fabs (pipes[i].amount) > 1e-9)
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
static void
draw_valves (NappeFlow *flow, const NappeFlowColumn *column, const NappeRoute *route, gboolean upward)
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
      nappe_scene_block (flow->scene, NAPPE_BLOCK_MARK, (NappeBox) { column->x - VALVE_SIZE, y - VALVE_SIZE, 2.0 * VALVE_SIZE, 2.0 * VALVE_SIZE });
      nappe_scene_hit (flow->scene, id, (NappeBox) { column->x - 11.0, y - 11.0, 22.0, 22.0 });
      nappe_flow_anchor (flow, id, column->x - MARK_OFFSET, y, column->x, y);
    }
}

static double
port_y (const NappeFlow *flow, const NappeFlowColumn *column, double z)
{
  const NappeBox *box = &flow->chambers[column->chamber];
  double y = nappe_flow_y (box, &flow->layout->chambers[column->chamber].frame, z);
  return CLAMP (y, box->y + 6.0, box->y + box->height - 8.0);
}

static void
anchor_column (NappeFlow *flow, const NappeFlowColumn *column)
{
  double y = flow->label_top + 8.0;
  nappe_flow_anchor (flow, nappe_flow_column_part (flow, column), column->x - MARK_OFFSET, y, column->x, y);
}

/* From the column down to its lane, over to its port and into the chamber. */
static void
go_to_chamber (const NappeFlow *flow, Pipe *pipe, const NappeFlowColumn *column, double z)
{
  if (column->chamber < 0)
    {
      go (pipe, column->x, flow->lanes_bottom);
      return;
    }
  if (fabs (column->port - column->x) > 0.5)
    {
      go (pipe, column->x, column->lane);
      go (pipe, column->port, column->lane);
    }
  go (pipe, column->port, port_y (flow, column, z));
}

static double
exit_z (const NappeLineLayout *line, gint outlet)
{
  return outlet >= 0 ? line->outlets[outlet].route.end.z : line->trunk.end.z;
}

/* The inlet in its box: an open end, or an elbow that looks down. */
static void
go_from_inlet (const NappeFlow *flow, Pipe *pipe, const NappeFlowColumn *column, const NappeLineLayout *line)
{
  const NappeDrain *drain = NAPPE_DRAIN (line->part);
  const NappeBox *box = column->box >= 0 ? &flow->boxes[column->box] : &flow->display;
  const NappeFrame *frame = column->box >= 0 ? &flow->layout->boxes[column->box].frame : &flow->layout->tank;
  double bottom = box->y + box->height;
  double crest = CLAMP (nappe_flow_y (box, frame, line->crest), box->y, bottom - 6.0);

  if (drain->inlet == NAPPE_INLET_DOWNTURNED_ELBOW)
    {
      go (pipe, column->x - 14.0, MAX (CLAMP (nappe_flow_y (box, frame, line->mouth), box->y, bottom - 3.0), crest + 5.0));
      go (pipe, column->x - 14.0, crest);
    }
  go (pipe, column->x, crest);
}

static NappeFlowColumn *
next_branch (const NappeFlow *flow, guint trunk, guint *from)
{
  for (; *from < flow->columns->len; (*from)++)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, *from);
      if (*from != trunk && column->trunk == trunk)
        {
          (*from)++;
          return column;
        }
    }
  return NULL;
}

#define PIPES_MAX 40

static void
draw_drain (NappeFlow *flow, guint index)
{
  const NappeFlowColumn *column = nappe_flow_column (flow, index), *branch;
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  const char *id = nappe_part_get_id (line->part);
  double amount = nappe_flow_trunk_flow (flow, column);
  Pipe pipes[PIPES_MAX] = { { .amount = amount, .part = id } };
  guint n = 1, next = 0;
  gboolean has_branch = FALSE;

  go_from_inlet (flow, &pipes[0], column, line);
  while ((branch = next_branch (flow, index, &next)) != NULL && n < PIPES_MAX - 1)
    {
      Pipe *pipe = &pipes[n++];
      *pipe = (Pipe) { .amount = nappe_flow_outlet_flow (flow, line, branch->outlet, NAN),
                       .part = nappe_flow_column_part (flow, branch) };
      go (pipe, column->x, flow->tee_y);
      go (pipe, branch->x, flow->tee_y);
      go_to_chamber (flow, pipe, branch, exit_z (line, branch->outlet));
      has_branch = TRUE;
    }
  if (has_branch)
    {
      Pipe *rest = &pipes[n++];
      go (&pipes[0], column->x, flow->tee_y);
      *rest = (Pipe) { .amount = nappe_flow_outlet_flow (flow, line, column->outlet, amount), .part = id };
      go (rest, column->x, flow->tee_y);
      go_to_chamber (flow, rest, column, exit_z (line, column->outlet));
    }
  else
    go_to_chamber (flow, &pipes[0], column, exit_z (line, column->outlet));
  draw_pipes (flow, pipes, n);
  draw_valves (flow, column, &line->trunk, FALSE);
  for (next = 0; (branch = next_branch (flow, index, &next)) != NULL;)
    {
      draw_valves (flow, branch, &line->outlets[branch->outlet].route, FALSE);
      anchor_column (flow, branch);
    }
  if (column->outlet >= 0)
    nappe_flow_anchor (flow, nappe_part_get_id (NAPPE_PART (line->outlets[column->outlet].part)), column->port - MARK_OFFSET,
                       flow->lanes_bottom + 8.0, column->port, flow->lanes_bottom + 8.0);
  anchor_column (flow, column);
}

/* Nozzles over the display: x of the n-th of all on one side. */
static double
nozzle_x (const NappeFlow *flow, gboolean on_left, guint place, guint n)
{
  double pitch = MIN (110.0, (flow->display.width - 60.0) / MAX (n, 1));
  double off = 34.0 + pitch * place;
  return on_left ? flow->display.x + off : flow->display.x + flow->display.width - off;
}

/* Outlets that end above: in the tank or in a box. */
static guint
count_nozzles (const NappeFlow *flow, const NappeLineLayout *line)
{
  guint n = 0;
  for (guint i = 0; i < line->n_outlets; i++)
    n += nappe_flow_find_chamber (flow, line->outlets[i].part->into) < 0;
  return n;
}

/* The flow of every nozzle of a line that has several. */
static void
label_nozzles (NappeFlow *flow, const NappeLineLayout *line)
{
  for (guint i = 0; i < line->n_outlets && line->n_outlets > 1; i++)
    {
      const NappeFlowAnchor *anchor = g_hash_table_lookup (flow->anchors, nappe_part_get_id (NAPPE_PART (line->outlets[i].part)));
      double amount = nappe_flow_outlet_flow (flow, line, (gint) i, 0.0);
      g_autofree char *text = nappe_quantity_format (NAPPE_QUANTITY_FLOW, amount, flow->options->units, 0);
      NappeTextStyle styles[4];
      if (anchor == NULL || !(amount > 0.0) || nappe_flow_find_chamber (flow, line->outlets[i].part->into) >= 0)
        continue;
      for (guint j = 0; j < G_N_ELEMENTS (styles); j++)
        styles[j] = (NappeTextStyle) { .x = anchor->to_x + (j % 2 == 0 ? 9.0 : -9.0),
                                       .y = j < 2 ? flow->display.y - 3.0 : flow->display.y + flow->text_line + 14.0,
                                       .align_x = j % 2 == 0 ? 0.0 : 1.0, .align_y = 1.0, .size = NAPPE_TEXT_SMALL,
                                       .role = NAPPE_ROLE_INK };
      nappe_label_place_text (flow->scene, NAPPE_LAYER_NOTE, text, styles, G_N_ELEMENTS (styles), NULL);
    }
}

/* The hole that lets air in when the pump stops. */
static void
draw_siphon_break (NappeFlow *flow, double x, const NappeOutlet *outlet)
{
  NappeStyle hole = { .fill = NAPPE_ROLE_PAPER, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
  double z = flow->layout->tank.floor + outlet->siphon_break_height;

  if (nappe_is_given (outlet->siphon_break_height))
    nappe_scene_circle (flow->scene, NAPPE_LAYER_LEVEL, x, nappe_flow_y (&flow->display, &flow->layout->tank, z), 2.4, &hole);
}

/* Where an outlet of a return ends: x of its drop and y of its mouth. */
static void
nozzle_place (const NappeFlow *flow, const NappeFlowColumn *column, const NappeOutletLayout *outlet, guint place,
              double *x, double *y)
{
  gint box = nappe_flow_find_box (flow, outlet->part->into);
  const NappeBox *vessel = box >= 0 ? &flow->boxes[box] : &flow->display;
  const NappeFrame *frame = box >= 0 ? &flow->layout->boxes[box].frame : &flow->layout->tank;
  guint before = 0;

  for (guint i = 0; i < column->line; i++)
    before += count_nozzles (flow, &flow->layout->returns[i]);
  *x = box >= 0 ? vessel->x + 16.0
                : nozzle_x (flow, column->on_left, before + place, before + count_nozzles (flow, nappe_flow_line (flow, column)));
  *y = CLAMP (nappe_flow_y (vessel, frame, outlet->route.end.z), vessel->y + 8.0, vessel->y + vessel->height - 8.0);
}

/* What a return line carries past its branches into chambers. */
static double
flow_to_nozzles (const NappeFlow *flow, const NappeFlowColumn *column)
{
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  double trunk = nappe_flow_trunk_flow (flow, column), rest = trunk;

  for (guint i = 0; i < line->n_outlets; i++)
    if (nappe_flow_find_chamber (flow, line->outlets[i].part->into) >= 0)
      rest -= nappe_flow_outlet_flow (flow, line, (gint) i, trunk);
  return rest;
}

/* Leads the line, whose riser is pipes[n - 1], over the display and down at every nozzle.
 * Returns the new number of pipes. */
static guint
add_nozzles (NappeFlow *flow, const NappeFlowColumn *column, double header, Pipe *pipes, guint n)
{
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  double trunk = nappe_flow_trunk_flow (flow, column), left_over = flow_to_nozzles (flow, column);
  guint place = 0, all = count_nozzles (flow, line);

  go (&pipes[n - 1], column->x, header);
  for (guint i = 0; i < line->n_outlets && n + 1 < PIPES_MAX; i++)
    {
      const NappeOutletLayout *outlet = &line->outlets[i];
      const char *id = nappe_part_get_id (NAPPE_PART (outlet->part));
      double amount = nappe_flow_outlet_flow (flow, line, (gint) i, trunk), x, y;
      if (nappe_flow_find_chamber (flow, outlet->part->into) >= 0)
        continue;
      nozzle_place (flow, column, outlet, place++, &x, &y);
      go (&pipes[n - 1], x, header);
      left_over -= amount;
      if (place < all) /* a tee: down to the nozzle, and on with what is left */
        {
          pipes[n] = (Pipe) { .amount = amount };
          go (&pipes[n], x, header);
          go (&pipes[n++], x, y);
          pipes[n] = (Pipe) { .amount = left_over, .part = nappe_part_get_id (line->part) };
          go (&pipes[n++], x, header);
        }
      else
        go (&pipes[n - 1], x, y);
      nappe_scene_hit (flow->scene, id, (NappeBox) { x - 9.0, header - 4.0, 18.0, y - header + 8.0 });
      nappe_flow_anchor (flow, id, x - MARK_OFFSET, header + 4.0, x, header + 4.0);
      draw_siphon_break (flow, x, outlet->part);
    }
  return n;
}

/* From the pump up to its column. */
static void
go_from_pump (const NappeFlow *flow, Pipe *pipe, const NappeFlowColumn *column)
{
  const NappeBox *box;

  if (column->chamber < 0)
    {
      go (pipe, column->x, flow->lanes_bottom);
      return;
    }
  box = &flow->chambers[column->chamber];
  go (pipe, column->port, box->y + box->height - 2.0 * PUMP_RADIUS - 6.0);
  if (fabs (column->port - column->x) > 0.5)
    {
      go (pipe, column->port, column->lane);
      go (pipe, column->x, column->lane);
    }
}

static void
draw_pump (NappeFlow *flow, const NappeFlowColumn *column, const NappeLineLayout *line)
{
  const char *id = nappe_part_get_id (NAPPE_RETURN_LINE (line->part)->pump);
  const NappeBox *box = &flow->chambers[column->chamber];
  double y = box->y + box->height - PUMP_RADIUS - 6.0;
  NappeBox place = { column->port - PUMP_RADIUS, y - PUMP_RADIUS, 2.0 * PUMP_RADIUS, 2.0 * PUMP_RADIUS };

  nappe_mark_pump (flow->scene, column->port, y, PUMP_RADIUS, 0.0, -1.0);
  nappe_scene_hit (flow->scene, id, place);
  nappe_flow_anchor (flow, id, column->port - PUMP_RADIUS - 16.0, y, column->port, y);
}

static void
draw_return (NappeFlow *flow, guint index)
{
  const NappeFlowColumn *column = nappe_flow_column (flow, index), *branch;
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  const char *id = nappe_part_get_id (line->part);
  Pipe pipes[PIPES_MAX] = { { .amount = nappe_flow_trunk_flow (flow, column), .part = id } };
  guint n = 1, next = 0;

  go_from_pump (flow, &pipes[0], column);
  while ((branch = next_branch (flow, index, &next)) != NULL && n + 2 < PIPES_MAX)
    {
      Pipe *pipe = &pipes[n++];
      *pipe = (Pipe) { .amount = nappe_flow_outlet_flow (flow, line, branch->outlet, NAN),
                       .part = nappe_flow_column_part (flow, branch) };
      go (pipe, column->x, flow->tee_y);
      go (pipe, branch->x, flow->tee_y);
      go_to_chamber (flow, pipe, branch, exit_z (line, branch->outlet));
      anchor_column (flow, branch);
    }
  if (n > 1)
    {
      go (&pipes[0], column->x, flow->tee_y);
      pipes[n] = (Pipe) { .amount = flow_to_nozzles (flow, column), .part = id };
      go (&pipes[n++], column->x, flow->tee_y);
    }
  n = add_nozzles (flow, column, flow->header - 10.0 * column->line, pipes, n);
  draw_pipes (flow, pipes, n);
  label_nozzles (flow, line);
  draw_valves (flow, column, &line->trunk, TRUE);
  for (next = 0; (branch = next_branch (flow, index, &next)) != NULL;)
    draw_valves (flow, branch, &line->outlets[branch->outlet].route, FALSE);
  if (column->chamber >= 0)
    draw_pump (flow, column, line);
  anchor_column (flow, column);
}

void
nappe_flow_draw_lines (NappeFlow *flow)
{
  for (guint i = 0; i < flow->columns->len; i++)
    if (nappe_flow_column (flow, i)->kind == NAPPE_COLUMN_DRAIN)
      draw_drain (flow, i);
    else if (nappe_flow_column (flow, i)->kind == NAPPE_COLUMN_RETURN)
      draw_return (flow, i);
}

/* The reservoir's fresh water goes over to the return chamber through a thin line. */
void
nappe_flow_draw_top_off (NappeFlow *flow)
{
  const NappeNetwork *network = flow->study->network;
  NappeStyle line = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE, .dashed = TRUE };
  gint from, to;
  double x1, x2, y = flow->sump.y - 10.0;

  if (network->reservoir >= network->n_nodes || network->return_chamber >= network->n_nodes)
    return;
  from = nappe_flow_find_chamber (flow, network->nodes[network->reservoir].id);
  to = nappe_flow_find_chamber (flow, network->nodes[network->return_chamber].id);
  if (from < 0 || to < 0 || from == to || !(network->reservoir_volume > 0.0))
    return;
  x1 = flow->chambers[from].x + (to > from ? flow->chambers[from].width - 12.0 : 12.0);
  x2 = flow->chambers[to].x + (to > from ? 12.0 : flow->chambers[to].width - 12.0);
  nappe_scene_move (flow->scene, x1, flow->sump.y + 0.5 * flow->sump.height);
  nappe_scene_line (flow->scene, x1, y);
  nappe_scene_line (flow->scene, x2, y);
  nappe_scene_line (flow->scene, x2, flow->sump.y + 10.0);
  nappe_scene_paint (flow->scene, NAPPE_LAYER_PIPE, &line);
  nappe_mark_arrow (flow->scene, NAPPE_LAYER_PIPE, x2, flow->sump.y + 14.0, 0.0, 1.0, 8.0, NAPPE_ROLE_INK);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_PIPE, nappe_box_grown (nappe_box_between (x1, y, x2, y), 2.0));
  nappe_scene_block (flow->scene, NAPPE_BLOCK_PIPE, nappe_box_grown (nappe_box_between (x1, y, x1, flow->sump.y + 0.5 * flow->sump.height), 2.0));
  nappe_scene_block (flow->scene, NAPPE_BLOCK_PIPE, nappe_box_grown (nappe_box_between (x2, y, x2, flow->sump.y + 14.0), 2.0));

  NappeTextStyle style = { .x = 0.5 * (x1 + x2), .y = y - 2.0, .align_x = 0.5, .align_y = 1.0, .size = NAPPE_TEXT_SMALL,
                           .role = NAPPE_ROLE_SOFT };
  nappe_label_place_text (flow->scene, NAPPE_LAYER_NOTE, _("top-off"), &style, 1, NULL);
}

static void
draw_column_label (NappeFlow *flow, const NappeFlowColumn *column)
{
  double x = column->label_x, width = column->left + column->width - 4.0 - x;
  double y = flow->label_top, bottom = flow->lanes_top - 4.0;
  NappeBox area = { x, y, width, 0.0 };

  if (width < 28.0)
    return;
  for (guint i = 0; i < NAPPE_FLOW_LABEL_LINES && column->lines[i] != NULL; i++)
    {
      NappeTextWeight weight = i < 2 ? NAPPE_TEXT_STRONG : NAPPE_TEXT_REGULAR;
      g_autoptr (GPtrArray) lines = nappe_flow_wrap (flow, column->lines[i], weight, width, i == 0 ? 3 : 2);
      if (y + lines->len * flow->text_line > bottom)
        break;
      for (guint j = 0; j < lines->len; j++)
        {
          NappeTextStyle style = { .x = x, .y = y, .size = NAPPE_TEXT_SMALL, .weight = weight,
                                   .role = i < 2 ? NAPPE_ROLE_INK : NAPPE_ROLE_SOFT };
          NappeBox place = nappe_scene_measure (flow->scene, g_ptr_array_index (lines, j), &style);
          if (!nappe_label_is_free (flow->scene, &place, 0.0))
            break;
          nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, g_ptr_array_index (lines, j), &style);
          y += flow->text_line;
        }
    }
  area.height = y - area.y;
  nappe_scene_hit (flow->scene, nappe_flow_column_part (flow, column), area);
}

void
nappe_flow_draw_column_labels (NappeFlow *flow)
{
  for (guint i = 0; i < flow->columns->len; i++)
    draw_column_label (flow, nappe_flow_column (flow, i));
}

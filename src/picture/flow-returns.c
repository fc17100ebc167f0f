/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Return lines of the flow diagram: from the pump up, over the display and down at the nozzles. */
#include "picture/flow-private.h"

#include <math.h>

#define PUMP_RADIUS 12.0

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
      nappe_flow_place_text (flow, NAPPE_LAYER_NOTE, text, styles, G_N_ELEMENTS (styles), NULL);
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
add_nozzles (NappeFlow *flow, const NappeFlowColumn *column, double header, NappeFlowPipe *pipes, guint n)
{
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  double trunk = nappe_flow_trunk_flow (flow, column), left_over = flow_to_nozzles (flow, column);
  guint place = 0, all = count_nozzles (flow, line);

  nappe_flow_go (&pipes[n - 1], column->x, header);
  for (guint i = 0; i < line->n_outlets && n + 1 < NAPPE_FLOW_PIPES_MAX; i++)
    {
      const NappeOutletLayout *outlet = &line->outlets[i];
      const char *id = nappe_part_get_id (NAPPE_PART (outlet->part));
      double amount = nappe_flow_outlet_flow (flow, line, (gint) i, trunk), x, y;
      if (nappe_flow_find_chamber (flow, outlet->part->into) >= 0)
        continue;
      nozzle_place (flow, column, outlet, place++, &x, &y);
      nappe_flow_go (&pipes[n - 1], x, header);
      left_over -= amount;
      if (place < all) /* a tee: down to the nozzle, and on with what is left */
        {
          pipes[n] = (NappeFlowPipe) { .amount = amount };
          nappe_flow_go (&pipes[n], x, header);
          nappe_flow_go (&pipes[n++], x, y);
          pipes[n] = (NappeFlowPipe) { .amount = left_over, .part = nappe_part_get_id (line->part) };
          nappe_flow_go (&pipes[n++], x, header);
        }
      else
        nappe_flow_go (&pipes[n - 1], x, y);
      nappe_scene_hit (flow->scene, id, (NappeBox) { x - 9.0, header - 4.0, 18.0, y - header + 8.0 });
      nappe_flow_anchor (flow, id, x - NAPPE_FLOW_MARK_OFFSET, header + 4.0, x, header + 4.0);
      draw_siphon_break (flow, x, outlet->part);
    }
  return n;
}

/* From the pump up to its column. */
static void
go_from_pump (const NappeFlow *flow, NappeFlowPipe *pipe, const NappeFlowColumn *column)
{
  const NappeBox *box;

  if (column->chamber < 0)
    {
      nappe_flow_go (pipe, column->x, flow->lanes_bottom);
      return;
    }
  box = &flow->chambers[column->chamber];
  nappe_flow_go (pipe, column->port, box->y + box->height - 2.0 * PUMP_RADIUS - 6.0);
  if (fabs (column->port - column->x) > 0.5)
    {
      nappe_flow_go (pipe, column->port, column->lane);
      nappe_flow_go (pipe, column->x, column->lane);
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

void
nappe_flow_draw_return (NappeFlow *flow, guint index)
{
  const NappeFlowColumn *column = nappe_flow_column (flow, index), *branch;
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  const char *id = nappe_part_get_id (line->part);
  NappeFlowPipe pipes[NAPPE_FLOW_PIPES_MAX] = { { .amount = nappe_flow_trunk_flow (flow, column), .part = id } };
  guint n = 1, next = 0;

  go_from_pump (flow, &pipes[0], column);
  while ((branch = nappe_flow_next_branch (flow, index, &next)) != NULL && n + 2 < NAPPE_FLOW_PIPES_MAX)
    {
      NappeFlowPipe *pipe = &pipes[n++];
      *pipe = (NappeFlowPipe) { .amount = nappe_flow_outlet_flow (flow, line, branch->outlet, NAN),
                       .part = nappe_flow_column_part (flow, branch) };
      nappe_flow_go (pipe, column->x, flow->tee_y);
      nappe_flow_go (pipe, branch->x, flow->tee_y);
      nappe_flow_go_to_chamber (flow, pipe, branch, nappe_flow_exit_z (line, branch->outlet));
      nappe_flow_anchor_column (flow, branch);
    }
  if (n > 1)
    {
      nappe_flow_go (&pipes[0], column->x, flow->tee_y);
      pipes[n] = (NappeFlowPipe) { .amount = flow_to_nozzles (flow, column), .part = id };
      nappe_flow_go (&pipes[n++], column->x, flow->tee_y);
    }
  n = add_nozzles (flow, column, flow->header - 10.0 * column->line, pipes, n);
  nappe_flow_draw_pipes (flow, pipes, n);
  label_nozzles (flow, line);
  nappe_flow_draw_valves (flow, column, &line->trunk, TRUE);
  for (next = 0; (branch = nappe_flow_next_branch (flow, index, &next)) != NULL;)
    nappe_flow_draw_valves (flow, branch, &line->outlets[branch->outlet].route, FALSE);
  if (column->chamber >= 0)
    draw_pump (flow, column, line);
  nappe_flow_anchor_column (flow, column);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drains of the flow diagram, the top-off, and the labels beside all verticals. */
#include "picture/flow/flow-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static double
port_y (const NappeFlow *flow, const NappeFlowColumn *column, double z)
{
  const NappeBox *box = &flow->chambers[column->chamber];
  double y = nappe_flow_y (box, &flow->layout->chambers[column->chamber].frame, z);
  return CLAMP (y, box->y + 6.0, box->y + box->height - 8.0);
}

void
nappe_flow_anchor_column (NappeFlow *flow, const NappeFlowColumn *column)
{
  double y = flow->label_top + 8.0;
  nappe_flow_anchor (flow, nappe_flow_column_part (flow, column), column->x - NAPPE_FLOW_MARK_OFFSET, y, column->x, y);
}

/* From the column down to its lane, over to its port and into the chamber. */
void
nappe_flow_go_to_chamber (const NappeFlow *flow, NappeFlowPipe *pipe, const NappeFlowColumn *column, double z)
{
  if (column->chamber < 0)
    {
      nappe_flow_go (pipe, column->x, flow->lanes_bottom);
      return;
    }
  if (fabs (column->port - column->x) > 0.5)
    {
      nappe_flow_go (pipe, column->x, column->lane);
      nappe_flow_go (pipe, column->port, column->lane);
    }
  nappe_flow_go (pipe, column->port, port_y (flow, column, z));
}

double
nappe_flow_exit_z (const NappeLineLayout *line, gint outlet)
{
  return outlet >= 0 ? line->outlets[outlet].route.end.z : line->trunk.end.z;
}

/* The inlet in its box: an open end, or an elbow that looks down. */
static void
go_from_inlet (const NappeFlow *flow, NappeFlowPipe *pipe, const NappeFlowColumn *column, const NappeLineLayout *line)
{
  const NappeDrain *drain = NAPPE_DRAIN (line->part);
  const NappeBox *box = column->box >= 0 ? &flow->boxes[column->box] : &flow->display;
  const NappeFrame *frame = column->box >= 0 ? &flow->layout->boxes[column->box].frame : &flow->layout->tank;
  double bottom = box->y + box->height;
  double crest = CLAMP (nappe_flow_y (box, frame, line->crest), box->y, bottom - 6.0);

  if (drain->inlet == NAPPE_INLET_DOWNTURNED_ELBOW)
    {
      nappe_flow_go (pipe, column->x - 14.0,
                     MAX (CLAMP (nappe_flow_y (box, frame, line->mouth), box->y, bottom - 3.0), crest + 5.0));
      nappe_flow_go (pipe, column->x - 14.0, crest);
    }
  nappe_flow_go (pipe, column->x, crest);
}

NappeFlowColumn *
nappe_flow_next_branch (const NappeFlow *flow, guint trunk, guint *from)
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

static void
draw_drain (NappeFlow *flow, guint index)
{
  const NappeFlowColumn *column = nappe_flow_column (flow, index), *branch;
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  const char *id = nappe_part_get_id (line->part);
  double amount = nappe_flow_trunk_flow (flow, column);
  NappeFlowPipe pipes[NAPPE_FLOW_PIPES_MAX] = { { .amount = amount, .part = id } };
  guint n = 1, next = 0;
  gboolean has_branch = FALSE;

  go_from_inlet (flow, &pipes[0], column, line);
  while ((branch = nappe_flow_next_branch (flow, index, &next)) != NULL && n < NAPPE_FLOW_PIPES_MAX - 1)
    {
      NappeFlowPipe *pipe = &pipes[n++];
      *pipe = (NappeFlowPipe) { .amount = nappe_flow_outlet_flow (flow, line, branch->outlet, NAN),
                       .part = nappe_flow_column_part (flow, branch) };
      nappe_flow_go (pipe, column->x, flow->tee_y);
      nappe_flow_go (pipe, branch->x, flow->tee_y);
      nappe_flow_go_to_chamber (flow, pipe, branch, nappe_flow_exit_z (line, branch->outlet));
      has_branch = TRUE;
    }
  if (has_branch)
    {
      NappeFlowPipe *rest = &pipes[n++];
      nappe_flow_go (&pipes[0], column->x, flow->tee_y);
      *rest = (NappeFlowPipe) { .amount = nappe_flow_outlet_flow (flow, line, column->outlet, amount), .part = id };
      nappe_flow_go (rest, column->x, flow->tee_y);
      nappe_flow_go_to_chamber (flow, rest, column, nappe_flow_exit_z (line, column->outlet));
    }
  else
    nappe_flow_go_to_chamber (flow, &pipes[0], column, nappe_flow_exit_z (line, column->outlet));
  nappe_flow_draw_pipes (flow, pipes, n);
  nappe_flow_draw_valves (flow, column, &line->trunk, FALSE);
  for (next = 0; (branch = nappe_flow_next_branch (flow, index, &next)) != NULL;)
    {
      nappe_flow_draw_valves (flow, branch, &line->outlets[branch->outlet].route, FALSE);
      nappe_flow_anchor_column (flow, branch);
    }
  if (column->outlet >= 0)
    nappe_flow_anchor (flow, nappe_part_get_id (NAPPE_PART (line->outlets[column->outlet].part)),
                       column->port - NAPPE_FLOW_MARK_OFFSET, flow->lanes_bottom + 8.0, column->port,
                       flow->lanes_bottom + 8.0);
  nappe_flow_anchor_column (flow, column);
}

void
nappe_flow_draw_lines (NappeFlow *flow)
{
  for (guint i = 0; i < flow->columns->len; i++)
    if (nappe_flow_column (flow, i)->kind == NAPPE_COLUMN_DRAIN)
      draw_drain (flow, i);
    else if (nappe_flow_column (flow, i)->kind == NAPPE_COLUMN_RETURN)
      nappe_flow_draw_return (flow, i);
  for (guint i = 0; i < flow->layout->n_returns; i++)
    if (nappe_flow_is_local (flow, &flow->layout->returns[i]))
      nappe_flow_draw_local_return (flow, i);
  nappe_flow_draw_joints (flow);
  nappe_flow_draw_spouts (flow);
  nappe_flow_label_returns (flow);
}

static void
block_line (NappeFlow *flow, double x1, double y1, double x2, double y2)
{
  nappe_scene_block (flow->scene, NAPPE_BLOCK_PIPE, nappe_box_grown (nappe_box_between (x1, y1, x2, y2), 2.0));
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
  block_line (flow, x1, y, x2, y);
  block_line (flow, x1, y, x1, flow->sump.y + 0.5 * flow->sump.height);
  block_line (flow, x2, y, x2, flow->sump.y + 14.0);

  NappeTextStyle style = { .x = 0.5 * (x1 + x2), .y = y - 2.0, .align_x = 0.5, .align_y = 1.0, .size = NAPPE_TEXT_SMALL,
                           .role = NAPPE_ROLE_SOFT };
  nappe_flow_place_text (flow, NAPPE_LAYER_NOTE, _("top-off"), &style, 1, NULL);
}

/* What the i-th line of a label says in a width: names are shortened, but never what holds a figure;
 * NULL when that has no room. */
static const char *
label_text (NappeFlow *flow, const NappeFlowColumn *column, guint i, NappeTextWeight weight, double width)
{
  if (i == 0 || nappe_flow_longest_word (flow, column->lines[i], weight) <= width)
    return column->lines[i];
  if (i == 1 && column->figure != NULL && nappe_flow_text_width (flow, column->figure, weight) <= width)
    return column->figure;
  return NULL;
}

/* One text of a label, wrapped; returns the y below it, or y when there is no room. */
static double
draw_label_text (NappeFlow *flow, const char *text, gboolean strong, guint max_lines, double x, double y, double width)
{
  NappeTextWeight weight = strong ? NAPPE_TEXT_STRONG : NAPPE_TEXT_REGULAR;
  g_autoptr (GPtrArray) lines = nappe_flow_wrap (flow, text, weight, width, max_lines);
  NappeTextStyle style = { .x = x, .y = y, .size = NAPPE_TEXT_SMALL, .weight = weight,
                           .role = strong ? NAPPE_ROLE_INK : NAPPE_ROLE_SOFT };
  NappeBox place = { x, y, width, lines->len * flow->text_line };

  if (y + place.height > flow->lanes_top - 4.0 || !nappe_label_is_free (flow->scene, &place, 0.0))
    return y;
  for (guint i = 0; i < lines->len; i++, style.y += flow->text_line)
    nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, g_ptr_array_index (lines, i), &style);
  return style.y;
}

static void
draw_column_label (NappeFlow *flow, const NappeFlowColumn *column)
{
  double x = column->label_x, width = column->left + column->width - 4.0 - x, y = flow->label_top;

  gboolean full = width < 28.0;

  for (guint i = 0; i < NAPPE_FLOW_LABEL_LINES && column->lines[i] != NULL; i++)
    {
      const char *text = full ? NULL : label_text (flow, column, i, i < 2 ? NAPPE_TEXT_STRONG : NAPPE_TEXT_REGULAR, width);
      double below = text != NULL ? draw_label_text (flow, text, i < 2, i == 0 ? 3 : 4, x, y, width) : y;
      full = full || (text != NULL && below <= y);
      /* The name is the item's own. */
      if (below <= y && i > 0)
        nappe_scene_lose (flow->scene, nappe_flow_column_part (flow, column), column->lines[i]);
      y = below;
    }
  if (width < 28.0)
    return;
  nappe_scene_hit (flow->scene, nappe_flow_column_part (flow, column),
                   (NappeBox) { x, flow->label_top, width, y - flow->label_top });
}

void
nappe_flow_draw_column_labels (NappeFlow *flow)
{
  for (guint i = 0; i < flow->columns->len; i++)
    draw_column_label (flow, nappe_flow_column (flow, i));
}

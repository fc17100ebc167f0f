/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which columns the diagram has, in which order, and how wide they may be. */
#include "picture/flow/flow-private.h"

#include <math.h>

#define LABEL_LEAST 46.0     /* narrower labels say nothing [px] */
#define LABEL_MOST 168.0     /* wider ones are wrapped [px] */
#define LABEL_AT_MOMENT 84.0 /* what a flow and how it runs take, whatever they are at the moment [px] */
/* Of a vertical from its column's left edge: room for a mark, or at least for half a valve [px]. */
#define LINE_OFFSET 36.0
#define LINE_OFFSET_TIGHT 18.0
/* Of a label from its vertical, beside a valve and beside a bare pipe [px]. */
#define VALVE_OFFSET 17.0
#define PIPE_OFFSET 11.0
#define CHAMBER_WISH 190.0
#define BESIDE_VESSELS 90.0  /* that a tank with pumps and spouts for side vessels takes more [px] */
#define DISPLAY_LEAST 60.0   /* of the display and of a column's pitch on little paper [px] */
#define COLUMN_LEAST 14.0
#define MOST_SQUEEZED 0.35   /* share of their widths that inner boxes and side vessels keep there */
#define DISPLAY_WISH 480.0   /* a tank that looks like one [px] */

gboolean
nappe_flow_is_branch (const NappeFlowColumn *column)
{
  return column->kind == NAPPE_COLUMN_DRAIN_BRANCH || column->kind == NAPPE_COLUMN_RETURN_BRANCH;
}

/* Boxes stand on the side where they are; those in the middle on the right, the second one on the left. */
gboolean
nappe_flow_box_goes_left (const NappeFlow *flow, gint index)
{
  const NappeLayout *layout = flow->layout;
  double centre, tank;

  if (index < 0)
    return FALSE;
  if (layout->boxes[index].part->side == NAPPE_SIDE_LEFT)
    return TRUE;
  if (layout->boxes[index].part->side == NAPPE_SIDE_RIGHT)
    return FALSE;
  centre = 0.5 * (layout->boxes[index].frame.left + layout->boxes[index].frame.right);
  tank = 0.5 * (layout->tank.left + layout->tank.right);
  return centre < tank - 1e-6 || (fabs (centre - tank) <= 1e-6 && index % 2 == 1);
}

static gint
end_outlet (const NappeLineLayout *line)
{
  for (guint i = 0; i < line->n_outlets; i++)
    if (line->outlets[i].tee_leg == -1)
      return (gint) i;
  return -1;
}

/* Order in a side: box after box, in a box by the chamber that the drain leads to, then by its place.
 * The parts of the sum cannot reach each other: at most 24 chambers and 24 drains. */
static double
drain_rank (const NappeFlow *flow, const NappeFlowColumn *column)
{
  double box_x = column->box >= 0 ? flow->layout->boxes[column->box].frame.left : 0.0;
  return floor (CLAMP (box_x, -30.0, 30.0) * 1000.0) * 1e4 + (column->chamber + 1) * 100.0 + column->line;
}

static void
add_drain (NappeFlow *flow, guint index)
{
  const NappeLineLayout *line = &flow->layout->drains[index];
  NappeFlowColumn column = { .kind = NAPPE_COLUMN_DRAIN, .line = index, .outlet = end_outlet (line), .box = line->box };
  guint trunk = flow->columns->len;

  column.chamber = column.outlet >= 0 ? nappe_flow_find_chamber (flow, line->outlets[column.outlet].part->into) : -1;
  column.sock = column.outlet >= 0 ? nappe_flow_find_sock (flow, line->outlets[column.outlet].part->into) : -1;
  column.on_left = nappe_flow_box_goes_left (flow, line->box);
  column.rank = drain_rank (flow, &column);
  column.trunk = trunk;
  g_array_append_val (flow->columns, column);
  for (guint i = 0; i < line->n_outlets; i++)
    {
      NappeFlowColumn branch = column;
      if (line->outlets[i].tee_leg < 0)
        continue;
      branch.kind = NAPPE_COLUMN_DRAIN_BRANCH;
      branch.outlet = (gint) i;
      branch.chamber = nappe_flow_find_chamber (flow, line->outlets[i].part->into);
      branch.sock = nappe_flow_find_sock (flow, line->outlets[i].part->into);
      /* Beside its trunk, on the side of its chamber. */
      branch.rank += branch.chamber < column.chamber ? -0.5 + 0.01 * i : 0.5 - 0.01 * i;
      g_array_append_val (flow->columns, branch);
    }
}

static void
add_return (NappeFlow *flow, guint index, gboolean on_left)
{
  const NappeLineLayout *line = &flow->layout->returns[index];
  double outward = on_left ? -1.0 : 1.0;
  NappeFlowColumn column = { .kind = NAPPE_COLUMN_RETURN, .line = index, .outlet = -1, .box = -1,
                             .chamber = line->chamber, .sock = -1, .trunk = flow->columns->len, .on_left = on_left,
                             .rank = outward * (1e10 + 100.0 * index) };

  g_array_append_val (flow->columns, column);
  for (guint i = 0; i < line->n_outlets; i++)
    {
      NappeFlowColumn branch = column;
      branch.chamber = nappe_flow_find_chamber (flow, line->outlets[i].part->into);
      if (branch.chamber < 0)
        continue;
      branch.kind = NAPPE_COLUMN_RETURN_BRANCH;
      branch.sock = nappe_flow_find_sock (flow, line->outlets[i].part->into);
      branch.outlet = (gint) i;
      branch.rank -= outward * (50.0 - i);
      g_array_append_val (flow->columns, branch);
    }
}

/* A spout that pours into a chamber, between the returns and the drains. */
static void
add_spout (NappeFlow *flow, guint index)
{
  const char *into = flow->layout->vessels[index].part->into;
  NappeFlowColumn column = { .kind = NAPPE_COLUMN_SPOUT, .line = index, .outlet = -1, .box = -1,
                             .chamber = nappe_flow_find_chamber (flow, into), .sock = nappe_flow_find_sock (flow, into),
                             .trunk = flow->columns->len, .on_left = flow->vessels_left,
                             .rank = (flow->vessels_left ? -1.0 : 1.0) * (0.9e10 + index) };

  if (column.chamber >= 0)
    g_array_append_val (flow->columns, column);
}

/* Whether a line has an end in a chamber. */
static gboolean
ends_below (const NappeFlow *flow, const NappeLineLayout *line)
{
  for (guint i = 0; i < line->n_outlets; i++)
    if (nappe_flow_find_chamber (flow, line->outlets[i].part->into) >= 0)
      return TRUE;
  return FALSE;
}

static int
compare_columns (gconstpointer a, gconstpointer b)
{
  const NappeFlowColumn *one = a, *two = b;

  if (one->on_left != two->on_left)
    return one->on_left ? -1 : 1;
  return one->rank < two->rank ? -1 : one->rank > two->rank ? 1 : 0;
}

/* Branches knew their trunk by its place before sorting. */
static void
find_trunks (NappeFlow *flow)
{
  for (guint i = 0; i < flow->columns->len; i++)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, i);
      NappeColumnKind kind = column->kind == NAPPE_COLUMN_DRAIN_BRANCH    ? NAPPE_COLUMN_DRAIN
                             : column->kind == NAPPE_COLUMN_RETURN_BRANCH ? NAPPE_COLUMN_RETURN
                                                                          : column->kind;
      for (guint j = 0; j < flow->columns->len && kind != NAPPE_COLUMN_SPOUT; j++)
        if (nappe_flow_column (flow, j)->kind == kind && nappe_flow_column (flow, j)->line == column->line)
          column->trunk = j;
    }
}

/* Room beside columns, toward the display: for an inner box beside its box's last column, for side vessels beside the
 * innermost return. */
static void
reserve_room (NappeFlow *flow)
{
  NappeFlowColumn *beside = NULL;

  for (guint i = 0; i < flow->columns->len; i++)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, i);
      gboolean returns = column->kind == NAPPE_COLUMN_RETURN || column->kind == NAPPE_COLUMN_RETURN_BRANCH
                         || column->kind == NAPPE_COLUMN_SPOUT;
      if (returns && column->on_left == flow->vessels_left && (beside == NULL || flow->vessels_left))
        beside = column;
    }
  for (guint box = 0; box < flow->layout->n_boxes; box++)
    {
      NappeFlowColumn *inmost = NULL;
      for (guint i = 0; i < flow->columns->len; i++)
        {
          NappeFlowColumn *column = nappe_flow_column (flow, i);
          if (column->kind == NAPPE_COLUMN_DRAIN && column->box == (gint) box && (inmost == NULL || column->on_left))
            inmost = column;
        }
      if (inmost != NULL)
        inmost->pad += nappe_flow_inner_width (flow, (gint) box);
    }
  if (beside != NULL)
    beside->pad += nappe_flow_side_width (flow);
}

void
nappe_flow_collect_columns (NappeFlow *flow)
{
  const NappeLayout *layout = flow->layout;
  guint left = 0, right = 0;

  for (guint i = 0; i < layout->n_boxes; i++)
    if (nappe_flow_box_goes_left (flow, (gint) i))
      left++;
    else
      right++;
  for (guint i = 0; i < layout->n_drains; i++)
    add_drain (flow, i);
  flow->vessels_left = left == 0
                       || (right > 0 && layout->n_returns > 0 && layout->returns[0].chamber * 2 < (gint) layout->n_chambers);
  for (guint i = 0; i < layout->n_vessels; i++)
    add_spout (flow, i);
  for (guint i = 0; i < layout->n_returns; i++)
    {
      /* Opposite the boxes; with boxes on both sides, on the side of the pump's chamber. */
      gboolean near_left = layout->returns[i].chamber * 2 < (gint) layout->n_chambers;
      if (!nappe_flow_is_local (flow, &layout->returns[i]) || ends_below (flow, &layout->returns[i]))
        add_return (flow, i, left > 0 && right > 0 ? near_left : left == 0);
    }
  g_array_sort (flow->columns, compare_columns);
  find_trunks (flow);
  reserve_room (flow);
  for (guint i = 0; i < flow->columns->len; i++)
    nappe_flow_column_words (flow, nappe_flow_column (flow, i));
}

static double
label_wish (NappeFlow *flow, const NappeFlowColumn *column)
{
  double wish = flow->at_moment ? LABEL_AT_MOMENT * flow->options->text_scale : LABEL_LEAST;
  /* Columns must not move as the figures in them change from moment to moment. */
  guint n = flow->at_moment ? 1 : NAPPE_FLOW_LABEL_LINES;

  for (guint i = 0; i < n && column->lines[i] != NULL; i++)
    wish = MAX (wish, nappe_flow_text_width (flow, column->lines[i], i < 2 ? NAPPE_TEXT_STRONG : NAPPE_TEXT_REGULAR));
  return MIN (wish, LABEL_MOST);
}

/* A small build does not use the whole width: its lines would only grow longer. */
static void
choose_width (NappeFlow *flow, double wish)
{
  double most = nappe_scene_width (flow->scene) - 2.0 * NAPPE_FLOW_MARGIN;
  double width = MIN (most, MAX (wish + DISPLAY_WISH, flow->layout->n_chambers * CHAMBER_WISH));

  flow->left = 0.5 * (nappe_scene_width (flow->scene) - width);
  flow->right = flow->left + width;
}

static gboolean
has_valves (const NappeFlow *flow, const NappeFlowColumn *column)
{
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  const NappeLeg *leg;
  if (line == NULL)
    return FALSE;
  return nappe_flow_valves (nappe_flow_is_branch (column) ? &line->outlets[column->outlet].route : &line->trunk, &leg, 1) > 0;
}

/* What a column needs beside its label. */
static double
column_extra (const NappeFlow *flow, const NappeFlowColumn *column, gboolean tight)
{
  return (tight ? LINE_OFFSET_TIGHT : LINE_OFFSET) + (has_valves (flow, column) ? VALVE_OFFSET : PIPE_OFFSET)
         + NAPPE_FLOW_COLUMN_GAP;
}

/* On little paper inner boxes and side vessels leave room for the lines. Returns what they want then. */
static double
squeeze_pads (NappeFlow *flow, double pads, double room)
{
  double left = room - DISPLAY_LEAST - flow->columns->len * COLUMN_LEAST;

  if (pads <= left)
    return pads;
  flow->squeeze = CLAMP (left / pads, MOST_SQUEEZED, 1.0);
  for (guint i = 0; i < flow->columns->len; i++)
    nappe_flow_column (flow, i)->pad *= flow->squeeze;
  return pads * flow->squeeze;
}

/* Widths by what the labels wish; all give way alike when there is less room. */
static void
size_columns (NappeFlow *flow)
{
  double wish = 0.0, least = 0.0, pads = 0.0, room;

  for (guint i = 0; i < flow->columns->len; i++)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, i);
      column->width = column_extra (flow, column, FALSE) + label_wish (flow, column);
      wish += column->width;
      least += column_extra (flow, column, TRUE) + LABEL_LEAST;
      pads += column->pad;
    }
  choose_width (flow, wish + pads);
  room = flow->right - flow->left - (flow->layout->n_vessels > 0 ? BESIDE_VESSELS : 0.0);
  pads = squeeze_pads (flow, pads, room);
  room = MAX (room - MAX (90.0, 0.14 * (flow->right - flow->left)) - pads, flow->columns->len * COLUMN_LEAST);
  for (guint i = 0; i < flow->columns->len && wish > room; i++)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, i);
      double smallest = column_extra (flow, column, TRUE) + LABEL_LEAST;
      if (least >= room)
        column->width = room / flow->columns->len;
      else
        column->width = smallest + (column->width - smallest) * (room - least) / (wish - least);
    }
}

/* The vertical of a column, as far from its left edge as its label leaves room for. */
static void
place_vertical (NappeFlow *flow, NappeFlowColumn *column)
{
  double beside = has_valves (flow, column) ? VALVE_OFFSET : PIPE_OFFSET;
  double spare = column->width - beside - NAPPE_FLOW_COLUMN_GAP - label_wish (flow, column);

  column->x = column->left + MIN (CLAMP (spare, LINE_OFFSET_TIGHT, LINE_OFFSET), 0.5 * column->width);
  column->label_x = column->x + beside;
}

void
nappe_flow_place_columns (NappeFlow *flow)
{
  double left, right;

  size_columns (flow);
  left = flow->left;
  right = flow->right;
  for (guint i = 0; i < flow->columns->len; i++)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, i);
      if (!column->on_left)
        break;
      column->left = left;
      left += column->width + column->pad;
    }
  for (guint i = flow->columns->len; i > 0; i--)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, i - 1);
      if (column->on_left)
        break;
      right -= column->width;
      column->left = right;
      right -= column->pad;
    }
  for (guint i = 0; i < flow->columns->len; i++)
    {
      place_vertical (flow, nappe_flow_column (flow, i));
    }
}

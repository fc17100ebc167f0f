/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays the diagram out: which columns there are and in which order, how wide they may be, where the
 * vessels stand, where each line meets its chamber and in which lane it goes there. */
#include "picture/flow-private.h"

#include <math.h>

#define LABEL_LEAST 46.0     /* narrower labels say nothing [px] */
#define LABEL_MOST 168.0     /* wider ones are wrapped [px] */
/* Of a vertical from its column's left edge: room for a mark, or at least for half a valve [px]. */
#define LINE_OFFSET 36.0
#define LINE_OFFSET_TIGHT 18.0
/* Of a label from its vertical, beside a valve and beside a bare pipe [px]. */
#define VALVE_OFFSET 17.0
#define PIPE_OFFSET 11.0
#define COLUMN_GAP 6.0
#define LANE_PITCH 13.0
#define LANES_TO_SUMP 22.0   /* room for the top-off's line */
#define CHAMBER_MOST 250.0
#define CHAMBER_WISH 190.0
#define DISPLAY_WISH 480.0   /* a tank that looks like one [px] */

NappeFlowColumn *
nappe_flow_column (const NappeFlow *flow, guint index)
{
  return &g_array_index (flow->columns, NappeFlowColumn, index);
}

const NappeLineLayout *
nappe_flow_line (const NappeFlow *flow, const NappeFlowColumn *column)
{
  gboolean drain = column->kind == NAPPE_COLUMN_DRAIN || column->kind == NAPPE_COLUMN_DRAIN_BRANCH;
  return drain ? &flow->layout->drains[column->line] : &flow->layout->returns[column->line];
}

static gboolean
is_branch (const NappeFlowColumn *column)
{
  return column->kind == NAPPE_COLUMN_DRAIN_BRANCH || column->kind == NAPPE_COLUMN_RETURN_BRANCH;
}

gint
nappe_flow_find_chamber (const NappeFlow *flow, const char *id)
{
  for (guint i = 0; i < flow->layout->n_chambers; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (flow->layout->chambers[i].part)), id))
      return (gint) i;
  return -1;
}

gint
nappe_flow_find_box (const NappeFlow *flow, const char *id)
{
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (flow->layout->boxes[i].part)), id))
      return (gint) i;
  return -1;
}

/* Boxes stand on the side where they are; those in the middle on the right, the second one on the left. */
static gboolean
box_is_on_left (const NappeFlow *flow, gint index)
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
  column.on_left = box_is_on_left (flow, line->box);
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
                             .chamber = line->chamber, .trunk = flow->columns->len, .on_left = on_left,
                             .rank = outward * (1e10 + 100.0 * index) };

  g_array_append_val (flow->columns, column);
  for (guint i = 0; i < line->n_outlets; i++)
    {
      NappeFlowColumn branch = column;
      branch.chamber = nappe_flow_find_chamber (flow, line->outlets[i].part->into);
      if (branch.chamber < 0)
        continue;
      branch.kind = NAPPE_COLUMN_RETURN_BRANCH;
      branch.outlet = (gint) i;
      branch.rank -= outward * (50.0 - i);
      g_array_append_val (flow->columns, branch);
    }
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
      for (guint j = 0; j < flow->columns->len; j++)
        if (nappe_flow_column (flow, j)->kind == kind && nappe_flow_column (flow, j)->line == column->line)
          column->trunk = j;
    }
}

static void
collect_columns (NappeFlow *flow)
{
  const NappeLayout *layout = flow->layout;
  guint left = 0, right = 0;

  for (guint i = 0; i < layout->n_boxes; i++)
    if (box_is_on_left (flow, (gint) i))
      left++;
    else
      right++;
  for (guint i = 0; i < layout->n_drains; i++)
    add_drain (flow, i);
  for (guint i = 0; i < layout->n_returns; i++)
    {
      /* Opposite the boxes; with boxes on both sides, on the side of the pump's chamber. */
      gboolean near_left = layout->returns[i].chamber * 2 < (gint) layout->n_chambers;
      add_return (flow, i, left > 0 && right > 0 ? near_left : left == 0);
    }
  g_array_sort (flow->columns, compare_columns);
  find_trunks (flow);
  for (guint i = 0; i < flow->columns->len; i++)
    nappe_flow_column_words (flow, nappe_flow_column (flow, i));
}

static double
label_wish (NappeFlow *flow, const NappeFlowColumn *column)
{
  double wish = LABEL_LEAST;

  for (guint i = 0; i < NAPPE_FLOW_LABEL_LINES && column->lines[i] != NULL; i++)
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
  return nappe_flow_valves (is_branch (column) ? &line->outlets[column->outlet].route : &line->trunk, &leg, 1) > 0;
}

/* What a column needs beside its label. */
static double
column_extra (const NappeFlow *flow, const NappeFlowColumn *column, gboolean tight)
{
  return (tight ? LINE_OFFSET_TIGHT : LINE_OFFSET) + (has_valves (flow, column) ? VALVE_OFFSET : PIPE_OFFSET) + COLUMN_GAP;
}

/* Widths by what the labels wish; all give way alike when there is less room. */
static void
size_columns (NappeFlow *flow)
{
  double wish = 0.0, least = 0.0, room;

  for (guint i = 0; i < flow->columns->len; i++)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, i);
      column->width = column_extra (flow, column, FALSE) + label_wish (flow, column);
      wish += column->width;
      least += column_extra (flow, column, TRUE) + LABEL_LEAST;
    }
  choose_width (flow, wish);
  room = flow->right - flow->left - MAX (90.0, 0.14 * (flow->right - flow->left));
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
  double spare = column->width - beside - COLUMN_GAP - label_wish (flow, column);

  column->x = column->left + MIN (CLAMP (spare, LINE_OFFSET_TIGHT, LINE_OFFSET), 0.5 * column->width);
  column->label_x = column->x + beside;
}

static void
place_columns (NappeFlow *flow)
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
      left += column->width;
    }
  for (guint i = flow->columns->len; i > 0; i--)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, i - 1);
      if (column->on_left)
        break;
      right -= column->width;
      column->left = right;
    }
  for (guint i = 0; i < flow->columns->len; i++)
    {
      place_vertical (flow, nappe_flow_column (flow, i));
    }
}

static gboolean
goes_sideways (const NappeFlowColumn *column)
{
  return column->chamber >= 0 && fabs (column->port - column->x) > 0.5;
}

/* Whether the sideways stretches of two lines would touch in one lane. */
static gboolean
share_a_place (const NappeFlowColumn *a, const NappeFlowColumn *b)
{
  return MIN (a->x, a->port) - LANE_PITCH < MAX (b->x, b->port) && MIN (b->x, b->port) - LANE_PITCH < MAX (a->x, a->port);
}

/* Numbers the lanes from the top; returns how many there are. Lines that go left take them in the
 * order of their columns, lines that go right against it: then none crosses another's vertical. */
static guint
number_lanes (NappeFlow *flow)
{
  guint n = flow->columns->len, lanes = 0;
  g_autoptr (GPtrArray) placed = g_ptr_array_new ();

  for (int rightward = 0; rightward < 2; rightward++)
    for (guint i = 0; i < n; i++)
      {
        NappeFlowColumn *column = nappe_flow_column (flow, rightward ? n - 1 - i : i);
        if (!goes_sideways (column) || (column->port > column->x) != (rightward == 1))
          continue;
        column->lane = 0.0;
        for (guint j = 0; j < placed->len; j++)
          {
            const NappeFlowColumn *other = g_ptr_array_index (placed, j);
            if (share_a_place (column, other))
              column->lane = MAX (column->lane, other->lane + 1.0);
          }
        g_ptr_array_add (placed, column);
        lanes = MAX (lanes, (guint) column->lane + 1);
      }
  return lanes;
}

/* Lines of text that the tallest label beside a vertical takes. */
static guint
label_lines (NappeFlow *flow)
{
  guint most = 0;

  for (guint i = 0; i < flow->columns->len; i++)
    {
      const NappeFlowColumn *column = nappe_flow_column (flow, i);
      double width = column->left + column->width - COLUMN_GAP - column->label_x;
      guint lines = 0;
      for (guint j = 0; j < NAPPE_FLOW_LABEL_LINES && column->lines[j] != NULL && width > 0.0; j++)
        {
          g_autoptr (GPtrArray) wrapped = nappe_flow_wrap (flow, column->lines[j],
                                                           j < 2 ? NAPPE_TEXT_STRONG : NAPPE_TEXT_REGULAR, width, 2);
          lines += wrapped->len;
        }
      most = MAX (most, lines);
    }
  return most;
}

/* Lines of text under the sump. */
static guint
name_lines (NappeFlow *flow)
{
  guint most = 1;

  for (guint i = 0; i < flow->layout->n_chambers; i++)
    {
      const char *name = nappe_part_display_name (NAPPE_PART (flow->layout->chambers[i].part));
      g_autoptr (GPtrArray) wrapped = nappe_flow_wrap (flow, name, NAPPE_TEXT_REGULAR, flow->chambers[i].width - 6.0, 3);
      most = MAX (most, wrapped->len);
    }
  return most;
}

/* Top and bottom of the three bands. The pipes get what their labels and lanes need, if they can. */
static void
place_bands (NappeFlow *flow)
{
  double top = flow->options->title ? 22.0 + 24.0 + flow->text_line + 8.0 : 14.0;
  double display_top = top + 34.0 + 10.0 * MAX (1, flow->layout->n_returns), room, pipes, bottom;

  bottom = nappe_scene_height (flow->scene) - 12.0 - (nappe_flow_has_legend (flow) ? 1.5 * flow->text_line : 0.0);
  bottom -= (name_lines (flow) + 1) * flow->text_line + 10.0;
  room = MAX (bottom - display_top, 60.0);
  pipes = 28.0 + (label_lines (flow) + 1) * flow->text_line + number_lanes (flow) * LANE_PITCH + LANES_TO_SUMP;
  pipes = CLAMP (pipes, 0.40 * room, 0.60 * room);
  flow->header = display_top - 30.0;
  flow->display.y = display_top;
  flow->display.height = 0.48 * (room - pipes);
  flow->sump.height = 0.52 * (room - pipes);
  flow->sump.y = bottom - flow->sump.height;
  flow->names_top = bottom + flow->text_line + 9.0;
  flow->lanes_bottom = flow->sump.y - LANES_TO_SUMP;
}

/* Chambers get their height when the bands are known. */
static void
raise_chambers (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_chambers; i++)
    {
      flow->chambers[i].y = flow->sump.y;
      flow->chambers[i].height = flow->sump.height;
    }
}

/* The display and its boxes: boxes hold the columns of their drains, the display what is left. */
static void
place_display (NappeFlow *flow)
{
  double left = flow->left, right = flow->right;

  for (guint i = 0; i < flow->columns->len; i++)
    {
      const NappeFlowColumn *column = nappe_flow_column (flow, i);
      if (column->kind == NAPPE_COLUMN_RETURN && column->on_left)
        left = MAX (left, column->x + 34.0);
      if (column->kind == NAPPE_COLUMN_RETURN && !column->on_left)
        right = MIN (right, column->x - 34.0);
    }
  flow->display.x = left;
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    {
      NappeBox *box = &flow->boxes[i];
      double from = INFINITY, to = -INFINITY;
      for (guint j = 0; j < flow->columns->len; j++)
        {
          const NappeFlowColumn *column = nappe_flow_column (flow, j);
          if (column->kind != NAPPE_COLUMN_DRAIN || column->box != (gint) i)
            continue;
          from = MIN (from, column->left);
          to = MAX (to, column->left + column->width);
        }
      if (from > to) /* a box without a drain */
        {
          from = box_is_on_left (flow, (gint) i) ? left : right - 60.0;
          to = from + 60.0;
        }
      *box = (NappeBox) { from, flow->display.y, MAX (to - from, 20.0), flow->display.height };
    }
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    if (box_is_on_left (flow, (gint) i))
      flow->display.x = MAX (flow->display.x, flow->boxes[i].x + flow->boxes[i].width);
    else
      right = MIN (right, flow->boxes[i].x);
  flow->display.width = MAX (right - flow->display.x, 30.0);
}

/* Box tops stand at their true height against the display's. */
static void
trim_boxes (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    {
      NappeBox *box = &flow->boxes[i];
      double top = nappe_flow_y (&flow->display, &flow->layout->tank, flow->layout->boxes[i].frame.rim);
      double bottom = box->y + box->height;
      box->y = CLAMP (top, flow->display.y, bottom - 0.5 * flow->display.height);
      box->height = bottom - box->y;
    }
}

static guint
ports_of (const NappeFlow *flow, gint chamber)
{
  guint n = 0;
  for (guint i = 0; i < flow->columns->len; i++)
    n += nappe_flow_column (flow, i)->chamber == chamber;
  return n;
}

static double
chamber_least (NappeFlow *flow, guint index)
{
  const char *name = nappe_part_display_name (NAPPE_PART (flow->layout->chambers[index].part));
  double word = nappe_flow_longest_word (flow, name, NAPPE_TEXT_REGULAR) + 10.0;
  return MAX (MAX (word, 58.0), 30.0 * (ports_of (flow, (gint) index) + 1));
}

/* Chambers as wide as their names and lines need; what is left over goes by the root of their length. */
static void
place_chambers (NappeFlow *flow)
{
  const NappeLayout *layout = flow->layout;
  double inner = flow->right - flow->left;
  double least = 0.0, weight = 0.0, x, middle = 0.0;

  for (guint i = 0; i < layout->n_chambers; i++)
    {
      flow->chambers[i] = (NappeBox) { .width = chamber_least (flow, i) };
      least += flow->chambers[i].width;
      weight += sqrt (fmax (layout->chambers[i].frame.right - layout->chambers[i].frame.left, 1e-3));
    }
  flow->sump.width = 0.0;
  for (guint i = 0; i < layout->n_chambers; i++)
    {
      double share = sqrt (fmax (layout->chambers[i].frame.right - layout->chambers[i].frame.left, 1e-3)) / weight;
      double *width = &flow->chambers[i].width;
      *width = least > inner ? *width * inner / least
                             : MIN (*width + share * (inner - least), MAX (CHAMBER_MOST, *width));
      *width = floor (*width);
      flow->sump.width += *width;
    }
  for (guint i = 0; i < flow->columns->len; i++)
    middle += nappe_flow_column (flow, i)->x / flow->columns->len;
  x = CLAMP (middle - 0.5 * flow->sump.width, flow->left, MAX (flow->left, flow->right - flow->sump.width));
  x = floor (x);
  flow->sump.x = x;
  for (guint i = 0; i < layout->n_chambers; i++)
    {
      flow->chambers[i].x = x;
      x += flow->chambers[i].width;
    }
}

/* Ports in a chamber stand in the order of the columns: straight under them if they can, else evenly. */
static void
place_ports (NappeFlow *flow)
{
  for (guint chamber = 0; chamber < flow->layout->n_chambers; chamber++)
    {
      const NappeBox *box = &flow->chambers[chamber];
      guint n = ports_of (flow, (gint) chamber), k = 0;
      double last = box->x + 2.0;
      gboolean straight = TRUE;
      for (guint i = 0; i < flow->columns->len; i++)
        {
          const NappeFlowColumn *column = nappe_flow_column (flow, i);
          if (column->chamber != (gint) chamber)
            continue;
          straight = straight && column->x >= last + 18.0 && column->x <= box->x + box->width - 20.0;
          last = column->x;
        }
      for (guint i = 0; i < flow->columns->len; i++)
        {
          NappeFlowColumn *column = nappe_flow_column (flow, i);
          if (column->chamber != (gint) chamber)
            continue;
          k++;
          /* A single port stands to the side, so that the level has room beside it. */
          column->port = straight ? column->x
                         : n == 1 ? CLAMP (column->x, box->x + 0.3 * box->width, box->x + 0.7 * box->width)
                                  : box->x + box->width * k / (n + 1.0);
        }
    }
}

static void
place_lanes (NappeFlow *flow)
{
  guint lanes = number_lanes (flow);
  double room = flow->lanes_bottom - flow->display.y - flow->display.height;
  double pitch = lanes > 1 ? MIN (LANE_PITCH, 0.4 * room / (lanes - 1)) : LANE_PITCH;

  flow->lanes_top = flow->lanes_bottom - (lanes > 1 ? (lanes - 1) * pitch : 0.0);
  for (guint i = 0; i < flow->columns->len; i++)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, i);
      if (goes_sideways (column))
        column->lane = flow->lanes_top + pitch * column->lane;
    }
}

void
nappe_flow_plan (NappeFlow *flow)
{
  gboolean branches = FALSE;
  double pipes_top;

  collect_columns (flow);
  place_columns (flow);
  place_chambers (flow);
  place_ports (flow);
  place_bands (flow);
  raise_chambers (flow);
  place_display (flow);
  trim_boxes (flow);
  place_lanes (flow);
  for (guint i = 0; i < flow->columns->len; i++)
    branches = branches || is_branch (nappe_flow_column (flow, i));
  pipes_top = flow->display.y + flow->display.height;
  flow->tee_y = pipes_top + 16.0;
  flow->label_top = pipes_top + (branches ? 28.0 : 14.0);
}

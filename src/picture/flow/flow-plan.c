/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays the diagram out: where the bands and vessels stand, where each line meets its chamber and in
 * which lane it goes there. */
#include "picture/flow/flow-private.h"

#include <math.h>

#define LANE_PITCH 13.0
#define LANES_TO_SUMP 22.0   /* room for the top-off's line */
#define JOIN_PITCH 14.0      /* from where lines join another to where branches leave, beyond the usual */
#define CHAMBER_MOST 250.0

NappeFlowColumn *
nappe_flow_column (const NappeFlow *flow, guint index)
{
  return &g_array_index (flow->columns, NappeFlowColumn, index);
}

const NappeLineLayout *
nappe_flow_line (const NappeFlow *flow, const NappeFlowColumn *column)
{
  if (column->kind == NAPPE_COLUMN_SPOUT)
    return NULL;
  gboolean drain = column->kind == NAPPE_COLUMN_DRAIN || column->kind == NAPPE_COLUMN_DRAIN_BRANCH;
  return drain ? &flow->layout->drains[column->line] : &flow->layout->returns[column->line];
}

gint
nappe_flow_find_chamber (const NappeFlow *flow, const char *id)
{
  for (guint i = 0; i < flow->layout->n_chambers; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (flow->layout->chambers[i].part)), id))
      return (gint) i;
  gint sock = nappe_flow_find_sock (flow, id);
  return sock >= 0 && flow->layout->socks[sock].chamber < flow->layout->n_chambers ? (gint) flow->layout->socks[sock].chamber
                                                                                    : -1;
}

gint
nappe_flow_find_sock (const NappeFlow *flow, const char *id)
{
  for (guint i = 0; i < flow->layout->n_socks; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (flow->layout->socks[i].part)), id))
      return (gint) i;
  return -1;
}

gint
nappe_flow_find_vessel (const NappeFlow *flow, const char *id)
{
  for (guint i = 0; i < flow->layout->n_vessels; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (flow->layout->vessels[i].part)), id))
      return (gint) i;
  return -1;
}

gboolean
nappe_flow_is_local (const NappeFlow *flow, const NappeLineLayout *line)
{
  const char *place = NAPPE_PUMP (NAPPE_RETURN_LINE (line->part)->pump)->chamber;
  return line->chamber < 0
         && (nappe_flow_find_vessel (flow, place) >= 0 || g_str_equal (place, nappe_part_get_id (flow->build->tank)));
}

gint
nappe_flow_find_box (const NappeFlow *flow, const char *id)
{
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (flow->layout->boxes[i].part)), id))
      return (gint) i;
  return -1;
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
      double width = column->left + column->width - NAPPE_FLOW_COLUMN_GAP - column->label_x;
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
  double top = nappe_flow_title_height (flow) + 12.0;
  double header_gap = flow->text_line + 16.0; /* a nozzle's flow stands between header and rim */
  guint over = MAX (1, flow->layout->n_returns + flow->layout->n_vessels);
  double display_top = top + header_gap + 4.0 + NAPPE_FLOW_OVER_PITCH * over, room, pipes, bottom;

  bottom = nappe_scene_height (flow->scene) - 12.0 - (nappe_flow_has_legend (flow) ? 1.5 * flow->text_line : 0.0);
  flow->names_bottom = bottom;
  bottom -= (name_lines (flow) + 1) * flow->text_line + 10.0;
  room = MAX (bottom - display_top, 60.0);
  pipes = 28.0 + (label_lines (flow) + 1) * flow->text_line + number_lanes (flow) * LANE_PITCH + LANES_TO_SUMP;
  pipes = CLAMP (pipes, 0.40 * room, 0.60 * room);
  flow->header = display_top - header_gap;
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
  if (flow->layout->n_vessels > 0 && flow->vessels_left)
    left = nappe_flow_place_side_vessels (flow, left);
  else if (flow->layout->n_vessels > 0)
    right = nappe_flow_place_side_vessels (flow, right);
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
          from = nappe_flow_box_goes_left (flow, (gint) i) ? left : right - 60.0;
          to = from + 60.0;
        }
      *box = (NappeBox) { from, flow->display.y, MAX (to - from, 20.0), flow->display.height };
    }
  nappe_flow_place_inners (flow);
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    if (nappe_flow_box_goes_left (flow, (gint) i))
      flow->display.x = MAX (flow->display.x, flow->boxes[i].x + flow->boxes[i].width + flow->inners[i].width);
    else
      right = MIN (right, flow->boxes[i].x - flow->inners[i].width);
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

/* Socks take room of their own, the ports in them too. */
static double
chamber_least (NappeFlow *flow, guint index)
{
  double socks = 0.0;
  guint in_socks = 0;

  for (guint i = 0; i < flow->layout->n_socks; i++)
    if (flow->layout->socks[i].chamber == index)
      socks += nappe_flow_sock_width (flow, i) + 12.0;
  for (guint i = 0; i < flow->columns->len; i++)
    in_socks += nappe_flow_column (flow, i)->chamber == (gint) index && nappe_flow_column (flow, i)->sock >= 0;
  const char *name = nappe_part_display_name (NAPPE_PART (flow->layout->chambers[index].part));
  double word = nappe_flow_longest_word (flow, name, NAPPE_TEXT_REGULAR) + 10.0;
  return MAX (MAX (word, 58.0), socks + 30.0 * (ports_of (flow, (gint) index) - in_socks + 1));
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

/* Ports of a chamber, or of a sock in it, within a box. They stand in the order of the columns: straight under them if
 * they can, else evenly. */
static void
place_ports_in (NappeFlow *flow, gint chamber, gint sock, const NappeBox *box)
{
  double last = box->x + 2.0;
  gboolean straight = TRUE;
  guint n = 0, k = 0;

  for (guint i = 0; i < flow->columns->len; i++)
    {
      const NappeFlowColumn *column = nappe_flow_column (flow, i);
      if (column->chamber != chamber || column->sock != sock)
        continue;
      straight = straight && column->x >= last + 18.0 && column->x <= box->x + box->width - 20.0;
      last = column->x;
      n++;
    }
  for (guint i = 0; i < flow->columns->len; i++)
    {
      NappeFlowColumn *column = nappe_flow_column (flow, i);
      if (column->chamber != chamber || column->sock != sock)
        continue;
      k++;
      /* A single port stands to the side, so that the level has room beside it. */
      column->port = straight && sock < 0 ? column->x
                     : n == 1             ? CLAMP (column->x, box->x + 0.3 * box->width, box->x + 0.7 * box->width)
                                          : box->x + box->width * k / (n + 1.0);
    }
}

static void
place_ports (NappeFlow *flow)
{
  for (guint chamber = 0; chamber < flow->layout->n_chambers; chamber++)
    {
      NappeBox rest = flow->chambers[chamber];
      double right = rest.x + rest.width;
      rest.x = nappe_flow_place_socks (flow, chamber);
      rest.width = MAX (right - rest.x, 1.0);
      place_ports_in (flow, (gint) chamber, -1, &rest);
      for (guint i = 0; i < flow->layout->n_socks; i++)
        if (flow->layout->socks[i].chamber == chamber && flow->socks[i].width > 0.0)
          place_ports_in (flow, (gint) chamber, (gint) i, &flow->socks[i]);
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
  gboolean branches = FALSE, joins = FALSE;
  double pipes_top;

  nappe_flow_collect_columns (flow);
  nappe_flow_place_columns (flow);
  place_chambers (flow);
  place_ports (flow);
  place_bands (flow);
  raise_chambers (flow);
  place_display (flow);
  trim_boxes (flow);
  nappe_flow_raise_side (flow);
  place_lanes (flow);
  for (guint i = 0; i < flow->columns->len; i++)
    branches = branches || nappe_flow_is_branch (nappe_flow_column (flow, i));
  for (guint i = 0; i < flow->layout->n_returns; i++)
    for (guint j = 0; j < flow->layout->returns[i].n_outlets; j++)
      joins = joins || nappe_flow_joined_line (flow, &flow->layout->returns[i].outlets[j]) >= 0;
  pipes_top = flow->display.y + flow->display.height;
  flow->join_y = pipes_top + 12.0;
  flow->tee_y = pipes_top + 16.0 + (joins ? JOIN_PITCH : 0.0);
  flow->label_top = branches || joins ? flow->tee_y + 12.0 : pipes_top + 14.0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Return lines of the flow diagram: from the pump up, over the display and down at the nozzles. */
#include "picture/flow/flow-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Room that each pump in the tank takes beside the nozzles [px]. */
#define TANK_PUMP 50.0

static gint
find_column (const NappeFlow *flow, NappeColumnKind kind, guint line)
{
  for (guint i = 0; i < flow->columns->len; i++)
    if (nappe_flow_column (flow, i)->kind == kind && nappe_flow_column (flow, i)->line == line)
      return (gint) i;
  return -1;
}

gint
nappe_flow_joined_line (const NappeFlow *flow, const NappeOutletLayout *outlet)
{
  NappePart *piece = nappe_build_find (flow->build, outlet->part->into);
  NappePart *owner = NAPPE_IS_PIECE (piece) ? nappe_part_get_owner (piece) : NULL;

  while (owner != NULL && !NAPPE_IS_RETURN_LINE (owner))
    owner = nappe_part_get_owner (owner);
  for (guint i = 0; owner != NULL && i < flow->layout->n_returns; i++)
    if (flow->layout->returns[i].part == owner)
      return (gint) i;
  return -1;
}

/* Whether an outlet ends above: in the tank, a box or a side vessel. */
static gboolean
is_nozzle (const NappeFlow *flow, const NappeOutletLayout *outlet)
{
  return nappe_flow_find_chamber (flow, outlet->part->into) < 0 && nappe_flow_joined_line (flow, outlet) < 0;
}

static gboolean
is_in_tank (const NappeFlow *flow, const NappeOutletLayout *outlet)
{
  return is_nozzle (flow, outlet) && nappe_flow_find_box (flow, outlet->part->into) < 0
         && nappe_flow_find_vessel (flow, outlet->part->into) < 0;
}

/* Nozzles in the tank of the lines before one. */
static guint
nozzles_before (const NappeFlow *flow, guint line)
{
  guint n = 0;

  for (guint i = 0; i < line; i++)
    for (guint j = 0; j < flow->layout->returns[i].n_outlets; j++)
      n += is_in_tank (flow, &flow->layout->returns[i].outlets[j]);
  return n;
}

static gboolean
stands_in_tank (const NappeFlow *flow, const NappeLineLayout *line)
{
  return nappe_flow_is_local (flow, line)
         && g_str_equal (NAPPE_PUMP (NAPPE_RETURN_LINE (line->part)->pump)->chamber, nappe_flow_id (flow->build->tank));
}

/* Pumps in the tank of the lines before one. */
static guint
tank_pumps_before (const NappeFlow *flow, guint line)
{
  guint n = 0;

  for (guint i = 0; i < line; i++)
    n += stands_in_tank (flow, &flow->layout->returns[i]);
  return n;
}

/* Nozzles over the display: x of the n-th of all on one side, behind the pumps that stand in the tank there. */
static double
nozzle_x (const NappeFlow *flow, gboolean on_left, guint place, guint n)
{
  double pumps = TANK_PUMP * tank_pumps_before (flow, flow->layout->n_returns);
  double pitch = MIN (110.0, MAX (flow->display.width - 60.0 - pumps, 10.0) / MAX (n, 1));
  double off = 34.0 + pumps + pitch * place;
  return on_left ? flow->display.x + off : flow->display.x + flow->display.width - off;
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
      if (anchor == NULL || !(amount > 0.0) || !is_nozzle (flow, &line->outlets[i]))
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

/* An outlet of a return that ends above. */
typedef struct
{
  guint outlet;
  double x, y; /* of its drop, of its mouth */
} Nozzle;

static void
place_nozzle (const NappeFlow *flow, guint line, gboolean on_left, guint in_tank, Nozzle *nozzle)
{
  const NappeOutletLayout *outlet = &flow->layout->returns[line].outlets[nozzle->outlet];
  gint box = nappe_flow_find_box (flow, outlet->part->into), side = nappe_flow_find_vessel (flow, outlet->part->into);
  const NappeBox *vessel = box >= 0 ? &flow->boxes[box] : side >= 0 ? &flow->vessels[side] : &flow->display;
  const NappeFrame *frame = box >= 0    ? &flow->layout->boxes[box].frame
                            : side >= 0 ? &flow->layout->vessels[side].frame
                                        : &flow->layout->tank;
  guint before = nozzles_before (flow, line), all = nozzles_before (flow, flow->layout->n_returns);

  nozzle->x = box >= 0    ? vessel->x + 16.0
              : side >= 0 ? vessel->x + (flow->vessels_left ? 0.18 : 0.82) * vessel->width
                          : nozzle_x (flow, on_left, before + in_tank, all);
  nozzle->y = CLAMP (nappe_flow_y (vessel, frame, outlet->route.end.z), vessel->y + 8.0, vessel->y + vessel->height - 8.0);
}

/* All nozzles of a line, the nearest to where it comes up first. Returns how many. */
static guint
list_nozzles (const NappeFlow *flow, guint line, gboolean on_left, double from, Nozzle *nozzles, guint most)
{
  const NappeLineLayout *layout = &flow->layout->returns[line];
  guint n = 0, in_tank = 0;

  for (guint i = 0; i < layout->n_outlets && n < most; i++)
    {
      Nozzle nozzle = { .outlet = i };
      guint place = n;
      if (!is_nozzle (flow, &layout->outlets[i]))
        continue;
      place_nozzle (flow, line, on_left, in_tank, &nozzle);
      in_tank += is_in_tank (flow, &layout->outlets[i]);
      for (; place > 0 && fabs (nozzles[place - 1].x - from) > fabs (nozzle.x - from); place--)
        nozzles[place] = nozzles[place - 1];
      nozzles[place] = nozzle;
      n++;
    }
  return n;
}

/* What a line carries to its nozzles. */
static double
flow_to_nozzles (const NappeFlow *flow, const NappeLineLayout *line, double trunk)
{
  double sum = 0.0;

  for (guint i = 0; i < line->n_outlets; i++)
    if (is_nozzle (flow, &line->outlets[i]))
      sum += nappe_flow_outlet_flow (flow, line, (gint) i, trunk);
  return sum;
}

/* Leads a line, whose riser at x is pipes[n - 1], over the display and down at every nozzle.
 * Returns the new number of pipes. */
static guint
add_nozzles (NappeFlow *flow, guint line, gboolean on_left, double from, NappeFlowPipe *pipes, guint n)
{
  const NappeLineLayout *layout = &flow->layout->returns[line];
  double trunk = pipes[0].amount, left_over = flow_to_nozzles (flow, layout, trunk);
  double header = flow->header - NAPPE_FLOW_OVER_PITCH * line;
  Nozzle nozzles[NAPPE_FLOW_PIPES_MAX / 2];
  guint all = list_nozzles (flow, line, on_left, from, nozzles, G_N_ELEMENTS (nozzles));

  if (all > 0)
    nappe_flow_go (&pipes[n - 1], from, header);
  for (guint i = 0; i < all && n + 1 < NAPPE_FLOW_PIPES_MAX; i++)
    {
      const NappeOutletLayout *outlet = &layout->outlets[nozzles[i].outlet];
      const char *id = nappe_part_get_id (NAPPE_PART (outlet->part));
      double amount = nappe_flow_outlet_flow (flow, layout, (gint) nozzles[i].outlet, trunk), x = nozzles[i].x, y = nozzles[i].y;
      nappe_flow_go (&pipes[n - 1], x, header);
      left_over -= amount;
      if (i + 1 < all) /* a tee: down to the nozzle, and on with what is left */
        {
          pipes[n] = (NappeFlowPipe) { .amount = amount };
          nappe_flow_go (&pipes[n], x, header);
          nappe_flow_go (&pipes[n++], x, y);
          pipes[n] = (NappeFlowPipe) { .amount = left_over, .part = nappe_part_get_id (layout->part) };
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
  nappe_flow_go (pipe, column->port, box->y + box->height - 2.0 * NAPPE_FLOW_PUMP_RADIUS - 6.0);
  if (fabs (column->port - column->x) > 0.5)
    {
      nappe_flow_go (pipe, column->port, column->lane);
      nappe_flow_go (pipe, column->x, column->lane);
    }
}

void
nappe_flow_draw_pump (NappeFlow *flow, const NappeLineLayout *line, double x, double y)
{
  NappePart *pump = NAPPE_RETURN_LINE (line->part)->pump;
  const char *id = nappe_part_get_id (pump);
  double r = NAPPE_FLOW_PUMP_RADIUS;

  nappe_mark_pump (flow->scene, x, y, r, 0.0, -1.0);
  nappe_scene_hit (flow->scene, id, (NappeBox) { x - r, y - r, 2.0 * r, 2.0 * r });
  nappe_flow_anchor (flow, id, x - r - 16.0, y, x, y);
}

/* Pipes from a tee to the chambers that a line ends in. Returns the new number of pipes. */
static guint
add_branches (NappeFlow *flow, guint column, NappeFlowPipe *pipes, guint n)
{
  const NappeFlowColumn *trunk = nappe_flow_column (flow, column), *branch;
  const NappeLineLayout *line = nappe_flow_line (flow, trunk);

  for (guint next = 0; n + 2 < NAPPE_FLOW_PIPES_MAX && (branch = nappe_flow_next_branch (flow, column, &next)) != NULL;)
    {
      NappeFlowPipe *pipe = &pipes[n++];
      *pipe = (NappeFlowPipe) { .amount = nappe_flow_outlet_flow (flow, line, branch->outlet, pipes[0].amount),
                                .part = nappe_flow_column_part (flow, branch) };
      nappe_flow_go (pipe, trunk->x, flow->tee_y);
      nappe_flow_go (pipe, branch->x, flow->tee_y);
      nappe_flow_go_to_chamber (flow, pipe, branch, nappe_flow_exit_z (line, branch->outlet));
      nappe_flow_anchor_column (flow, branch);
    }
  return n;
}

/* Pipes of all lines that join this one, from their pumps to the tee. Returns the new number of pipes. */
static guint
add_joining (NappeFlow *flow, const NappeFlowColumn *trunk, NappeFlowPipe *pipes, guint n)
{
  for (guint i = 0; i < flow->layout->n_returns; i++)
    {
      const NappeLineLayout *line = &flow->layout->returns[i];
      gint column = find_column (flow, NAPPE_COLUMN_RETURN, i);
      for (guint j = 0; j < line->n_outlets && column >= 0 && i != trunk->line && n + 2 < NAPPE_FLOW_PIPES_MAX; j++)
        {
          const NappeFlowColumn *other = nappe_flow_column (flow, (guint) column);
          if (nappe_flow_joined_line (flow, &line->outlets[j]) != (gint) trunk->line)
            continue;
          pipes[n] = (NappeFlowPipe) { .amount = nappe_flow_trunk_flow (flow, other), .part = nappe_part_get_id (line->part) };
          go_from_pump (flow, &pipes[n], other);
          nappe_flow_go (&pipes[n], other->x, flow->join_y);
          nappe_flow_go (&pipes[n++], trunk->x, flow->join_y);
          break;
        }
    }
  return n;
}

/* Whether all that a line carries goes into another one, which draws it. */
static gboolean
is_drawn_by_another (const NappeFlow *flow, const NappeLineLayout *line)
{
  gint joined = line->n_outlets == 1 ? nappe_flow_joined_line (flow, &line->outlets[0]) : -1;
  return joined >= 0 && line != &flow->layout->returns[joined] && find_column (flow, NAPPE_COLUMN_RETURN, (guint) joined) >= 0;
}

static void
draw_valves_of (NappeFlow *flow, guint column)
{
  const NappeFlowColumn *trunk = nappe_flow_column (flow, column), *branch;
  const NappeLineLayout *line = nappe_flow_line (flow, trunk);

  nappe_flow_draw_valves (flow, trunk, &line->trunk, TRUE);
  for (guint next = 0; (branch = nappe_flow_next_branch (flow, column, &next)) != NULL;)
    nappe_flow_draw_valves (flow, branch, &line->outlets[branch->outlet].route, FALSE);
}

void
nappe_flow_draw_return (NappeFlow *flow, guint index)
{
  const NappeFlowColumn *column = nappe_flow_column (flow, index);
  const NappeLineLayout *line = nappe_flow_line (flow, column);
  const char *id = nappe_part_get_id (line->part);
  NappeFlowPipe pipes[NAPPE_FLOW_PIPES_MAX] = { { .amount = nappe_flow_trunk_flow (flow, column), .part = id } };
  guint n = 1;

  if (nappe_flow_is_local (flow, line))
    return;
  if (!is_drawn_by_another (flow, line))
    {
      go_from_pump (flow, &pipes[0], column);
      n = add_joining (flow, column, pipes, add_branches (flow, index, pipes, n));
      if (n > 1)
        {
          nappe_flow_go (&pipes[0], column->x, flow->tee_y);
          pipes[n] = (NappeFlowPipe) { .amount = flow_to_nozzles (flow, line, pipes[0].amount), .part = id };
          nappe_flow_go (&pipes[n++], column->x, flow->tee_y);
        }
      n = add_nozzles (flow, column->line, column->on_left, column->x, pipes, n);
      nappe_flow_draw_pipes (flow, pipes, n);
    }
  draw_valves_of (flow, index);
  if (column->chamber >= 0)
    {
      const NappeBox *box = &flow->chambers[column->chamber];
      nappe_flow_draw_pump (flow, line, column->port, box->y + box->height - NAPPE_FLOW_PUMP_RADIUS - 6.0);
    }
  nappe_flow_anchor_column (flow, column);
}

/* Name and flow of a pump that has no column to say them. */
static void
label_local (NappeFlow *flow, const NappeLineLayout *line, double x, double y, double amount)
{
  const char *name = nappe_part_display_name (line->part);
  g_autofree char *figure = nappe_quantity_format (NAPPE_QUANTITY_FLOW, amount, flow->options->units, 0);
  const char *texts[] = { name, flow->flowing ? figure : NULL };
  double r = NAPPE_FLOW_PUMP_RADIUS;

  for (guint i = 0; i < G_N_ELEMENTS (texts) && texts[i] != NULL; i++)
    {
      NappeTextStyle styles[12];
      for (guint k = 0; k < G_N_ELEMENTS (styles); k++)
        styles[k] = (NappeTextStyle) { .x = x + (k % 2 == 0 ? r + 5.0 : -r - 5.0), .align_x = k % 2 == 0 ? 0.0 : 1.0,
                                       .y = y - r + i * flow->text_line - 8.0 * (k / 2), .size = NAPPE_TEXT_SMALL,
                                       .weight = NAPPE_TEXT_STRONG, .role = NAPPE_ROLE_INK };
      nappe_flow_place_text (flow, NAPPE_LAYER_NOTE, texts[i], styles, G_N_ELEMENTS (styles), NULL);
    }
}

void
nappe_flow_draw_local_return (NappeFlow *flow, guint line)
{
  const NappeLineLayout *layout = &flow->layout->returns[line];
  const char *id = nappe_part_get_id (layout->part);
  gint side = nappe_flow_find_vessel (flow, NAPPE_PUMP (NAPPE_RETURN_LINE (layout->part)->pump)->chamber);
  gint column = find_column (flow, NAPPE_COLUMN_RETURN, line);
  const NappeBox *box = side >= 0 ? &flow->vessels[side] : &flow->display;
  NappeFlowColumn words = { .kind = NAPPE_COLUMN_RETURN, .line = line };
  double amount = nappe_flow_trunk_flow (flow, &words);
  double off = 34.0 + TANK_PUMP * tank_pumps_before (flow, line);
  double x = side >= 0            ? box->x + 0.5 * box->width
             : flow->vessels_left ? box->x + MIN (off, 0.5 * box->width)
                                  : box->x + box->width - MIN (off, 0.5 * box->width);
  double y = box->y + box->height - NAPPE_FLOW_PUMP_RADIUS - 8.0;
  NappeFlowPipe pipes[NAPPE_FLOW_PIPES_MAX] = { { .amount = amount, .part = id } };
  guint n = 1;

  nappe_flow_go (&pipes[0], x, y);
  if (column >= 0)
    {
      /* What goes down to a chamber leaves the header at the line's column. */
      double header = flow->header - NAPPE_FLOW_OVER_PITCH * line, down = nappe_flow_column (flow, (guint) column)->x;
      pipes[n] = (NappeFlowPipe) { .amount = amount - flow_to_nozzles (flow, layout, amount), .part = id };
      nappe_flow_go (&pipes[0], x, header);
      nappe_flow_go (&pipes[n], x, header);
      nappe_flow_go (&pipes[n], down, header);
      nappe_flow_go (&pipes[n++], down, flow->tee_y);
      n = add_branches (flow, (guint) column, pipes, n);
      pipes[n] = (NappeFlowPipe) { .amount = flow_to_nozzles (flow, layout, amount), .part = id };
      nappe_flow_go (&pipes[n++], x, header);
      draw_valves_of (flow, (guint) column);
    }
  n = add_nozzles (flow, line, flow->vessels_left, x, pipes, n);
  nappe_flow_draw_pipes (flow, pipes, n);
  nappe_flow_draw_pump (flow, layout, x, y);
  nappe_flow_anchor (flow, id, x - NAPPE_FLOW_MARK_OFFSET, y - 40.0, x, y - 30.0);
}

/* How many equal pumps stand side by side. */
static void
label_count (NappeFlow *flow, const NappeLineLayout *line, double x, double y)
{
  int count = NAPPE_PUMP (NAPPE_RETURN_LINE (line->part)->pump)->count;
  double r = NAPPE_FLOW_PUMP_RADIUS;
  NappeTextStyle styles[8];

  if (count <= 1)
    return;
  /* Translators: beside the sign of a pump: how many equal ones stand side by side */
  g_autofree char *times = g_strdup_printf (_("%d ×"), count);
  for (guint i = 0; i < G_N_ELEMENTS (styles); i++)
    styles[i] = (NappeTextStyle) { .x = x + (i % 2 == 0 ? r + 4.0 : -r - 4.0), .y = y - 9.0 * (i / 2),
                                   .align_x = i % 2 == 0 ? 0.0 : 1.0, .align_y = 0.5, .size = NAPPE_TEXT_SMALL,
                                   .role = NAPPE_ROLE_INK };
  nappe_flow_place_text (flow, NAPPE_LAYER_NOTE, times, styles, G_N_ELEMENTS (styles), NULL);
}

void
nappe_flow_label_returns (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_returns; i++)
    {
      const NappeLineLayout *line = &flow->layout->returns[i];
      const NappeFlowAnchor *pump = g_hash_table_lookup (flow->anchors, nappe_part_get_id (NAPPE_RETURN_LINE (line->part)->pump));
      NappeFlowColumn words = { .kind = NAPPE_COLUMN_RETURN, .line = i };

      label_nozzles (flow, line);
      if (pump == NULL)
        continue;
      label_count (flow, line, pump->to_x, pump->to_y);
      if (nappe_flow_is_local (flow, line))
        label_local (flow, line, pump->to_x, pump->to_y, nappe_flow_trunk_flow (flow, &words));
    }
}

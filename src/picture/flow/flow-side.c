/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands beside or within the vessels of the flow diagram: side vessels with their spouts, inner
 * boxes with their joints, filter socks. */
#include "picture/flow/flow-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define INNER_LEAST 78.0     /* width of an inner box on little paper, and where its level has room beside what falls in [px] */
#define INNER_MOST 94.0
#define INNER_SHARE 0.1      /* of the paper */
#define SIDE_LEAST 92.0      /* least width of a side vessel [px] */
#define SIDE_MOST 132.0
#define SIDE_GAP 34.0        /* between a side vessel and what is next to it [px] */
#define SIDE_HEIGHT 74.0     /* least height of a side vessel [px] */
#define SOCK_LEAST 70.0      /* least width of a sock [px] */
#define SOCK_PORT 26.0       /* that each line into it wants [px] */
#define SOCK_GAP 12.0

static const NappeStyle wall_style = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_CUT };

double
nappe_flow_inner_width (const NappeFlow *flow, gint box)
{
  if (box < 0 || !flow->layout->boxes[box].has_inner)
    return 0.0;
  return flow->squeeze * CLAMP (INNER_SHARE * nappe_scene_width (flow->scene), INNER_LEAST, INNER_MOST);
}

static double
side_width (NappeFlow *flow, guint index)
{
  const char *name = nappe_part_display_name (NAPPE_PART (flow->layout->vessels[index].part));
  return flow->squeeze * CLAMP (nappe_flow_text_width (flow, name, NAPPE_TEXT_STRONG) + 16.0, SIDE_LEAST, SIDE_MOST);
}

double
nappe_flow_side_width (NappeFlow *flow)
{
  double width = 0.0;

  for (guint i = 0; i < flow->layout->n_vessels; i++)
    width += side_width (flow, i) + SIDE_GAP;
  return width;
}

void
nappe_flow_place_inners (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    {
      const NappeBox *box = &flow->boxes[i];
      double width = nappe_flow_inner_width (flow, (gint) i);
      double x = nappe_flow_box_goes_left (flow, (gint) i) ? box->x + box->width : box->x - width;
      flow->inners[i] = (NappeBox) { x, box->y, width, box->height };
    }
}

double
nappe_flow_place_side_vessels (NappeFlow *flow, double edge)
{
  for (guint i = 0; i < flow->layout->n_vessels; i++)
    {
      double width = side_width (flow, i);
      double x = flow->vessels_left ? edge : edge - width;
      flow->vessels[i] = (NappeBox) { x, flow->display.y, width, flow->display.height };
      edge += flow->vessels_left ? width + SIDE_GAP : -width - SIDE_GAP;
    }
  return edge;
}

double
nappe_flow_sock_width (const NappeFlow *flow, guint sock)
{
  guint ports = 0;

  for (guint i = 0; i < flow->columns->len; i++)
    ports += nappe_flow_column (flow, i)->sock == (gint) sock;
  return ports > 0 ? MAX (SOCK_LEAST, SOCK_PORT * (ports + 1)) : 0.0;
}

double
nappe_flow_place_socks (NappeFlow *flow, guint chamber)
{
  const NappeBox *box = &flow->chambers[chamber];
  double x = box->x, most = 0.8 * box->width, wish = 0.0, share;

  for (guint i = 0; i < flow->layout->n_socks; i++)
    if (flow->layout->socks[i].chamber == chamber && nappe_flow_sock_width (flow, i) > 0.0)
      wish += nappe_flow_sock_width (flow, i) + SOCK_GAP;
  share = wish > most ? most / wish : 1.0;
  for (guint i = 0; i < flow->layout->n_socks; i++)
    {
      double width = nappe_flow_sock_width (flow, i) * share;
      if (flow->layout->socks[i].chamber != chamber || !(width > 0.0))
        continue;
      flow->socks[i] = (NappeBox) { x + SOCK_GAP * share, box->y, width, box->height };
      x += width + SOCK_GAP * share;
    }
  return x;
}

/* A part of a larger vessel's height, at true heights against it. */
static void
set_heights (NappeBox *box, const NappeBox *scale, const NappeFrame *frame, double low, double high, double least)
{
  double bottom = scale->y + scale->height, top = CLAMP (nappe_flow_y (scale, frame, high), scale->y, bottom - 12.0);

  bottom = CLAMP (nappe_flow_y (scale, frame, low), top + 10.0, bottom);
  box->y = top;
  box->height = MAX (bottom - top, MIN (least, scale->y + scale->height - top));
}

void
nappe_flow_raise_side (NappeFlow *flow)
{
  const NappeLayout *layout = flow->layout;

  for (guint i = 0; i < layout->n_boxes; i++)
    {
      /* Like the outer box it stands on the display's floor, whatever height its own floor has. */
      NappeBox *inner = &flow->inners[i];
      double bottom = flow->display.y + flow->display.height;
      double top = nappe_flow_y (&flow->display, &layout->tank, fmax (layout->boxes[i].inner.rim, layout->boxes[i].weir));
      inner->y = CLAMP (top, flow->display.y, bottom - 0.5 * flow->display.height);
      inner->height = bottom - inner->y;
    }
  for (guint i = 0; i < layout->n_vessels; i++)
    set_heights (&flow->vessels[i], &flow->display, &layout->tank, layout->vessels[i].frame.floor, layout->vessels[i].frame.rim,
                 SIDE_HEIGHT);
  for (guint i = 0; i < layout->n_socks; i++)
    set_heights (&flow->socks[i], &flow->sump, &layout->sump, layout->socks[i].frame.floor, layout->socks[i].frame.rim, 40.0);
}

static void
draw_inner (NappeFlow *flow, guint index)
{
  const NappeBox *box = &flow->inners[index];
  double bottom = box->y + box->height;

  /* Its wall with the weir is drawn with the box. */
  nappe_scene_stroke (flow->scene, NAPPE_LAYER_VESSEL, box->x, bottom, box->x + box->width, bottom, &wall_style);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_DIMENSION,
                     nappe_box_between (box->x, bottom - 1.0, box->x + box->width, bottom + 1.0));
}

static void
draw_sock (NappeFlow *flow, guint index)
{
  const NappeBox *box = &flow->socks[index];
  NappeStyle cloth = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE, .dashed = TRUE };
  NappeStyle dirt = { .fill = NAPPE_ROLE_SOFT, .opacity = 0.3 };
  double closed = CLAMP (flow->layout->socks[index].part->load, 0.0, 1.0), bottom = box->y + box->height;
  NappeBox dirty = { box->x, bottom - closed * box->height, box->width, closed * box->height };

  if (closed > 0.0)
    nappe_scene_box (flow->scene, NAPPE_LAYER_VESSEL, dirty, &dirt);
  nappe_scene_move (flow->scene, box->x, box->y);
  nappe_scene_line (flow->scene, box->x, bottom);
  nappe_scene_line (flow->scene, box->x + box->width, bottom);
  nappe_scene_line (flow->scene, box->x + box->width, box->y);
  nappe_scene_paint (flow->scene, NAPPE_LAYER_VESSEL, &cloth);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_DIMENSION, nappe_box_between (box->x - 1.0, box->y, box->x + 1.0, bottom));
  nappe_scene_block (flow->scene, NAPPE_BLOCK_DIMENSION,
                     nappe_box_between (box->x + box->width - 1.0, box->y, box->x + box->width + 1.0, bottom));
}

void
nappe_flow_draw_side (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    if (flow->inners[i].width > 0.0)
      draw_inner (flow, i);
  for (guint i = 0; i < flow->layout->n_vessels; i++)
    {
      const NappeBox *box = &flow->vessels[i];
      nappe_flow_draw_open_tank (flow, box->x, box->y, box->x + box->width, box->y, box->y + box->height);
    }
  for (guint i = 0; i < flow->layout->n_socks; i++)
    if (flow->socks[i].width > 0.0)
      draw_sock (flow, i);
}

/* From the inner box to the outer one: through the wall between them, or over it. */
static void
draw_joint (NappeFlow *flow, guint index)
{
  const NappeBoxLayout *layout = &flow->layout->boxes[index];
  const NappeBox *inner = &flow->inners[index], *outer = &flow->boxes[index];
  const char *id = nappe_flow_id (layout->part);
  gint link = nappe_network_find_link (flow->study->network, NAPPE_LINK_JOINT, id);
  NappeFlowPipe pipe = { .amount = flow->flowing && link >= 0 ? flow->state->flow[link] : 0.0, .part = id };
  double way = nappe_flow_box_is_left (flow, index) ? -1.0 : 1.0, wall = way > 0.0 ? outer->x : outer->x + outer->width;
  double y = CLAMP (nappe_flow_y (inner, &layout->inner, layout->joint), inner->y + 14.0, inner->y + inner->height - 8.0);

  if (layout->part->joint_count < 1)
    return;
  nappe_flow_go (&pipe, wall - way * 13.0, y);
  if (layout->part->style == NAPPE_OVERFLOW_RIM)
    {
      double over = MIN (inner->y, outer->y) - 9.0;
      nappe_flow_go (&pipe, wall - way * 13.0, over);
      nappe_flow_go (&pipe, wall + way * 13.0, over);
      y = CLAMP (nappe_flow_y (outer, &layout->frame, layout->joint), outer->y + 14.0, outer->y + outer->height - 8.0);
    }
  nappe_flow_go (&pipe, wall + way * 13.0, y);
  nappe_flow_draw_pipes (flow, &pipe, 1);
}

void
nappe_flow_draw_joints (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    if (flow->inners[i].width > 0.0)
      draw_joint (flow, i);
}

double
nappe_flow_spout_flow (const NappeFlow *flow, guint vessel)
{
  gint link = nappe_network_find_link (flow->study->network, NAPPE_LINK_WEIR,
                                       nappe_flow_id (flow->layout->vessels[vessel].part));
  return flow->flowing && link >= 0 && isfinite (flow->state->flow[link]) ? flow->state->flow[link] : 0.0;
}

static const NappeFlowColumn *
spout_column (const NappeFlow *flow, guint vessel)
{
  for (guint i = 0; i < flow->columns->len; i++)
    {
      const NappeFlowColumn *column = nappe_flow_column (flow, i);
      if (column->kind == NAPPE_COLUMN_SPOUT && column->line == vessel)
        return column;
    }
  return NULL;
}

static double
spout_y (const NappeFlow *flow, guint index)
{
  const NappeVesselLayout *vessel = &flow->layout->vessels[index];
  const NappeBox *box = &flow->vessels[index];
  return CLAMP (nappe_flow_y (box, &vessel->frame, vessel->spout), box->y + 4.0, box->y + box->height - 8.0);
}

/* The surface of what a spout pours into, or its middle. */
static double
surface_y (const NappeFlow *flow, const NappeBox *box, const NappeFrame *frame, const char *id)
{
  double level = nappe_flow_level (flow, flow->state, id);
  double y = isnan (level) ? box->y + 0.5 * box->height : nappe_flow_y (box, frame, level);
  return CLAMP (y, box->y + 8.0, box->y + box->height - 8.0);
}

/* Down through the vessel's floor, over to its column and on to the chamber. */
static void
go_down (NappeFlow *flow, NappeFlowPipe *pipe, guint index, const NappeFlowColumn *column, double spout)
{
  const NappeBox *box = &flow->vessels[index];
  double x = box->x + (flow->vessels_left ? 0.82 : 0.18) * box->width, y = flow->display.y + flow->display.height + 7.0;

  nappe_flow_go (pipe, x, spout);
  nappe_flow_go (pipe, x, y);
  nappe_flow_go (pipe, column->x, y);
  nappe_flow_go_to_chamber (flow, pipe, column, flow->layout->sump.floor);
  nappe_flow_anchor_column (flow, column);
}

/* From the vessel's side into the tank or a box: straight on to the display beside it, else over what lies between. */
static void
go_across (NappeFlow *flow, NappeFlowPipe *pipe, guint index, double spout)
{
  const NappeBox *box = &flow->vessels[index];
  const char *into = flow->layout->vessels[index].part->into;
  gint other = nappe_flow_find_box (flow, into);
  const NappeBox *target = other >= 0 ? &flow->boxes[other] : &flow->display;
  const NappeFrame *frame = other >= 0 ? &flow->layout->boxes[other].frame : &flow->layout->tank;
  double way = flow->vessels_left ? 1.0 : -1.0, edge = way > 0.0 ? box->x + box->width : box->x;
  double gap = way > 0.0 ? target->x - edge : edge - target->x - target->width;
  double x = way > 0.0 ? target->x + 15.0 : target->x + target->width - 15.0;

  nappe_flow_go (pipe, edge - way * 6.0, spout);
  if (gap > SIDE_GAP + 8.0)
    {
      double over = flow->header - NAPPE_FLOW_OVER_PITCH * (flow->layout->n_returns + index);
      nappe_flow_go (pipe, edge + way * 0.5 * SIDE_GAP, spout);
      nappe_flow_go (pipe, edge + way * 0.5 * SIDE_GAP, over);
      nappe_flow_go (pipe, x, over);
    }
  else
    nappe_flow_go (pipe, x, spout);
  nappe_flow_go (pipe, x, surface_y (flow, target, frame, into));
}

void
nappe_flow_draw_spouts (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_vessels; i++)
    {
      const NappeVesselLayout *vessel = &flow->layout->vessels[i];
      const NappeFlowColumn *column = spout_column (flow, i);
      NappeFlowPipe pipe = { .amount = nappe_flow_spout_flow (flow, i), .part = nappe_flow_id (vessel->part) };
      double spout = spout_y (flow, i);
      gboolean known = column != NULL || nappe_flow_find_box (flow, vessel->part->into) >= 0
                       || g_str_equal (vessel->part->into, nappe_flow_id (flow->build->tank));
      if (!known)
        continue;
      if (column != NULL)
        go_down (flow, &pipe, i, column, spout);
      else
        go_across (flow, &pipe, i, spout);
      nappe_flow_draw_pipes (flow, &pipe, 1);
    }
}

/* Lines of text one below the other at the first of several heights in a box. FALSE: there is no room. */
static gboolean
write_in (NappeFlow *flow, const NappeBox *box, const char *text, NappeTextWeight weight, guint max_lines)
{
  g_autoptr (GPtrArray) lines = nappe_flow_wrap (flow, text, weight, box->width - 10.0, max_lines);
  double height = lines->len * flow->text_line, low = box->y + box->height - 5.0 - height;

  for (double y = low; y > box->y + 2.0; y -= 5.0)
    {
      NappeBox place = { box->x + 4.0, y, box->width - 8.0, height };
      if (!nappe_flow_is_clear (flow, &place, 1.0))
        continue;
      for (guint i = 0; i < lines->len; i++)
        {
          NappeTextStyle style = { .x = box->x + 0.5 * box->width, .y = y + i * flow->text_line, .align_x = 0.5,
                                   .size = NAPPE_TEXT_SMALL, .weight = weight, .role = NAPPE_ROLE_INK };
          nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, g_ptr_array_index (lines, i), &style);
        }
      return TRUE;
    }
  return FALSE;
}

/* The height of a surface that had no room for it. */
static void
write_level_in (NappeFlow *flow, const NappeBox *box, const char *id)
{
  double level = nappe_flow_level (flow, flow->state, id);
  g_autofree char *height = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, level, flow->options->units, 0);

  /* Half a figure is none. */
  if (g_hash_table_contains (flow->unmarked, id)
      && nappe_flow_text_width (flow, height, NAPPE_TEXT_REGULAR) <= box->width - 10.0)
    write_in (flow, box, height, NAPPE_TEXT_REGULAR, 1);
}

/* How much pours over a spout, where no column says it. */
static void
label_spout (NappeFlow *flow, guint index)
{
  const NappeBox *box = &flow->vessels[index];
  double amount = nappe_flow_spout_flow (flow, index), spout = spout_y (flow, index);
  g_autofree char *text = nappe_quantity_format (NAPPE_QUANTITY_FLOW, amount, flow->options->units, 0);
  double edge = flow->vessels_left ? box->x + box->width : box->x;
  NappeTextStyle styles[6];

  if (!(amount > 0.0) || spout_column (flow, index) != NULL)
    return;
  for (guint i = 0; i < G_N_ELEMENTS (styles); i++)
    styles[i] = (NappeTextStyle) { .x = edge + (flow->vessels_left ? -8.0 : 8.0), .y = spout + 10.0 + 9.0 * i,
                                   .align_x = flow->vessels_left ? 1.0 : 0.0, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };
  nappe_flow_place_text (flow, NAPPE_LAYER_NOTE, text, styles, G_N_ELEMENTS (styles), NULL);
}

void
nappe_flow_name_side (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_vessels; i++)
    {
      NappePart *part = NAPPE_PART (flow->layout->vessels[i].part);
      g_autofree char *back = flow->state != NULL && !flow->flowing ? nappe_flow_run_back_words (flow, nappe_part_get_id (part))
                                                                    : NULL;
      write_in (flow, &flow->vessels[i], nappe_part_display_name (part), NAPPE_TEXT_STRONG, 2);
      write_level_in (flow, &flow->vessels[i], nappe_part_get_id (part));
      label_spout (flow, i);
      if (back != NULL)
        write_in (flow, &flow->vessels[i], back, NAPPE_TEXT_REGULAR, 2);
    }
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    if (flow->inners[i].width > 0.0)
      {
        g_autofree char *id = g_strconcat (nappe_flow_id (flow->layout->boxes[i].part), NAPPE_INNER_SUFFIX, NULL);
        write_in (flow, &flow->inners[i], _("inner box"), NAPPE_TEXT_REGULAR, 2);
        write_level_in (flow, &flow->inners[i], id);
      }
}

/* "2 × Filter socks, 60 % closed". Transfer full. */
static char *
sock_words (const NappeFlow *flow, const NappeEquipment *sock)
{
  const char *plain = nappe_part_display_name (NAPPE_PART ((gpointer) sock));
  /* Translators: how many equal pieces of equipment, and their name: "2 × Filter sock" */
  g_autofree char *name = sock->count > 1 ? g_strdup_printf (_("%1$d × %2$s"), sock->count, plain) : g_strdup (plain);
  g_autofree char *closed = nappe_quantity_format (NAPPE_QUANTITY_SHARE, sock->load, flow->options->units, 0);

  if (!(sock->load > 0.0))
    return g_steal_pointer (&name);
  /* Translators: a filter sock and the share of its cloth that dirt has closed: "Filter sock, 40 % closed" */
  return g_strdup_printf (_("%1$s, %2$s closed"), name, closed);
}

void
nappe_flow_name_socks (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_socks; i++)
    {
      const NappeSockLayout *sock = &flow->layout->socks[i];
      const NappeBox *box = &flow->socks[i];
      g_autofree char *words = sock_words (flow, sock->part);
      const char *id = nappe_flow_id (sock->part);
      if (!(box->width > 0.0))
        continue;
      /* A sock without room for its name gets a tag beside it, as other equipment does. */
      if (write_in (flow, box, words, NAPPE_TEXT_REGULAR, 4))
        g_hash_table_insert (flow->tags, g_strdup (id), g_memdup2 (box, sizeof *box));
      write_level_in (flow, box, id);
    }
}

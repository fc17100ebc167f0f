/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Display, overflow boxes and chambers of the flow diagram with their water and names. */
#include "picture/flow/flow-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define SEAM 0.5 /* by which the water of neighbours overlaps, so that no light shows between them [px] */
#define WALL 4.0 /* thickness of a baffle or of a weir's wall [px] */

double
nappe_flow_y (const NappeBox *box, const NappeFrame *frame, double z)
{
  double height = frame->rim - frame->floor;
  double share = height > 0.0 ? (z - frame->floor) / height : 0.0;

  /* What stands above the rim shows just above it. */
  return box->y + box->height * (1.0 - CLAMP (share, 0.0, 1.03));
}

const char *
nappe_flow_id (gpointer part)
{
  return nappe_part_get_id (NAPPE_PART (part));
}

static NappeFlowVessel
make_vessel (gpointer part, const char *suffix, const NappeBox *box, const NappeFrame *frame)
{
  NappeFlowVessel vessel = { .part = nappe_flow_id (part), .box = box, .frame = frame, .chamber = -1, .around = -1,
                             .clear_from = box->x };

  g_snprintf (vessel.id, sizeof vessel.id, "%s%s", vessel.part, suffix);
  return vessel;
}

/* x behind the socks of a chamber. */
static double
behind_socks (const NappeFlow *flow, guint chamber)
{
  double x = flow->chambers[chamber].x;

  for (guint i = 0; i < flow->layout->n_socks; i++)
    if (flow->layout->socks[i].chamber == chamber && flow->socks[i].width > 0.0)
      x = MAX (x, flow->socks[i].x + flow->socks[i].width);
  return x;
}

gboolean
nappe_flow_vessel (const NappeFlow *flow, guint n, NappeFlowVessel *vessel)
{
  const NappeLayout *layout = flow->layout;
  guint counts[] = { 1, layout->n_boxes, layout->n_boxes, layout->n_vessels, layout->n_chambers, layout->n_socks }, kind = 0;

  while (kind < G_N_ELEMENTS (counts) && n >= counts[kind])
    n -= counts[kind++];
  if (kind == 0)
    *vessel = make_vessel (flow->build->tank, "", &flow->display, &layout->tank);
  else if (kind == 1)
    *vessel = make_vessel (layout->boxes[n].part, "", &flow->boxes[n], &layout->boxes[n].frame);
  else if (kind == 2)
    *vessel = make_vessel (layout->boxes[n].part, NAPPE_INNER_SUFFIX, &flow->inners[n], &layout->boxes[n].inner);
  else if (kind == 3)
    *vessel = make_vessel (layout->vessels[n].part, "", &flow->vessels[n], &layout->vessels[n].frame);
  else if (kind == 4)
    *vessel = make_vessel (layout->chambers[n].part, "", &flow->chambers[n], &layout->chambers[n].frame);
  else if (kind == 5)
    *vessel = make_vessel (layout->socks[n].part, "", &flow->socks[n], &layout->socks[n].frame);
  else
    return FALSE;
  if (kind == 4)
    {
      vessel->chamber = (gint) n;
      vessel->clear_from = behind_socks (flow, n);
    }
  if (kind == 5)
    vessel->around = (gint) layout->socks[n].chamber;
  return TRUE;
}

double
nappe_flow_level (const NappeFlow *flow, const NappeState *state, const char *id)
{
  return state != NULL ? nappe_study_level (flow->study, state, id) : NAN;
}

static void
draw_water (NappeFlow *flow, const NappeFlowVessel *vessel)
{
  NappeStyle water = { .fill = NAPPE_ROLE_WATER_TOP, .fill_deep = NAPPE_ROLE_WATER_DEEP };
  double level = nappe_flow_level (flow, flow->state, vessel->id);
  double bottom = vessel->box->y + vessel->box->height, y;

  if (isnan (level) || !(vessel->box->width > 0.0))
    return;
  y = nappe_flow_y (vessel->box, vessel->frame, level);
  nappe_scene_box (flow->scene, NAPPE_LAYER_WATER, (NappeBox) { vessel->box->x, y, vessel->box->width + SEAM, bottom - y },
                   &water);
}

void
nappe_flow_draw_open_tank (NappeFlow *flow, double left, double left_top, double right, double right_top, double bottom)
{
  NappeStyle wall = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_CUT };

  nappe_scene_move (flow->scene, left, left_top);
  nappe_scene_line (flow->scene, left, bottom);
  nappe_scene_line (flow->scene, right, bottom);
  nappe_scene_line (flow->scene, right, right_top);
  nappe_scene_paint (flow->scene, NAPPE_LAYER_VESSEL, &wall);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_DIMENSION, nappe_box_between (left - 1.0, left_top, left + 1.0, bottom));
  nappe_scene_block (flow->scene, NAPPE_BLOCK_DIMENSION, nappe_box_between (right - 1.0, right_top, right + 1.0, bottom));
  nappe_scene_block (flow->scene, NAPPE_BLOCK_DIMENSION, nappe_box_between (left, bottom - 1.0, right, bottom + 1.0));
}

gboolean
nappe_flow_box_is_left (const NappeFlow *flow, guint index)
{
  return flow->boxes[index].x < flow->display.x;
}

/* x of the wall over which a box is fed: the one toward the display. */
double
nappe_flow_weir_x (const NappeFlow *flow, guint index)
{
  const NappeBox *box = flow->inners[index].width > 0.0 ? &flow->inners[index] : &flow->boxes[index];
  return nappe_flow_box_is_left (flow, index) ? box->x + box->width : box->x;
}

double
nappe_flow_weir_y (const NappeFlow *flow, guint index)
{
  return nappe_flow_y (&flow->display, &flow->layout->tank, flow->layout->boxes[index].weir);
}

static void
draw_box (NappeFlow *flow, guint index)
{
  const NappeBox *box = &flow->boxes[index];
  double bottom = box->y + box->height, x = nappe_flow_weir_x (flow, index), y = nappe_flow_weir_y (flow, index);
  gboolean left = nappe_flow_box_is_left (flow, index);
  NappeStyle wall = { .fill = NAPPE_ROLE_GLASS, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };

  if (flow->inners[index].width > 0.0) /* closed toward its inner box, which has the weir */
    nappe_flow_draw_open_tank (flow, box->x, box->y, box->x + box->width, box->y, bottom);
  else if (left)
    nappe_flow_draw_open_tank (flow, box->x, box->y, box->x + box->width, bottom, bottom);
  else
    nappe_flow_draw_open_tank (flow, box->x, bottom, box->x + box->width, box->y, bottom);
  nappe_scene_box (flow->scene, NAPPE_LAYER_VESSEL, (NappeBox) { x - 0.5 * WALL, y, WALL, bottom - y }, &wall);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_DIMENSION, (NappeBox) { x - 0.5 * WALL, y, WALL, bottom - y });
}

static void
draw_display (NappeFlow *flow)
{
  double bottom = flow->display.y + flow->display.height;
  double left = flow->display.x, right = left + flow->display.width;
  double left_top = flow->display.y, right_top = flow->display.y;

  /* Where a box adjoins, its weir is the wall. */
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    {
      if (fabs (nappe_flow_weir_x (flow, i) - left) < 1.0)
        left_top = bottom;
      if (fabs (nappe_flow_weir_x (flow, i) - right) < 1.0)
        right_top = bottom;
    }
  nappe_flow_draw_open_tank (flow, left, left_top, right, right_top, bottom);
}

void
nappe_flow_baffle_place (const NappeFlow *flow, guint index, double *x, double *top, double *gap)
{
  const NappeBaffleLayout *baffle = &flow->layout->baffles[index];

  *x = flow->chambers[index].x + flow->chambers[index].width;
  *top = nappe_flow_y (&flow->sump, &flow->layout->sump, baffle->top);
  *gap = nappe_flow_y (&flow->sump, &flow->layout->sump, baffle->gap_top);
  if (baffle->part->gap_height > 0.0)
    *gap = MIN (*gap, flow->sump.y + flow->sump.height - 9.0); /* a gap that can be seen */
}

gboolean
nappe_flow_has_baffle (const NappeFlow *flow, guint index)
{
  return index < flow->layout->n_baffles && index + 1 < flow->layout->n_chambers;
}

static void
draw_sump (NappeFlow *flow)
{
  NappeStyle wall = { .fill = NAPPE_ROLE_GLASS, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };

  if (flow->layout->n_chambers == 0)
    return;
  for (guint i = 0; nappe_flow_has_baffle (flow, i); i++)
    {
      double x, top, gap;
      NappeBox box;
      nappe_flow_baffle_place (flow, i, &x, &top, &gap);
      box = (NappeBox) { x - 0.5 * WALL, top, WALL, MAX (gap - top, 1.0) };
      nappe_scene_box (flow->scene, NAPPE_LAYER_VESSEL, box, &wall);
      nappe_scene_block (flow->scene, NAPPE_BLOCK_DIMENSION, box);
      nappe_scene_hit (flow->scene, nappe_flow_id (flow->layout->baffles[i].part), nappe_box_grown (box, 4.0));
      nappe_flow_anchor (flow, nappe_flow_id (flow->layout->baffles[i].part), x, top - 24.0, x, top);
    }
  nappe_flow_draw_open_tank (flow, flow->sump.x, flow->sump.y, flow->sump.x + flow->sump.width, flow->sump.y,
                             flow->sump.y + flow->sump.height);
  nappe_flow_anchor (flow, nappe_flow_id (flow->build->sump), flow->sump.x + flow->sump.width - 16.0, flow->sump.y - 14.0,
                     flow->sump.x + flow->sump.width, flow->sump.y);
}

/* Findings on the display stand at its floor, on others under the rim: there is most room. */
static void
anchor_vessel (NappeFlow *flow, const NappeFlowVessel *vessel, gboolean display)
{
  double x = display ? vessel->box->x + 22.0 : vessel->box->x + vessel->box->width - 20.0;
  double y = display ? vessel->box->y + vessel->box->height - 20.0 : vessel->box->y + 18.0;

  nappe_flow_anchor (flow, vessel->part, x, y, x, y);
}

void
nappe_flow_draw_vessels (NappeFlow *flow)
{
  NappeFlowVessel vessel;

  nappe_scene_hit (flow->scene, nappe_flow_id (flow->build->sump), nappe_box_grown (flow->sump, 6.0));
  for (guint i = 0; nappe_flow_vessel (flow, i, &vessel); i++)
    {
      if (!(vessel.box->width > 0.0))
        continue;
      draw_water (flow, &vessel);
      nappe_scene_hit (flow->scene, vessel.part, *vessel.box);
      anchor_vessel (flow, &vessel, i == 0);
    }
  draw_display (flow);
  nappe_flow_draw_side (flow);
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    draw_box (flow, i);
  draw_sump (flow);
}

static void
name_display (NappeFlow *flow)
{
  double middle = flow->display.x + 0.5 * flow->display.width;
  double y = flow->display.y + 0.62 * flow->display.height;
  g_autoptr (GPtrArray) lines = nappe_flow_wrap (flow, nappe_part_display_name (flow->build->tank), NAPPE_TEXT_STRONG,
                                                 flow->display.width - 12.0, 2);
  g_autofree char *volume = NULL;

  /* The study knows the volume of the running state alone. */
  if (flow->state != NULL && flow->flowing && !flow->at_moment)
    volume = nappe_quantity_format (NAPPE_QUANTITY_VOLUME, flow->study->display_volume, flow->options->units, 0);
  else if (flow->state != NULL && !flow->flowing)
    volume = nappe_flow_run_back_words (flow, nappe_flow_id (flow->build->tank));
  for (guint i = 0; i < lines->len + 1; i++)
    {
      gboolean name = i < lines->len;
      const char *text = name ? g_ptr_array_index (lines, i) : volume;
      static const double aside[] = { 0.0, -0.16, 0.16, -0.28, 0.28 };
      static const double lower[] = { 0.0, 6.0, 12.0, 18.0, 24.0, -8.0, -16.0, -24.0 };
      NappeTextStyle styles[G_N_ELEMENTS (aside) * G_N_ELEMENTS (lower)];
      NappeBox taken;
      double lowest = flow->display.y + flow->display.height - flow->text_line - 4.0;
      for (guint j = 0; j < G_N_ELEMENTS (styles); j++)
        styles[j] = (NappeTextStyle) { .x = middle + aside[j / G_N_ELEMENTS (lower)] * flow->display.width,
                                       /* Further lines stay below the first one. */
                                       .y = MIN (y + (i > 0 ? fabs (lower[j % G_N_ELEMENTS (lower)])
                                                            : lower[j % G_N_ELEMENTS (lower)]), lowest),
                                       .align_x = 0.5, .size = NAPPE_TEXT_SMALL,
                                       .weight = name ? NAPPE_TEXT_STRONG : NAPPE_TEXT_REGULAR, .role = NAPPE_ROLE_INK };
      if (text != NULL && nappe_flow_text_width (flow, text, styles[0].weight) < flow->display.width - 8.0
          && nappe_flow_place_text (flow, NAPPE_LAYER_NOTE, text, styles, G_N_ELEMENTS (styles), &taken))
        {
          y = taken.y + taken.height;
          middle = taken.x + 0.5 * taken.width;
        }
    }
}

typedef enum { AT_FLOOR, UNDER_RIM, AT_FLOOR_OVER_LINES } BoxPlace;

/* Lines of text in a box from x on; FALSE when there is no room for them. */
static gboolean
place_box_lines (NappeFlow *flow, const NappeBox *box, double x, GPtrArray *lines, BoxPlace where)
{
  NappeTextStyle style = { .x = x, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };
  double height = lines->len * flow->text_line, widest = 0.0;
  NappeBox place;

  for (guint i = 0; i < lines->len; i++)
    widest = MAX (widest, nappe_flow_text_width (flow, g_ptr_array_index (lines, i), NAPPE_TEXT_STRONG));
  place = (NappeBox) { x, where == UNDER_RIM ? box->y + 6.0 : box->y + box->height - 6.0 - height, widest, height };
  if (x + widest > box->x + box->width - 4.0 || place.y < box->y
      || !(where == AT_FLOOR_OVER_LINES ? nappe_label_is_free (flow->scene, &place, 2.0)
                                        : nappe_flow_is_clear (flow, &place, 2.0)))
    return FALSE;
  for (guint i = 0; i < lines->len; i++)
    {
      style.y = place.y + i * flow->text_line;
      style.weight = i == 0 ? NAPPE_TEXT_STRONG : NAPPE_TEXT_REGULAR;
      nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, g_ptr_array_index (lines, i), &style);
    }
  return TRUE;
}

/* A box's name stands at its floor, where the pipes leave most room; with what it gives back. */
static void
name_box (NappeFlow *flow, guint index)
{
  const NappeBox *box = &flow->boxes[index];
  NappePart *part = NAPPE_PART (flow->layout->boxes[index].part);
  g_autofree char *back
      = flow->state != NULL && !flow->flowing ? nappe_flow_run_back_words (flow, nappe_part_get_id (part)) : NULL;
  double widths[] = { box->width - 16.0, 0.5 * box->width - 20.0, 0.33 * box->width - 20.0 };
  guint n = G_N_ELEMENTS (widths);

  for (guint i = 0; i < 3 * n; i++)
    {
      g_autoptr (GPtrArray) lines = nappe_flow_wrap (flow, nappe_part_display_name (part), NAPPE_TEXT_STRONG,
                                                     MAX (widths[i % n], 40.0), 2);
      if (back != NULL)
        g_ptr_array_add (lines, g_strdup (back));
      for (int step = 0; step < 40; step++)
        if (place_box_lines (flow, box, box->x + 8.0 + (box->width - 16.0) * step / 40.0, lines, (BoxPlace) (i / n)))
          return;
    }
}

/* What a chamber takes up in a power cut, under its floor. */
static void
write_taken_up (NappeFlow *flow, guint index)
{
  const NappeBox *box = &flow->chambers[index];
  g_autofree char *taken = nappe_flow_run_back_words (flow, nappe_flow_id (flow->layout->chambers[index].part));
  NappeTextStyle style = { .x = box->x + 0.5 * box->width, .y = flow->sump.y + flow->sump.height + 5.0, .align_x = 0.5,
                           .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SURFACE };

  if (taken != NULL && nappe_flow_text_width (flow, taken, NAPPE_TEXT_REGULAR) < box->width - 4.0)
    nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, taken, &style);
}

/* Name and level in one line, where there is none to spare for the level. */
static void
name_with_level (NappeFlow *flow, const char *name, const char *level, const NappeBox *box)
{
  double gap = 6.0, figure = nappe_flow_text_width (flow, level, NAPPE_TEXT_REGULAR);
  g_autofree char *text = nappe_flow_shorten (flow, name, NAPPE_TEXT_SMALL, NAPPE_TEXT_REGULAR, box->width - 6.0 - gap - figure);
  double width = nappe_flow_text_width (flow, text, NAPPE_TEXT_REGULAR);
  double both = *text != '\0' ? width + gap + figure : figure, x = box->x + 0.5 * (box->width - both);
  NappeTextStyle style = { .x = x, .y = flow->names_top, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };

  nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, text, &style);
  style.x = x + both - figure;
  style.role = NAPPE_ROLE_SURFACE;
  nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, level, &style);
}

/* Name under the sump, and the level where it did not fit in at the surface. */
static void
name_chamber (NappeFlow *flow, guint index)
{
  const NappeBox *box = &flow->chambers[index];
  NappePart *part = NAPPE_PART (flow->layout->chambers[index].part);
  double level = flow->state != NULL ? nappe_flow_level (flow, flow->state, nappe_part_get_id (part)) : NAN;
  g_autofree char *figure = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, level, flow->options->units, 0);
  gboolean needs_level = !isnan (level) && !flow->has_mark[index]
                         && nappe_flow_text_width (flow, figure, NAPPE_TEXT_REGULAR) < box->width - 2.0;
  int room = (int) ((flow->names_bottom - flow->names_top) / flow->text_line) - (needs_level ? 1 : 0);
  g_autoptr (GPtrArray) lines = nappe_flow_wrap (flow, nappe_part_display_name (part), NAPPE_TEXT_REGULAR, box->width - 6.0,
                                                 (guint) CLAMP (room, 1, 3));
  NappeTextStyle style = { .x = box->x + 0.5 * box->width, .y = flow->names_top, .align_x = 0.5, .size = NAPPE_TEXT_SMALL,
                           .role = NAPPE_ROLE_INK };

  if (needs_level && room <= 0)
    {
      name_with_level (flow, nappe_part_display_name (part), figure, box);
      return;
    }
  for (guint i = 0; i < lines->len && room > 0; i++, style.y += flow->text_line)
    nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, g_ptr_array_index (lines, i), &style);
  style.role = NAPPE_ROLE_SURFACE;
  if (needs_level)
    nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, figure, &style);
}

void
nappe_flow_name_chambers (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_chambers; i++)
    {
      name_chamber (flow, i);
      if (flow->state != NULL && !flow->flowing)
        write_taken_up (flow, i);
    }
}

void
nappe_flow_name_vessels (NappeFlow *flow)
{
  name_display (flow);
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    name_box (flow, i);
}

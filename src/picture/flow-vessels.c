/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Display, overflow boxes and chambers of the flow diagram with their water, levels and names. */
#include "picture/flow-private.h"

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

typedef struct
{
  const char *id;
  const NappeBox *box;
  const NappeFrame *frame;
} Vessel;

static const char *
id_of (gpointer part)
{
  return nappe_part_get_id (NAPPE_PART (part));
}

/* The n-th of all vessels: display, boxes, chambers. */
static gboolean
get_vessel (const NappeFlow *flow, guint n, Vessel *vessel)
{
  const NappeLayout *layout = flow->layout;

  if (n == 0)
    *vessel = (Vessel) { id_of (flow->build->tank), &flow->display, &layout->tank };
  else if (n - 1 < layout->n_boxes)
    *vessel = (Vessel) { id_of (layout->boxes[n - 1].part), &flow->boxes[n - 1], &layout->boxes[n - 1].frame };
  else if (n - 1 - layout->n_boxes < layout->n_chambers)
    {
      guint i = n - 1 - layout->n_boxes;
      *vessel = (Vessel) { id_of (layout->chambers[i].part), &flow->chambers[i], &layout->chambers[i].frame };
    }
  else
    return FALSE;
  return TRUE;
}

static double
level_in (const NappeFlow *flow, const NappeState *state, const char *id)
{
  return state != NULL ? nappe_study_level (flow->study, state, id) : NAN;
}

static void
draw_water (NappeFlow *flow, const Vessel *vessel)
{
  NappeStyle water = { .fill = NAPPE_ROLE_WATER_TOP, .fill_deep = NAPPE_ROLE_WATER_DEEP };
  double level = level_in (flow, flow->state, vessel->id);
  double bottom = vessel->box->y + vessel->box->height, y;

  if (isnan (level))
    return;
  y = nappe_flow_y (vessel->box, vessel->frame, level);
  nappe_scene_box (flow->scene, NAPPE_LAYER_WATER, (NappeBox) { vessel->box->x, y, vessel->box->width + SEAM, bottom - y },
                   &water);
}

/* An open tank: two walls and a floor. */
static void
draw_open_tank (NappeFlow *flow, double left, double left_top, double right, double right_top, double bottom)
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

static gboolean
box_is_left_of_display (const NappeFlow *flow, guint index)
{
  return flow->boxes[index].x < flow->display.x;
}

/* x of the wall over which a box is fed: the one toward the display. */
static double
weir_x (const NappeFlow *flow, guint index)
{
  const NappeBox *box = &flow->boxes[index];
  return box_is_left_of_display (flow, index) ? box->x + box->width : box->x;
}

static double
weir_y (const NappeFlow *flow, guint index)
{
  return nappe_flow_y (&flow->display, &flow->layout->tank, flow->layout->boxes[index].weir);
}

static void
draw_box (NappeFlow *flow, guint index)
{
  const NappeBox *box = &flow->boxes[index];
  double bottom = box->y + box->height, x = weir_x (flow, index), y = weir_y (flow, index);
  gboolean left = box_is_left_of_display (flow, index);
  NappeStyle wall = { .fill = NAPPE_ROLE_GLASS, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };

  if (left)
    draw_open_tank (flow, box->x, box->y, box->x + box->width, bottom, bottom);
  else
    draw_open_tank (flow, box->x, bottom, box->x + box->width, box->y, bottom);
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
      if (fabs (weir_x (flow, i) - left) < 1.0)
        left_top = bottom;
      if (fabs (weir_x (flow, i) - right) < 1.0)
        right_top = bottom;
    }
  draw_open_tank (flow, left, left_top, right, right_top, bottom);
}

static void
baffle_place (const NappeFlow *flow, guint index, double *x, double *top, double *gap)
{
  const NappeBaffleLayout *baffle = &flow->layout->baffles[index];

  *x = flow->chambers[index].x + flow->chambers[index].width;
  *top = nappe_flow_y (&flow->sump, &flow->layout->sump, baffle->top);
  *gap = nappe_flow_y (&flow->sump, &flow->layout->sump, baffle->gap_top);
  if (baffle->part->gap_height > 0.0)
    *gap = MIN (*gap, flow->sump.y + flow->sump.height - 9.0); /* a gap that can be seen */
}

static gboolean
has_baffle (const NappeFlow *flow, guint index)
{
  return index < flow->layout->n_baffles && index + 1 < flow->layout->n_chambers;
}

static void
draw_sump (NappeFlow *flow)
{
  NappeStyle wall = { .fill = NAPPE_ROLE_GLASS, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };

  if (flow->layout->n_chambers == 0)
    return;
  for (guint i = 0; has_baffle (flow, i); i++)
    {
      double x, top, gap;
      NappeBox box;
      baffle_place (flow, i, &x, &top, &gap);
      box = (NappeBox) { x - 0.5 * WALL, top, WALL, MAX (gap - top, 1.0) };
      nappe_scene_box (flow->scene, NAPPE_LAYER_VESSEL, box, &wall);
      nappe_scene_block (flow->scene, NAPPE_BLOCK_DIMENSION, box);
      nappe_scene_hit (flow->scene, id_of (flow->layout->baffles[i].part), nappe_box_grown (box, 4.0));
      nappe_flow_anchor (flow, id_of (flow->layout->baffles[i].part), x, top - 24.0, x, top);
    }
  draw_open_tank (flow, flow->sump.x, flow->sump.y, flow->sump.x + flow->sump.width, flow->sump.y,
                  flow->sump.y + flow->sump.height);
  nappe_flow_anchor (flow, id_of (flow->build->sump), flow->sump.x + flow->sump.width - 16.0, flow->sump.y - 14.0,
                     flow->sump.x + flow->sump.width, flow->sump.y);
}

/* Findings on the display stand at its floor, on others under the rim: there is most room. */
static void
anchor_vessel (NappeFlow *flow, const Vessel *vessel, gboolean display)
{
  double x = display ? vessel->box->x + 22.0 : vessel->box->x + vessel->box->width - 20.0;
  double y = display ? vessel->box->y + vessel->box->height - 20.0 : vessel->box->y + 18.0;

  nappe_flow_anchor (flow, vessel->id, x, y, x, y);
}

void
nappe_flow_draw_vessels (NappeFlow *flow)
{
  Vessel vessel;

  nappe_scene_hit (flow->scene, id_of (flow->build->sump), nappe_box_grown (flow->sump, 6.0));
  for (guint i = 0; get_vessel (flow, i, &vessel); i++)
    {
      draw_water (flow, &vessel);
      nappe_scene_hit (flow->scene, vessel.id, *vessel.box);
      anchor_vessel (flow, &vessel, i == 0);
    }
  draw_display (flow);
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    draw_box (flow, i);
  draw_sump (flow);
}

/* The level mark at the first free place along the surface. Returns what it takes, of no width when
 * there is no room. */
static NappeBox
mark_level (NappeFlow *flow, const Vessel *vessel, double level, double y)
{
  const NappeBox *box = vessel->box;
  g_autofree char *text = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, level, flow->options->units, 0);

  for (int step = 0; step < 32; step++)
    {
      /* From a third of the width to the right, then from there to the left. */
      double share = step < 22 ? 0.3 + 0.7 * step / 21.0 : 0.3 * (31 - step) / 10.0;
      double x = box->x + 10.0 + (box->width - 20.0) * share;
      for (int to_left = 0; to_left < 2; to_left++)
        {
          NappeBox place = nappe_mark_surface_box (flow->scene, x, y, text, to_left == 1);
          if (place.x < box->x + 4.0 || place.x + place.width > box->x + box->width - 4.0
              || !nappe_label_is_free (flow->scene, &place, 1.5))
            continue;
          return nappe_mark_surface (flow->scene, x, y, text, to_left == 1, NAPPE_ROLE_SURFACE);
        }
    }
  return (NappeBox) { box->x, y, 0.0, 0.0 };
}

/* The dashed level of the other state, broken where the shown state's mark stands. */
static void
draw_other_level (NappeFlow *flow, const Vessel *vessel, double y, const NappeBox *mark)
{
  NappeStyle dashed = { .stroke = NAPPE_ROLE_OTHER_STATE, .weight = 1.1, .dashed = TRUE };
  double from = vessel->box->x + 2.0, to = vessel->box->x + vessel->box->width - 2.0;
  gboolean broken = mark->width > 0.0 && y > mark->y - 2.0 && y < mark->y + mark->height + 2.0;

  if (broken)
    {
      nappe_scene_stroke (flow->scene, NAPPE_LAYER_LEVEL, from, y, MAX (mark->x - 4.0, from), y, &dashed);
      from = MIN (mark->x + mark->width + 4.0, to);
    }
  nappe_scene_stroke (flow->scene, NAPPE_LAYER_LEVEL, from, y, to, y, &dashed);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_SOFT, nappe_box_between (vessel->box->x, y - 1.0, to, y + 1.0));
}

static void
write_other_level (NappeFlow *flow, const Vessel *vessel, double y, double level)
{
  g_autofree char *text = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, level, flow->options->units, 0);
  NappeTextStyle styles[22];

  for (guint i = 0; i < G_N_ELEMENTS (styles); i++)
    {
      double share = 0.35 + 0.06 * (i / 2);
      styles[i] = (NappeTextStyle) { .x = vessel->box->x + 6.0 + share * (vessel->box->width - 12.0),
                                     .y = i % 2 == 0 ? y - 2.0 : y + 2.0, .align_x = share,
                                     .align_y = i % 2 == 0 ? 1.0 : 0.0, .size = NAPPE_TEXT_SMALL,
                                     .role = NAPPE_ROLE_OTHER_TEXT, .plate = TRUE };
    }
  if (vessel->box->width > nappe_flow_text_width (flow, text, NAPPE_TEXT_REGULAR) + 12.0)
    nappe_label_place_text (flow->scene, NAPPE_LAYER_LEVEL, text, styles, G_N_ELEMENTS (styles), NULL);
}

static void
draw_surface (NappeFlow *flow, const Vessel *vessel, double y)
{
  NappeStyle surface = { .stroke = NAPPE_ROLE_SURFACE, .weight = 1.6 };

  nappe_scene_stroke (flow->scene, NAPPE_LAYER_LEVEL, vessel->box->x + 1.0, y, vessel->box->x + vessel->box->width - 1.0,
                      y, &surface);
}

#define SAME_LEVEL 0.0005 /* levels that read alike [m] */

void
nappe_flow_draw_levels (NappeFlow *flow)
{
  guint n = 1 + flow->layout->n_boxes + flow->layout->n_chambers;
  g_autofree NappeBox *marks = g_new0 (NappeBox, n);
  double before = NAN;
  Vessel vessel;

  for (guint i = 0; get_vessel (flow, i, &vessel); i++)
    {
      double level = level_in (flow, flow->state, vessel.id);
      double y = nappe_flow_y (vessel.box, vessel.frame, level);
      if (isnan (level))
        continue;
      draw_surface (flow, &vessel, y);
      marks[i] = mark_level (flow, &vessel, level, y);
      if (i > flow->layout->n_boxes)
        flow->has_mark[i - 1 - flow->layout->n_boxes] = marks[i].width > 0.0;
    }
  for (guint i = 0; get_vessel (flow, i, &vessel); i++)
    {
      double level = level_in (flow, flow->other, vessel.id);
      double y = nappe_flow_y (vessel.box, vessel.frame, level);
      if (isnan (level) || fabs (level - level_in (flow, flow->state, vessel.id)) < SAME_LEVEL)
        continue;
      draw_other_level (flow, &vessel, y, &marks[i]);
      /* One figure for neighbours that stand alike. */
      if (i <= flow->layout->n_boxes || !(fabs (level - before) < SAME_LEVEL))
        write_other_level (flow, &vessel, y, level);
      before = level;
    }
}

/* Water that falls over a weir, and how much. */
static void
draw_weir (NappeFlow *flow, guint index)
{
  const char *id = id_of (flow->layout->boxes[index].part);
  const NappeWeirReport *weir = nappe_study_weir (flow->study, id);
  double outward = box_is_left_of_display (flow, index) ? -1.0 : 1.0;
  double x = weir_x (flow, index), y = weir_y (flow, index);
  double level = level_in (flow, flow->state, id), below;
  NappeStyle sheet = { .stroke = NAPPE_ROLE_MOVING, .weight = 3.0 };

  if (!flow->flowing || weir == NULL || !(weir->flow > 0.0))
    return;
  below = isnan (level) ? flow->boxes[index].y + flow->boxes[index].height
                        : nappe_flow_y (&flow->boxes[index], &flow->layout->boxes[index].frame, level);
  below = MAX (below, y + 4.0);
  nappe_scene_move (flow->scene, x - outward * 12.0, y - 2.0);
  nappe_scene_curve (flow->scene, x + outward * 4.0, y - 2.0, x + outward * 8.0, y, x + outward * 8.0, below);
  nappe_scene_paint (flow->scene, NAPPE_LAYER_PIPE, &sheet);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_PIPE, nappe_box_between (x - 3.0, y - 3.0, x + outward * 10.0, below));

  g_autofree char *amount = nappe_quantity_format (NAPPE_QUANTITY_FLOW, weir->flow, flow->options->units, 0);
  g_autofree char *film = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, weir->film, flow->options->units, 0);
  /* Translators: beside a weir: its flow, then the depth of water over its crest */
  g_autofree char *text = g_strdup_printf (_("weir %s, %s deep"), amount, film);
  NappeTextStyle styles[6];
  for (guint i = 0; i < G_N_ELEMENTS (styles); i++)
    styles[i] = (NappeTextStyle) { .x = x - outward * 10.0, .y = y + 12.0 + 8.0 * i, .align_x = outward > 0.0 ? 1.0 : 0.0,
                                   .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };
  if (nappe_flow_text_width (flow, text, NAPPE_TEXT_REGULAR) + 14.0 > flow->display.width
      || !nappe_label_place_text (flow->scene, NAPPE_LAYER_NOTE, text, styles, G_N_ELEMENTS (styles), NULL))
    nappe_label_place_text (flow->scene, NAPPE_LAYER_NOTE, amount, styles, G_N_ELEMENTS (styles), NULL);
}

/* Flow from chamber to chamber: an arrow where the water passes, a figure under the floor of the sump. */
static void
draw_passage (NappeFlow *flow, guint index)
{
  const NappeBaffleLayout *baffle = &flow->layout->baffles[index];
  double amount = nappe_study_flow (flow->study, flow->state, id_of (baffle->part));
  double x, top, gap, way, y;

  if (!isfinite (amount) || fabs (amount) < 1e-9)
    return;
  baffle_place (flow, index, &x, &top, &gap);
  way = amount > 0.0 ? 1.0 : -1.0;
  y = baffle->part->gap_height > 0.0 ? 0.5 * (gap + flow->sump.y + flow->sump.height) : top - 7.0;
  nappe_mark_arrow (flow->scene, NAPPE_LAYER_LEVEL, x + way * 6.0, y, way, 0.0, 11.0, NAPPE_ROLE_SURFACE);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_MARK, (NappeBox) { x - 8.0, y - 6.0, 16.0, 12.0 });

  g_autofree char *figure = nappe_quantity_format_number (NAPPE_QUANTITY_FLOW, fabs (amount), flow->options->units, 0);
  g_autofree char *text = way > 0.0 ? g_strconcat (figure, " →", NULL) : g_strconcat ("← ", figure, NULL);
  NappeTextStyle style = { .x = x, .y = flow->sump.y + flow->sump.height + 6.0, .align_x = 0.5,
                           .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SURFACE };
  nappe_label_place_text (flow->scene, NAPPE_LAYER_NOTE, text, &style, 1, NULL);
}

void
nappe_flow_draw_weirs (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    draw_weir (flow, i);
  for (guint i = 0; flow->flowing && has_baffle (flow, i); i++)
    draw_passage (flow, i);
}

static void
name_display (NappeFlow *flow)
{
  double middle = flow->display.x + 0.5 * flow->display.width;
  double y = flow->display.y + 0.62 * flow->display.height;
  g_autoptr (GPtrArray) lines = nappe_flow_wrap (flow, nappe_part_display_name (flow->build->tank), NAPPE_TEXT_STRONG,
                                                 flow->display.width - 12.0, 2);
  g_autofree char *volume = NULL;

  if (flow->state != NULL && flow->flowing)
    volume = nappe_quantity_format (NAPPE_QUANTITY_VOLUME, flow->study->display_volume, flow->options->units, 0);
  else if (flow->state != NULL)
    volume = nappe_flow_run_back_words (flow, id_of (flow->build->tank));
  for (guint i = 0; i < lines->len + 1; i++)
    {
      gboolean name = i < lines->len;
      const char *text = name ? g_ptr_array_index (lines, i) : volume;
      NappeTextStyle styles[5];
      NappeBox taken;
      double lowest = flow->display.y + flow->display.height - flow->text_line - 4.0;
      for (guint j = 0; j < G_N_ELEMENTS (styles); j++)
        styles[j] = (NappeTextStyle) { .x = middle, .y = MIN (y + 6.0 * j, lowest), .align_x = 0.5, .size = NAPPE_TEXT_SMALL,
                                       .weight = name ? NAPPE_TEXT_STRONG : NAPPE_TEXT_REGULAR, .role = NAPPE_ROLE_INK };
      if (text != NULL && nappe_flow_text_width (flow, text, styles[0].weight) < flow->display.width - 8.0
          && nappe_label_place_text (flow->scene, NAPPE_LAYER_NOTE, text, styles, G_N_ELEMENTS (styles), &taken))
        y = taken.y + taken.height;
    }
}

/* Lines of text in the box's lower left corner at x; FALSE when there is no room for them. */
static gboolean
place_box_lines (NappeFlow *flow, const NappeBox *box, double x, GPtrArray *lines)
{
  NappeTextStyle style = { .x = x, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };
  double height = lines->len * flow->text_line, widest = 0.0;
  NappeBox place;

  for (guint i = 0; i < lines->len; i++)
    widest = MAX (widest, nappe_flow_text_width (flow, g_ptr_array_index (lines, i), NAPPE_TEXT_STRONG));
  place = (NappeBox) { x, box->y + box->height - 6.0 - height, widest, height };
  if (x + widest > box->x + box->width - 4.0 || place.y < box->y || !nappe_label_is_free (flow->scene, &place, 2.0))
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
  g_autofree char *back = flow->state != NULL && !flow->flowing ? nappe_flow_run_back_words (flow, nappe_part_get_id (part)) : NULL;
  double widths[] = { box->width - 16.0, 0.5 * box->width - 20.0, 0.33 * box->width - 20.0 };

  for (guint i = 0; i < G_N_ELEMENTS (widths); i++)
    {
      g_autoptr (GPtrArray) lines = nappe_flow_wrap (flow, nappe_part_display_name (part), NAPPE_TEXT_STRONG,
                                                     MAX (widths[i], 40.0), 2);
      if (back != NULL)
        g_ptr_array_add (lines, g_strdup (back));
      for (int step = 0; step < 40; step++)
        if (place_box_lines (flow, box, box->x + 8.0 + (box->width - 16.0) * step / 40.0, lines))
          return;
    }
}

static void
name_chamber (NappeFlow *flow, guint index)
{
  const NappeBox *box = &flow->chambers[index];
  NappePart *part = NAPPE_PART (flow->layout->chambers[index].part);
  g_autoptr (GPtrArray) lines = nappe_flow_wrap (flow, nappe_part_display_name (part), NAPPE_TEXT_REGULAR, box->width - 6.0, 3);
  NappeTextStyle style = { .x = box->x + 0.5 * box->width, .align_x = 0.5, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };

  for (guint i = 0; i < lines->len; i++)
    {
      style.y = flow->names_top + i * flow->text_line;
      nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, g_ptr_array_index (lines, i), &style);
    }
  if (flow->state != NULL && !flow->has_mark[index])
    {
      double level = level_in (flow, flow->state, nappe_part_get_id (part));
      g_autofree char *figure = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, level, flow->options->units, 0);
      style.y += flow->text_line;
      style.role = NAPPE_ROLE_SURFACE;
      nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, figure, &style);
    }
  if (flow->state != NULL && !flow->flowing)
    {
      g_autofree char *taken = nappe_flow_run_back_words (flow, nappe_part_get_id (part));
      style.y = flow->sump.y + flow->sump.height + 5.0;
      style.role = NAPPE_ROLE_SURFACE;
      if (taken != NULL && nappe_flow_text_width (flow, taken, NAPPE_TEXT_REGULAR) < box->width - 4.0)
        nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, taken, &style);
    }
}

void
nappe_flow_name_vessels (NappeFlow *flow)
{
  name_display (flow);
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    name_box (flow, i);
  for (guint i = 0; i < flow->layout->n_chambers; i++)
    name_chamber (flow, i);
}

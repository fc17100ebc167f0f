/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Free surfaces of the flow diagram in both states, and water that passes over weirs and baffles. */
#include "picture/flow/flow-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/moment.h"

/* The level mark at the first free place along the surface. Returns what it takes, of no width when
 * there is no room. */
static NappeBox
mark_level (NappeFlow *flow, const NappeFlowVessel *vessel, double level, double y)
{
  const NappeBox *box = vessel->box;
  double start = MAX (vessel->clear_from, box->x), width = box->x + box->width - start;
  g_autofree char *text = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, level, flow->options->units, 0);

  for (int step = 0; step < 32; step++)
    {
      /* From a third of the width to the right, then from there to the left. */
      double share = step < 22 ? 0.3 + 0.7 * step / 21.0 : 0.3 * (31 - step) / 10.0;
      double x = start + 10.0 + (width - 20.0) * share;
      for (int to_left = 0; to_left < 2; to_left++)
        {
          NappeBox place = nappe_mark_surface_box (flow->scene, x, y, text, to_left == 1);
          if (place.x < start + 4.0 || place.x + place.width > box->x + box->width - 4.0
              || !nappe_label_is_free (flow->scene, &place, 1.5))
            continue;
          return nappe_mark_surface (flow->scene, x, y, text, to_left == 1, NAPPE_ROLE_SURFACE);
        }
    }
  return (NappeBox) { box->x, y, 0.0, 0.0 };
}

/* The dashed level of the other state, broken where the shown state's mark stands. */
static void
draw_other_level (NappeFlow *flow, const NappeFlowVessel *vessel, double y, const NappeBox *mark)
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
write_other_level (NappeFlow *flow, const NappeFlowVessel *vessel, double y, double level)
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
    nappe_flow_place_text (flow, NAPPE_LAYER_LEVEL, text, styles, G_N_ELEMENTS (styles), NULL);
}

static void
draw_surface (NappeFlow *flow, const NappeFlowVessel *vessel, double y)
{
  NappeStyle surface = { .stroke = NAPPE_ROLE_SURFACE, .weight = 1.6 };

  nappe_scene_stroke (flow->scene, NAPPE_LAYER_LEVEL, vessel->box->x, y, vessel->box->x + vessel->box->width, y,
                      &surface);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_SOFT, (NappeBox) { vessel->box->x, y - 1.0, vessel->box->width, 2.0 });
}

#define SAME_LEVEL 0.0005 /* levels that read alike [m] */

void
nappe_flow_draw_levels (NappeFlow *flow)
{
  guint n = 1 + 2 * flow->layout->n_boxes + flow->layout->n_vessels + flow->layout->n_chambers + flow->layout->n_socks;
  g_autofree NappeBox *marks = g_new0 (NappeBox, n);
  double before = NAN;
  NappeFlowVessel vessel;

  for (guint i = 0; nappe_flow_vessel (flow, i, &vessel); i++)
    {
      double level = nappe_flow_level (flow, flow->state, vessel.id);
      double y = nappe_flow_y (vessel.box, vessel.frame, level);
      if (isnan (level) || !(vessel.box->width > 0.0))
        continue;
      draw_surface (flow, &vessel, y);
      marks[i] = mark_level (flow, &vessel, level, y);
      if (vessel.chamber >= 0)
        flow->has_mark[vessel.chamber] = marks[i].width > 0.0;
      else if (!(marks[i].width > 0.0))
        g_hash_table_add (flow->unmarked, g_strdup (vessel.id));
    }
  for (guint i = 0; nappe_flow_vessel (flow, i, &vessel); i++)
    {
      double level = nappe_flow_level (flow, flow->other, vessel.id);
      double y = nappe_flow_y (vessel.box, vessel.frame, level);
      /* In a sock the other state's level is its chamber's, or nearly. */
      if (isnan (level) || vessel.around >= 0 || !(vessel.box->width > 0.0)
          || fabs (level - nappe_flow_level (flow, flow->state, vessel.id)) < SAME_LEVEL)
        continue;
      draw_other_level (flow, &vessel, y, &marks[i]);
      /* One figure for neighbours that stand alike. */
      if (vessel.chamber < 0 || !(fabs (level - before) < SAME_LEVEL))
        write_other_level (flow, &vessel, y, level);
      before = level;
    }
}

/* What pours over a box's weir [m3/s]; 0: nothing, or not known. */
static double
poured_over (const NappeFlow *flow, const char *id)
{
  if (!flow->flowing || nappe_study_weir (flow->study, id) == NULL)
    return 0.0;
  return nappe_moment_flow (nappe_study_flow (flow->study, flow->state, id));
}

/* Water that falls over a weir. */
static void
draw_fall (NappeFlow *flow, guint index)
{
  const NappeBoxLayout *layout = &flow->layout->boxes[index];
  const char *id = nappe_flow_id (layout->part);
  double outward = nappe_flow_box_is_left (flow, index) ? -1.0 : 1.0;
  double x = nappe_flow_weir_x (flow, index), y = nappe_flow_weir_y (flow, index);
  gboolean has_inner = flow->inners[index].width > 0.0;
  const NappeBox *into = has_inner ? &flow->inners[index] : &flow->boxes[index];
  const NappeFrame *frame = has_inner ? &layout->inner : &layout->frame;
  g_autofree char *water = g_strconcat (id, has_inner ? NAPPE_INNER_SUFFIX : "", NULL);
  double level = nappe_flow_level (flow, flow->state, water), below;
  NappeStyle sheet = { .stroke = NAPPE_ROLE_MOVING, .weight = 3.0 };

  if (!(poured_over (flow, id) > 0.0))
    return;
  below = isnan (level) ? into->y + into->height : nappe_flow_y (into, frame, level);
  below = MAX (below, y + 4.0);
  nappe_scene_move (flow->scene, x - outward * 12.0, y - 2.0);
  nappe_scene_curve (flow->scene, x + outward * 4.0, y - 2.0, x + outward * 8.0, y, x + outward * 8.0, below);
  nappe_scene_paint (flow->scene, NAPPE_LAYER_PIPE, &sheet);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_PIPE, nappe_box_between (x - 3.0, y - 3.0, x + outward * 10.0, below));
}

/* How much pours over a weir, on the side that it comes from. */
static void
say_weir (NappeFlow *flow, guint index)
{
  const char *id = nappe_flow_id (flow->layout->boxes[index].part);
  double poured = poured_over (flow, id), outward = nappe_flow_box_is_left (flow, index) ? -1.0 : 1.0;
  double x = nappe_flow_weir_x (flow, index), y = nappe_flow_weir_y (flow, index);
  NappeTextStyle styles[6];

  if (!(poured > 0.0))
    return;
  g_autofree char *amount = nappe_quantity_format (NAPPE_QUANTITY_FLOW, poured, flow->options->units, 0);
  g_autofree char *film = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, nappe_study_weir (flow->study, id)->film,
                                                 flow->options->units, 0);
  /* Translators: beside a weir: its flow, then the depth of water over its crest */
  g_autofree char *text = flow->at_moment ? g_strdup (amount) : g_strdup_printf (_("weir %s, %s deep"), amount, film);
  for (guint i = 0; i < G_N_ELEMENTS (styles); i++)
    styles[i] = (NappeTextStyle) { .x = x - outward * 10.0, .y = y + 12.0 + 8.0 * i, .align_x = outward > 0.0 ? 1.0 : 0.0,
                                   .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };
  if (nappe_flow_text_width (flow, text, NAPPE_TEXT_REGULAR) + 14.0 > flow->display.width
      || !nappe_flow_place_text (flow, NAPPE_LAYER_NOTE, text, styles, G_N_ELEMENTS (styles), NULL))
    nappe_flow_place_text (flow, NAPPE_LAYER_NOTE, amount, styles, G_N_ELEMENTS (styles), NULL);
}

/* Flow from chamber to chamber: an arrow where the water passes, a figure under the floor of the sump. */
static void
draw_passage (NappeFlow *flow, guint index)
{
  const NappeBaffleLayout *baffle = &flow->layout->baffles[index];
  double amount = nappe_study_flow (flow->study, flow->state, nappe_flow_id (baffle->part));
  double x, top, gap, way, y;

  if (!isfinite (amount) || fabs (amount) < 1e-9)
    return;
  nappe_flow_baffle_place (flow, index, &x, &top, &gap);
  way = amount > 0.0 ? 1.0 : -1.0;
  y = baffle->part->gap_height > 0.0 ? 0.5 * (gap + flow->sump.y + flow->sump.height) : top - 7.0;
  nappe_mark_arrow (flow->scene, NAPPE_LAYER_LEVEL, x + way * 6.0, y, way, 0.0, 11.0, NAPPE_ROLE_SURFACE);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_MARK, (NappeBox) { x - 8.0, y - 6.0, 16.0, 12.0 });

  g_autofree char *figure = nappe_quantity_format_number (NAPPE_QUANTITY_FLOW, fabs (amount), flow->options->units, 0);
  g_autofree char *text = way > 0.0 ? g_strconcat (figure, " →", NULL) : g_strconcat ("← ", figure, NULL);
  NappeTextStyle style = { .x = x, .y = flow->sump.y + flow->sump.height + 6.0, .align_x = 0.5,
                           .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SURFACE };
  nappe_flow_place_text (flow, NAPPE_LAYER_NOTE, text, &style, 1, NULL);
}

void
nappe_flow_draw_falls (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    draw_fall (flow, i);
  for (guint i = 0; flow->flowing && nappe_flow_has_baffle (flow, i); i++)
    draw_passage (flow, i);
}

void
nappe_flow_say_weirs (NappeFlow *flow)
{
  for (guint i = 0; i < flow->layout->n_boxes; i++)
    say_weir (flow, i);
}

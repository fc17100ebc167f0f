/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Vessels beside or behind the tank, such as a refugium that hangs on the back, with their spouts. */
#include "picture/elevation/elevation-private.h"
#include "picture/board.h"

#include <math.h>

#include "picture/marks.h"

/* How far a spout reaches out of its vessel [m], and how thick its sheet of water is drawn [px]. */
#define SPOUT_REACH 0.03
#define SHEET_WEIGHT 2.5

gboolean
nappe_elevation_vessel_is_hidden (const NappeElevation *self, const NappeVesselLayout *vessel)
{
  const NappeFrame *tank = &self->layout->tank, *frame = &vessel->frame;
  return frame->front >= tank->back - 1e-9 && frame->right > tank->left && frame->left < tank->right
         && frame->rim > tank->floor && frame->floor < tank->rim;
}

/* Over the spout while running [m3/s]; 0: dry or not known. */
static double
spout_flow (const NappeElevation *self, const char *id)
{
  gint link = self->study ? nappe_network_find_link (self->study->network, NAPPE_LINK_WEIR, id) : -1;
  return link >= 0 && self->shown && self->shown->flow ? self->shown->flow[link] : 0;
}

/* Toward what the spout pours into: -1 left, 1 right, 0 straight on, seen from the front. */
static double
spout_way (const NappeElevation *self, const NappeVesselLayout *vessel)
{
  const NappeFrame *frame = &vessel->frame;
  NappeFrame into;
  if (!nappe_elevation_room (self, vessel->part->into, &into) || (into.right > frame->left && into.left < frame->right))
    return 0;
  return into.right <= frame->left ? -1 : 1;
}

/* A lip at the vessel's side, and the sheet that falls from it toward the water below. */
static void
draw_spout_aside (NappeElevation *self, const NappeVesselLayout *vessel, double way, double flow, const NappeStyle *pane)
{
  const NappeFrame *frame = &vessel->frame;
  NappeFrame into = { 0 };
  NappeStyle sheet = { .stroke = NAPPE_ROLE_MOVING, .weight = SHEET_WEIGHT, .round = TRUE };
  double wall = fmax (vessel->part->wall_thickness, 0.002), edge = way > 0 ? frame->right : frame->left;
  nappe_elevation_room (self, vessel->part->into, &into);
  /* As far as the room that it pours into begins, when that is near. */
  double gap = way > 0 ? into.left - frame->right : frame->left - into.right;
  double reach = wall + (gap < 0.2 ? fmax (gap - wall, 0) + SPOUT_REACH : SPOUT_REACH);
  nappe_elevation_draw_wall (self, fmin (edge, edge + way * reach), fmax (edge, edge + way * reach), vessel->spout - wall,
                             vessel->spout, pane);
  if (!(flow > 0))
    return;
  double level = nappe_elevation_level (self, self->shown, vessel->part->into);
  double end = nappe_elevation_y (self, isnan (level) ? vessel->spout - 0.05 : fmin (level, vessel->spout - wall));
  double x = nappe_elevation_x (self, edge), lip = nappe_elevation_x (self, edge + way * reach);
  double y = nappe_elevation_y (self, vessel->spout) - SHEET_WEIGHT / 2;
  nappe_scene_move (self->scene, x, y);
  nappe_scene_line (self->scene, lip, y);
  nappe_scene_curve (self->scene, lip + way * 3, y, lip + way * 5, y + 2, lip + way * 5, fmax (end, y + 3));
  nappe_scene_paint (self->scene, NAPPE_LAYER_LEVEL, &sheet);
  nappe_scene_block (self->scene, NAPPE_BLOCK_MARK, nappe_box_between (x, y - 2, lip + way * 7, fmax (end, y + 3)));
}

/* A notch in the vessel's front, and an arrow of what pours out of it. */
static void
draw_spout_ahead (NappeElevation *self, const NappeVesselLayout *vessel, double flow)
{
  const NappeFrame *frame = &vessel->frame;
  NappeStyle notch = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR, .dashed = TRUE };
  NappeStyle sheet = { .fill = NAPPE_ROLE_MOVING, .opacity = 0.75 };
  double middle = (frame->left + frame->right) / 2, half = fmin (vessel->part->spout_width, frame->right - frame->left) / 2;
  double level = nappe_elevation_level (self, self->shown, nappe_elevation_id (vessel->part));
  double below = nappe_elevation_level (self, self->shown, vessel->part->into);
  NappeBox opening = nappe_elevation_box (self, middle - half, middle + half, vessel->spout, fmax (frame->rim, vessel->spout));
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, opening, &notch);
  if (!(flow > 0) || !(vessel->spout > below))
    return;
  NappeBox fall = nappe_elevation_box (self, middle - half, middle + half, fmax (below, frame->floor),
                                       fmax (nappe_not_above (level, frame->rim), vessel->spout));
  fall.height = fmax (fall.height, 3);
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, fall, &sheet);
  nappe_mark_arrow (self->scene, NAPPE_LAYER_LEVEL, fall.x + fall.width / 2, fall.y + fall.height, 0, 1, 6, NAPPE_ROLE_SURFACE);
  nappe_scene_block (self->scene, NAPPE_BLOCK_MARK, fall);
}

/* Behind the tank: dashed, its water pale. */
static void
draw_hidden (NappeElevation *self, const NappeVesselLayout *vessel, double level)
{
  const NappeFrame *frame = &vessel->frame;
  NappeStyle hidden = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR, .dashed = TRUE };
  NappeStyle water = { .fill = NAPPE_ROLE_WATER_DEEP, .opacity = 0.35 };
  NappeStyle surface = { .stroke = NAPPE_ROLE_SURFACE, .weight = 1.2, .dashed = TRUE };
  if (level > frame->floor)
    {
      double y = nappe_elevation_y (self, level);
      nappe_scene_box (self->scene, NAPPE_LAYER_WATER, nappe_elevation_box (self, frame->left, frame->right, frame->floor, level),
                       &water);
      nappe_scene_stroke (self->scene, NAPPE_LAYER_LEVEL, nappe_elevation_x (self, frame->left), y,
                          nappe_elevation_x (self, frame->right), y, &surface);
    }
  NappeBox box = nappe_elevation_box (self, frame->left, frame->right, frame->floor, frame->rim);
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, box, &hidden);
  NappeBox edges[] = { { box.x, box.y - 0.5, box.width, 1 }, { box.x, box.y + box.height - 0.5, box.width, 1 },
                       { box.x - 0.5, box.y, 1, box.height }, { box.x + box.width - 0.5, box.y, 1, box.height } };
  for (guint i = 0; i < G_N_ELEMENTS (edges); i++)
    nappe_scene_block (self->scene, NAPPE_BLOCK_LINE, edges[i]);
}

/* Beside the tank: cut open; its wall is open above the spout. */
static void
draw_cut (NappeElevation *self, const NappeVesselLayout *vessel, double level, double way, const NappeStyle *pane)
{
  const NappeFrame *frame = &vessel->frame;
  double wall = fmax (vessel->part->wall_thickness, 0.002);
  nappe_elevation_draw_water (self, frame->left, frame->right, frame->floor, level);
  nappe_elevation_draw_wall (self, frame->left - wall, frame->left, frame->floor, way < 0 ? vessel->spout : frame->rim, pane);
  nappe_elevation_draw_wall (self, frame->right, frame->right + wall, frame->floor, way > 0 ? vessel->spout : frame->rim, pane);
  nappe_elevation_draw_wall (self, frame->left - wall, frame->right + wall, frame->floor - wall, frame->floor, pane);
}

void
nappe_elevation_draw_side_vessels (NappeElevation *self)
{
  NappeStyle pane = nappe_board_pane (NAPPE_MATERIAL_ACRYLIC);
  for (guint i = 0; i < self->layout->n_vessels; i++)
    {
      const NappeVesselLayout *vessel = &self->layout->vessels[i];
      const NappeFrame *frame = &vessel->frame;
      const char *id = nappe_elevation_id (vessel->part);
      double level = nappe_not_above (nappe_elevation_level (self, self->shown, id), frame->rim);
      double way = spout_way (self, vessel), flow = spout_flow (self, id);
      gboolean hidden = nappe_elevation_vessel_is_hidden (self, vessel);
      if (hidden)
        draw_hidden (self, vessel, level);
      else
        draw_cut (self, vessel, level, way, &pane);
      if (hidden || way == 0)
        draw_spout_ahead (self, vessel, flow);
      else
        draw_spout_aside (self, vessel, way, flow, &pane);
      NappeBox box = nappe_elevation_box (self, frame->left, frame->right, frame->floor, frame->rim);
      nappe_scene_hit (self->scene, id, box);
      nappe_elevation_pin (self, id, box.x + box.width / 2, box.y + box.height - 14);
      nappe_elevation_pin (self, id, box.x + box.width / 4, box.y + box.height - 14);
      nappe_elevation_pin (self, id, box.x + box.width / 2, box.y - 14);
    }
}

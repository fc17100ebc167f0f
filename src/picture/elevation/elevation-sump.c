/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sump: walls, chambers with their water, baffles with the gaps over and under them. */
#include "picture/elevation/elevation-private.h"
#include "picture/board.h"
#include "picture/marks.h"

#include <math.h>

/* Water that passes a baffle, as a short bent arrow in a gap. */
static void
draw_gap_flow (NappeElevation *self, const NappeBaffleLayout *baffle, double floor)
{
  double gap = baffle->gap_top - floor;
  const char *id = nappe_elevation_id (baffle->part);
  double flow = self->study && self->shown ? nappe_study_flow (self->study, self->shown, id) : NAN;
  if (!(gap * self->scale > 7) || !isfinite (flow) || flow == 0)
    return;
  double way = flow > 0 ? 1 : -1;
  double x = nappe_elevation_x (self, (baffle->left + baffle->right) / 2), y = nappe_elevation_y (self, floor + gap / 2);
  double length = 8 + (baffle->right - baffle->left) * self->scale;
  NappeStyle line = { .stroke = NAPPE_ROLE_SURFACE, .weight = 1.2 };
  nappe_scene_stroke (self->scene, NAPPE_LAYER_LEVEL, x - way * length / 2, y, x + way * length / 2, y, &line);
  nappe_mark_arrow (self->scene, NAPPE_LAYER_LEVEL, x + way * (length / 2 + 4), y, way, 0, 6, NAPPE_ROLE_SURFACE);
}

/* Water over a baffle's top, falling to the lower side. */
static void
draw_baffle_fall (NappeElevation *self, const NappeBaffleLayout *baffle, double left_level, double right_level)
{
  NappeStyle sheet = { .stroke = NAPPE_ROLE_MOVING, .weight = 2, .round = TRUE };
  double high = fmax (left_level, right_level), low = fmin (left_level, right_level);
  if (!(high > baffle->top) || !(high - low > 0.004))
    return;
  double way = left_level > right_level ? 1 : -1;
  double edge = nappe_elevation_x (self, way > 0 ? baffle->left : baffle->right);
  double over = (baffle->right - baffle->left) * self->scale;
  double y = nappe_elevation_y (self, high), end = nappe_elevation_y (self, fmax (low, baffle->part->gap_height));
  nappe_scene_move (self->scene, edge - way * 2, y);
  nappe_scene_line (self->scene, edge + way * over * 0.6, y);
  nappe_scene_curve (self->scene, edge + way * (over + 2), y, edge + way * (over + 4), y + 2, edge + way * (over + 4.5), end);
  nappe_scene_paint (self->scene, NAPPE_LAYER_LEVEL, &sheet);
}

/* The lower level; not known when one of them is not. */
static double
lower_of (double left, double right)
{
  return isnan (left) ? left : nappe_not_above (right, left);
}

static double
chamber_level (const NappeElevation *self, guint index)
{
  return nappe_elevation_level (self, self->shown, nappe_elevation_id (self->layout->chambers[index].part));
}

static void
draw_baffle (NappeElevation *self, guint index, const NappeStyle *style)
{
  const NappeBaffleLayout *baffle = &self->layout->baffles[index];
  const char *id = nappe_elevation_id (baffle->part);
  double floor = self->layout->sump.floor, low = fmax (baffle->gap_top, floor);
  double left = chamber_level (self, index), right = chamber_level (self, index + 1);
  /* Water stands in the gap and over a drowned top; between them the wall hides it. */
  double water = nappe_not_above (lower_of (left, right), self->layout->sump.rim);
  if (water > baffle->top)
    nappe_elevation_draw_water (self, baffle->left, baffle->right, floor, water);
  else if (low > floor)
    nappe_elevation_draw_body (self, baffle->left, baffle->right, floor, water);
  NappeBox box = nappe_elevation_box (self, baffle->left, baffle->right, low, baffle->top);
  if (box.width < 2)
    {
      box.x -= (2 - box.width) / 2;
      box.width = 2;
    }
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, box, style);
  nappe_scene_block (self->scene, NAPPE_BLOCK_SOFT, box);
  nappe_scene_hit (self->scene, id, nappe_box_grown (box, 2));
  draw_gap_flow (self, baffle, floor);
  draw_baffle_fall (self, baffle, left, right);
  nappe_elevation_pin (self, id, box.x + box.width / 2, box.y - 14);
}

void
nappe_elevation_draw_sump (NappeElevation *self)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (self->build);
  const NappeFrame *frame = &self->layout->sump;
  NappeStyle pane = nappe_board_pane (sump->material);
  double wall = fmax (sump->wall_thickness, 0), bottom = fmax (sump->bottom_thickness, 0);
  NappeBox walls[] = {
    nappe_elevation_box (self, frame->left - wall, frame->left, frame->floor, frame->rim),
    nappe_elevation_box (self, frame->right, frame->right + wall, frame->floor, frame->rim),
    nappe_elevation_box (self, frame->left - wall, frame->right + wall, frame->floor - bottom, frame->floor),
  };
  for (guint i = 0; i < self->layout->n_chambers; i++)
    {
      const NappeChamberLayout *chamber = &self->layout->chambers[i];
      const char *id = nappe_elevation_id (chamber->part);
      const NappeFrame *room = &chamber->frame;
      double level = nappe_not_above (chamber_level (self, i), room->rim);
      nappe_elevation_draw_water (self, room->left, room->right, room->floor, level);
      nappe_scene_hit (self->scene, id, nappe_elevation_box (self, room->left, room->right, room->floor, room->rim));
      static const double shares[] = { 0.5, 0.25, 0.75, 0.25 };
      for (guint k = 0; k < G_N_ELEMENTS (shares); k++)
        {
          double x = nappe_elevation_x (self, room->left + (room->right - room->left) * shares[k]);
          nappe_elevation_pin (self, id, x, nappe_elevation_y (self, room->rim) + 10 + 26.0 * k);
        }
    }
  for (guint i = 0; i < self->layout->n_baffles; i++)
    draw_baffle (self, i, &pane);
  for (guint i = 0; i < G_N_ELEMENTS (walls); i++)
    {
      nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, walls[i], &pane);
      nappe_scene_block (self->scene, NAPPE_BLOCK_SOFT, walls[i]);
    }
  const char *id = nappe_elevation_id (self->build->sump);
  nappe_scene_hit (self->scene, id, nappe_elevation_box (self, frame->left - wall, frame->right + wall,
                                                         frame->floor - bottom, frame->rim));
  nappe_elevation_pin (self, id, nappe_elevation_x (self, frame->left - wall) - 16,
                          nappe_elevation_y (self, frame->rim) + 8);
  nappe_elevation_pin (self, id, nappe_elevation_x (self, frame->right + wall) + 16,
                          nappe_elevation_y (self, frame->rim) + 8);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water on its way to the floor: over a rim, down a wall, and as a puddle with its litres. */
#include "picture/elevation/elevation-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/moment.h"

/* A level this close to the rim counts as running over [m]. */
#define BRIM 0.001
/* How far a puddle is drawn beyond the stand [px]. */
#define PUDDLE_REACH 84.0

static void
draw_curl (NappeElevation *self, double x, double rim, double way)
{
  NappeStyle sheet = { .stroke = NAPPE_ROLE_MOVING, .weight = 3, .round = TRUE };
  double px = nappe_elevation_x (self, x), y = nappe_elevation_y (self, rim), floor = nappe_elevation_y (self, 0);
  nappe_scene_move (self->scene, px - way * 9, y - 1);
  nappe_scene_curve (self->scene, px + way * 2, y - 2, px + way * 5, y, px + way * 6, y + 9);
  nappe_scene_line (self->scene, px + way * 6, fmax (floor - 1, y + 9));
  nappe_scene_paint (self->scene, NAPPE_LAYER_LEVEL, &sheet);
}

/* A state at rest is brimful where it ran over before; at a moment the flow tells. id: of the vessel. */
static gboolean
runs_over (const NappeElevation *self, const char *id)
{
  const NappeNetwork *network = self->study->network;
  gint node = nappe_network_find_node (network, id);
  for (guint i = 0; self->at_moment && i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_RIM && (gint) network->links[i].from == node
        && nappe_moment_flow (self->shown->flow[i]) > 0)
      return TRUE;
  return !self->at_moment;
}

/* FALSE: nothing runs over. */
static gboolean
draw_over (NappeElevation *self, const char *id, const NappeFrame *frame, double wall, double level)
{
  if (!(level >= frame->rim - BRIM) || !runs_over (self, id))
    return FALSE;
  draw_curl (self, frame->left - wall, frame->rim, -1);
  draw_curl (self, frame->right + wall, frame->rim, 1);
  return TRUE;
}

/* All chambers share the sump's rim. */
static void
draw_over_sump (NappeElevation *self)
{
  double wall = NAPPE_BUILD_SUMP (self->build)->wall_thickness;
  gboolean drawn = FALSE;
  for (guint i = 0; i < self->layout->n_chambers && !drawn; i++)
    {
      const char *id = nappe_elevation_id (self->layout->chambers[i].part);
      drawn = draw_over (self, id, &self->layout->sump, wall, nappe_elevation_level (self, self->shown, id));
    }
}

/* A flat lens on the floor line. */
static void
draw_puddle (NappeElevation *self, double left, double right)
{
  NappeStyle water = { .fill = NAPPE_ROLE_MOVING };
  double y = nappe_elevation_y (self, 0), high = 6;
  nappe_scene_move (self->scene, left, y);
  nappe_scene_curve (self->scene, left + 14, y - high, left + 30, y - high, left + 60, y - high);
  nappe_scene_line (self->scene, right - 60, y - high);
  nappe_scene_curve (self->scene, right - 30, y - high, right - 14, y - high, right, y);
  nappe_scene_close (self->scene);
  nappe_scene_paint (self->scene, NAPPE_LAYER_LEVEL, &water);
  nappe_scene_block (self->scene, NAPPE_BLOCK_MARK, (NappeBox) { left, y - high, right - left, high });
}

void
nappe_elevation_draw_spill (NappeElevation *self)
{
  const NappeFrame *tank = &self->layout->tank, *sump = &self->layout->sump, *stand = &self->layout->stand;
  const char *display = nappe_elevation_id (self->build->tank);
  if (!self->shown || !(self->shown->spilled > 0))
    return;
  draw_over_sump (self);
  draw_over (self, display, tank, NAPPE_BUILD_TANK (self->build)->wall_thickness,
             nappe_elevation_level (self, self->shown, display));
  double left = nappe_elevation_x (self, fmin (stand->left, sump->left)) - PUDDLE_REACH;
  double right = nappe_elevation_x (self, fmax (stand->right, sump->right)) + PUDDLE_REACH;
  left = fmax (left, self->rule_x + 4);
  right = fmin (right, self->dimension_x - 8);
  draw_puddle (self, left, right);
  g_autofree char *litres = nappe_quantity_format (NAPPE_QUANTITY_VOLUME, self->shown->spilled, self->options->units, 0);
  /* Translators: beside a puddle in the drawing; %s is a volume */
  g_autofree char *text = g_strdup_printf (_("%s on the floor"), litres);
  double y = nappe_elevation_y (self, 0) - 10;
  NappeTextStyle style = { .x = right, .y = y, .align_x = 1, .align_y = 1, .size = NAPPE_TEXT_HEAD,
                           .weight = NAPPE_TEXT_STRONG, .role = NAPPE_ROLE_DANGER, .plate = TRUE };
  NappeTextStyle places[] = { style, style, style, style };
  places[0].x = nappe_elevation_x (self, fmax (stand->right, sump->right)) + 8;
  places[0].align_x = 0;
  places[1].x = nappe_elevation_x (self, fmin (stand->left, sump->left)) - 8;
  places[2].y -= 22;
  places[3].x = (left + right) / 2;
  places[3].align_x = 0.5;
  nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, text, places, G_N_ELEMENTS (places), NULL);
}

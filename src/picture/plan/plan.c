/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scale and order of the plan; the drawing itself is in the files beside this one. */
#include "picture/plan/plan-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* How far around the sump the stand is still shown [m]. */
#define SHOWN_BESIDE 0.3

double
nappe_sump_plan_x (const NappeSumpPlan *self, double x)
{
  return self->x + x * self->scale;
}

double
nappe_sump_plan_y (const NappeSumpPlan *self, double y)
{
  return self->y - y * self->scale;
}

NappeBox
nappe_sump_plan_box (const NappeSumpPlan *self, double left, double right, double front, double back)
{
  return nappe_box_between (nappe_sump_plan_x (self, left), nappe_sump_plan_y (self, back), nappe_sump_plan_x (self, right),
                            nappe_sump_plan_y (self, front));
}

/* The sump with its walls, and the stand around it as far as it is near. */
static void
measure (NappeSumpPlan *self)
{
  const NappeFrame *sump = &self->board.layout->sump, *stand = &self->board.layout->stand;
  double wall = fmax (NAPPE_BUILD_SUMP (self->board.build)->wall_thickness, 0);
  self->left = fmin (sump->left - wall, fmax (stand->left, sump->left - SHOWN_BESIDE));
  self->right = fmax (sump->right + wall, fmin (stand->right, sump->right + SHOWN_BESIDE));
  self->front = fmin (sump->front - wall, fmax (stand->front, sump->front - SHOWN_BESIDE));
  self->back = fmax (sump->back + wall, fmin (stand->back, sump->back + SHOWN_BESIDE));
}

static void
set_scale (NappeSumpPlan *self)
{
  const NappePictureOptions *options = self->board.options;
  NappeBox room = self->board.room;
  double text = options->text_scale;
  /* Names above; two rows of dimensions below; labels and the upright dimension beside. */
  double above = self->board.tiny ? 0 : 58 * text, below = self->board.tiny ? 4 : 76 * text;
  double beside = self->board.tiny ? 0 : fmin (self->board.small ? 54 * text : 150 * text, options->width * 0.2);
  double wide = fmax (room.width - 2 * beside, 8), high = fmax (room.height - above - below, 8);
  double length = fmax (self->right - self->left, 0.01), width = fmax (self->back - self->front, 0.01);
  self->scale = fmin (wide / length, high / width);
  self->x = room.x + beside + (wide - length * self->scale) / 2 - self->left * self->scale;
  self->y = room.y + above + (high - width * self->scale) / 2 + self->back * self->scale;
  NappeGround ground;
  if (nappe_scene_held_ground (self->board.scene, &ground))
    {
      self->scale = ground.scale;
      self->x = ground.x;
      self->y = ground.y;
    }
  ground = (NappeGround) { self->scale, self->x, self->y };
  nappe_scene_keep_ground (self->board.scene, &ground);
}

/* An outlet is seen as the end of its drain. */
static void
see_parts (NappeSumpPlan *self)
{
  const NappeLayout *layout = self->board.layout;
  nappe_board_see (&self->board, self->board.build->sump);
  for (guint i = 0; i < layout->n_chambers; i++)
    nappe_board_see (&self->board, layout->chambers[i].part);
  for (guint i = 0; i < layout->n_baffles; i++)
    nappe_board_see (&self->board, layout->baffles[i].part);
  for (guint i = 0; i < self->things->len; i++)
    nappe_board_see (&self->board, g_array_index (self->things, NappeSumpThing, i).part);
  for (guint i = 0; i < layout->n_drains; i++)
    for (guint k = 0; k < layout->drains[i].n_outlets; k++)
      if (nappe_sump_plan_shows_end (self, &layout->drains[i].outlets[k]))
        {
          nappe_board_see (&self->board, layout->drains[i].part);
          nappe_board_see (&self->board, layout->drains[i].outlets[k].part);
        }
}

static void
frame (NappeSumpPlan *self)
{
  /* Translators: the unit of the lengths in the drawing, as a word */
  const char *unit = self->board.options->units == NAPPE_UNITS_US ? _("inches") : _("millimetres");
  /* Translators: subtitle of a drawing; %s is a unit of length */
  g_autofree char *what = g_strdup_printf (_("Plan: the sump from above, its front below · lengths in %s"), unit);
  const char *remarks[] = {
    /* Translators: under the plan: what the build does not hold and the drawing takes for granted */
    _("Assumed: how far pumps, equipment and pipe ends are from front and back. From left to right all is as planned."),
  };
  nappe_board_frame (&self->board, what, remarks, G_N_ELEMENTS (remarks));
}

void
nappe_sump_plan_compose (NappeScene *scene, const NappePictureOptions *options, NappeBuild *build, const NappeLayout *layout,
                    const NappeStudy *study, const NappeVerdict *verdict)
{
  NappeSumpPlan self = { .things = g_array_new (FALSE, FALSE, sizeof (NappeSumpThing)) };
  nappe_board_begin (&self.board, scene, options, build, layout, study, verdict);
  measure (&self);
  nappe_sump_plan_collect_things (&self);
  see_parts (&self);
  frame (&self);
  set_scale (&self);
  nappe_sump_plan_draw_sump (&self);
  nappe_sump_plan_draw_things (&self);
  if (!self.board.tiny)
    nappe_sump_plan_draw_dimensions (&self);
  nappe_sump_plan_pin_parts (&self);
  nappe_board_draw_findings (&self.board);
  if (!self.board.tiny)
    {
      nappe_sump_plan_name_chambers (&self);
      nappe_sump_plan_name_things (&self);
    }
  nappe_sump_plan_add_items (&self);
  nappe_sump_plan_add_handles (&self);
  g_array_unref (self.things);
  nappe_board_end (&self.board);
}

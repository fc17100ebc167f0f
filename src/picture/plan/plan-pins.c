/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where findings about what the plan shows are pinned. */
#include "picture/plan/plan-private.h"

/* Of marks from the edges of what they lie in [px]. */
#define INSET 18.0

/* In the middle before its front, then to both sides, then behind. */
static void
pin_room (NappeSumpPlan *self, gpointer part, const NappeFrame *room)
{
  static const double shares[] = { 0.5, 0.25, 0.75 };
  NappeBox box = nappe_sump_plan_box (self, room->left, room->right, room->front, room->back);
  for (guint row = 0; row < 2; row++)
    for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
      {
        double x = box.x + box.width * shares[i], y = row == 0 ? box.y + box.height - INSET : box.y + INSET;
        nappe_board_pin (&self->board, part, x, y, x, y);
      }
}

static void
pin_baffle (NappeSumpPlan *self, const NappeBaffleLayout *baffle)
{
  static const double shares[] = { 0.62, 0.38, 0.8, 0.2 };
  const NappeFrame *sump = &self->board.layout->sump;
  for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
    {
      double x = nappe_sump_plan_x (self, (baffle->left + baffle->right) / 2);
      double y = nappe_sump_plan_y (self, sump->back + (sump->front - sump->back) * shares[i]);
      nappe_board_pin (&self->board, baffle->part, x, y, x, y);
    }
}

/* At its corners outside, where nothing stands. */
static void
pin_sump (NappeSumpPlan *self)
{
  const NappeFrame *sump = &self->board.layout->sump;
  double wall = NAPPE_BUILD_SUMP (self->board.build)->wall_thickness;
  NappeBox outside = nappe_sump_plan_box (self, sump->left - wall, sump->right + wall, sump->front - wall, sump->back + wall);
  nappe_board_pin_around (&self->board, self->board.build->sump, &outside);
}

void
nappe_sump_plan_pin_parts (NappeSumpPlan *self)
{
  const NappeLayout *layout = self->board.layout;
  pin_sump (self);
  for (guint i = 0; i < layout->n_chambers; i++)
    pin_room (self, layout->chambers[i].part, &layout->chambers[i].frame);
  for (guint i = 0; i < layout->n_baffles; i++)
    pin_baffle (self, &layout->baffles[i]);
  for (guint i = 0; i < self->things->len; i++)
    {
      const NappeSumpThing *thing = &g_array_index (self->things, NappeSumpThing, i);
      if (!thing->outside)
        nappe_board_pin_around (&self->board, thing->part, &thing->box);
    }
}

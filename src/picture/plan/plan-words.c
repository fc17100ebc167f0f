/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said about each part of the plan, and where its numbers can be taken hold of. */
#include "picture/plan/plan-private.h"

#include <glib/gi18n-lib.h>

#include "picture/handles-private.h"
#include "picture/wording.h"

static void
add_item (NappeSumpPlan *self, gpointer part, const char *description, NappeBox box)
{
  nappe_scene_item (self->board.scene, nappe_part_get_id (part), nappe_part_display_name (part), description, box);
}

static void
add_room (NappeSumpPlan *self, gpointer part, const NappeFrame *room)
{
  g_autofree char *length = nappe_board_length (&self->board, room->right - room->left);
  g_autofree char *width = nappe_board_length (&self->board, room->back - room->front);
  /* Translators: of a chamber or the sump seen from above; lengths */
  g_autofree char *text = g_strdup_printf (_("%1$s long and %2$s wide inside."), length, width);
  add_item (self, part, text, nappe_sump_plan_box (self, room->left, room->right, room->front, room->back));
}

/* "120 × 90 mm; …": its size, whether it is assumed, and the room around it. */
static void
add_thing (NappeSumpPlan *self, const NappeSumpThing *thing)
{
  g_autofree char *length = nappe_board_length (&self->board, thing->right - thing->left);
  g_autofree char *width = nappe_board_length (&self->board, thing->back - thing->front);
  g_autofree char *left = nappe_board_length (&self->board, thing->room_left);
  g_autofree char *right = nappe_board_length (&self->board, thing->room_right);
  g_autofree char *front = nappe_board_length (&self->board, thing->room_front);
  g_autofree char *back = nappe_board_length (&self->board, thing->room_back);
  g_autofree char *text = NULL;
  if (thing->pipe)
    /* Translators: of a drain whose end is seen from above: the pipe's diameter, and how far its edge is from the left wall */
    text = g_strdup_printf (_("Its pipe, %1$s across, ends %2$s from the left wall of its chamber."), length, left);
  else if (thing->room_left < 0 || thing->room_right < 0 || thing->room_front < 0 || thing->room_back < 0)
    /* Translators: of equipment seen from above; its length and width */
    text = g_strdup_printf (_("%1$s long and %2$s wide: it reaches beyond its chamber."), length, width);
  else
    /* Translators: of equipment seen from above: its length and width, and the room that is left to the walls of its chamber */
    text = g_strdup_printf (_("%1$s long and %2$s wide; room of %3$s on the left, %4$s on the right, %5$s in front and %6$s "
                              "behind."), length, width, left, right, front, back);
  /* Translators: two sentences, of which the second tells that the size of the thing is not known */
  g_autofree char *all = thing->assumed ? g_strdup_printf (_("%s Its size is assumed."), text) : g_strdup (text);
  add_item (self, thing->part, all, thing->box);
}

static void
add_baffle (NappeSumpPlan *self, const NappeBaffleLayout *baffle)
{
  const NappeFrame *sump = &self->board.layout->sump;
  g_autofree char *thick = nappe_board_length (&self->board, baffle->right - baffle->left);
  g_autofree char *text = baffle->part->gap_height > 0
                              /* Translators: of a baffle seen from above; its thickness */
                              ? g_strdup_printf (_("%s thick, water passes under it."), thick)
                              /* Translators: of a baffle seen from above; its thickness */
                              : g_strdup_printf (_("%s thick, sealed to the floor."), thick);
  add_item (self, baffle->part, text, nappe_sump_plan_box (self, baffle->left, baffle->right, sump->front, sump->back));
}

void
nappe_sump_plan_add_items (NappeSumpPlan *self)
{
  const NappeLayout *layout = self->board.layout;
  add_room (self, self->board.build->sump, &layout->sump);
  for (guint i = 0; i < layout->n_chambers; i++)
    add_room (self, layout->chambers[i].part, &layout->chambers[i].frame);
  for (guint i = 0; i < layout->n_baffles; i++)
    add_baffle (self, &layout->baffles[i]);
  for (guint i = 0; i < self->things->len; i++)
    add_thing (self, &g_array_index (self->things, NappeSumpThing, i));
}

/* A handle on a model place [m]; way: what a metre of the picture counts. */
static NappeHandle *
add_handle (NappeSumpPlan *self, gpointer picked, gpointer part, const char *field, gboolean upright, double x,
            double y, double way)
{
  return nappe_scene_handle (self->board.scene, self->board.build, picked, part, field, upright, nappe_sump_plan_x (self, x),
                             nappe_sump_plan_y (self, y), way / self->scale);
}

static void
add_wall (NappeSumpPlan *self, gpointer picked, guint index)
{
  const NappeLayout *layout = self->board.layout;
  double x = index < layout->n_baffles ? (layout->baffles[index].left + layout->baffles[index].right) / 2
                                       : layout->chambers[index].frame.right;
  add_handle (self, picked, layout->chambers[index].part, "length", FALSE, x, (layout->sump.front + layout->sump.back) / 2, 1);
}

static void
add_thing_handle (NappeSumpPlan *self, const NappeSumpThing *thing)
{
  if (thing->pipe)
    return;
  NappeHandle *across = add_handle (self, thing->part, thing->part, "x", FALSE, (thing->left + thing->right) / 2,
                                    (thing->front + thing->back) / 2, 1);
  nappe_scene_handle_most (self->board.scene, across, thing->room.right - thing->room.left,
                           _("The room that it stands in ends there."));
}

void
nappe_sump_plan_add_handles (NappeSumpPlan *self)
{
  const NappeLayout *layout = self->board.layout;
  const NappeFrame *sump = &layout->sump;
  NappePart *part = self->board.build->sump;
  double middle = (sump->front + sump->back) / 2;
  add_handle (self, part, part, "length", FALSE, sump->right, middle, 1);
  /* It stands midway under the tank: its back moves by half of what its width grows. */
  add_handle (self, part, part, "width", TRUE, (sump->left + sump->right) / 2, sump->back, 2);
  add_handle (self, part, part, "x", FALSE, sump->left, middle, 1);
  for (guint i = 0; i < layout->n_chambers; i++)
    {
      if (i > 0)
        add_wall (self, layout->chambers[i].part, i - 1);
      if (i + 1 < layout->n_chambers || layout->n_chambers == 1)
        add_wall (self, layout->chambers[i].part, i);
    }
  for (guint i = 0; i < layout->n_baffles; i++)
    add_wall (self, layout->baffles[i].part, i);
  for (guint i = 0; i < self->things->len; i++)
    add_thing_handle (self, &g_array_index (self->things, NappeSumpThing, i));
}

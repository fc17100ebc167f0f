/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sump from above: stand, chambers, baffles, walls, and the dimensions and names around them. */
#include "picture/plan/plan-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/marks.h"
#include "picture/wording.h"

/* Baffles thinner than this on the paper are drawn so thick [px]. */
#define THINNEST 2.0

static void
draw_stand (NappeSumpPlan *self)
{
  NappeStyle panel = { .fill = NAPPE_ROLE_STAND, .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  NappeStyle edge = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR, .dashed = TRUE };
  const NappeFrame *stand = &self->board.layout->stand;
  double wall = fmax (NAPPE_BUILD_STAND (self->board.build)->wall_thickness, 0);
  NappeBox view = nappe_box_grown (nappe_sump_plan_box (self, self->left, self->right, self->front, self->back), 2);
  nappe_scene_clip (self->board.scene, &view);
  NappeBox sides[] = { nappe_sump_plan_box (self, stand->left, stand->left + wall, stand->front, stand->back),
                       nappe_sump_plan_box (self, stand->right - wall, stand->right, stand->front, stand->back) };
  for (guint i = 0; i < G_N_ELEMENTS (sides); i++)
    nappe_scene_box (self->board.scene, NAPPE_LAYER_GROUND, sides[i], &panel);
  nappe_scene_box (self->board.scene, NAPPE_LAYER_GROUND,
                   nappe_sump_plan_box (self, stand->left, stand->right, stand->front, stand->back), &edge);
  nappe_scene_clip (self->board.scene, NULL);
}

/* Whether water stands in the room in the state that is shown. */
static gboolean
is_wet (const NappeSumpPlan *self, gpointer part, const NappeFrame *room)
{
  const NappeStudy *study = self->board.study;
  if (!study)
    return FALSE;
  const NappeState *state = self->board.options->shown == NAPPE_SHOW_POWER_CUT ? &study->cut_check_failed.state
                                                                               : &study->running;
  gboolean known = self->board.options->shown == NAPPE_SHOW_POWER_CUT ? study->cut_check_failed.known
                                                                      : study->running.rest == NAPPE_REST_FOUND;
  return known && state->level && nappe_study_level (study, state, nappe_part_get_id (part)) > room->floor;
}

static void
draw_chambers (NappeSumpPlan *self)
{
  NappeStyle wet = { .fill = NAPPE_ROLE_WATER_TOP }, dry = { .fill = NAPPE_ROLE_AIR };
  for (guint i = 0; i < self->board.layout->n_chambers; i++)
    {
      const NappeChamberLayout *chamber = &self->board.layout->chambers[i];
      const NappeFrame *room = &chamber->frame;
      NappeBox box = nappe_sump_plan_box (self, room->left, room->right, room->front, room->back);
      nappe_scene_box (self->board.scene, NAPPE_LAYER_WATER, box, is_wet (self, chamber->part, room) ? &wet : &dry);
      nappe_board_hit (&self->board, chamber->part, box);
    }
}

/* One that leaves a gap at the floor is hatched across: water passes under it. */
static void
draw_baffle (NappeSumpPlan *self, const NappeBaffleLayout *baffle, const NappeStyle *pane)
{
  const NappeFrame *sump = &self->board.layout->sump;
  NappeStyle stroke = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
  NappeBox box = nappe_sump_plan_box (self, baffle->left, baffle->right, sump->front, sump->back);
  if (box.width < THINNEST)
    {
      box.x -= (THINNEST - box.width) / 2;
      box.width = THINNEST;
    }
  nappe_scene_box (self->board.scene, NAPPE_LAYER_VESSEL, box, pane);
  nappe_scene_block (self->board.scene, NAPPE_BLOCK_SOFT, box);
  nappe_board_hit (&self->board, baffle->part, nappe_box_grown (box, 3));
  if (!(baffle->part->gap_height > 0))
    return;
  double out = 3, step = 9;
  for (guint i = 1; i < fmin (box.height / step, 400); i++)
    nappe_scene_stroke (self->board.scene, NAPPE_LAYER_VESSEL, box.x - out, box.y + i * step + out, box.x + box.width + out,
                        box.y + i * step - out, &stroke);
}

void
nappe_sump_plan_draw_sump (NappeSumpPlan *self)
{
  const NappeFrame *sump = &self->board.layout->sump;
  const NappeSump *part = NAPPE_BUILD_SUMP (self->board.build);
  NappeStyle pane = nappe_board_pane (part->material);
  double wall = fmax (part->wall_thickness, 0);
  draw_stand (self);
  draw_chambers (self);
  for (guint i = 0; i < self->board.layout->n_baffles; i++)
    draw_baffle (self, &self->board.layout->baffles[i], &pane);
  NappeBox walls[] = {
    nappe_sump_plan_box (self, sump->left - wall, sump->left, sump->front - wall, sump->back + wall),
    nappe_sump_plan_box (self, sump->right, sump->right + wall, sump->front - wall, sump->back + wall),
    nappe_sump_plan_box (self, sump->left, sump->right, sump->front - wall, sump->front),
    nappe_sump_plan_box (self, sump->left, sump->right, sump->back, sump->back + wall),
  };
  for (guint i = 0; i < G_N_ELEMENTS (walls); i++)
    {
      nappe_scene_box (self->board.scene, NAPPE_LAYER_VESSEL, walls[i], &pane);
      nappe_scene_block (self->board.scene, NAPPE_BLOCK_SOFT, walls[i]);
    }
  nappe_board_hit (&self->board, self->board.build->sump,
                   nappe_sump_plan_box (self, sump->left - wall, sump->right + wall, sump->front - wall, sump->back + wall));
}

/* The chambers' lengths as a chain at y. First those whose number fits; one that is longer than its chamber stands under
 * the chain where that leaves room. */
static void
draw_chain (NappeSumpPlan *self, double y)
{
  const NappeLayout *layout = self->board.layout;
  double low = nappe_sump_plan_y (self, layout->sump.front), below = y + 7 * self->board.options->text_scale;
  for (guint round = 0; round < 2; round++)
    for (guint i = 0; i < layout->n_chambers; i++)
      {
        const NappeFrame *room = &layout->chambers[i].frame;
        double left = nappe_sump_plan_x (self, room->left), right = nappe_sump_plan_x (self, room->right);
        g_autofree char *text = nappe_board_number (&self->board, room->right - room->left);
        NappeTextStyle style = { .x = (left + right) / 2, .y = below, .align_x = 0.5, .size = NAPPE_TEXT_SMALL,
                                 .role = NAPPE_ROLE_SOFT };
        if (nappe_mark_dimension_fits (self->board.scene, left, y, right, y, text) != (round == 0))
          continue;
        nappe_board_extend (&self->board, left, low, left, y + 4);
        nappe_board_extend (&self->board, right, low, right, y + 4);
        if (round == 0)
          nappe_mark_dimension (self->board.scene, left, y, right, y, text);
        else
          {
            nappe_mark_dimension_bare (self->board.scene, left, y, right, y);
            nappe_label_place_text (self->board.scene, NAPPE_LAYER_NOTE, text, &style, 1, NULL);
          }
      }
}

void
nappe_sump_plan_draw_dimensions (NappeSumpPlan *self)
{
  const NappeFrame *sump = &self->board.layout->sump;
  double text_scale = self->board.options->text_scale, y = nappe_sump_plan_y (self, self->front) + 18 * text_scale;
  double left = nappe_sump_plan_x (self, sump->left), right = nappe_sump_plan_x (self, sump->right);
  double low = nappe_sump_plan_y (self, sump->front), high = nappe_sump_plan_y (self, sump->back);
  draw_chain (self, y);
  double whole = y + 34 * text_scale;
  g_autofree char *length = nappe_board_number (&self->board, sump->right - sump->left);
  /* Translators: a dimension of the drawing; inside length; %s is a number */
  g_autofree char *text = g_strdup_printf (_("sump %s inside"), length);
  if (nappe_board_dimension (&self->board, left, whole, right, whole, text))
    {
      nappe_board_extend (&self->board, left, low, left, whole + 4);
      nappe_board_extend (&self->board, right, low, right, whole + 4);
    }
  double beside = nappe_sump_plan_x (self, self->right) + 20 * text_scale;
  g_autofree char *width = nappe_board_number (&self->board, sump->back - sump->front);
  if (nappe_board_dimension (&self->board, beside, low, beside, high, width))
    {
      nappe_board_extend (&self->board, right, low, beside + 4, low);
      nappe_board_extend (&self->board, right, high, beside + 4, high);
    }
}

/* Behind the sump, in one of three rows, with a line to the chamber when the name is wider than that. */
static void
name_chambers (NappeSumpPlan *self, guint first, guint end)
{
  const NappeChamberLayout *from = &self->board.layout->chambers[first], *to = &self->board.layout->chambers[end - 1];
  NappeStyle line = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  double scale = self->board.options->text_scale, wall = fmax (NAPPE_BUILD_SUMP (self->board.build)->wall_thickness, 0);
  double top = nappe_sump_plan_y (self, from->frame.back + wall), inside = nappe_sump_plan_y (self, from->frame.back);
  double x = nappe_sump_plan_x (self, (from->frame.left + to->frame.right) / 2);
  double length = (to->frame.right - from->frame.left) * self->scale;
  const char *own = end - first == 1 ? nappe_part_get_name (NAPPE_PART (from->part)) : "";
  const char *name = *own ? own : nappe_wording_choice (NAPPE_PART (from->part), "role");
  NappeTextStyle style = { .x = x, .align_x = 0.5, .align_y = 1, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT };
  g_autofree char *text = nappe_label_shorten (self->board.scene, name, &style, 150 * scale);
  for (guint row = 0; row < 3; row++)
    {
      style.y = top - (6 + 19 * row) * scale;
      NappeBox box = nappe_scene_measure (self->board.scene, text, &style);
      NappeBox way = { x - 2, box.y + box.height, 4, top - box.y - box.height };
      /* A name further up is led down past the others. */
      if ((row > 0 && !nappe_label_is_free (self->board.scene, &way, 0))
          || !nappe_label_place_text (self->board.scene, NAPPE_LAYER_NOTE, text, &style, 1, &box))
        continue;
      nappe_board_hit (&self->board, from->part, box);
      if (row > 0 || box.width > length)
        {
          nappe_scene_stroke (self->board.scene, NAPPE_LAYER_NOTE, x, box.y + box.height, x, inside, &line);
          nappe_scene_block (self->board.scene, NAPPE_BLOCK_LINE, nappe_box_between (x - 1, box.y + box.height, x + 1, inside));
        }
      return;
    }
}

/* Neighbours of one role, such as the two sides of a bubble trap, share one name. */
void
nappe_sump_plan_name_chambers (NappeSumpPlan *self)
{
  const NappeLayout *layout = self->board.layout;
  for (guint first = 0, end; first < layout->n_chambers; first = end)
    {
      end = first + 1;
      while (end < layout->n_chambers && layout->chambers[end].part->role == layout->chambers[first].part->role)
        end++;
      name_chambers (self, first, end);
    }
}

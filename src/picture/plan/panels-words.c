/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said about each hole, and where its numbers can be taken hold of. */
#include "picture/plan/panels-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/handles-private.h"

static double
from_left (const NappePanel *panel, const NappeCut *cut)
{
  return panel->mirrored ? panel->right - cut->across : cut->across - panel->left;
}

char *
nappe_cut_place_text (const NappePanels *self, const NappePanel *panel, const NappeCut *cut)
{
  g_autofree char *aside = nappe_board_number (&self->board, from_left (panel, cut));
  g_autofree char *up = nappe_board_number (&self->board, cut->along - panel->near);
  if (panel->pane == NAPPE_PANE_BOTTOM)
    /* Translators: where the middle of a hole is in a pane as it is drawn; two numbers */
    return g_strdup_printf (_("middle %1$s from the left, %2$s from the front"), aside, up);
  if (nappe_cut_is_round (cut))
    /* Translators: where the middle of a hole is in a pane as it is drawn; two numbers */
    return g_strdup_printf (_("middle %1$s from the left, %2$s up"), aside, up);
  /* Translators: where a cut-out is in a pane as it is drawn; two numbers */
  return g_strdup_printf (_("middle %1$s from the left, crest %2$s up"), aside, up);
}

char *
nappe_cut_clear_text (const NappePanels *self, const NappePanel *panel, const NappeCut *cut)
{
  double next = nappe_cut_next (panel, cut);
  g_autofree char *edge = nappe_board_number (&self->board, nappe_cut_edge (panel, cut));
  g_autofree char *other = nappe_board_number (&self->board, next);
  if (isinf (next))
    /* Translators: what is left between the rim of a hole and the nearest edge of its pane; a number */
    return g_strdup_printf (_("%s to the edge"), edge);
  /* Translators: what is left between the rim of a hole and the nearest edge of its pane, and the next hole; numbers */
  return g_strdup_printf (_("%1$s to the edge, %2$s to the next"), edge, other);
}

static void
add_cut (NappePanels *self, const NappePanel *panel, const NappeCut *cut)
{
  g_autofree char *name = nappe_panel_name (self, panel);
  g_autofree char *where = nappe_cut_place_text (self, panel, cut), *clear = nappe_cut_clear_text (self, panel, cut);
  g_autofree char *size = nappe_board_length (&self->board, nappe_cut_is_round (cut) ? cut->diameter : cut->width);
  /* Translators: of a hole or cut-out: the pane that it is in, its diameter or width, where it is, and what is left beside it */
  g_autofree char *text = g_strdup_printf (_("%1$s: %2$s across, %3$s; %4$s."), name, size, where, clear);
  double half = (nappe_cut_is_round (cut) ? cut->diameter : cut->width) / 2;
  NappeBox box = nappe_box_between (nappe_panel_x (self, panel, cut->across - half), nappe_panel_y (self, panel, cut->along) - 4,
                                    nappe_panel_x (self, panel, cut->across + half), nappe_panel_y (self, panel, cut->along) + 4);
  nappe_scene_item (self->board.scene, nappe_part_get_id (cut->part), nappe_part_display_name (cut->part), text, box);
}

/* What all panes of a part measure, one sentence each. */
static void
add_panes (NappePanels *self, const NappePanel *first)
{
  g_autoptr (GString) text = g_string_new (NULL);
  gpointer part = nappe_panel_part (self, first);
  for (guint i = 0; i < self->panels->len; i++)
    {
      const NappePanel *panel = self->panels->pdata[i];
      if (panel->box != first->box)
        continue;
      g_autofree char *name = nappe_panel_name (self, panel);
      g_autofree char *length = nappe_board_length (&self->board, panel->right - panel->left);
      g_autofree char *height = nappe_board_length (&self->board, panel->far - panel->near);
      /* Translators: of a pane: its name, and its sides between the inside edges */
      g_autofree char *sentence = g_strdup_printf (_("%1$s: %2$s × %3$s."), name, length, height);
      g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", sentence);
    }
  /* A box with a cut-out of its own was told of already. */
  nappe_scene_item_add (self->board.scene, nappe_part_get_id (part), text->str);
  for (guint i = 0; i < self->panels->len; i++)
    {
      const NappePanel *panel = self->panels->pdata[i];
      if (panel->box == first->box)
        nappe_scene_item (self->board.scene, nappe_part_get_id (part), nappe_part_display_name (part), text->str, panel->place);
    }
}

static void
add_all_panes (NappePanels *self, gboolean of_tank)
{
  for (guint i = 0; i < self->panels->len; i++)
    {
      const NappePanel *panel = self->panels->pdata[i];
      gboolean first = i == 0 || ((const NappePanel *) self->panels->pdata[i - 1])->box != panel->box;
      if (first && (panel->box < 0) == of_tank)
        add_panes (self, panel);
    }
}

void
nappe_panels_add_items (NappePanels *self)
{
  add_all_panes (self, TRUE);
  for (guint i = 0; i < self->panels->len; i++)
    {
      const NappePanel *panel = self->panels->pdata[i];
      for (guint k = 0; k < panel->cuts->len; k++)
        add_cut (self, panel, &g_array_index (panel->cuts, NappeCut, k));
    }
  add_all_panes (self, FALSE);
}

static void
add_handles_of (NappePanels *self, const NappePanel *panel, const NappeCut *cut)
{
  NappeScene *scene = self->board.scene;
  NappeBuild *build = self->board.build;
  const NappeFrame *tank = &self->board.layout->tank;
  double x = nappe_panel_x (self, panel, cut->across), y = nappe_panel_y (self, panel, cut->along);
  double way = panel->mirrored ? -1 : 1;
  gboolean side = panel->pane == NAPPE_PANE_LEFT || panel->pane == NAPPE_PANE_RIGHT;
  NappeHandle *handle = NULL;
  if (cut->kind == NAPPE_CUT_HOLE || cut->kind == NAPPE_CUT_PIPE)
    {
      if (!side)
        nappe_scene_handle (scene, build, cut->part, cut->part, "x", FALSE, x, y, way / self->scale);
      return;
    }
  if (!side)
    nappe_scene_handle (scene, build, cut->part, cut->part, "x", FALSE, x, y, way / self->scale);
  handle = nappe_scene_handle (scene, build, cut->part, cut->part, cut->kind == NAPPE_CUT_JOINT ? "joint_height" : "weir_height",
                               TRUE, x, y, 1 / self->scale);
  nappe_scene_handle_most (scene, handle, tank->rim - tank->floor, _("The tank’s rim is no higher."));
}

void
nappe_panels_add_handles (NappePanels *self)
{
  for (guint i = 0; i < self->panels->len; i++)
    {
      const NappePanel *panel = self->panels->pdata[i];
      for (guint k = 0; k < panel->cuts->len; k++)
        {
          const NappeCut *cut = &g_array_index (panel->cuts, NappeCut, k);
          /* Equal joints move together: the first one is taken hold of. */
          if (k == 0 || cut->kind != NAPPE_CUT_JOINT || (cut - 1)->part != cut->part)
            add_handles_of (self, panel, cut);
        }
    }
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pane with its holes and cut-outs, running dimensions from its lower left corner, and a label for each hole. */
#include "picture/plan/panels-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/marks.h"

static NappeBox
cut_box (const NappePanels *self, const NappePanel *panel, const NappeCut *cut)
{
  double half = nappe_cut_is_round (cut) ? cut->diameter / 2 : cut->width / 2;
  double low = nappe_cut_is_round (cut) ? cut->along - half : cut->along;
  double high = nappe_cut_is_round (cut) ? cut->along + half : cut->top;
  return nappe_box_between (nappe_panel_x (self, panel, cut->across - half), nappe_panel_y (self, panel, high),
                            nappe_panel_x (self, panel, cut->across + half), nappe_panel_y (self, panel, low));
}

/* Cross of centre lines through a hole, a little longer than it is wide. */
static void
draw_cross (NappePanels *self, double x, double y, double reach)
{
  NappeStyle line = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  nappe_scene_stroke (self->board.scene, NAPPE_LAYER_NOTE, x - reach, y, x + reach, y, &line);
  nappe_scene_stroke (self->board.scene, NAPPE_LAYER_NOTE, x, y - reach, x, y + reach, &line);
}

static void
draw_round (NappePanels *self, const NappePanel *panel, const NappeCut *cut)
{
  NappeStyle rim = { .fill = NAPPE_ROLE_PAPER, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_CUT };
  NappeStyle flange = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR, .dashed = TRUE };
  double x = nappe_panel_x (self, panel, cut->across), y = nappe_panel_y (self, panel, cut->along);
  double radius = fmax (cut->diameter / 2 * self->scale, 1.5);
  /* What is not known to be the hole itself has a broken rim. */
  rim.dashed = cut->kind != NAPPE_CUT_HOLE;
  if (rim.dashed)
    rim.weight = NAPPE_LINE_OUTLINE;
  nappe_scene_circle (self->board.scene, NAPPE_LAYER_VESSEL, x, y, radius, &rim);
  if (cut->flange > cut->diameter)
    nappe_scene_circle (self->board.scene, NAPPE_LAYER_VESSEL, x, y, cut->flange / 2 * self->scale, &flange);
  draw_cross (self, x, y, radius + 5);
}

static void
draw_slots (NappePanels *self, const NappePanel *panel, const NappeCut *cut, const NappeStyle *open)
{
  const NappeOverflow *box = NAPPE_OVERFLOW (cut->part);
  guint n = (guint) CLAMP (box->slot_count, 1, 1000);
  double pitch = cut->width / n, half = fmin (box->slot_width, pitch) / 2;
  for (guint i = 0; i < n; i++)
    {
      double middle = cut->across - cut->width / 2 + (i + 0.5) * pitch;
      nappe_scene_box (self->board.scene, NAPPE_LAYER_VESSEL,
                       nappe_box_between (nappe_panel_x (self, panel, middle - half), nappe_panel_y (self, panel, cut->top),
                                          nappe_panel_x (self, panel, middle + half), nappe_panel_y (self, panel, cut->along)),
                       open);
    }
}

static void
draw_cut (NappePanels *self, const NappePanel *panel, const NappeCut *cut)
{
  NappeStyle open = { .fill = NAPPE_ROLE_PAPER, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
  NappeBox box = cut_box (self, panel, cut);
  nappe_scene_clip (self->board.scene, &panel->area);
  if (nappe_cut_is_round (cut))
    draw_round (self, panel, cut);
  else if (cut->kind == NAPPE_CUT_SLOTS)
    draw_slots (self, panel, cut, &open);
  else
    nappe_scene_box (self->board.scene, NAPPE_LAYER_VESSEL, box, &open);
  nappe_scene_clip (self->board.scene, NULL);
  if (!nappe_board_cut_off (&panel->area, &box))
    return;
  nappe_board_hit (&self->board, cut->part, nappe_box_grown (box, 3));
  nappe_scene_block (self->board.scene, NAPPE_BLOCK_MARK, box);
  if (cut->flange > cut->diameter)
    nappe_scene_block (self->board.scene, NAPPE_BLOCK_SOFT,
                       nappe_box_grown (box, (cut->flange - cut->diameter) / 2 * self->scale));
}

static void
draw_pane (NappePanels *self, const NappePanel *panel)
{
  const NappeTank *tank = NAPPE_BUILD_TANK (self->board.build);
  NappeStyle pane = nappe_board_pane (panel->box < 0 ? tank->material : NAPPE_MATERIAL_ACRYLIC);
  NappeStyle edge = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR, .dashed = TRUE };
  double wall = fmax (panel->wall, 0) * self->scale;
  NappeBox whole = nappe_box_grown (panel->place, wall);
  /* Glass that stands on a bottom, or runs down to it, goes on no further than the rim. */
  if (panel->pane != NAPPE_PANE_BOTTOM)
    whole = (NappeBox) { whole.x, panel->place.y, whole.width, panel->place.height + wall };
  pane.weight = NAPPE_LINE_OUTLINE;
  nappe_scene_box (self->board.scene, NAPPE_LAYER_GROUND, whole, &pane);
  nappe_scene_box (self->board.scene, NAPPE_LAYER_GROUND, panel->place, &edge);
  nappe_scene_block (self->board.scene, NAPPE_BLOCK_SOFT, whole);
  nappe_board_hit (&self->board, nappe_panel_part (self, panel), whole);
}

/* What is known of the glass, in words and whether that is a warning; NULL: nothing to say. */
static const char *
temper_text (const NappePanels *self, const NappePanel *panel, gboolean *warning)
{
  const NappeTank *tank = NAPPE_BUILD_TANK (self->board.build);
  *warning = FALSE;
  if (panel->box >= 0)
    return _("The build does not say what this box is made of.");
  if (tank->material != NAPPE_MATERIAL_GLASS)
    return NULL;
  int temper = nappe_tank_temper (tank, panel->pane);
  *warning = temper != NAPPE_TEMPER_ANNEALED;
  return temper == NAPPE_TEMPER_TEMPERED   ? _("Tempered glass: it bursts when it is drilled. Do not drill it.")
         : temper == NAPPE_TEMPER_ANNEALED ? _("Annealed glass: it can be drilled.")
                                           : _("Not known whether it is tempered: find out before anybody drills.");
}

static void
draw_name (NappePanels *self, const NappePanel *panel)
{
  double scale = self->board.options->text_scale, above = fmax (panel->wall, 0) * self->scale + 4;
  double widest = fmax (panel->area.x + panel->area.width - panel->place.x, 40 * scale);
  gboolean warning = FALSE;
  const char *temper = self->board.tiny ? NULL : temper_text (self, panel, &warning);
  g_autofree char *name = nappe_panel_name (self, panel);
  NappeTextStyle style = { .x = panel->place.x, .y = panel->place.y - above, .align_y = 1, .size = NAPPE_TEXT_SMALL,
                           .role = warning ? NAPPE_ROLE_DANGER : NAPPE_ROLE_SOFT };
  if (temper)
    {
      g_autofree char *line = nappe_label_shorten (self->board.scene, temper, &style, widest);
      nappe_label_place_text (self->board.scene, NAPPE_LAYER_NOTE, line, &style, 1, NULL);
      style.y -= 19 * scale;
    }
  style.role = NAPPE_ROLE_INK;
  style.weight = NAPPE_TEXT_STRONG;
  style.size = self->board.small ? NAPPE_TEXT_SMALL : NAPPE_TEXT_BODY;
  g_autofree char *head = nappe_label_shorten (self->board.scene, name, &style, widest);
  nappe_label_place_text (self->board.scene, NAPPE_LAYER_NOTE, head, &style, 1, NULL);
}

/* A number at a stroke of a running dimension, where it is free. */
static void
write_stop (NappePanels *self, double metres, double x, double y, gboolean upright)
{
  g_autofree char *text = nappe_board_number (&self->board, metres);
  NappeTextStyle style = { .x = x, .y = y, .align_x = upright ? 0.5 : 1, .align_y = upright ? 0 : 0.5,
                           .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT, .upright = upright };
  nappe_label_place_text (self->board.scene, NAPPE_LAYER_NOTE, text, &style, 1, NULL);
}

/* Running dimensions from the left edge under the pane, and from the lower edge on its left: all from one corner, so that no
   error adds up. */
static void
draw_running (NappePanels *self, const NappePanel *panel)
{
  NappeStyle line = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  NappeBox place = panel->place;
  double wall = fmax (panel->wall, 0) * self->scale, left = place.x - wall - 10, bottom = place.y + place.height + wall + 10;
  double right = place.x + place.width, low = place.y + place.height;
  NappeBox lines = nappe_box_between (left - 3, place.y - 3, right + 3, bottom + 3);
  if (!nappe_box_within (&lines, &panel->area))
    return;
  nappe_scene_stroke (self->board.scene, NAPPE_LAYER_NOTE, place.x, bottom, right, bottom, &line);
  nappe_scene_stroke (self->board.scene, NAPPE_LAYER_NOTE, left, low, left, place.y, &line);
  nappe_scene_circle (self->board.scene, NAPPE_LAYER_NOTE, place.x, bottom, 2.5, &line);
  nappe_scene_circle (self->board.scene, NAPPE_LAYER_NOTE, left, low, 2.5, &line);
  nappe_scene_block (self->board.scene, NAPPE_BLOCK_DIMENSION,
                     nappe_box_between (place.x - 3, bottom - 3, right + 3, bottom + 3));
  nappe_scene_block (self->board.scene, NAPPE_BLOCK_DIMENSION, nappe_box_between (left - 3, place.y - 3, left + 3, low + 3));
  write_stop (self, panel->right - panel->left, right, bottom + 7, TRUE);
  write_stop (self, panel->far - panel->near, left - 7, place.y, FALSE);
  for (guint i = 0; i <= panel->cuts->len; i++)
    {
      const NappeCut *cut = i < panel->cuts->len ? &g_array_index (panel->cuts, NappeCut, i) : NULL;
      double x = cut ? nappe_panel_x (self, panel, cut->across) : right;
      double y = cut ? nappe_panel_y (self, panel, cut->along) : place.y;
      if (!nappe_box_contains (&panel->area, x, y))
        continue;
      nappe_scene_stroke (self->board.scene, NAPPE_LAYER_NOTE, x, bottom - 4, x, bottom + 4, &line);
      nappe_scene_stroke (self->board.scene, NAPPE_LAYER_NOTE, left - 4, y, left + 4, y, &line);
      if (!cut)
        continue;
      nappe_board_extend (&self->board, x, y, x, bottom);
      nappe_board_extend (&self->board, left, y, x, y);
      write_stop (self, (x - place.x) / self->scale, x, bottom + 7, TRUE);
      write_stop (self, cut->along - panel->near, left - 7, y, FALSE);
    }
}

/* "⌀ 60", "⌀ 33 pipe", "400 × 40". Transfer full. */
static char *
size_text (const NappePanels *self, const NappeCut *cut)
{
  g_autofree char *wide = nappe_board_number (&self->board, nappe_cut_is_round (cut) ? cut->diameter : cut->width);
  if (!nappe_cut_is_round (cut))
    {
      g_autofree char *high = nappe_board_number (&self->board, cut->top - cut->along);
      return g_strdup_printf ("%s × %s", wide, high);
    }
  if (cut->kind == NAPPE_CUT_PIPE)
    /* Translators: diameter of a pipe whose hole is not known */
    return g_strdup_printf (_("pipe ⌀ %s"), wide);
  if (cut->kind == NAPPE_CUT_JOINT)
    /* Translators: bore of a bulkhead whose hole is not known */
    return g_strdup_printf (_("bore ⌀ %s"), wide);
  return g_strdup_printf ("⌀ %s", wide);
}

static void
label_cut (NappePanels *self, const NappePanel *panel, const NappeCut *cut)
{
  NappeTextStyle small = { .size = NAPPE_TEXT_SMALL };
  NappeBox box = cut_box (self, panel, cut);
  if (!nappe_board_cut_off (&panel->area, &box))
    return;
  g_autofree char *name = nappe_label_shorten (self->board.scene, nappe_part_display_name (cut->part), &small,
                                               150 * self->board.options->text_scale);
  g_autofree char *size = size_text (self, cut);
  g_autofree char *where = nappe_cut_place_text (self, panel, cut), *clear = nappe_cut_clear_text (self, panel, cut);
  NappeLabelSpec spec = { .part = nappe_part_get_id (cut->part), .name = name, .value = size, .area = panel->area };
  spec.lines[0] = where;
  spec.lines[1] = clear;
  spec.lines[2] = cut->kind == NAPPE_CUT_PIPE || cut->kind == NAPPE_CUT_JOINT ? _("hole not known: ask the maker") : NULL;
  double inset = fmin (box.width, box.height) * 0.15;
  NappeLabelSpec specs[] = { spec, spec, spec, spec };
  for (guint i = 0; i < G_N_ELEMENTS (specs); i++)
    {
      specs[i].x = i % 2 ? box.x + inset : box.x + box.width - inset;
      specs[i].y = i / 2 ? box.y + box.height - inset : box.y + inset;
    }
  nappe_label_place_any (self->board.scene, specs, G_N_ELEMENTS (specs), NULL);
}

/* Of a pane in its corners, of a cut beside it. */
static void
pin_parts (NappePanels *self, const NappePanel *panel)
{
  double inset = nappe_mark_finding_size (self->board.scene) * 0.75;
  NappeBox inside = nappe_box_grown (panel->place, -inset);
  for (guint i = 0; i < 4; i++)
    {
      double x = i % 2 ? inside.x + inside.width : inside.x, y = i / 2 ? inside.y + inside.height : inside.y;
      nappe_board_pin (&self->board, nappe_panel_part (self, panel), x, y, x, y);
    }
  for (guint k = 0; k < panel->cuts->len; k++)
    {
      const NappeCut *cut = &g_array_index (panel->cuts, NappeCut, k);
      NappeBox box = cut_box (self, panel, cut);
      if (nappe_board_cut_off (&panel->area, &box))
        nappe_board_pin_around (&self->board, cut->part, &box);
    }
}

void
nappe_panels_draw (NappePanels *self)
{
  for (guint i = 0; i < self->panels->len; i++)
    {
      const NappePanel *panel = self->panels->pdata[i];
      draw_pane (self, panel);
      for (guint k = 0; k < panel->cuts->len; k++)
        draw_cut (self, panel, &g_array_index (panel->cuts, NappeCut, k));
    }
  for (guint i = 0; i < self->panels->len; i++)
    {
      draw_name (self, self->panels->pdata[i]);
      if (!self->board.tiny)
        draw_running (self, self->panels->pdata[i]);
    }
  for (guint i = 0; i < self->panels->len && !self->board.tiny; i++)
    {
      const NappePanel *panel = self->panels->pdata[i];
      for (guint k = 0; k < panel->cuts->len; k++)
        label_cut (self, panel, &g_array_index (panel->cuts, NappeCut, k));
    }
  for (guint i = 0; i < self->panels->len; i++)
    pin_parts (self, self->panels->pdata[i]);
  nappe_board_draw_findings (&self->board);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places of the panes on the paper: in rows, all to one scale, as large as they go. */
#include "picture/plan/panels-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"

/* Paper around a pane for its name, dimensions and labels [px]. */
typedef struct
{
  double left, right, top, bottom;
} Around;

static Around
around (const NappePanels *self)
{
  double text = self->board.options->text_scale;
  if (self->board.tiny)
    return (Around) { 4, 4, 20 * text, 6 };
  if (self->board.small)
    return (Around) { 46 * text, 56 * text, 44 * text, 48 * text };
  return (Around) { 76 * text, 190 * text, 60 * text, 60 * text };
}

double
nappe_panel_x (const NappePanels *self, const NappePanel *panel, double across)
{
  double from_left = panel->mirrored ? panel->right - across : across - panel->left;
  return panel->place.x + from_left * self->scale;
}

double
nappe_panel_y (const NappePanels *self, const NappePanel *panel, double along)
{
  return panel->place.y + (panel->far - along) * self->scale;
}

gpointer
nappe_panel_part (const NappePanels *self, const NappePanel *panel)
{
  return panel->box < 0 ? self->board.build->tank : NAPPE_PART (self->board.layout->boxes[panel->box].part);
}

char *
nappe_panel_name (const NappePanels *self, const NappePanel *panel)
{
  static const char *const tank[] = {
    [NAPPE_PANE_BOTTOM] = N_ ("Bottom of the tank, seen from below, its front down"),
    [NAPPE_PANE_BACK] = N_ ("Back of the tank, seen from behind"),
    [NAPPE_PANE_LEFT] = N_ ("Left side of the tank, seen from the left"),
    [NAPPE_PANE_RIGHT] = N_ ("Right side of the tank, seen from the right"),
  };
  static const char *const box[] = {
    /* Translators: of an overflow box outside the tank; %s is its name */
    [NAPPE_PANE_BOTTOM] = N_ ("Floor of %s, seen from below, its front down"),
    [NAPPE_PANE_BACK] = N_ ("Back of %s, seen from behind"),
    [NAPPE_PANE_LEFT] = N_ ("Left side of %s, seen from the left"),
    [NAPPE_PANE_RIGHT] = N_ ("Right side of %s, seen from the right"),
  };
  if (panel->box < 0)
    return g_strdup (_(tank[panel->pane]));
  const char *name = nappe_part_display_name (NAPPE_PART (self->board.layout->boxes[panel->box].part));
  GString *text = g_string_new (_(box[panel->pane]));
  g_string_replace (text, "%s", name, 1);
  return g_string_free (text, FALSE);
}

/* Rows of `columns` panes each: the scale at which they fit [px/m], and each one's place when asked. */
static double
fit (NappePanels *self, guint columns, double scale, gboolean settle)
{
  Around margin = around (self);
  NappeBox room = self->board.room;
  double most = INFINITY, heights = 0, rows = 0, y = room.y;
  for (guint first = 0; first < self->panels->len; first += columns)
    {
      guint end = MIN (first + columns, self->panels->len);
      double lengths = 0, highest = 0, x;
      for (guint i = first; i < end; i++)
        {
          const NappePanel *panel = self->panels->pdata[i];
          lengths += fmax (panel->right - panel->left, 0.01);
          highest = fmax (highest, fmax (panel->far - panel->near, 0.01));
        }
      most = fmin (most, fmax (room.width - (end - first) * (margin.left + margin.right), 4) / lengths);
      heights += highest;
      rows++;
      x = room.x + (room.width - (end - first) * (margin.left + margin.right) - lengths * scale) / 2;
      for (guint i = first; settle && i < end; i++)
        {
          NappePanel *panel = self->panels->pdata[i];
          double length = (panel->right - panel->left) * scale, height = (panel->far - panel->near) * scale;
          panel->place = (NappeBox) { x + margin.left, y + margin.top + highest * scale - height, length, height };
          panel->area = (NappeBox) { x, y, margin.left + length + margin.right, margin.top + highest * scale + margin.bottom };
          x += margin.left + fmax (panel->right - panel->left, 0.01) * scale + margin.right;
        }
      y += margin.top + highest * scale + margin.bottom;
    }
  return fmin (most, fmax (room.height - rows * (margin.top + margin.bottom), 4) / heights);
}

/* What the rows leave over goes above and below. */
static void
centre (NappePanels *self)
{
  double end = self->board.room.y;
  for (guint i = 0; i < self->panels->len; i++)
    {
      const NappePanel *panel = self->panels->pdata[i];
      end = fmax (end, panel->area.y + panel->area.height);
    }
  double down = fmax ((self->board.room.y + self->board.room.height - end) / 2, 0);
  for (guint i = 0; i < self->panels->len; i++)
    {
      NappePanel *panel = self->panels->pdata[i];
      panel->place.y += down;
      panel->area.y += down;
      /* Where the paper is too small for all of them, or where they keep the scale of the picture before. */
      nappe_board_cut_off (&self->board.room, &panel->area);
    }
}

static void
place (NappePanels *self)
{
  guint best = 1;
  for (guint columns = 1; columns <= self->panels->len; columns++)
    {
      double scale = fit (self, columns, 0, FALSE);
      if (scale > self->scale * 1.0001)
        {
          self->scale = scale;
          best = columns;
        }
    }
  NappeGround ground;
  if (nappe_scene_held_ground (self->board.scene, &ground))
    self->scale = ground.scale;
  ground = (NappeGround) { self->scale, self->board.room.x, self->board.room.y };
  nappe_scene_keep_ground (self->board.scene, &ground);
  fit (self, best, self->scale, TRUE);
  centre (self);
}

/* A bulkhead is seen as the hole of its drain. */
static void
see_parts (NappePanels *self)
{
  for (guint i = 0; i < self->panels->len; i++)
    {
      const NappePanel *panel = self->panels->pdata[i];
      nappe_board_see (&self->board, nappe_panel_part (self, panel));
      for (guint k = 0; k < panel->cuts->len; k++)
        {
          const NappeCut *cut = &g_array_index (panel->cuts, NappeCut, k);
          nappe_board_see (&self->board, cut->part);
          if (cut->bulkhead)
            nappe_board_see (&self->board, (gpointer) cut->bulkhead);
        }
    }
}

static void
frame (NappePanels *self)
{
  /* Translators: the unit of the lengths in the drawing, as a word */
  const char *unit = self->board.options->units == NAPPE_UNITS_US ? _("inches") : _("millimetres");
  /* Translators: subtitle of a drawing; %s is a unit of length */
  g_autofree char *what = g_strdup_printf (_("Drilled panes, seen from outside · lengths in %s from the inside edges"), unit);
  const char *remarks[] = {
    /* Translators: under the drawing of the drilled panes: what the build does not hold and the drawing takes for granted */
    _("Assumed: drains stand in the middle of their box from front to back, joints evenly along the inner box, a cut-out in "
      "the middle of its box."),
    _("Keep the distances that the makers of bulkheads and tank state, and try the parts before anybody drills. A glazier "
      "drills with less risk."),
  };
  nappe_board_frame (&self->board, what, remarks, self->panels->len > 0 ? G_N_ELEMENTS (remarks) : 0);
  if (self->panels->len > 0)
    return;
  NappeTextStyle style = { .x = self->board.room.x + self->board.room.width / 2,
                           .y = self->board.room.y + self->board.room.height / 2, .align_x = 0.5, .align_y = 0.5,
                           .size = NAPPE_TEXT_HEAD, .role = NAPPE_ROLE_SOFT };
  g_autofree char *none = nappe_label_shorten (self->board.scene, _("This build has no drilled pane."), &style,
                                               self->board.room.width);
  nappe_label_place_text (self->board.scene, NAPPE_LAYER_NOTE, none, &style, 1, NULL);
}

void
nappe_panels_compose (NappeScene *scene, const NappePictureOptions *options, NappeBuild *build, const NappeLayout *layout,
                      const NappeStudy *study, const NappeVerdict *verdict)
{
  NappePanels self = { .panels = g_ptr_array_new_with_free_func (nappe_panel_free) };
  nappe_board_begin (&self.board, scene, options, build, layout, study, verdict);
  nappe_panels_find (&self);
  see_parts (&self);
  frame (&self);
  place (&self);
  nappe_panels_draw (&self);
  nappe_panels_add_items (&self);
  nappe_panels_add_handles (&self);
  g_ptr_array_unref (self.panels);
  nappe_board_end (&self.board);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Title, dimensions and height rule around the drawing. */
#include "picture/elevation/elevation-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/marks.h"
#include "picture/pins.h"
#include "picture/wording.h"

#define LEFT_EDGE 24.0
#define TITLE_TOP 16.0
#define SMALL_TITLE_TOP 10.0

/* What the picture shows, in a line. */
static char *
subtitle (const NappeElevation *self)
{
  gboolean cut = self->options->shown == NAPPE_SHOW_POWER_CUT;
  /* Translators: the unit of the heights in the drawing, as a word */
  const char *unit = self->options->units == NAPPE_UNITS_US ? _("inches") : _("millimetres");
  if (!self->study)
    /* Translators: subtitle of the side elevation when nothing was computed */
    return g_strdup (_("Drawn dry: nothing has been computed."));
  if (!self->shown)
    {
      const char *why = nappe_wording_rest (self->study->running.rest);
      /* Translators: subtitle of the side elevation; %s is a whole sentence that says why */
      return g_strdup_printf (_("Drawn dry. %s"), why ? why : cut ? _("The levels after a power cut are not known.") : "");
    }
  if (self->at_moment)
    return nappe_elevation_moment_subtitle (self, unit);
  if (cut)
    {
      const NappePowerCut *power_cut = &self->study->cut_check_failed;
      g_autofree char *down = nappe_quantity_format (NAPPE_QUANTITY_VOLUME, power_cut->run_back, self->options->units, 0);
      g_autofree char *room = nappe_quantity_format (NAPPE_QUANTITY_VOLUME, power_cut->sump_free, self->options->units, 0);
      if (self->small)
        /* Translators: short subtitle of the side elevation; two volumes */
        return g_strdup_printf (_("After a power cut · %1$s run down, the sump has room for %2$s"), down, room);
      /* Without a check valve there is none that could fail. */
      if (nappe_wording_has_check_valve (self->study->network))
        /* Translators: subtitle of the side elevation; two volumes and a unit of length */
        return g_strdup_printf (_("Side elevation after a power cut, check valve failed · %1$s run down, "
                                  "the sump has room for %2$s · levels in %3$s above the floor"),
                                down, room, unit);
      /* Translators: subtitle of the side elevation; two volumes and a unit of length */
      return g_strdup_printf (_("Side elevation after a power cut · %1$s run down, the sump has room for %2$s · "
                                "levels in %3$s above the floor"),
                              down, room, unit);
    }
  /* Translators: subtitle of the side elevation; %s is a unit of length */
  return g_strdup_printf (_("Side elevation, running · levels in %s above the floor"), unit);
}

void
nappe_elevation_draw_title (NappeElevation *self)
{
  double scale = self->options->text_scale, top = self->small ? SMALL_TITLE_TOP : TITLE_TOP;
  double widest = nappe_scene_width (self->scene) - 2 * LEFT_EDGE;
  NappeTextStyle title = { .x = LEFT_EDGE, .y = top, .size = NAPPE_TEXT_TITLE, .weight = NAPPE_TEXT_STRONG,
                           .role = NAPPE_ROLE_INK };
  NappeTextStyle under = { .x = LEFT_EDGE, .y = self->options->title ? top + 28 * scale : 8, .size = NAPPE_TEXT_BODY,
                           .role = NAPPE_ROLE_SOFT };
  g_autofree char *whole_line = subtitle (self);
  g_autofree char *line = nappe_label_shorten (self->scene, whole_line, &under, widest);
  g_autofree char *name = nappe_label_shorten (self->scene, *self->build->title ? self->build->title : _("Side elevation"),
                                               &title, widest);
  NappeBox box = nappe_scene_measure (self->scene, name, &title);
  nappe_pins_add_whole (self->pins, self->scene, box.x + box.width, box.y + box.height / 2);
  if (self->options->title)
    nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, name, &title);
  /* Without a title the line is said only when it explains why there is no water. */
  if (!self->shown)
    under.role = NAPPE_ROLE_DANGER;
  if (self->options->title || !self->shown)
    nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, line, &under);
}

/* A thin line from the thing measured to its dimension. */
static void
extend (NappeElevation *self, double x1, double y1, double x2, double y2)
{
  NappeStyle style = { .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  nappe_scene_stroke (self->scene, NAPPE_LAYER_GROUND, x1, y1, x2, y2, &style);
}

/* A dimension, which picks the part that it measures. */
static void
measure (NappeElevation *self, NappePart *part, double x1, double y1, double x2, double y2, const char *text)
{
  nappe_scene_hit (self->scene, nappe_part_get_id (part), nappe_mark_dimension (self->scene, x1, y1, x2, y2, text));
}

static void
draw_lengths (NappeElevation *self)
{
  const NappeFrame *tank = &self->layout->tank, *sump = &self->layout->sump;
  double scale = self->options->text_scale;
  double above = nappe_elevation_y (self, self->top) - 13 * scale;
  double left = nappe_elevation_x (self, tank->left), right = nappe_elevation_x (self, tank->right);
  g_autofree char *tank_length = nappe_elevation_length_text (self, tank->right - tank->left);
  g_autofree char *sump_length = nappe_elevation_length_text (self, sump->right - sump->left);
  /* Translators: a dimension of the drawing; inside length; %s is a number */
  g_autofree char *tank_text = g_strdup_printf (_("tank %s inside"), tank_length);
  extend (self, left, nappe_elevation_y (self, tank->rim), left, above - 4);
  extend (self, right, nappe_elevation_y (self, tank->rim), right, above - 4);
  measure (self, self->build->tank, left, above, right, above, tank_text);

  double below = nappe_elevation_y (self, 0) + (self->small ? 26 : 62) * scale;
  /* A model that is held in its place makes no room for a key that grows. */
  if (below + 8 * scale > self->key_top)
    return;
  left = nappe_elevation_x (self, sump->left);
  right = nappe_elevation_x (self, sump->right);
  /* Translators: a dimension of the drawing; inside length; %s is a number */
  g_autofree char *sump_text = g_strdup_printf (_("sump %s inside"), sump_length);
  extend (self, left, nappe_elevation_y (self, sump->floor), left, below + 4);
  extend (self, right, nappe_elevation_y (self, sump->floor), right, below + 4);
  measure (self, self->build->sump, left, below, right, below, sump_text);
}

/* The sump's height, beside it where the stand leaves room. */
static void
draw_sump_height (NappeElevation *self)
{
  const NappeFrame *sump = &self->layout->sump, *stand = &self->layout->stand;
  const NappeSump *part = NAPPE_BUILD_SUMP (self->build);
  double wall = part->wall_thickness, inside = NAPPE_BUILD_STAND (self->build)->wall_thickness;
  double top = nappe_elevation_y (self, sump->rim), bottom = nappe_elevation_y (self, sump->floor);
  double half = fmax (nappe_text_shaper_line_height (nappe_scene_shaper (self->scene), NAPPE_TEXT_SMALL) / 2 + 2, 11);
  g_autofree char *text = nappe_elevation_length_text (self, sump->rim - sump->floor);
  double places[] = {
    (nappe_elevation_x (self, stand->left + inside) + nappe_elevation_x (self, sump->left - wall)) / 2,
    (nappe_elevation_x (self, stand->right - inside) + nappe_elevation_x (self, sump->right + wall)) / 2,
  };
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      NappeBox room = { places[i] - half, top - 8, 2 * half, bottom - top + 6 };
      double edge = nappe_elevation_x (self, i == 0 ? sump->left - wall : sump->right + wall);
      double side = nappe_elevation_x (self, i == 0 ? stand->left + inside : stand->right - inside);
      if ((i == 0 ? edge - side : side - edge) < 2 * half + 2 || !nappe_label_is_free (self->scene, &room, 0))
        continue;
      extend (self, edge, top, places[i], top);
      measure (self, self->build->sump, places[i], bottom, places[i], top, text);
      return;
    }
}

static void
draw_heights (NappeElevation *self)
{
  const NappeFrame *tank = &self->layout->tank, *stand = &self->layout->stand;
  double x = self->dimension_x, rim = nappe_elevation_y (self, tank->rim), base = nappe_elevation_y (self, tank->floor);
  double top = nappe_elevation_y (self, stand->rim), floor = nappe_elevation_y (self, 0);
  double from = nappe_elevation_x (self, fmax (tank->right, stand->right)) + 6;
  g_autofree char *tank_height = nappe_elevation_length_text (self, tank->rim - tank->floor);
  g_autofree char *stand_height = nappe_elevation_length_text (self, stand->rim);
  /* Translators: a dimension of the drawing; inside height; %s is a number */
  g_autofree char *tank_text = g_strdup_printf (_("tank %s"), tank_height);
  /* Translators: a dimension of the drawing; height; %s is a number */
  g_autofree char *stand_text = g_strdup_printf (_("stand %s"), stand_height);
  extend (self, from, rim, x + 5, rim);
  extend (self, from, base, x + 5, base);
  measure (self, self->build->tank, x, base, x, rim, tank_text);
  measure (self, self->build->stand, x, floor, x, top, stand_text);
}

void
nappe_elevation_draw_dimensions (NappeElevation *self)
{
  draw_lengths (self);
  draw_heights (self);
  draw_sump_height (self);
}

/* Steps of the height rule: small strokes, and numbered ones [m]. */
static void
rule_steps (const NappeElevation *self, double *small, double *numbered)
{
  static const double metric[][2] = { { 0.01, 0.1 }, { 0.05, 0.2 }, { 0.1, 0.5 }, { 0.2, 1 }, { 0.5, 2 }, { 1, 5 }, { 5, 20 } };
  static const double inches[][2] = { { 1, 6 }, { 2, 12 }, { 6, 24 }, { 12, 48 }, { 24, 120 }, { 120, 600 } };
  gboolean us = self->options->units == NAPPE_UNITS_US;
  const double (*steps)[2] = us ? inches : metric;
  guint n = us ? G_N_ELEMENTS (inches) : G_N_ELEMENTS (metric), i = 0;
  double unit = us ? 0.0254 : 1;
  while (i + 1 < n && (steps[i][0] * unit * self->scale < 7
                       || steps[i][1] * unit * self->scale < 34 * self->options->text_scale))
    i++;
  *small = steps[i][0] * unit;
  *numbered = steps[i][1] * unit;
}

void
nappe_elevation_draw_rule (NappeElevation *self)
{
  NappeStyle line = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  double small, numbered, x = self->rule_x, top = fmax (self->layout->tank.rim, self->layout->stand.rim);
  rule_steps (self, &small, &numbered);
  guint each = (guint) lround (numbered / small), n = (guint) fmin (floor (top / small + 1e-9), 2000);
  for (guint i = 0; i <= n; i++)
    {
      double y = nappe_elevation_y (self, i * small), length = i % each == 0 ? 9 : 5;
      nappe_scene_move (self->scene, x, y);
      nappe_scene_line (self->scene, x - length, y);
    }
  nappe_scene_move (self->scene, x, nappe_elevation_y (self, 0));
  nappe_scene_line (self->scene, x, nappe_elevation_y (self, n * small));
  nappe_scene_paint (self->scene, NAPPE_LAYER_NOTE, &line);
  nappe_scene_block (self->scene, NAPPE_BLOCK_DIMENSION, nappe_box_between (x - 10, nappe_elevation_y (self, 0), x + 1,
                                                                            nappe_elevation_y (self, n * small)));
  for (guint i = 0; i <= n; i += each)
    {
      g_autofree char *text = nappe_elevation_length_text (self, i * small);
      NappeTextStyle style = { .x = x - 12, .y = nappe_elevation_y (self, i * small), .align_x = 1, .align_y = 0.5,
                               .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT };
      if (i == 0)
        style.align_y = 0.9; /* clear of the floor's hatching */
      nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, text, &style);
    }
  NappeTextStyle unit = { .x = x - 12, .y = nappe_elevation_y (self, n * small) - 12, .align_x = 1, .align_y = 1,
                          .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT };
  nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, nappe_quantity_unit (NAPPE_QUANTITY_LENGTH, self->options->units),
                          &unit, 1, NULL);
}

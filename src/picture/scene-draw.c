/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Paints a scene, and writes it down for tests. */
#include "picture/scene-private.h"

#include <math.h>

static void
trace (const NappeScene *self, const NappeShape *shape, cairo_t *cr)
{
  cairo_new_path (cr);
  for (guint i = shape->first; i < shape->first + shape->n; i++)
    {
      const NappeStep *step = &g_array_index (self->steps, NappeStep, i);
      const double *at = step->at;
      switch (step->kind)
        {
        case NAPPE_STEP_MOVE:
          cairo_move_to (cr, at[0], at[1]);
          break;
        case NAPPE_STEP_LINE:
          cairo_line_to (cr, at[0], at[1]);
          break;
        case NAPPE_STEP_CURVE:
          cairo_curve_to (cr, at[0], at[1], at[2], at[3], at[4], at[5]);
          break;
        case NAPPE_STEP_ARC:
          cairo_arc (cr, at[0], at[1], at[2], at[3], at[4]);
          break;
        case NAPPE_STEP_CLOSE:
        default:
          cairo_close_path (cr);
          break;
        }
    }
}

static void
use_role (const NappeScene *self, NappeRole role, double opacity, cairo_t *cr)
{
  NappeColour colour = nappe_palette_colour (self->palette, role);
  cairo_set_source_rgba (cr, colour.red, colour.green, colour.blue, colour.alpha * (opacity > 0 ? opacity : 1));
}

static void
fill_with_depth (const NappeScene *self, const NappeShape *shape, cairo_t *cr)
{
  cairo_pattern_t *pattern = cairo_pattern_create_linear (0, shape->box.y, 0, shape->box.y + shape->box.height);
  NappeColour top = nappe_palette_colour (self->palette, shape->style.fill);
  NappeColour deep = nappe_palette_colour (self->palette, shape->style.fill_deep);
  double opacity = shape->style.opacity > 0 ? shape->style.opacity : 1;
  cairo_pattern_add_color_stop_rgba (pattern, 0, top.red, top.green, top.blue, top.alpha * opacity);
  cairo_pattern_add_color_stop_rgba (pattern, 1, deep.red, deep.green, deep.blue, deep.alpha * opacity);
  cairo_set_source (cr, pattern);
  cairo_fill_preserve (cr);
  cairo_pattern_destroy (pattern);
}

static void
draw_path (const NappeScene *self, const NappeShape *shape, cairo_t *cr)
{
  static const double dashes[] = { 7, 4 };
  const NappeStyle *style = &shape->style;
  double width = nappe_scene_line_width (self, style->weight);
  trace (self, shape, cr);
  if (style->fill && style->fill_deep)
    fill_with_depth (self, shape, cr);
  else if (style->fill)
    {
      use_role (self, style->fill, style->opacity, cr);
      cairo_fill_preserve (cr);
    }
  if (style->stroke)
    {
      use_role (self, style->stroke, style->opacity, cr);
      cairo_set_line_width (cr, width);
      cairo_set_dash (cr, dashes, style->dashed ? 2 : 0, 0);
      cairo_set_line_join (cr, style->round ? CAIRO_LINE_JOIN_ROUND : CAIRO_LINE_JOIN_MITER);
      cairo_stroke (cr);
    }
}

static void
draw_text (const NappeScene *self, const NappeShape *shape, cairo_t *cr)
{
  cairo_save (cr);
  cairo_translate (cr, shape->box.x, shape->box.y + (shape->upright ? shape->box.height : 0));
  if (shape->upright)
    cairo_rotate (cr, -G_PI / 2);
  use_role (self, shape->style.fill, 1, cr);
  nappe_text_draw (shape->text, cr);
  cairo_restore (cr);
}

static void
draw_shape (const NappeScene *self, const NappeShape *shape, cairo_t *cr)
{
  if (shape->clip >= 0)
    {
      const NappeBox *clip = &g_array_index (self->clips, NappeBox, (guint) shape->clip);
      cairo_save (cr);
      cairo_rectangle (cr, clip->x, clip->y, clip->width, clip->height);
      cairo_clip (cr);
    }
  if (shape->text)
    draw_text (self, shape, cr);
  else
    draw_path (self, shape, cr);
  if (shape->clip >= 0)
    cairo_restore (cr);
}

void
nappe_scene_draw (const NappeScene *self, cairo_t *cr)
{
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, self->width, self->height);
  cairo_clip (cr);
  use_role (self, NAPPE_ROLE_PAPER, 1, cr);
  cairo_paint (cr);
  for (NappeLayer layer = 0; layer < NAPPE_LAYER_N; layer++)
    for (guint i = 0; i < self->shapes->len; i++)
      {
        const NappeShape *shape = &g_array_index (self->shapes, NappeShape, i);
        if (shape->layer == layer)
          draw_shape (self, shape, cr);
      }
  cairo_new_path (cr);
  cairo_restore (cr);
}

static double
rounded (double value)
{
  return floor (value * 2 + 0.5) / 2 + 0.0; /* + 0.0: no negative zero */
}

char *
nappe_scene_describe (const NappeScene *self)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < self->shapes->len; i++)
    {
      const NappeShape *shape = &g_array_index (self->shapes, NappeShape, i);
      const NappeBox *box = &shape->box;
      g_string_append_printf (text, "%d %s %d %d", shape->layer, shape->text ? "text" : "shape", shape->style.fill,
                              shape->style.stroke);
      double numbers[] = { box->x, box->y, box->width, box->height };
      for (guint k = 0; k < G_N_ELEMENTS (numbers); k++)
        {
          char digits[G_ASCII_DTOSTR_BUF_SIZE];
          g_string_append_printf (text, " %s", g_ascii_formatd (digits, sizeof digits, "%.1f", rounded (numbers[k])));
        }
      if (shape->text)
        g_string_append_printf (text, " %s", nappe_text_string (shape->text));
      g_string_append_c (text, '\n');
    }
  return g_string_free (text, FALSE);
}

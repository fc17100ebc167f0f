/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/marks.h"

#include <math.h>

#include "picture/label-layout.h"

/* Free surface: triangle of this width and height, two short strokes under the tip [px]. */
#define SURFACE_WIDTH 11.0
#define SURFACE_HEIGHT 8.5
#define SURFACE_TEXT_GAP 5.0

static NappeTextStyle
surface_text_style (double x, double y, gboolean to_left, NappeRole role)
{
  double side = SURFACE_WIDTH / 2 + SURFACE_TEXT_GAP;
  return (NappeTextStyle) {
    .x = to_left ? x - side : x + side, .y = y - 1, .align_x = to_left ? 1 : 0, .align_y = 1, .size = NAPPE_TEXT_SMALL,
    .role = role == NAPPE_ROLE_OTHER_STATE ? NAPPE_ROLE_OTHER_TEXT : role,
  };
}

NappeBox
nappe_mark_surface_box (NappeScene *scene, double x, double y, const char *text, gboolean to_left)
{
  NappeBox sign = { x - SURFACE_WIDTH / 2, y - SURFACE_HEIGHT, SURFACE_WIDTH, SURFACE_HEIGHT + 6 };
  if (!text)
    return sign;
  NappeTextStyle style = surface_text_style (x, y, to_left, NAPPE_ROLE_SURFACE);
  NappeBox words = nappe_scene_measure (scene, text, &style);
  return nappe_box_union (&sign, &words);
}

NappeBox
nappe_mark_surface (NappeScene *scene, double x, double y, const char *text, gboolean to_left, NappeRole role)
{
  NappeStyle line = { .stroke = role, .weight = 1.1 };
  NappeStyle sign = { .fill = NAPPE_ROLE_PAPER, .stroke = role, .weight = 1.1 };
  nappe_scene_move (scene, x - SURFACE_WIDTH / 2, y - SURFACE_HEIGHT);
  nappe_scene_line (scene, x + SURFACE_WIDTH / 2, y - SURFACE_HEIGHT);
  nappe_scene_line (scene, x, y - 0.5);
  nappe_scene_close (scene);
  nappe_scene_paint (scene, NAPPE_LAYER_LEVEL, &sign);
  nappe_scene_stroke (scene, NAPPE_LAYER_LEVEL, x - 4.5, y + 3, x + 4.5, y + 3, &line);
  nappe_scene_stroke (scene, NAPPE_LAYER_LEVEL, x - 2.5, y + 5.5, x + 2.5, y + 5.5, &line);
  NappeBox box = nappe_mark_surface_box (scene, x, y, NULL, FALSE);
  nappe_scene_block (scene, NAPPE_BLOCK_MARK, box);
  if (text)
    {
      NappeTextStyle style = surface_text_style (x, y, to_left, role);
      NappeBox words = nappe_scene_text (scene, NAPPE_LAYER_LEVEL, text, &style);
      box = nappe_box_union (&box, &words);
    }
  return box;
}

/* Dimension: half length of the oblique stroke, how far the line runs past it, gap around the text [px]. */
#define OBLIQUE 4.0
#define OVERRUN 3.0
#define BREAK_GAP 5.0

static void
oblique_stroke (NappeScene *scene, double x, double y)
{
  NappeStyle style = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_OUTLINE };
  nappe_scene_stroke (scene, NAPPE_LAYER_NOTE, x - OBLIQUE, y + OBLIQUE, x + OBLIQUE, y - OBLIQUE, &style);
}

static void
block_line (NappeScene *scene, double x1, double y1, double x2, double y2)
{
  NappeStyle style = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  nappe_scene_stroke (scene, NAPPE_LAYER_NOTE, x1, y1, x2, y2, &style);
  nappe_scene_block (scene, NAPPE_BLOCK_DIMENSION, nappe_box_grown (nappe_box_between (x1, y1, x2, y2), 1));
}

static NappeTextStyle
dimension_style (double x, double y, gboolean upright)
{
  return (NappeTextStyle) { .x = x, .y = y, .align_x = 0.5, .align_y = 0.5, .size = NAPPE_TEXT_SMALL,
                            .role = NAPPE_ROLE_SOFT, .upright = upright };
}

gboolean
nappe_mark_dimension_fits (NappeScene *scene, double x1, double y1, double x2, double y2, const char *text)
{
  gboolean upright = fabs (x2 - x1) < fabs (y2 - y1);
  NappeTextStyle style = dimension_style (x1, y1, upright);
  NappeBox words = nappe_scene_measure (scene, text, &style);
  return (upright ? words.height : words.width) / 2 + BREAK_GAP + OBLIQUE < hypot (x2 - x1, y2 - y1) / 2;
}

void
nappe_mark_dimension_bare (NappeScene *scene, double x1, double y1, double x2, double y2)
{
  oblique_stroke (scene, x1, y1);
  oblique_stroke (scene, x2, y2);
  block_line (scene, x1, y1, x2, y2);
}

static NappeBox
mark_dimension (NappeScene *scene, double x1, double y1, double x2, double y2, const char *text, gboolean plate)
{
  gboolean upright = fabs (x2 - x1) < fabs (y2 - y1);
  double length = hypot (x2 - x1, y2 - y1);
  double ux = length > 0 ? (x2 - x1) / length : 1, uy = length > 0 ? (y2 - y1) / length : 0;
  NappeTextStyle style = dimension_style ((x1 + x2) / 2, (y1 + y2) / 2, upright);
  style.plate = plate;
  NappeBox words = nappe_scene_measure (scene, text, &style);
  double half = (upright ? words.height : words.width) / 2 + BREAK_GAP;
  double middle = length / 2;
  oblique_stroke (scene, x1, y1);
  oblique_stroke (scene, x2, y2);
  if (nappe_mark_dimension_fits (scene, x1, y1, x2, y2, text))
    {
      block_line (scene, x1 - ux * OVERRUN, y1 - uy * OVERRUN, x1 + ux * (middle - half), y1 + uy * (middle - half));
      block_line (scene, x2 - ux * (middle - half), y2 - uy * (middle - half), x2 + ux * OVERRUN, y2 + uy * OVERRUN);
    }
  else
    {
      /* Too short for its text: the text stands past the far end. */
      block_line (scene, x1 - ux * OVERRUN, y1 - uy * OVERRUN, x2 + ux * OVERRUN, y2 + uy * OVERRUN);
      style.x = x2 + ux * (half + OVERRUN);
      style.y = y2 + uy * (half + OVERRUN);
      words = nappe_scene_measure (scene, text, &style);
      if (!nappe_label_is_free (scene, &words, 0))
        return nappe_box_grown (nappe_box_between (x1, y1, x2, y2), OBLIQUE);
    }
  words = nappe_scene_text (scene, NAPPE_LAYER_NOTE, text, &style);
  NappeBox line = nappe_box_grown (nappe_box_between (x1, y1, x2, y2), OBLIQUE);
  return nappe_box_union (&line, &words);
}

NappeBox
nappe_mark_dimension (NappeScene *scene, double x1, double y1, double x2, double y2, const char *text)
{
  return mark_dimension (scene, x1, y1, x2, y2, text, FALSE);
}

NappeBox
nappe_mark_dimension_over (NappeScene *scene, double x1, double y1, double x2, double y2, const char *text)
{
  return mark_dimension (scene, x1, y1, x2, y2, text, TRUE);
}

void
nappe_mark_arrow (NappeScene *scene, NappeLayer layer, double x, double y, double dx, double dy, double size, NappeRole role)
{
  double length = hypot (dx, dy);
  if (!(length > 0))
    return;
  double ux = dx / length * size, uy = dy / length * size;
  NappeStyle style = { .fill = role };
  nappe_scene_move (scene, x, y);
  nappe_scene_line (scene, x - ux + uy * 0.5, y - uy - ux * 0.5);
  nappe_scene_line (scene, x - ux - uy * 0.5, y - uy + ux * 0.5);
  nappe_scene_close (scene);
  nappe_scene_paint (scene, layer, &style);
}

/* The outline of a finding's sign around x, y; its middle for the number is `drop` below y [px]. */
static double
trace_sign (NappeScene *scene, double x, double y, double half, NappeSeverity severity)
{
  if (severity == NAPPE_SEVERITY_DANGER)
    {
      nappe_scene_move (scene, x, y - half * 1.05);
      nappe_scene_line (scene, x + half * 1.15, y + half * 0.9);
      nappe_scene_line (scene, x - half * 1.15, y + half * 0.9);
      nappe_scene_close (scene);
      return half * 0.28;
    }
  if (severity == NAPPE_SEVERITY_PROBLEM)
    {
      nappe_scene_move (scene, x, y - half * 1.15);
      nappe_scene_line (scene, x + half * 1.15, y);
      nappe_scene_line (scene, x, y + half * 1.15);
      nappe_scene_line (scene, x - half * 1.15, y);
      nappe_scene_close (scene);
      return 0;
    }
  nappe_scene_arc (scene, x, y, half * 0.95, 0, 2 * G_PI);
  nappe_scene_close (scene);
  return 0;
}

double
nappe_mark_finding_size (NappeScene *scene)
{
  return NAPPE_MARK_FINDING_SIZE * fmax (nappe_text_shaper_scale (nappe_scene_shaper (scene)), 1);
}

NappeBox
nappe_mark_finding (NappeScene *scene, double x, double y, NappeSeverity severity, guint number)
{
  double half = nappe_mark_finding_size (scene) / 2;
  NappeStyle sign = { .fill = nappe_severity_role (severity), .stroke = NAPPE_ROLE_PAPER, .weight = 1.6 };
  double drop = trace_sign (scene, x, y, half, severity);
  nappe_scene_paint (scene, NAPPE_LAYER_MARK, &sign);
  NappeBox box = { x - half * 1.2, y - half * 1.2, half * 2.4, half * 2.4 };
  nappe_scene_block (scene, NAPPE_BLOCK_SIGN, box);
  char digits[16];
  g_snprintf (digits, sizeof digits, "%u", number);
  NappeTextStyle style = { .x = x, .y = y + drop, .align_x = 0.5, .align_y = 0.5, .size = NAPPE_TEXT_SMALL,
                           .weight = NAPPE_TEXT_STRONG, .role = nappe_severity_text_role (severity) };
  nappe_scene_text (scene, NAPPE_LAYER_MARK, digits, &style);
  return box;
}

/* One half of a valve's sign: a triangle with its tip at x, y that opens against the direction given. */
static void
trace_half_valve (NappeScene *scene, double x, double y, double ux, double uy, double size)
{
  double width = size * 0.72;
  nappe_scene_move (scene, x, y);
  nappe_scene_line (scene, x + ux * size - uy * width, y + uy * size + ux * width);
  nappe_scene_line (scene, x + ux * size + uy * width, y + uy * size - ux * width);
  nappe_scene_close (scene);
}

void
nappe_mark_valve (NappeScene *scene, double x, double y, double dx, double dy, double size, const char *kind, double share)
{
  NappeStyle ink = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
  NappeStyle open = { .fill = NAPPE_ROLE_PAPER, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
  NappeStyle shut = { .fill = NAPPE_ROLE_INK, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
  gboolean check = g_strcmp0 (kind, "check") == 0;
  trace_half_valve (scene, x, y, -dx, -dy, size);
  trace_half_valve (scene, x, y, dx, dy, size);
  nappe_scene_paint (scene, NAPPE_LAYER_PIPE, share <= 0 && !check ? &shut : &open);
  if (check)
    {
      /* A non-return valve: its downstream half is filled, flow passes toward it only. */
      trace_half_valve (scene, x, y, -dx, -dy, size);
      nappe_scene_paint (scene, NAPPE_LAYER_PIPE, &shut);
      return;
    }
  double stem = size * 1.15, bar = size * 0.45;
  if (g_strcmp0 (kind, "ball") == 0)
    nappe_scene_circle (scene, NAPPE_LAYER_PIPE, x, y, size * 0.32, share <= 0 ? &shut : &open);
  /* Stem and hand wheel stand square to the pipe, to the right of the flow. */
  double sx = -dy, sy = dx;
  if (sx < 0 || (sx == 0 && sy > 0))
    {
      sx = -sx;
      sy = -sy;
    }
  double root = g_strcmp0 (kind, "ball") == 0 ? size * 0.32 : 0;
  nappe_scene_stroke (scene, NAPPE_LAYER_PIPE, x + sx * root, y + sy * root, x + sx * stem, y + sy * stem, &ink);
  nappe_scene_stroke (scene, NAPPE_LAYER_PIPE, x + sx * stem - dx * bar, y + sy * stem - dy * bar,
                      x + sx * stem + dx * bar, y + sy * stem + dy * bar, &ink);
  NappeBox box = nappe_box_between (x - size, y - size, x + size, y + size);
  NappeBox wheel = nappe_box_grown (nappe_box_between (x, y, x + sx * stem, y + sy * stem), bar);
  nappe_scene_block (scene, NAPPE_BLOCK_MARK, nappe_box_union (&box, &wheel));
}

void
nappe_mark_pump (NappeScene *scene, double x, double y, double radius, double dx, double dy)
{
  NappeStyle sign = { .fill = NAPPE_ROLE_EQUIPMENT, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
  nappe_scene_circle (scene, NAPPE_LAYER_VESSEL, x, y, radius, &sign);
  double length = hypot (dx, dy);
  double ux = length > 0 ? dx / length : 0, uy = length > 0 ? dy / length : -1;
  double wide = radius * 0.86, back = radius * 0.5;
  nappe_scene_move (scene, x + ux * radius, y + uy * radius);
  nappe_scene_line (scene, x - ux * back - uy * wide, y - uy * back + ux * wide);
  nappe_scene_line (scene, x - ux * back + uy * wide, y - uy * back - ux * wide);
  nappe_scene_close (scene);
  nappe_scene_paint (scene, NAPPE_LAYER_VESSEL, &sign);
  nappe_scene_block (scene, NAPPE_BLOCK_MARK, (NappeBox) { x - radius, y - radius, 2 * radius, 2 * radius });
}

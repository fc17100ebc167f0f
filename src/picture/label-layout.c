/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Candidates are tried in a fixed order and judged by one cost: how far the label is from its
 * point, what its leader crosses, and what soft things lie beneath. Only places that are clear of
 * everything hard are judged at all. */
#include "picture/label-layout.h"

#include <math.h>

/* Least distance between a label and anything else [px]. */
#define GAP 3.0
/* Room inside a label's frame [px]. */
#define PADDING_X 8.0
#define PADDING_Y 5.0
/* How far labels stay inside the paper's edge [px]. */
#define EDGE 6.0

gboolean
nappe_label_is_free (const NappeScene *scene, const NappeBox *box, double gap)
{
  NappeBox paper = { EDGE, EDGE, nappe_scene_width (scene) - 2 * EDGE, nappe_scene_height (scene) - 2 * EDGE };
  NappeBox wide = nappe_box_grown (*box, gap);
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (scene, &n);
  if (!isfinite (box->x + box->y) || !nappe_box_within (box, &paper))
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (blocks[i].kind != NAPPE_BLOCK_SOFT && nappe_box_overlaps (&wide, &blocks[i].box))
      return FALSE;
  return TRUE;
}

gboolean
nappe_label_place_text (NappeScene *scene, NappeLayer layer, const char *text, const NappeTextStyle *styles, guint n, NappeBox *taken)
{
  for (guint i = 0; i < n; i++)
    {
      NappeBox box = nappe_scene_measure (scene, text, &styles[i]);
      if (!nappe_label_is_free (scene, &box, GAP))
        continue;
      box = nappe_scene_text (scene, layer, text, &styles[i]);
      if (taken)
        *taken = box;
      return TRUE;
    }
  return FALSE;
}

char *
nappe_label_shorten (NappeScene *scene, const char *text, const NappeTextStyle *style, double width)
{
  g_autofree char *whole = g_utf8_make_valid (text, -1);
  if (nappe_scene_measure (scene, whole, style).width <= width)
    return g_steal_pointer (&whole);
  glong low = 0, high = g_utf8_strlen (whole, -1);
  while (high - low > 1)
    {
      glong middle = (low + high) / 2;
      g_autofree char *head = g_utf8_substring (whole, 0, middle);
      g_autofree char *cut = g_strconcat (g_strchomp (head), "…", NULL);
      if (nappe_scene_measure (scene, cut, style).width <= width)
        low = middle;
      else
        high = middle;
    }
  g_autofree char *head = g_utf8_substring (whole, 0, low);
  return g_strconcat (g_strchomp (head), "…", NULL);
}

/* Where a leader leaves the box toward a point: the middle of the nearer side. */
static void
leader_root (const NappeBox *box, double x, double y, double *root_x, double *root_y)
{
  if (x < box->x || x > box->x + box->width)
    {
      *root_x = x < box->x ? box->x : box->x + box->width;
      *root_y = CLAMP (y, box->y + 6, box->y + box->height - 6);
      return;
    }
  *root_x = x;
  *root_y = y < box->y ? box->y : box->y + box->height;
}

/* What standing there costs, in px of leader length. */
static double
cost_of (const NappeScene *scene, const NappeLabelSpec *spec, const NappeBox *box)
{
  double root_x, root_y;
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (scene, &n);
  leader_root (box, spec->x, spec->y, &root_x, &root_y);
  double cost = hypot (spec->x - root_x, spec->y - root_y) + 0.6 * fabs (root_y - spec->y);
  if (spec->way * (box->x + box->width / 2 - spec->x) < 0)
    cost += 300;
  for (guint i = 0; i < n; i++)
    {
      if (blocks[i].kind == NAPPE_BLOCK_SOFT && nappe_box_overlaps (box, &blocks[i].box))
        cost += 60;
      /* The block that the leader ends in is no obstacle. */
      if (nappe_box_contains (&blocks[i].box, spec->x, spec->y) || blocks[i].kind == NAPPE_BLOCK_SOFT)
        continue;
      if (nappe_box_meets_line (&blocks[i].box, root_x, root_y, spec->x, spec->y))
        cost += blocks[i].kind == NAPPE_BLOCK_TEXT || blocks[i].kind == NAPPE_BLOCK_MARK ? 500 : 40;
    }
  return cost;
}

/* The cheapest free place of a box around the point; FALSE when there is none. */
static gboolean
find_place (const NappeScene *scene, const NappeLabelSpec *spec, double width, double height, NappeBox *best)
{
  static const double reach[] = { 18, 34, 52, 76, 104, 140, 184, 240, 310, 400 };
  double cheapest = G_MAXDOUBLE;
  NappeBox paper = { 0, 0, nappe_scene_width (scene), nappe_scene_height (scene) };
  NappeBox area = spec->area.width > 0 ? spec->area : paper;
  for (guint ring = 0; ring < G_N_ELEMENTS (reach); ring++)
    for (int side = 1; side >= -1; side -= 2)
      for (int step = 0; step < 33; step++)
        {
          /* 0, -1, 1, -2, 2 ...: level with the point first. */
          double rise = (step % 2 ? -1 : 1) * ((step + 1) / 2) * 14.0;
          NappeBox box = { side > 0 ? spec->x + reach[ring] : spec->x - reach[ring] - width, spec->y - height / 2 + rise, width, height };
          if (reach[ring] + 0.6 * fabs (rise) - height * 0.6 >= cheapest || !nappe_box_within (&box, &area)
              || !nappe_label_is_free (scene, &box, GAP))
            continue;
          double cost = cost_of (scene, spec, &box);
          if (cost < cheapest)
            {
              cheapest = cost;
              *best = box;
            }
        }
  return cheapest < G_MAXDOUBLE;
}

static NappeTextStyle
line_style (double x, double y, NappeTextWeight weight, NappeRole role)
{
  return (NappeTextStyle) { .x = x, .y = y, .size = NAPPE_TEXT_SMALL, .weight = weight, .role = role };
}

/* Size of a label with the first n of its further lines. */
static void
label_size (NappeScene *scene, const NappeLabelSpec *spec, guint n, double *width, double *height)
{
  NappeTextStyle strong = line_style (0, 0, NAPPE_TEXT_STRONG, NAPPE_ROLE_INK);
  NappeTextStyle plain = line_style (0, 0, NAPPE_TEXT_REGULAR, NAPPE_ROLE_SOFT);
  *width = nappe_scene_measure (scene, spec->name, &strong).width;
  if (spec->value)
    *width += 8 + nappe_scene_measure (scene, spec->value, &strong).width;
  for (guint i = 0; i < n; i++)
    *width = MAX (*width, nappe_scene_measure (scene, spec->lines[i], &plain).width);
  *width += 2 * PADDING_X;
  *height = (n + 1) * nappe_text_shaper_line_height (nappe_scene_shaper (scene), NAPPE_TEXT_SMALL) + 2 * PADDING_Y;
}

static void
draw_label (NappeScene *scene, const NappeLabelSpec *spec, guint n, const NappeBox *box)
{
  NappeStyle frame = { .fill = NAPPE_ROLE_PLATE, .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  NappeStyle leader = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  NappeStyle dot = { .fill = NAPPE_ROLE_SOFT };
  double root_x, root_y, step = nappe_text_shaper_line_height (nappe_scene_shaper (scene), NAPPE_TEXT_SMALL);
  leader_root (box, spec->x, spec->y, &root_x, &root_y);
  nappe_scene_stroke (scene, NAPPE_LAYER_NOTE, root_x, root_y, spec->x, spec->y, &leader);
  nappe_scene_circle (scene, NAPPE_LAYER_NOTE, spec->x, spec->y, 1.8, &dot);
  nappe_scene_box (scene, NAPPE_LAYER_NOTE, *box, &frame);
  NappeTextStyle style = line_style (box->x + PADDING_X, box->y + PADDING_Y, NAPPE_TEXT_STRONG, NAPPE_ROLE_INK);
  NappeBox name = nappe_scene_text (scene, NAPPE_LAYER_NOTE, spec->name, &style);
  if (spec->value)
    {
      style.x += name.width + 8;
      nappe_scene_text (scene, NAPPE_LAYER_NOTE, spec->value, &style);
    }
  for (guint i = 0; i < n; i++)
    {
      NappeTextStyle line = line_style (box->x + PADDING_X, box->y + PADDING_Y + (i + 1) * step, NAPPE_TEXT_REGULAR, NAPPE_ROLE_SOFT);
      nappe_scene_text (scene, NAPPE_LAYER_NOTE, spec->lines[i], &line);
    }
  nappe_scene_block (scene, NAPPE_BLOCK_MARK, *box);
  nappe_scene_hit (scene, spec->part, *box);
}

gboolean
nappe_label_place (NappeScene *scene, const NappeLabelSpec *spec, NappeBox *taken)
{
  guint lines = 0;
  NappeBox box;
  while (lines < NAPPE_LABEL_LINES_MAX && spec->lines[lines])
    lines++;
  if (!isfinite (spec->x + spec->y))
    return FALSE;
  for (guint left_out = 0; left_out <= lines; left_out++)
    {
      double width, height;
      label_size (scene, spec, lines - left_out, &width, &height);
      if (!find_place (scene, spec, width, height, &box))
        continue;
      draw_label (scene, spec, lines - left_out, &box);
      if (taken)
        *taken = box;
      return TRUE;
    }
  return FALSE;
}

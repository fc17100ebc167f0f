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
/* What it costs to stand on the other side than wished [px of leader]. */
#define AGAINST_WAY 300.0
/* Least distance between a leader and a text [px]. */
#define LEADER_GAP 2.0
/* No place costs as much: a leader through another text. */
#define FORBIDDEN 1e6
/* Points so near are one [px]. */
#define SAME_POINT 1.0
/* What it costs to lie over a wall, a vessel or the stand. */
#define OVER_SOFT 100.0

/* Whether a block keeps the rectangle from left, top to right, bottom from being used. */
static inline gboolean
is_in_the_way (const NappeBlock *block, double left, double top, double right, double bottom)
{
  const NappeBox *box = &block->box;
  return box->x < right && box->y < bottom && box->x + box->width > left && box->y + box->height > top
      && block->kind != NAPPE_BLOCK_SOFT;
}

/* `last`: the block that was in the way of the candidate before. It is likely to be in the way again, and is
 * asked first: this is where composing a picture spends its time. */
static gboolean
is_free (const NappeScene *scene, const NappeBox *box, double gap, guint *last)
{
  NappeBox paper = { EDGE, EDGE, nappe_scene_width (scene) - 2 * EDGE, nappe_scene_height (scene) - 2 * EDGE };
  double left = box->x - gap, top = box->y - gap, right = box->x + box->width + gap, bottom = box->y + box->height + gap;
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (scene, &n);
  if (!isfinite (box->x + box->y) || !nappe_box_within (box, &paper))
    return FALSE;
  if (*last < n && is_in_the_way (&blocks[*last], left, top, right, bottom))
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (is_in_the_way (&blocks[i], left, top, right, bottom))
      {
        *last = i;
        return FALSE;
      }
  return TRUE;
}

gboolean
nappe_label_is_free (const NappeScene *scene, const NappeBox *box, double gap)
{
  guint last = 0;
  return is_free (scene, box, gap, &last);
}

gboolean
nappe_label_place_text (NappeScene *scene, NappeLayer layer, const char *text, const NappeTextStyle *styles, guint n,
                        NappeBox *taken)
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

/* What standing there costs, in px of leader length; anything above `limit` may be returned as it is. */
static double
cost_of (const NappeScene *scene, const NappeLabelSpec *spec, const NappeBox *box, double limit)
{
  double root_x, root_y;
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (scene, &n);
  leader_root (box, spec->x, spec->y, &root_x, &root_y);
  double cost = hypot (spec->x - root_x, spec->y - root_y) + 0.6 * fabs (root_y - spec->y);
  if (spec->way * (box->x + box->width / 2 - spec->x) < 0)
    cost += AGAINST_WAY;
  NappeBox leader = nappe_box_grown (nappe_box_between (root_x, root_y, spec->x, spec->y), LEADER_GAP);
  for (guint i = 0; i < n && cost < limit; i++)
    {
      if (blocks[i].kind == NAPPE_BLOCK_SOFT)
        {
          cost += nappe_box_overlaps (box, &blocks[i].box) ? OVER_SOFT : 0;
          continue;
        }
      /* The block that the leader ends in is no obstacle. */
      if (!nappe_box_overlaps (&leader, &blocks[i].box) || nappe_box_contains (&blocks[i].box, spec->x, spec->y))
        continue;
      NappeBox wide = nappe_box_grown (blocks[i].box, LEADER_GAP);
      if (nappe_box_meets_line (&wide, root_x, root_y, spec->x, spec->y))
        cost += blocks[i].kind == NAPPE_BLOCK_TEXT ? FORBIDDEN : blocks[i].kind == NAPPE_BLOCK_PIPE ? 40 : 120;
    }
  return cost;
}

/* Finds a free place of a box around the point that is cheaper than `cheapest`, and takes it. */
static gboolean
find_place (const NappeScene *scene, const NappeLabelSpec *spec, double width, double height, double *cheapest, NappeBox *best)
{
  static const double reach[] = { 18, 36, 64, 100, 150, 210, 290, 390 };
  gboolean found = FALSE;
  guint last = 0;
  NappeBox paper = { 0, 0, nappe_scene_width (scene), nappe_scene_height (scene) };
  NappeBox area = spec->area.width > 0 ? spec->area : paper;
  for (guint ring = 0; ring < G_N_ELEMENTS (reach) && reach[ring] < *cheapest; ring++)
    for (int side = 1; side >= -1; side -= 2)
      for (int step = 0; step < 27; step++)
        {
          /* 0, -1, 1, -2, 2 ...: level with the point first. */
          double rise = (step % 2 ? -1 : 1) * ((step + 1) / 2) * 14.0;
          NappeBox box = { side > 0 ? spec->x + reach[ring] : spec->x - reach[ring] - width, spec->y - height / 2 + rise,
                           width, height };
          double least = reach[ring] + 0.6 * fmax (fabs (rise) - height / 2, 0) + (spec->way * side < 0 ? AGAINST_WAY : 0);
          if (least >= *cheapest || !nappe_box_within (&box, &area) || !is_free (scene, &box, GAP, &last))
            continue;
          double cost = cost_of (scene, spec, &box, *cheapest);
          if (cost >= *cheapest)
            continue;
          *cheapest = cost;
          *best = box;
          found = TRUE;
        }
  return found;
}

/* The place that the label of the same part and point had before, if it is as good as any. */
static gboolean
find_earlier (const NappeScene *scene, const NappeLabelSpec *spec, double width, double height, NappeBox *best)
{
  const NappeLabelPlace *earlier = nappe_scene_earlier_label (scene, spec->part);
  NappeBox paper = { 0, 0, nappe_scene_width (scene), nappe_scene_height (scene) };
  NappeBox area = spec->area.width > 0 ? spec->area : paper;
  guint last = 0;
  if (!earlier || hypot (earlier->x - spec->x, earlier->y - spec->y) > SAME_POINT)
    return FALSE;
  gboolean right = earlier->box.x + earlier->box.width / 2 > spec->x;
  *best = (NappeBox) { right ? earlier->box.x : earlier->box.x + earlier->box.width - width, earlier->box.y, width, height };
  return nappe_box_within (best, &area) && is_free (scene, best, GAP, &last)
      && cost_of (scene, spec, best, FORBIDDEN) < FORBIDDEN;
}

static NappeTextStyle
line_style (double x, double y, NappeTextWeight weight, NappeRole role)
{
  return (NappeTextStyle) { .x = x, .y = y, .size = NAPPE_TEXT_SMALL, .weight = weight, .role = role };
}

static NappeTextStyle
name_style (const NappeLabelSpec *spec)
{
  return line_style (0, 0, spec->plain ? NAPPE_TEXT_REGULAR : NAPPE_TEXT_STRONG, NAPPE_ROLE_INK);
}

static double
padding_x (const NappeLabelSpec *spec)
{
  return spec->plain ? 4 : PADDING_X;
}

static double
padding_y (const NappeLabelSpec *spec)
{
  return spec->plain ? 0 : PADDING_Y;
}

/* Size of a label with the first n of its further lines. */
static void
label_size (NappeScene *scene, const NappeLabelSpec *spec, guint n, double *width, double *height)
{
  NappeTextStyle strong = name_style (spec);
  NappeTextStyle plain = line_style (0, 0, NAPPE_TEXT_REGULAR, NAPPE_ROLE_SOFT);
  *width = nappe_scene_measure (scene, spec->name, &strong).width;
  if (spec->value)
    *width += 8 + nappe_scene_measure (scene, spec->value, &strong).width;
  for (guint i = 0; i < n; i++)
    *width = MAX (*width, nappe_scene_measure (scene, spec->lines[i], &plain).width);
  *width += 2 * padding_x (spec);
  *height = (n + 1) * nappe_text_shaper_line_height (nappe_scene_shaper (scene), NAPPE_TEXT_SMALL) + 2 * padding_y (spec);
}

/* A leader as a chain of small squares, so that later labels do not cover it. */
static void
block_leader (NappeScene *scene, double x1, double y1, double x2, double y2)
{
  guint n = (guint) CLAMP (ceil (hypot (x2 - x1, y2 - y1) / 10), 1, 100);
  for (guint i = 1; i < n; i++)
    {
      double share = (double) i / n;
      NappeBox spot = { x1 + (x2 - x1) * share, y1 + (y2 - y1) * share, 0, 0 };
      nappe_scene_block (scene, NAPPE_BLOCK_LINE, nappe_box_grown (spot, 1));
    }
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
  block_leader (scene, root_x, root_y, spec->x, spec->y);
  nappe_scene_circle (scene, NAPPE_LAYER_NOTE, spec->x, spec->y, 1.8, &dot);
  if (!spec->plain)
    nappe_scene_box (scene, NAPPE_LAYER_NOTE, *box, &frame);
  NappeTextStyle style = name_style (spec);
  style.x = box->x + padding_x (spec);
  style.y = box->y + padding_y (spec);
  style.plate = spec->plain;
  NappeBox name = nappe_scene_text (scene, NAPPE_LAYER_NOTE, spec->name, &style);
  if (spec->value)
    {
      style.x += name.width + 8;
      nappe_scene_text (scene, NAPPE_LAYER_NOTE, spec->value, &style);
    }
  for (guint i = 0; i < n; i++)
    {
      NappeTextStyle line = line_style (box->x + PADDING_X, box->y + PADDING_Y + (i + 1) * step, NAPPE_TEXT_REGULAR,
                                        NAPPE_ROLE_SOFT);
      nappe_scene_text (scene, NAPPE_LAYER_NOTE, spec->lines[i], &line);
    }
  nappe_scene_block (scene, NAPPE_BLOCK_MARK, *box);
  nappe_scene_hit (scene, spec->part, *box);
  if (spec->part)
    nappe_scene_keep_label (scene, spec->part, &(NappeLabelPlace) { *box, spec->x, spec->y });
}

/* What of a label finds no room, from a line on. */
static void
lose_lines (NappeScene *scene, const NappeLabelSpec *spec, guint from)
{
  for (guint i = from; i < NAPPE_LABEL_LINES_MAX && spec->lines[i]; i++)
    nappe_scene_lose (scene, spec->part, spec->lines[i]);
}

gboolean
nappe_label_place_any (NappeScene *scene, const NappeLabelSpec *specs, guint n, NappeBox *taken)
{
  guint lines = 0;
  while (lines < NAPPE_LABEL_LINES_MAX && specs[0].lines[lines])
    lines++;
  for (guint left_out = 0; left_out <= lines; left_out++)
    {
      const NappeLabelSpec *chosen = NULL;
      double width, height, cheapest = FORBIDDEN;
      NappeBox box;
      label_size (scene, &specs[0], lines - left_out, &width, &height);
      for (guint i = 0; i < n && !chosen; i++)
        if (isfinite (specs[i].x + specs[i].y) && find_earlier (scene, &specs[i], width, height, &box))
          chosen = &specs[i];
      gboolean stays = chosen != NULL;
      for (guint i = 0; i < n && !stays; i++)
        if (isfinite (specs[i].x + specs[i].y) && find_place (scene, &specs[i], width, height, &cheapest, &box))
          chosen = &specs[i];
      if (!chosen)
        continue;
      draw_label (scene, chosen, lines - left_out, &box);
      lose_lines (scene, chosen, lines - left_out);
      if (taken)
        *taken = box;
      return TRUE;
    }
  nappe_scene_lose (scene, specs[0].part, specs[0].value);
  lose_lines (scene, &specs[0], 0);
  return FALSE;
}

gboolean
nappe_label_place (NappeScene *scene, const NappeLabelSpec *spec, NappeBox *taken)
{
  return nappe_label_place_any (scene, spec, 1, taken);
}

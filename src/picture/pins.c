/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/pins.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/marks.h"

/* Least distance of a mark from the edge of the paper [px]. */
#define EDGE 4.0
/* How far from its pin a mark may stand, and from where on a line leads to its part, in sizes of a mark. */
#define FARTHEST 12.0
#define NEAR 1.2
/* Directions around a pin that are tried. */
#define TRIES 32
/* What it costs to stand on a pipe or a level's line, and for the line to the part to cross a sign or a mark, or a text
 * [px of distance]. */
#define ON_PIPE 40.0
#define ON_LINE 1e4
#define ACROSS 90.0
#define ACROSS_TEXT 300.0
/* Height of a row of the key in sizes of a mark, and the gaps in it [px]. */
#define ROW 1.2
#define AFTER_WORD 10.0
#define AFTER_MARK 7.0
#define AFTER_ENTRY 22.0
/* Room for the words that say how many findings are left out [px]. */
#define MORE_WIDTH 90.0

GPtrArray *
nappe_findings_about (const NappeVerdict *verdict, GHashTable *parts)
{
  GPtrArray *findings = g_ptr_array_new ();
  for (guint i = 0; verdict && i < verdict->findings->len; i++)
    if (g_hash_table_contains (parts, nappe_finding_get_part (verdict->findings->pdata[i])))
      g_ptr_array_add (findings, verdict->findings->pdata[i]);
  return findings;
}

/* What stands where the mark of a pin may come, or the line to it: all else need not be looked at for each of its places. */
static GArray *
blocks_around (NappeScene *scene, const NappePin *pin)
{
  double reach = nappe_mark_finding_size (scene) * (FARTHEST + 1) + 1;
  double left = MIN (pin->x - reach, pin->to_x - 1), right = MAX (pin->x + reach, pin->to_x + 1);
  double top = MIN (pin->y - reach, pin->to_y - 1), bottom = MAX (pin->y + reach, pin->to_y + 1);
  NappeBox around = { left, top, right - left, bottom - top };
  GArray *near = g_array_new (FALSE, FALSE, sizeof (NappeBlock));
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (scene, &n);
  for (guint i = 0; i < n; i++)
    if (blocks[i].kind != NAPPE_BLOCK_SOFT && nappe_box_overlaps (&around, &blocks[i].box))
      g_array_append_val (near, blocks[i]);
  return near;
}

/* What it costs to stand there, INFINITY where a mark may not stand: on a text, another mark or a dimension. A pipe or a
 * level's line may lie under it. */
static double
cost_of_place (NappeScene *scene, const GArray *near, double x, double y)
{
  double half = nappe_mark_finding_size (scene) * 0.6 + 1, cost = 0;
  NappeBox box = { x - half, y - half, 2 * half, 2 * half };
  NappeBox paper = { EDGE, EDGE, nappe_scene_width (scene) - 2 * EDGE, nappe_scene_height (scene) - 2 * EDGE };
  const NappeBlock *blocks = (const NappeBlock *) near->data;
  if (!nappe_box_within (&box, &paper))
    return INFINITY;
  for (guint i = 0; i < near->len && isfinite (cost); i++)
    if (nappe_box_overlaps (&box, &blocks[i].box))
      cost += blocks[i].kind == NAPPE_BLOCK_PIPE ? ON_PIPE : blocks[i].kind == NAPPE_BLOCK_LINE ? ON_LINE : INFINITY;
  return cost;
}

/* What a line from the mark to the part crosses. */
static double
cost_of_leader (const GArray *near, double x, double y, const NappePin *to)
{
  const NappeBlock *blocks = (const NappeBlock *) near->data;
  double cost = 0;
  for (guint i = 0; i < near->len; i++)
    if ((blocks[i].kind == NAPPE_BLOCK_TEXT || blocks[i].kind == NAPPE_BLOCK_SIGN || blocks[i].kind == NAPPE_BLOCK_MARK)
        && !nappe_box_contains (&blocks[i].box, to->to_x, to->to_y)
        && nappe_box_meets_line (&blocks[i].box, x, y, to->to_x, to->to_y))
      cost += blocks[i].kind == NAPPE_BLOCK_TEXT ? ACROSS_TEXT : ACROSS;
  return cost;
}

static void
put_mark (NappeScene *scene, NappeFinding *finding, double x, double y)
{
  NappeBox box = nappe_mark_finding (scene, x, y, nappe_finding_get_severity (finding), nappe_finding_get_number (finding));
  nappe_scene_hit (scene, nappe_finding_get_part (finding), box);
}

/* In rings around a pin: the place whose distance and leader cost least. FALSE: there is none. */
static gboolean
find_around (NappeScene *scene, const GArray *near, const NappePin *pin, double *x, double *y)
{
  double size = nappe_mark_finding_size (scene), cheapest = INFINITY;
  double most = size * FARTHEST;
  for (double reach = size * 0.2; reach < fmin (most, cheapest); reach += size * (reach < 2 * size ? 0.2 : 0.5))
    for (int turn = 0; turn < TRIES; turn++)
      {
        /* Downwards first, then to both sides in turn. */
        double angle = G_PI / 2 + (turn % 2 ? -1 : 1) * ((turn + 1) / 2) * 2 * G_PI / TRIES;
        double at_x = pin->x + reach * cos (angle), at_y = pin->y + reach * sin (angle);
        double cost = reach + cost_of_place (scene, near, at_x, at_y);
        if (cost < cheapest)
          cost += cost_of_leader (near, at_x, at_y, pin);
        if (!(cost < cheapest))
          continue;
        cheapest = cost;
        *x = at_x;
        *y = at_y;
      }
  return isfinite (cheapest);
}

/* The mark on its pin, if nothing is in the way. */
static gboolean
put_on_pin (NappeScene *scene, NappeFinding *finding, const NappePin *pin)
{
  g_autoptr (GArray) near = blocks_around (scene, pin);
  if (!(cost_of_place (scene, near, pin->x, pin->y) < ON_LINE))
    return FALSE;
  put_mark (scene, finding, pin->x, pin->y);
  return TRUE;
}

/* The mark near its pin, with a line to the part where it is far. FALSE: there is no room. */
static gboolean
put_near_pin (NappeScene *scene, NappeFinding *finding, const NappePin *pin)
{
  NappeStyle leader = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  g_autoptr (GArray) near = blocks_around (scene, pin);
  double x = 0, y = 0;
  if (!find_around (scene, near, pin, &x, &y))
    return FALSE;
  if (hypot (x - pin->to_x, y - pin->to_y) > nappe_mark_finding_size (scene) * NEAR)
    nappe_scene_stroke (scene, NAPPE_LAYER_NOTE, pin->to_x, pin->to_y, x, y, &leader);
  put_mark (scene, finding, x, y);
  return TRUE;
}

/* FALSE: the part has no pin. Where there is no room for a mark around a part's first pin, there is none for another: full
 * has the pins where that was so. */
static gboolean
pin (NappeScene *scene, NappeFinding *finding, const char *part, const NappePin *pins, guint n, GHashTable *full)
{
  const NappePin *first = NULL;
  for (guint i = 0; i < n; i++)
    {
      if (!g_str_equal (pins[i].part, part))
        continue;
      if (!first)
        first = &pins[i];
      if (put_on_pin (scene, finding, &pins[i]))
        return TRUE;
    }
  if (first && !g_hash_table_contains (full, first) && !put_near_pin (scene, finding, first))
    g_hash_table_add (full, (gpointer) first);
  return first != NULL;
}

void
nappe_pin_findings (NappeScene *scene, NappeBuild *build, const GPtrArray *findings, const NappePin *pins, guint n)
{
  g_autoptr (GHashTable) full = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < findings->len; i++)
    {
      NappePart *part = nappe_build_find (build, nappe_finding_get_part (findings->pdata[i]));
      while (part && !pin (scene, findings->pdata[i], nappe_part_get_id (part), pins, n, full))
        part = nappe_part_get_owner (part);
      if (!part)
        pin (scene, findings->pdata[i], "", pins, n, full);
    }
}

void
nappe_pins_add_whole (GArray *pins, NappeScene *scene, double x, double y)
{
  double pitch = 1.25 * nappe_mark_finding_size (scene);
  for (x += pitch * 0.9; x < nappe_scene_width (scene); x += pitch)
    {
      NappePin whole = { "", x, y, x, y };
      g_array_append_val (pins, whole);
    }
}

void
nappe_findings_say (NappeScene *scene, NappeBuild *build, const NappeVerdict *verdict)
{
  for (guint i = 0; verdict && i < verdict->findings->len; i++)
    {
      NappeFinding *finding = verdict->findings->pdata[i];
      /* Translators: said of a part in a picture: severity, number and title of a finding about it: "Danger 3: …" */
      g_autofree char *text = g_strdup_printf (_("%1$s %2$u: %3$s."),
                                               nappe_severity_label (nappe_finding_get_severity (finding)),
                                               nappe_finding_get_number (finding), nappe_finding_get_title (finding));
      NappePart *part = nappe_build_find (build, nappe_finding_get_part (finding));
      while (part && !nappe_scene_item_add (scene, nappe_part_get_id (part), text))
        part = nappe_part_get_owner (part);
    }
}

static const NappeTextStyle title_style = { .align_y = 0.5, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };
static const NappeTextStyle word_style = { .align_y = 0.5, .size = NAPPE_TEXT_SMALL, .weight = NAPPE_TEXT_STRONG,
                                           .role = NAPPE_ROLE_SOFT };

static double
row_height (const NappeFindingKey *self)
{
  return ROW * nappe_mark_finding_size (self->scene);
}

double
nappe_finding_key_middle (const NappeFindingKey *self)
{
  return self->top + (self->row + 0.5) * row_height (self);
}

double
nappe_finding_key_height (const NappeFindingKey *self)
{
  return (self->x > self->left ? self->row + 1 : self->row) * row_height (self);
}

static void
next_row (NappeFindingKey *self)
{
  self->row++;
  self->x = self->left;
}

static void
write_at (NappeFindingKey *self, double x, const char *text, NappeTextStyle style)
{
  style.x = x;
  style.y = nappe_finding_key_middle (self);
  if (self->draw)
    nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, text, &style);
}

/* One entry: the severity's word when it is the first of its kind, mark, title. FALSE: no room left. */
static gboolean
write_entry (NappeFindingKey *self, NappeFinding *finding, guint left_over)
{
  NappeSeverity severity = nappe_finding_get_severity (finding);
  double mark = nappe_mark_finding_size (self->scene), widest = self->right - self->left - mark - AFTER_MARK;
  gboolean first = severity != self->severity;
  const char *word = nappe_severity_label (severity);
  double word_width = first ? nappe_scene_measure (self->scene, word, &word_style).width + AFTER_WORD : 0;
  g_autofree char *title = nappe_label_shorten (self->scene, nappe_finding_get_title (finding), &title_style,
                                                widest - word_width - 4);
  double width = word_width + mark + AFTER_MARK + nappe_scene_measure (self->scene, title, &title_style).width;
  gboolean last_row = self->row + 1 >= self->most_rows;
  double reserve = last_row && left_over > 0 ? MORE_WIDTH * self->scale : 0;
  if (self->x > self->left && self->x + width > self->right - reserve)
    {
      if (last_row)
        return FALSE;
      next_row (self);
    }
  if (first)
    write_at (self, self->x, word, word_style);
  if (self->draw)
    nappe_mark_finding (self->scene, self->x + word_width + mark / 2, nappe_finding_key_middle (self), severity,
                        nappe_finding_get_number (finding));
  write_at (self, self->x + word_width + mark + AFTER_MARK, title, title_style);
  self->x += width + AFTER_ENTRY;
  self->severity = severity;
  return TRUE;
}

guint
nappe_finding_key_write (NappeFindingKey *self, const GPtrArray *findings)
{
  guint written = 0;
  self->x = self->left;
  self->row = 0;
  self->severity = NAPPE_SEVERITY_FINE;
  while (written < findings->len && write_entry (self, findings->pdata[written], findings->len - written - 1))
    written++;
  guint more = findings->len - written;
  if (more == 0)
    return written;
  /* Translators: %u further findings have no room on the drawing */
  g_autofree char *text = g_strdup_printf (ngettext ("and %u more", "and %u more", more), more);
  if (self->x + nappe_scene_measure (self->scene, text, &word_style).width <= self->right)
    write_at (self, self->x, text, word_style);
  return written;
}

double
nappe_finding_key_soft (NappeFindingKey *self, const char *text, double indent, NappeRole role)
{
  NappeTextStyle style = title_style;
  double width = indent + nappe_scene_measure (self->scene, text, &style).width;
  if (self->x + width > self->right && self->row + 1 < self->most_rows)
    next_row (self);
  if (self->x + width > self->right)
    return NAN;
  double start = self->x;
  style.role = role;
  write_at (self, start + indent, text, style);
  self->x += width + AFTER_ENTRY;
  return start;
}

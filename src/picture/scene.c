/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/scene-private.h"

#include <math.h>
#include <string.h>

static void
clear_hit (gpointer data)
{
  g_free (((NappeHit *) data)->part);
}

static void
clear_item (gpointer data)
{
  NappePictureItem *item = data;
  g_free ((char *) item->part);
  g_free ((char *) item->label);
  g_free ((char *) item->description);
}

static void
free_stream (gpointer data)
{
  NappeStream *stream = data;
  g_array_unref (stream->points);
  g_array_unref (stream->clear);
  g_free (stream);
}

NappeStream *
nappe_scene_stream (NappeScene *self, NappeRole role, double size, double speed)
{
  NappeStream *stream = g_new0 (NappeStream, 1);
  stream->role = role;
  stream->size = size;
  stream->speed = speed;
  stream->points = g_array_new (FALSE, FALSE, sizeof (NappeStreamPoint));
  stream->clear = g_array_new (FALSE, FALSE, sizeof (NappeStreamClear));
  g_ptr_array_add (self->streams, stream);
  return stream;
}

NappeScene *
nappe_scene_new (NappePaletteKind palette, double width, double height, double text_scale)
{
  NappeScene *self = g_new0 (NappeScene, 1);
  self->palette = palette;
  self->width = width;
  self->height = height;
  self->shaper = nappe_text_shaper_new (text_scale);
  self->texts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) nappe_text_free);
  self->steps = g_array_new (FALSE, FALSE, sizeof (NappeStep));
  self->shapes = g_array_new (FALSE, FALSE, sizeof (NappeShape));
  self->clips = g_array_new (FALSE, FALSE, sizeof (NappeBox));
  self->clip = -1;
  self->hits = g_array_new (FALSE, FALSE, sizeof (NappeHit));
  g_array_set_clear_func (self->hits, clear_hit);
  self->items = g_array_new (FALSE, FALSE, sizeof (NappePictureItem));
  g_array_set_clear_func (self->items, clear_item);
  self->labels = g_array_new (FALSE, FALSE, sizeof (NappePictureLabel));
  self->lost = g_array_new (FALSE, FALSE, sizeof (NappeLostText));
  self->blocks = g_array_new (FALSE, FALSE, sizeof (NappeBlock));
  self->streams = g_ptr_array_new_with_free_func (free_stream);
  self->handles = g_array_new (FALSE, FALSE, sizeof (NappeHandle));
  self->guides = g_array_new (FALSE, FALSE, sizeof (NappeGuide));
  self->words = g_string_chunk_new (256);
  self->places = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  return self;
}

void
nappe_scene_free (NappeScene *self)
{
  if (!self)
    return;
  nappe_text_shaper_free (self->shaper);
  g_hash_table_unref (self->texts);
  g_array_unref (self->steps);
  g_array_unref (self->shapes);
  g_array_unref (self->clips);
  g_array_unref (self->hits);
  g_array_unref (self->items);
  g_array_unref (self->labels);
  g_array_unref (self->lost);
  g_array_unref (self->blocks);
  g_ptr_array_unref (self->streams);
  g_array_unref (self->handles);
  g_array_unref (self->guides);
  g_string_chunk_free (self->words);
  g_hash_table_unref (self->places);
  g_clear_pointer (&self->earlier, g_hash_table_unref);
  g_free (self);
}

void
nappe_scene_keep_label (NappeScene *self, const char *part, const NappeLabelPlace *place)
{
  g_hash_table_insert (self->places, g_strdup (part), g_memdup2 (place, sizeof *place));
}

void
nappe_scene_take_labels (NappeScene *self, const NappeScene *earlier)
{
  g_clear_pointer (&self->earlier, g_hash_table_unref);
  self->earlier = g_hash_table_ref (earlier->places);
}

const NappeLabelPlace *
nappe_scene_earlier_label (const NappeScene *self, const char *part)
{
  return self->earlier && part ? g_hash_table_lookup (self->earlier, part) : NULL;
}

void
nappe_scene_keep_ground (NappeScene *self, const NappeGround *ground)
{
  self->ground = *ground;
}

void
nappe_scene_hold_ground (NappeScene *self, const NappeScene *earlier)
{
  self->held = earlier->ground;
}

gboolean
nappe_scene_held_ground (const NappeScene *self, NappeGround *ground)
{
  *ground = self->held;
  return ground->scale > 0;
}

double
nappe_scene_width (const NappeScene *self)
{
  return self->width;
}

double
nappe_scene_height (const NappeScene *self)
{
  return self->height;
}

NappeTextShaper *
nappe_scene_shaper (NappeScene *self)
{
  return self->shaper;
}

double
nappe_scene_line_width (const NappeScene *self, double weight)
{
  gboolean paper = self->palette == NAPPE_PALETTE_PRINT;
  gboolean strong = self->palette == NAPPE_PALETTE_LIGHT_CONTRAST || self->palette == NAPPE_PALETTE_DARK_CONTRAST;
  if (weight > 0)
    return weight;
  if (weight == NAPPE_LINE_HAIR)
    return paper ? 0.18 / 25.4 * 96 : strong ? 1.2 : 0.8;
  if (weight == NAPPE_LINE_CUT)
    return paper ? 0.7 / 25.4 * 96 : strong ? 2.8 : 2.2;
  return paper ? 0.35 / 25.4 * 96 : strong ? 1.6 : 1.2;
}

static void
add_step (NappeScene *self, NappeStepKind kind, double a, double b, double c, double d, double e, double f)
{
  NappeStep step = { kind, { a, b, c, d, e, f } };
  g_array_append_val (self->steps, step);
}

void
nappe_scene_move (NappeScene *self, double x, double y)
{
  add_step (self, NAPPE_STEP_MOVE, x, y, 0, 0, 0, 0);
}

void
nappe_scene_line (NappeScene *self, double x, double y)
{
  add_step (self, NAPPE_STEP_LINE, x, y, 0, 0, 0, 0);
}

void
nappe_scene_curve (NappeScene *self, double x1, double y1, double x2, double y2, double x, double y)
{
  add_step (self, NAPPE_STEP_CURVE, x1, y1, x2, y2, x, y);
}

void
nappe_scene_arc (NappeScene *self, double x, double y, double radius, double from, double to)
{
  add_step (self, NAPPE_STEP_ARC, x, y, radius, from, to, 0);
}

void
nappe_scene_close (NappeScene *self)
{
  add_step (self, NAPPE_STEP_CLOSE, 0, 0, 0, 0, 0, 0);
}

/* Number of point coordinates of a step, all of them x, y pairs; an arc's box is that of its circle. */
static void
step_extent (const NappeStep *step, double *left, double *top, double *right, double *bottom)
{
  static const guint points[] = { [NAPPE_STEP_MOVE] = 1, [NAPPE_STEP_LINE] = 1, [NAPPE_STEP_CURVE] = 3 };
  if (step->kind == NAPPE_STEP_CLOSE)
    return;
  if (step->kind == NAPPE_STEP_ARC)
    {
      *left = MIN (*left, step->at[0] - step->at[2]);
      *right = MAX (*right, step->at[0] + step->at[2]);
      *top = MIN (*top, step->at[1] - step->at[2]);
      *bottom = MAX (*bottom, step->at[1] + step->at[2]);
      return;
    }
  for (guint i = 0; i < points[step->kind]; i++)
    {
      *left = MIN (*left, step->at[2 * i]);
      *right = MAX (*right, step->at[2 * i]);
      *top = MIN (*top, step->at[2 * i + 1]);
      *bottom = MAX (*bottom, step->at[2 * i + 1]);
    }
}

/* Farther out than this cairo's fixed-point coordinates (24.8 bits) come near their end [px]. */
#define FAR_OUT 1e6

static gboolean
is_drawable (const NappeStep *step)
{
  for (guint i = 0; i < G_N_ELEMENTS (step->at); i++)
    if (!isfinite (step->at[i]) || fabs (step->at[i]) > FAR_OUT)
      return FALSE;
  return TRUE;
}

void
nappe_scene_paint (NappeScene *self, NappeLayer layer, const NappeStyle *style)
{
  double left = G_MAXDOUBLE, top = G_MAXDOUBLE, right = -G_MAXDOUBLE, bottom = -G_MAXDOUBLE;
  guint first = self->path_start;
  gboolean drawable = self->steps->len > first;
  for (guint i = first; i < self->steps->len && drawable; i++)
    {
      const NappeStep *step = &g_array_index (self->steps, NappeStep, i);
      drawable = is_drawable (step);
      step_extent (step, &left, &top, &right, &bottom);
    }
  if (!drawable || right < left)
    {
      g_array_set_size (self->steps, first);
      return;
    }
  NappeShape shape = {
    .layer = layer, .style = *style, .first = first, .n = self->steps->len - first,
    .box = nappe_box_between (left, top, right, bottom), .clip = self->clip,
  };
  g_array_append_val (self->shapes, shape);
  self->path_start = self->steps->len;
}

static void
trace_box (NappeScene *self, NappeBox box)
{
  nappe_scene_move (self, box.x, box.y);
  nappe_scene_line (self, box.x + box.width, box.y);
  nappe_scene_line (self, box.x + box.width, box.y + box.height);
  nappe_scene_line (self, box.x, box.y + box.height);
  nappe_scene_close (self);
}

void
nappe_scene_box (NappeScene *self, NappeLayer layer, NappeBox box, const NappeStyle *style)
{
  trace_box (self, box);
  nappe_scene_paint (self, layer, style);
}

void
nappe_scene_stroke (NappeScene *self, NappeLayer layer, double x1, double y1, double x2, double y2, const NappeStyle *style)
{
  nappe_scene_move (self, x1, y1);
  nappe_scene_line (self, x2, y2);
  nappe_scene_paint (self, layer, style);
}

void
nappe_scene_circle (NappeScene *self, NappeLayer layer, double x, double y, double radius, const NappeStyle *style)
{
  nappe_scene_arc (self, x, y, radius, 0, 2 * G_PI);
  nappe_scene_close (self);
  nappe_scene_paint (self, layer, style);
}

void
nappe_scene_clip (NappeScene *self, const NappeBox *box)
{
  self->clip = -1;
  if (!box || !isfinite (box->x) || !isfinite (box->y) || !isfinite (box->width) || !isfinite (box->height))
    return;
  self->clip = (gint) self->clips->len;
  g_array_append_vals (self->clips, box, 1);
}

static const NappeText *
stored_text (NappeScene *self, const char *text, NappeTextSize size, NappeTextWeight weight)
{
  char *key = g_strdup_printf ("%d%d%s", size, weight, text ? text : "");
  NappeText *stored = g_hash_table_lookup (self->texts, key);
  if (stored)
    {
      g_free (key);
      return stored;
    }
  stored = nappe_text_new (self->shaper, text, size, weight);
  g_hash_table_insert (self->texts, key, stored);
  return stored;
}

static NappeBox
text_box (const NappeText *text, const NappeTextStyle *style)
{
  double width = nappe_text_width (text), height = nappe_text_height (text);
  if (style->upright)
    {
      double swap = width;
      width = height;
      height = swap;
    }
  return (NappeBox) { style->x - width * style->align_x, style->y - height * style->align_y, width, height };
}

/* Room that a plate leaves left and right of its text [px]. */
#define PLATE_MARGIN 3.0

NappeBox
nappe_scene_measure (NappeScene *self, const char *text, const NappeTextStyle *style)
{
  return text_box (stored_text (self, text, style->size, style->weight), style);
}

NappeBox
nappe_scene_text (NappeScene *self, NappeLayer layer, const char *text, const NappeTextStyle *style)
{
  const NappeText *stored = stored_text (self, text, style->size, style->weight);
  NappeBox box = text_box (stored, style);
  if (!isfinite (box.x) || !isfinite (box.y) || fabs (box.x) > FAR_OUT || fabs (box.y) > FAR_OUT
      || !*nappe_text_string (stored))
    return box;
  if (style->plate)
    {
      NappeStyle plate = { .fill = NAPPE_ROLE_PLATE };
      NappeBox ground = { box.x - PLATE_MARGIN, box.y, box.width + 2 * PLATE_MARGIN, box.height };
      nappe_scene_box (self, layer, ground, &plate);
    }
  NappeShape shape = { .layer = layer, .style = { .fill = style->role }, .box = box, .clip = self->clip, .text = stored,
                       .upright = style->upright };
  g_array_append_val (self->shapes, shape);
  NappePictureLabel label = { box.x, box.y, box.width, box.height, nappe_text_string (stored) };
  g_array_append_val (self->labels, label);
  nappe_scene_block (self, NAPPE_BLOCK_TEXT, box);
  return box;
}

void
nappe_scene_hit (NappeScene *self, const char *part, NappeBox box)
{
  if (!part || !*part || !isfinite (box.x + box.y + box.width + box.height))
    return;
  NappeHit hit = { g_strdup (part), box };
  g_array_append_val (self->hits, hit);
}

const char *
nappe_scene_pick (const NappeScene *self, double x, double y)
{
  const char *part = NULL;
  double smallest = G_MAXDOUBLE;
  for (guint i = 0; i < self->hits->len; i++)
    {
      const NappeHit *hit = &g_array_index (self->hits, NappeHit, i);
      double area = hit->box.width * hit->box.height;
      if (nappe_box_contains (&hit->box, x, y) && area <= smallest)
        {
          smallest = area;
          part = hit->part;
        }
    }
  return part;
}

static NappePictureItem *
find_item (const NappeScene *self, const char *part)
{
  for (guint i = 0; i < self->items->len; i++)
    {
      NappePictureItem *item = &g_array_index (self->items, NappePictureItem, i);
      if (g_str_equal (item->part, part))
        return item;
    }
  return NULL;
}

void
nappe_scene_item (NappeScene *self, const char *part, const char *label, const char *description, NappeBox box)
{
  if (!part || !*part || !isfinite (box.x + box.y + box.width + box.height))
    return;
  NappePictureItem *known = find_item (self, part);
  if (known)
    {
      NappeBox old = { known->x, known->y, known->width, known->height };
      NappeBox both = nappe_box_union (&old, &box);
      known->x = both.x;
      known->y = both.y;
      known->width = both.width;
      known->height = both.height;
      return;
    }
  NappePictureItem item = { g_strdup (part), g_strdup (label), g_strdup (description), box.x, box.y, box.width, box.height };
  g_array_append_val (self->items, item);
}

/* What stands before is a sentence too, or a name that is to be set off. Transfer full. */
static char *
sentence_after (const char *before, const char *sentence)
{
  return g_strconcat (before, g_str_has_suffix (before, ".") ? " " : ". ", sentence, NULL);
}

gboolean
nappe_scene_item_add (NappeScene *self, const char *part, const char *sentence)
{
  NappePictureItem *item = find_item (self, part);
  if (!item)
    return FALSE;
  char *longer = *item->description ? sentence_after (item->description, sentence) : g_strdup (sentence);
  g_free ((char *) item->description);
  item->description = longer;
  return TRUE;
}

void
nappe_scene_lose (NappeScene *self, const char *part, const char *text)
{
  if (!part || !*part || !text || !*text)
    return;
  NappeLostText lost = { g_string_chunk_insert_const (self->words, part), g_string_chunk_insert_const (self->words, text) };
  g_array_append_val (self->lost, lost);
}

const NappeLostText *
nappe_scene_lost (const NappeScene *self, guint *n)
{
  *n = self->lost->len;
  return (const NappeLostText *) (void *) self->lost->data;
}

void
nappe_scene_say_lost (NappeScene *self)
{
  for (guint i = 0; i < self->lost->len; i++)
    {
      const NappeLostText *lost = &g_array_index (self->lost, NappeLostText, i);
      const NappePictureItem *item = find_item (self, lost->part);
      if (!item || strstr (item->description, lost->text) || strstr (item->label, lost->text))
        continue;
      g_autofree char *sentence = g_strconcat (lost->text, ".", NULL);
      nappe_scene_item_add (self, lost->part, sentence);
    }
}

void
nappe_scene_block (NappeScene *self, NappeBlockKind kind, NappeBox box)
{
  NappeBlock block = { box, kind };
  if (isfinite (box.x + box.y + box.width + box.height))
    g_array_append_val (self->blocks, block);
}

const NappeBlock *
nappe_scene_blocks (const NappeScene *self, guint *n)
{
  *n = self->blocks->len;
  return (const NappeBlock *) (void *) self->blocks->data;
}

const NappePictureItem *
nappe_scene_items (const NappeScene *self, guint *n)
{
  *n = self->items->len;
  return (const NappePictureItem *) (void *) self->items->data;
}

const NappePictureLabel *
nappe_scene_labels (const NappeScene *self, guint *n)
{
  *n = self->labels->len;
  return (const NappePictureLabel *) (void *) self->labels->data;
}

/* Like crop marks on a print: two short strokes at each corner. */
static void
draw_brackets (NappeScene *self, NappeBox box)
{
  NappeStyle ink = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_CUT };
  double arm = CLAMP (MIN (box.width, box.height) * 0.3, 5, 14);
  for (int side = -1; side <= 1; side += 2)
    for (int end = -1; end <= 1; end += 2)
      {
        double x = box.x + (side > 0 ? box.width : 0), y = box.y + (end > 0 ? box.height : 0);
        nappe_scene_move (self, x - side * arm, y);
        nappe_scene_line (self, x, y);
        nappe_scene_line (self, x, y - end * arm);
        nappe_scene_paint (self, NAPPE_LAYER_MARK, &ink);
      }
}

gboolean
nappe_scene_select (NappeScene *self, const char *part)
{
  NappeStyle halo = { .fill = NAPPE_ROLE_SELECTED };
  NappePictureItem *item = part ? find_item (self, part) : NULL;
  if (!item)
    return FALSE;
  /* One shape of all regions: where they overlap the halo stays as light as elsewhere. */
  for (guint i = 0; i < self->hits->len; i++)
    {
      const NappeHit *hit = &g_array_index (self->hits, NappeHit, i);
      if (g_str_equal (hit->part, part))
        trace_box (self, nappe_box_grown (hit->box, 3));
    }
  nappe_scene_paint (self, NAPPE_LAYER_HALO, &halo);
  draw_brackets (self, nappe_box_grown ((NappeBox) { item->x, item->y, item->width, item->height }, 5));
  return TRUE;
}

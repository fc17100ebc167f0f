/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/text.h"

#include <pango/pangocairo.h>
#include <string.h>

/* A named family and a named fall-back, so that output does not depend on what "Sans" is here. */
#define FAMILY "Inter,DejaVu Sans"

/* The line's box in ems. The middle of the capitals (height 0.73 em in both families) is the middle
 * of the box, so that centring a box centres what the eye sees; descenders and accents stay inside. */
#define LINE_HEIGHT 1.35
#define BASELINE 1.04

/* By how much a thin space before a unit is widened, in ems. */
#define UNIT_GAP 0.09

static const double size_px[] = {
  [NAPPE_TEXT_SMALL] = 11, [NAPPE_TEXT_BODY] = 12, [NAPPE_TEXT_HEAD] = 14, [NAPPE_TEXT_TITLE] = 20,
};

struct _NappeTextShaper
{
  double scale;
  PangoContext *context;
  PangoAttrList *features;
  PangoFontDescription *fonts[4][2];
};

/* Glyphs of one font. */
typedef struct
{
  cairo_scaled_font_t *font;
  cairo_glyph_t *glyphs;
  int n_glyphs;
  cairo_text_cluster_t *clusters;
  int n_clusters;
  cairo_text_cluster_flags_t flags;
  const char *start; /* in the text's string */
  int bytes;
} Run;

struct _NappeText
{
  char *string;
  double width, height;
  GArray *runs;    /* Run */
  GArray *missing; /* cairo_rectangle_t: stands for a character that no font has */
};

NappeTextShaper *
nappe_text_shaper_new (double scale)
{
  NappeTextShaper *self = g_new0 (NappeTextShaper, 1);
  self->scale = scale;
  self->context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  pango_context_set_round_glyph_positions (self->context, FALSE);
  pango_cairo_context_set_resolution (self->context, 96);
  /* Widths must not depend on the pixels of the surface that is drawn on later. */
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (self->context, options);
  cairo_font_options_destroy (options);

  self->features = pango_attr_list_new ();
  pango_attr_list_insert (self->features, pango_attr_font_features_new ("tnum=1"));
  return self;
}

void
nappe_text_shaper_free (NappeTextShaper *self)
{
  if (!self)
    return;
  for (guint size = 0; size < 4; size++)
    for (guint weight = 0; weight < 2; weight++)
      if (self->fonts[size][weight])
        pango_font_description_free (self->fonts[size][weight]);
  pango_attr_list_unref (self->features);
  g_object_unref (self->context);
  g_free (self);
}

double
nappe_text_shaper_scale (const NappeTextShaper *self)
{
  return self->scale;
}

double
nappe_text_shaper_line_height (NappeTextShaper *self, NappeTextSize size)
{
  return size_px[size] * self->scale * LINE_HEIGHT;
}

static const PangoFontDescription *
font_for (NappeTextShaper *self, NappeTextSize size, NappeTextWeight weight)
{
  PangoFontDescription **slot = &self->fonts[size][weight];
  if (!*slot)
    {
      *slot = pango_font_description_from_string (FAMILY);
      pango_font_description_set_absolute_size (*slot, size_px[size] * self->scale * PANGO_SCALE);
      pango_font_description_set_weight (*slot, weight == NAPPE_TEXT_STRONG ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
    }
  return *slot;
}

/* Which characters each group of glyphs stands for, so that PDF readers get the text back. */
static void
copy_clusters (Run *run, PangoGlyphItem *item, const char *string)
{
  PangoGlyphItemIter iter;
  GArray *clusters = g_array_new (FALSE, FALSE, sizeof (cairo_text_cluster_t));
  for (gboolean more = pango_glyph_item_iter_init_start (&iter, item, string); more;
       more = pango_glyph_item_iter_next_cluster (&iter))
    {
      cairo_text_cluster_t cluster = { iter.end_index - iter.start_index, 0 };
      int first = MIN (iter.start_glyph, iter.end_glyph + 1), end = MAX (iter.start_glyph + 1, iter.end_glyph);
      for (int i = first; i < end; i++)
        cluster.num_glyphs += item->glyphs->glyphs[i].glyph != PANGO_GLYPH_EMPTY;
      g_array_append_val (clusters, cluster);
    }
  run->n_clusters = (int) clusters->len;
  run->clusters = (cairo_text_cluster_t *) (void *) g_array_free (clusters, FALSE);
  run->flags = item->item->analysis.level % 2 ? CAIRO_TEXT_CLUSTER_FLAG_BACKWARD : 0;
}

static gboolean
has_unknown (const PangoGlyphString *glyphs)
{
  for (int i = 0; i < glyphs->num_glyphs; i++)
    if (glyphs->glyphs[i].glyph & PANGO_GLYPH_UNKNOWN_FLAG)
      return TRUE;
  return FALSE;
}

/* A thin space between a number and its unit; between thousands it stays as thin as the font has it. */
static gboolean
is_unit_gap (const char *at)
{
  return g_str_has_prefix (at, "\u2009") && !g_ascii_isdigit (at[strlen ("\u2009")]);
}

/* Copies one Pango run that begins at x; returns its advance. */
static double
copy_run (NappeText *self, PangoGlyphItem *item, double x, double baseline, double em)
{
  PangoGlyphString *glyphs = item->glyphs;
  PangoFont *font = item->item->analysis.font;
  double advance = 0;
  if (!font || has_unknown (glyphs))
    {
      advance = pango_glyph_string_get_width (glyphs) / (double) PANGO_SCALE;
      cairo_rectangle_t hole = { x + 1, baseline * 0.3, MAX (advance - 2, 1), baseline * 0.7 };
      g_array_append_val (self->missing, hole);
      return advance;
    }
  Run run = { .font = cairo_scaled_font_reference (pango_cairo_font_get_scaled_font (PANGO_CAIRO_FONT (font))) };
  run.start = self->string + item->item->offset;
  run.bytes = item->item->length;
  run.glyphs = g_new (cairo_glyph_t, (gsize) MAX (glyphs->num_glyphs, 1));
  for (int i = 0; i < glyphs->num_glyphs; i++)
    {
      const PangoGlyphInfo *info = &glyphs->glyphs[i];
      if (info->glyph != PANGO_GLYPH_EMPTY)
        run.glyphs[run.n_glyphs++] = (cairo_glyph_t) {
          info->glyph, x + advance + info->geometry.x_offset / (double) PANGO_SCALE,
          baseline + info->geometry.y_offset / (double) PANGO_SCALE,
        };
      advance += info->geometry.width / (double) PANGO_SCALE;
      if (is_unit_gap (self->string + item->item->offset + glyphs->log_clusters[i]))
        advance += UNIT_GAP * em;
    }
  copy_clusters (&run, item, self->string);
  g_array_append_val (self->runs, run);
  return advance;
}

/* Splits the line by font and direction, shapes each piece and sets them one behind the other. This
 * is what a PangoLayout does, without looking for places to break the line. */
static void
shape_line (NappeText *self, NappeTextShaper *shaper, double em)
{
  int length = (int) MIN (strlen (self->string), G_MAXINT);
  GList *logical = pango_itemize (shaper->context, self->string, 0, length, NULL, NULL);
  GList *visual = pango_reorder_items (logical);
  PangoAttrIterator *features = pango_attr_list_get_iterator (shaper->features);
  for (GList *link = visual; link; link = link->next)
    {
      PangoItem *item = link->data;
      PangoGlyphItem run = { .item = item, .glyphs = pango_glyph_string_new () };
      pango_item_apply_attrs (item, features);
      pango_shape_full (self->string + item->offset, item->length, self->string, length, &item->analysis, run.glyphs);
      self->width += copy_run (self, &run, self->width, em * BASELINE, em);
      pango_glyph_string_free (run.glyphs);
    }
  pango_attr_iterator_destroy (features);
  g_list_free (visual);
  g_list_free_full (logical, (GDestroyNotify) pango_item_free);
}

static void
clear_run (gpointer data)
{
  Run *run = data;
  cairo_scaled_font_destroy (run->font);
  g_free (run->glyphs);
  g_free (run->clusters);
}

NappeText *
nappe_text_new (NappeTextShaper *shaper, const char *text, NappeTextSize size, NappeTextWeight weight)
{
  NappeText *self = g_new0 (NappeText, 1);
  self->string = g_utf8_make_valid (text ? text : "", -1);
  /* One line is one line: a newline or tab in a planner's text becomes a blank. */
  g_strdelimit (self->string, "\n\r\t\v\f", ' ');
  self->runs = g_array_new (FALSE, FALSE, sizeof (Run));
  g_array_set_clear_func (self->runs, clear_run);
  self->missing = g_array_new (FALSE, FALSE, sizeof (cairo_rectangle_t));
  double em = size_px[size] * shaper->scale;
  self->height = em * LINE_HEIGHT;
  pango_context_set_font_description (shaper->context, font_for (shaper, size, weight));
  shape_line (self, shaper, em);
  return self;
}

void
nappe_text_free (NappeText *self)
{
  if (!self)
    return;
  g_array_unref (self->runs);
  g_array_unref (self->missing);
  g_free (self->string);
  g_free (self);
}

double
nappe_text_width (const NappeText *self)
{
  return self->width;
}

double
nappe_text_height (const NappeText *self)
{
  return self->height;
}

const char *
nappe_text_string (const NappeText *self)
{
  return self->string;
}

void
nappe_text_draw (const NappeText *self, cairo_t *cr)
{
  for (guint i = 0; i < self->runs->len; i++)
    {
      const Run *run = &g_array_index (self->runs, Run, i);
      cairo_set_scaled_font (cr, run->font);
      cairo_show_text_glyphs (cr, run->start, run->bytes, run->glyphs, run->n_glyphs, run->clusters, run->n_clusters,
                              run->flags);
    }
  for (guint i = 0; i < self->missing->len; i++)
    {
      const cairo_rectangle_t *hole = &g_array_index (self->missing, cairo_rectangle_t, i);
      cairo_rectangle (cr, hole->x, hole->y, hole->width, hole->height);
      cairo_set_line_width (cr, 0.7);
      cairo_stroke (cr);
    }
}

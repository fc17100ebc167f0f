/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheet/letters.h"

#include <pango/pangocairo.h>

#define POINTS_PER_PIXEL 0.75
#define LEADING 1.38 /* line height over type size: open enough for tables of figures */

struct _NappeLetters
{
  PangoContext *context;
  GHashTable *layouts; /* lettering, width, lines and text, to PangoLayout */
};

/* Hinted metrics would differ between a screen's surface and a page. */
static PangoContext *
fixed_context (void)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_t *options = cairo_font_options_create ();

  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (context, options);
  cairo_font_options_destroy (options);
  pango_context_set_language (context, pango_language_from_string ("en"));
  pango_context_set_round_glyph_positions (context, FALSE);
  return context;
}

NappeLetters *
nappe_letters_new (void)
{
  NappeLetters *self = g_new0 (NappeLetters, 1);

  self->context = fixed_context ();
  self->layouts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  return self;
}

void
nappe_letters_free (NappeLetters *self)
{
  g_hash_table_unref (self->layouts);
  g_object_unref (self->context);
  g_free (self);
}

double
nappe_lettering_size (NappeLettering lettering)
{
  switch (lettering)
    {
    case NAPPE_LETTERING_TITLE:
      return 20.0 * POINTS_PER_PIXEL;
    case NAPPE_LETTERING_HEADING:
      return 14.0 * POINTS_PER_PIXEL;
    case NAPPE_LETTERING_STRONG:
    case NAPPE_LETTERING_BODY:
      return 12.0 * POINTS_PER_PIXEL;
    case NAPPE_LETTERING_SOFT:
    case NAPPE_LETTERING_FINE:
    default:
      return 11.0 * POINTS_PER_PIXEL;
    }
}

double
nappe_lettering_line_height (NappeLettering lettering)
{
  return nappe_lettering_size (lettering) * LEADING;
}

static void
set_font (PangoLayout *layout, NappeLettering lettering)
{
  gboolean heavy = lettering == NAPPE_LETTERING_TITLE || lettering == NAPPE_LETTERING_HEADING
                   || lettering == NAPPE_LETTERING_STRONG;
  PangoFontDescription *font = pango_font_description_new ();
  PangoAttrList *attributes = pango_attr_list_new ();

  /* The second family is what Debian has when the first is not installed. */
  pango_font_description_set_family_static (font, "Inter,DejaVu Sans");
  pango_font_description_set_absolute_size (font, nappe_lettering_size (lettering) * PANGO_SCALE);
  pango_font_description_set_weight (font, heavy ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  /* A checksum that is broken must not seem to hold a hyphen. */
  pango_attr_list_insert (attributes, pango_attr_insert_hyphens_new (FALSE));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
}

static PangoLayout *
set_text (NappeLetters *self, NappeLettering lettering, double width, int max_lines, const char *text)
{
  PangoLayout *layout = pango_layout_new (self->context);
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_autoptr (GString) unbroken = g_string_new (valid);

  /* A number stays with its unit: thin spaces become narrow no-break spaces. */
  g_string_replace (unbroken, "\u2009", "\u202f", 0);
  set_font (layout, lettering);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  if (width >= 0.0)
    pango_layout_set_width (layout, (int) (MAX (width, 4.0) * PANGO_SCALE));
  if (max_lines > 0)
    {
      pango_layout_set_height (layout, -max_lines);
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  pango_layout_set_text (layout, unbroken->str, -1);
  return layout;
}

PangoLayout *
nappe_letters_layout (NappeLetters *self, NappeLettering lettering, double width, int max_lines, const char *text)
{
  /* Thousandths of a point tell widths apart; the text comes last since it may hold anything. */
  g_autofree char *key = g_strdup_printf ("%d %d %d %s", (int) lettering, (int) (width * 1000.0), max_lines, text);
  PangoLayout *layout = g_hash_table_lookup (self->layouts, key);

  if (layout == NULL)
    {
      layout = set_text (self, lettering, width, max_lines, text);
      g_hash_table_insert (self->layouts, g_steal_pointer (&key), layout);
    }
  return layout;
}

double
nappe_letters_width (NappeLetters *self, NappeLettering lettering, const char *text)
{
  int width;

  pango_layout_get_size (nappe_letters_layout (self, lettering, -1.0, 0, text), &width, NULL);
  return (double) width / PANGO_SCALE;
}

/* Read off the text set in full, which is much cheaper than setting every word. */
double
nappe_letters_longest_word (NappeLetters *self, NappeLettering lettering, const char *text)
{
  PangoLayout *layout = nappe_letters_layout (self, lettering, -1.0, 0, text);
  const char *valid = pango_layout_get_text (layout);
  int longest = 0;

  for (int number = 0; number < pango_layout_get_line_count (layout); number++)
    {
      PangoLayoutLine *line = pango_layout_get_line_readonly (layout, number);
      int begin = line->start_index, end = line->start_index + line->length;
      for (int i = begin; i <= end; i++)
        {
          int from, to;
          if (i < end && valid[i] != ' ')
            continue;
          pango_layout_line_index_to_x (line, begin, FALSE, &from);
          pango_layout_line_index_to_x (line, i, FALSE, &to);
          longest = MAX (longest, ABS (to - from));
          begin = i + 1;
        }
    }
  return (double) longest / PANGO_SCALE;
}

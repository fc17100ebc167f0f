/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheet/pages.h"

#include <cairo-pdf.h>
#include <glib/gi18n-lib.h>
#include <pango/pangocairo.h>

#define MARGIN 36.0       /* [pt]: half an inch, which every printer can reach */
#define FOOTER_HEIGHT 22.0 /* [pt] */

struct _NappePages
{
  cairo_surface_t *surface; /* NULL's stand-in while counting */
  cairo_t *cr;
  NappeLetters *letters;
  gboolean counting;
  double width, height;
  double y;
  guint page, n_pages;
  gboolean open; /* a page was begun */
  char *footer;
};

static void
set_colour (NappePages *self, NappeRole role)
{
  NappeColour colour = nappe_palette_colour (NAPPE_PALETTE_PRINT, role);
  cairo_set_source_rgba (self->cr, colour.red, colour.green, colour.blue, colour.alpha);
}

NappePages *
nappe_pages_new (cairo_surface_t *surface, NappeLetters *letters, NappePaper paper, guint n_pages, const char *footer)
{
  NappePages *self = g_new0 (NappePages, 1);

  self->counting = surface == NULL;
  self->surface = surface != NULL ? cairo_surface_reference (surface)
                                  : cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  nappe_pages_paper_size (paper, &self->width, &self->height);
  self->cr = cairo_create (self->surface);
  self->letters = letters;
  self->n_pages = n_pages;
  self->footer = g_strdup (footer);
  /* cairo 1.16 writes a damaged file when links stand outside of a structure tag. */
  if (!self->counting)
    cairo_tag_begin (self->cr, "Document", NULL);
  return self;
}

void
nappe_pages_paper_size (NappePaper paper, double *width, double *height)
{
  *width = paper == NAPPE_PAPER_LETTER ? 792.0 : 841.890;
  *height = paper == NAPPE_PAPER_LETTER ? 612.0 : 595.276;
}

static void
draw_footer (NappePages *self)
{
  double top = self->height - MARGIN - nappe_lettering_line_height (NAPPE_LETTERING_SOFT);
  double left = MARGIN, right = self->width - MARGIN;
  /* Translators: page number and number of pages at the foot of a paper */
  g_autofree char *number = g_strdup_printf (_("page %u of %u"), self->page, self->n_pages);
  double number_width = nappe_letters_width (self->letters, NAPPE_LETTERING_SOFT, number);

  nappe_pages_rule (self, left, top - 4.0, right, top - 4.0, 0.5, NAPPE_ROLE_HAIR);
  nappe_pages_draw_text (self, NAPPE_LETTERING_SOFT, left, top, right - left - number_width - 24.0, 1, self->footer);
  nappe_pages_draw_text (self, NAPPE_LETTERING_SOFT, right - number_width, top, -1.0, 0, number);
}

static void
end_page (NappePages *self)
{
  if (!self->open)
    return;
  draw_footer (self);
  cairo_show_page (self->cr);
  self->open = FALSE;
}

void
nappe_pages_begin (NappePages *self)
{
  end_page (self);
  self->page++;
  self->open = TRUE;
  self->y = MARGIN;
}

guint
nappe_pages_finish (NappePages *self)
{
  guint n_pages;

  end_page (self);
  n_pages = self->page;
  if (!self->counting)
    cairo_tag_end (self->cr, "Document");
  cairo_destroy (self->cr);
  cairo_surface_destroy (self->surface);
  g_free (self->footer);
  g_free (self);
  return n_pages;
}

void
nappe_pages_need (NappePages *self, double height)
{
  /* A page on which nothing stands yet has all the room there is. */
  if (!self->open || (self->y > MARGIN && self->y + height > nappe_pages_bottom (self)))
    nappe_pages_begin (self);
}

void
nappe_pages_skip (NappePages *self, double height)
{
  if (self->open && self->y > MARGIN)
    self->y += height;
}

void
nappe_pages_bookmark (NappePages *self, const char *text)
{
  char place[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *attributes = NULL;

  if (self->counting)
    return;
  g_ascii_formatd (place, sizeof place, "%.1f", MAX (0.0, self->y - 8.0));
  attributes = g_strdup_printf ("page=%u pos=[0 %s]", self->page, place);
  cairo_pdf_surface_add_outline (self->surface, CAIRO_PDF_OUTLINE_ROOT, text, attributes, 0);
}

void
nappe_pages_heading (NappePages *self, const char *text, double follows)
{
  nappe_pages_skip (self, 16.0);
  nappe_pages_need (self, nappe_lettering_line_height (NAPPE_LETTERING_HEADING) + 6.0 + follows);
  nappe_pages_bookmark (self, text);
  self->y = nappe_pages_draw_text (self, NAPPE_LETTERING_HEADING, MARGIN, self->y,
                                   self->width - 2.0 * MARGIN, 0, text);
  self->y += 6.0;
}

void
nappe_pages_paragraph (NappePages *self, NappeLettering lettering, double indent, const char *text)
{
  double x = MARGIN + indent;
  PangoLayout *layout = nappe_letters_layout (self->letters, lettering, self->width - MARGIN - x, 0, text);
  int n = pango_layout_get_line_count (layout);

  for (int i = 0; i < n; i++)
    {
      nappe_pages_need (self, nappe_lettering_line_height (lettering));
      self->y = nappe_pages_draw_lines (self, layout, lettering, x, self->y, i, i + 1, FALSE);
    }
}

double
nappe_pages_draw_lines (NappePages *self, PangoLayout *layout, NappeLettering lettering, double x, double y, int first,
                        int last, gboolean flush_right)
{
  double height = nappe_lettering_line_height (lettering);
  double base = 0.5 * height + 0.36 * nappe_lettering_size (lettering); /* centres capitals in the line */

  set_colour (self, lettering == NAPPE_LETTERING_SOFT ? NAPPE_ROLE_SOFT : NAPPE_ROLE_INK);
  for (int i = first; i < last && i < pango_layout_get_line_count (layout); i++, y += height)
    {
      PangoLayoutLine *line = pango_layout_get_line_readonly (layout, i);
      PangoRectangle extents;
      double offset = 0.0;

      if (self->counting)
        continue;
      pango_layout_line_get_extents (line, NULL, &extents);
      if (flush_right)
        offset = (double) (pango_layout_get_width (layout) - extents.width) / PANGO_SCALE;
      cairo_move_to (self->cr, x + offset, y + base);
      pango_cairo_show_layout_line (self->cr, line);
    }
  return y;
}

double
nappe_pages_draw_text (NappePages *self, NappeLettering lettering, double x, double y, double width, int max_lines,
                       const char *text)
{
  PangoLayout *layout = nappe_letters_layout (self->letters, lettering, width, max_lines, text);
  return nappe_pages_draw_lines (self, layout, lettering, x, y, 0, G_MAXINT, FALSE);
}

void
nappe_pages_rule (NappePages *self, double x1, double y1, double x2, double y2, double thickness, NappeRole role)
{
  set_colour (self, role);
  cairo_set_line_width (self->cr, thickness);
  cairo_move_to (self->cr, x1, y1);
  cairo_line_to (self->cr, x2, y2);
  cairo_stroke (self->cr);
}

NappeLetters *
nappe_pages_letters (NappePages *self)
{
  return self->letters;
}

gboolean
nappe_pages_is_counting (NappePages *self)
{
  return self->counting;
}

cairo_t *
nappe_pages_cairo (NappePages *self)
{
  return self->cr;
}

double
nappe_pages_left (NappePages *self)
{
  return MARGIN;
}

double
nappe_pages_right (NappePages *self)
{
  return self->width - MARGIN;
}

double
nappe_pages_top (NappePages *self)
{
  return MARGIN;
}

double
nappe_pages_bottom (NappePages *self)
{
  return self->height - MARGIN - FOOTER_HEIGHT;
}

double
nappe_pages_y (NappePages *self)
{
  return self->y;
}

void
nappe_pages_set_y (NappePages *self, double y)
{
  self->y = y;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first pages: the elevation beside the title block, then the flow diagram, the sump from above and the drilled panes. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>

#include "sheet/finding-mark.h"

#define BLOCK_WIDTH 186.0 /* of the title block [pt] */
#define BLOCK_GAP 18.0    /* between picture and title block [pt] */
#define FIELD_LINES 3     /* of a field of the title block; the whole stands among the design's basis */

static void
draw_picture (const NappeSheet *sheet, NappePictureKind kind, NappeShownState shown, double x, double y, double width,
              double height)
{
  NappePictureOptions options = {
    .kind = kind,
    .palette = NAPPE_PALETTE_PRINT,
    .shown = shown,
    .units = sheet->options->units,
    .width = width / NAPPE_SHEET_POINTS_PER_PIXEL,
    .height = height / NAPPE_SHEET_POINTS_PER_PIXEL,
    .text_scale = 1.0,
    .title = TRUE,
  };
  cairo_t *cr = nappe_pages_cairo (sheet->pages);
  g_autoptr (NappePicture) picture = NULL;

  if (nappe_pages_is_counting (sheet->pages))
    return;
  picture = nappe_picture_new (&options, sheet->build, sheet->layout, sheet->study, sheet->verdict);
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, NAPPE_SHEET_POINTS_PER_PIXEL, NAPPE_SHEET_POINTS_PER_PIXEL);
  nappe_picture_draw (picture, cr);
  cairo_restore (cr);
}

static const char *
verdict_sentence (const NappeVerdict *verdict)
{
  if (verdict->n_danger > 0)
    return _("Not safe as drawn");
  if (verdict->n_problem > 0)
    return _("Will not work as drawn");
  if (verdict->n_advice > 0)
    return _("Works; could be better");
  return _("Every check is fine");
}

static char *
verdict_counts (const NappeVerdict *verdict)
{
  guint checked = 0;

  for (guint i = 0; i < verdict->fine->len; i++)
    checked += nappe_finding_get_checked (g_ptr_array_index (verdict->fine, i)) ? 1 : 0;
  g_autofree char *counts = nappe_verdict_counts_text (verdict);
  g_autofree char *fine = g_strdup_printf (
      g_dngettext (GETTEXT_PACKAGE, "%u check fine", "%u checks fine", checked), checked);

  if (*counts == '\0')
    return g_steal_pointer (&fine);
  /* Translators: counts of findings, then of checks: “2 dangers, 1 problem; 14 checks fine”. */
  return g_strdup_printf (_("%s; %s"), counts, fine);
}

/* The findings' numbers and titles as far as they fit above `bottom`. */
static void
draw_finding_titles (const NappeSheet *sheet, double x, double y, double bottom)
{
  NappePages *pages = sheet->pages;
  const GPtrArray *findings = sheet->verdict->findings;

  for (guint i = 0; i < findings->len; i++)
    {
      NappeFinding *finding = g_ptr_array_index (findings, i);
      double height = 2.0 * nappe_lettering_line_height (NAPPE_LETTERING_FINE) + 4.0;
      double below;
      if (y + height + nappe_lettering_line_height (NAPPE_LETTERING_SOFT) > bottom)
        {
          guint left = findings->len - i;
          g_autofree char *more = g_strdup_printf (
              g_dngettext (GETTEXT_PACKAGE, "and %u more under Findings", "and %u more under Findings", left), left);
          nappe_pages_draw_text (pages, NAPPE_LETTERING_SOFT, x, y, BLOCK_WIDTH, 0, more);
          return;
        }
      nappe_sheet_draw_mark (pages, x + 7.0, y + 6.0, finding);
      below = nappe_pages_draw_text (pages, NAPPE_LETTERING_FINE, x + 22.0, y, BLOCK_WIDTH - 22.0, 2,
                               nappe_finding_get_title (finding));
      y = MAX (below, y + 14.0) + 4.0;
    }
}

typedef struct
{
  const char *label;
  const char *value;
} BlockField;

/* Fields of the title block from the bottom edge upwards. Returns the y of its upper edge. */
static double
draw_block_fields (const NappeSheet *sheet, double x, double bottom)
{
  NappePages *pages = sheet->pages;
  NappeBuild *build = sheet->build;
  const BlockField fields[] = {
    { _("customer"), build->customer },
    { _("shop"), build->shop },
    { _("author"), build->author },
    { _("date"), sheet->date },
    { _("revision"), build->revision },
    { _("file"), sheet->options->file_name != NULL ? sheet->options->file_name : "" },
    { _("SHA-256"), sheet->options->file_hash != NULL ? sheet->options->file_hash : "" },
  };
  double label_width = 56.0, y = bottom;

  for (int i = G_N_ELEMENTS (fields) - 1; i >= 0; i--)
    {
      const char *value = *fields[i].value != '\0' ? fields[i].value : "—";
      PangoLayout *layout = nappe_letters_layout (nappe_pages_letters (pages), NAPPE_LETTERING_FINE,
                                                  BLOCK_WIDTH - label_width, FIELD_LINES, value);
      int lines = MAX (pango_layout_get_line_count (layout), 1);
      y -= lines * nappe_lettering_line_height (NAPPE_LETTERING_FINE) + 5.0;
      nappe_pages_rule (pages, x, y, x + BLOCK_WIDTH, y, 0.5, NAPPE_ROLE_HAIR);
      nappe_pages_draw_text (pages, NAPPE_LETTERING_SOFT, x, y + 2.5, label_width, 0, fields[i].label);
      nappe_pages_draw_text (pages, NAPPE_LETTERING_FINE, x + label_width, y + 2.5, BLOCK_WIDTH - label_width,
                             FIELD_LINES, value);
    }
  nappe_pages_rule (pages, x, y, x + BLOCK_WIDTH, y, 1.0, NAPPE_ROLE_INK);
  return y;
}

static void
draw_title_block (const NappeSheet *sheet, double x)
{
  NappePages *pages = sheet->pages;
  NappeBuild *build = sheet->build;
  g_autofree char *counts = verdict_counts (sheet->verdict);
  double y = nappe_pages_top (pages), fields_top;

  nappe_pages_rule (pages, x - 0.5 * BLOCK_GAP, y, x - 0.5 * BLOCK_GAP, nappe_pages_bottom (pages), 0.5,
                    NAPPE_ROLE_HAIR);
  y = nappe_pages_draw_text (pages, NAPPE_LETTERING_SOFT, x, y, BLOCK_WIDTH, 0, _("Specification sheet"));
  y = nappe_pages_draw_text (pages, NAPPE_LETTERING_TITLE, x, y, BLOCK_WIDTH, 4,
                       *build->title != '\0' ? build->title : _("Untitled build"));
  if (*build->summary != '\0')
    y = nappe_pages_draw_text (pages, NAPPE_LETTERING_SOFT, x, y + 4.0, BLOCK_WIDTH, 8, build->summary);
  y += 12.0;
  nappe_pages_rule (pages, x, y, x + BLOCK_WIDTH, y, 1.0, NAPPE_ROLE_INK);
  y = nappe_pages_draw_text (pages, NAPPE_LETTERING_HEADING, x, y + 4.0, BLOCK_WIDTH, 0,
                             verdict_sentence (sheet->verdict));
  y = nappe_pages_draw_text (pages, NAPPE_LETTERING_SOFT, x, y, BLOCK_WIDTH, 0, counts) + 6.0;
  fields_top = draw_block_fields (sheet, x, nappe_pages_bottom (pages));
  draw_finding_titles (sheet, x, y, fields_top - 8.0);
}

void
nappe_sheet_front (const NappeSheet *sheet)
{
  NappePages *pages = sheet->pages;
  double left, right;

  nappe_pages_begin (pages);
  left = nappe_pages_left (pages);
  right = nappe_pages_right (pages) - BLOCK_WIDTH - BLOCK_GAP;
  nappe_pages_bookmark (pages, _("Side elevation"));
  draw_picture (sheet, NAPPE_PICTURE_ELEVATION, NAPPE_SHOW_RUNNING, left, nappe_pages_top (pages), right - left,
                nappe_pages_bottom (pages) - nappe_pages_top (pages));
  draw_title_block (sheet, right + BLOCK_GAP);
  nappe_pages_set_y (pages, nappe_pages_bottom (pages));
}

/* A page that holds one picture. */
static void
draw_page (const NappeSheet *sheet, NappePictureKind kind, const char *bookmark)
{
  NappePages *pages = sheet->pages;

  nappe_pages_begin (pages);
  nappe_pages_bookmark (pages, bookmark);
  draw_picture (sheet, kind, NAPPE_SHOW_RUNNING, nappe_pages_left (pages), nappe_pages_top (pages),
                nappe_pages_right (pages) - nappe_pages_left (pages),
                nappe_pages_bottom (pages) - nappe_pages_top (pages));
}

void
nappe_sheet_drawings (const NappeSheet *sheet)
{
  draw_page (sheet, NAPPE_PICTURE_FLOW, _("Flow diagram"));
  draw_page (sheet, NAPPE_PICTURE_PLAN, _("Sump from above"));
  draw_page (sheet, NAPPE_PICTURE_PANELS, _("Drilled panes"));
  nappe_pages_begin (sheet->pages);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The charts that a shop looks at first: each pump against its system, and the water of a power cut. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>

#include "picture/charts/chart.h"

/* Two side by side [pt]. */
#define CHART_HEIGHT 268.0
#define GAP 18.0

static void
draw_chart (const NappeSheet *sheet, const NappeChartChoice *choice, double x, double y, double width)
{
  const NappeChartOptions options = {
    .kind = choice->kind,
    .part = choice->part,
    .palette = NAPPE_PALETTE_PRINT,
    .units = sheet->options->units,
    .width = width / NAPPE_SHEET_POINTS_PER_PIXEL,
    .height = CHART_HEIGHT / NAPPE_SHEET_POINTS_PER_PIXEL,
    .text_scale = 1.0,
    .title = TRUE,
  };
  cairo_t *cr = nappe_pages_cairo (sheet->pages);

  if (nappe_pages_is_counting (sheet->pages))
    return;
  g_autoptr (NappePicture) picture = nappe_chart_new (&options, sheet->build, sheet->study);
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, NAPPE_SHEET_POINTS_PER_PIXEL, NAPPE_SHEET_POINTS_PER_PIXEL);
  nappe_picture_draw (picture, cr);
  cairo_restore (cr);
}

void
nappe_sheet_charts (const NappeSheet *sheet)
{
  NappePages *pages = sheet->pages;
  double left = nappe_pages_left (pages), width = (nappe_pages_right (pages) - left - GAP) / 2;
  g_autoptr (GPtrArray) choices = nappe_chart_choices (sheet->build, sheet->study);
  guint drawn = 0;

  nappe_pages_heading (pages, _("Charts"), CHART_HEIGHT);
  for (guint i = 0; i < choices->len; i++)
    {
      const NappeChartChoice *choice = g_ptr_array_index (choices, i);

      if (choice->kind != NAPPE_CHART_PUMP && choice->kind != NAPPE_CHART_RUN_DOWN)
        continue;
      if (drawn % 2 == 0)
        nappe_pages_need (pages, CHART_HEIGHT);
      draw_chart (sheet, choice, left + (drawn % 2) * (width + GAP), nappe_pages_y (pages), width);
      if (drawn++ % 2 == 1)
        nappe_pages_skip (pages, CHART_HEIGHT);
    }
  if (drawn % 2 == 1)
    nappe_pages_skip (pages, CHART_HEIGHT);
}

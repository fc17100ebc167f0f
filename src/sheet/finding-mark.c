/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheet/finding-mark.h"

#include "picture/marks.h"

#define MARK_SCALE 0.6 /* points for a pixel of the pictures' mark: as high as a line and a half */

void
nappe_sheet_draw_mark (NappePages *pages, double x, double y, NappeFinding *finding)
{
  cairo_t *cr = nappe_pages_cairo (pages);
  double size = NAPPE_MARK_FINDING_SIZE + 8.0;
  g_autoptr (NappeScene) scene = NULL;

  if (nappe_pages_is_counting (pages))
    return;
  scene = nappe_scene_new (NAPPE_PALETTE_PRINT, size, size, 1.0);
  nappe_mark_finding (scene, 0.5 * size, 0.5 * size, nappe_finding_get_severity (finding),
                      nappe_finding_get_number (finding));
  cairo_save (cr);
  cairo_translate (cr, x - 0.5 * size * MARK_SCALE, y - 0.5 * size * MARK_SCALE);
  cairo_scale (cr, MARK_SCALE, MARK_SCALE);
  nappe_scene_draw (scene, cr);
  cairo_restore (cr);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/screen.h"

#include <adwaita.h>

/* Of letters at their usual size [1024ths of a dot an inch], as the toolkit counts. */
#define USUAL_RESOLUTION (96 * 1024)
/* Beyond this a picture holds nothing but letters. */
#define LARGEST 3.0

NappePaletteKind
nappe_screen_palette (void)
{
  AdwStyleManager *style = adw_style_manager_get_default ();

  if (adw_style_manager_get_high_contrast (style))
    return adw_style_manager_get_dark (style) ? NAPPE_PALETTE_DARK_CONTRAST : NAPPE_PALETTE_LIGHT_CONTRAST;
  return adw_style_manager_get_dark (style) ? NAPPE_PALETTE_DARK : NAPPE_PALETTE_LIGHT;
}

double
nappe_screen_text_scale (void)
{
  int resolution;

  g_object_get (gtk_settings_get_default (), "gtk-xft-dpi", &resolution, NULL);
  return resolution > 0 ? CLAMP ((double) resolution / USUAL_RESOLUTION, 1.0, LARGEST) : 1.0;
}

void
nappe_screen_watch (GObject *object, GCallback changed)
{
  AdwStyleManager *style = adw_style_manager_get_default ();

  g_signal_connect_object (style, "notify::dark", changed, object, G_CONNECT_SWAPPED);
  g_signal_connect_object (style, "notify::high-contrast", changed, object, G_CONNECT_SWAPPED);
  g_signal_connect_object (gtk_settings_get_default (), "notify::gtk-xft-dpi", changed, object, G_CONNECT_SWAPPED);
}

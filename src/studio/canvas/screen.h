/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the person has set for all programs and the pictures follow: dark or light, contrast, size of letters. */
#pragma once

#include <gtk/gtk.h>

#include "picture/picture.h"

G_BEGIN_DECLS

NappePaletteKind nappe_screen_palette (void);

/* How much larger than usual letters are to be; 1: as usual. */
double nappe_screen_text_scale (void);

/* Calls a function with the object, and nothing else, whenever one of them changes, for as long as the object lives. */
void nappe_screen_watch (GObject *object, GCallback changed);

G_END_DECLS

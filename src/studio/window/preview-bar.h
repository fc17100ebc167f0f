/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tells that the pictures show a cure and not the build, and what would become different, in numbers. */
#pragma once

#include <gtk/gtk.h>

#include "studio/document/outcome.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_PREVIEW_BAR (nappe_preview_bar_get_type ())
G_DECLARE_FINAL_TYPE (NappePreviewBar, nappe_preview_bar, NAPPE, PREVIEW_BAR, GtkWidget)

/* cured: of nappe_outcome_with_cure, from `before`. */
void nappe_preview_bar_show (NappePreviewBar *self, const NappeOutcome *before, const NappeOutcome *cured);
/* Moves the keyboard's focus to the way back. */
void nappe_preview_bar_focus (NappePreviewBar *self);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The limits that rules hold the document's build against, and what each rule weighs: the usual, and the planner's own. */
#pragma once

#include <adwaita.h>

#include "studio/application/preferences.h"
#include "studio/document/document.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_LIMITS_WINDOW (nappe_limits_window_get_type ())
G_DECLARE_FINAL_TYPE (NappeLimitsWindow, nappe_limits_window, NAPPE, LIMITS_WINDOW, AdwWindow)

/* The document must have a build. rule: whose weight is looked for first; NULL: the limits are. */
GtkWindow *nappe_limits_window_new (GtkWindow *parent, NappeDocument *document, NappePreferences *preferences, const char *rule);

G_END_DECLS

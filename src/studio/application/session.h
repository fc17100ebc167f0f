/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The builds that were open when the program was last used, and the picture each was looked at in. */
#pragma once

#include "studio/application/preferences.h"
#include "studio/window/window.h"

G_BEGIN_DECLS

/* Writes down what is open. leaving: nullable; a window that is about to close, and is left out unless it is the last. */
void nappe_session_remember (GtkApplication *application, NappePreferences *preferences, NappeWindow *leaving);

/* Opens in windows of their own what was open last. FALSE: nothing was, or the person does not want it. */
gboolean nappe_session_restore (GtkApplication *application, NappePreferences *preferences);

G_END_DECLS

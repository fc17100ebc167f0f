/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Offers what an earlier run of the program left unsaved: to restore it, to throw it away, or to be asked again. */
#pragma once

#include "studio/application/preferences.h"
#include "studio/window/window.h"

G_BEGIN_DECLS

/* Looks on a worker for what was left, and asks over the active window when there is something. Each build that is
 * restored gets a window, unless its file is open without changes; the file itself stays as it is until it is saved. */
void nappe_recovery_offer (GtkApplication *application, NappePreferences *preferences);

G_END_DECLS

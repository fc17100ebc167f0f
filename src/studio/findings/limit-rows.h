/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The limits of a build that a person may set otherwise, as rows of a list: each says what is usual, why, and its source. */
#pragma once

#include <gtk/gtk.h>

#include "build/build.h"

G_BEGIN_DECLS

/* Gives a list a row for each limit that can be set: by and by, as gradual-rows.h tells. */
void nappe_limit_rows_fill (GtkListBox *list, NappeBuild *build, NappeUnitSystem units);
/* Shows what the build has now. */
void nappe_limit_rows_refresh (GtkListBox *list);

G_END_DECLS

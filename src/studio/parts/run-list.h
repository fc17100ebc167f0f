/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pieces of a line in the direction of the flow: each opens to its item, length and direction; they can be moved, taken
 * out, and added behind. */
#pragma once

#include <gtk/gtk.h>

#include "studio/document/document.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_RUN_LIST (nappe_run_list_get_type ())
G_DECLARE_FINAL_TYPE (NappeRunList, nappe_run_list, NAPPE, RUN_LIST, GtkWidget)

GtkWidget *nappe_run_list_new (NappeDocument *document);

/* Shows the run of a drain, return line or outlet; of another part, or of NULL, nothing: then it is hidden. */
void nappe_run_list_set_part (NappeRunList *self, NappePart *part, NappeUnitSystem units);
/* The build, or what is computed of it, changed. */
void nappe_run_list_refresh (NappeRunList *self);

/* "9 pieces, 1.23 m of pipe, 0.35 m of head lost", as it is shown. */
const char *nappe_run_list_get_summary (NappeRunList *self);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cures of one finding: a button that looks for them, how it goes, and what was found. */
#pragma once

#include <gtk/gtk.h>

#include "studio/findings/cure-finder.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_CURE_LIST (nappe_cure_list_get_type ())
G_DECLARE_FINAL_TYPE (NappeCureList, nappe_cure_list, NAPPE, CURE_LIST, GtkWidget)

GtkWidget *nappe_cure_list_new (NappeCureFinder *finder, NappeFinding *finding);
/* The same finding as another study has it. */
void nappe_cure_list_set_finding (NappeCureList *self, NappeFinding *finding);

G_END_DECLS

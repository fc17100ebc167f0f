/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Holds the moving picture and the curves: side by side where it is wide, one over the other where it is not. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define NAPPE_TYPE_TIME_STAGE (nappe_time_stage_get_type ())
G_DECLARE_FINAL_TYPE (NappeTimeStage, nappe_time_stage, NAPPE, TIME_STAGE, GtkWidget)

/* Puts in both; each once. */
void nappe_time_stage_set_children (NappeTimeStage *self, GtkWidget *picture, GtkWidget *curves);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Papers and pictures written on a worker, so that the window stays alive. The application is held
 * until the file is whole, even when its last window closes meanwhile. */
#pragma once

#include "picture/charts/chart.h"
#include "sheet/sheet.h"
#include "studio/document/outcome.h"

G_BEGIN_DECLS

/* file_name: of the build, for the title block. */
void nappe_export_sheet_async (NappeOutcome *outcome, const char *file_name, NappePaper paper, GFile *target,
                               GAsyncReadyCallback callback, gpointer user_data);

/* The format follows from the ending of the target's name: .svg, .png or .pdf. */
void nappe_export_picture_async (NappeOutcome *outcome, NappePictureKind kind, NappeShownState shown, GFile *target,
                                 GAsyncReadyCallback callback, gpointer user_data);

/* A chart, as of a NappeChartChoice. */
void nappe_export_chart_async (NappeOutcome *outcome, NappeChartKind kind, const char *part, GFile *target,
                               GAsyncReadyCallback callback, gpointer user_data);

/* A picture at a moment of a simulation of the outcome's build [s]. */
void nappe_export_moment_async (NappeOutcome *outcome, NappePictureKind kind, NappeSimulation *course, double time, GFile *target,
                                GAsyncReadyCallback callback, gpointer user_data);
/* The curves: as a table for .csv, else as a picture. */
void nappe_export_curves_async (NappeOutcome *outcome, NappeSimulation *course, GFile *target,
                                GAsyncReadyCallback callback, gpointer user_data);

/* Finishes any of them. The name of the file that was written, for people (transfer full), or NULL. */
char *nappe_export_finish (GAsyncResult *result, GError **error);

G_END_DECLS

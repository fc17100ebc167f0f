/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows one picture of a build, fitted to its own size; zooms, pans, picks.
 *
 * Click picks a part; drag or scroll moves the view, Ctrl+scroll and pinch zoom. Every part of the
 * picture is also a child widget that takes the keyboard focus and carries the part's name and a
 * sentence about it. The picture is drawn once into pixels and kept until something changes;
 * only what moves with the water of a moment is drawn over it in every frame.
 *
 * Property `kind` (int, NappePictureKind, write only). Signal `picked` (const char *part): NULL
 * when the person picked nothing. */
#pragma once

#include <gtk/gtk.h>

#include "picture/charts/chart.h"
#include "picture/motion.h"
#include "studio/document/document.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_CANVAS (nappe_canvas_get_type ())
G_DECLARE_FINAL_TYPE (NappeCanvas, nappe_canvas, NAPPE, CANVAS, GtkWidget)

/* Lets the picture's handles change the document's build; once. */
void nappe_canvas_set_document (NappeCanvas *self, NappeDocument *document);
/* NULL empties it. */
void nappe_canvas_set_outcome (NappeCanvas *self, NappeOutcome *outcome);
void nappe_canvas_set_shown (NappeCanvas *self, NappeShownState shown);
/* Shows a moment of a simulation of the outcome's build [s]. NULL: the running state again. */
void nappe_canvas_set_moment (NappeCanvas *self, NappeSimulation *course, double time);
/* So much time has gone by for the person [s]: the water of a moment that is shown moves on, and with it its arrows. Where a
 * person wants no animations the arrows stand. */
void nappe_canvas_advance (NappeCanvas *self, double seconds);
/* Shows a chart of the outcome instead of a picture of kind `kind`. part: id, as of a NappeChartChoice. */
void nappe_canvas_set_chart (NappeCanvas *self, NappeChartKind chart, const char *part);
/* Marks a part; NULL: none. Moves the view so that it can be seen. */
void nappe_canvas_select (NappeCanvas *self, const char *part);
/* Gives the picked part the focus of the keyboard, else the first part. */
void nappe_canvas_focus (NappeCanvas *self);

void nappe_canvas_set_kind (NappeCanvas *self, NappePictureKind kind);
NappePictureKind nappe_canvas_get_kind (NappeCanvas *self);
NappeShownState nappe_canvas_get_shown (NappeCanvas *self);
/* The picture shown; NULL until it was first drawn. Owned by the canvas. */
NappePicture *nappe_canvas_get_picture (NappeCanvas *self);

double nappe_canvas_get_zoom (NappeCanvas *self); /* 1: fits */
/* Zooms about the middle of the canvas. */
void nappe_canvas_set_zoom (NappeCanvas *self, double zoom);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Signs of the drawing that stand on the scene: level marks, dimensions, arrows, findings. Each blocks
 * its place for labels and returns it. */
#pragma once

#include "picture/scene.h"

G_BEGIN_DECLS

/* Free surface: an open triangle over two short strokes, its tip at x, y; the text beside it.
 * to_left: text on the left of the triangle. text may be NULL. role: SURFACE or OTHER_STATE. */
NappeBox nappe_mark_surface (NappeScene *scene, double x, double y, const char *text, gboolean to_left, NappeRole role);
/* The place that the same call would take. */
NappeBox nappe_mark_surface_box (NappeScene *scene, double x, double y, const char *text, gboolean to_left);

/* Dimension line between two points of equal x or equal y with oblique strokes at its ends; the text
 * breaks the line when it is long enough, else it stands past the far end if that is free. */
NappeBox nappe_mark_dimension (NappeScene *scene, double x1, double y1, double x2, double y2, const char *text);
/* The same over water or glass, where its text stands on a plate of paper to be read. */
NappeBox nappe_mark_dimension_over (NappeScene *scene, double x1, double y1, double x2, double y2, const char *text);

/* Whether the text is short enough to break the line. */
gboolean nappe_mark_dimension_fits (NappeScene *scene, double x1, double y1, double x2, double y2, const char *text);
/* The same line without a text. */
void nappe_mark_dimension_bare (NappeScene *scene, double x1, double y1, double x2, double y2);

/* Filled arrow head: tip at x, y, pointing along dx, dy (need not be a unit). size: its length [px]. */
void nappe_mark_arrow (NappeScene *scene, NappeLayer layer, double x, double y, double dx, double dy, double size,
                       NappeRole role);

/* Finding: triangle (danger), diamond (problem) or disc (advice) around x, y with its number. It grows with its number. */
#define NAPPE_MARK_FINDING_SIZE 22.0 /* where texts are no larger than usual [px] */
double nappe_mark_finding_size (NappeScene *scene); /* [px] */
NappeBox nappe_mark_finding (NappeScene *scene, double x, double y, NappeSeverity severity, guint number);

/* Valve after ISO 10628-2: two triangles tip to tip around x, y along the unit vector dx, dy, half
 * length `size` [px]; kind "gate", "ball", "globe", "diaphragm", "check" or NULL for any.
 * share: of its opening; a closed one is filled. */
void nappe_mark_valve (NappeScene *scene, double x, double y, double dx, double dy, double size, const char *kind, double share);

/* Pump after ISO 10628-2: circle with a triangle toward the outlet along dx, dy. */
void nappe_mark_pump (NappeScene *scene, double x, double y, double radius, double dx, double dy);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long the frames of a window take: work on the main thread from the start of a frame to its end, and the time from frame to
 * frame. A display that shows 60 frames a second leaves 16.7 ms; one is missed when a frame takes half as long again. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FRAME_WATCH_FRAMES 300

typedef struct
{
  double work[FRAME_WATCH_FRAMES], gap[FRAME_WATCH_FRAMES]; /* [ms] */
  double work_start, frame_start;                           /* [ms] */
  guint n;
  GdkFrameClock *clock;
} FrameWatch;

void frame_watch_begin (FrameWatch *self, GtkWidget *window);
/* Prints both. */
void frame_watch_end (FrameWatch *self);

G_END_DECLS

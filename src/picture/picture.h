/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of a build: side elevation, flow diagram, plan and drilled panes, as scenes that any cairo surface shows.
 *
 * A scene is made once from build, layout, study and findings, holds plain shapes and texts in its
 * own units and owns all it needs, so that it can be drawn on any thread after it was made. The
 * picture does not think: every level and flow was handed to it. */
#pragma once

#include <cairo.h>

#include "rules/rules.h"
#include "study/simulation.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_PALETTE_LIGHT,
  NAPPE_PALETTE_DARK,
  NAPPE_PALETTE_PRINT,
  NAPPE_PALETTE_LIGHT_CONTRAST, /* for people who need strong lines and letters */
  NAPPE_PALETTE_DARK_CONTRAST,
  NAPPE_PALETTE_N               /* number of palettes, not a palette */
} NappePaletteKind;
typedef enum
{
  NAPPE_PICTURE_ELEVATION, /* the whole build from the front, to scale */
  NAPPE_PICTURE_FLOW,      /* vessels and lines as a diagram */
  NAPPE_PICTURE_PLAN,      /* the sump from above, to scale */
  NAPPE_PICTURE_PANELS,    /* the panes that are drilled, from outside, to scale */
} NappePictureKind;
typedef enum
{
  NAPPE_SHOW_RUNNING,
  NAPPE_SHOW_POWER_CUT,
  NAPPE_SHOW_MOMENT, /* of a time simulation */
} NappeShownState;

typedef struct
{
  NappePictureKind kind;
  NappePaletteKind palette;
  NappeShownState shown;    /* levels drawn as water; the other state as dashed lines */
  NappeUnitSystem units;
  /* Of NAPPE_SHOW_MOMENT: the simulation of the study's network, read only while the picture is made, and the time [s].
     The other state is then the running one, and findings are left out. NULL: drawn dry. */
  const NappeSimulation *course;
  double moment;
  double width, height;     /* of the paper or canvas [px at 96 dpi; on paper 1 px = 0.75 pt] */
  double text_scale;        /* 1 normal */
  const char *selected;     /* id of the picked part, or NULL */
  /* A picture of the moment before, read only while this one is made: labels stay where they are in it, while they can.
     NULL: none. */
  const struct _NappePicture *earlier;
  gboolean hold;            /* the model keeps the scale and place that it has in `earlier`, so that what a person drags stays
                               under the pointer; of pictures to scale */
  gboolean motion;          /* the arrows of moving water are left to nappe_motion_draw */
  gboolean title;           /* draw the plate's title and subtitle */
} NappePictureOptions;

typedef struct _NappePicture NappePicture;

/* Transfer full; never NULL. A build that cannot be computed is drawn dry, with a line that says so. */
NappePicture *nappe_picture_new (const NappePictureOptions *options, NappeBuild *build, const NappeLayout *layout,
                                 const NappeStudy *study, const NappeVerdict *verdict);
void nappe_picture_free (NappePicture *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappePicture, nappe_picture_free)

/* Draws into 0,0 .. width,height of the options. */
void nappe_picture_draw (NappePicture *self, cairo_t *cr);

/* The part under a point, smallest on top first; NULL: none. Owned by the picture. */
const char *nappe_picture_pick (NappePicture *self, double x, double y);

/* Parts in reading order with their rectangles and a sentence each: for keyboard, assistive
 * technology and the text twin. */
typedef struct
{
  const char *part; /* id */
  const char *label, *description; /* translated: "Main siphon", "3 320 L/h, full bore ..." */
  double x, y, width, height;
} NappePictureItem;
const NappePictureItem *nappe_picture_items (NappePicture *self, guint *n);

/* Rectangles of all label texts, for the test that nothing collides. */
typedef struct
{
  double x, y, width, height;
  const char *text;
} NappePictureLabel;
const NappePictureLabel *nappe_picture_labels (NappePicture *self, guint *n);

#define NAPPE_PICTURE_ERROR (nappe_picture_error_quark ())
GQuark nappe_picture_error_quark (void);
typedef enum
{
  NAPPE_PICTURE_ERROR_FORMAT, /* the path has none of the three endings */
  NAPPE_PICTURE_ERROR_SIZE,   /* no picture can have so many pixels */
  NAPPE_PICTURE_ERROR_DRAW,   /* cairo failed, for instance for want of memory */
} NappePictureError;

/* Writes a picture of the options' size: ".svg", ".png" (scale pixels a unit) or ".pdf" by the path's
 * ending. The file is replaced at once when all of it is written, else left as it was. Errors:
 * NAPPE_PICTURE_ERROR, G_FILE_ERROR. */
gboolean nappe_picture_export (NappePicture *self, const char *path, double scale, GError **error);

G_END_DECLS

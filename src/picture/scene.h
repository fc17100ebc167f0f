/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawing kernel: a scene is a list of shapes and texts with roles for colours, the regions by
 * which parts are picked, what is said about each part, and what labels must keep clear of.
 *
 * Coordinates are pixels at 96 dpi, x to the right, y down, from the top left of the paper. Shapes
 * are painted layer by layer, in the order they were added. After it was composed a scene is only
 * read, so that it can be drawn on any thread. */
#pragma once

#include "picture/palette.h"
#include "picture/text.h"

G_BEGIN_DECLS

typedef struct
{
  double x, y, width, height; /* top left corner and size [px] */
} NappeBox;

gboolean nappe_box_overlaps (const NappeBox *a, const NappeBox *b); /* touching edges do not */
gboolean nappe_box_contains (const NappeBox *box, double x, double y);
gboolean nappe_box_within (const NappeBox *inner, const NappeBox *outer);
NappeBox nappe_box_grown (NappeBox box, double by);  /* by px on every side */
NappeBox nappe_box_union (const NappeBox *a, const NappeBox *b);
NappeBox nappe_box_between (double x1, double y1, double x2, double y2); /* corners in any order */
/* Whether a straight line from 1 to 2 passes through the box. */
gboolean nappe_box_meets_line (const NappeBox *box, double x1, double y1, double x2, double y2);

typedef enum
{
  NAPPE_LAYER_GROUND, /* floor, stand, hatching */
  NAPPE_LAYER_WATER,  /* bodies of water and what lies in them */
  NAPPE_LAYER_VESSEL, /* walls, baffles, equipment */
  NAPPE_LAYER_HALO,   /* of the picked part */
  NAPPE_LAYER_PIPE,
  NAPPE_LAYER_LEVEL,  /* free surfaces and dashed levels */
  NAPPE_LAYER_NOTE,   /* dimensions, labels, leaders */
  NAPPE_LAYER_MARK,   /* findings */
  NAPPE_LAYER_N
} NappeLayer;

/* Line weights [px], 0.18, 0.35 and 0.7 mm on paper after ISO 128; any other number may be given too. */
#define NAPPE_LINE_HAIR (-1.0)
#define NAPPE_LINE_OUTLINE (-2.0)
#define NAPPE_LINE_CUT (-3.0)

typedef struct
{
  NappeRole fill;      /* NONE: hollow */
  NappeRole fill_deep; /* colour at the shape's lower edge, `fill` being that of its upper; NONE: one colour */
  NappeRole stroke;    /* NONE: no outline */
  double weight;       /* a NAPPE_LINE_ value or a width [px]; 0 is an outline's */
  gboolean dashed;
  gboolean round;      /* corners of the outline are round, as at the bends of a pipe */
  double opacity;      /* of the whole shape, 0 counts as 1 */
} NappeStyle;

typedef struct _NappeScene NappeScene;

NappeScene *nappe_scene_new (NappePaletteKind palette, double width, double height, double text_scale);
void nappe_scene_free (NappeScene *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeScene, nappe_scene_free)
double nappe_scene_width (const NappeScene *self);
double nappe_scene_height (const NappeScene *self);
NappeTextShaper *nappe_scene_shaper (NappeScene *self);
/* Width of a line weight on this palette's medium [px]. */
double nappe_scene_line_width (const NappeScene *self, double weight);

/* A path is built, then painted; painting begins a new one. Not finite numbers drop the shape. */
void nappe_scene_move (NappeScene *self, double x, double y);
void nappe_scene_line (NappeScene *self, double x, double y);
void nappe_scene_curve (NappeScene *self, double x1, double y1, double x2, double y2, double x, double y);
void nappe_scene_arc (NappeScene *self, double x, double y, double radius, double from,
                      double to); /* [rad], clockwise on screen */
void nappe_scene_close (NappeScene *self);
void nappe_scene_paint (NappeScene *self, NappeLayer layer, const NappeStyle *style);

void nappe_scene_box (NappeScene *self, NappeLayer layer, NappeBox box, const NappeStyle *style);
void nappe_scene_stroke (NappeScene *self, NappeLayer layer, double x1, double y1, double x2, double y2, const NappeStyle *style);
void nappe_scene_circle (NappeScene *self, NappeLayer layer, double x, double y, double radius, const NappeStyle *style);
/* Shapes added from now on are cut off at the box; NULL: no more. */
void nappe_scene_clip (NappeScene *self, const NappeBox *box);

/* Where a text stands: x, y are its point; align_x 0 begins there, 0.5 is centred, 1 ends there;
 * align_y 0 hangs from it, 0.5 is centred, 1 stands on it. */
typedef struct
{
  double x, y, align_x, align_y;
  NappeTextSize size;
  NappeTextWeight weight;
  NappeRole role;
  gboolean upright;  /* reads from bottom to top, as at the side of a vertical dimension */
  gboolean plate;    /* on a plate of paper, where something lies beneath */
} NappeTextStyle;

/* The box that a text would take. */
NappeBox nappe_scene_measure (NappeScene *self, const char *text, const NappeTextStyle *style);
/* Adds a text, blocks its box and lists it among the labels. Returns the box. */
NappeBox nappe_scene_text (NappeScene *self, NappeLayer layer, const char *text, const NappeTextStyle *style);

/* Picking. Several regions may belong to one part; the smallest under the point wins, then the last. */
void nappe_scene_hit (NappeScene *self, const char *part, NappeBox box);
const char *nappe_scene_pick (const NappeScene *self, double x, double y);
/* Says what a part is, in reading order. A second call for a part only widens its rectangle. */
void nappe_scene_item (NappeScene *self, const char *part, const char *label, const char *description, NappeBox box);
/* Says one sentence more of it. FALSE: it is no item. */
gboolean nappe_scene_item_add (NappeScene *self, const char *part, const char *sentence);

/* What a label of a part would have said, had it found room. It is said of the part's item instead, unless that does so
 * already. */
void nappe_scene_lose (NappeScene *self, const char *part, const char *text);
void nappe_scene_say_lost (NappeScene *self);
typedef struct
{
  const char *part, *text;
} NappeLostText;
const NappeLostText *nappe_scene_lost (const NappeScene *self, guint *n);

/* What labels keep clear of. Texts, pipes, marks, dimensions never share a place with a label; soft
 * things (walls, baffles) are only avoided while there is room. */
typedef enum
{
  NAPPE_BLOCK_TEXT,
  NAPPE_BLOCK_PIPE,
  NAPPE_BLOCK_MARK,
  NAPPE_BLOCK_SIGN, /* of a finding: it may stand on a pipe or a line, for it is opaque */
  NAPPE_BLOCK_DIMENSION,
  NAPPE_BLOCK_LINE, /* a level's line: no text crosses it, but a mark may stand on it */
  NAPPE_BLOCK_SOFT
} NappeBlockKind;
typedef struct
{
  NappeBox box;
  NappeBlockKind kind;
} NappeBlock;
void nappe_scene_block (NappeScene *self, NappeBlockKind kind, NappeBox box);
const NappeBlock *nappe_scene_blocks (const NappeScene *self, guint *n);

/* Water on its way along a line, for the arrows of motion.h. */
typedef struct
{
  double x, y;      /* [px] */
  gboolean veiled;  /* from here on it is seen through something */
} NappeStreamPoint;
typedef struct
{
  double x, y, radius; /* a round place that no arrow covers [px] */
} NappeStreamClear;
typedef struct
{
  NappeRole role;
  double size;      /* of an arrow [px] */
  double speed;     /* from the first point to the last, negative: back; 0: still [px a second of the person's time] */
  GArray *points;   /* NappeStreamPoint */
  GArray *clear;    /* NappeStreamClear */
} NappeStream;
/* Adds a stream without points. Pictures of one build have the same streams in the same order, still ones too. Owned by
 * the scene. */
NappeStream *nappe_scene_stream (NappeScene *self, NappeRole role, double size, double speed);

const NappePictureItem *nappe_scene_items (const NappeScene *self, guint *n);
const NappePictureLabel *nappe_scene_labels (const NappeScene *self, guint *n);

/* Where the label of a part stands, and the point that its leader ends at. */
typedef struct
{
  NappeBox box;
  double x, y;
} NappeLabelPlace;
void nappe_scene_keep_label (NappeScene *self, const char *part, const NappeLabelPlace *place);
/* Takes over where the labels stand in another scene, so that those of the next moment stay there while they can. */
void nappe_scene_take_labels (NappeScene *self, const NappeScene *earlier);
const NappeLabelPlace *nappe_scene_earlier_label (const NappeScene *self, const char *part); /* NULL: none */

/* Scale and place of a model on the paper. */
typedef struct
{
  double scale, x, y; /* [px/m], of the model's origin [px] */
} NappeGround;
void nappe_scene_keep_ground (NappeScene *self, const NappeGround *ground);
void nappe_scene_hold_ground (NappeScene *self, const NappeScene *earlier);
/* That of the picture before, where it is held. FALSE: it is free. */
gboolean nappe_scene_held_ground (const NappeScene *self, NappeGround *ground);

/* Marks a picked part: a halo on its regions and brackets at its corners. FALSE: it is no item. */
gboolean nappe_scene_select (NappeScene *self, const char *part);

void nappe_scene_draw (const NappeScene *self, cairo_t *cr);
/* One line a shape or text, numbers rounded to half a pixel: for tests. Transfer full. */
char *nappe_scene_describe (const NappeScene *self);

G_END_DECLS

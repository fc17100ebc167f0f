/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the side elevation share.
 *
 * Model places are metres (x to the right from the stand's left edge, z up from the floor); they meet
 * pixels only in nappe_elevation_x and nappe_elevation_y. */
#pragma once

#include "picture/elevation/elevation.h"

/* A corner of a pipe's axis. */
typedef struct
{
  double x, y, z;       /* [m] */
  double bore, outside; /* of the pipe that leads here [m] */
  double bend;          /* radius of the axis where a hose turns here; 0: a corner [m] */
} NappePipePoint;

/* A fitting, valve, union or bulkhead on a pipe. */
typedef struct
{
  const NappeLeg *leg;
  guint point; /* of the route, where it stands */
} NappePipeFitting;

/* A trunk or a branch as drawn: its axis seen from the front. */
typedef struct
{
  const NappeLineLayout *line;
  const NappeOutletLayout *outlet; /* NULL: the trunk */
  const NappeRoute *route;
  gboolean drain;
  GArray *points;      /* NappePipePoint */
  GArray *fittings;    /* NappePipeFitting */
  guint lead;          /* points before this one repeat the trunk, so that corners join */
  NappeRole water;     /* MOVING full, TRICKLE partly full, NONE no flow */
  double flow;         /* [m3/s]; NaN: unknown */
  double depth;        /* mean y of the trunk, for the painter's order [m] */
  guint order;         /* among pipes of one depth */
} NappeDrawnPipe;

/* A pump or a piece of equipment as drawn. */
typedef struct
{
  NappePart *part; /* NappePump or NappeEquipment */
  NappeBox box;    /* [px] */
} NappeThing;

/* A valve as drawn. */
typedef struct
{
  const NappeLeg *leg;
  NappeBox box; /* [px] */
} NappeValveSpot;

typedef struct
{
  NappeScene *scene;
  const NappePictureOptions *options;
  NappeBuild *build;
  const NappeLayout *layout;
  const NappeStudy *study;     /* NULL: none */
  const NappeVerdict *verdict; /* NULL: none */
  NappeCatalogue *catalogue;   /* NULL: none */
  const NappeState *shown;     /* levels drawn as water; NULL: drawn dry */
  const NappeState *other;     /* levels drawn dashed; NULL: none */
  gboolean at_moment;          /* `shown` is `moment`, of the options' course */
  NappeState moment;
  gboolean small;              /* little paper: fewer and shorter notes */
  gboolean tiny;               /* hardly any paper: the drawing with its levels and marks alone */
  double scale;                /* [px/m] */
  double origin_x, origin_y;   /* of x = 0 and of the floor [px] */
  double left, right, top;     /* of what is drawn [m] */
  NappeBox view;               /* where the model may be drawn [px] */
  double key_top;              /* where the key to the findings begins [px] */
  double rule_x, dimension_x;  /* of height rule and of upright dimensions [px] */
  GArray *pins;                /* NappePin: several for one part are alternatives, best first */
  GPtrArray *pipes;            /* NappeDrawnPipe, from the back to the front */
  GArray *valves;              /* NappeValveSpot */
  GArray *things;              /* NappeThing: pumps and equipment */
  GPtrArray *unnumbered;       /* ids of vessels whose surface mark had no room for its height */
  GStringChunk *names;         /* ids that no part holds, as of inner boxes */
  double moved;                /* largest offset that keeps pipes apart [m] */
} NappeElevation;

/* The level, but not above a rim; a level that is not known stays so. */
static inline double
nappe_not_above (double level, double rim)
{
  return level > rim ? rim : level;
}

double nappe_elevation_x (const NappeElevation *self, double x);
double nappe_elevation_y (const NappeElevation *self, double z);
NappeBox nappe_elevation_box (const NappeElevation *self, double left, double right, double low, double high);
/* Level of a vessel in a state; NaN: unknown or no state. */
double nappe_elevation_level (const NappeElevation *self, const NappeState *state, const char *id);
/* A finding about the part may be pinned there [px]. part: id, owned by the build. */
void nappe_elevation_pin (NappeElevation *self, const char *part, double x, double y);
char *nappe_elevation_length_text (const NappeElevation *self, double metres); /* number without unit; transfer full */
/* The id of any part. */
const char *nappe_elevation_id (gconstpointer part);
/* The room of what has an id: tank, outer box of an overflow, chamber or side vessel. FALSE: none has it. */
gboolean nappe_elevation_room (const NappeElevation *self, const char *id, NappeFrame *room);
/* Whether a box stands behind what is cut and is drawn as hidden. */
gboolean nappe_elevation_box_is_hidden (const NappeElevation *self, const NappeBoxLayout *box);

/* Id of an overflow's inner box in the study. */
const char *nappe_elevation_inner_id (NappeElevation *self, const NappeBoxLayout *box);
/* Whether an inner box is seen from its side, cut open as the tank is; else its front is seen through the water. */
gboolean nappe_elevation_inner_is_cut (const NappeBoxLayout *box);
/* Whether a side vessel stands behind the tank. */
gboolean nappe_elevation_vessel_is_hidden (const NappeElevation *self, const NappeVesselLayout *vessel);

/* A stretch along x [m]. */
typedef struct
{
  double left, right;
} NappeSpan;
/* Where the display's own water is seen: its length without the boxes that are cut open. Transfer full. */
GArray *nappe_elevation_display_spans (const NappeElevation *self); /* NappeSpan, left to right */
NappeSpan nappe_elevation_longest_span (const NappeElevation *self);

/* elevation-vessels.c: floor, stand, tank, boxes, rock; elevation-sump.c: sump, chambers, baffles. */
void nappe_elevation_draw_ground (NappeElevation *self);
void nappe_elevation_draw_tank (NappeElevation *self);
void nappe_elevation_draw_boxes (NappeElevation *self);
void nappe_elevation_draw_sump (NappeElevation *self);
void nappe_elevation_draw_body (NappeElevation *self, double left, double right, double floor, double level);
void nappe_elevation_draw_water (NappeElevation *self, double left, double right, double floor, double level);
void nappe_elevation_draw_wall (NappeElevation *self, double left, double right, double low, double high,
                                const NappeStyle *style);
/* Water that falls free from a crest into a room: way 1 to the right, -1 to the left of its edge. */
void nappe_elevation_draw_sheet (NappeElevation *self, const NappeFrame *room, double crest, double edge, double way,
                                 double upstream, double downstream);
/* The wall between weir crest and the wall's top, seen from its side. */
void nappe_elevation_draw_teeth_edge (NappeElevation *self, const NappeBoxLayout *box, double left, double right);
/* Slots as a comb between crest and top, along a front from left to right. */
void nappe_elevation_draw_comb (NappeElevation *self, const NappeBoxLayout *box, double left, double right);

/* elevation-inner.c: inner boxes with their bulkheads or siphon tubes. */
void nappe_elevation_draw_inner (NappeElevation *self, const NappeBoxLayout *box);
/* elevation-side-vessels.c: vessels beside or behind the tank with their spouts. */
void nappe_elevation_draw_side_vessels (NappeElevation *self);
/* elevation-socks.c */
void nappe_elevation_draw_socks (NappeElevation *self);
/* One bag between its ring and its lower end. closed: share of its cloth; opacity of the cloth. */
void nappe_elevation_draw_bag (NappeElevation *self, const NappeBox *box, double closed, double opacity);
const NappeSockLayout *nappe_elevation_sock (const NappeElevation *self, const NappeEquipment *part); /* or NULL */

/* elevation-spill.c: water over a rim and on the floor. */
void nappe_elevation_draw_spill (NappeElevation *self);

/* elevation-moment.c: what a moment of a time simulation needs besides. */
/* Makes the moment the state that is shown, when the options ask for one. */
gboolean nappe_elevation_take_moment (NappeElevation *self);
void nappe_elevation_leave_moment (NappeElevation *self);
char *nappe_elevation_moment_subtitle (const NappeElevation *self, const char *unit); /* transfer full */
/* "full bore", "no flow": how a line runs at the moment. */
const char *nappe_elevation_moment_word (const NappeElevation *self, const NappeDrawnPipe *pipe);
void nappe_elevation_draw_leaks (NappeElevation *self);

/* elevation-routes.c: axes of the pipes, kept apart from each other. */
void nappe_elevation_lay_pipes (NappeElevation *self);
void nappe_drawn_pipe_free (gpointer pipe);
/* Whether the stretch from a point to the next passes behind the tank. */
gboolean nappe_elevation_is_behind (const NappeElevation *self, const NappeDrawnPipe *pipe, guint index);
/* elevation-joins.c: ends a pipe that joins another line at that line's wall; after all pipes were moved. */
void nappe_elevation_join_pipe (NappeElevation *self, NappeDrawnPipe *pipe);
/* A dashed line to the tee from a pipe that was not drawn up to it. */
void nappe_elevation_draw_join (NappeElevation *self, const NappeDrawnPipe *pipe);
/* elevation-bends.c: makes the bends of hoses round; after all pipes were moved to their places. */
void nappe_elevation_round_bends (NappeElevation *self, NappeDrawnPipe *pipe);
/* elevation-pipes.c, elevation-arrows.c, elevation-fittings.c */
void nappe_elevation_draw_pipes (NappeElevation *self);
double nappe_elevation_bore_px (const NappeElevation *self, const NappePipePoint *point); /* as wide as it is drawn [px] */
void nappe_elevation_draw_arrows (NappeElevation *self, const NappeDrawnPipe *pipe);
void nappe_elevation_draw_fittings (NappeElevation *self, const NappeDrawnPipe *pipe);

/* elevation-equipment.c: pumps and equipment. */
void nappe_elevation_keep_thing (NappeElevation *self, gpointer part, NappeBox box);
void nappe_elevation_draw_pumps (NappeElevation *self);
void nappe_elevation_draw_equipment (NappeElevation *self);
/* Length and height of equipment: its own, the catalogue's, or a usual one [m]. */
void nappe_elevation_equipment_size (const NappeElevation *self, const NappeEquipment *part, double *length, double *height);
void nappe_elevation_name_equipment (NappeElevation *self);

/* elevation-levels.c: surface marks of the shown state, dashed levels of the other. */
void nappe_elevation_draw_other_levels (NappeElevation *self); /* dashed, without their heights */
void nappe_elevation_draw_levels (NappeElevation *self);
void nappe_elevation_say_other_levels (NappeElevation *self);

/* elevation-frame.c: title, dimensions, height rule. */
void nappe_elevation_draw_title (NappeElevation *self);
void nappe_elevation_draw_dimensions (NappeElevation *self);
void nappe_elevation_draw_rule (NappeElevation *self);

/* elevation-labels.c: label boxes of the lines, chamber names, items. */
void nappe_elevation_draw_labels (NappeElevation *self);
void nappe_elevation_name_chambers (NappeElevation *self);
/* elevation-findings.c: marks where they belong, and the key to them. */
double nappe_elevation_key_height (NappeElevation *self); /* [px] */
void nappe_elevation_draw_findings (NappeElevation *self);
void nappe_elevation_draw_key (NappeElevation *self);
/* elevation-items.c: what is said about each part. */
void nappe_elevation_add_items (NappeElevation *self);
/* elevation-handles.c: where numbers of the parts can be taken hold of. */
void nappe_elevation_add_handles (NappeElevation *self);

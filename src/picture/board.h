/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the pictures seen from above and from outside share: paper, title, dimensions, handles. */
#pragma once

#include "picture/pins.h"

G_BEGIN_DECLS

typedef struct
{
  NappeScene *scene;
  const NappePictureOptions *options;
  NappeBuild *build;
  const NappeLayout *layout;
  const NappeStudy *study;   /* NULL: none */
  NappeCatalogue *catalogue; /* NULL: none */
  gboolean small;            /* little paper: fewer notes */
  gboolean tiny;             /* hardly any paper: the drawing alone */
  NappeBox room;             /* between title and remark [px] */
  const NappeVerdict *verdict; /* NULL: none */
  GHashTable *seen;          /* ids of parts whose findings belong to the picture */
  GArray *pins;              /* NappePin */
  GPtrArray *findings;       /* NappeFinding that belong to the picture; from the frame on */
} NappeBoard;

/* study and verdict may be NULL. Ended with nappe_board_end(). */
void nappe_board_begin (NappeBoard *self, NappeScene *scene, const NappePictureOptions *options, NappeBuild *build,
                        const NappeLayout *layout, const NappeStudy *study, const NappeVerdict *verdict);
void nappe_board_end (NappeBoard *self);
/* A part that the picture shows: to be said before the frame is drawn. */
void nappe_board_see (NappeBoard *self, gpointer part);
/* Title of the build and what is shown, with a title wanted; below, the key to the findings about what is seen, and what
 * was assumed (a line for each of n). */
void nappe_board_frame (NappeBoard *self, const char *what, const char *const *remarks, guint n);
/* A finding about the part may be pinned there, with a line to a point of it [px]; the best place first. */
void nappe_board_pin (NappeBoard *self, gpointer part, double x, double y, double to_x, double to_y);
/* At the corners of a box, just outside. */
void nappe_board_pin_around (NappeBoard *self, gpointer part, const NappeBox *box);
void nappe_board_draw_findings (NappeBoard *self);

char *nappe_board_number (const NappeBoard *self, double metres); /* without unit; transfer full */
char *nappe_board_length (const NappeBoard *self, double metres); /* with unit; transfer full */

/* A dimension where its text fits and nothing is in the way. FALSE: left out. */
gboolean nappe_board_dimension (NappeBoard *self, double x1, double y1, double x2, double y2, const char *text);
/* Room that a dimension line needs on both sides, as high as its text [px]. */
double nappe_board_line_room (const NappeBoard *self);
/* What of a place lies in the area. FALSE: nothing. */
gboolean nappe_board_cut_off (const NappeBox *area, NappeBox *place);
/* A thin line from what is measured to its dimension. */
void nappe_board_extend (NappeBoard *self, double x1, double y1, double x2, double y2);
/* The part is picked there. */
void nappe_board_hit (NappeBoard *self, gpointer part, NappeBox box);

/* Outside measures of what stands in the water: its own, the catalogue's, or usual ones [m]. */
typedef struct
{
  double length, width, height;
  gboolean assumed; /* length or width is none that anybody gave */
} NappeFootprint;
NappeFootprint nappe_footprint (NappeCatalogue *catalogue, const NappeEquipment *part); /* catalogue may be NULL */
NappeFootprint nappe_pump_footprint (NappeCatalogue *catalogue, const NappePump *part);

/* "2 × Heater": how many equal ones there are, and their name. Transfer full. */
char *nappe_board_name (const char *plain, int count);

/* Fill and outline of a pane by its NappeMaterial. */
NappeStyle nappe_board_pane (int material);

G_END_DECLS

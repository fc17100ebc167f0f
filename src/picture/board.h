/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the pictures seen from above and from outside share: paper, title, dimensions, handles. */
#pragma once

#include "picture/scene.h"

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
} NappeBoard;

void nappe_board_begin (NappeBoard *self, NappeScene *scene, const NappePictureOptions *options, NappeBuild *build,
                        const NappeLayout *layout, const NappeStudy *study);
/* Title of the build and what is shown, with a title wanted; below, what was assumed (a line for each of n). */
void nappe_board_frame (NappeBoard *self, const char *what, const char *const *remarks, guint n);

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

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the panels share.
 *
 * A pane has two directions: across (x, or y of a side pane) and along (y of a bottom, else z), as network/holes.h has them.
 * Seen from outside, most are the mirror image of how the front shows them. */
#pragma once

#include "network/holes.h"
#include "picture/board.h"
#include "picture/plan/panels.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_CUT_HOLE,  /* for the bulkhead of a drain */
  NAPPE_CUT_PIPE,  /* a drain that leaves without a bulkhead that anybody knows */
  NAPPE_CUT_JOINT, /* for a bulkhead between inner and outer box */
  NAPPE_CUT_NOTCH, /* from the upper edge down to a weir's crest */
  NAPPE_CUT_SLOTS, /* of a toothed weir */
} NappeCutKind;

typedef struct
{
  NappeCutKind kind;
  NappePart *part;       /* NappeDrain or NappeOverflow */
  const NappePiece *bulkhead; /* of a hole; else NULL */
  double across, along;  /* its middle; of a notch and slots: along is the crest [m] */
  double diameter;       /* of the hole; of a pipe its outside, of a joint its bore [m] */
  double flange;         /* across the flange; 0: not known [m] */
  double width, top;     /* of a notch and slots; top: where they end [m] */
} NappeCut;

typedef struct
{
  NappePane pane;
  gint box;               /* index of the box whose floor or wall it is; -1: a pane of the tank */
  double left, right, near, far; /* inside edges [m] */
  double wall;            /* thickness of the panes that it meets [m] */
  gboolean mirrored;      /* across runs to the left on the paper */
  GArray *cuts;           /* NappeCut */
  NappeBox place;         /* of the pane between its inside edges [px] */
  NappeBox area;          /* of the pane with its notes [px] */
} NappePanel;

typedef struct
{
  NappeBoard board;
  GPtrArray *panels;      /* NappePanel */
  double scale;           /* [px/m], the same for all */
} NappePanels;

double nappe_panel_x (const NappePanels *self, const NappePanel *panel, double across); /* [px] */
double nappe_panel_y (const NappePanels *self, const NappePanel *panel, double along);
gpointer nappe_panel_part (const NappePanels *self, const NappePanel *panel); /* the tank, or the box that it is a pane of */
/* "Back pane, seen from behind". Transfer full. */
char *nappe_panel_name (const NappePanels *self, const NappePanel *panel);
/* Least between the rim of a round cut and an edge of its pane, and to the next cut; INFINITY: there is none [m]. */
double nappe_cut_edge (const NappePanel *panel, const NappeCut *cut);
double nappe_cut_next (const NappePanel *panel, const NappeCut *cut);
gboolean nappe_cut_is_round (const NappeCut *cut);

/* panels-find.c: which panes are drilled, and where. */
void nappe_panels_find (NappePanels *self);
void nappe_panel_free (gpointer panel);
/* panels-draw.c */
void nappe_panels_draw (NappePanels *self);
/* panels-words.c */
char *nappe_cut_place_text (const NappePanels *self, const NappePanel *panel, const NappeCut *cut);  /* transfer full */
char *nappe_cut_clear_text (const NappePanels *self, const NappePanel *panel, const NappeCut *cut);  /* transfer full */
void nappe_panels_add_items (NappePanels *self);
void nappe_panels_add_handles (NappePanels *self);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where everything is: absolute places of vessels and pipe runs, from the build's dimensions alone.
 *
 * One datum for network, pictures and papers: x [m] to the right from the stand's outside left edge,
 * y [m] backwards from the tank's inside front, z [m] upwards from the room's floor.
 * The tank stands centred on its stand. Everything here is a plain value copied out of the build. */
#pragma once

#include "build/build.h"
#include "catalogue/catalogue.h"

G_BEGIN_DECLS

/* A box-shaped room for water: inside faces. */
typedef struct
{
  double left, right; /* x [m] */
  double front, back; /* y [m] */
  double floor, rim;  /* z of the inside floor and of the top edge [m] */
} NappeFrame;

typedef struct
{
  double x, y, z; /* [m] */
} NappePoint;

/* Bore that stands in where a line names no known pipe [m]: one inch, so that it can be drawn and computed. */
#define NAPPE_UNKNOWN_BORE 0.0254

/* One straight piece of a run, or a fitting (from == to). */
typedef struct
{
  NappePiece *piece;       /* owned by the build */
  const NappeItem *item;   /* owned by the catalogue; NULL: unknown id */
  NappePoint from, to;     /* axis, in the direction of the flow */
  double bore, outside;    /* diameters, the last known pipe's for a fitting without own [m] */
} NappeLeg;

/* A whole run from its start: trunk, or the branch of an outlet. */
typedef struct
{
  NappePoint start, end;
  guint n_legs;
  NappeLeg *legs; /* owned by the layout */
  double highest; /* z of the highest point of the axis [m] */
  double length;  /* of pipe and hose [m] */
} NappeRoute;

typedef struct
{
  NappeFrame frame;
  double weir;          /* z of the crest [m] */
  double weir_top;      /* z of the wall's top between slots; = weir for a smooth crest [m] */
  gboolean has_inner;   /* slim and rim styles: the weir pours into an inner box in the tank */
  NappeFrame inner;     /* of it: at the wall that the outer box hangs on, beside the outer box's middle; rim: the weir's top */
  double joint;         /* z of the middle of the bulkheads, or of the open lower ends of the siphon tubes [m] */
  NappeOverflow *part;
} NappeBoxLayout;

typedef struct
{
  NappeFrame frame;
  NappeChamber *part;
} NappeChamberLayout;

/* Filter socks standing in a chamber: equal ones stand side by side along the sump where the chamber is long enough, else
 * one behind the other. */
typedef struct
{
  NappeFrame frame;       /* around all of them; floor: their lower end, rim: edge of their holder */
  double length, width;   /* plan of one [m] */
  guint chamber;          /* index in chambers */
  NappeEquipment *part;
} NappeSockLayout;

/* A side vessel, behind the tank. */
typedef struct
{
  NappeFrame frame;
  double spout;           /* z of the spout's lower edge [m] */
  NappeSideVessel *part;
} NappeVesselLayout;

typedef struct
{
  double left, right;       /* x of its faces [m] */
  double top;               /* z [m] */
  double gap_top;           /* z of the upper edge of the gap under it; the floor when sealed [m] */
  NappeBaffle *part;
} NappeBaffleLayout;

typedef struct
{
  NappeOutlet *part;
  gint tee_leg;     /* index of the tee's leg in the trunk; -1: at the end of the trunk, -2: no such tee */
  NappeRoute route; /* from the tee, or from the end of the trunk */
} NappeOutletLayout;

typedef struct
{
  NappePart *part;     /* NappeDrain or NappeReturnLine; owned by the build */
  gint box;            /* of a drain: index in boxes, or -1 */
  gint chamber;        /* of a return line's pump: index in chambers, or -1: it draws from the tank or a side vessel */
  NappeRoute trunk;
  guint n_outlets;
  NappeOutletLayout *outlets;
  double crest, mouth, brink; /* of a drain: z of invert, of the mouth, of the level at which a siphon breaks [m] */
  double inlet;        /* of a return: z of the pump's inlet [m] */
} NappeLineLayout;

typedef struct
{
  NappeFrame stand;          /* outside faces; rim is its top */
  NappeFrame tank;
  NappeFrame sump;
  guint n_boxes, n_chambers, n_baffles, n_drains, n_returns, n_socks, n_vessels;
  NappeBoxLayout *boxes;
  NappeChamberLayout *chambers;
  NappeBaffleLayout *baffles;
  NappeLineLayout *drains;
  NappeLineLayout *returns;
  NappeSockLayout *socks;
  NappeVesselLayout *vessels;
} NappeLayout;

/* Never fails: parts that do not fit are placed where their numbers put them. The layout borrows the
 * parts and items, so the build and catalogue must outlive it and the build must not change. */
NappeLayout *nappe_layout_new (NappeBuild *build, NappeCatalogue *catalogue);
void nappe_layout_free (NappeLayout *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeLayout, nappe_layout_free)

G_END_DECLS

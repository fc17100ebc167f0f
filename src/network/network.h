/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A build compiled into vessels and links: the only model of the water.
 *
 * Plain values that copy cheaply and hold no pointer into the build. A node is a vessel with a free
 * surface (its unknown is the level z [m]) or a junction inside pipes (its unknown is the hydraulic
 * head [m]). A link leads from one node to another; its law gives the flow [m3/s] from the two
 * heads. Every law rises with the head it comes from and falls with the head it goes to; that is what
 * makes the steady state unique (an M-function) and the solver safe.
 * A scenario is a changed copy of the network: a stopped pump, a smaller open share. */
#pragma once

#include "network/layout.h"
#include "physics/pump-curve.h"
#include "physics/stretch.h"
#include "physics/valve.h"
#include "physics/water.h"
#include "physics/weir.h"

G_BEGIN_DECLS

#define NAPPE_INNER_SUFFIX "/inner"

typedef enum
{
  NAPPE_NODE_DISPLAY,
  NAPPE_NODE_BOX,
  NAPPE_NODE_CHAMBER,
  NAPPE_NODE_SOCK,     /* inside of the filter socks of a chamber; equipment's id */
  NAPPE_NODE_VESSEL,   /* side vessel */
  NAPPE_NODE_FLOOR,    /* of the room: takes all, gives nothing */
  NAPPE_NODE_JUNCTION, /* inside pipes: holds nothing */
} NappeNodeKind;

typedef struct
{
  /* The part's id; "" for floor and junctions, but a tee's id where another line joins. The inner box of a slim or rim
     overflow is a box of its own, whose id has NAPPE_INNER_SUFFIX behind the overflow's. */
  char id[NAPPE_PART_ID_MAX + sizeof NAPPE_INNER_SUFFIX];
  NappeNodeKind kind;
  int chamber_role;   /* NappeChamberRole of a chamber, else -1 */
  double floor, rim;  /* z [m] */
  /* Plan area net of what stands in it [m2]; 0 for junctions. Below `step` it is area_low: rock stands in
     the lower part of a display, so that the slice that runs down in a power cut is not understated. */
  double area, area_low, step;
} NappeNode;

typedef enum
{
  NAPPE_LINK_WEIR,  /* crest of a box, top of a baffle, edge of a sock's holder, spout of a side vessel */
  NAPPE_LINK_GAP,   /* under a baffle */
  NAPPE_LINK_DRAIN, /* from a box through an inlet into a pipe */
  NAPPE_LINK_PIPE,  /* full pipe between a junction and a node, either way round */
  NAPPE_LINK_PUMP,
  NAPPE_LINK_RIM,   /* over a vessel's top edge to the floor */
  NAPPE_LINK_JOINT, /* bulkheads or siphon tubes between the inner and the outer box of an overflow */
  NAPPE_LINK_SOCK,  /* through the cloth of filter socks, both ways */
} NappeLinkKind;

/* A drain's inlet. */
typedef struct
{
  int role;            /* NappeDrainRole */
  gboolean vented;     /* cannot prime */
  double crest, mouth, brink; /* z [m], as in NappeLineLayout */
  double bore;         /* of the first pipe [m] */
  double rim_diameter; /* of the round crest [m] */
  double entrance_k;   /* of the clean inlet; with a plate of what is blocked it is the link's first stretch */
} NappeDrainInlet;

/* Bulkheads or tubes between two boxes; equal ones side by side. */
typedef struct
{
  guint count;
  double bore;      /* [m] */
  double height;    /* z of their middle, or of the tubes' open lower ends [m] */
  gboolean siphon;  /* tubes over the rim: they carry nothing once they have lost their prime */
  gboolean primed;  /* of siphon tubes; scenarios take it away */
} NappeJoint;

/* Cloth of filter socks. */
typedef struct
{
  double perimeter;  /* of all socks together [m] */
  double bottom;     /* z of their lower end [m] */
  double bottom_area; /* of their lower ends [m2] */
  double conductance; /* speed of water through clean cloth for each metre of head [1/s] */
  double load;       /* closed share */
  double top;        /* z of the holder's edge, where the cloth ends [m] */
} NappeSock;

/* A valve in a line, for tuning. */
typedef struct
{
  char piece[NAPPE_PART_ID_MAX + 1]; /* id of the piece; "" when the line has none */
  char kind[16];                     /* "gate", "ball", ... */
  double opening;                    /* share of travel */
  double turns;                      /* of its stem from shut to open; NaN: not known; a handle's quarter turn is 0.25 */
  double bore;                       /* [m] */
  double k;                          /* at this opening; INFINITY when shut */
  guint stretch;         /* its own stretch, index in the pool */
  const NappeValvePoint *points;     /* borrowed from the catalogue, which the network keeps alive */
  gsize n_points;
} NappeLinkValve;

/* What a head loss is due to. */
typedef enum
{
  NAPPE_LOSS_ENTRANCE,
  NAPPE_LOSS_PIPE,
  NAPPE_LOSS_BEND,   /* of a hose that turns */
  NAPPE_LOSS_FITTING,
  NAPPE_LOSS_BRANCH, /* from a tee's run into its branch */
  NAPPE_LOSS_VALVE,
  NAPPE_LOSS_BORE,   /* sudden change of bore */
  NAPPE_LOSS_EXIT,   /* also the bare joint where a section ends in a tee */
} NappeLossKind;

/* One piece's part in a stretch: what the stretches were merged from. Of each stretch, the lengths, k and k1 of its
 * losses add up to its own. */
typedef struct
{
  char piece[NAPPE_PART_ID_MAX + 1]; /* "" where no piece causes it (entrance, exit) */
  NappeLossKind kind;
  guint stretch;     /* index in the network's pool */
  double length, k, k1; /* as in NappeStretch; a valve's k is that of its stretch */
} NappeLoss;

/* Water that a line holds between two heights. */
typedef struct
{
  double low, high; /* z, low < high [m] */
  double volume;    /* [m3] */
} NappeContent;

/* A sideways pipe of a drain, for how full it runs with a free surface. */
typedef struct
{
  char piece[NAPPE_PART_ID_MAX + 1];
  guint link;        /* section of the drain that it lies in */
  double bore;       /* [m] */
  double fall;       /* along the flow over its length [m/m]; negative: it climbs */
} NappeLevelPiece;

typedef struct
{
  char id[NAPPE_PART_ID_MAX + 1]; /* of the part that it belongs to: overflow, baffle, drain, outlet, pump ...;
                                     "" for a section of a trunk that ends in a junction */
  char line[NAPPE_PART_ID_MAX + 1]; /* id of the whole line (drain or return line); "" for others */
  char outlet[NAPPE_PART_ID_MAX + 1]; /* id of the outlet it ends in; "" when it ends in a junction or is no pipe */
  NappeLinkKind kind;
  guint from, to;     /* node indices */
  gint drain, pump;   /* of a pipe: the drain or the pump link that its line begins with; -1: none */
  gboolean trunk;     /* of a drain or pipe: a section of the line's trunk, not a branch at a tee */
  double open_share;  /* free share of the inlet's area; 1 clean, 0 blocked. Of a weir it is in `weir` */
  double spread;      /* relative departure of its flow law from the published one, for uncertainty; 0 */
  /* Weir, rim: crest; gap: middle of the gap; pipe or drain: axis of the exit [m]. The head that the
     link sees downstream is never below this. */
  double sill;
  NappeWeir weir;     /* weir and rim */
  double gap_area;    /* [m2] */
  double gap_floor;   /* z of the lower edge of a gap [m] */
  NappeDrainInlet inlet;
  guint first_stretch, n_stretches; /* in the network's pool; drain, pipe and joint */
  guint first_loss, n_losses;       /* in the network's pool; drain, pipe and joint */
  NappeJoint joint;
  NappeSock sock;
  gboolean shut;      /* a valve in it is closed */
  NappeLinkValve valve; /* the first valve along it */
  gboolean one_way;   /* a check valve that holds: no flow backwards */
  double sill_low, sill_high; /* of the top of an adjustable baffle: z at its ends; NaN: fixed [m] */
  double siphon_break; /* z of an open hole or of the nozzle's mouth where backflow stops [m]; -INFINITY: none */
  double highest;     /* highest point of the pipe's axis, z [m] */
  NappePumpCurve curve;
  guint count;        /* equal pumps side by side */
  double speed, head_left; /* of a pump; speed 0: stopped */
  double pump_inlet;  /* z of the middle of the inlet [m] */
  double inlet_bore;  /* of the pump [m]; NaN: unknown */
  guint first_content, n_contents; /* in the network's pool, in the direction of the flow */
  guint n_before_check; /* of them, those before its check valve, whose water the valve does not hold; 0: no such valve */
} NappeLink;

/* Something that keeps the build from being compiled whole. Never silent: rules turn each into a finding. */
typedef struct
{
  char part[NAPPE_PART_ID_MAX + 1];
  char *text; /* translated sentence */
} NappeProblem;

typedef struct
{
  NappeWater water;
  guint n_nodes, n_links, n_stretches, n_losses, n_contents, n_level_pieces, n_problems;
  NappeNode *nodes;
  NappeLink *links;
  NappeStretch *stretches;
  NappeLoss *losses;
  NappeContent *contents;
  NappeLevelPiece *level_pieces;
  NappeProblem *problems;
  guint display, floor, return_chamber; /* node indices; return_chamber of the first return line; G_MAXUINT: none */
  double kept_level;        /* z of the level kept in the return chamber; NaN with total_volume [m] */
  double total_volume;      /* of all water while running, from which the level in the return chamber follows; NaN:
                               the level is kept [m3] */
  double trickle;           /* wanted in an open channel [m3/s]; NaN: by the usual share */
  double bubble_size;       /* smallest bubble that should be stopped [m] */
  double reservoir_volume;  /* that a top-off can add [m3]; 0: no top-off */
  double top_off_flow;      /* of the top-off's pump while it runs [m3/s]; 0: no top-off */
  guint reservoir;          /* node of the reservoir chamber; G_MAXUINT: none */
  double reservoir_level;   /* z of its water at the start [m] */
  gboolean runnable;        /* has a display, a drain way down, a pump and a way up */
  NappeCatalogue *catalogue; /* kept alive for the valve tables */
} NappeNetwork;

/* Transfer full. Never NULL. */
NappeNetwork *nappe_network_compile (NappeBuild *build, const NappeLayout *layout, NappeCatalogue *catalogue);
NappeNetwork *nappe_network_copy (const NappeNetwork *self); /* deep, for a scenario */
void nappe_network_free (NappeNetwork *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeNetwork, nappe_network_free)

/* Water in all vessels but the floor at levels by node [m3]. */
double nappe_network_volume (const NappeNetwork *self, const double *level);
/* The link of a drain's trunk that holds its first valve, or -1. */
gint nappe_network_valve_link (const NappeNetwork *self, guint drain);

/* Changes to a copy, for scenarios. */
void nappe_network_block (NappeNetwork *self, guint link, double open_share);    /* of a drain: share of its inlet's area left */
void nappe_network_set_opening (NappeNetwork *self, guint link, double opening); /* of the link's valve; 0 shuts it */
void nappe_network_block_weir (NappeNetwork *self, guint link, double open_share); /* share of its crest or slots left */
void nappe_network_block_joint (NappeNetwork *self, guint link, double open_share); /* of its tubes: at 0 siphon tubes have lost
                                                                                      their siphon */
/* Overwrites a copy with the values of the network that it was copied from, without allocating: for many scenarios. */
void nappe_network_restore (NappeNetwork *self, const NappeNetwork *original);

/* Index by part id, or -1. */
gint nappe_network_find_node (const NappeNetwork *self, const char *id);
gint nappe_network_find_link (const NappeNetwork *self, NappeLinkKind kind, const char *id);

/* Water in a vessel up to a level, and back [m3], [m]. */
double nappe_node_volume (const NappeNode *node, double level);
double nappe_node_level (const NappeNode *node, double volume);
/* Water that a link's pipes hold: all, and what stays when the surface they end in stands at a level [m3]. */
double nappe_link_content (const NappeNetwork *self, const NappeLink *link);
double nappe_link_content_below (const NappeNetwork *self, const NappeLink *link, double level);
/* The same with its check valve holding: all that is beyond the valve, and before it what stands under the level [m3]. */
double nappe_link_content_held (const NappeNetwork *self, const NappeLink *link, double level);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Still water: where poured water comes to rest in vessels that are joined by edges, exactly.
 *
 * The vessels are the chambers of the sump, the socks that hang in them, and side vessels whose spout pours into a
 * chamber. Water poured into a vessel fills the pool that the vessel belongs to up to the pool's lowest edge, then
 * runs over that edge into the neighbour, or to the floor; two pools that stand at the edge between them
 * become one. Levels never fall while pouring, so the result follows from geometry alone. */
#pragma once

#include "network/network.h"

G_BEGIN_DECLS

typedef struct
{
  guint a, b;             /* vessels */
  double height;          /* at which water passes between them, z [m] */
} NappePoolEdge;

typedef struct
{
  guint n;                /* vessels: chambers left to right, then the others */
  const NappeNode **node; /* by vessel */
  double *level;          /* by vessel, z [m] */
  guint *pool;            /* by vessel: the least index among its pool's vessels */
  double *reach;          /* by vessel, scratch: lowest height by which water comes to a vessel [m] */
  guint *vessel_of;       /* by node of the network: vessel, or G_MAXUINT */
  guint n_nodes;
  const NappeNode *nodes; /* of the network */
  GArray *edges;          /* NappePoolEdge */
  double spilled;         /* over rims so far [m3] */
} NappePools;

/* The vessels of a network's sump, at the levels given by node. Cloth that is closed altogether holds water up to the
 * edge of its holder. Transfer full. */
NappePools *nappe_pools_new (const NappeNetwork *network, const double *level);
void nappe_pools_free (NappePools *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappePools, nappe_pools_free)

/* Joins the vessels that two nodes are, at a height z [m], as a full line between them does; nothing when one is no
 * vessel of the pools. */
void nappe_pools_join (NappePools *self, guint node_a, guint node_b, double height);
/* Sets the levels by node anew, each vessel a pool of its own, nothing spilled. */
void nappe_pools_reset (NappePools *self, const double *level);

/* Pours volume [m3] >= 0 into a vessel. */
void nappe_pools_pour (NappePools *self, guint vessel, double volume);

/* Lowers every vessel to its lowest edge with a neighbour and pours back what stood above it, so that
 * nothing stands above an edge without reason. */
void nappe_pools_settle (NappePools *self);

/* Index of a node among the vessels, or -1. */
gint nappe_pools_find (const NappePools *self, const NappeNode *node);

/* Lowers the levels to where they end when one chamber is emptied down to `level` and the others follow over
 * their edges. */
void nappe_pools_drain (NappePools *self, guint vessel, double level);

/* Water that can run from the chambers into one of them when that one is emptied down to `level` [m3]. */
double nappe_pools_drainable (const NappePools *self, guint vessel, double level);

G_END_DECLS

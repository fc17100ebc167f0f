/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Still water: where poured water comes to rest in a row of vessels side by side, exactly.
 *
 * Water poured into a vessel fills the pool that the vessel belongs to up to the pool's lowest edge, then
 * runs over that edge into the neighbour, or to the floor; two pools that stand at the edge between them
 * become one. Levels never fall while pouring, so the result follows from geometry alone. */
#pragma once

#include "network/network.h"

G_BEGIN_DECLS

typedef struct
{
  guint n;                /* vessels, left to right */
  const NappeNode **node; /* by vessel */
  double *level;          /* by vessel, z [m] */
  double *edge;           /* between vessel i and i + 1: height at which water passes, z [m]; n - 1 of them */
  guint *pool;            /* by vessel: index of the leftmost vessel of its pool */
  double spilled;         /* over rims so far [m3] */
} NappePools;

/* The chambers of the sump of a network, at the levels given by node. Transfer full. */
NappePools *nappe_pools_new (const NappeNetwork *network, const double *level);
void nappe_pools_free (NappePools *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappePools, nappe_pools_free)

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

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The laws of the links: flow from the heads at both ends. */
#pragma once

#include "network/network.h"

G_BEGIN_DECLS

/* What a link does beyond its law. One per link, kept by the caller. */
typedef struct
{
  gboolean primed; /* of a drain: runs full bore */
  double guess;    /* last flow, to start the inversion of the pipe law from [m3/s]; 0: none */
} NappeLinkMode;

typedef struct
{
  double flow;       /* from `from` to `to` [m3/s] */
  double slope_from; /* d flow / d head_from >= 0 [m2/s] */
  double slope_to;   /* d flow / d head_to <= 0 [m2/s] */
} NappeLinkFlow;

/* head_from, head_to: level or head at the nodes, z [m]. No allocation. */
void nappe_link_law (const NappeNetwork *network, const NappeLink *link, NappeLinkMode *mode, double head_from,
                     double head_to, NappeLinkFlow *result);

/* Water in the pipes of a link [m3]: a pump's line is full as long as the pump is on, and so is a primed siphon with its
 * branches; another drain holds its wetted share (drop-inlet.h) above the tail that stands under level_to;
 * without flow there is the tail alone. primed: of the drain that the link belongs to. */
double nappe_link_held (const NappeNetwork *network, const NappeLink *link, double flow, double level_to, gboolean primed);

/* Head that a pump adds to a flow through it [m], the inverse of its law: below 0 where it resists. level: z of the surface it
 * draws from; flow: of all its equal pumps, negative backwards [m3/s]. standing: share 0..1 by which a pump that runs down
 * resists forward flow as one that is held still. slope: (out) its derivative by the flow, <= 0 [s/m2]. */
double nappe_pump_drive (const NappeLink *link, double level, double flow, double standing, double *slope);

/* The two controls of a drain apart [m3/s]: what its inlet lets in, and what the pipe carries full. */
double nappe_drain_inlet_flow (const NappeLink *link, double level, double *slope);
double nappe_drain_full_flow (const NappeNetwork *network, const NappeLink *link, double level, double head_to,
                              double guess, double *slope);

G_END_DECLS

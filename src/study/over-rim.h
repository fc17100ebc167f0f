/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A system that runs over a rim already: what has still to go over it once something changes.
 *
 * Static cases begin at a state in which levels stay because as much is topped up as runs over. As soon as anything is
 * changed, nothing tops up any more: what stands above a rim is lost but for what the drains carry off meanwhile, and so
 * is what comes to such a vessel from those above it until its ways down carry all that comes. The drains' share is not
 * taken off, so that the floor never gets less here than it does in time. */
#pragma once

#include "study/state.h"

G_BEGIN_DECLS

/* Spin times for which what runs over a rim is counted as going on after its pump begins to slow down: while it does, it
 * lifts what it would lift in one, and the column in its line carries on a little. */
#define NAPPE_SPINS_OVER_RIM 2

/* All that runs over rims [m3/s]. */
double nappe_over_rim_rate (const NappeNetwork *network, const NappeState *state);
/* The same over those of display, boxes, and side vessels: what slowing pumps still lift goes that way. */
double nappe_over_rim_upper_rate (const NappeNetwork *network, const NappeState *state);
/* Of what comes to the sump, the share that runs over its rims while running; 0: none. */
double nappe_over_rim_sump_share (const NappeNetwork *network, const NappeState *running);

/* What goes over rims that water runs over, of what stands in the vessels [m3].
 * network: as it is from now on. carried: pumps go on, and so do the ways down with all that runs through; FALSE: they
 * carry what they do with the vessel at its rim, and nothing comes up. level: out, by node, to which the vessels sink
 * meanwhile, z [m]. */
double nappe_over_rim_loss (const NappeNetwork *network, const NappeState *running, gboolean carried, double *level);

G_END_DECLS

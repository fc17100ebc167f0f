/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How sure the numbers are: the same study for many copies of the network, each departing from it as real parts,
 * published laws and hands do. Sampling with a fixed seed, so that the same build gives the same bands.
 *
 * Departures, one standard deviation each unless said otherwise (hydraulics of this program, DEVELOPERS.md): pump's
 * flow and head 5 % each (makers' curves within 10 %); constant loss coefficients of each line 10 % (within 20 %); weir
 * and inlet laws 10 % below 30 mm of head (within 20 %) and 2.5 % above; kept level 2.5 mm (within 5 mm); growth
 * narrows each bore by 0..0.5 mm, evenly. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

/* 5 and 95 in a hundred of the copies lie below and above. */
typedef struct
{
  double low, high;
} NappeBand;

typedef struct
{
  guint n_samples;   /* asked for */
  guint n_settled;   /* of them with a steady state: the bands are theirs */
  NappeBand *level;  /* by node, running, z [m] */
  NappeBand *flow;   /* by link, running [m3/s] */
  NappeBand *cut_level; /* by node, after a power cut with the check valve failed, z [m] */
  NappeBand pump_flow, display_flow; /* [m3/s] */
  NappeBand run_back, sump_margin, cut_spilled; /* [m3], [m], [m3] */
  NappeBand *film;   /* by weir report [m] */
  NappeBand *pump_head; /* by pump report [m] */
  double cut_flood_chance;  /* share of the copies in which a power cut spills */
  double *blockage_flood_chance; /* by blockage of the study, of the first n_blockage_samples copies; NaN: none asked */
  guint n_blockage_samples;
} NappeSpread;

/* n_samples >= 1; n_blockage_samples <= n_samples copies are studied for blockages too, which costs ten times as much.
 * threads: 1..8. Transfer full; NULL when cancelled or when the study has no steady state. */
NappeSpread *nappe_spread_new (const NappeStudy *study, guint n_samples, guint n_blockage_samples, guint threads,
                               GCancellable *cancellable);
void nappe_spread_free (NappeSpread *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeSpread, nappe_spread_free)

/* What programs show unless asked otherwise. */
#define NAPPE_SPREAD_SAMPLES 400
#define NAPPE_SPREAD_BLOCKAGE_SAMPLES 100

G_END_DECLS

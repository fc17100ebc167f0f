/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How full the sideways pipes of the drains run: Manning's law for the free surface, and for the full pipe. */
#include "study/drain-parts.h"

#include "physics/manning.h"

#include <math.h>

/* Manning's n of smooth plastic pipe [s/m^(1/3)]: 0.009 to 0.011 in open-channel texts. */
#define PLASTIC_N 0.010

static void
report_level_run (const NappeStudy *self, const NappeLevelPiece *piece, NappeLevelRun *report)
{
  const NappeNetwork *network = self->network;
  const NappeLink *link = &network->links[piece->link];
  guint drain = link->kind == NAPPE_LINK_DRAIN ? piece->link : (guint) link->drain;
  double fall = fmax (piece->fall, 0);
  gboolean primed = nappe_drain_state (network, &self->running, drain) == NAPPE_DRAIN_FULL;

  report->link = piece->link;
  g_strlcpy (report->drain, network->links[drain].id, sizeof report->drain);
  g_strlcpy (report->piece, piece->piece, sizeof report->piece);
  report->bore = piece->bore;
  report->fall = piece->fall;
  report->flow = fmax (0, self->running.flow[piece->link]);
  report->full_flow = nappe_manning_full_flow (piece->bore, fall, PLASTIC_N);
  report->depth = primed || fall <= 0 ? piece->bore : nappe_manning_depth (piece->bore, report->flow, fall, PLASTIC_N);
  report->full = report->flow > 0 && report->depth >= piece->bore;
}

void
nappe_study_report_level_runs (NappeStudy *self)
{
  const NappeNetwork *network = self->network;

  self->n_level_runs = network->n_level_pieces;
  self->level_runs = g_new0 (NappeLevelRun, self->n_level_runs);
  for (guint i = 0; i < self->n_level_runs; i++)
    report_level_run (self, &network->level_pieces[i], &self->level_runs[i]);
}

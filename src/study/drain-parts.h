/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the reports of drains, pipes and chambers are made by. */
#pragma once

#include "study/bench.h"

G_BEGIN_DECLS

/* A drain's state in a state of a network, and what holds its flow down. */
NappeDrainState nappe_drain_state (const NappeNetwork *network, const NappeState *state, guint link);
NappeInletControl nappe_drain_control (const NappeNetwork *network, const NappeState *state, guint link);

/* Each of these needs the report's link, id, role and opening, and the drain's box on the bench; it leaves the bench's
 * network as it found it. */

/* tuning.c: window and wanted opening of a valved siphon. */
void nappe_drain_tune (NappeBench *bench, NappeDrainReport *report);
/* priming.c: prime_level and prime_margin. */
void nappe_drain_prime (NappeBench *bench, NappeDrainReport *report);
/* cycle.c: cycle of a siphon without a rest; after nappe_drain_prime. */
void nappe_drain_cycle (NappeBench *bench, NappeDrainReport *report);

/* Water that runs into a box [m3/s]. */
double nappe_box_inflow (const NappeNetwork *network, const NappeState *state, guint box);

/* level-runs.c, chambers.c: fill the study's pools from its running state. */
void nappe_study_report_level_runs (NappeStudy *self);
void nappe_study_report_chambers (NappeStudy *self, NappeBench *bench);

G_END_DECLS

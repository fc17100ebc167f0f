/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A running system after something in it was changed: where its water comes to rest. */
#pragma once

#include "study/balance.h"
#include "study/study.h"

G_BEGIN_DECLS

/* Whether water can pass a link without a pump. */
gboolean nappe_link_is_open (const NappeLink *link);

/* Marks the nodes that open links lead to from a node, itself included: over weirs and through joints, and with drains
 * also through drains and on through the sump. reached: by node, cleared by the caller. */
void nappe_network_reach (const NappeNetwork *network, guint from, gboolean drains, gboolean *reached);

/* From the running state of a network to the rest after a change, with the same water in all. Fills the state and what
 * follows from it; it must be initialised. changed: the changed copy, in which a pump stops that lifts nothing more. */
void nappe_changed_settle (NappeBlockage *self, NappeBalance *balance, NappeNetwork *changed, const NappeNetwork *network,
                           const NappeState *running);

/* change-start.c: moves levels of a state, as it ran, to where the same water will about come to rest. total: water in
 * vessels and pipes [m3]. */
void nappe_state_expect_change (NappeState *state, const NappeNetwork *changed, const NappeState *running, double total);

/* standing.c: nothing comes down any more. The pump lifts all that reaches its inlet, and the display with the boxes that it
 * pours into takes it, up to the lowest rim among them. state: in, as it ran; out, at rest. */
void nappe_state_stand (NappeState *state, NappeNetwork *changed, const NappeState *running, double total);

/* blockage.c: as nappe_study_blockage_run, with a copy of the network that is overwritten, for many in a row. */
void nappe_study_blockage_run_on (NappeBlockage *self, NappeBalance *balance, NappeNetwork *scratch, const NappeNetwork *network,
                                  const NappeState *running);

G_END_DECLS

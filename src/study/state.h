/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making, copying and measuring states. */
#pragma once

#include "study/balance.h"
#include "study/study.h"

G_BEGIN_DECLS

/* Depth over a pump's inlet within which it draws air with the water: there law.c throttles it to what arrives [m]. */
#define NAPPE_AIR_DEPTH 0.010
/* Time in which a pump's speed comes within a third of where it goes (common practice: about a second) [s]. */
#define NAPPE_SPIN_TIME 1.0

void nappe_state_init (NappeState *self, const NappeNetwork *network);
void nappe_state_copy (NappeState *self, const NappeState *from, const NappeNetwork *network); /* into an initialised one */
void nappe_state_clear (NappeState *self);

/* Water in a link's pipes in a state [m3]. */
double nappe_state_held (const NappeState *self, const NappeNetwork *network, guint link);
/* Fills vessels, pipes, pump_flow, display_flow from levels, flows and primed. */
void nappe_state_measure (NappeState *self, const NappeNetwork *network);

/* Solves with drains that prime and break: see running.c. The state's levels, flows and primed are the start. */
void nappe_state_settle (NappeState *self, NappeBalance *balance, const NappeNetwork *network,
                         const NappeBalanceCase *situation);

/* The same with situation->total_node and total_volume given and the pipes following the flows. Where that is not found,
 * levels and pipes take turns from the same start. */
void nappe_state_settle_total (NappeState *self, NappeBalance *balance, const NappeNetwork *network,
                               const NappeBalanceCase *situation);

/* A first guess for the running state: levels, no flows, and drains as nappe_state_expect_primed says. */
void nappe_state_guess (NappeState *self, const NappeNetwork *network);
/* Siphons run full until they are shown not to; every other drain does not. */
void nappe_state_expect_primed (NappeState *self, const NappeNetwork *network);

/* The running state: the level kept in the return chamber or, when the network has a total_volume, the level that all the
 * water gives it; what does not fit is `spilled`. Leaves a network that is not runnable alone. No allocation after the
 * first call with a balance, but where the solver finds no rest. */
void nappe_study_run (NappeState *self, NappeBalance *balance, const NappeNetwork *network);
/* The same from the state's own levels and flows, of this network or one that differs in its values only. What is found is the
 * same but for rounding; from far off, or from a state without rest, it starts from nothing. */
void nappe_study_run_warm (NappeState *self, NappeBalance *balance, const NappeNetwork *network);

/* power-cut.c */
void nappe_study_power_cut (NappePowerCut *self, const NappeNetwork *network, const NappeState *running,
                            gboolean check_valve_holds, gboolean siphon_break_open);
/* blockage.c */
void nappe_study_blockage_run (NappeBlockage *self, NappeBalance *balance, const NappeNetwork *network,
                               const NappeState *running);
/* reports.c */
void nappe_study_report (NappeStudy *self, NappeBalance *balance);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making, copying and measuring states. */
#pragma once

#include "study/balance.h"
#include "study/study.h"

G_BEGIN_DECLS

void nappe_state_init (NappeState *self, const NappeNetwork *network);
void nappe_state_copy (NappeState *self, const NappeState *from, const NappeNetwork *network); /* into an initialised one */
void nappe_state_clear (NappeState *self);

/* Water in a link's pipes in a state [m3]. */
double nappe_state_held (const NappeState *self, const NappeNetwork *network, guint link);
/* Fills vessels, pipes, pump_flow, display_flow from levels, flows and primed. */
void nappe_state_measure (NappeState *self, const NappeNetwork *network);

/* Solves with siphons that prime and break: see running.c. The state's levels are the start. */
void nappe_state_settle (NappeState *self, NappeBalance *balance, const NappeNetwork *network,
                         const NappeBalanceCase *situation);

/* A first guess for the running state. */
void nappe_state_guess (NappeState *self, const NappeNetwork *network);

/* The running state: the level kept in the return chamber. */
void nappe_study_run (NappeState *self, NappeBalance *balance, const NappeNetwork *network);

/* power-cut.c */
void nappe_study_power_cut (NappePowerCut *self, const NappeNetwork *network, const NappeState *running,
                            gboolean check_valve_holds, gboolean siphon_break_open);
/* blockage.c */
void nappe_study_blockage_run (NappeBlockage *self, NappeBalance *balance, const NappeNetwork *network,
                               const NappeState *running);
/* reports.c */
void nappe_study_report (NappeStudy *self, NappeBalance *balance);

G_END_DECLS

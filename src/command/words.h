/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words for what a study says in JSON: fixed, never translated. Static. */
#pragma once

#include "study/loads.h"

G_BEGIN_DECLS

const char *nappe_rest_nick (NappeRest rest);
const char *nappe_drain_state_nick (NappeDrainState state);
const char *nappe_ledger_nick (NappeLedgerKind kind);
const char *nappe_node_nick (NappeNodeKind kind);
const char *nappe_control_nick (NappeInletControl control);
const char *nappe_loss_nick (NappeLossKind kind);
const char *nappe_panel_nick (int side); /* NappePanelSide */

/* The chosen alternative of a part's field, as in the build file; NULL when the part is NULL or has
 * no such choice. */
const char *nappe_choice_nick (NappePart *part, const char *field);

G_END_DECLS

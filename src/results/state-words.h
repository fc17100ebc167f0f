/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words for what a study says without a number. Translated and static. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

/* "dry", "quiet", "full bore": how a drain runs. */
const char *nappe_drain_state_word (NappeDrainState state);
/* "crest of the inlet", "full pipe": what holds a drain's flow down. */
const char *nappe_inlet_control_word (NappeInletControl control);
/* "pipe", "bend", "valve": what a head is lost in. */
const char *nappe_loss_word (NappeLossKind kind);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A moment of a time simulation, as both pictures take it. */
#pragma once

#include "picture/picture.h"

G_BEGIN_DECLS

/* Fills a state with the moment that the options ask for. FALSE, and nothing filled: they ask for none, or for one of
 * another network than the study's. A state that was filled is cleared with nappe_state_clear. */
gboolean nappe_moment_take (NappeState *state, const NappePictureOptions *options, const NappeStudy *study);
/* A trickle that nobody sees is none [m3/s]. */
double nappe_moment_flow (double flow);
/* Whether a drain runs full. id: of the drain. */
gboolean nappe_moment_is_full (const NappeStudy *study, const NappeState *state, const char *id);
/* "full bore", "no flow": how a line runs. flow: of nappe_moment_flow; NaN counts as none. full: of a drain. */
const char *nappe_moment_word (gboolean drain, gboolean full, double flow);

G_END_DECLS

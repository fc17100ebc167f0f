/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plays what befalls a build: which case, its time simulation, the moment that is seen, and how fast time runs.
 *
 * Knows nothing of widgets. A simulation runs on a worker with what the build was when it began; one that was overtaken
 * by another is cancelled and dropped, one that a person stops stands as far as it came. When the build changes, the
 * case that was played is played again and the moment kept.
 *
 * Properties: `time` (double, s), `playing`, `speed` (double, simulated seconds a second), `busy` (read-only), `progress`
 * (double, 0..1, read-only). Signals: `cases-changed` (another list of cases, or another one chosen), `course-changed`
 * (another simulation, or none), `failed` (const char *text, translated: why there is none). */
#pragma once

#include "study/simulation.h"
#include "studio/document/outcome.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_PLAYER (nappe_player_get_type ())
G_DECLARE_FINAL_TYPE (NappePlayer, nappe_player, NAPPE, PLAYER, GObject)

NappePlayer *nappe_player_new (void);

/* What is played from now on. NULL: nothing. */
void nappe_player_set_outcome (NappePlayer *self, NappeOutcome *outcome);

/* The cases that there are, NappePlan; not owned; never NULL. */
const GPtrArray *nappe_player_get_plans (NappePlayer *self);
/* The chosen one's index; -1: there is none. */
int nappe_player_get_case (NappePlayer *self);
/* Choosing a case does not run it. FALSE: nothing has that id. */
gboolean nappe_player_choose (NappePlayer *self, const char *id);

void nappe_player_run (NappePlayer *self);
void nappe_player_cancel (NappePlayer *self);
gboolean nappe_player_is_busy (NappePlayer *self);
double nappe_player_get_progress (NappePlayer *self);

/* The simulation that is shown, and the outcome that it was made from. Not owned; NULL: none. */
NappeSimulation *nappe_player_get_course (NappePlayer *self);
NappeOutcome *nappe_player_get_outcome (NappePlayer *self);

double nappe_player_get_time (NappePlayer *self);            /* [s] */
void nappe_player_set_time (NappePlayer *self, double time); /* brought into the simulation [s] */

gboolean nappe_player_is_playing (NappePlayer *self);
/* From the end it begins anew. Without a simulation nothing plays. */
void nappe_player_set_playing (NappePlayer *self, gboolean playing);
double nappe_player_get_speed (NappePlayer *self);
void nappe_player_set_speed (NappePlayer *self, double speed); /* > 0 */
/* So much time has gone by for the person [s]. Stops at the end. */
void nappe_player_advance (NappePlayer *self, double seconds);

/* Goes to the next event (1) or the one before (-1) and stops there. FALSE: there is none. */
gboolean nappe_player_step (NappePlayer *self, int way);
/* Goes to an event. */
void nappe_player_show_event (NappePlayer *self, guint event);
/* The last event that has happened, index; -1: none yet. */
int nappe_player_get_event (NappePlayer *self);

G_END_DECLS

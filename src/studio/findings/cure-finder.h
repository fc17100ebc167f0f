/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looks for cures of one finding at a time, on a worker. Cures must pass the rules that play cases in time too, so that a
 * search that is asked for while they are still being played waits for them. What was found is forgotten when the build
 * becomes another one.
 *
 * Signal `changed`: whatever the functions below tell has become something else. */
#pragma once

#include "cures/cure.h"
#include "studio/document/outcome.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_CURES_IDLE,    /* nothing was asked for, or it was stopped */
  NAPPE_CURES_LOOKING, /* under way, or waiting */
  NAPPE_CURES_FOUND,   /* ended; perhaps there are none */
} NappeCuresState;

#define NAPPE_TYPE_CURE_FINDER (nappe_cure_finder_get_type ())
G_DECLARE_FINAL_TYPE (NappeCureFinder, nappe_cure_finder, NAPPE, CURE_FINDER, GObject)

NappeCureFinder *nappe_cure_finder_new (void);

/* Where it looks. An outcome that refines the one before keeps what was found; any other, and NULL, forgets it. */
void nappe_cure_finder_set_outcome (NappeCureFinder *self, NappeOutcome *outcome);
/* The outcome it looks in; NULL: none. Not owned. */
NappeOutcome *nappe_cure_finder_get_outcome (NappeCureFinder *self);

/* Looks for cures of a rule's finding about a part, in place of any search before. Nothing happens without an outcome. */
void nappe_cure_finder_look (NappeCureFinder *self, const char *rule, const char *part);
/* Forgets what is under way or was found. */
void nappe_cure_finder_stop (NappeCureFinder *self);

/* What is known of a finding's cures; IDLE when another finding is looked into. */
NappeCuresState nappe_cure_finder_get_state (NappeCureFinder *self, NappeFinding *finding);
/* NappeCure, likeliest first; empty unless cures were found. Owned by the finder until it changes. */
const GPtrArray *nappe_cure_finder_get_cures (NappeCureFinder *self);
/* The finding that was asked about as the outcome has it; NULL: none, or it has it no more. Not owned. */
NappeFinding *nappe_cure_finder_get_finding (NappeCureFinder *self);

G_END_DECLS

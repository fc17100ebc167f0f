/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A demo build with everything that is computed from it. */
#pragma once

#include "study/study.h"

typedef struct
{
  NappeCatalogue *catalogue;
  NappeBuild *build;
  NappeStudy *study;
} StudyFixture;

extern const char *const demo_names[3];

/* Reads data/demos/NAME.nappe and studies it. */
void study_fixture_load (StudyFixture *self, const char *name);
/* The same with a catalogue that was read before, for tests with many builds: a reference is taken; nothing is studied yet. */
void study_fixture_read (StudyFixture *self, NappeCatalogue *catalogue, const char *name);
/* Studies the build again after it was changed. */
void study_fixture_again (StudyFixture *self);
void study_fixture_clear (StudyFixture *self);
/* Sets a number of the part with an id; the call must be accepted. */
void study_fixture_set (StudyFixture *self, const char *id, const char *field, double value);
/* Water in vessels, pipes and on the floor of a state [m3]. */
double study_total (const NappeState *state);

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A build in which all is well (sound.nappe) with a study made by hand, so that each number can be put
 * a hair to either side of a limit whatever the solver would say. */
#pragma once

#include "rules/rules.h"

/* Litres and litres an hour in SI; a hair for lengths, flows and shares. */
#define LITRE 1e-3
#define LITRE_PER_HOUR (1e-3 / 3600)
#define PER_HOUR (1.0 / 3600)
#define HAIR 1e-7

typedef struct
{
  NappeBuild *build;
  NappeCatalogue *catalogue;
  NappeNetwork *network; /* of the study */
  NappeStudy *study;
  NappeVerdict *verdict; /* of the last run; NULL before */
  NappeUnitSystem units;
  /* Of the study. */
  NappeDrainReport *siphon, *channel, *emergency;
  NappePumpReport *pump;
  NappeWeirReport *weir;
} Fixture;

Fixture *fixture_new (void);
void fixture_free (Fixture *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Fixture, fixture_free)

/* Compiles the build anew after it was changed and fills the study with sound values. */
void fixture_restudy (Fixture *self);

/* A part of the build; it must be there. */
NappePart *fixture_part (Fixture *self, const char *id);
/* Sets a number or a choice of a part [SI]. */
void fixture_set (Fixture *self, const char *id, const char *field, double value);
void fixture_set_text (Fixture *self, const char *id, const char *field, const char *value);
void fixture_remove (Fixture *self, const char *id);

/* Level of a vessel in a state, to be changed. */
double *fixture_level (Fixture *self, NappeState *state, const char *id);
/* A blockage of one drain, of a pair (second not NULL), or of all (first NULL), to be changed. */
NappeBlockage *fixture_blockage (Fixture *self, const char *first, const char *second);
/* The link of a kind that bears an id. */
NappeLink *fixture_link (Fixture *self, NappeLinkKind kind, const char *id);

/* Runs all rules. */
void fixture_run (Fixture *self);
/* After a run: the only finding that a rule has about a part (NULL: any); it must be there, and of the severity. */
NappeFinding *fixture_expect (Fixture *self, const char *rule, const char *part, NappeSeverity severity);
/* After a run: a rule has no finding, and at least one fine one that was checked. */
void fixture_expect_fine (Fixture *self, const char *rule);
/* After a run: a rule has no finding and checked nothing. */
void fixture_expect_unchecked (Fixture *self, const char *rule);
/* A finding's text and remedy hold each of the texts, up to NULL. Thin spaces count as plain ones. */
void fixture_expect_text (NappeFinding *finding, ...) G_GNUC_NULL_TERMINATED;
/* A text with plain spaces for thin and narrow ones. (transfer full) */
char *fixture_plain (const char *text);

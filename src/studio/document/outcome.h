/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A build as it was at one moment, with everything computed about it. Never changed once made and
 * shared by reference count, so pictures and papers made from it agree with themselves whatever
 * happens to the document meanwhile, and may be made on any thread. */
#pragma once

#include <gio/gio.h>

#include "cures/cure.h"
#include "results/result.h"
#include "rules/rules.h"

G_BEGIN_DECLS

typedef struct _NappeOutcome NappeOutcome;
struct _NappeOutcome
{
  gatomicrefcount references;
  NappeOutcome *base; /* whose contents it shares, all but verdict and spread; NULL: they are its own */
  NappeCure *cure;    /* that owns the verdict; NULL: it is its own */
  NappeCatalogue *catalogue;
  NappeBuild *build; /* a copy; not to be changed */
  NappeLayout *layout;
  NappeStudy *study;
  NappeVerdict *verdict;
  NappeHeat *heat;
  NappeLoads *loads;
  NappeSpread *spread;   /* NULL: not computed, see nappe_outcome_refine */
  gboolean timed;        /* the verdict has the rules that play cases in time, see nappe_outcome_refine */
  NappeUnitSystem units; /* of the texts in the verdict */
};

/* Computes all but the spread and what must be played in time, which take a hundred times as long. Takes the build. NULL only
 * when cancelled. */
NappeOutcome *nappe_outcome_new (NappeBuild *build, NappeCatalogue *catalogue, NappeUnitSystem units,
                                 GCancellable *cancellable);
/* The same with the verdict of all rules, those that play cases in time among them, and with the spread, for the bands of its
 * numbers; the spread stays NULL when there is no steady state to depart from. NULL only when cancelled. Transfer full. */
NappeOutcome *nappe_outcome_refine (NappeOutcome *self, GCancellable *cancellable);
/* What would come of a cure that was found in it: the build with the cure, judged as the cure was; without a spread.
 * Transfer full. */
NappeOutcome *nappe_outcome_with_cure (const NappeOutcome *self, NappeCure *cure);
NappeOutcome *nappe_outcome_ref (NappeOutcome *self);
void nappe_outcome_unref (NappeOutcome *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeOutcome, nappe_outcome_unref)

/* The part with an id as it was, or NULL. Not owned. */
NappePart *nappe_outcome_find (const NappeOutcome *self, const char *id);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A build as it was at one moment, with everything computed about it. Never changed once made and
 * shared by reference count, so pictures and papers made from it agree with themselves whatever
 * happens to the document meanwhile, and may be made on any thread. */
#pragma once

#include <gio/gio.h>

#include "rules/rules.h"

G_BEGIN_DECLS

typedef struct
{
  gatomicrefcount references;
  NappeCatalogue *catalogue;
  NappeBuild *build; /* a copy; not to be changed */
  NappeLayout *layout;
  NappeStudy *study;
  NappeVerdict *verdict;
  NappeUnitSystem units; /* of the texts in the verdict */
} NappeOutcome;

/* Computes all. Takes the build. NULL only when cancelled. */
NappeOutcome *nappe_outcome_new (NappeBuild *build, NappeCatalogue *catalogue, NappeUnitSystem units,
                                 GCancellable *cancellable);
NappeOutcome *nappe_outcome_ref (NappeOutcome *self);
void nappe_outcome_unref (NappeOutcome *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeOutcome, nappe_outcome_unref)

/* The part with an id as it was, or NULL. Not owned. */
NappePart *nappe_outcome_find (const NappeOutcome *self, const char *id);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cures: the smallest change of one or two values that clears a finding and raises no other.
 *
 * Found by trying: a copy of the build is changed, studied and judged by the same rules, and a change is taken only when
 * the finding is gone, no rule finds anything new or worse, and no danger has grown. Where nothing does that, what eases
 * a finding is taken: a danger becomes a problem or advice, whatever else is found weighs less than it did, and all that
 * is told. */
#pragma once

#include "rules/rules.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_CURE_LEADS,   /* what one changes */
  NAPPE_CURE_FOLLOWS, /* goes along with it */
  NAPPE_CURE_RESIZES, /* the first piece of a line that takes another size; the others follow */
} NappeCureRole;

/* One value of one part. */
typedef struct
{
  NappeCureRole role;
  char *part;           /* id */
  const char *field;    /* name of the field, interned */
  GValue before, after; /* of the field's type */
} NappeCureChange;

/* A value, never changed; may be handed to other threads and unreferenced there. */
typedef struct
{
  gatomicrefcount references;
  char *rule, *part;   /* of the finding that it clears or eases */
  gboolean eases;      /* it clears the finding not wholly, or at the price of a lesser one */
  char *label;         /* what one does, translated: “Nozzle”: siphon-break hole 448 mm instead of none */
  char *effect;        /* what comes of it, translated sentences with the finding's number before and after */
  GArray *changes;     /* NappeCureChange */
  NappeBuild *build;   /* a copy of the build with it */
  NappeStudy *study;   /* of that copy */
  NappeVerdict *verdict; /* on that copy */
} NappeCure;

/* Where cures are sought. */
typedef struct _NappeCureSearch NappeCureSearch;

/* For a build and what the rules say of it; a copy of the build is taken, of the others a reference or nothing.
 * in_time: cures must pass the rules that play cases in time too; verdict must then be of nappe_rules_run_timed.
 * evaporation: see nappe_rules_play [m3/s]. Transfer full. */
NappeCureSearch *nappe_cure_search_new (NappeBuild *build, NappeCatalogue *catalogue, const NappeVerdict *verdict,
                                        NappeUnitSystem units, gboolean in_time, double evaporation);
/* Cures of one of the verdict's findings: one for each lever that helps, and if none does, pairs of them; if none of
 * those does either, what eases it. Those that leave least to say come first; empty when there is none. Some hundred
 * studies: seconds at the most; not on the main thread. cancellable may be NULL; cancelled, what was found so far.
 * NappeCure, transfer full. */
GPtrArray *nappe_cure_search_run (NappeCureSearch *self, NappeFinding *finding, GCancellable *cancellable);
void nappe_cure_search_free (NappeCureSearch *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeCureSearch, nappe_cure_search_free)

/* Puts the changes into a build, as one undoable step that is named after the cure. FALSE and an error, and nothing
 * changed: a part is gone or a value cannot stand there. */
gboolean nappe_cure_apply (const NappeCure *self, NappeBuild *build, GError **error);

NappeCure *nappe_cure_ref (NappeCure *self);
void nappe_cure_unref (NappeCure *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeCure, nappe_cure_unref)

G_END_DECLS

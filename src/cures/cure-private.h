/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between the files of this room alone. */
#pragma once

#include "cures/cure.h"

G_BEGIN_DECLS

struct _NappeCureSearch
{
  NappeBuild *build; /* a copy that attempts change and take back */
  NappeCatalogue *catalogue;
  NappeUnitSystem units;
  gboolean in_time;
  double evaporation;  /* [m3/s] */
  GPtrArray *known;    /* NappeKnownFinding: what the rules said before */
  GHashTable *looked;  /* ids of the rules that looked at something before */
  char *counts;        /* the findings of before, counted, in words */
  gboolean easing;       /* the finding may stay as something less, and other lesser ones may come */
  NappeFinding *finding; /* that is to be cleared; while a search runs */
  GCancellable *cancellable;
};

/* A finding of before. */
typedef struct
{
  char *rule, *part;
  NappeSeverity severity;
  double excess; /* how far its number is off its limit; NaN: no number */
} NappeKnownFinding;

/* changes.c: a list of changes (NappeCureChange) and what it does to a build. */
GArray *nappe_cure_changes_new (void);
/* after: of the field's type. FALSE: no such part or field, or the value cannot stand there. */
gboolean nappe_cure_changes_add (GArray *changes, NappeBuild *build, NappeCureRole role, const char *part,
                                 const char *field, const GValue *after);
gboolean nappe_cure_changes_add_number (GArray *changes, NappeBuild *build, NappeCureRole role, const char *part,
                                        const char *field, double after);
gboolean nappe_cure_changes_put (const GArray *changes, NappeBuild *build, GError **error);

/* sizes.c: all pieces of a line in the size that is `step` sizes larger or smaller. FALSE: the catalogue has none, or
 * the line has reducers, whose sizes do not follow. */
gboolean nappe_cure_add_sizes (GArray *changes, NappeBuild *build, NappeCatalogue *catalogue, const char *line,
                               gboolean larger, guint step);

/* search.c: the smallest move of a lever that helps, or of two of them; NULL: none does. Transfer full. */
GArray *nappe_cure_move (NappeCureSearch *self, const NappeLever *lever);
GArray *nappe_cure_move_two (NappeCureSearch *self, const GPtrArray *levers);

/* attempt.c: whether a build with the changes is rid of the finding and has nothing new; the scratch copy is as
 * before afterwards. */
gboolean nappe_cure_attempt (NappeCureSearch *self, const GArray *changes);
/* What the rules say of the scratch copy as it stands. *study: (out, transfer full). Transfer full. */
NappeVerdict *nappe_cure_judge (NappeCureSearch *self, gboolean in_time, NappeStudy **study);

/* words.c: translated; transfer full. */
char *nappe_cure_label (NappeCureSearch *self, const GArray *changes);
char *nappe_cure_effect (NappeCureSearch *self, const NappeVerdict *after);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the document share; for document*.c alone. */
#pragma once

#include "studio/document.h"

G_BEGIN_DECLS

typedef struct _NappeDraft NappeDraft;

struct _NappeDocument
{
  GObject parent_instance;
  NappeBuild *build;
  GFile *file;
  NappeCatalogue *catalogue;
  GPtrArray *warnings;
  NappeOutcome *outcome;
  GError *error;
  NappeUnitSystem units;
  GCancellable *study_cancellable; /* of the study under way; NULL: none */
  GCancellable *refine_cancellable; /* of the refinement under way; NULL: none */
  guint serial;                    /* counts what makes a study stale */
  guint changes;                   /* counts changes of the build */
  char *title;
  gint64 study_cost;               /* of the last study [us] */
  NappeDraft *draft;               /* a number being tried; NULL: none */
};

/* Puts in a build and starts its study. file: NULL when it has none. */
void nappe_document_put_in (NappeDocument *self, NappeBuild *build, GFile *file);

/* After another file was set, or the build was marked saved: tells of the title and the history. */
void nappe_document_notify_file (NappeDocument *self);

void nappe_document_notify_history (NappeDocument *self);
/* Stops what is being worked out beyond the study, and begins it again where it is still wanted. */
void nappe_document_pause_refinement (NappeDocument *self);
void nappe_document_resume_refinement (NappeDocument *self);

G_END_DECLS

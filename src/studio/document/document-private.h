/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the document share; for document*.c alone. */
#pragma once

#include "studio/document/document.h"

G_BEGIN_DECLS

typedef struct _NappeDraft NappeDraft;

struct _NappeDocument
{
  GObject parent_instance;
  NappeBuild *build;
  GFile *file;
  NappeCatalogue *catalogue;
  gboolean catalogue_stale;        /* the next study loads it anew */
  GPtrArray *warnings;
  NappeOutcome *outcome;
  GError *error;
  NappeUnitSystem units;
  GCancellable *study_cancellable; /* of the study under way; NULL: none */
  GCancellable *refine_cancellable; /* of the refinement under way; NULL: none */
  guint serial;                    /* counts what makes a study stale */
  guint changes;                   /* counts changes of the build */
  char *base;                      /* hash of the build that is in the file as far as is known; NULL: not known */
  char *seen;                      /* hash of what was last seen in the file; NULL: there was none */
  gboolean apart;                  /* to be saved even without a change: the file has not this build */
  NappeDiskState disk;
  GFileMonitor *monitor;           /* of the file; NULL: there is none */
  guint check;                     /* source that will look at the file; 0: none */
  GQueue saves;                    /* GTask: the writing under way, and those that wait for it */
  char *title;
  gint64 study_cost;               /* of the last study [us] */
  NappeDraft *draft;               /* a number being tried; NULL: none */
};

/* Puts in a build and starts its study. file: NULL when it has none. base: transfer full, as below. */
void nappe_document_put_in (NappeDocument *self, NappeBuild *build, GFile *file, char *base, gboolean apart);

/* What is in a file: the hash of its build; "unreadable" when there is none in it; NULL: there is no such file. For a
 * worker. Transfer full. */
char *nappe_document_hash_file (GFile *file, GCancellable *cancellable);

/* After the file was read or written: another is watched, and what is known of it holds. base: transfer full. */
void nappe_document_know_file (NappeDocument *self, char *base);
/* Looks at the file soon. */
void nappe_document_check_soon (NappeDocument *self);
/* The file was found to be another than was thought. seen: transfer full. */
void nappe_document_take_seen (NappeDocument *self, char *seen);
/* When the document goes. */
void nappe_document_stop_watching (NappeDocument *self);

/* After another file was set, or the build was marked saved: tells of the title and the history. */
void nappe_document_notify_file (NappeDocument *self);

void nappe_document_notify_history (NappeDocument *self);
/* Stops what is being worked out beyond the study, and begins it again where it is still wanted. */
void nappe_document_pause_refinement (NappeDocument *self);
void nappe_document_resume_refinement (NappeDocument *self);

G_END_DECLS

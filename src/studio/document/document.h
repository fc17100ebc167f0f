/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One open build: the model with its undo, the file it came from, and what is computed about it.
 *
 * The build is read and changed on the main thread alone. Every change starts a study of a copy on a
 * worker; a study that was overtaken by another change is cancelled and its result dropped. Reading
 * and writing files happens on a worker too.
 *
 * Properties: `title` (string, for the window), `modified`, `busy` (a study is under way),
 * `can-undo`, `can-redo` (read-only). Signals: `replaced` (another build was put in), `changed` (the
 * build changed), `computed` (the outcome is a new one), `refined` (the outcome is the same with what comes some
 * time after it: what the rules say that play cases in time, and the bands of its numbers), `drafted` (what a number
 * being tried leads to is known, or nothing is tried any more), `catalogue-changed` (another catalogue has been loaded),
 * `disk-changed` (the
 * state of the file is another). */
#pragma once

#include "studio/document/outcome.h"

G_BEGIN_DECLS

/* What another program has done to the document's file since it was read or written. */
typedef enum
{
  NAPPE_DISK_SAME,
  NAPPE_DISK_CHANGED, /* another build is in it, or none that can be read */
  NAPPE_DISK_GONE,
} NappeDiskState;

#define NAPPE_TYPE_DOCUMENT (nappe_document_get_type ())
G_DECLARE_FINAL_TYPE (NappeDocument, nappe_document, NAPPE, DOCUMENT, GObject)

NappeDocument *nappe_document_new (void);

NappeBuild *nappe_document_get_build (NappeDocument *self);     /* NULL while nothing is open */
NappeOutcome *nappe_document_get_outcome (NappeDocument *self); /* not owned; NULL until the first study */
GFile *nappe_document_get_file (NappeDocument *self);           /* NULL for a build that was never saved */
NappeCatalogue *nappe_document_get_catalogue (NappeDocument *self); /* NULL until the first study */
/* Loads the catalogue anew, since the user's own part of it has changed; the old one holds until then. */
void nappe_document_reload_catalogue (NappeDocument *self);
const char *nappe_document_get_title (NappeDocument *self);
gboolean nappe_document_is_modified (NappeDocument *self);
gboolean nappe_document_is_busy (NappeDocument *self);
/* Why nothing can be computed: the catalogue cannot be read; NULL: nothing is in the way. */
const GError *nappe_document_get_error (NappeDocument *self);
/* What is wrong in the user's own catalogue, char *; NULL or empty: nothing. Not owned. */
const GPtrArray *nappe_document_get_warnings (NappeDocument *self);

/* Units of the texts in the verdict. */
void nappe_document_set_units (NappeDocument *self, NappeUnitSystem units);

/* Puts in a build that has no file yet. */
void nappe_document_set_build (NappeDocument *self, NappeBuild *build);

/* Puts in a build with changes that are not in its file. file: NULL when it has none. base: nullable; hash of the build
 * that the file had when the changes were begun. */
void nappe_document_restore (NappeDocument *self, NappeBuild *build, GFile *file, const char *base);

/* Reads a file and puts its build in; on an error the old one stays. */
void nappe_document_open_async (NappeDocument *self, GFile *file, GCancellable *cancellable,
                                GAsyncReadyCallback callback, gpointer user_data);
gboolean nappe_document_open_finish (NappeDocument *self, GAsyncResult *result, GError **error);

/* Writes the build as it is now to a file and keeps that as the document's file. What another program has put into the
 * document's own file is not overwritten: G_IO_ERROR_WRONG_ETAG, until nappe_document_keep_mine(). */
void nappe_document_save_async (NappeDocument *self, GFile *file, GCancellable *cancellable,
                                GAsyncReadyCallback callback, gpointer user_data);
gboolean nappe_document_save_finish (NappeDocument *self, GAsyncResult *result, GError **error);

NappeDiskState nappe_document_get_disk (NappeDocument *self);
/* The hash of the build in the document's file; NULL: not known. */
const char *nappe_document_get_base (NappeDocument *self);
/* The build stands against what another program has put into the file, and counts as modified. */
void nappe_document_keep_mine (NappeDocument *self);

/* A number is tried while a person drags it: the build is left alone, what would come of it is computed within the
 * frame where that is quick, and `drafted` tells of it. Letting go makes one step to undo of it. While one is tried
 * nothing is undone or redone; a change of the build from elsewhere drops it. */
/* FALSE: there is no such number, nothing can be computed yet, or another one is being tried. */
gboolean nappe_document_begin_draft (NappeDocument *self, const char *part, const char *field);
/* value: SI; what follows it goes along (build/coupling.h). FALSE with an error of NAPPE_BUILD_ERROR: the one before stays. */
gboolean nappe_document_move_draft (NappeDocument *self, double value, GError **error);
gboolean nappe_document_keep_draft (NappeDocument *self, GError **error);
void nappe_document_drop_draft (NappeDocument *self);
gboolean nappe_document_has_draft (NappeDocument *self);
/* What the number being tried leads to, else the document's outcome. Not owned. */
NappeOutcome *nappe_document_get_shown_outcome (NappeDocument *self);

gboolean nappe_document_can_undo (NappeDocument *self);
gboolean nappe_document_can_redo (NappeDocument *self);
void nappe_document_undo (NappeDocument *self);
void nappe_document_redo (NappeDocument *self);

G_END_DECLS

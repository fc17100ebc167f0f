/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The undo stack: labelled steps, each a row of changes that can be applied and taken back.
 *
 * It knows nothing of what the changes do; they act on a document that it hands to them. A state is
 * identified by the step that led to it, so that "saved" survives undoing and redoing. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The first member of every kind of change. */
typedef struct _NappeChange NappeChange;
struct _NappeChange
{
  void (*apply) (NappeChange *self, gpointer document);
  void (*revert) (NappeChange *self, gpointer document);
  void (*free) (NappeChange *self);
};

typedef struct _NappeHistory NappeHistory;

/* Steps that are kept; the oldest are forgotten first. */
#define NAPPE_HISTORY_STEPS_MAX 1000

/* document: handed to every change; not owned. */
NappeHistory *nappe_history_new (gpointer document);
void nappe_history_free (NappeHistory *self);

/* Opens a step, or a step inside the open one. label: for people; the outermost one counts. */
void nappe_history_begin (NappeHistory *self, const char *label);
/* Applies a change (transfer full) and puts it into the open step. */
void nappe_history_do (NappeHistory *self, NappeChange *change);
/* Closes the innermost level. TRUE when that ended a step that changed something. A step that was
 * rolled back on an inner level is taken back whole here. */
gboolean nappe_history_commit (NappeHistory *self);
/* Takes back everything since the outermost begin, and closes the innermost level. Outer levels
 * stay open, but nothing done on them lasts. */
void nappe_history_roll_back (NappeHistory *self);
gboolean nappe_history_is_open (const NappeHistory *self);

/* The label of the step that undo or redo would move over, or NULL. Owned by the history. */
const char *nappe_history_undo_label (const NappeHistory *self);
const char *nappe_history_redo_label (const NappeHistory *self);
/* FALSE when there is nothing to move over or a step is open. */
gboolean nappe_history_undo (NappeHistory *self);
gboolean nappe_history_redo (NappeHistory *self);

void nappe_history_mark_saved (NappeHistory *self);
/* Whether the state is another than at the last mark, or at the start when there was none. */
gboolean nappe_history_is_modified (const NappeHistory *self);

G_END_DECLS

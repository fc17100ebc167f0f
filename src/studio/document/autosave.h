/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keeps a copy of a document's unsaved changes, so that a crash or a power cut takes a few seconds of work at most.
 *
 * The copy is written on a worker, NAPPE_AUTOSAVE_DELAY after the first change that it has not got, and taken away as
 * soon as nothing is unsaved. The document's own file is never touched.
 *
 * Signals: `failed` (string, translated: no copy can be kept, and why; once until one can be). */
#pragma once

#include "file/rescue.h"
#include "studio/document/document.h"

G_BEGIN_DECLS

#define NAPPE_AUTOSAVE_DELAY 3 /* [s] */

#define NAPPE_TYPE_AUTOSAVE (nappe_autosave_get_type ())
G_DECLARE_FINAL_TYPE (NappeAutosave, nappe_autosave, NAPPE, AUTOSAVE, GObject)

NappeAutosave *nappe_autosave_new (NappeDocument *document);

/* The document was put in from this copy, which is kept until a newer one takes its place. Transfer full. */
void nappe_autosave_adopt (NappeAutosave *self, NappeRescue *rescue);

/* Stops. keep: unsaved changes stay where they are kept, to be restored when the program is next started. */
void nappe_autosave_end (NappeAutosave *self, gboolean keep);

G_END_DECLS

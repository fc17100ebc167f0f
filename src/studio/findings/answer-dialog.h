/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asks why a finding may stand, and who says so; writes the answer into the document's build. */
#pragma once

#include <adwaita.h>

#include "studio/document/document.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_ANSWER_DIALOG (nappe_answer_dialog_get_type ())
G_DECLARE_FINAL_TYPE (NappeAnswerDialog, nappe_answer_dialog, NAPPE, ANSWER_DIALOG, AdwWindow)

/* The document must have a build. An answer given before, to be changed, is filled in. */
GtkWindow *nappe_answer_dialog_new (GtkWindow *parent, NappeDocument *document, NappeFinding *finding);

G_END_DECLS

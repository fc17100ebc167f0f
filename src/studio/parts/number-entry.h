/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Types a number of a part where it stands in a picture, in any unit; Enter puts it in with what follows it, Escape closes. */
#pragma once

#include <gtk/gtk.h>

#include "studio/document/document.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_NUMBER_ENTRY (nappe_number_entry_get_type ())
G_DECLARE_FINAL_TYPE (NappeNumberEntry, nappe_number_entry, NAPPE, NUMBER_ENTRY, GtkPopover)

/* part, field: of a number of the document's build. It lets go of its parent when it is closed. */
GtkWidget *nappe_number_entry_new (NappeDocument *document, const char *part, const char *field, NappeUnitSystem units);

G_END_DECLS

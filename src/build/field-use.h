/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which fields of a part mean something for what it is now: the opening of a valve says nothing of a pipe, the slots' width
 * nothing of a smooth weir. A field that means nothing keeps its value and changes nothing that is computed. */
#pragma once

#include "build/part.h"
#include "catalogue/catalogue.h"

G_BEGIN_DECLS

/* item: the part's catalogue item, NULL where it has none or it is not known; then it is taken for any. A part that stands in
 * another one is judged with that one. */
gboolean nappe_field_is_used (const NappeField *field, NappePart *part, const NappeItem *item);

G_END_DECLS

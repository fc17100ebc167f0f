/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The value of a field as text that a person can read and type. Needs no display. */
#pragma once

#include "build/build.h"

G_BEGIN_DECLS

/* What an editor shows: a number with its unit and all digits that were given, "" for one that was
 * not given. Transfer full. */
char *nappe_field_text (NappePart *part, const NappeField *field, NappeUnitSystem units);

/* What was typed, as a value of the field's type, checked. `value` is set on success alone. Errors:
 * NAPPE_UNITS_ERROR, NAPPE_BUILD_ERROR. */
gboolean nappe_field_read_text (const NappeField *field, const char *text, NappeUnitSystem units, GValue *value,
                                GError **error);

G_END_DECLS

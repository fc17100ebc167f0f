/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The alternatives of a field that is chosen from a list. Needs no display. */
#pragma once

#include "build/build.h"
#include "catalogue/catalogue.h"

G_BEGIN_DECLS

/* For a choice: its alternatives. For a reference: the parts it may name, of pieces the tees that make sense. For a
 * catalogue item: the items that can stand in for the present one, or all that fit the kind of
 * part. "" for none where a value need not be given. The present value is always among them.
 *  catalogue  may be NULL, except for an item
 *  units      of the sizes in the labels of items
 *  values     (out) nicks or ids; transfer full
 *  labels     (out) translated, in the same order; transfer full */
void nappe_field_choices (NappeBuild *build, NappePart *part, const NappeField *field, NappeCatalogue *catalogue,
                          NappeUnitSystem units, GStrv *values, GStrv *labels);

G_END_DECLS

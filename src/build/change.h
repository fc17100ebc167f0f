/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The changes that a build's history is made of; for editing.c only. They act on parts, which
 * they hold by reference, so that a part taken out and put back is the same object. */
#pragma once

#include "build/history.h"
#include "build/part.h"

/* Puts another value into a field. */
NappeChange *nappe_change_value (NappePart *part, const NappeField *field, const GValue *value);
/* Gives a part another name. */
NappeChange *nappe_change_name (NappePart *part, const char *name);
/* Adds a child to a list. */
NappeChange *nappe_change_insertion (NappePart *owner, const NappeSlot *slot, guint index, NappePart *child);
/* Takes a child out of the list it stands in. */
NappeChange *nappe_change_removal (NappePart *child);
/* Puts a child at another index of its list. */
NappeChange *nappe_change_move (NappePart *child, guint index);

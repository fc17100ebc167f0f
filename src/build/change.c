/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "build/change.h"

/* A reference that keeps a part alive for a change. The root keeps the history, so that a change
 * must not keep the root: NULL for it. */
static NappePart *
hold (NappePart *part)
{
  return nappe_part_get_owner (part) != NULL ? g_object_ref (part) : NULL;
}

typedef struct
{
  NappeChange base;
  NappePart *part;
  NappePart *held;
  const NappeField *field;
  GValue other; /* the value that the field does not hold at the moment */
} ValueChange;

static void
swap_value (NappeChange *change, gpointer document)
{
  ValueChange *self = (ValueChange *) change;
  GValue current = G_VALUE_INIT;

  nappe_part_read (self->part, self->field, &current);
  nappe_part_write (self->part, self->field, &self->other);
  g_value_unset (&self->other);
  self->other = current;
}

static void
free_value (NappeChange *change)
{
  ValueChange *self = (ValueChange *) change;

  g_value_unset (&self->other);
  g_clear_object (&self->held);
  g_free (self);
}

NappeChange *
nappe_change_value (NappePart *part, const NappeField *field, const GValue *value)
{
  ValueChange *self = g_new0 (ValueChange, 1);

  self->base = (NappeChange){ swap_value, swap_value, free_value };
  self->part = part;
  self->held = hold (part);
  self->field = field;
  g_value_init (&self->other, nappe_field_value_type (field));
  g_value_copy (value, &self->other);
  return &self->base;
}

typedef struct
{
  NappeChange base;
  NappePart *part;
  NappePart *held;
  char *other; /* the name that the part does not have at the moment */
} NameChange;

static void
swap_name (NappeChange *change, gpointer document)
{
  NameChange *self = (NameChange *) change;
  char *current = g_strdup (nappe_part_get_name (self->part));

  nappe_part_set_name (self->part, self->other);
  g_free (self->other);
  self->other = current;
}

static void
free_name (NappeChange *change)
{
  NameChange *self = (NameChange *) change;

  g_free (self->other);
  g_clear_object (&self->held);
  g_free (self);
}

NappeChange *
nappe_change_name (NappePart *part, const char *name)
{
  NameChange *self = g_new0 (NameChange, 1);

  self->base = (NappeChange){ swap_name, swap_name, free_name };
  self->part = part;
  self->held = hold (part);
  self->other = g_strdup (name);
  return &self->base;
}

/* Where a child stands, or stood, or shall stand. */
typedef struct
{
  NappeChange base;
  NappePart *owner;
  NappePart *held; /* the owner, unless it is the root */
  const NappeSlot *slot;
  NappePart *child;
  guint index; /* in the list */
  guint other; /* index after a move */
} PlaceChange;

static void
put_in (NappeChange *change, gpointer document)
{
  PlaceChange *self = (PlaceChange *) change;

  nappe_part_attach (self->owner, self->slot, self->index, self->child);
}

static void
take_out (NappeChange *change, gpointer document)
{
  PlaceChange *self = (PlaceChange *) change;

  g_object_unref (nappe_part_detach (self->owner, self->slot, self->index));
}

static void
move_between (PlaceChange *self, guint from, guint to)
{
  g_autoptr (NappePart) child = nappe_part_detach (self->owner, self->slot, from);

  nappe_part_attach (self->owner, self->slot, to, child);
}

static void
move_there (NappeChange *change, gpointer document)
{
  PlaceChange *self = (PlaceChange *) change;

  move_between (self, self->index, self->other);
}

static void
move_back (NappeChange *change, gpointer document)
{
  PlaceChange *self = (PlaceChange *) change;

  move_between (self, self->other, self->index);
}

static void
free_place (NappeChange *change)
{
  PlaceChange *self = (PlaceChange *) change;

  g_clear_object (&self->held);
  g_object_unref (self->child);
  g_free (self);
}

static PlaceChange *
place_change_new (NappePart *owner, const NappeSlot *slot, guint index, NappePart *child)
{
  PlaceChange *self = g_new0 (PlaceChange, 1);

  self->owner = owner;
  self->held = hold (owner);
  self->slot = slot;
  self->index = index;
  self->child = g_object_ref (child);
  return self;
}

NappeChange *
nappe_change_insertion (NappePart *owner, const NappeSlot *slot, guint index, NappePart *child)
{
  PlaceChange *self = place_change_new (owner, slot, index, child);

  self->base = (NappeChange){ put_in, take_out, free_place };
  return &self->base;
}

static PlaceChange *
change_of_placed (NappePart *child)
{
  guint index;
  const NappeSlot *slot = nappe_part_place (child, &index);

  return place_change_new (nappe_part_get_owner (child), slot, index, child);
}

NappeChange *
nappe_change_removal (NappePart *child)
{
  PlaceChange *self = change_of_placed (child);

  self->base = (NappeChange){ take_out, put_in, free_place };
  return &self->base;
}

NappeChange *
nappe_change_move (NappePart *child, guint index)
{
  PlaceChange *self = change_of_placed (child);

  self->base = (NappeChange){ move_there, move_back, free_place };
  self->other = index;
  return &self->base;
}

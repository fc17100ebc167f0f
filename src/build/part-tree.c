/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts that own parts: slots, walking, copying and comparing whole trees. */
#include "config.h"

#include <string.h>

#include "build/part-private.h"

static GPtrArray **
list_place (NappePart *self, const NappeSlot *slot)
{
  return (GPtrArray **) G_STRUCT_MEMBER_P (self, slot->offset);
}

static NappePart **
single_place (NappePart *self, const NappeSlot *slot)
{
  return (NappePart **) G_STRUCT_MEMBER_P (self, slot->offset);
}

static void
adopt (NappePart *self, const NappeSlot *slot, NappePart *child)
{
  NappePartPrivate *priv = nappe_part_private (child);

  priv->owner = self;
  priv->slot = slot;
}

static void
disown (NappePart *child)
{
  NappePartPrivate *priv = nappe_part_private (child);

  priv->owner = NULL;
  priv->slot = NULL;
}

void
nappe_part_create_slots (NappePart *self)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);

  for (gsize i = 0; i < klass->n_slots; i++)
    {
      const NappeSlot *slot = &klass->slots[i];
      if (slot->single)
        {
          *single_place (self, slot) = g_object_new (slot->type (), NULL);
          adopt (self, slot, *single_place (self, slot));
        }
      else
        *list_place (self, slot) = g_ptr_array_new_with_free_func (g_object_unref);
    }
}

void
nappe_part_release_slots (NappePart *self)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);

  for (gsize i = 0; i < klass->n_slots; i++)
    {
      const NappeSlot *slot = &klass->slots[i];
      if (slot->single && *single_place (self, slot) != NULL)
        {
          disown (*single_place (self, slot));
          g_clear_object (single_place (self, slot));
        }
      else if (!slot->single)
        {
          g_ptr_array_foreach (*list_place (self, slot), (GFunc) (void (*) (void)) disown, NULL);
          g_ptr_array_set_size (*list_place (self, slot), 0);
        }
    }
}

void
nappe_part_free_slots (NappePart *self)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);

  for (gsize i = 0; i < klass->n_slots; i++)
    if (!klass->slots[i].single)
      g_clear_pointer (list_place (self, &klass->slots[i]), g_ptr_array_unref);
}

NappePart *
nappe_part_get_owner (NappePart *self)
{
  return nappe_part_private (self)->owner;
}

NappePart *
nappe_part_get_root (NappePart *self)
{
  NappePart *root = self;

  while (nappe_part_get_owner (root) != NULL)
    root = nappe_part_get_owner (root);
  return root;
}

const NappeSlot *
nappe_part_find_slot (NappePart *self, const char *name)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);

  for (gsize i = 0; i < klass->n_slots; i++)
    if (strcmp (klass->slots[i].name, name) == 0)
      return &klass->slots[i];
  return NULL;
}

GPtrArray *
nappe_part_list (NappePart *self, const NappeSlot *slot)
{
  g_return_val_if_fail (!slot->single, NULL);
  return *list_place (self, slot);
}

NappePart *
nappe_part_single (NappePart *self, const NappeSlot *slot)
{
  g_return_val_if_fail (slot->single, NULL);
  return *single_place (self, slot);
}

const NappeSlot *
nappe_part_place (NappePart *self, guint *index)
{
  const NappePartPrivate *priv = nappe_part_private (self);

  *index = 0;
  if (priv->slot != NULL && !priv->slot->single)
    g_ptr_array_find (*list_place (priv->owner, priv->slot), self, index);
  return priv->slot;
}

void
nappe_part_attach (NappePart *self, const NappeSlot *slot, guint index, NappePart *child)
{
  g_return_if_fail (nappe_part_get_owner (child) == NULL);
  g_return_if_fail (G_TYPE_CHECK_INSTANCE_TYPE (child, slot->type ()));

  if (slot->single)
    {
      disown (*single_place (self, slot));
      g_set_object (single_place (self, slot), child);
    }
  else
    {
      GPtrArray *list = *list_place (self, slot);
      g_ptr_array_insert (list, (int) MIN (index, list->len), g_object_ref (child));
    }
  adopt (self, slot, child);
}

NappePart *
nappe_part_detach (NappePart *self, const NappeSlot *slot, guint index)
{
  NappePart *child;

  g_return_val_if_fail (!slot->single && index < (*list_place (self, slot))->len, NULL);
  child = g_ptr_array_steal_index (*list_place (self, slot), index);
  disown (child);
  return child;
}

void
nappe_part_visit (NappePart *self, NappePartVisitor visitor, gpointer user_data)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);

  visitor (self, user_data);
  for (gsize i = 0; i < klass->n_slots; i++)
    {
      const NappeSlot *slot = &klass->slots[i];
      GPtrArray *list = slot->single ? NULL : *list_place (self, slot);
      if (slot->single)
        nappe_part_visit (*single_place (self, slot), visitor, user_data);
      for (guint k = 0; list != NULL && k < list->len; k++)
        nappe_part_visit (g_ptr_array_index (list, k), visitor, user_data);
    }
}

NappePart *
nappe_part_find (NappePart *self, const char *id)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);
  NappePart *found = NULL;

  if (id == NULL || *id == '\0')
    return NULL;
  if (strcmp (nappe_part_get_id (self), id) == 0)
    return self;
  for (gsize i = 0; found == NULL && i < klass->n_slots; i++)
    {
      const NappeSlot *slot = &klass->slots[i];
      GPtrArray *list = slot->single ? NULL : *list_place (self, slot);
      if (slot->single)
        found = nappe_part_find (*single_place (self, slot), id);
      for (guint k = 0; list != NULL && found == NULL && k < list->len; k++)
        found = nappe_part_find (g_ptr_array_index (list, k), id);
    }
  return found;
}

static void
copy_values (NappePart *from, NappePart *to)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (from);
  const NappePartPrivate *priv = nappe_part_private (from);

  nappe_part_set_id (to, priv->id);
  nappe_part_set_name (to, priv->name);
  if (priv->unknown != NULL && priv->copy_unknown != NULL)
    nappe_part_set_unknown (to, priv->copy_unknown (priv->unknown), priv->copy_unknown, priv->destroy_unknown);
  for (gsize i = 0; i < klass->n_fields; i++)
    {
      g_auto (GValue) value = G_VALUE_INIT;
      nappe_part_read (from, &klass->fields[i], &value);
      nappe_part_write (to, &klass->fields[i], &value);
    }
}

static void
attach_copy (NappePart *to, const NappeSlot *slot, NappePart *child)
{
  g_autoptr (NappePart) copy = nappe_part_copy (child);

  nappe_part_attach (to, slot, G_MAXUINT, copy);
}

NappePart *
nappe_part_copy (NappePart *self)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);
  NappePart *copy = g_object_new (G_OBJECT_TYPE (self), NULL);

  copy_values (self, copy);
  for (gsize i = 0; i < klass->n_slots; i++)
    {
      const NappeSlot *slot = &klass->slots[i];
      GPtrArray *list = slot->single ? NULL : *list_place (self, slot);
      if (slot->single)
        attach_copy (copy, slot, *single_place (self, slot));
      for (guint k = 0; list != NULL && k < list->len; k++)
        attach_copy (copy, slot, g_ptr_array_index (list, k));
    }
  return copy;
}

static gboolean
values_equal (NappePart *a, NappePart *b)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (a);

  if (strcmp (nappe_part_get_id (a), nappe_part_get_id (b)) != 0 ||
      strcmp (nappe_part_get_name (a), nappe_part_get_name (b)) != 0)
    return FALSE;
  for (gsize i = 0; i < klass->n_fields; i++)
    {
      g_auto (GValue) of_a = G_VALUE_INIT;
      g_auto (GValue) of_b = G_VALUE_INIT;
      nappe_part_read (a, &klass->fields[i], &of_a);
      nappe_part_read (b, &klass->fields[i], &of_b);
      if (!nappe_field_value_equal (&klass->fields[i], &of_a, &of_b))
        return FALSE;
    }
  return TRUE;
}

static gboolean
lists_equal (GPtrArray *a, GPtrArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint k = 0; k < a->len; k++)
    if (!nappe_part_equal (g_ptr_array_index (a, k), g_ptr_array_index (b, k)))
      return FALSE;
  return TRUE;
}

gboolean
nappe_part_equal (NappePart *a, NappePart *b)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (a);

  if (G_OBJECT_TYPE (a) != G_OBJECT_TYPE (b) || !values_equal (a, b))
    return FALSE;
  for (gsize i = 0; i < klass->n_slots; i++)
    {
      const NappeSlot *slot = &klass->slots[i];
      gboolean equal = slot->single
                           ? nappe_part_equal (*single_place (a, slot), *single_place (b, slot))
                           : lists_equal (*list_place (a, slot), *list_place (b, slot));
      if (!equal)
        return FALSE;
    }
  return TRUE;
}

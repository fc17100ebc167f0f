/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "file/part-path.h"

static void
append_path (GString *path, NappePart *part)
{
  NappePart *owner = nappe_part_get_owner (part);
  const NappeSlot *slot;
  guint index;

  if (owner == NULL)
    return;
  append_path (path, owner);
  if (path->len > 0)
    g_string_append_c (path, '.');
  slot = nappe_part_place (part, &index);
  g_string_append (path, slot->name);
  if (!slot->single)
    g_string_append_printf (path, "[%u]", index);
}

char *
nappe_part_path (NappePart *part, const char *member)
{
  GString *path = g_string_new (NULL);

  append_path (path, part);
  if (member != NULL && path->len > 0)
    g_string_append_c (path, '.');
  if (member != NULL)
    g_string_append (path, member);
  return g_string_free (path, FALSE);
}

char *
nappe_part_usual_id (NappePart *part)
{
  NappePart *owner = nappe_part_get_owner (part);
  const NappeSlot *slot;
  guint index;

  if (owner == NULL)
    return NULL;
  slot = nappe_part_place (part, &index);
  if (!slot->single)
    return NULL;
  if (nappe_part_get_owner (owner) == NULL)
    return g_strdup (slot->name);
  return g_strdup_printf ("%s-%s", nappe_part_get_id (owner), slot->name);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole line in other pipe: each piece by its like in another nominal size. */
#include "cures/cure-private.h"

static gboolean
are_alike (const NappeItem *a, const NappeItem *b)
{
  return a->kind == b->kind && g_strcmp0 (a->family, b->family) == 0 && g_strcmp0 (a->shape, b->shape) == 0
         && g_strcmp0 (a->valve_kind, b->valve_kind) == 0 && g_strcmp0 (a->name, b->name) == 0;
}

/* The next larger or smaller item of the same make; NULL: there is none. */
static const NappeItem *
next_size (NappeCatalogue *catalogue, const NappeItem *item, gboolean larger)
{
  g_autoptr (GPtrArray) items = nappe_catalogue_of_kind (catalogue, item->kind);
  const NappeItem *next = NULL;

  for (guint i = 0; i < items->len; i++)
    {
      const NappeItem *other = items->pdata[i];
      gboolean beyond = larger ? other->bore > item->bore : other->bore < item->bore;
      gboolean nearer = next == NULL || (larger ? other->bore < next->bore : other->bore > next->bore);
      if (are_alike (other, item) && beyond && nearer)
        next = other;
    }
  return next;
}

typedef struct
{
  GArray *changes;
  NappeBuild *build;
  NappeCatalogue *catalogue;
  gboolean larger;
  guint step;
  NappeCureRole role; /* of the next piece */
  gboolean failed;
} Resizing;

static void
resize_piece (NappePart *part, gpointer data)
{
  Resizing *self = data;
  g_auto (GValue) value = G_VALUE_INIT;

  if (!NAPPE_IS_PIECE (part) || self->failed)
    return;
  const NappeItem *item = nappe_catalogue_find (self->catalogue, NAPPE_PIECE (part)->item);
  gboolean fixed = item == NULL || item->bore_out != item->bore;
  for (guint i = 0; i < self->step && item != NULL; i++)
    item = next_size (self->catalogue, item, self->larger);
  g_value_init (&value, G_TYPE_STRING);
  g_value_set_string (&value, item != NULL ? item->id : "");
  self->failed = fixed || item == NULL
                 || !nappe_cure_changes_add (self->changes, self->build, self->role, nappe_part_get_id (part), "item", &value);
  self->role = NAPPE_CURE_FOLLOWS;
}

gboolean
nappe_cure_add_sizes (GArray *changes, NappeBuild *build, NappeCatalogue *catalogue, const char *line, gboolean larger,
                      guint step)
{
  Resizing resizing = { changes, build, catalogue, larger, step, NAPPE_CURE_RESIZES, FALSE };
  NappePart *part = nappe_build_find (build, line);
  guint before = changes->len;

  if (part == NULL)
    return FALSE;
  nappe_part_visit (part, resize_piece, &resizing);
  return !resizing.failed && changes->len > before;
}

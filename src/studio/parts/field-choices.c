/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/field-choices.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* The two lists being written. */
typedef struct
{
  GPtrArray *values, *labels; /* char * */
  const NappeField *field;
  NappePart *asking;
  NappeCatalogue *catalogue; /* NULL: none */
  NappeUnitSystem units;
} Lists;

static void
add (Lists *lists, const char *value, const char *label)
{
  g_ptr_array_add (lists->values, g_strdup (value));
  g_ptr_array_add (lists->labels, g_strdup (label));
}

static gboolean
has (const Lists *lists, const char *value)
{
  return g_ptr_array_find_with_equal_func (lists->values, value, g_str_equal, NULL);
}

/* Of all pieces a line can begin or end at tees: an outlet at one of its own line, another line at one that is not its own. */
static gboolean
is_fit_tee (const Lists *lists, NappePart *piece)
{
  const NappeItem *item = lists->catalogue != NULL ? nappe_catalogue_find (lists->catalogue, NAPPE_PIECE (piece)->item) : NULL;
  NappePart *line = nappe_part_get_owner (lists->asking), *owner = nappe_part_get_owner (piece);

  if (item != NULL && g_strcmp0 (item->shape, "tee") != 0)
    return FALSE;
  return strcmp (lists->field->name, "tee") == 0 ? owner == line : owner != line && NAPPE_IS_RETURN_LINE (owner);
}

static void
add_part (NappePart *part, gpointer user_data)
{
  Lists *lists = user_data;
  const char *id = nappe_part_get_id (part);

  if (*id == '\0' || part == lists->asking || !nappe_field_may_refer_to (lists->field, nappe_part_get_kind (part)))
    return;
  if (!NAPPE_IS_PIECE (part) || !NAPPE_IS_OUTLET (lists->asking) || is_fit_tee (lists, part))
    add (lists, id, nappe_part_display_name (part));
}

static void
add_items (Lists *lists, NappeCatalogue *catalogue, NappeItemKind kind)
{
  g_autoptr (GPtrArray) items = nappe_catalogue_of_kind (catalogue, kind);

  for (guint i = 0; i < items->len; i++)
    {
      const NappeItem *item = g_ptr_array_index (items, i);
      g_autofree char *label = nappe_item_full_label (item, lists->units);

      add (lists, item->id, label);
    }
}

/* Which kinds of items fit: those of the present one, or what the part is. */
static void
add_fitting_items (Lists *lists, NappePart *part, NappeCatalogue *catalogue, const char *present)
{
  const NappeItem *item = nappe_catalogue_find (catalogue, present);

  if (item != NULL)
    add_items (lists, catalogue, item->kind);
  else if (NAPPE_IS_PUMP (part))
    add_items (lists, catalogue, NAPPE_ITEM_PUMP);
  else if (NAPPE_IS_EQUIPMENT (part))
    add_items (lists, catalogue, NAPPE_ITEM_EQUIPMENT);
  else
    for (NappeItemKind kind = NAPPE_ITEM_PIPE; kind <= NAPPE_ITEM_BULKHEAD; kind++)
      add_items (lists, catalogue, kind);
}

void
nappe_field_choices (NappeBuild *build, NappePart *part, const NappeField *field, NappeCatalogue *catalogue,
                     NappeUnitSystem units, GStrv *values, GStrv *labels)
{
  Lists lists = { g_ptr_array_new (), g_ptr_array_new (), field, part, catalogue, units };

  if (field->type == NAPPE_FIELD_CHOICE)
    {
      for (const NappeChoice *choice = field->choices; choice->nick != NULL; choice++)
        add (&lists, choice->nick, _(choice->label));
    }
  else
    {
      const char *present = nappe_part_text (part, field);

      if (!field->required || *present == '\0')
        /* Translators: no part or item is named. */
        add (&lists, "", _("none"));
      if (field->type == NAPPE_FIELD_REFERENCE)
        nappe_part_visit (NAPPE_PART (build), add_part, &lists);
      else
        add_fitting_items (&lists, part, catalogue, present);
      if (!has (&lists, present))
        add (&lists, present, present);
    }
  g_ptr_array_add (lists.values, NULL);
  g_ptr_array_add (lists.labels, NULL);
  *values = (GStrv) g_ptr_array_free (lists.values, FALSE);
  *labels = (GStrv) g_ptr_array_free (lists.labels, FALSE);
}

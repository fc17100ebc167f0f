/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copies of parts, within a build and from one build to another. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "file/part-text.h"

/* Of an old id so much stays in front of the number [byte]. */
#define STEM_MAX 50
/* A second box or vessel stands so far beside the first one [m]. */
#define BESIDE 0.03

static gboolean
can_copy (NappePart *part)
{
  return nappe_assembly_can_remove (part) && !NAPPE_IS_BAFFLE (part) && !NAPPE_IS_OUTLET (part) && !NAPPE_IS_ANSWER (part)
         && !NAPPE_IS_WEIGHING (part);
}

char *
nappe_assembly_copy (NappePart *part)
{
  return can_copy (part) ? nappe_file_write_part_text (part) : NULL;
}

/* ---- ids and references ---- */

typedef struct
{
  NappeBuild *build;
  NappePart *copy, *at;
  GHashTable *ids;  /* of the copy's parts: old to new */
  GHashTable *used; /* the new ones */
} Adoption;

static gboolean
is_taken (const Adoption *self, const char *id)
{
  return nappe_build_find (self->build, id) != NULL || g_hash_table_contains (self->used, id);
}

/* An id stays where nobody has it; else its number changes. */
static void
give_new_id (NappePart *part, gpointer user_data)
{
  Adoption *self = user_data;
  g_autofree char *old = g_strdup (nappe_part_get_id (part)), *stem = g_strndup (old, STEM_MAX), *id = g_strdup (old);
  char *dash = strrchr (stem, '-');

  if (*old == '\0')
    return;
  if (dash != NULL && dash > stem && dash[1] != '\0' && strspn (dash + 1, "0123456789") == strlen (dash + 1))
    *dash = '\0';
  for (guint number = 2; is_taken (self, id); number++)
    {
      g_free (id);
      id = g_strdup_printf ("%s-%u", stem, number);
    }
  nappe_part_set_id (part, id);
  g_hash_table_add (self->used, g_strdup (id));
  g_hash_table_insert (self->ids, g_steal_pointer (&old), g_steal_pointer (&id));
}

typedef struct
{
  const NappeField *field;
  const char *kind; /* that is wanted; NULL: any that the field may refer to */
  NappePart *found;
} Substitute;

static void
look_for_substitute (NappePart *part, gpointer user_data)
{
  Substitute *self = user_data;

  if (self->found == NULL && nappe_field_may_refer_to (self->field, nappe_part_get_kind (part))
      && (self->kind == NULL || g_str_equal (self->kind, nappe_part_get_kind (part))))
    self->found = part;
}

/* The first part of the build that a reference may name: what drains end in are chambers, what returns end in is the tank. */
static const char *
substitute (const Adoption *self, const NappeField *field)
{
  Substitute search = { field, NAPPE_IS_DRAIN (self->copy) || NAPPE_IS_EQUIPMENT (self->copy) ? "chamber" : NULL, NULL };

  if (field->refers_to == NULL)
    return "";
  nappe_part_visit (NAPPE_PART (self->build), look_for_substitute, &search);
  search.kind = NULL;
  if (search.found == NULL)
    nappe_part_visit (NAPPE_PART (self->build), look_for_substitute, &search);
  return search.found != NULL ? nappe_part_get_id (search.found) : "";
}

/* Whom a reference of a part of the copy may name in the build: one of the copy, what was picked, the same as before, else
 * the first that is fit. Tees are those of the own run. */
static const char *
fit_reference (const Adoption *self, NappePart *part, const NappeField *field, const char *id)
{
  const char *own = g_hash_table_lookup (self->ids, id);
  NappePart *named = nappe_build_find (self->build, id);

  if (own != NULL)
    return own;
  if (strcmp (field->name, "tee") == 0)
    return "";
  if (part == self->copy && self->at != NULL && field->refers_to != NULL
      && nappe_field_may_refer_to (field, nappe_part_get_kind (self->at)))
    return nappe_part_get_id (self->at);
  if (named != NULL && nappe_field_may_refer_to (field, nappe_part_get_kind (named)))
    return id;
  return substitute (self, field);
}

static void
fit_references (NappePart *part, gpointer user_data)
{
  Adoption *self = user_data;
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      const char *id = field->type == NAPPE_FIELD_REFERENCE ? nappe_part_text (part, field) : "";
      if (*id == '\0')
        continue;
      g_autofree char *fit = g_strdup (fit_reference (self, part, field, id));
      nappe_assembly_write_text (part, field->name, fit);
    }
}

static void
adopt (NappeBuild *build, NappePart *copy, NappePart *at)
{
  g_autoptr (GHashTable) ids = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr (GHashTable) used = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Adoption adoption = { build, copy, at, ids, used };
  g_autofree char *name = g_strdup (nappe_part_get_name (copy));

  nappe_part_visit (copy, give_new_id, &adoption);
  nappe_part_visit (copy, fit_references, &adoption);
  if (*name != '\0')
    nappe_assembly_name (build, copy, name);
}

/* ---- where it goes ---- */

static double
length_of_item (NappeCatalogue *catalogue, const char *id)
{
  const NappeItem *item = nappe_catalogue_find (catalogue, id);

  return item != NULL ? item->length_overall : 0;
}

static gboolean
spans_overlap (double x, double length, double other_x, double other_length)
{
  return x < other_x + other_length && other_x < x + length;
}

/* Moves a box or vessel to the right of those that stand where it would. */
static void
step_aside (GPtrArray *list, NappePart *part)
{
  const NappeField *x = nappe_part_find_field (part, "x"), *length = nappe_part_find_field (part, "length");
  double place = nappe_part_number (part, x), own = nappe_part_number (part, length);

  for (guint i = 0; i < list->len; i++)
    if (spans_overlap (place, own, nappe_part_number (list->pdata[i], x), nappe_part_number (list->pdata[i], length)))
      place = nappe_part_number (list->pdata[i], x) + nappe_part_number (list->pdata[i], length) + BESIDE;
  nappe_assembly_write_number (part, "x", place);
}

/* A copy of a drain stands beside the others of its box, which may move along. */
static gboolean
find_place_in_box (NappeBuild *build, NappeCatalogue *catalogue, NappeDrain *copy, GError **error)
{
  NappePart *box = nappe_build_find (build, copy->overflow);
  const NappeItem *bulkhead = NULL;
  double x;

  for (guint i = 0; i < copy->run->len && bulkhead == NULL; i++)
    {
      const NappeItem *item = nappe_catalogue_find (catalogue, NAPPE_PIECE (copy->run->pdata[i])->item);
      bulkhead = item != NULL && item->kind == NAPPE_ITEM_BULKHEAD ? item : NULL;
    }
  if (box == NULL)
    return TRUE;
  if (!nappe_assembly_make_place_in_box (build, catalogue, NAPPE_OVERFLOW (box), bulkhead, &x, error))
    return FALSE;
  nappe_assembly_write_number (NAPPE_PART (copy), "x", x);
  return TRUE;
}

/* Changes a copy so that it stands where there is room. */
static gboolean
find_place (NappeBuild *build, NappeCatalogue *catalogue, NappePart *copy, GError **error)
{
  if (NAPPE_IS_DRAIN (copy))
    return find_place_in_box (build, catalogue, NAPPE_DRAIN (copy), error);
  if (NAPPE_IS_RETURN_LINE (copy))
    {
      NappePart *pump = NAPPE_RETURN_LINE (copy)->pump, *where = nappe_build_find (build, NAPPE_PUMP (pump)->chamber);
      double length = length_of_item (catalogue, NAPPE_PUMP (pump)->item);
      if (where != NULL)
        nappe_assembly_write_number (pump, "x", nappe_assembly_free_place (build, catalogue, where, length) + 0.5 * length);
    }
  else if (NAPPE_IS_EQUIPMENT (copy))
    {
      NappePart *where = nappe_build_find (build, NAPPE_EQUIPMENT (copy)->where);
      double own = NAPPE_EQUIPMENT (copy)->length;
      double length = nappe_is_given (own) ? own : length_of_item (catalogue, NAPPE_EQUIPMENT (copy)->item);
      if (where != NULL)
        nappe_assembly_write_number (copy, "x", nappe_assembly_free_place (build, catalogue, where, length));
    }
  else if (NAPPE_IS_SIDE_VESSEL (copy))
    step_aside (build->vessels, copy);
  else if (NAPPE_IS_OVERFLOW (copy))
    step_aside (build->overflows, copy);
  return TRUE;
}

/* The list slot of a part that takes a type, or NULL. */
static const NappeSlot *
slot_for (NappePart *owner, GType type)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (owner);

  for (gsize i = 0; i < klass->n_slots; i++)
    if (!klass->slots[i].single && klass->slots[i].type () == type)
      return &klass->slots[i];
  return NULL;
}

/* Puts it into the list of `at`, of one of its owners or of the build; of the list that `at` stands in, behind it. */
static gboolean
insert (NappeBuild *build, NappePart *copy, NappePart *at, GError **error)
{
  NappePart *owner = at != NULL ? at : NAPPE_PART (build), *below = NULL;
  const NappeSlot *slot;
  guint index = G_MAXUINT;

  while ((slot = slot_for (owner, G_OBJECT_TYPE (copy))) == NULL && nappe_part_get_owner (owner) != NULL)
    below = owner, owner = nappe_part_get_owner (owner);
  if (slot == NULL)
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                                /* Translators: %s is a kind of part, such as “Piece”. */
                                g_strdup_printf (_("“%s” cannot be put in there: pick the part that it belongs to first"),
                                                 nappe_part_display_name (copy)));
  if (below != NULL && nappe_part_place (below, &index) != slot)
    index = G_MAXUINT - 1;
  return nappe_build_insert (build, owner, slot->name, index + (index != G_MAXUINT), copy, error);
}

/* A chamber takes its room from the picked one. */
static NappePart *
paste_chamber (NappeBuild *build, NappeCatalogue *catalogue, NappePart *copy, NappePart *at, GError **error)
{
  GPtrArray *chambers = NAPPE_BUILD_SUMP (build)->chambers;
  NappePart *beside = at != NULL && NAPPE_IS_CHAMBER (at) ? at : chambers->len > 0 ? chambers->pdata[chambers->len - 1] : NULL;
  g_autofree char *label = NULL;
  NappeChamber *chamber;

  if (beside == NULL)
    {
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT, g_strdup (_("Pick the chamber that gives way first")));
      return NULL;
    }
  adopt (build, copy, NULL);
  /* Translators: label of a step to undo; %s is the name of a part. */
  label = g_strdup_printf (_("Add the copy “%s”"), nappe_part_display_name (copy));
  nappe_build_begin (build, label);
  chamber = nappe_assembly_add_chamber (build, catalogue, beside, TRUE, NAPPE_CHAMBER (copy)->role, error);
  gboolean done = chamber != NULL && nappe_build_rename_part (build, NAPPE_PART (chamber), nappe_part_get_name (copy), error)
                  && nappe_build_set_number (build, NAPPE_PART (chamber), "displaced", NAPPE_CHAMBER (copy)->displaced, error);
  return nappe_assembly_end (build, done) ? NAPPE_PART (chamber) : NULL;
}

static NappePart *
put (NappeBuild *build, NappeCatalogue *catalogue, NappePart *copy, NappePart *at, GError **error)
{
  g_autofree char *label = NULL;

  if (NAPPE_IS_CHAMBER (copy))
    return paste_chamber (build, catalogue, copy, at, error);
  adopt (build, copy, at);
  label = g_strdup_printf (_("Add the copy “%s”"), nappe_part_display_name (copy));
  nappe_build_begin (build, label);
  gboolean line = NAPPE_IS_DRAIN (copy) || NAPPE_IS_RETURN_LINE (copy);
  gboolean done = find_place (build, catalogue, copy, error) && insert (build, copy, at, error)
                  && (!line || nappe_assembly_lead_home (build, catalogue, copy, error));
  return nappe_assembly_end (build, done) ? copy : NULL;
}

NappePart *
nappe_assembly_paste (NappeBuild *build, NappeCatalogue *catalogue, const char *text, NappePart *at, GError **error)
{
  g_autoptr (NappePart) copy = nappe_file_read_part_text (text, error);

  return copy != NULL ? put (build, catalogue, copy, at, error) : NULL;
}

NappePart *
nappe_assembly_duplicate (NappeBuild *build, NappeCatalogue *catalogue, NappePart *part, GError **error)
{
  if (NAPPE_IS_OUTLET (part) && NAPPE_IS_RETURN_LINE (nappe_part_get_owner (part)))
    return (NappePart *) nappe_assembly_add_branch (build, catalogue, NAPPE_RETURN_LINE (nappe_part_get_owner (part)), error);
  if (!can_copy (part))
    {
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                           g_strdup_printf (_("No copy can be made of “%s”"), nappe_part_display_name (part)));
      return NULL;
    }
  g_autoptr (NappePart) copy = nappe_part_copy (part);
  /* Only what is in a list of another part must go beside it: a piece, a happening. */
  NappePart *at = NAPPE_IS_BUILD (nappe_part_get_owner (part)) ? NULL : part;
  return put (build, catalogue, copy, at, error);
}

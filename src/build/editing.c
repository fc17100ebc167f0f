/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The door to changing a build: every change is checked, recorded and announced.
 *
 * Kept by it: ids are unique; every reference is empty or names a part of a right kind; lists stay
 * within their limits. A reference to a part that is taken out is emptied in the same step. */
#include "config.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n-lib.h>

#include "build/build-private.h"
#include "build/change.h"

static gboolean
fail (GError **error, NappeBuildError code, char *message)
{
  g_set_error_literal (error, NAPPE_BUILD_ERROR, code, message);
  g_free (message);
  return FALSE;
}

char *
nappe_build_change_label (NappePart *part, const NappeField *field)
{
  /* Translators: label of a step to undo; the label of a field and the name of a part. */
  return g_strdup_printf (_ ("Change “%s” of “%s”"), _ (field->label), nappe_part_display_name (part));
}

/* One change as a step of its own, or as part of the open transaction. label: transfer full. */
static void
record (NappeBuild *self, NappeChange *change, char *label)
{
  nappe_build_begin (self, label);
  nappe_history_do (self->history, change);
  nappe_build_commit (self);
  g_free (label);
}

static gboolean
check_belongs (NappeBuild *self, NappePart *part, GError **error)
{
  if (nappe_part_get_root (part) == NAPPE_PART (self))
    return TRUE;
  return fail (error, NAPPE_BUILD_ERROR_PLACE,
               /* Translators: %s is the name of a part. */
               g_strdup_printf (_ ("“%s” is not part of this build"), nappe_part_display_name (part)));
}

/* Whether a reference names a part of a right kind in the build, or in `beside` and below. */
static gboolean
check_reference (NappeBuild *self, NappePart *beside, const NappeField *field, const char *id, GError **error)
{
  NappePart *part = nappe_build_find (self, id);

  if (*id == '\0')
    return TRUE;
  if (part == NULL && beside != NULL)
    part = nappe_part_find (beside, id);
  if (part == NULL)
    return fail (error, NAPPE_BUILD_ERROR_ID,
                 /* Translators: label of a field, and the id that no part has. */
                 g_strdup_printf (_ ("%s: no part has the id “%s”"), _ (field->label), id));
  if (!nappe_field_may_refer_to (field, nappe_part_get_kind (part)))
    return fail (error, NAPPE_BUILD_ERROR_ID,
                 /* Translators: label of a field, and the name of a part of an unfit kind. */
                 g_strdup_printf (_ ("%s cannot be “%s”"), _ (field->label), nappe_part_display_name (part)));
  return TRUE;
}

gboolean
nappe_build_set (NappeBuild *self, NappePart *part, const char *field_name, const GValue *value, GError **error)
{
  const NappeField *field = nappe_part_find_field (part, field_name);
  g_auto (GValue) snapped = G_VALUE_INIT;
  g_auto (GValue) current = G_VALUE_INIT;

  if (!check_belongs (self, part, error))
    return FALSE;
  if (field == NULL)
    return fail (error, NAPPE_BUILD_ERROR_PLACE,
                 g_strdup_printf (_ ("“%s” has no field “%s”"), nappe_part_display_name (part), field_name));
  if (!nappe_field_check (field, value, error))
    return FALSE;
  if (field->type == NAPPE_FIELD_REFERENCE && !check_reference (self, NULL, field, g_value_get_string (value), error))
    return FALSE;
  g_value_init (&snapped, G_VALUE_TYPE (value));
  g_value_copy (value, &snapped);
  nappe_field_snap (field, &snapped);
  nappe_part_read (part, field, &current);
  if (!nappe_field_value_equal (field, &snapped, &current))
    record (self, nappe_change_value (part, field, &snapped),
            /* Translators: label of a step to undo; the label of a field and the name of a part. */
            nappe_build_change_label (part, field));
  return TRUE;
}

static gboolean
is_whole (double value)
{
  return value >= G_MININT && value <= G_MAXINT && value == floor (value);
}

gboolean
nappe_build_set_number (NappeBuild *self, NappePart *part, const char *field_name, double value, GError **error)
{
  const NappeField *field = nappe_part_find_field (part, field_name);
  g_auto (GValue) holder = G_VALUE_INIT;

  if (field != NULL && nappe_field_value_type (field) == G_TYPE_INT && is_whole (value))
    {
      g_value_init (&holder, G_TYPE_INT);
      g_value_set_int (&holder, (int) value);
    }
  else if (field != NULL && field->type == NAPPE_FIELD_FLAG && (value == 0 || value == 1))
    {
      g_value_init (&holder, G_TYPE_BOOLEAN);
      g_value_set_boolean (&holder, value != 0);
    }
  else
    {
      g_value_init (&holder, G_TYPE_DOUBLE);
      g_value_set_double (&holder, value);
    }
  return nappe_build_set (self, part, field_name, &holder, error);
}

gboolean
nappe_build_set_text (NappeBuild *self, NappePart *part, const char *field_name, const char *value, GError **error)
{
  const NappeField *field = nappe_part_find_field (part, field_name);
  g_auto (GValue) holder = G_VALUE_INIT;

  if (field != NULL && field->type == NAPPE_FIELD_CHOICE)
    {
      int index = nappe_field_choice_index (field, value);
      if (index < 0)
        return fail (error, NAPPE_BUILD_ERROR_TYPE,
                     /* Translators: label of a field, and a word that stands for no alternative. */
                     g_strdup_printf (_ ("%s has no alternative “%s”"), _ (field->label), value));
      g_value_init (&holder, G_TYPE_INT);
      g_value_set_int (&holder, index);
    }
  else
    {
      g_value_init (&holder, G_TYPE_STRING);
      g_value_set_string (&holder, value);
    }
  return nappe_build_set (self, part, field_name, &holder, error);
}

gboolean
nappe_build_rename_part (NappeBuild *self, NappePart *part, const char *name, GError **error)
{
  if (!check_belongs (self, part, error) || !nappe_part_check_name (name, error))
    return FALSE;
  if (strcmp (name, nappe_part_get_name (part)) != 0)
    record (self, nappe_change_name (part, name),
            /* Translators: label of a step to undo; %s is the name of a part. */
            g_strdup_printf (_ ("Rename “%s”"), nappe_part_display_name (part)));
  return TRUE;
}

/* What is wanted of a child before it may be put in. */
typedef struct
{
  NappeBuild *build;
  NappePart *child;
  GHashTable *ids;  /* of the build and, as they pass, of the child and below */
  GError **error;
  gboolean good;
} Admission;

static void
admit_id (NappePart *part, gpointer user_data)
{
  Admission *admission = user_data;
  const char *id = nappe_part_get_id (part);

  if (!admission->good || *id == '\0')
    return;
  if (!nappe_part_id_is_valid (id))
    admission->good = fail (admission->error, NAPPE_BUILD_ERROR_ID,
                            g_strdup_printf (_ ("“%s” cannot be the id of a part"), id));
  else if (!g_hash_table_add (admission->ids, g_strdup (id)))
    admission->good = fail (admission->error, NAPPE_BUILD_ERROR_ID,
                            g_strdup_printf (_ ("Another part has the id “%s”"), id));
}

static void
admit_values (NappePart *part, gpointer user_data)
{
  Admission *admission = user_data;
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; admission->good && i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      g_auto (GValue) value = G_VALUE_INIT;
      nappe_part_read (part, field, &value);
      admission->good = nappe_field_check (field, &value, admission->error);
      if (admission->good && field->type == NAPPE_FIELD_REFERENCE)
        admission->good = check_reference (admission->build, admission->child, field, g_value_get_string (&value),
                                           admission->error);
    }
}

/* A single of a named part is called after it, "main-return-pump"; others after their kind. */
static void
give_id (NappePart *part, gpointer user_data)
{
  Admission *admission = user_data;
  NappePart *owner = nappe_part_get_owner (part);
  g_autofree char *id = NULL;

  if (*nappe_part_get_id (part) != '\0')
    return;
  if (owner != NULL && NAPPE_PART_GET_CLASS (owner)->n_slots > 0 && part != admission->child)
    {
      guint index;
      const NappeSlot *slot = nappe_part_place (part, &index);
      if (slot->single)
        id = g_strdup_printf ("%s-%s", nappe_part_get_id (owner), slot->name);
    }
  if (id == NULL || !nappe_part_id_is_valid (id) || g_hash_table_contains (admission->ids, id))
    {
      g_free (id);
      id = nappe_build_free_id_among (admission->ids, nappe_part_get_kind (part));
    }
  nappe_part_set_id (part, id);
  g_hash_table_add (admission->ids, g_steal_pointer (&id));
}

static void
snap_values (NappePart *part, gpointer user_data)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    {
      g_auto (GValue) value = G_VALUE_INIT;
      nappe_part_read (part, &klass->fields[i], &value);
      nappe_field_snap (&klass->fields[i], &value);
      nappe_part_write (part, &klass->fields[i], &value);
    }
}

/* Checks the child and all below, then gives ids to those without and snaps their values. */
static gboolean
admit (NappeBuild *self, NappePart *child, GError **error)
{
  g_autoptr (GHashTable) ids = nappe_build_ids (self);
  Admission admission = { self, child, ids, error, TRUE };

  nappe_part_visit (child, admit_id, &admission);
  nappe_part_visit (child, admit_values, &admission);
  if (!admission.good)
    return FALSE;
  nappe_part_visit (child, give_id, &admission);
  nappe_part_visit (child, snap_values, NULL);
  return TRUE;
}

gboolean
nappe_build_insert (NappeBuild *self, NappePart *owner, const char *slot_name, guint index, NappePart *child,
                    GError **error)
{
  const NappeSlot *slot = nappe_part_find_slot (owner, slot_name);
  GPtrArray *list;

  if (!check_belongs (self, owner, error))
    return FALSE;
  if (slot == NULL || slot->single || !G_TYPE_CHECK_INSTANCE_TYPE (child, slot->type ()) ||
      nappe_part_get_owner (child) != NULL)
    return fail (error, NAPPE_BUILD_ERROR_PLACE,
                 /* Translators: names of two parts. */
                 g_strdup_printf (_ ("“%s” cannot be put into “%s” there"), nappe_part_display_name (child),
                                  nappe_part_display_name (owner)));
  list = nappe_part_list (owner, slot);
  if (list->len >= slot->maximum)
    return fail (error, NAPPE_BUILD_ERROR_PLACE,
                 /* Translators: name of a part, and how many parts it holds at most. */
                 g_strdup_printf (_ ("“%s” holds at most %u of these"), nappe_part_display_name (owner),
                                  slot->maximum));
  if (!admit (self, child, error))
    return FALSE;
  record (self, nappe_change_insertion (owner, slot, MIN (index, list->len), child),
          /* Translators: label of a step to undo; %s is the name of a part. */
          g_strdup_printf (_ ("Add “%s”"), nappe_part_display_name (child)));
  return TRUE;
}

typedef struct
{
  NappeBuild *build;
  NappePart *leaving;
} Parting;

/* Empties the references of a part that stays to parts that leave. */
static void
forget_leaving (NappePart *part, gpointer user_data)
{
  const Parting *parting = user_data;
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);
  g_auto (GValue) empty = G_VALUE_INIT;

  g_value_init (&empty, G_TYPE_STRING);
  g_value_set_static_string (&empty, "");
  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      if (field->type == NAPPE_FIELD_REFERENCE &&
          nappe_part_find (parting->leaving, nappe_part_text (part, field)) != NULL)
        nappe_history_do (parting->build->history, nappe_change_value (part, field, &empty));
    }
}

static gboolean
check_in_list (NappeBuild *self, NappePart *part, GError **error)
{
  guint index;
  const NappeSlot *slot = nappe_part_place (part, &index);

  if (!check_belongs (self, part, error))
    return FALSE;
  if (slot == NULL || slot->single)
    return fail (error, NAPPE_BUILD_ERROR_PLACE,
                 g_strdup_printf (_ ("“%s” is always part of a build"), nappe_part_display_name (part)));
  return TRUE;
}

gboolean
nappe_build_remove (NappeBuild *self, NappePart *part, GError **error)
{
  Parting parting = { self, part };
  g_autofree char *label = NULL;
  const NappeSlot *slot;
  guint index;

  if (!check_in_list (self, part, error))
    return FALSE;
  slot = nappe_part_place (part, &index);
  if (nappe_part_list (nappe_part_get_owner (part), slot)->len <= slot->minimum)
    return fail (error, NAPPE_BUILD_ERROR_PLACE,
                 g_strdup_printf (_ ("“%s” cannot be taken away: at least %u of these must stay"),
                                  nappe_part_display_name (part), slot->minimum));
  /* Translators: label of a step to undo; %s is the name of a part. */
  label = g_strdup_printf (_ ("Remove “%s”"), nappe_part_display_name (part));
  nappe_build_begin (self, label);
  nappe_history_do (self->history, nappe_change_removal (part));
  nappe_part_visit (NAPPE_PART (self), forget_leaving, &parting);
  nappe_build_commit (self);
  return TRUE;
}

gboolean
nappe_build_move (NappeBuild *self, NappePart *part, guint index, GError **error)
{
  const NappeSlot *slot;
  guint current, last;

  if (!check_in_list (self, part, error))
    return FALSE;
  slot = nappe_part_place (part, &current);
  last = nappe_part_list (nappe_part_get_owner (part), slot)->len - 1;
  if (MIN (index, last) != current)
    record (self, nappe_change_move (part, MIN (index, last)),
            /* Translators: label of a step to undo; %s is the name of a part. */
            g_strdup_printf (_ ("Move “%s”"), nappe_part_display_name (part)));
  return TRUE;
}

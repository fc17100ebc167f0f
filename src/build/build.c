/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The root part: what it holds, its history and its signal. Changing it is in editing.c. */
#include "config.h"

#include "build/build.h"

#include <glib/gi18n-lib.h>

#include "build/build-private.h"
#include "build/field-rows.h"

static const NappeChoice unit_choices[] = {
  [NAPPE_UNITS_METRIC] = { "metric", N_ ("Litres and millimetres") },
  [NAPPE_UNITS_US] = { "us", N_ ("US gallons and inches") },
  { NULL, NULL },
};

static const NappeField build_fields[] = {
  NAPPE_TEXT_ROW (NappeBuild, title, NAPPE_TEXT_MAX, N_ ("Title")),
  NAPPE_TEXT_ROW (NappeBuild, summary, NAPPE_TEXT_MAX, N_ ("Summary")),
  NAPPE_TEXT_ROW (NappeBuild, customer, NAPPE_TEXT_MAX, N_ ("Customer")),
  NAPPE_TEXT_ROW (NappeBuild, shop, NAPPE_TEXT_MAX, N_ ("Shop")),
  NAPPE_TEXT_ROW (NappeBuild, author, NAPPE_TEXT_MAX, N_ ("Author")),
  NAPPE_TEXT_ROW (NappeBuild, date, NAPPE_TEXT_MAX, N_ ("Date")),
  NAPPE_TEXT_ROW (NappeBuild, revision, NAPPE_TEXT_MAX, N_ ("Revision")),
  NAPPE_CHOICE_ROW (NappeBuild, units, unit_choices, NAPPE_UNITS_METRIC, N_ ("Units"), .required = TRUE),
};

static const NappeSlot build_slots[] = {
  NAPPE_SINGLE_ROW (NappeBuild, room, nappe_room_get_type),
  NAPPE_SINGLE_ROW (NappeBuild, water, nappe_water_condition_get_type),
  NAPPE_SINGLE_ROW (NappeBuild, stand, nappe_stand_get_type),
  NAPPE_SINGLE_ROW (NappeBuild, tank, nappe_tank_get_type),
  NAPPE_LIST_ROW (NappeBuild, overflows, nappe_overflow_get_type, 8),
  NAPPE_LIST_ROW (NappeBuild, drains, nappe_drain_get_type, 24),
  NAPPE_SINGLE_ROW (NappeBuild, sump, nappe_sump_get_type),
  NAPPE_LIST_ROW (NappeBuild, returns, nappe_return_line_get_type, 8),
  NAPPE_LIST_ROW (NappeBuild, vessels, nappe_side_vessel_get_type, 8),
  NAPPE_LIST_ROW (NappeBuild, equipment, nappe_equipment_get_type, 200),
  NAPPE_SINGLE_ROW (NappeBuild, targets, nappe_targets_get_type),
  NAPPE_SINGLE_ROW (NappeBuild, limits, nappe_limits_get_type),
  NAPPE_LIST_ROW (NappeBuild, weighings, nappe_weighing_get_type, 200),
  NAPPE_LIST_ROW (NappeBuild, answers, nappe_answer_get_type, 1000),
  NAPPE_LIST_ROW (NappeBuild, trials, nappe_trial_get_type, 50),
  NAPPE_LIST_ROW (NappeBuild, notes, nappe_note_get_type, 500),
};

G_DEFINE_FINAL_TYPE (NappeBuild, nappe_build, NAPPE_TYPE_PART)

static guint changed_signal;

static void
nappe_build_finalize (GObject *object)
{
  nappe_history_free (NAPPE_BUILD (object)->history);
  G_OBJECT_CLASS (nappe_build_parent_class)->finalize (object);
}

static void
nappe_build_class_init (NappeBuildClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = nappe_build_finalize;
  nappe_part_class_describe (NAPPE_PART_CLASS (klass), "build", N_ ("Build"), build_fields,
                             G_N_ELEMENTS (build_fields), build_slots, G_N_ELEMENTS (build_slots));
  changed_signal = g_signal_new ("changed", NAPPE_TYPE_BUILD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
nappe_build_init (NappeBuild *self)
{
  nappe_part_set_initial (NAPPE_PART (self));
  for (gsize i = 0; i < G_N_ELEMENTS (build_slots); i++)
    if (build_slots[i].single)
      {
        NappePart *single = nappe_part_single (NAPPE_PART (self), &build_slots[i]);
        nappe_part_set_id (single, nappe_part_get_kind (single));
      }
  self->history = nappe_history_new (self);
}

NappeBuild *
nappe_build_new (void)
{
  return g_object_new (NAPPE_TYPE_BUILD, NULL);
}

NappeBuild *
nappe_build_copy (NappeBuild *self)
{
  return NAPPE_BUILD (nappe_part_copy (NAPPE_PART (self)));
}

NappePart *
nappe_build_find (NappeBuild *self, const char *id)
{
  return nappe_part_find (NAPPE_PART (self), id);
}

static void
collect_id (NappePart *part, gpointer ids)
{
  if (*nappe_part_get_id (part) != '\0')
    g_hash_table_add (ids, g_strdup (nappe_part_get_id (part)));
}

GHashTable *
nappe_build_ids (NappeBuild *self)
{
  GHashTable *ids = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  nappe_part_visit (NAPPE_PART (self), collect_id, ids);
  return ids;
}

char *
nappe_build_free_id_among (GHashTable *ids, const char *kind)
{
  for (guint number = 1;; number++)
    {
      g_autofree char *id = g_strdup_printf ("%s-%u", kind, number);
      if (!g_hash_table_contains (ids, id))
        return g_steal_pointer (&id);
    }
}

char *
nappe_build_free_id (NappeBuild *self, const char *kind)
{
  g_autoptr (GHashTable) ids = nappe_build_ids (self);

  return nappe_build_free_id_among (ids, kind);
}

static void
emit_changed (NappeBuild *self)
{
  g_signal_emit (self, changed_signal, 0);
}

void
nappe_build_begin (NappeBuild *self, const char *label)
{
  nappe_history_begin (self->history, label);
}

void
nappe_build_commit (NappeBuild *self)
{
  if (nappe_history_commit (self->history))
    emit_changed (self);
}

void
nappe_build_roll_back (NappeBuild *self)
{
  nappe_history_roll_back (self->history);
}

gboolean
nappe_build_can_undo (NappeBuild *self)
{
  return nappe_history_undo_label (self->history) != NULL && !nappe_history_is_open (self->history);
}

gboolean
nappe_build_can_redo (NappeBuild *self)
{
  return nappe_history_redo_label (self->history) != NULL && !nappe_history_is_open (self->history);
}

const char *
nappe_build_undo_label (NappeBuild *self)
{
  return nappe_history_undo_label (self->history);
}

const char *
nappe_build_redo_label (NappeBuild *self)
{
  return nappe_history_redo_label (self->history);
}

void
nappe_build_undo (NappeBuild *self)
{
  if (nappe_history_undo (self->history))
    emit_changed (self);
}

void
nappe_build_redo (NappeBuild *self)
{
  if (nappe_history_redo (self->history))
    emit_changed (self);
}

void
nappe_build_mark_saved (NappeBuild *self)
{
  nappe_history_mark_saved (self->history);
}

gboolean
nappe_build_is_modified (NappeBuild *self)
{
  return nappe_history_is_modified (self->history);
}

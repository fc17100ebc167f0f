/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists of changed values. */
#include "cures/cure-private.h"

#include <glib/gi18n-lib.h>

static void
clear_change (gpointer data)
{
  NappeCureChange *change = data;
  g_free (change->part);
  g_value_unset (&change->before);
  g_value_unset (&change->after);
}

GArray *
nappe_cure_changes_new (void)
{
  GArray *changes = g_array_new (FALSE, TRUE, sizeof (NappeCureChange));
  g_array_set_clear_func (changes, clear_change);
  return changes;
}

gboolean
nappe_cure_changes_add (GArray *changes, NappeBuild *build, NappeCureRole role, const char *id, const char *name,
                        const GValue *after)
{
  NappePart *part = nappe_build_find (build, id);
  const NappeField *field = part != NULL ? nappe_part_find_field (part, name) : NULL;
  NappeCureChange change = { .role = role, .before = G_VALUE_INIT, .after = G_VALUE_INIT };

  if (field == NULL || !nappe_field_check (field, after, NULL))
    return FALSE;
  change.part = g_strdup (id);
  change.field = g_intern_string (name);
  nappe_part_read (part, field, &change.before);
  g_value_init (&change.after, G_VALUE_TYPE (after));
  g_value_copy (after, &change.after);
  nappe_field_snap (field, &change.after);
  g_array_append_val (changes, change);
  return TRUE;
}

gboolean
nappe_cure_changes_add_number (GArray *changes, NappeBuild *build, NappeCureRole role, const char *id,
                               const char *name, double after)
{
  g_auto (GValue) value = G_VALUE_INIT;
  g_value_init (&value, G_TYPE_DOUBLE);
  g_value_set_double (&value, after);
  return nappe_cure_changes_add (changes, build, role, id, name, &value);
}

gboolean
nappe_cure_changes_put (const GArray *changes, NappeBuild *build, GError **error)
{
  for (guint i = 0; i < changes->len; i++)
    {
      const NappeCureChange *change = &g_array_index (changes, NappeCureChange, i);
      NappePart *part = nappe_build_find (build, change->part);
      if (part == NULL)
        {
          g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_PLACE, _("no part has the id “%s”"), change->part);
          return FALSE;
        }
      if (!nappe_build_set (build, part, change->field, &change->after, error))
        return FALSE;
    }
  return TRUE;
}

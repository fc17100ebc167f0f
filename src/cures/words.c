/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cures in words. */
#include "cures/cure-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "results/part-words.h"

static char *
item_text (NappeCureSearch *self, const char *id)
{
  const NappeItem *item = nappe_catalogue_find (self->catalogue, id);
  return item != NULL ? nappe_item_label (item, self->units) : g_strdup (*id != '\0' ? id : _("none"));
}

/* A field's value for people. Transfer full. */
static char *
value_text (NappeCureSearch *self, const NappeField *field, const GValue *value)
{
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER:
      if (!nappe_is_given (g_value_get_double (value)))
        /* Translators: in place of a value that is not given. */
        return g_strdup (_("none"));
      return nappe_rounded_text (field->quantity, g_value_get_double (value), self->units);
    case NAPPE_FIELD_COUNT:
      return nappe_quantity_format (NAPPE_QUANTITY_COUNT, g_value_get_int (value), self->units, 0);
    case NAPPE_FIELD_FLAG:
      return g_strdup (g_value_get_boolean (value) ? _("yes") : _("no"));
    case NAPPE_FIELD_CHOICE:
      return g_strdup (_(field->choices[g_value_get_int (value)].label));
    case NAPPE_FIELD_ITEM:
      return item_text (self, g_value_get_string (value));
    case NAPPE_FIELD_REFERENCE:
      return *g_value_get_string (value) != '\0' ? nappe_part_words (self->build, g_value_get_string (value))
                                                 : g_strdup (_("none"));
    case NAPPE_FIELD_TEXT:
      return g_value_dup_string (value);
    case NAPPE_FIELD_CURVE:
      break;
    }
  return g_strdup ("");
}

static char *
change_text (NappeCureSearch *self, const NappeCureChange *change)
{
  NappePart *part = nappe_build_find (self->build, change->part);
  const NappeField *field = nappe_part_find_field (part, change->field);
  g_autofree char *name = nappe_part_words (self->build, change->part);
  g_autofree char *before = value_text (self, field, &change->before);
  g_autofree char *after = value_text (self, field, &change->after);
  /* Translators: a part, a property of it, its new value, its old value; read before the change and after it. */
  return g_strdup_printf (_("%s: %s %s instead of %s"), name, _(field->label), after, before);
}

/* A line whose every piece takes another size. */
static char *
resizing_text (NappeCureSearch *self, const NappeCureChange *change)
{
  NappePart *line = nappe_build_find (self->build, change->part);
  while (line != NULL && !NAPPE_IS_DRAIN (line) && !NAPPE_IS_RETURN_LINE (line))
    line = nappe_part_get_owner (line);
  const NappeItem *before = nappe_catalogue_find (self->catalogue, g_value_get_string (&change->before));
  const NappeItem *after = nappe_catalogue_find (self->catalogue, g_value_get_string (&change->after));
  g_autofree char *name = nappe_part_words (self->build, line != NULL ? nappe_part_get_id (line) : change->part);
  /* Translators: a line of pipe, its new nominal size, its old one; read before the change and after it. */
  return g_strdup_printf (_("%s: all its pipe and fittings in %s instead of %s"), name,
                          after != NULL ? after->nominal : "", before != NULL ? before->nominal : "");
}

char *
nappe_cure_label (NappeCureSearch *self, const GArray *changes)
{
  GString *label = g_string_new (NULL);
  gboolean resized = FALSE;

  for (guint i = 0; i < changes->len; i++)
    {
      const NappeCureChange *change = &g_array_index (changes, NappeCureChange, i);
      resized = change->role == NAPPE_CURE_RESIZES || (resized && change->role == NAPPE_CURE_FOLLOWS);
      if (resized && change->role == NAPPE_CURE_FOLLOWS)
        continue;
      g_autofree char *text = resized ? resizing_text (self, change) : change_text (self, change);
      /* Translators: between a change and what goes along with it, and between two changes that are made together. */
      const char *joint = change->role == NAPPE_CURE_FOLLOWS ? _("; with it ") : _("; and ");
      g_string_append_printf (label, "%s%s", label->len > 0 ? joint : "", text);
    }
  return g_string_free (label, FALSE);
}

/* What the same rule says afterwards: of the same part if it says anything of it. NULL: nothing with a number. */
static NappeFinding *
same_number (const NappeVerdict *after, NappeFinding *finding)
{
  NappeFinding *found = NULL;

  for (guint i = 0; i < after->fine->len; i++)
    {
      NappeFinding *fine = after->fine->pdata[i];
      if (!g_str_equal (nappe_finding_get_rule (fine), nappe_finding_get_rule (finding))
          || nappe_finding_get_quantity (fine) != nappe_finding_get_quantity (finding)
          || !isfinite (nappe_finding_get_value (fine)))
        continue;
      if (found == NULL || g_str_equal (nappe_finding_get_part (fine), nappe_finding_get_part (finding)))
        found = fine;
    }
  return found;
}

char *
nappe_cure_effect (NappeCureSearch *self, const NappeVerdict *after)
{
  NappeFinding *then = same_number (after, self->finding);
  NappeQuantity quantity = nappe_finding_get_quantity (self->finding);
  g_autofree char *counts = nappe_verdict_counts_text (after);
  const char *nothing = _("no findings");
  GString *text = g_string_new (self->easing ? _("Eases it, and does not clear all. ") : NULL);

  if (then != NULL && isfinite (nappe_finding_get_value (self->finding)))
    {
      g_autofree char *before = nappe_rounded_text (quantity, nappe_finding_get_value (self->finding), self->units);
      g_autofree char *later = nappe_rounded_text (quantity, nappe_finding_get_value (then), self->units);
      g_autofree char *limit = nappe_rounded_text (quantity, nappe_finding_get_limit (then), self->units);
      if (isfinite (nappe_finding_get_limit (then)))
        /* Translators: title of a finding; its number before, after a change, and its limit. */
        g_string_append_printf (text, _("%s: %s before, %s after, limit %s. "), nappe_finding_get_title (self->finding),
                         before, later, limit);
    }
  /* Translators: what there is to say of the whole build, such as “2 dangers, 1 problem”, before and after a change. */
  g_string_append_printf (text, _("The whole build before: %s. After: %s."),
                          *self->counts != '\0' ? self->counts : nothing, *counts != '\0' ? counts : nothing);
  return g_string_free (text, FALSE);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/margins.h"

#include <glib/gi18n-lib.h>

#include "rules/rule-limits.h"

GVariant *
nappe_margins_of (NappeBuild *build)
{
  GVariantBuilder builder;

  g_variant_builder_init (&builder, G_VARIANT_TYPE ("a{sd}"));
  for (NappeLimitName name = 0; name < NAPPE_LIMIT_N; name++)
    {
      const NappeField *field = nappe_limit_field (name);
      double value = field != NULL ? nappe_part_number (build->limits, field) : nappe_limit_value (name);

      if (field != NULL && nappe_is_given (value))
        g_variant_builder_add (&builder, "{sd}", nappe_limit (name)->name, value);
    }
  return g_variant_builder_end (&builder);
}

/* Whether there is a margin for a limit that its field takes. */
static gboolean
find (GVariant *margins, NappeLimitName name, const NappeField *field, double *value)
{
  g_auto (GValue) wanted = G_VALUE_INIT;

  if (field == NULL || !g_variant_lookup (margins, nappe_limit (name)->name, "d", value) || !nappe_is_given (*value))
    return FALSE;
  g_value_init (&wanted, G_TYPE_DOUBLE);
  g_value_set_double (&wanted, *value);
  return nappe_field_check (field, &wanted, NULL);
}

guint
nappe_margins_count (GVariant *margins)
{
  guint n = 0;
  double value;

  for (NappeLimitName name = 0; name < NAPPE_LIMIT_N; name++)
    n += find (margins, name, nappe_limit_field (name), &value);
  return n;
}

void
nappe_margins_put_in (GVariant *margins, NappeBuild *build)
{
  double value;

  /* Translators: a step that can be undone. */
  nappe_build_begin (build, _("Use my margins"));
  for (NappeLimitName name = 0; name < NAPPE_LIMIT_N; name++)
    {
      const NappeField *field = nappe_limit_field (name);

      if (find (margins, name, field, &value))
        nappe_build_set_number (build, build->limits, field->name, value, NULL);
    }
  nappe_build_commit (build);
}

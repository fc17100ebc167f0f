/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "results/result.h"

/* Keeps a whole power of ten from falling below itself in rounding. */
#define SLACK 1e-9

gboolean
nappe_result_is_known (const NappeResult *self)
{
  return self->word != NULL || !isnan (self->value);
}

char *
nappe_result_value_text (const NappeResult *self, NappeUnitSystem units)
{
  if (self->word != NULL)
    return g_strdup (self->word);
  if (self->digits == 0)
    return nappe_rounded_text (self->quantity, self->value, units);
  return nappe_quantity_format (self->quantity, self->value, units, self->digits);
}

/* A bound of the band down to the place of the value's last digit. */
static char *
bound_text (const NappeResult *self, double bound, NappeUnitSystem units)
{
  double value = nappe_quantity_to_display (self->quantity, self->value, units), step, shown;

  if (self->digits == 0)
    return nappe_quantity_format_number (self->quantity, bound, units,
                                         nappe_rounded_digits (self->quantity, self->value, units));
  step = pow (10.0, floor (log10 (fabs (value))) - self->digits + 1);
  shown = round (nappe_quantity_to_display (self->quantity, bound, units) / step) * step;
  if (shown == 0.0)
    return nappe_quantity_format_number (self->quantity, 0.0, units, 1);
  return nappe_quantity_format_number (self->quantity, nappe_quantity_from_display (self->quantity, shown, units), units,
                                       MAX (1, (int) floor (log10 (fabs (shown) / step) + SLACK) + 1));
}

char *
nappe_result_band_text (const NappeResult *self, NappeUnitSystem units)
{
  g_autofree char *low = NULL, *high = NULL;

  if (self->method == NAPPE_BAND_NONE)
    return NULL;
  low = bound_text (self, self->band.low, units);
  high = bound_text (self, self->band.high, units);
  /* A band that the last digit cannot show is none. */
  if (g_str_equal (low, high))
    return NULL;
  /* Translators: from a number to a number: “2 700–3 250”. */
  return g_strdup_printf (_("%s–%s"), low, high);
}

char *
nappe_result_text (const NappeResult *self, NappeUnitSystem units)
{
  g_autofree char *value = nappe_result_value_text (self, units), *band = nappe_result_band_text (self, units);

  if (band == NULL)
    return g_steal_pointer (&value);
  /* Translators: a number and the band that it lies in: “2 990 L/h (2 700–3 250)”. */
  return g_strdup_printf (_("%s (%s)"), value, band);
}

static void
add_line (GString *text, const char *label, const char *line)
{
  if (text->len > 0)
    g_string_append_c (text, '\n');
  if (label != NULL)
    g_string_append_printf (text, "%s ", label);
  g_string_append (text, line);
}

char *
nappe_result_working_text (const NappeResult *self, NappeUnitSystem units)
{
  g_autofree char *steps = nappe_working_text (&self->working, units);
  GString *text = g_string_new (_(self->law->name));

  if (*steps != '\0')
    add_line (text, NULL, steps);
  /* Translators: before the book or standard that a formula is from. */
  add_line (text, _("Source:"), _(self->law->source));
  if (self->method == NAPPE_BAND_SAMPLED)
    add_line (text, NULL, _("Band: nine in ten samples of how parts, laws and hands depart lie in it."));
  else if (self->method == NAPPE_BAND_FIRST_ORDER)
    add_line (text, NULL, _("Band: from the uncertainty of the law alone, to first order."));
  return g_string_free (text, FALSE);
}

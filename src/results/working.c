/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results/working.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
clear_input (gpointer data)
{
  NappeWorkingInput *input = data;

  g_free (input->symbol);
  g_free (input->label);
}

void
nappe_working_init (NappeWorking *self)
{
  self->formula = g_strdup ("");
  self->inputs = g_array_new (FALSE, FALSE, sizeof (NappeWorkingInput));
  g_array_set_clear_func (self->inputs, clear_input);
}

void
nappe_working_clear (NappeWorking *self)
{
  g_clear_pointer (&self->formula, g_free);
  g_clear_pointer (&self->inputs, g_array_unref);
}

void
nappe_working_set_formula (NappeWorking *self, const char *formula)
{
  char *copy = g_strdup (formula);

  g_free (self->formula);
  self->formula = copy;
}

void
nappe_working_add (NappeWorking *self, const char *symbol, const char *label, double value, NappeQuantity quantity)
{
  NappeWorkingInput input = { NULL, NULL, value, quantity };

  if (!isfinite (value))
    return;
  input.symbol = g_strdup (symbol);
  input.label = g_strdup (label);
  g_array_append_val (self->inputs, input);
}

int
nappe_rounded_digits (NappeQuantity quantity, double value, NappeUnitSystem units)
{
  double size = fabs (value);

  switch (quantity)
    {
    case NAPPE_QUANTITY_FLOW:
      return 3;
    case NAPPE_QUANTITY_NUMBER:
    case NAPPE_QUANTITY_RATE:
    case NAPPE_QUANTITY_DURATION:
      return 2;
    case NAPPE_QUANTITY_VOLUME:
      return size >= 0.1 ? 3 : 0;
    case NAPPE_QUANTITY_SHARE:
      /* Windows of a few per cent want a decimal, but never more than one. */
      return size < 0.1 && size >= 0.01 ? 2 : 0;
    case NAPPE_QUANTITY_LENGTH:
      /* A tenth of an inch is too coarse for a film on a weir. */
      return units == NAPPE_UNITS_US && size < 0.025 && size >= 0.001 ? 2 : 0;
    default:
      return 0;
    }
}

char *
nappe_rounded_text (NappeQuantity quantity, double value, NappeUnitSystem units)
{
  /* A trickle that rounds to nothing needs no decimals to say so. */
  if (quantity == NAPPE_QUANTITY_FLOW && fabs (nappe_quantity_to_display (quantity, value, units)) < 0.5)
    return nappe_quantity_format (quantity, 0, units, 1);
  return nappe_quantity_format (quantity, value, units, nappe_rounded_digits (quantity, value, units));
}

char *
nappe_working_text (const NappeWorking *self, NappeUnitSystem units)
{
  GString *text = g_string_new (self->formula);

  for (guint i = 0; i < self->inputs->len; i++)
    {
      const NappeWorkingInput *input = &g_array_index (self->inputs, NappeWorkingInput, i);
      g_autofree char *number = nappe_rounded_text (input->quantity, input->value, units);

      if (text->len > 0)
        g_string_append_c (text, '\n');
      if (*input->symbol != '\0')
        /* Translators: one line of a working: symbol, what it stands for, its value, as in "h, level in the box: 12
         * mm". */
        g_string_append_printf (text, _("%s, %s: %s"), input->symbol, input->label, number);
      else
        /* Translators: one line of a working: what a number is and its value, as in "litres run down: 31.4 L". */
        g_string_append_printf (text, _("%s: %s"), input->label, number);
    }
  return g_string_free (text, FALSE);
}

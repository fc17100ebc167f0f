/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "units/quantity.h"

#include "units/unit-table.h"

#include <math.h>
#include <string.h>

#define THIN_SPACE "\342\200\211"       /* U+2009 */
#define NARROW_NO_BREAK "\342\200\257"  /* U+202F */
#define WORD_JOINER "\342\201\240"
#define MINUS "\342\210\222"            /* U+2212 */
#define INFINITE "\342\210\236"         /* U+221E */
#define NO_NUMBER "\342\200\224"        /* U+2014 */
/* More decimals than any display unit needs. */
#define MAX_DECIMALS 12

const char *
nappe_quantity_unit (NappeQuantity   quantity,
                     NappeUnitSystem system)
{
  return nappe_quantity_traits (quantity)->display[system == NAPPE_UNITS_US]->symbol;
}

double
nappe_quantity_to_display (NappeQuantity   quantity,
                           double          si,
                           NappeUnitSystem system)
{
  return nappe_unit_from_si (nappe_quantity_traits (quantity)->display[system == NAPPE_UNITS_US], si);
}

double
nappe_quantity_from_display (NappeQuantity   quantity,
                             double          displayed,
                             NappeUnitSystem system)
{
  return nappe_unit_to_si (nappe_quantity_traits (quantity)->display[system == NAPPE_UNITS_US], displayed);
}

/* Decimals that show number with significant digits after rounding ("9.96" to two is "10"); below 0 when digits
 * before the decimal sign are to be rounded away. */
static int
decimals_for (double number,
              int    significant)
{
  char text[64];
  const char *exponent;

  g_snprintf (text, sizeof text, "%.*e", significant - 1, number);
  exponent = strchr (text, 'e');
  return MIN (significant - 1 - (int) g_ascii_strtoll (exponent + 1, NULL, 10), MAX_DECIMALS);
}

/* Digits of a number >= 0 as printed in the locale, grouped in threes before the decimal sign. */
static char *
grouped_text (const char *digits)
{
  GString *text = g_string_sized_new (32);
  gsize whole = strspn (digits, "0123456789");

  for (gsize i = 0; i < whole; i++)
    {
      if (i > 0 && (whole - i) % 3 == 0)
        g_string_append (text, THIN_SPACE);
      g_string_append_c (text, digits[i]);
    }
  g_string_append (text, digits + whole);
  return g_string_free (text, FALSE);
}

char *
nappe_quantity_format_number (NappeQuantity   quantity,
                              double          si,
                              NappeUnitSystem system,
                              int             significant)
{
  const NappeQuantityTraits *traits = nappe_quantity_traits (quantity);
  double number = nappe_quantity_to_display (quantity, si, system);
  double size = fabs (number);
  int decimals = traits->decimals[system == NAPPE_UNITS_US];
  char digits[512];
  g_autofree char *text = NULL;

  if (isnan (number))
    return g_strdup (NO_NUMBER);
  if (isinf (number))
    return g_strdup (number > 0.0 ? INFINITE : MINUS INFINITE);
  if (significant > 0 || decimals < 0)
    decimals = decimals_for (size, MIN (significant > 0 ? significant : traits->significant, 17));
  if (decimals < 0)
    {
      double step = pow (10.0, -decimals);

      size = round (size / step) * step;
      decimals = 0;
    }
  g_snprintf (digits, sizeof digits, "%.*f", decimals, size);
  text = grouped_text (digits);
  if (number < 0.0 && strpbrk (digits, "123456789"))
    return g_strconcat (MINUS, text, NULL);
  return g_steal_pointer (&text);
}

char *
nappe_quantity_format (NappeQuantity   quantity,
                       double          si,
                       NappeUnitSystem system,
                       int             significant)
{
  g_autofree char *number = nappe_quantity_format_number (quantity, si, system, significant);
  const char *unit = nappe_quantity_unit (quantity, system);
  const char *space = THIN_SPACE;

  if (quantity == NAPPE_QUANTITY_SHARE || quantity == NAPPE_QUANTITY_ANGLE || *unit == '\0')
    space = "";
  else if (quantity == NAPPE_QUANTITY_TEMPERATURE)
    space = NARROW_NO_BREAK;
  return g_strconcat (number, space, unit, NULL);
}

char *
nappe_text_unbroken (const char *text)
{
  GString *whole = g_string_new (text);

  g_string_replace (whole, THIN_SPACE, NARROW_NO_BREAK, 0);
  g_string_replace (whole, "–", WORD_JOINER "–" WORD_JOINER, 0);
  return g_string_free (whole, FALSE);
}

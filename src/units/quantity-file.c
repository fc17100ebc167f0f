/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "units/quantity.h"

#include "units/unit-table.h"

#include <math.h>
#include <string.h>

/* Every double can be told from its neighbours by 17 significant digits. */
#define MAX_DIGITS 17
/* Decimal texts of up to 15 digits survive the way through a double. */
#define SAFE_DIGITS 15

const char *
nappe_quantity_file_suffix (NappeQuantity quantity)
{
  return nappe_quantity_traits (quantity)->file_suffix;
}

double
nappe_quantity_from_file (NappeQuantity quantity,
                          double        in_file_unit)
{
  return nappe_unit_to_si (nappe_quantity_traits (quantity)->file_unit, in_file_unit);
}

/* number rounded to digits significant decimal digits. */
static double
round_to_digits (double number,
                 int    digits)
{
  char format[8], text[G_ASCII_DTOSTR_BUF_SIZE];

  g_snprintf (format, sizeof format, "%%.%de", digits - 1);
  g_ascii_formatd (text, sizeof text, format, number);
  return g_ascii_strtod (text, NULL);
}

double
nappe_quantity_to_file (NappeQuantity quantity,
                        double        si)
{
  double plain = nappe_unit_from_si (nappe_quantity_traits (quantity)->file_unit, si);
  double best = plain, best_miss;
  double neighbour[2] = { nextafter (plain, -INFINITY), nextafter (plain, INFINITY) };

  for (int digits = SAFE_DIGITS; digits <= MAX_DIGITS; digits++)
    {
      double rounded = round_to_digits (plain, digits);

      if (nappe_quantity_from_file (quantity, rounded) == si)
        return rounded;
    }
  best_miss = fabs (nappe_quantity_from_file (quantity, plain) - si);
  for (int i = 0; i < 2; i++)
    {
      double miss = fabs (nappe_quantity_from_file (quantity, neighbour[i]) - si);

      if (miss < best_miss)
        {
          best = neighbour[i];
          best_miss = miss;
        }
    }
  return best;
}

double
nappe_quantity_snap (NappeQuantity quantity,
                     double        si)
{
  return nappe_quantity_from_file (quantity, nappe_quantity_to_file (quantity, si));
}

/* number, which has at most digits significant digits, written without exponent where that is readable. */
static char *
decimal_text (double number,
              int    digits)
{
  char format[8], text[64];
  int exponent;

  g_snprintf (format, sizeof format, "%%.%de", digits - 1);
  g_ascii_formatd (text, sizeof text, format, number);
  exponent = (int) g_ascii_strtoll (strchr (text, 'e') + 1, NULL, 10);
  if (exponent >= -7 && exponent <= 20)
    {
      g_snprintf (format, sizeof format, "%%.%df", MAX (digits - 1 - exponent, 0));
      g_ascii_formatd (text, sizeof text, format, number);
    }
  return g_strdup (text);
}

char *
nappe_quantity_file_text (NappeQuantity quantity,
                          double        si)
{
  double number, wanted;

  g_return_val_if_fail (isfinite (si), g_strdup ("0"));
  if (si == 0.0)
    return g_strdup ("0");
  number = nappe_quantity_to_file (quantity, si);
  wanted = nappe_quantity_from_file (quantity, number);
  for (int digits = 1; digits < MAX_DIGITS; digits++)
    {
      g_autofree char *text = decimal_text (round_to_digits (number, digits), digits);

      if (nappe_quantity_from_file (quantity, g_ascii_strtod (text, NULL)) == wanted)
        return g_steal_pointer (&text);
    }
  return decimal_text (number, MAX_DIGITS);
}

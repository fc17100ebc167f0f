/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Numbers on their way to a file and back. */

#include "units/quantity.h"

#include <math.h>
#include <string.h>

/* A decimal text of up to digits significant digits, as a person or program might write it. */
static char *
random_decimal (int digits)
{
  GString *text = g_string_new (g_test_rand_int_range (0, 8) == 0 ? "-" : NULL);
  int n = g_test_rand_int_range (1, digits + 1), point = g_test_rand_int_range (0, n + 1);

  for (int i = 0; i < n; i++)
    {
      if (i == point)
        g_string_append (text, i == 0 ? "0." : ".");
      g_string_append_c (text, (char) ('0' + g_test_rand_int_range (i == 0 ? 1 : 0, 10)));
    }
  return g_string_free (text, FALSE);
}

static void
test_decimals_survive (void)
{
  for (int quantity = 0; quantity < NAPPE_QUANTITY_N; quantity++)
    for (int i = 0; i < 400; i++)
      {
        g_autofree char *text = random_decimal (15);
        double si = nappe_quantity_from_file ((NappeQuantity) quantity, g_ascii_strtod (text, NULL));
        g_autofree char *again = nappe_quantity_file_text ((NappeQuantity) quantity, si);

        g_assert_cmpfloat (nappe_quantity_from_file ((NappeQuantity) quantity,
                                                     nappe_quantity_to_file ((NappeQuantity) quantity, si)),
                           ==, si);
        g_assert_cmpfloat (nappe_quantity_from_file ((NappeQuantity) quantity, g_ascii_strtod (again, NULL)), ==, si);
        /* As short as what was written, or shorter: a trailing zero or minus sign apart. */
        g_assert_cmpuint (strlen (again), <=, strlen (text));
        g_assert_cmpfloat (nappe_quantity_snap ((NappeQuantity) quantity, si), ==, si);
      }
}

static void
test_snap (void)
{
  for (int quantity = 0; quantity < NAPPE_QUANTITY_N; quantity++)
    for (int i = 0; i < 400; i++)
      {
        double si = g_test_rand_double_range (-1.0, 1.0) * pow (10.0, g_test_rand_double_range (-8, 4));
        double snapped = nappe_quantity_snap ((NappeQuantity) quantity, si);
        g_autofree char *text = nappe_quantity_file_text ((NappeQuantity) quantity, snapped);

        g_assert_cmpfloat (fabs (snapped - si), <=, 4e-16 * fabs (si));
        g_assert_cmpfloat (nappe_quantity_snap ((NappeQuantity) quantity, snapped), ==, snapped);
        g_assert_cmpfloat (nappe_quantity_from_file ((NappeQuantity) quantity, g_ascii_strtod (text, NULL)), ==, snapped);
      }
}

static void
test_factors (void)
{
  /* SI prefixes and NIST SP 811: litre 1e-3 m3, hour 3600 s. */
  g_assert_cmpfloat (nappe_quantity_from_file (NAPPE_QUANTITY_LENGTH, 508.0), ==, 0.508);
  g_assert_cmpfloat (nappe_quantity_from_file (NAPPE_QUANTITY_VOLUME, 250.0), ==, 0.25);
  g_assert_cmpfloat (nappe_quantity_from_file (NAPPE_QUANTITY_FLOW, 3600.0), ==, 0.001);
  g_assert_cmpfloat (nappe_quantity_from_file (NAPPE_QUANTITY_SHARE, 7.0), ==, 0.07);
  g_assert_cmpfloat (nappe_quantity_from_file (NAPPE_QUANTITY_RATE, 10.0), ==, 10.0 / 3600.0);
  g_assert_cmpfloat (nappe_quantity_from_file (NAPPE_QUANTITY_PRESSURE, 50.0), ==, 50000.0);
  g_assert_cmpfloat (nappe_quantity_from_file (NAPPE_QUANTITY_HEAD, 2.5), ==, 2.5);
  g_assert_cmpfloat (nappe_quantity_from_file (NAPPE_QUANTITY_TEMPERATURE, 25.5), ==, 25.5);
}

static void
test_texts (void)
{
  const struct
  {
    NappeQuantity quantity;
    double        si;
    const char   *text;
  } cases[] = {
    { NAPPE_QUANTITY_LENGTH, 0.508, "508" },      { NAPPE_QUANTITY_LENGTH, 0.0254, "25.4" },
    { NAPPE_QUANTITY_LENGTH, 1.5e-6, "0.0015" },  { NAPPE_QUANTITY_FLOW, 2500.0 / 3.6e6, "2500" },
    { NAPPE_QUANTITY_SHARE, 0.29, "29" },         { NAPPE_QUANTITY_LENGTH, 0.0, "0" },
    { NAPPE_QUANTITY_LENGTH, -0.0, "0" },         { NAPPE_QUANTITY_LENGTH, -0.012, "-12" },
    { NAPPE_QUANTITY_NUMBER, 0.1, "0.1" },        { NAPPE_QUANTITY_VOLUME, 1000.0, "1000000" },
    { NAPPE_QUANTITY_NUMBER, 1.0 / 3.0, "0.3333333333333333" },
    { NAPPE_QUANTITY_NUMBER, 9.999e14, "999900000000000" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = nappe_quantity_file_text (cases[i].quantity, cases[i].si);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

static void
test_not_finite (void)
{
  g_autofree char *text = NULL;

  g_test_expect_message (G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*isfinite*");
  text = nappe_quantity_file_text (NAPPE_QUANTITY_LENGTH, INFINITY);
  g_test_assert_expected_messages ();
  g_assert_cmpstr (text, ==, "0");
}

static void
test_suffixes (void)
{
  g_assert_cmpstr (nappe_quantity_file_suffix (NAPPE_QUANTITY_LENGTH), ==, "mm");
  g_assert_cmpstr (nappe_quantity_file_suffix (NAPPE_QUANTITY_FLOW), ==, "litres_per_hour");
  g_assert_cmpstr (nappe_quantity_file_suffix (NAPPE_QUANTITY_COUNT), ==, "");
  for (int quantity = 0; quantity < NAPPE_QUANTITY_N; quantity++)
    g_assert_nonnull (nappe_quantity_file_suffix ((NappeQuantity) quantity));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/units/file/decimals-survive", test_decimals_survive);
  g_test_add_func ("/units/file/snap", test_snap);
  g_test_add_func ("/units/file/factors", test_factors);
  g_test_add_func ("/units/file/texts", test_texts);
  g_test_add_func ("/units/file/not-finite", test_not_finite);
  g_test_add_func ("/units/file/suffixes", test_suffixes);
  return g_test_run ();
}

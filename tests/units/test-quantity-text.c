/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Numbers on their way to a person and back. */

#include "units/quantity.h"

#include <locale.h>
#include <math.h>
#include <string.h>

#define LENGTH NAPPE_QUANTITY_LENGTH
#define FLOW NAPPE_QUANTITY_FLOW
#define METRIC NAPPE_UNITS_METRIC
#define US NAPPE_UNITS_US

/* Exact by definition (NIST SP 811): inch 0.0254 m, US gallon 231 in3 = 3.785411784e-3 m3, pound 0.45359237 kg. */
#define GALLON 3.785411784e-3

typedef struct {
  NappeQuantity   quantity;
  NappeUnitSystem system;
  const char     *text;
  double          si;
} Reading;

static const Reading readings[] = {
  { LENGTH, METRIC, "25", 0.025 }, { LENGTH, US, "25", 0.635 }, { LENGTH, US, "25 mm", 0.025 },
  { LENGTH, METRIC, "  25mm ", 0.025 }, { LENGTH, METRIC, "1 1/4 in", 0.03175 }, { LENGTH, METRIC, "1-1/4\"", 0.03175 },
  { LENGTH, METRIC, "3/4 in", 0.01905 }, { LENGTH, US, "3/4", 0.01905 }, { LENGTH, METRIC, "2 ft 6 in", 0.762 },
  { LENGTH, METRIC, "2' 6 1/2\"", 0.7747 }, { LENGTH, METRIC, "2′6″", 0.762 }, { LENGTH, METRIC, "1½ in", 0.0381 },
  { LENGTH, METRIC, "½ in", 0.0127 }, { LENGTH, METRIC, "1,5 m", 1.5 }, { LENGTH, METRIC, "1.5 m", 1.5 },
  { LENGTH, METRIC, "1 250 mm", 1.25 }, { LENGTH, METRIC, "1\342\200\211250 mm", 1.25 },
  { LENGTH, METRIC, "1\302\240250 mm", 1.25 }, { LENGTH, METRIC, "1\342\200\257250", 1.25 },
  { LENGTH, METRIC, "1,250.5", 1.2505 }, { LENGTH, METRIC, "1.250,5", 1.2505 }, { LENGTH, METRIC, "1,250,000", 1250 },
  { LENGTH, METRIC, "0,125 m", 0.125 }, { LENGTH, METRIC, "-3 cm", -0.03 }, { LENGTH, METRIC, "\342\210\2223 cm", -0.03 },
  { LENGTH, METRIC, "+3 cm", 0.03 }, { LENGTH, METRIC, "1e3", 1.0 }, { LENGTH, METRIC, "2 M", 2.0 },
  { LENGTH, METRIC, "٢٥ mm", 0.025 }, { LENGTH, METRIC, ".5 m", 0.5 },
  { FLOW, METRIC, "600 gal/h", 600 * GALLON / 3600 }, { FLOW, METRIC, "600 gph", 600 * GALLON / 3600 },
  { FLOW, US, "600", 600 * GALLON / 3600 }, { FLOW, US, "2500 L/h", 2500 / 3.6e6 }, { FLOW, METRIC, "30 L/min", 0.0005 },
  { FLOW, METRIC, "10 GPM", 10 * GALLON / 60 }, { FLOW, METRIC, "2.5 m³/h", 2.5 / 3600 },
  { NAPPE_QUANTITY_TEMPERATURE, METRIC, "77 °F", 25.0 }, { NAPPE_QUANTITY_TEMPERATURE, METRIC, "-40 °F", -40.0 },
  { NAPPE_QUANTITY_TEMPERATURE, US, "77", 25.0 }, { NAPPE_QUANTITY_TEMPERATURE, METRIC, "25℃", 25.0 },
  { NAPPE_QUANTITY_SHARE, METRIC, "50 %", 0.5 }, { NAPPE_QUANTITY_SHARE, METRIC, "50%", 0.5 },
  { NAPPE_QUANTITY_SHARE, METRIC, "50", 0.5 }, { NAPPE_QUANTITY_VOLUME, METRIC, "75 gal", 75 * GALLON },
  { NAPPE_QUANTITY_VOLUME, METRIC, "75 l", 0.075 }, { NAPPE_QUANTITY_HEAD, METRIC, "6 ft", 1.8288 },
  { NAPPE_QUANTITY_HEAD, METRIC, "250 mm", 0.25 }, { NAPPE_QUANTITY_MASS, METRIC, "10 lb", 4.5359237 },
  { NAPPE_QUANTITY_RATE, METRIC, "10 /h", 10 / 3600.0 }, { NAPPE_QUANTITY_RATE, METRIC, "10 per hour", 10 / 3600.0 },
  { NAPPE_QUANTITY_DURATION, METRIC, "1 h 30 min", 5400 }, { NAPPE_QUANTITY_DURATION, METRIC, "2 days", 172800 },
  { NAPPE_QUANTITY_SALINITY, METRIC, "35 g/kg", 35 }, { NAPPE_QUANTITY_PRESSURE, METRIC, "1 psi", 6894.757293168361 },
  { NAPPE_QUANTITY_ANGLE, METRIC, "45°", 45 }, { NAPPE_QUANTITY_COUNT, METRIC, "12", 12 },
  { NAPPE_QUANTITY_AREA, METRIC, "1 sq ft", 0.09290304 }, { NAPPE_QUANTITY_SPEED, US, "1", 0.3048 },
  { NAPPE_QUANTITY_DENSITY, METRIC, "1 lb/ft3", 16.018463373960142 },
};

static void
test_reads (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (readings); i++)
    {
      g_autoptr (GError) error = NULL;
      double si = NAN;

      g_test_message ("%s", readings[i].text);
      nappe_quantity_parse (readings[i].quantity, readings[i].text, readings[i].system, &si, &error);
      g_assert_no_error (error);
      g_assert_cmpfloat (fabs (si - readings[i].si), <=, 3e-16 * fabs (readings[i].si));
    }
}

static void
test_refuses (void)
{
  const struct
  {
    NappeQuantity   quantity;
    const char     *text;
    NappeUnitsError code;
  } cases[] = {
    { LENGTH, "", NAPPE_UNITS_ERROR_EMPTY },
    { LENGTH, " \t\n ", NAPPE_UNITS_ERROR_EMPTY },
    { LENGTH, "mm", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "nan", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "inf", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "-", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "1/0", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "1,250", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "1.2.3", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "1,25,3", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "10²", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "2 ft 6", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "6 in 2 ft", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "2 ft -6 in", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "\377\376", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { NAPPE_QUANTITY_TEMPERATURE, "25 °C 3 °F", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
    { LENGTH, "0x10", NAPPE_UNITS_ERROR_UNKNOWN_UNIT },
    { LENGTH, "5 parsec", NAPPE_UNITS_ERROR_UNKNOWN_UNIT },
    { LENGTH, "5 mmm", NAPPE_UNITS_ERROR_UNKNOWN_UNIT },
    { LENGTH, "12 kg", NAPPE_UNITS_ERROR_WRONG_QUANTITY },
    { LENGTH, "12 L/h", NAPPE_UNITS_ERROR_WRONG_QUANTITY },
    { NAPPE_QUANTITY_NUMBER, "12 mm", NAPPE_UNITS_ERROR_WRONG_QUANTITY },
    { LENGTH, "1e999", NAPPE_UNITS_ERROR_OUT_OF_RANGE },
    { LENGTH, "1e15 m", NAPPE_UNITS_ERROR_OUT_OF_RANGE },
    { NAPPE_QUANTITY_TEMPERATURE, "-300", NAPPE_UNITS_ERROR_OUT_OF_RANGE },
    { NAPPE_QUANTITY_COUNT, "2.5", NAPPE_UNITS_ERROR_OUT_OF_RANGE },
    { NAPPE_QUANTITY_COUNT, "-2", NAPPE_UNITS_ERROR_OUT_OF_RANGE },
  };
  g_autofree char *overlong = g_strnfill (201, '1');

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *shown = g_strescape (cases[i].text, NULL);
      double si = 42.0;

      g_test_message ("%s", shown);
      g_assert_false (nappe_quantity_parse (cases[i].quantity, cases[i].text, METRIC, &si, &error));
      g_assert_error (error, NAPPE_UNITS_ERROR, (int) cases[i].code);
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      g_assert_cmpfloat (si, ==, 42.0);
    }
  {
    g_autoptr (GError) error = NULL;
    double si;

    g_assert_false (nappe_quantity_parse (LENGTH, overlong, METRIC, &si, &error));
    g_assert_error (error, NAPPE_UNITS_ERROR, NAPPE_UNITS_ERROR_NOT_A_NUMBER);
  }
}

static void
test_says_what_is_wanted (void)
{
  g_autoptr (GError) error = NULL;
  double si;

  nappe_quantity_parse (LENGTH, "12 kg", METRIC, &si, &error);
  g_assert_cmpstr (error->message, ==, "“12 kg” is a mass; a length is wanted, such as 300 mm or 12 in");
}

/* Any bytes at all: no crash, and either a finite number or an error. */
static void
test_random_bytes (void)
{
  const char *pieces[] = { "1",        "25",
                           "000",      " ",
                           ",",        ".",
                           "-",        "/",
                           "e",        "mm",
                           "in",       "ft",
                           "'",        "\"",
                           "°",        "½",
                           "²",        "\342\200\211",
                           "gal/h",    "%",
                           "\377",     "\342\201\204",
                           "+",        "9",
                           "999",      "m3",
                           "per hour", "\003",
                           "٣" };

  for (int i = 0; i < 10000; i++)
    {
      g_autoptr (GString) text = g_string_new (NULL);
      g_autoptr (GError) error = NULL;
      double si = NAN;

      for (int n = g_test_rand_int_range (0, 12); n > 0; n--)
        g_string_append (text, pieces[g_test_rand_int_range (0, G_N_ELEMENTS (pieces))]);
      if (nappe_quantity_parse ((NappeQuantity) g_test_rand_int_range (0, NAPPE_QUANTITY_N), text->str,
                                g_test_rand_bit () ? METRIC : US, &si, &error))
        g_assert_true (isfinite (si) && error == NULL);
      else
        g_assert_true (isnan (si) && error != NULL);
    }
}

typedef struct {
  NappeQuantity   quantity;
  double          si;
  NappeUnitSystem system;
  int             significant;
  const char     *text;
} Writing;

static const Writing writings[] = {
  { LENGTH, 0.508, METRIC, 0, "508 mm" },
  { LENGTH, 1.25, METRIC, 0, "1 250 mm" },
  { LENGTH, 12.5, METRIC, 0, "12 500 mm" },
  { LENGTH, 0.508, US, 0, "20.0 in" },
  { LENGTH, 0.02664, METRIC, 3, "26.6 mm" },
  { LENGTH, -0.0001, METRIC, 0, "0 mm" },
  { LENGTH, -0.012, METRIC, 0, "−12 mm" },
  { LENGTH, 0.0996, METRIC, 2, "100 mm" },
  { LENGTH, 0.00996, METRIC, 2, "10 mm" },
  { FLOW, 2137 / 3.6e6, METRIC, 0, "2 140 L/h" },
  { FLOW, 0.0, METRIC, 0, "0.00 L/h" },
  { FLOW, 12.34 / 3.6e6, METRIC, 0, "12.3 L/h" },
  { FLOW, 600 * GALLON / 3600, US, 0, "600 gal/h" },
  { NAPPE_QUANTITY_VOLUME, 0.2345, METRIC, 0, "234.5 L" },
  { NAPPE_QUANTITY_SPEED, 0.456, METRIC, 0, "0.46 m/s" },
  { NAPPE_QUANTITY_HEAD, 2.345, METRIC, 2, "2.3 m" },
  { NAPPE_QUANTITY_TEMPERATURE, 25.0, US, 0, "77.0_°F" },
  { NAPPE_QUANTITY_TEMPERATURE, -0.01, METRIC, 0, "0.0_°C" },
  { NAPPE_QUANTITY_SHARE, 0.5, METRIC, 0, "50%" },
  { NAPPE_QUANTITY_SHARE, -0.001, METRIC, 0, "0%" },
  { NAPPE_QUANTITY_ANGLE, 45.0, METRIC, 0, "45°" },
  { NAPPE_QUANTITY_COUNT, 12.0, METRIC, 0, "12" },
  { NAPPE_QUANTITY_RATE, 10 / 3600.0, METRIC, 0, "10.0 /h" },
  { LENGTH, INFINITY, METRIC, 0, "∞ mm" },
  { LENGTH, NAN, METRIC, 0, "— mm" },
};

/* The expected texts above are written with plain spaces, and '_' for a narrow no-break one. */
static char *
with_thin_spaces (const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, " ", -1);
  g_autofree char *thin = g_strjoinv ("\342\200\211", parts);
  g_auto (GStrv) narrow = g_strsplit (thin, "_", -1);

  return g_strjoinv ("\342\200\257", narrow);
}

static void
test_writes (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (writings); i++)
    {
      const Writing *writing = &writings[i];
      g_autofree char *wanted = with_thin_spaces (writing->text);
      g_autofree char *text = nappe_quantity_format (writing->quantity, writing->si, writing->system, writing->significant);

      g_assert_cmpstr (text, ==, wanted);
    }
}

/* What is shown is what is read back, to the digits shown. */
static void
test_shown_is_read (void)
{
  for (int i = 0; i < 4000; i++)
    {
      NappeQuantity quantity = (NappeQuantity) g_test_rand_int_range (NAPPE_QUANTITY_SHARE, NAPPE_QUANTITY_N);
      NappeUnitSystem system = g_test_rand_bit () ? METRIC : US;
      double shown = pow (10.0, g_test_rand_double_range (-2, 5)),
             si = nappe_quantity_from_display (quantity, shown, system), back;
      g_autofree char *text = nappe_quantity_format (quantity, si, system, 9);
      g_autoptr (GError) error = NULL;

      nappe_quantity_parse (quantity, text, system, &back, &error);
      g_assert_no_error (error);
      g_assert_cmpfloat (fabs (nappe_quantity_to_display (quantity, back, system) / shown - 1.0), <, 1e-8);
    }
}

static void
test_comma_locale (void)
{
  const char *names[]
      = { "de_DE.UTF-8", "fr_FR.UTF-8", "de_DE.utf8", "nl_NL.UTF-8", "it_IT.UTF-8", "pt_BR.UTF-8", "ru_RU.UTF-8" };
  const char *set = NULL;
  g_autofree char *text = NULL, *file = NULL;
  double si = 0.0;

  for (gsize i = 0; i < G_N_ELEMENTS (names) && !set; i++)
    set = setlocale (LC_NUMERIC, names[i]);
  if (!set)
    {
      g_test_skip ("no locale with a decimal comma is installed");
      return;
    }
  text = nappe_quantity_format_number (LENGTH, 0.0254, METRIC, 3);
  g_assert_cmpstr (text, ==, "25,4");
  g_assert_true (nappe_quantity_parse (LENGTH, "1,250 m", METRIC, &si, NULL));
  g_assert_cmpfloat (si, ==, 1.25);
  g_assert_true (nappe_quantity_parse (LENGTH, "25.4", METRIC, &si, NULL));
  g_assert_cmpfloat (si, ==, 0.0254);
  g_assert_false (nappe_quantity_parse (LENGTH, "1.250", METRIC, &si, NULL));
  file = nappe_quantity_file_text (LENGTH, 0.0254);
  g_assert_cmpstr (file, ==, "25.4");
  setlocale (LC_NUMERIC, "C");
}

/* What is shown in a narrow place breaks between words, never inside a number or before its unit. */
static void
test_unbroken (void)
{
  g_autofree char *flow = nappe_quantity_format (NAPPE_QUANTITY_FLOW, 1080.0 / 3.6e6, METRIC, 0);
  g_autofree char *text = g_strdup_printf ("the %s (980–1 150) that run", flow);
  g_autofree char *whole = nappe_text_unbroken (text);

  g_assert_cmpstr (flow, ==, "1\342\200\211080\342\200\211L/h");
  g_assert_cmpstr (whole, ==, "the 1\342\200\257080\342\200\257L/h (980\342\201\240–\342\201\2401 150) that run");
}

/* A unit that stands apart from its numbers is the same as one behind them, and never a number itself. */
static void
test_unit_apart (void)
{
  static const struct
  {
    NappeQuantity quantity;
    const char *unit;
    double one; /* SI */
  } known[] = {
    { FLOW, "L/h", 1 / 3.6e6 }, { FLOW, " GPM ", GALLON / 60 }, { FLOW, "m³/h", 1.0 / 3600 }, { FLOW, "lpm", 1 / 6e4 },
    { NAPPE_QUANTITY_HEAD, "ft", 0.3048 }, { NAPPE_QUANTITY_HEAD, "m", 1 }, { LENGTH, "mm", 0.001 },
  };
  static const struct
  {
    const char *unit;
    NappeUnitsError error;
  } wrong[] = {
    { "", NAPPE_UNITS_ERROR_UNKNOWN_UNIT },        { "bushels", NAPPE_UNITS_ERROR_UNKNOWN_UNIT },
    { "5", NAPPE_UNITS_ERROR_UNKNOWN_UNIT },       { "psi", NAPPE_UNITS_ERROR_WRONG_QUANTITY },
    { "L/h L/h", NAPPE_UNITS_ERROR_NOT_A_NUMBER }, { "\xff", NAPPE_UNITS_ERROR_UNKNOWN_UNIT },
    { "L/h 5", NAPPE_UNITS_ERROR_NOT_A_NUMBER },
  };
  double si;

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    {
      g_assert_true (nappe_quantity_from_unit (known[i].quantity, 3, known[i].unit, &si, NULL));
      g_assert_cmpfloat_with_epsilon (si, 3 * known[i].one, 1e-15 + 3e-15 * known[i].one);
    }
  g_assert_true (nappe_quantity_from_unit (FLOW, 1500, "L/h", &si, NULL));
  g_assert_cmpfloat (si, ==, nappe_quantity_from_file (FLOW, 1500));
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;

      si = 7;
      g_assert_false (nappe_quantity_from_unit (FLOW, 1, wrong[i].unit, &si, &error));
      g_assert_error (error, NAPPE_UNITS_ERROR, (int) wrong[i].error);
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      g_assert_cmpfloat (si, ==, 7);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/units/text/reads", test_reads);
  g_test_add_func ("/units/text/refuses", test_refuses);
  g_test_add_func ("/units/text/says-what-is-wanted", test_says_what_is_wanted);
  g_test_add_func ("/units/text/random-bytes", test_random_bytes);
  g_test_add_func ("/units/text/unit-apart", test_unit_apart);
  g_test_add_func ("/units/text/writes", test_writes);
  g_test_add_func ("/units/text/shown-is-read", test_shown_is_read);
  g_test_add_func ("/units/text/comma-locale", test_comma_locale);
  g_test_add_func ("/units/text/unbroken", test_unbroken);
  return g_test_run ();
}

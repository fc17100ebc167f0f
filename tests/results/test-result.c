/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One result: digits by band, texts, workings, and the table of laws. */
#include <math.h>
#include <string.h>

#include "results/result-list.h"

/* Litres an hour in SI. */
#define LITRE_PER_HOUR (1e-3 / 3600)

/* A list for results that need no build. */
static NappeResultList
empty_list (void)
{
  return (NappeResultList) { .results = g_ptr_array_new_with_free_func ((GDestroyNotify) nappe_result_free) };
}

static char *
plain (char *text)
{
  GString *changed = g_string_new (text);

  g_free (text);
  g_string_replace (changed, "\342\200\211", " ", 0);
  return g_string_free (changed, FALSE);
}

typedef struct
{
  NappeQuantity quantity;
  double value, half_width;
  int digits;
  const char *text;
} DigitRow;

/* The rule of result.h, by hand. */
static const DigitRow digit_rows[] = {
  { NAPPE_QUANTITY_FLOW, 2990 * LITRE_PER_HOUR, 270 * LITRE_PER_HOUR, 3, "2 990 L/h (2 720–3 260)" },
  { NAPPE_QUANTITY_FLOW, 2990 * LITRE_PER_HOUR, 1500 * LITRE_PER_HOUR, 2, "3 000 L/h (1 500–4 500)" },
  { NAPPE_QUANTITY_FLOW, 1100 * LITRE_PER_HOUR, 990 * LITRE_PER_HOUR, 2, "1 100 L/h (100–2 100)" },
  { NAPPE_QUANTITY_FLOW, 2990 * LITRE_PER_HOUR, 3 * LITRE_PER_HOUR, 3, "2 990 L/h" },
  { NAPPE_QUANTITY_FLOW, 300 * LITRE_PER_HOUR, 1000 * LITRE_PER_HOUR, 1, "300 L/h (−700–1 300)" },
  { NAPPE_QUANTITY_FLOW, 2990 * LITRE_PER_HOUR, 360 * LITRE_PER_HOUR, 2, "3 000 L/h (2 600–3 400)" },
  { NAPPE_QUANTITY_NUMBER, 1.88, 0.92, 2, "1.9 (1.0–2.8)" },
  { NAPPE_QUANTITY_VOLUME, 0.0314, 0.002, 3, "31.4 L (29.4–33.4)" },
  { NAPPE_QUANTITY_VOLUME, 0.0314, 0.020, 2, "31 L (11–51)" },
  { NAPPE_QUANTITY_LENGTH, 1.253, 0.002, 0, "1 253 mm (1 251–1 255)" },
  { NAPPE_QUANTITY_LENGTH, 1.253, 0.120, 3, "1 250 mm (1 130–1 370)" },
  { NAPPE_QUANTITY_LENGTH, 0.008, 0.0015, 0, "8 mm (7–10)" },
  { NAPPE_QUANTITY_LENGTH, 0.000047, 0.000004, 2, "0.047 mm (0.043–0.051)" },
  { NAPPE_QUANTITY_HEAD, 1.812, 0.1, 3, "1.81 m (1.71–1.91)" },
  { NAPPE_QUANTITY_TEMPERATURE, 25.0, 3.0, 0, "25.0\342\200\257°C (22.0–28.0)" },
};

static void
test_digits (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (digit_rows); i++)
    {
      const DigitRow *row = &digit_rows[i];
      NappeResultList list = empty_list ();
      NappeResult *result = nappe_result_list_add (&list, "x", "X", row->quantity, row->value, NAPPE_LAW_SUM);
      g_autofree char *text = NULL;

      nappe_result_sampled (result, &(NappeBand) { row->value - row->half_width, row->value + row->half_width });
      g_assert_cmpint (result->method, ==, NAPPE_BAND_SAMPLED);
      g_assert_cmpint (result->digits, ==, row->digits);
      text = plain (nappe_result_text (result, NAPPE_UNITS_METRIC));
      g_assert_cmpstr (text, ==, row->text);
      g_ptr_array_unref (list.results);
    }
}

/* Small lengths in inches keep the digit that says something. */
static void
test_us_units (void)
{
  NappeResultList list = empty_list ();
  NappeResult *film = nappe_result_list_add (&list, "film", "Film", NAPPE_QUANTITY_LENGTH, 0.008, NAPPE_LAW_WEIR);
  g_autofree char *text = NULL;

  nappe_result_sampled (film, &(NappeBand) { 0.0066, 0.0096 });
  text = plain (nappe_result_text (film, NAPPE_UNITS_US));
  g_assert_cmpstr (text, ==, "0.31 in (0.26–0.38)");
  g_ptr_array_unref (list.results);
}

static void
test_bands (void)
{
  NappeResultList list = empty_list ();
  const NappeBand level = { 1.0, 1.2 }, unknown = { NAN, NAN };
  NappeResult *result = nappe_result_list_add (&list, "a", "A", NAPPE_QUANTITY_LENGTH, 0.4, NAPPE_LAW_HEIGHT);

  nappe_result_sampled_shifted (result, &level, -1.0, 1.5);
  g_assert_cmpfloat_with_epsilon (result->band.low, 0.3, 1e-12);
  g_assert_cmpfloat_with_epsilon (result->band.high, 0.5, 1e-12);
  result = nappe_result_list_add (&list, "b", "B", NAPPE_QUANTITY_SPEED, -2.0, NAPPE_LAW_MEAN_SPEED);
  nappe_result_sampled_scaled (result, &level, -2.0);
  g_assert_cmpfloat_with_epsilon (result->band.low, -2.4, 1e-12);
  g_assert_cmpfloat_with_epsilon (result->band.high, -2.0, 1e-12);
  result = nappe_result_list_add (&list, "c", "C", NAPPE_QUANTITY_FLOW, 1e-3, NAPPE_LAW_VALVE);
  nappe_result_by_law (result);
  g_assert_cmpint (result->method, ==, NAPPE_BAND_FIRST_ORDER);
  g_assert_cmpfloat_with_epsilon (result->band.low, 0.5e-3, 1e-12);
  g_assert_cmpfloat_with_epsilon (result->band.high, 2e-3, 1e-12);
  /* No band: of an exact law, of an unknown one, of none, of an unknown value. */
  result = nappe_result_list_add (&list, "d", "D", NAPPE_QUANTITY_FLOW, 1e-3, NAPPE_LAW_SUM);
  nappe_result_by_law (result);
  nappe_result_sampled (result, &unknown);
  nappe_result_sampled (result, NULL);
  g_assert_cmpint (result->method, ==, NAPPE_BAND_NONE);
  g_assert_true (isnan (result->band.low) && isnan (result->band.high));
  result = nappe_result_list_add (&list, "e", "E", NAPPE_QUANTITY_FLOW, NAN, NAPPE_LAW_VALVE);
  nappe_result_by_law (result);
  g_assert_cmpint (result->method, ==, NAPPE_BAND_NONE);
  g_assert_false (nappe_result_is_known (result));
  g_ptr_array_unref (list.results);
}

static void
test_words (void)
{
  NappeResultList list = empty_list ();
  const NappeResult *result = nappe_result_list_add_word (&list, "state", "Runs", "full bore", NAPPE_LAW_FROUDE);
  g_autofree char *text = nappe_result_text (result, NAPPE_UNITS_METRIC);

  g_assert_true (nappe_result_is_known (result));
  g_assert_cmpstr (text, ==, "full bore");
  g_assert_true (nappe_results_find (list.results, "state") == result);
  g_assert_null (nappe_results_find (list.results, "stat"));
  g_ptr_array_unref (list.results);
}

static void
test_working (void)
{
  NappeResultList list = empty_list ();
  NappeResult *result = nappe_result_list_add (&list, "speed", "Speed", NAPPE_QUANTITY_SPEED, 1.0, NAPPE_LAW_MEAN_SPEED);
  g_autofree char *text = NULL;

  nappe_result_input (result, "Q", "flow", NAPPE_QUANTITY_FLOW, 3600 * LITRE_PER_HOUR);
  nappe_result_input (result, "A", "area", NAPPE_QUANTITY_AREA, NAN);
  nappe_result_sampled (result, &(NappeBand) { 0.9, 1.1 });
  text = plain (nappe_result_working_text (result, NAPPE_UNITS_METRIC));
  g_assert_cmpstr (text, ==,
                   "Mean speed\nV = Q/A\nQ, flow: 3 600 L/h\nSource: definition\n"
                   "Band: nine in ten samples of how parts, laws and hands depart lie in it.");
  g_ptr_array_unref (list.results);
}

/* Every law has a name of its own and says where it is from; what is said of its uncertainty can be a half-width. */
static void
test_laws (void)
{
  g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);

  for (int i = 0; i < NAPPE_LAW_N; i++)
    {
      const NappeLaw *law = nappe_law ((NappeLawName) i);

      g_assert_nonnull (law->id);
      g_assert_true (g_hash_table_add (ids, (gpointer) law->id));
      g_assert_cmpuint (strspn (law->id, "abcdefghijklmnopqrstuvwxyz-"), ==, strlen (law->id));
      g_assert_cmpuint (strlen (law->name), >, 0);
      g_assert_cmpuint (strlen (law->source), >, 0);
      g_assert_true (i == NAPPE_LAW_GIVEN || *law->formula != '\0');
      g_assert_true (law->uncertainty >= 0.0 && law->uncertainty <= 1.0);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/results/result/digits", test_digits);
  g_test_add_func ("/results/result/us-units", test_us_units);
  g_test_add_func ("/results/result/bands", test_bands);
  g_test_add_func ("/results/result/words", test_words);
  g_test_add_func ("/results/result/working", test_working);
  g_test_add_func ("/results/result/laws", test_laws);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "units/json-guard.h"

#include <string.h>
#include <time.h>

/* Where a rule is not this project's own, it is that of RFC 8259 (the JSON grammar) or of the
 * Unicode Standard, table 3-7 (well-formed UTF-8). */

#define GOOD (-1)

typedef struct
{
  const char *text;
  int code; /* GOOD or a NappeJsonError */
} Case;

static const Case cases[] = {
  /* RFC 8259: what must pass */
  { "null", GOOD },
  { "true", GOOD },
  { "false", GOOD },
  { "0", GOOD },
  { "-0", GOOD },
  { "-0.0e-0", GOOD },
  { "1", GOOD },
  { "10", GOOD },
  { "1.5", GOOD },
  { "0.25", GOOD },
  { "1e5", GOOD },
  { "1E+5", GOOD },
  { "12.50e-3", GOOD },
  { "1e308", GOOD },
  { "1e-999", GOOD }, /* underflows to 0, which is finite */
  { "9223372036854775807", GOOD },
  { "-9223372036854775808", GOOD },
  { "12345678901234567890.0", GOOD },
  { "\"\"", GOOD },
  { "\"a\"", GOOD },
  { "\"\\\"\\\\\\/\\b\\f\\n\\r\\t\"", GOOD },
  { "\"\\u00e9\\u00E9\"", GOOD },
  { "\"\\ud83d\\ude00\"", GOOD },
  { "\"é … \xf0\x9f\x90\x9f\"", GOOD },
  { "\"\x7f\"", GOOD },
  { "[]", GOOD },
  { "{}", GOOD },
  { "[[],[],{}]", GOOD },
  { " \t\r\n[ 1 , 2 ] \r\n", GOOD },
  { "{\"a\":1,\"b\":{\"a\":1}}", GOOD },
  { "{\"\":0}", GOOD },
  { "{\"a\":[{\"a\":[{\"a\":null}]}]}", GOOD },
  { "[{\"a\":1},{\"a\":2}]", GOOD },
  /* emptiness */
  { "", NAPPE_JSON_ERROR_EMPTY },
  { " \n\t ", NAPPE_JSON_ERROR_EMPTY },
  /* roots */
  { "{}{}", NAPPE_JSON_ERROR_SEVERAL_ROOTS },
  { "1 2", NAPPE_JSON_ERROR_SEVERAL_ROOTS },
  { "[],", NAPPE_JSON_ERROR_SEVERAL_ROOTS },
  { "[]]", NAPPE_JSON_ERROR_SEVERAL_ROOTS },
  { "{} x", NAPPE_JSON_ERROR_SEVERAL_ROOTS },
  { "{};", NAPPE_JSON_ERROR_SEVERAL_ROOTS },
  { "1.5{}", NAPPE_JSON_ERROR_SEVERAL_ROOTS },
  /* words */
  { "nul", NAPPE_JSON_ERROR_SYNTAX },
  { "nulll", NAPPE_JSON_ERROR_SYNTAX },
  { "True", NAPPE_JSON_ERROR_SYNTAX },
  { "TRUE", NAPPE_JSON_ERROR_SYNTAX },
  { "NaN", NAPPE_JSON_ERROR_SYNTAX },
  { "Infinity", NAPPE_JSON_ERROR_SYNTAX },
  { "undefined", NAPPE_JSON_ERROR_SYNTAX },
  { "var x = {};", NAPPE_JSON_ERROR_SYNTAX },
  { "é", NAPPE_JSON_ERROR_SYNTAX },
  { "[a]", NAPPE_JSON_ERROR_SYNTAX },
  /* numbers */
  { "01", NAPPE_JSON_ERROR_NUMBER },
  { "-01", NAPPE_JSON_ERROR_NUMBER },
  { "00", NAPPE_JSON_ERROR_NUMBER },
  { "0x10", NAPPE_JSON_ERROR_NUMBER },
  { ".5", NAPPE_JSON_ERROR_NUMBER },
  { "1.", NAPPE_JSON_ERROR_NUMBER },
  { "1.e5", NAPPE_JSON_ERROR_NUMBER },
  { "1e", NAPPE_JSON_ERROR_NUMBER },
  { "1e+", NAPPE_JSON_ERROR_NUMBER },
  { "1e5.5", NAPPE_JSON_ERROR_NUMBER },
  { "+1", NAPPE_JSON_ERROR_NUMBER },
  { "-", NAPPE_JSON_ERROR_NUMBER },
  { "--1", NAPPE_JSON_ERROR_NUMBER },
  { "-Infinity", NAPPE_JSON_ERROR_NUMBER },
  { "1.2.3", NAPPE_JSON_ERROR_NUMBER },
  { "1_000", NAPPE_JSON_ERROR_NUMBER },
  { "1e999", NAPPE_JSON_ERROR_NUMBER },
  { "-1e999", NAPPE_JSON_ERROR_NUMBER },
  { "12345678901234567890", NAPPE_JSON_ERROR_NUMBER },
  { "[1a]", NAPPE_JSON_ERROR_NUMBER },
  { "[1 000]", NAPPE_JSON_ERROR_SYNTAX },
  { "[1\xc2\xa0]", NAPPE_JSON_ERROR_SYNTAX },
  /* strings */
  { "\"a", NAPPE_JSON_ERROR_SYNTAX },
  { "\"a\\\"", NAPPE_JSON_ERROR_SYNTAX },
  { "\"a\nb\"", NAPPE_JSON_ERROR_STRING },
  { "\"a\tb\"", NAPPE_JSON_ERROR_STRING },
  { "\"\x1f\"", NAPPE_JSON_ERROR_STRING },
  { "\"\\x41\"", NAPPE_JSON_ERROR_STRING },
  { "\"\\'\"", NAPPE_JSON_ERROR_STRING },
  { "\"\\U00e9\"", NAPPE_JSON_ERROR_STRING },
  { "\"\\\n\"", NAPPE_JSON_ERROR_STRING },
  { "\"\\u12\"", NAPPE_JSON_ERROR_STRING },
  { "\"\\u12g4\"", NAPPE_JSON_ERROR_STRING },
  { "\"\\", NAPPE_JSON_ERROR_STRING },
  { "\"\\u0000\"", NAPPE_JSON_ERROR_NUL },
  { "{\"a\\u0000b\":1}", NAPPE_JSON_ERROR_NUL },
  { "\"\\ud800\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\\udc00\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\\ud800x\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\\ud800\\n\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\\ud800\\u0041\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\\ud800\\ud800\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\\ud800\\ue000\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "'a'", NAPPE_JSON_ERROR_SYNTAX },
  { "“a”", NAPPE_JSON_ERROR_SYNTAX },
  /* encodings: Unicode table 3-7 */
  { "\xef\xbb\xbf{}", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\xff\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\x80\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\xc3\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\xc0\xaf\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\xed\xa0\x80\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\"\xf4\x90\x80\x80\"", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "\xff\xfe{\x01}", NAPPE_JSON_ERROR_NOT_UTF8 },
  { "[1,2\xe2\x80", NAPPE_JSON_ERROR_NOT_UTF8 },
  /* arrays and objects */
  { "[", NAPPE_JSON_ERROR_SYNTAX },
  { "[1", NAPPE_JSON_ERROR_SYNTAX },
  { "[1,", NAPPE_JSON_ERROR_SYNTAX },
  { "[1,]", NAPPE_JSON_ERROR_SYNTAX },
  { "[,1]", NAPPE_JSON_ERROR_SYNTAX },
  { "[1,,2]", NAPPE_JSON_ERROR_SYNTAX },
  { "[1}", NAPPE_JSON_ERROR_SYNTAX },
  { "[\"a\":1]", NAPPE_JSON_ERROR_SYNTAX },
  { "]", NAPPE_JSON_ERROR_SYNTAX },
  { "}", NAPPE_JSON_ERROR_SYNTAX },
  { "{", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\"", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\":", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\":1", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\":1,", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\":1,}", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\" 1}", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\"=1}", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\":}", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\":1 \"b\":2}", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\":1]", NAPPE_JSON_ERROR_SYNTAX },
  { "{a:1}", NAPPE_JSON_ERROR_SYNTAX },
  { "{'a':1}", NAPPE_JSON_ERROR_SYNTAX },
  { "{1:1}", NAPPE_JSON_ERROR_SYNTAX },
  { "{\"a\"}", NAPPE_JSON_ERROR_SYNTAX },
  { "{/* c */}", NAPPE_JSON_ERROR_SYNTAX },
  { "// c\n{}", NAPPE_JSON_ERROR_SYNTAX },
  { "[1 /* c */]", NAPPE_JSON_ERROR_SYNTAX },
  { "# c\n{}", NAPPE_JSON_ERROR_SYNTAX },
  { "[1]\v", NAPPE_JSON_ERROR_SEVERAL_ROOTS },
  /* names twice */
  { "{\"a\":1,\"a\":1}", NAPPE_JSON_ERROR_DUPLICATE_MEMBER },
  { "{\"a\":1,\"\\u0061\":1}", NAPPE_JSON_ERROR_DUPLICATE_MEMBER },
  { "{\"\":1,\"\":1}", NAPPE_JSON_ERROR_DUPLICATE_MEMBER },
  { "{\"b\":{\"a\":1,\"c\":[],\"a\":1}}", NAPPE_JSON_ERROR_DUPLICATE_MEMBER },
};

static void
check (const char *text, gsize length, const NappeJsonLimits *limits, int code)
{
  g_autoptr (GError) error = NULL;
  gboolean good = nappe_json_guard (text, length, limits, &error);

  if (code == GOOD)
    {
      g_assert_no_error (error);
      g_assert_true (good);
      return;
    }
  g_assert_false (good);
  g_assert_error (error, NAPPE_JSON_ERROR, code);
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
  g_assert_true (g_str_has_prefix (error->message, "line "));
}

static void
test_table (void)
{
  g_assert_cmpuint (G_N_ELEMENTS (cases), >=, 80);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      /* A copy without NUL at its end, so that reading past it is seen by the address sanitizer. */
      gsize length = strlen (cases[i].text);
      g_autofree char *text = g_memdup2 (cases[i].text, length);
      g_autofree char *shown = g_strescape (cases[i].text, NULL);

      g_test_message ("text %u: %s", i, shown);
      check (text, length, NULL, cases[i].code);
    }
}

static void
test_prefixes (void)
{
  static const char text[] = "{\"tank\":{\"length_mm\":-1.25e3,\"é\\u00e9\":[true,false,null,\"\\ud83d\\ude00\"]},\"n\":[]}";

  for (gsize length = 0; length < strlen (text); length++)
    {
      g_autofree char *part = g_memdup2 (text, MAX (length, 1));

      g_assert_false (nappe_json_guard (part, length, NULL, NULL));
    }
  check (text, strlen (text), NULL, GOOD);
  check (NULL, 0, NULL, NAPPE_JSON_ERROR_EMPTY);
}

static void
test_nul_bytes (void)
{
  check ("{}\0", 3, NULL, NAPPE_JSON_ERROR_NUL);
  check ("\0", 1, NULL, NAPPE_JSON_ERROR_NUL);
  check ("\"a\0b\"", 5, NULL, NAPPE_JSON_ERROR_NUL);
  check ("[1\0]", 4, NULL, NAPPE_JSON_ERROR_NUL);
}

/* `count` times `open`, then `middle`, then `count` times `close`. */
static char *
nested (gsize count, const char *open, const char *middle, const char *close)
{
  GString *text = g_string_new (NULL);

  for (gsize i = 0; i < count; i++)
    g_string_append (text, open);
  g_string_append (text, middle);
  for (gsize i = 0; i < count; i++)
    g_string_append (text, close);
  return g_string_free (text, FALSE);
}

static void
test_depth (void)
{
  const NappeJsonLimits three = { .max_depth = 3 };
  g_autofree char *good = nested (64, "[", "", "]");
  g_autofree char *deep = nested (65, "[", "", "]");
  g_autofree char *objects = nested (65, "{\"a\":", "1", "}");
  g_autofree char *million = nested (1000000, "[", "", "]");
  g_autofree char *unclosed = nested (1000000, "[", "", "");
  g_autofree char *names = nested (300000, "{\"a\":", "", "");

  check (good, strlen (good), NULL, GOOD);
  check (deep, strlen (deep), NULL, NAPPE_JSON_ERROR_TOO_DEEP);
  check (objects, strlen (objects), NULL, NAPPE_JSON_ERROR_TOO_DEEP);
  check (million, strlen (million), NULL, NAPPE_JSON_ERROR_TOO_DEEP);
  check (unclosed, strlen (unclosed), NULL, NAPPE_JSON_ERROR_TOO_DEEP);
  check (names, strlen (names), NULL, NAPPE_JSON_ERROR_TOO_DEEP);
  check ("[[[]]]", 6, &three, GOOD);
  check ("[[[[]]]]", 8, &three, NAPPE_JSON_ERROR_TOO_DEEP);
  check ("[[],[[]],[[]]]", 14, &three, GOOD);
}

static void
test_size (void)
{
  const NappeJsonLimits ten = { .max_size = 10 }, five = { .max_values = 5 };
  gsize length = 4 * 1024 * 1024;
  g_autofree char *spaces = g_malloc (length + 1);
  g_autofree char *digits = g_strnfill (401, '1');
  g_autofree char *fraction = g_strconcat ("0.", digits + 3, NULL);
  g_autofree char *many = nested (125000, "1,2,", "3", "");
  g_autofree char *too_many = g_strconcat ("[", many, "]", NULL);

  memset (spaces, ' ', length + 1);
  spaces[0] = '1';
  check (spaces, length, NULL, GOOD);
  check (spaces, length + 1, NULL, NAPPE_JSON_ERROR_TOO_LARGE);
  check ("[1,2,3,45]", 10, &ten, GOOD);
  check ("[1,2,3,456]", 11, &ten, NAPPE_JSON_ERROR_TOO_LARGE);
  check ("[1,2,3,4]", 9, &five, GOOD);
  check ("[1,2,3,4,5]", 11, &five, NAPPE_JSON_ERROR_TOO_LARGE);
  check ("{\"a\":[1,2],\"b\":1}", 17, &five, GOOD);
  check ("{\"a\":[1,2],\"b\":1,\"c\":1}", 23, &five, NAPPE_JSON_ERROR_TOO_LARGE);
  check (too_many, strlen (too_many), NULL, NAPPE_JSON_ERROR_TOO_LARGE);
  check (digits, strlen (digits), NULL, NAPPE_JSON_ERROR_NUMBER);
  check (fraction, strlen (fraction), NULL, GOOD);
}

/* An object of `count` members with names of `length` characters. */
static char *
many_members (guint count, int length)
{
  GString *text = g_string_sized_new (count * (gsize) (length + 6) + 2);

  for (guint i = 0; i < count; i++)
    {
      char member[128];

      g_snprintf (member, sizeof member, "%c\"%0*x\":1", i > 0 ? ',' : '{', length, i);
      g_string_append (text, member);
    }
  g_string_append_c (text, '}');
  return g_string_free (text, FALSE);
}

/* Processor time of this thread [s]: what else runs on the machine does not count. */
static double
processor_time (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

/* How long the guard needs for a text [s], the best of three. */
static double
time_of (const char *text)
{
  const NappeJsonLimits wide = { .max_size = 64 * 1024 * 1024, .max_values = 10000000 };
  double best = G_MAXDOUBLE;

  for (guint i = 0; i < 3; i++)
    {
      double start = processor_time ();

      check (text, strlen (text), &wide, GOOD);
      best = MIN (best, processor_time () - start);
    }
  return best;
}

/* Twenty times the members must not need four hundred times the time. */
static void
test_time (void)
{
  g_autofree char *small = many_members (10000, 12);
  g_autofree char *large = many_members (200000, 12);
  double small_time = time_of (small), large_time = time_of (large);

  g_test_message ("10 000 members in %.4f s, 200 000 in %.4f s", small_time, large_time);
  g_assert_cmpfloat (large_time, <, 100 * MAX (small_time, 0.001));
}

/* Names of 60 000 characters on every level make paths of millions: they are neither kept nor shown. */
static void
test_long_names (void)
{
  g_autofree char *name = g_strnfill (60000, 'n');
  g_autofree char *open = g_strconcat ("{\"", name, "\":", NULL);
  g_autofree char *text = nested (60, open, "1e999", "");
  g_autoptr (GError) error = NULL;

  g_assert_false (nappe_json_guard (text, strlen (text), NULL, &error));
  g_assert_error (error, NAPPE_JSON_ERROR, NAPPE_JSON_ERROR_NUMBER);
  g_assert_cmpuint (strlen (error->message), <, 1000);
}

static void
expect_message (const char *text, const char *message)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (nappe_json_guard (text, strlen (text), NULL, &error));
  g_assert_nonnull (error);
  g_assert_cmpstr (error->message, ==, message);
}

static void
test_messages (void)
{
  expect_message ("{\n \"tank\": {\n  \"length_mm\": 1e999\n }\n}",
                  "line 3, column 16, tank.length_mm: 1e999 is not a finite number");
  expect_message ("{\"drains\": [{}, {\"run\": [1, 2,\r\n  01]}]}",
                  "line 2, column 3, drains[1].run[2]: 01 is not a number as JSON writes it");
  expect_message ("{\"é\": 1,\n\"é\" x}", "line 2, column 4, é: this member is here twice");
  expect_message ("{\"a\": 1,\n\"é\" x}", "line 2, column 5, é: “x” found where a colon is wanted");
  expect_message ("[1\n\n", "line 3, column 1: the end of the text found where a comma or a closing bracket is wanted");
  expect_message ("[1,]", "line 1, column 4, [1]: “]” found where a value is wanted");
  expect_message ("{\"a\": {\"b\": 1}, \"c\": 2, }",
                  "line 1, column 25: “}” found where a member name in double quotation marks is wanted");
  expect_message ("{\"\\u0007\\n\": x}", "line 1, column 14, ��: “x” found where a value is wanted");
  expect_message ("\n\n {} {}", "line 3, column 5: something follows the end of the value");
}

static void
test_places (void)
{
  static const char text[] = "\n{\n"                        /* 2: the root */
                             "  \"name\": \"reef\",\n"      /* 3 */
                             "  \"drains\": [\n"            /* 4 */
                             "    {\"id\": 1},\n"           /* 5 */
                             "    {\n"                      /* 6 */
                             "      \"run\":\n"             /* 7 */
                             "        [1, 2,\n"             /* 8 */
                             "         {\"length_mm\": 3}]\n" /* 9 */
                             "    }\n  ],\n"
                             "  \"\\u0061b\": null\n}\n";   /* 12 */
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeJsonPlaces) places = nappe_json_guard_with_places (text, strlen (text), NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (nappe_json_places_line (places, ""), ==, 2);
  g_assert_cmpuint (nappe_json_places_line (places, "name"), ==, 3);
  g_assert_cmpuint (nappe_json_places_line (places, "drains"), ==, 4);
  g_assert_cmpuint (nappe_json_places_line (places, "drains[0]"), ==, 5);
  g_assert_cmpuint (nappe_json_places_line (places, "drains[0].id"), ==, 5);
  g_assert_cmpuint (nappe_json_places_line (places, "drains[1]"), ==, 6);
  g_assert_cmpuint (nappe_json_places_line (places, "drains[1].run"), ==, 7);
  g_assert_cmpuint (nappe_json_places_line (places, "drains[1].run[1]"), ==, 8);
  g_assert_cmpuint (nappe_json_places_line (places, "drains[1].run[2].length_mm"), ==, 9);
  g_assert_cmpuint (nappe_json_places_line (places, "ab"), ==, 12);
}

static void
test_places_missing (void)
{
  static const char text[] = "{\n\"drains\": [\n{\"id\": 1}\n]\n}";
  static const char *const absent[] = { "x", "drains[1]", "drains[0].x", "drains[0].id.x", "drains[", "drains[]",
                                        "drains[x]", "drains[-1]", "drains[4294967296]", "drains[0", ".", "[0]",
                                        "drains.0", "id" };
  g_autoptr (NappeJsonPlaces) places = nappe_json_guard_with_places (text, strlen (text), NULL, NULL);

  g_assert_nonnull (places);
  for (guint i = 0; i < G_N_ELEMENTS (absent); i++)
    g_assert_cmpuint (nappe_json_places_line (places, absent[i]), ==, 0);
  g_assert_cmpuint (nappe_json_places_nearest_line (places, "drains[0].length_mm"), ==, 3);
  g_assert_cmpuint (nappe_json_places_nearest_line (places, "drains[7].length_mm"), ==, 2);
  g_assert_cmpuint (nappe_json_places_nearest_line (places, "tank.length_mm"), ==, 1);
  g_assert_cmpuint (nappe_json_places_nearest_line (places, "drains[0].id"), ==, 3);
}

/* Whatever bytes come, the guard answers, and with an error if and only if it refuses. */
static void
test_random_bytes (void)
{
  static const char letters[] = "{}[]\",:\\u0019.eE+-truefalsn \n\xc3\xa9\xff";

  for (guint round = 0; round < 20000; round++)
    {
      char text[48];
      gsize length = (gsize) g_test_rand_int_range (0, sizeof text);
      g_autoptr (GError) error = NULL;
      gboolean good;

      for (gsize i = 0; i < length; i++)
        text[i] = letters[g_test_rand_int_range (0, sizeof letters)];
      good = nappe_json_guard (text, length, NULL, &error);
      g_assert_true (good == (error == NULL));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/json-guard/table", test_table);
  g_test_add_func ("/json-guard/prefixes", test_prefixes);
  g_test_add_func ("/json-guard/nul-bytes", test_nul_bytes);
  g_test_add_func ("/json-guard/depth", test_depth);
  g_test_add_func ("/json-guard/size", test_size);
  g_test_add_func ("/json-guard/time", test_time);
  g_test_add_func ("/json-guard/long-names", test_long_names);
  g_test_add_func ("/json-guard/messages", test_messages);
  g_test_add_func ("/json-guard/places", test_places);
  g_test_add_func ("/json-guard/places-missing", test_places_missing);
  g_test_add_func ("/json-guard/random-bytes", test_random_bytes);
  return g_test_run ();
}

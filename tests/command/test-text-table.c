/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/text-table.h"

static void
test_alignment (void)
{
  g_autoptr (NappeTextTable) table = nappe_text_table_new (3);
  g_autoptr (GString) text = g_string_new (NULL);
  const char *const cells[] = { "", "flow", "way", "Höhe", "7", "down", "x", "1 250", NULL };

  nappe_text_table_set_left (table, 2);
  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    nappe_text_table_add (table, cells[i]);
  nappe_text_table_print (table, 2, text);
  g_assert_cmpstr (text->str, ==, "          flow   way\n  Höhe       7   down\n  x      1 250\n");
}

/* A letter of an East Asian script takes two columns, a combining accent none. */
static void
test_width (void)
{
  g_autoptr (NappeTextTable) table = nappe_text_table_new (2);
  g_autoptr (GString) text = g_string_new (NULL);
  const char *const cells[] = { "水", "1", "e\xcc\x81z", "2" };

  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    nappe_text_table_add (table, cells[i]);
  nappe_text_table_print (table, 0, text);
  g_assert_cmpstr (text->str, ==, "水   1\ne\xcc\x81z   2\n");
}

static void
test_wrap (void)
{
  g_autoptr (GString) text = g_string_new (NULL);

  nappe_text_wrap ("one two three four", 2, 10, text);
  g_assert_cmpstr (text->str, ==, "  one two\n  three\n  four\n");
  g_string_truncate (text, 0);
  nappe_text_wrap ("averyveryverylongword", 2, 10, text);
  g_assert_cmpstr (text->str, ==, "  averyveryverylongword\n");
  g_string_truncate (text, 0);
  nappe_text_wrap ("a\n\nb\n", 0, 10, text);
  g_assert_cmpstr (text->str, ==, "a\n\nb\n");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/text-table/alignment", test_alignment);
  g_test_add_func ("/text-table/width", test_width);
  g_test_add_func ("/text-table/wrap", test_wrap);
  return g_test_run ();
}

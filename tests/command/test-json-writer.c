/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "command/json-writer.h"

static void
test_structure (void)
{
  NappeJsonWriter json;
  g_autofree char *text = NULL;

  nappe_json_writer_init (&json);
  nappe_json_open (&json, NULL, '{');
  nappe_json_text (&json, "a", "x");
  nappe_json_open (&json, "b", '[');
  nappe_json_close (&json, ']');
  nappe_json_open (&json, "c", '[');
  nappe_json_count (&json, NULL, 1);
  nappe_json_flag (&json, NULL, TRUE);
  nappe_json_close (&json, ']');
  nappe_json_text (&json, "d", NULL);
  nappe_json_close (&json, '}');
  text = nappe_json_writer_end (&json);
  g_assert_cmpstr (text, ==,
                   "{\n  \"a\": \"x\",\n  \"b\": [],\n  \"c\": [\n    1,\n    true\n  ],\n  \"d\": null\n}\n");
}

/* RFC 8259, section 7: what must be escaped. */
static void
test_escapes (void)
{
  NappeJsonWriter json;
  g_autofree char *text = NULL;

  nappe_json_writer_init (&json);
  nappe_json_text (&json, NULL, "\"\\\n\x01ü");
  text = nappe_json_writer_end (&json);
  g_assert_cmpstr (text, ==, "\"\\\"\\\\\\u000a\\u0001ü\"\n");
}

static void
test_quantities (void)
{
  NappeJsonWriter json;
  g_autofree char *text = NULL;

  nappe_json_writer_init (&json);
  nappe_json_open (&json, NULL, '{');
  nappe_json_quantity (&json, "level", NAPPE_QUANTITY_LENGTH, 1.25);
  nappe_json_quantity (&json, "share", NAPPE_QUANTITY_SHARE, 0.1);
  nappe_json_quantity (&json, "flow", NAPPE_QUANTITY_FLOW, 1.0 / 3600.0);
  nappe_json_quantity (&json, "froude", NAPPE_QUANTITY_NUMBER, -0.0);
  nappe_json_quantity (&json, "none", NAPPE_QUANTITY_VOLUME, NAN);
  nappe_json_quantity (&json, "never", NAPPE_QUANTITY_LENGTH, INFINITY);
  nappe_json_close (&json, '}');
  text = nappe_json_writer_end (&json);
  g_assert_cmpstr (text, ==,
                   "{\n  \"level_mm\": 1250,\n  \"share_percent\": 10,\n  \"flow_litres_per_hour\": 1000,\n"
                   "  \"froude\": 0,\n  \"none_litres\": null,\n  \"never_mm\": null\n}\n");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/json-writer/structure", test_structure);
  g_test_add_func ("/json-writer/escapes", test_escapes);
  g_test_add_func ("/json-writer/quantities", test_quantities);
  return g_test_run ();
}

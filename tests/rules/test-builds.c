/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Builds of many kinds give exactly the findings that an experienced person would give: tests/demo-builds/findings.json
 * lists them in order, with what was played in time, and says of each why it is right.
 *
 *   { "BUILD": [ { "rule": "…", "part": "…", "severity": "…", "why": "…" }, … ], … }
 */
#include "../demo-build.h"

#include "study/heat.h"

#include <json-glib/json-glib.h>
#include <locale.h>

#define PARALLEL 2

static JsonObject *
read_expected (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "demo-builds", "findings.json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;

  json_parser_load_from_file (parser, path, &error);
  g_assert_no_error (error);
  return json_object_ref (json_node_get_object (json_parser_get_root (parser)));
}

/* “danger emergency-valved emergency”, one a line. Transfer full. */
static char *
list_found (const NappeVerdict *verdict)
{
  GString *list = g_string_new (NULL);

  for (guint i = 0; i < verdict->findings->len; i++)
    {
      NappeFinding *finding = verdict->findings->pdata[i];
      g_string_append_printf (list, "%s %s %s\n", nappe_severity_nick (nappe_finding_get_severity (finding)),
                              nappe_finding_get_rule (finding), nappe_finding_get_part (finding));
      g_test_message ("%s: %s", nappe_finding_get_rule (finding), nappe_finding_get_text (finding));
    }
  return g_string_free (list, FALSE);
}

static char *
list_expected (JsonArray *expected)
{
  GString *list = g_string_new (NULL);

  for (guint i = 0; i < json_array_get_length (expected); i++)
    {
      JsonObject *one = json_array_get_object_element (expected, i);
      g_string_append_printf (list, "%s %s %s\n", json_object_get_string_member (one, "severity"),
                              json_object_get_string_member (one, "rule"), json_object_get_string_member (one, "part"));
      g_assert_cmpuint (strlen (json_object_get_string_member (one, "why")), >, 20);
    }
  return g_string_free (list, FALSE);
}

static void
test_build (gconstpointer data)
{
  const char *name = data;
  g_autofree char *path = g_strconcat ("demo-builds/", name, NULL);
  g_autoptr (JsonObject) all = read_expected ();
  g_autofree char *expected = list_expected (json_object_get_array_member (all, name));
  DemoBuild demo;

  demo_load (&demo, path, NAPPE_UNITS_METRIC);
  g_autoptr (NappeHeat) heat = nappe_heat_new (demo.build, demo.catalogue, demo.study);
  g_autoptr (GPtrArray) courses = nappe_rules_play (demo.build, demo.study, heat->evaporation, PARALLEL, NULL);
  g_autoptr (NappeVerdict) metric = nappe_rules_run_timed (demo.build, demo.study, courses, NAPPE_UNITS_METRIC);
  g_autoptr (NappeVerdict) us = nappe_rules_run_timed (demo.build, demo.study, courses, NAPPE_UNITS_US);
  g_autofree char *found = list_found (metric);
  g_autofree char *found_us = list_found (us);
  g_assert_cmpstr (found, ==, expected);
  g_assert_cmpstr (found_us, ==, expected);
  demo_clear (&demo);
}

/* A build that nobody judged is no test. */
static void
test_all_listed (void)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "demo-builds", NULL);
  g_autoptr (JsonObject) all = read_expected ();
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint builds = 0;

  for (const char *name = g_dir_read_name (dir); name != NULL; name = g_dir_read_name (dir))
    {
      if (!g_str_has_suffix (name, ".nappe"))
        continue;
      g_autofree char *id = g_strndup (name, strlen (name) - strlen (".nappe"));
      g_assert_true (json_object_has_member (all, id));
      builds++;
    }
  g_assert_cmpuint (builds, ==, json_object_get_size (all));
  g_assert_cmpuint (builds, >=, 10);
}

int
main (int argc, char *argv[])
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_autoptr (JsonObject) all = read_expected ();
  g_autoptr (GList) names = json_object_get_members (all);

  g_test_add_func ("/rules/builds/all-listed", test_all_listed);
  for (GList *name = names; name != NULL; name = name->next)
    {
      g_autofree char *path = g_strconcat ("/rules/builds/", name->data, NULL);
      g_test_add_data_func (path, name->data, test_build);
    }
  return g_test_run ();
}

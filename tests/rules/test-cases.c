/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every rule against builds: the variations in cases/RULE.json, and the handbook's example of the rule.
 *
 *   {
 *     "trips": [ { "variation": { … }, "severity": "danger", "part": "emergency" }, … ],
 *     "keeps": [ { "variation": { … } }, … ],            the rule looks, and finds nothing
 *     "idle":  [ { "variation": { … } }, … ],            the rule has nothing to look at, and says so
 *     "reads": [ { "from": { … }, "to": { … }, "part": "emergency" }, … ]
 *   }
 *
 * A rule that always finds something where it looks, only more or less of it, has "always": true and no "keeps".
 * Each entry may name its "base", a file in the demos or in tests/rules; else it is three-drain.nappe, in which no rule
 * finds anything. "reads": two variations that differ in one value alone; what the rule says of the part differs. */
#include "rule-fixture.h"

#include "file/variation.h"

#include <math.h>
#include <string.h>

typedef struct
{
  char *rule, *path;
} Case;

static JsonNode *
read_json (const char *path)
{
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  json_parser_load_from_file (parser, path, &error);
  g_assert_no_error (error);
  return json_parser_steal_root (parser);
}

static NappeBuild *
read_base (JsonObject *entry)
{
  const char *base = json_object_get_string_member_with_default (entry, "base", "three-drain.nappe");
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "rules", base, NULL);
  g_autoptr (GError) error = NULL;

  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    {
      g_free (path);
      path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", base, NULL);
    }
  g_autoptr (GFile) file = g_file_new_for_path (path);
  NappeBuild *build = nappe_file_read (file, NULL, &error);
  g_assert_no_error (error);
  return build;
}

/* A lever names parts and fields of the build, and begins where the build is. */
static void
expect_lever (NappeBuild *build, const NappeLever *lever)
{
  for (guint i = 0; i < lever->moves->len; i++)
    {
      const NappeLeverMove *move = &g_array_index (lever->moves, NappeLeverMove, i);
      NappePart *part = nappe_build_find (build, move->part);
      const NappeField *field = part != NULL && move->field != NULL ? nappe_part_find_field (part, move->field) : NULL;

      if (part == NULL || (move->field != NULL && field == NULL))
        g_error ("a lever moves “%s” of “%s”, which is not there", move->field, move->part);
      if (i > 0 || lever->kind != NAPPE_LEVER_NUMBER)
        continue;
      double now = nappe_part_number (part, field);
      if (isnan (now))
        now = lever->from;
      if (!(lever->least < lever->most && lever->least <= now && now <= lever->most))
        g_error ("“%s” of “%s” is %g and to be moved in %g to %g", move->field, move->part, now, lever->least,
                 lever->most);
    }
  if (lever->kind == NAPPE_LEVER_CHOICE && lever->choices->len == 0)
    g_error ("a lever offers no choice");
}

static void
expect_levers (NappeBuild *build, NappeFinding *finding)
{
  const GPtrArray *levers = nappe_finding_get_levers (finding);

  for (guint i = 0; i < levers->len; i++)
    expect_lever (build, levers->pdata[i]);
}

/* All that the rules say of a variation of the entry's base. */
static NappeVerdict *
judge (const Case *test, JsonObject *entry, const char *member)
{
  static NappeCatalogue *catalogue = NULL;
  g_autofree char *folder = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "catalogue", NULL);
  g_autoptr (NappeBuild) build = read_base (entry);
  g_autoptr (NappeStudy) study = NULL;
  g_autoptr (GPtrArray) courses = NULL;
  g_autoptr (GError) error = NULL;
  const NappeRuleInfo *rule = nappe_rules_find (test->rule);

  if (catalogue == NULL)
    catalogue = nappe_catalogue_load (folder, NULL, NULL, &error);
  g_assert_no_error (error);
  if (json_object_has_member (entry, member))
    nappe_file_vary (build, json_object_get_object_member (entry, member), test->path, &error);
  g_assert_no_error (error);
  study = nappe_study_build (build, catalogue);
  if (rule->timed)
    courses = nappe_rules_play (build, study, 0, 2, NULL);
  NappeVerdict *verdict = nappe_rules_run_timed (build, study, courses, NAPPE_UNITS_METRIC);
  for (guint i = 0; i < verdict->findings->len; i++)
    if (g_str_equal (nappe_finding_get_rule (verdict->findings->pdata[i]), test->rule))
      expect_levers (build, verdict->findings->pdata[i]);
  return verdict;
}

/* The first thing that a list holds of a rule and a part (NULL: any); NULL: nothing. */
static NappeFinding *
find (GPtrArray *list, const char *rule, const char *part)
{
  for (guint i = 0; i < list->len; i++)
    if (g_str_equal (nappe_finding_get_rule (list->pdata[i]), rule)
        && (part == NULL || g_str_equal (nappe_finding_get_part (list->pdata[i]), part)))
      return list->pdata[i];
  return NULL;
}

static void
expect_trip (const Case *test, JsonObject *entry)
{
  g_autoptr (NappeVerdict) verdict = judge (test, entry, "variation");
  const char *part = json_object_get_string_member_with_default (entry, "part", "");
  NappeFinding *finding = find (verdict->findings, test->rule, part);

  if (finding == NULL)
    g_error ("%s: nothing found about “%s”", test->path, part);
  g_assert_cmpstr (nappe_severity_nick (nappe_finding_get_severity (finding)), ==,
                   json_object_get_string_member (entry, "severity"));
  g_assert_cmpstr (nappe_finding_get_text (finding), !=, "");
  g_assert_cmpstr (nappe_finding_get_remedy (finding), !=, "");
}

static void
expect_quiet (const Case *test, JsonObject *entry, gboolean checked)
{
  g_autoptr (NappeVerdict) verdict = judge (test, entry, "variation");
  NappeFinding *finding = find (verdict->findings, test->rule, NULL);
  NappeFinding *fine = find (verdict->fine, test->rule, NULL);

  if (finding != NULL)
    g_error ("%s: %s", test->path, nappe_finding_get_text (finding));
  if (fine == NULL)
    g_error ("%s: the rule says nothing at all", test->path);
  if (nappe_finding_get_checked (fine) != checked)
    g_error ("%s: %s", test->path, nappe_finding_get_text (fine));
}

/* Everything that a rule says of a part, as one text. Transfer full. */
static char *
said (NappeVerdict *verdict, const char *rule, const char *part)
{
  GPtrArray *lists[] = { verdict->findings, verdict->fine };
  GString *all = g_string_new (NULL);

  for (gsize list = 0; list < G_N_ELEMENTS (lists); list++)
    for (guint i = 0; i < lists[list]->len; i++)
      {
        NappeFinding *finding = lists[list]->pdata[i];
        if (g_str_equal (nappe_finding_get_rule (finding), rule)
            && g_str_equal (nappe_finding_get_part (finding), part))
          g_string_append_printf (all, "%d %.9g %.9g %s\n", (int)nappe_finding_get_severity (finding),
                                  nappe_finding_get_value (finding), nappe_finding_get_limit (finding),
                                  nappe_finding_get_text (finding));
      }
  return g_string_free (all, FALSE);
}

static void
expect_read (const Case *test, JsonObject *entry)
{
  const char *part = json_object_get_string_member_with_default (entry, "part", "");
  g_autoptr (NappeVerdict) from = judge (test, entry, "from");
  g_autoptr (NappeVerdict) to = judge (test, entry, "to");
  g_autofree char *before = said (from, test->rule, part), *after = said (to, test->rule, part);

  if (g_str_equal (before, after))
    g_error ("%s: the same about “%s” either way: %s", test->path, part, before);
}

static JsonArray *
entries (JsonNode *root, const char *member)
{
  JsonObject *object = json_node_get_object (root);
  return json_object_has_member (object, member) ? json_object_get_array_member (object, member) : NULL;
}

static guint
length (JsonArray *list)
{
  return list != NULL ? json_array_get_length (list) : 0;
}

static void
test_case (gconstpointer data)
{
  const Case *test = data;
  g_autoptr (JsonNode) root = read_json (test->path);
  JsonArray *trips = entries (root, "trips"), *keeps = entries (root, "keeps"), *idle = entries (root, "idle");
  JsonArray *reads = entries (root, "reads");

  g_assert_cmpuint (length (trips), >, 0);
  if (json_object_get_boolean_member_with_default (json_node_get_object (root), "always", FALSE))
    g_assert_cmpuint (length (keeps), ==, 0);
  else
    g_assert_cmpuint (length (keeps), >, 0);
  g_assert_cmpuint (length (reads), >, 0);
  for (guint i = 0; i < length (trips); i++)
    expect_trip (test, json_array_get_object_element (trips, i));
  for (guint i = 0; i < length (keeps); i++)
    expect_quiet (test, json_array_get_object_element (keeps, i), TRUE);
  for (guint i = 0; i < length (idle); i++)
    expect_quiet (test, json_array_get_object_element (idle, i), FALSE);
  for (guint i = 0; i < length (reads); i++)
    expect_read (test, json_array_get_object_element (reads, i));
}

/* The example of the handbook trips its rule as it says. */
static void
test_example (gconstpointer data)
{
  const Case *test = data;
  g_autoptr (JsonNode) root = read_json (test->path);
  expect_trip (test, json_node_get_object (root));
}

static void
free_case (gpointer data)
{
  Case *test = data;
  g_free (test->rule);
  g_free (test->path);
  g_free (test);
}

static void
add_case (const char *prefix, const char *rule, char *path, GTestDataFunc function)
{
  g_autofree char *name = g_strdup_printf ("%s/%s", prefix, rule);
  Case *test = g_new0 (Case, 1);
  test->rule = g_strdup (rule);
  test->path = path;
  g_test_add_data_func_full (name, test, function, free_case);
}

int
main (int argc, char **argv)
{
  gsize n;

  g_test_init (&argc, &argv, NULL);
  const NappeRuleInfo *rules = nappe_rules_list (&n);
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *file = g_strconcat (rules[i].id, ".json", NULL);
      add_case ("/rules/cases", rules[i].id, g_test_build_filename (G_TEST_DIST, "rules", "cases", file, NULL),
                test_case);
      add_case ("/rules/examples", rules[i].id,
                g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "handbook", "rules", file, NULL), test_example);
    }
  return g_test_run ();
}

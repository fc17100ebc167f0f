/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is written reads back the same: demos, every field at its ends, what this version does not
 * know, and texts that a person wrote. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "file/file.h"

static const char *const demos[] = { "three-drain", "two-drain", "single-drain" };

static char *
demo_text (const char *demo, gsize *length)
{
  g_autofree char *base = g_strconcat (demo, ".nappe", NULL);
  g_autofree char *path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", base, NULL);
  g_autoptr (GError) error = NULL;
  char *text = NULL;

  g_file_get_contents (path, &text, length, &error);
  g_assert_no_error (error);
  return text;
}

static NappeBuild *
read_text (const char *text)
{
  g_autoptr (GError) error = NULL;
  NappeBuild *build = nappe_file_read_text (text, strlen (text), "text", &error);

  g_assert_no_error (error);
  return build;
}

/* The shipped demos are what the program itself would write. */
static void
test_demo (gconstpointer demo)
{
  g_autofree char *text = demo_text (demo, NULL);
  g_autoptr (NappeBuild) build = read_text (text);
  g_autofree char *written = nappe_file_write_text (build, NULL);
  g_autoptr (NappeBuild) again = read_text (written);

  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (again)));
  g_assert_cmpstr (written, ==, text);
}

/* Chambers and the baffles between them add up to the length of the sump. */
static void
test_demo_sump (gconstpointer demo)
{
  g_autofree char *text = demo_text (demo, NULL);
  g_autoptr (NappeBuild) build = read_text (text);
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  double length = 0;

  for (guint i = 0; i < sump->chambers->len; i++)
    length += NAPPE_CHAMBER (g_ptr_array_index (sump->chambers, i))->length;
  for (guint i = 0; i < sump->baffles->len; i++)
    length += NAPPE_BAFFLE (g_ptr_array_index (sump->baffles, i))->thickness;
  g_assert_cmpfloat_with_epsilon (length, sump->length, 1e-9);
}

typedef struct
{
  gboolean greatest;
} Ends;

/* Puts every value of a part to an end of its range; references stay as they are. */
static void
put_to_end (NappePart *part, gpointer data)
{
  const Ends *ends = data;
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      const double end = ends->greatest ? field->maximum : field->minimum;
      g_auto (GValue) value = G_VALUE_INIT;
      nappe_part_read (part, field, &value);
      if (field->type == NAPPE_FIELD_NUMBER)
        g_value_set_double (&value, nappe_quantity_snap (field->quantity, end));
      else if (G_VALUE_HOLDS_INT (&value))
        g_value_set_int (&value, (int) end);
      else if (field->type == NAPPE_FIELD_FLAG)
        g_value_set_boolean (&value, ends->greatest);
      else if (field->type == NAPPE_FIELD_TEXT)
        {
          const char *text = "“Ä”, \"\\\n\t/ \xf0\x9f\x90\x9f <&>";

          g_value_set_string (&value, !ends->greatest ? "" : strlen (text) <= field->maximum ? text : "Ä \"\\\n<&>");
        }
      nappe_part_write (part, field, &value);
    }
}

static void
assert_survives (NappeBuild *build)
{
  g_autofree char *text = nappe_file_write_text (build, NULL);
  g_autoptr (NappeBuild) back = read_text (text);
  g_autofree char *again = nappe_file_write_text (back, NULL);

  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (back)));
  g_assert_cmpstr (text, ==, again);
}

/* A part of every kind that the demos have none of. */
static void
add_rare_kinds (NappeBuild *build)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappePart) vessel = g_object_new (NAPPE_TYPE_SIDE_VESSEL, NULL);
  g_autoptr (NappePart) trial = g_object_new (NAPPE_TYPE_TRIAL, NULL);
  g_autoptr (NappePart) step = g_object_new (NAPPE_TYPE_TRIAL_STEP, NULL);

  nappe_build_insert (build, NAPPE_PART (build), "vessels", G_MAXUINT, vessel, &error);
  g_assert_no_error (error);
  nappe_build_insert (build, NAPPE_PART (build), "trials", G_MAXUINT, trial, &error);
  g_assert_no_error (error);
  nappe_build_insert (build, trial, "happenings", G_MAXUINT, step, &error);
  g_assert_no_error (error);
  nappe_build_set_text (build, step, "part", "siphon", &error);
  g_assert_no_error (error);
}

static void
test_every_field (void)
{
  for (int greatest = 0; greatest < 2; greatest++)
    {
      g_autofree char *text = demo_text ("three-drain", NULL);
      g_autoptr (NappeBuild) build = read_text (text);
      Ends ends = { greatest != 0 };
      add_rare_kinds (build);
      nappe_part_visit (NAPPE_PART (build), put_to_end, &ends);
      assert_survives (build);
    }
}

/* Numbers from anywhere in the range survive to the last bit once they are snapped. */
static void
put_anywhere (NappePart *part, gpointer data)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      g_auto (GValue) value = G_VALUE_INIT;
      if (field->type != NAPPE_FIELD_NUMBER)
        continue;
      g_value_init (&value, G_TYPE_DOUBLE);
      g_value_set_double (&value, nappe_quantity_snap (field->quantity,
                                                       g_test_rand_double_range (field->minimum, field->maximum)));
      if (nappe_field_check (field, &value, NULL))
        nappe_part_write (part, field, &value);
    }
}

static void
test_random_numbers (void)
{
  g_autofree char *text = demo_text ("three-drain", NULL);
  g_autoptr (NappeBuild) build = read_text (text);

  for (int round = 0; round < 50; round++)
    {
      nappe_part_visit (NAPPE_PART (build), put_anywhere, NULL);
      assert_survives (build);
    }
}

static void
test_new_build (void)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();

  assert_survives (build);
}

/* As a person may write it: no ids of singles, optional objects left out. */
static const char small[] = "{\"format\":\"nappe-build\",\"version\":1,\"units\":\"us\","
                            "\"stand\":{\"length_mm\":1e3,\"width_mm\":500.0,\"height_mm\":800},"
                            "\"tank\":{\"length_mm\":900,\"width_mm\":450.25,\"height_mm\":400},"
                            "\"sump\":{\"length_mm\":600,\"width_mm\":300,\"height_mm\":350,"
                            "\"chambers\":[{\"id\":\"calm\",\"role\":\"return\",\"length_mm\":600}]},"
                            "\"returns\":[{\"id\":\"way-up\",\"pump\":{\"chamber\":\"calm\","
                            "\"curve\":[{\"flow_litres_per_hour\":0,\"head_metres\":3.2},"
                            "{\"flow_litres_per_hour\":2500.5,\"head_metres\":0}]}}]}";

static void
test_small (void)
{
  g_autoptr (NappeBuild) build = read_text (small);
  const NappeTank *tank = NAPPE_BUILD_TANK (build);
  const NappePump *pump = NAPPE_PUMP (nappe_build_find (build, "way-up-pump"));

  g_assert_cmpint (build->units, ==, NAPPE_UNITS_US);
  g_assert_cmpfloat (tank->width, ==, 0.45025);
  g_assert_cmpfloat (tank->displaced, ==, 0.1);
  g_assert_cmpstr (nappe_part_get_id (build->water), ==, "water");
  g_assert_cmpuint (pump->curve->n, ==, 2);
  g_assert_cmpfloat (pump->curve->flow[1], ==, 2500.5 / 3.6e6);
  g_assert_cmpfloat (pump->curve->head[0], ==, 3.2);
  g_assert_true (isnan (pump->power));
  assert_survives (build);
}

/* Members of a later version, or of another program, stand in the saved text as they were. */
static void
test_unknown (void)
{
  static const char text[] =
      "{\n"
      "  \"format\": \"nappe-build\",\n"
      "  \"version\": 1,\n"
      "  \"units\": \"metric\",\n"
      "  \"stand\": { \"length_mm\": 1000, \"width_mm\": 500, \"height_mm\": 800 },\n"
      "  \"tank\": {\n"
      "    \"length_mm\": 900,\n"
      "    \"width_mm\": 450,\n"
      "    \"height_mm\": 400,\n"
      "    \"x-maker\": { \"serial\": 900719925474099, \"exact\": 1.0, \"small\": 1e-30, \"tags\": [\n"
      "        \"a\",\n"
      "        null,\n"
      "        true\n"
      "      ], \"none\": {} }\n"
      "  },\n"
      "  \"sump\": {\n"
      "    \"length_mm\": 600,\n"
      "    \"width_mm\": 300,\n"
      "    \"height_mm\": 350,\n"
      "    \"chambers\": [\n"
      "      { \"id\": \"calm\", \"role\": \"return\", \"length_mm\": 600, \"colour\": \"blue\" }\n"
      "    ]\n"
      "  },\n"
      "  \"returns\": [\n"
      "    {\n"
      "      \"id\": \"way-up\",\n"
      "      \"pump\": {\n"
      "        \"curve\": [\n"
      "          { \"flow_litres_per_hour\": 0, \"head_metres\": 3.2, \"measured\": true },\n"
      "          { \"flow_litres_per_hour\": 2500, \"head_metres\": 0 }\n"
      "        ],\n"
      "        \"chamber\": \"calm\"\n"
      "      }\n"
      "    }\n"
      "  ],\n"
      "  \"id\": \"not-an-id-here\",\n"
      "  \"name\": [],\n"
      "  \"plans\": { \"next\": 0.1 }\n"
      "}\n";
  g_autoptr (NappeBuild) build = read_text (text);
  g_autoptr (NappeBuild) copy = nappe_build_copy (build);
  g_autofree char *written = nappe_file_write_text (copy, NULL);
  static const char *const kept[] = { "\"serial\": 900719925474099", "\"exact\": 1.0",       "\"small\": 1e-30",
                                      "\"none\": {}",                "\"colour\": \"blue\"", "\"measured\": true",
                                      "\"id\": \"not-an-id-here\"",  "\"name\": []",         "\"next\": 0.1" };

  g_clear_object (&build);
  for (gsize i = 0; i < G_N_ELEMENTS (kept); i++)
    if (strstr (written, kept[i]) == NULL)
      g_error ("%s was not kept in %s", kept[i], written);
  build = read_text (written);
  g_clear_pointer (&written, g_free);
  written = nappe_file_write_text (build, NULL);
  g_assert_nonnull (strstr (written, "\"measured\": true"));
}

static void
test_hash (void)
{
  g_autoptr (NappeBuild) build = read_text (small);
  g_autoptr (NappeBuild) same = nappe_build_copy (build);
  g_autofree char *hash = nappe_file_hash (build);
  g_autofree char *same_hash = nappe_file_hash (same);
  g_autofree char *other_hash = NULL;

  g_assert_cmpuint (strlen (hash), ==, 64);
  g_assert_cmpstr (hash, ==, same_hash);
  g_assert_true (nappe_build_set_number (same, same->tank, "height", 0.401, NULL));
  other_hash = nappe_file_hash (same);
  g_assert_cmpstr (hash, !=, other_hash);
}

/* Every version that was ever written opens for ever. */
static void
test_old_versions (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "file", "versions", "version-1.nappe", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeBuild) build = nappe_file_read (file, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (build->title, ==, "Every member of version 1");
  g_assert_cmpuint (build->drains->len, ==, 2);
  g_assert_cmpfloat (NAPPE_BUILD_TANK (build)->displaced, ==, 0.125);
  g_assert_cmpfloat (NAPPE_BUILD_TARGETS (build)->turnover_max, ==, 12 / 3600.0);
  g_assert_cmpint (NAPPE_OVERFLOW (nappe_build_find (build, "box"))->slot_count, ==, 20);
  g_assert_cmpfloat (NAPPE_PUMP (nappe_build_find (build, "return-pump"))->speed, ==, 0.8);
  assert_survives (build);
}

static void
add_demo_tests (const char *prefix, GTestDataFunc test)
{
  for (gsize i = 0; i < G_N_ELEMENTS (demos); i++)
    {
      g_autofree char *path = g_strconcat (prefix, demos[i], NULL);
      g_test_add_data_func (path, demos[i], test);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  add_demo_tests ("/round-trip/demo/", test_demo);
  add_demo_tests ("/round-trip/demo-sump/", test_demo_sump);
  g_test_add_func ("/round-trip/every-field", test_every_field);
  g_test_add_func ("/round-trip/random-numbers", test_random_numbers);
  g_test_add_func ("/round-trip/new-build", test_new_build);
  g_test_add_func ("/round-trip/small", test_small);
  g_test_add_func ("/round-trip/unknown", test_unknown);
  g_test_add_func ("/round-trip/hash", test_hash);
  g_test_add_func ("/round-trip/old-versions", test_old_versions);
  return g_test_run ();
}

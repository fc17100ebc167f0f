/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/catalogue.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

/* The user's own files, good and hostile; and bad shipped data. */

#define HEAD "{\"format\":\"nappe-catalogue\",\"version\":1,\n\"items\":[\n"
#define TAIL "\n]}\n"
#define PIPE_ROW "{\"id\":\"my-pipe\",\"kind\":\"pipe\",\"name\":\"My pipe\",\"family\":\"mine\",\"nominal\":\"28 mm\"," \
                 "\"bore_mm\":25,\"outside_diameter_mm\":28,\"wall_mm\":1.5,\"roughness_mm\":0.0015,"                  \
                 "\"nominal_inches\":1,\"source\":\"measured\"}"
#define PUMP_START "{\"id\":\"my-pump\",\"kind\":\"pump\",\"name\":\"My pump\",\"source\":\"measured\",\"power_watts\":30,"
#define PUMP_ROW PUMP_START "\"curve_flow_litres_per_hour\":[0,1000,2000],\"curve_head_metres\":[2,1.5,0]}"

typedef struct
{
  char *folder;  /* of the user's files */
  char *shipped; /* of an empty catalogue, which loads fast */
  NappeCatalogue *catalogue;
  GPtrArray *warnings;
} Fixture;

static void
write_file (const char *folder, const char *name, const char *text, gssize length)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);

  g_assert_true (g_file_set_contents (path, text, length, NULL));
}

static void
write_shipped (const char *folder, const char *pumps)
{
  static const char *const empty[]
      = { "pipes.json", "hoses.json", "fittings.json", "valves.json", "bulkheads.json", "equipment.json" };

  for (guint i = 0; i < G_N_ELEMENTS (empty); i++)
    write_file (folder, empty[i], HEAD TAIL, -1);
  write_file (folder, "pumps.json", pumps, -1);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->folder = g_dir_make_tmp ("nappe-own-XXXXXX", NULL);
  fixture->shipped = g_dir_make_tmp ("nappe-shipped-XXXXXX", NULL);
  g_assert_true (fixture->folder != NULL && fixture->shipped != NULL);
  write_shipped (fixture->shipped, HEAD TAIL);
}

static void
remove_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      g_remove (path);
    }
  g_rmdir (folder);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  remove_folder (fixture->folder);
  remove_folder (fixture->shipped);
  g_free (fixture->folder);
  g_free (fixture->shipped);
  g_clear_pointer (&fixture->catalogue, nappe_catalogue_unref);
  g_clear_pointer (&fixture->warnings, g_ptr_array_unref);
}

static void
load_over (Fixture *fixture, const char *shipped)
{
  g_autoptr (GError) error = NULL;

  g_clear_pointer (&fixture->catalogue, nappe_catalogue_unref);
  g_clear_pointer (&fixture->warnings, g_ptr_array_unref);
  fixture->catalogue = nappe_catalogue_load (shipped, fixture->folder, &fixture->warnings, &error);
  g_assert_no_error (error);
  g_assert_nonnull (fixture->catalogue);
  g_assert_nonnull (fixture->warnings);
}

static void
load (Fixture *fixture)
{
  load_over (fixture, fixture->shipped);
}

/* Over what is really shipped. */
static void
load_over_real (Fixture *fixture)
{
  g_autofree char *shipped = nappe_catalogue_default_dir ();

  load_over (fixture, shipped);
}

static void
load_text (Fixture *fixture, const char *text, gssize length)
{
  write_file (fixture->folder, "own.json", text, length);
  load (fixture);
}

static guint
real_count (void)
{
  g_autofree char *shipped = nappe_catalogue_default_dir ();
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load (shipped, NULL, NULL, NULL);

  return nappe_catalogue_count (catalogue);
}

static void
test_extend (Fixture *fixture, gconstpointer data)
{
  const NappeItem *pipe, *pump;

  load_text (fixture, HEAD PIPE_ROW ",\n" PUMP_ROW TAIL, -1);
  g_assert_cmpuint (fixture->warnings->len, ==, 0);
  g_assert_cmpuint (nappe_catalogue_count (fixture->catalogue), ==, 2);
  pipe = nappe_catalogue_find (fixture->catalogue, "my-pipe");
  pump = nappe_catalogue_find (fixture->catalogue, "my-pump");
  g_assert_true (pipe->own && pump->own);
  g_assert_cmpfloat (pipe->bore, ==, 0.025);
  g_assert_cmpfloat (pipe->bore_out, ==, 0.025);
  g_assert_cmpstr (pipe->fittings_family, ==, "mine");
  g_assert_cmpuint (pump->n_curve, ==, 3);
  g_assert_cmpfloat (pump->curve_flow[1], ==, 1000 / 3.6e6);
  g_assert_cmpfloat (pump->curve_head[1], ==, 1.5);
  g_assert_cmpstr (pump->source, ==, "measured");
}

static void
test_override (Fixture *fixture, gconstpointer data)
{
  static const char row[] = HEAD
      "{\"id\":\"ac-pump-1000\",\"kind\":\"pump\",\"name\":\"Measured pump\",\"source\":\"measured\",\"power_watts\":9,"
      "\"curve_flow_litres_per_hour\":[0,900],\"curve_head_metres\":[1.2,0]}" TAIL;
  const NappeItem *pump;
  guint index = 0;

  write_file (fixture->folder, "own.json", row, -1);
  load_over_real (fixture);
  pump = nappe_catalogue_find (fixture->catalogue, "ac-pump-1000");
  g_assert_cmpuint (fixture->warnings->len, ==, 0);
  g_assert_cmpuint (nappe_catalogue_count (fixture->catalogue), ==, real_count ());
  g_assert_true (pump->own);
  g_assert_cmpfloat (pump->power, ==, 9);
  while (nappe_catalogue_nth (fixture->catalogue, index) != pump)
    index++;
  g_assert_cmpuint (index, <, nappe_catalogue_count (fixture->catalogue));
}

static void
test_sources (Fixture *fixture, gconstpointer data)
{
  load_text (fixture,
             "{\"format\":\"nappe-catalogue\",\"version\":1,\"sources\":{\"measured\":\"By bucket and watch\"},\"items\":["
             PUMP_ROW "]}", -1);
  g_assert_cmpuint (fixture->warnings->len, ==, 0);
  g_assert_cmpstr (nappe_catalogue_find (fixture->catalogue, "my-pump")->source, ==, "By bucket and watch");
}

/* Bad rows are named and left out; good ones around them stay. */
static void
test_bad_row (Fixture *fixture, gconstpointer data)
{
  load_text (fixture, HEAD PIPE_ROW ",\n{\"id\":\"bad\"},\n" PUMP_ROW TAIL, -1);
  g_assert_cmpuint (fixture->warnings->len, ==, 1);
  g_assert_cmpstr (g_ptr_array_index (fixture->warnings, 0), ==,
                   "own.json, line 4, items[1].kind: bad: this member is missing");
  g_assert_nonnull (nappe_catalogue_find (fixture->catalogue, "my-pipe"));
  g_assert_nonnull (nappe_catalogue_find (fixture->catalogue, "my-pump"));
  g_assert_null (nappe_catalogue_find (fixture->catalogue, "bad"));
}

static void
test_same_id (Fixture *fixture, gconstpointer data)
{
  write_file (fixture->folder, "a.json", HEAD PUMP_ROW TAIL, -1);
  write_file (fixture->folder, "b.json", HEAD "\n" PUMP_ROW TAIL, -1);
  write_file (fixture->folder, "c.json",
              HEAD "{\"id\":\"pvc40-pipe-1\",\"kind\":\"equipment\",\"name\":\"x\",\"equipment_kind\":\"other\",\"source\":\"x\"}"
                   TAIL, -1);
  write_file (fixture->folder, "ignored.txt", "not JSON", -1);
  write_file (fixture->folder, ".hidden.json", "not JSON", -1);
  load_over_real (fixture);
  g_assert_cmpuint (fixture->warnings->len, ==, 2);
  g_assert_cmpstr (g_ptr_array_index (fixture->warnings, 0), ==,
                   "b.json, line 4, my-pump: this id is in your catalogue twice");
  g_assert_cmpstr (g_ptr_array_index (fixture->warnings, 1), ==,
                   "c.json, line 3, pvc40-pipe-1: the shipped item of this id is of another kind");
  g_assert_cmpint (nappe_catalogue_find (fixture->catalogue, "pvc40-pipe-1")->kind, ==, NAPPE_ITEM_PIPE);
}

/* Each of these texts must give one warning with this in it, and change nothing. */
static const struct
{
  const char *text, *warning;
} refused[] = {
  { "", "line 1, column 1: the text is empty" },
  { "{", "line 1, column 2: " },
  { "[]", "line 1: an object is wanted" },
  { "null", "line 1: an object is wanted" },
  { "{}", "line 1, format: " },
  { "{\"format\":1,\"version\":1,\"items\":[]}", "line 1, format: " },
  { "{\"format\":\"nappe-catalogue\",\n\"version\":\"1\",\"items\":[]}", "line 2, version: a whole number" },
  { "{\"format\":\"nappe-catalogue\",\"version\":2,\"items\":[]}", "version: this program reads version 1" },
  { "{\"format\":\"nappe-catalogue\",\"version\":1}", "items: a list" },
  { "{\"format\":\"nappe-catalogue\",\"version\":1,\"items\":{}}", "items: a list" },
  { "{\"format\":\"nappe-catalogue\",\"version\":1,\"sources\":[],\"items\":[]}", "sources: an object" },
  { "{\"format\":\"nappe-catalogue\",\"version\":1,\"item\":[],\"items\":[]}", "item: there is no such member" },
  { HEAD "1" TAIL, "items[0]: an object is wanted" },
  { HEAD "null" TAIL, "items[0]: an object is wanted" },
  { HEAD "{}" TAIL, "items[0].id: this member is missing" },
  { HEAD "{\"id\":1}" TAIL, "items[0].id: a text of" },
  { HEAD "{\"id\":\"\"}" TAIL, "items[0].id: a text of" },
  { HEAD "{\"id\":\"a/b\"}" TAIL, "items[0].id: a/b: an id has letters" },
  { HEAD "{\"id\":\"a\",\"kind\":\"car\"}" TAIL, "kind: a: “car” is none of: pipe, hose" },
  { HEAD "{\"id\":\"a\",\"kind\":[]}" TAIL, "kind: a: a text of" },
  { HEAD "{\"id\":\"a\",\"kind\":\"pipe\",\"name\":\"x\"}" TAIL, "source: a: this member is missing" },
  { HEAD "{\"id\":\"a\",\"kind\":\"pipe\",\"source\":\"\"}" TAIL, "source: a: a text of" },
  { HEAD "{\"id\":\"a\",\"kind\":\"pipe\",\"source\":\"x\",\"name\":\"x\",\"bore\":3}" TAIL,
    "bore: a: there is no such member; is its unit right?" },
  { HEAD "{\"id\":\"a\",\"kind\":\"pipe\",\"source\":\"x\",\"name\":\"x\",\"bore_in\":3}" TAIL, "bore_in: a: there is no" },
  { HEAD PUMP_START "\"width_mm\":true}" TAIL, "width_mm: my-pump: a number is wanted" },
  { HEAD PUMP_START "\"bore_mm\":3}" TAIL, "bore_mm: my-pump: an item of this kind has no such member" },
  { HEAD PUMP_START "\"width_mm\":3}" TAIL, "curve_flow_litres_per_hour: my-pump: this member is missing" },
  { HEAD PUMP_START "\"curve_flow_litres_per_hour\":[0,1],\"curve_head_metres\":[1]}" TAIL,
    "curve_head_metres: my-pump: a list of 2 to 100" },
  { HEAD PUMP_START "\"curve_flow_litres_per_hour\":[0,1,2],\"curve_head_metres\":[1,0]}" TAIL, "equally long" },
  { HEAD PUMP_START "\"curve_flow_litres_per_hour\":[0,0],\"curve_head_metres\":[1,0]}" TAIL, "the flows must rise" },
  { HEAD PUMP_START "\"curve_flow_litres_per_hour\":[0,9],\"curve_head_metres\":[1,2]}" TAIL, "the heads must fall" },
  { HEAD PUMP_START "\"curve_flow_litres_per_hour\":[-1,9],\"curve_head_metres\":[1,0]}" TAIL,
    "-1 is not between 0 and 360000" },
  { HEAD PUMP_START "\"curve_flow_litres_per_hour\":[0,\"9\"],\"curve_head_metres\":[1,0]}" TAIL, "a number is wanted" },
  { HEAD PUMP_START "\"curve_flow_litres_per_hour\":[0,1,2,3,4,5,6,7,8,9,10,11,12,13,14,15,16],"
                    "\"curve_head_metres\":[16,15,14,13,12,11,10,9,8,7,6,5,4,3,2,1,0]}" TAIL, "at most 16 points" },
  { HEAD PUMP_START "\"curve_flow_litres_per_hour\":[0,9],\"curve_head_metres\":[1,0],\"width_mm\":1e300}" TAIL,
    "width_mm: my-pump: 1e+300 is not between 0 and 5000" },
  { HEAD PUMP_START "\"curve_flow_litres_per_hour\":[0,9],\"curve_head_metres\":[1,0],\"variable_speed\":1}" TAIL,
    "variable_speed: my-pump: true or false" },
  { HEAD PUMP_START "\"power_watts\":1}" TAIL, "power_watts: this member is here twice" },
  { HEAD PUMP_START "\"width_mm\":1e999}" TAIL, "width_mm: 1e999 is not a finite number" },
  { HEAD PUMP_START "\"width_mm\":0x10}" TAIL, "width_mm: 0x10 is not a number" },
  { HEAD "{\"id\":\"a\",\"kind\":\"pipe\",\"name\":\"x\",\"family\":\"f\",\"nominal\":\"n\",\"bore_mm\":27,"
         "\"outside_diameter_mm\":28,\"wall_mm\":1.5,\"roughness_mm\":0,\"nominal_inches\":1,\"source\":\"s\"}" TAIL,
    "bore_mm: a: bore and two walls" },
  { HEAD "{\"id\":\"a\",\"kind\":\"valve\",\"name\":\"x\",\"family\":\"f\",\"nominal\":\"n\",\"bore_mm\":27,"
         "\"valve_kind\":\"gate\",\"nominal_inches\":1,\"source\":\"s\"}" TAIL, "opening_percent: a: all valves but" },
  { HEAD "{\"id\":\"a\",\"kind\":\"valve\",\"name\":\"x\",\"family\":\"f\",\"nominal\":\"n\",\"bore_mm\":27,"
         "\"valve_kind\":\"check\",\"nominal_inches\":1,\"source\":\"s\"}" TAIL, "ki: a: a check valve needs" },
  { HEAD "{\"id\":\"a\",\"kind\":\"valve\",\"name\":\"x\",\"family\":\"f\",\"nominal\":\"n\",\"bore_mm\":27,"
         "\"opening_percent\":[50,100],\"k\":[1,2],\"valve_kind\":\"gate\",\"nominal_inches\":1,\"source\":\"s\"}" TAIL,
    "k: a: the losses must fall" },
  { HEAD "{\"id\":\"a\",\"kind\":\"valve\",\"name\":\"x\",\"family\":\"f\",\"nominal\":\"n\",\"bore_mm\":27,"
         "\"opening_percent\":[100,100],\"k\":[2,1],\"valve_kind\":\"gate\",\"nominal_inches\":1,\"source\":\"s\"}" TAIL,
    "opening_percent: a: the openings must rise" },
  { HEAD "{\"id\":\"a\",\"kind\":\"valve\",\"name\":\"x\",\"family\":\"f\",\"nominal\":\"n\",\"bore_mm\":27,"
         "\"k\":[2,1],\"valve_kind\":\"gate\",\"nominal_inches\":1,\"source\":\"s\"}" TAIL, "k: a: the two lists" },
  { HEAD "{\"id\":\"a\",\"kind\":\"fitting\",\"name\":\"x\",\"family\":\"f\",\"nominal\":\"n\",\"bore_mm\":27,"
         "\"shape\":\"tee\",\"nominal_inches\":1,\"source\":\"s\"}" TAIL, "branch_ki: a: tees, and only they" },
  { HEAD "{\"id\":\"a\",\"kind\":\"fitting\",\"name\":\"x\",\"family\":\"f\",\"nominal\":\"n\",\"bore_mm\":27,"
         "\"shape\":\"reducer\",\"nominal_inches\":1,\"source\":\"s\"}" TAIL, "bore_out_mm: a: of reducers" },
  { HEAD "{\"id\":\"a\",\"kind\":\"bulkhead\",\"name\":\"x\",\"family\":\"f\",\"nominal\":\"n\",\"bore_mm\":27,"
         "\"hole_diameter_mm\":20,\"nominal_inches\":1,\"source\":\"s\"}" TAIL, "hole_diameter_mm: a: the hole" },
  { HEAD "{\"id\":\"a\",\"kind\":\"equipment\",\"name\":\"x\",\"equipment_kind\":\"skimmer\",\"depth_min_mm\":200,"
         "\"depth_max_mm\":100,\"source\":\"s\"}" TAIL, "depth_max_mm: a: the greatest depth" },
};

static void
test_refused (Fixture *fixture, gconstpointer data)
{
  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      const char *warning;

      load_text (fixture, refused[i].text, -1);
      g_assert_cmpuint (fixture->warnings->len, ==, 1);
      warning = g_ptr_array_index (fixture->warnings, 0);
      if (!g_str_has_prefix (warning, "own.json") || strstr (warning, refused[i].warning) == NULL)
        g_error ("text %u: “%s” lacks “%s”", i, warning, refused[i].warning);
      g_assert_cmpuint (nappe_catalogue_count (fixture->catalogue), ==, 0);
    }
}

/* Every prefix of a good file is refused without harm. */
static void
test_prefixes (Fixture *fixture, gconstpointer data)
{
  static const char text[] = HEAD PIPE_ROW "," PUMP_ROW "\n]}";

  for (gssize length = 0; length < (gssize) strlen (text); length += 7)
    {
      load_text (fixture, text, length);
      g_assert_cmpuint (fixture->warnings->len, ==, 1);
    }
}

static void
test_monsters (Fixture *fixture, gconstpointer data)
{
  gsize length = 4 * 1024 * 1024 + 1;
  g_autofree char *large = g_strnfill (length, ' ');
  g_autofree char *deep = g_strnfill (1000000, '[');
  g_autofree char *pipe_path = g_build_filename (fixture->folder, "pipe.json", NULL);
  g_autofree char *folder_path = g_build_filename (fixture->folder, "folder.json", NULL);

  write_file (fixture->folder, "large.json", large, (gssize) length);
  write_file (fixture->folder, "deep.json", deep, 1000000);
  write_file (fixture->folder, "nul.json", "{}\0", 3);
  write_file (fixture->folder, "latin.json", "\"\xe9\"", -1);
  g_assert_cmpint (mkfifo (pipe_path, 0600), ==, 0);
  g_assert_cmpint (g_mkdir (folder_path, 0700), ==, 0);
  load (fixture);
  g_assert_cmpuint (fixture->warnings->len, ==, 6);
  g_assert_cmpstr (g_ptr_array_index (fixture->warnings, 1), ==, "folder.json: this is not a plain file");
  g_assert_cmpstr (g_ptr_array_index (fixture->warnings, 2), ==, "large.json: the file is larger than 4 MiB");
  g_assert_cmpstr (g_ptr_array_index (fixture->warnings, 5), ==, "pipe.json: this is not a plain file");
}

static void
test_no_folder (Fixture *fixture, gconstpointer data)
{
  g_autofree char *missing = g_build_filename (fixture->folder, "missing", NULL);
  g_autoptr (GPtrArray) warnings = NULL;
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load (fixture->shipped, missing, &warnings, NULL);

  g_assert_nonnull (catalogue);
  g_assert_cmpuint (warnings->len, ==, 0);
  write_file (fixture->folder, "missing", "a file where a folder should be", -1);
  g_clear_pointer (&catalogue, nappe_catalogue_unref);
  g_clear_pointer (&warnings, g_ptr_array_unref);
  catalogue = nappe_catalogue_load (fixture->shipped, missing, &warnings, NULL);
  g_assert_nonnull (catalogue);
  g_assert_cmpuint (warnings->len, ==, 1);
}

/* ---- bad shipped data is an error ---- */

static void
expect_shipped_error (const char *folder, const char *pumps, int code, const char *message)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = NULL;

  write_shipped (folder, pumps);
  catalogue = nappe_catalogue_load (folder, NULL, NULL, &error);
  g_assert_null (catalogue);
  g_assert_error (error, NAPPE_CATALOGUE_ERROR, code);
  g_assert_cmpstr (error->message, ==, message);
}

static void
test_bad_shipped (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (nappe_catalogue_load (fixture->folder, NULL, NULL, &error));
  g_assert_error (error, NAPPE_CATALOGUE_ERROR, NAPPE_CATALOGUE_ERROR_READ);
  expect_shipped_error (fixture->folder, "{]", NAPPE_CATALOGUE_ERROR_JSON,
                        "pumps.json: line 1, column 2: “]” found where a member name in double quotation marks is wanted");
  expect_shipped_error (fixture->folder, HEAD PUMP_ROW ",\n" PUMP_ROW TAIL, NAPPE_CATALOGUE_ERROR_DUPLICATE_ID,
                        "pumps.json, line 4: the id “my-pump” is in the catalogue twice");
  expect_shipped_error (fixture->folder, HEAD PUMP_ROW ",\n" PUMP_START "\"curve_flow_litres_per_hour\":3}" TAIL,
                        NAPPE_CATALOGUE_ERROR_FORMAT,
                        "pumps.json, line 4, items[1].curve_flow_litres_per_hour: my-pump: a list of 2 to 100 numbers is wanted");
  expect_shipped_error (fixture->folder, HEAD PUMP_START "\"width_mm\":-1,\"curve_flow_litres_per_hour\":[0,1],"
                        "\"curve_head_metres\":[1,0]}" TAIL, NAPPE_CATALOGUE_ERROR_RANGE,
                        "pumps.json, line 3, items[0].width_mm: my-pump: -1 is not between 0 and 5000");
}

#define ADD(name, function) g_test_add ("/catalogue-files/" name, Fixture, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("extend", test_extend);
  ADD ("override", test_override);
  ADD ("sources", test_sources);
  ADD ("bad-row", test_bad_row);
  ADD ("same-id", test_same_id);
  ADD ("refused", test_refused);
  ADD ("prefixes", test_prefixes);
  ADD ("monsters", test_monsters);
  ADD ("no-folder", test_no_folder);
  ADD ("bad-shipped", test_bad_shipped);
  return g_test_run ();
}

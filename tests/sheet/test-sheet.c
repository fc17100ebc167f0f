/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheet/sheet.h"

#include <glib/gstdio.h>
#include <locale.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "../demo-build.h"
#include "study/head-ledger.h"
#include "study/heat.h"
#include "study/loads.h"

static char *folder; /* of this run, removed at its end */

static char *
path_of (const char *name)
{
  return g_build_filename (folder, name, NULL);
}

/* Writes the sheet of a build; its path. */
static char *
write_sheet (const DemoBuild *demo, const char *name, NappePaper paper, NappeUnitSystem units)
{
  NappeSheetOptions options = { .paper = paper, .units = units, .file_name = "build.nappe",
                                .file_hash = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef" };
  g_autoptr (GError) error = NULL;
  char *path = path_of (name);

  nappe_sheet_write (&options, demo->build, demo->layout, demo->study, demo->verdict, path, &error);
  g_assert_no_error (error);
  return path;
}

static char *
write_demo (const char *demo_name, NappePaper paper, NappeUnitSystem units)
{
  DemoBuild demo;
  char *path;

  demo_load (&demo, demo_name, units);
  path = write_sheet (&demo, "sheet.pdf", paper, units);
  demo_clear (&demo);
  return path;
}

/* Runs a program (option may be NULL) and returns what it said; NULL, and the test is marked, when it
 * is not installed. */
static char *
said_by (const char *program, const char *option, const char *path)
{
  const char *to_output = strcmp (program, "pdftotext") == 0 ? "-" : NULL;
  const char *arguments[] = { program, option != NULL ? option : path, option != NULL ? path : to_output,
                              option != NULL ? to_output : NULL, NULL };
  g_autofree char *found = g_find_program_in_path (program);
  g_autoptr (GError) error = NULL;
  g_autofree char *trouble = NULL;
  char *out = NULL;
  int status = 0;

  if (found == NULL)
    {
      g_test_skip_printf ("%s is not installed", program);
      return NULL;
    }
  g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &trouble, &status, &error);
  g_assert_no_error (error);
  if (!g_spawn_check_wait_status (status, &error))
    g_error ("%s: %s %s %s", program, error->message, out, trouble);
  g_assert_cmpstr (trouble, ==, "");
  return out;
}

static void
assert_says (const char *text, const char *piece)
{
  if (strstr (text, piece) == NULL)
    g_error ("the sheet does not say “%s”", piece);
}

/* Lines that were wrapped become one and spaces of all widths alike, so that sentences can be looked for. */
static char *
unwrapped (const char *text)
{
  GString *out = g_string_new (NULL);
  gboolean space = FALSE;

  for (; *text != '\0'; text = g_utf8_next_char (text))
    if (g_unichar_isspace (g_utf8_get_char (text)))
      space = TRUE;
    else
      {
        if (space && out->len > 0)
          g_string_append_c (out, ' ');
        space = FALSE;
        g_string_append_unichar (out, g_utf8_get_char (text));
      }
  return g_string_free (out, FALSE);
}

static void
test_says_all (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      DemoBuild demo;
      demo_load (&demo, demo_names[d], NAPPE_UNITS_METRIC);
      g_autofree char *path = write_sheet (&demo, "sheet.pdf", NAPPE_PAPER_A4, NAPPE_UNITS_METRIC);
      g_autofree char *raw = said_by ("pdftotext", "-raw", path);
      g_autofree char *text = raw != NULL ? unwrapped (raw) : NULL;
      static const char *const headings[] = { "Specification sheet",
                                              "Side elevation",
                                              "Flow diagram",
                                              "Plan: the sump from above",
                                              "Drilled panes, seen from outside",
                                              "Vessels",
                                              "Levels above the floor of the room",
                                              "Power cut",
                                              "Drains",
                                              "Pump: ",
                                              "Weirs",
                                              "Blocked drains",
                                              "Findings",
                                              "Checked and fine",
                                              "Basis of the design",
                                              "Cautions",
                                              "Chambers of the sump",
                                              "smallest bubble stopped",
                                              "Evaporation, heat and electricity",
                                              "Electricity by user",
                                              "Weight",
                                              "Panels with water up to the rim",
                                              "this is never an approval",
                                              "Charts",
                                              "Pump curve: ",
                                              "what the system asks",
                                              "Water of a power cut",
                                              "Head along ",
                                              "head lost",
                                              "Sideways pipes of drains",
                                              "Signatures",
                                              "page 1 of ",
                                              "build.nappe",
                                              "file 0123456789ab",
                                              "Mains and water",
                                              "licensed",
                                              "accepted by the customer" };
      if (text == NULL)
        return;
      for (guint i = 0; i < G_N_ELEMENTS (headings); i++)
        assert_says (text, headings[i]);
      assert_says (text, demo.build->customer);
      assert_says (text, demo.build->date);
      for (guint i = 0; i < demo.layout->n_chambers; i++)
        assert_says (text, nappe_part_display_name (NAPPE_PART (demo.layout->chambers[i].part)));
      for (guint i = 0; i < demo.verdict->findings->len; i++)
        {
          NappeFinding *finding = g_ptr_array_index (demo.verdict->findings, i);
          g_autofree char *sentence = unwrapped (nappe_finding_get_text (finding));
          g_autofree char *remedy = unwrapped (nappe_finding_get_remedy (finding));
          assert_says (text, nappe_finding_get_title (finding));
          assert_says (text, sentence);
          assert_says (text, remedy);
        }
      for (guint i = 0; i < demo.study->n_drains; i++)
        {
          const NappeDrainReport *drain = &demo.study->drains[i];
          g_autofree char *full = nappe_quantity_format_number (NAPPE_QUANTITY_FLOW, drain->capacity_full, NAPPE_UNITS_METRIC, 0);
          g_autofree char *plain = unwrapped (full);
          assert_says (text, plain);
        }
      demo_clear (&demo);
    }
}

/* Value as the sheet prints it, with one space for every kind of space. Transfer full. */
static char *
printed (NappeQuantity quantity, double value, int digits)
{
  g_autofree char *text = nappe_quantity_format (quantity, value, NAPPE_UNITS_METRIC, digits);
  return unwrapped (text);
}

/* Chambers, heat, loads and head losses stand there as they were reckoned. */
static void
test_says_burdens (void)
{
  DemoBuild demo;
  demo_load (&demo, "demo-builds/slim", NAPPE_UNITS_METRIC);
  g_autofree char *path = write_sheet (&demo, "sheet.pdf", NAPPE_PAPER_A4, NAPPE_UNITS_METRIC);
  g_autofree char *raw = said_by ("pdftotext", "-layout", path);
  g_autofree char *text = raw != NULL ? unwrapped (raw) : NULL;
  g_autoptr (NappeHeat) heat = nappe_heat_new (demo.build, demo.catalogue, demo.study);
  g_autoptr (NappeLoads) loads = nappe_loads_new (demo.build, demo.catalogue, demo.study);
  g_autoptr (NappeHeadLedger) ledger = nappe_head_ledger_new (demo.study, &demo.study->running, "return");
  if (text != NULL)
    {
      g_autofree char *mass = printed (NAPPE_QUANTITY_MASS, loads->mass, 0);
      g_autofree char *heater = printed (NAPPE_QUANTITY_POWER, heat->heat_wanted, 0);
      g_autofree char *evaporated = printed (NAPPE_QUANTITY_VOLUME, heat->evaporation * 86400.0, 0);
      g_assert_true (heat->known && loads->known);
      g_assert_cmpuint (ledger->n, >, 5);
      g_autofree char *sum = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, ledger->lines[ledger->n - 1].passed,
                                                           NAPPE_UNITS_METRIC, 0);
      g_autofree char *total = g_strconcat ("up to Return line nozzle ", sum, NULL);
      assert_says (text, mass);
      assert_says (text, heater);
      assert_says (text, evaporated);
      assert_says (text, total);
      g_autofree char *cost = nappe_quantity_format_number (NAPPE_QUANTITY_NUMBER, heat->cost_year, NAPPE_UNITS_METRIC, 3);
      g_autofree char *money = g_strconcat (cost, " EUR", NULL);
      assert_says (text, "its cost at the price given");
      assert_says (text, money);
      for (guint i = 0; i < demo.study->n_chambers; i++)
        {
          const NappeChamberReport *chamber = &demo.study->chambers[i];
          g_autofree char *bubble = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, chamber->bubble_stopped,
                                                                  NAPPE_UNITS_METRIC, 2);
          assert_says (text, bubble);
        }
    }
  demo_clear (&demo);
}

/* Every kind of vessel is listed; a check valve is named only where there is one that could fail. */
static void
test_says_rooms (void)
{
  static const char *const said[][2] = { { "slim", "Slim overflow, inner box" }, { "slim", "Filter socks" },
                                         { "rim", "Rim overflow, inner box" }, { "hang-on", "Hanging refugium" },
                                         { "two-pumps", "Side refugium" }, { "two-pumps", "equal pumps side by side" },
                                         { "two-pumps", "Head along Second line" } };
  for (guint i = 0; i < G_N_ELEMENTS (said); i++)
    {
      DemoBuild demo;
      g_autofree char *name = g_strconcat ("demo-builds/", said[i][0], NULL);
      demo_load (&demo, name, NAPPE_UNITS_METRIC);
      g_autofree char *path = write_sheet (&demo, "sheet.pdf", NAPPE_PAPER_LETTER, NAPPE_UNITS_METRIC);
      g_autofree char *check = said_by ("qpdf", "--check", path);
      g_autofree char *raw = said_by ("pdftotext", "-raw", path);
      g_autofree char *text = raw != NULL ? unwrapped (raw) : NULL;
      if (text != NULL)
        {
          gboolean valve = strstr (text, "check valve failed") != NULL;
          assert_says (text, said[i][1]);
          g_assert_cmpint (valve, ==, g_str_equal (said[i][0], "two-pumps"));
          g_assert_null (strstr (text, "∞"));
        }
      demo_clear (&demo);
    }
}

/* The numbers of pages: what pdfinfo counts, and what the footers say. */
static void
test_pages (void)
{
  for (int paper = NAPPE_PAPER_A4; paper <= NAPPE_PAPER_LETTER; paper++)
    {
      g_autofree char *path = write_demo ("three-drain", (NappePaper) paper, NAPPE_UNITS_US);
      g_autofree char *info = said_by ("pdfinfo", "-isodates", path);
      g_autofree char *text = said_by ("pdftotext", "-layout", path);
      int pages;
      if (info == NULL || text == NULL)
        return;
      pages = atoi (strstr (info, "Pages:") + strlen ("Pages:"));
      g_assert_cmpint (pages, >=, 4);
      for (int i = 1; i <= pages; i++)
        {
          g_autofree char *footer = g_strdup_printf ("page %d of %d", i, pages);
          assert_says (text, footer);
        }
      assert_says (info, paper == NAPPE_PAPER_A4 ? "(A4)" : "(letter)");
      assert_says (info, "2025-03-01T00:00:00Z");
      assert_says (info, "Foyer reef, Harbour House");
      assert_says (text, "gal/h");
    }
}

/* What somebody answered stands on the paper with the reason, apart from the findings. */
static void
test_says_answers (void)
{
  DemoBuild demo;
  g_autoptr (GError) error = NULL;
  g_autoptr (NappePart) answer = g_object_new (NAPPE_TYPE_ANSWER, NULL);

  demo_load (&demo, "two-drain", NAPPE_UNITS_METRIC);
  nappe_build_insert (demo.build, NAPPE_PART (demo.build), "answers", G_MAXUINT, answer, &error);
  nappe_build_set_text (demo.build, answer, "rule", "valve-coarse", &error);
  nappe_build_set_text (demo.build, answer, "part", "siphon", &error);
  nappe_build_set_text (demo.build, answer, "reason", "No gate valve fits there", &error);
  nappe_build_set_text (demo.build, answer, "author", "House team", &error);
  g_assert_no_error (error);
  nappe_verdict_free (demo.verdict);
  demo.verdict = nappe_rules_run (demo.build, demo.study, NAPPE_UNITS_METRIC);
  g_autofree char *path = write_sheet (&demo, "answers.pdf", NAPPE_PAPER_A4, NAPPE_UNITS_METRIC);
  g_autofree char *text = said_by ("pdftotext", "-layout", path);
  if (text != NULL)
    {
      assert_says (text, "Answered findings");
      assert_says (text, "Answered by the planner House team: “No gate valve fits there”");
    }
  demo_clear (&demo);
}

static void
test_sound_pdf (void)
{
  g_autofree char *path = write_demo ("two-drain", NAPPE_PAPER_A4, NAPPE_UNITS_METRIC);
  g_autofree char *check = said_by ("qpdf", "--check", path);
  g_autofree char *fonts = said_by ("pdffonts", NULL, path);

  if (check != NULL)
    assert_says (check, "No syntax or stream encoding errors found");
  if (fonts == NULL)
    return;
  g_auto (GStrv) lines = g_strsplit (fonts, "\n", -1);
  g_assert_cmpint (g_strv_length (lines), >, 3);
  for (guint i = 2; lines[i] != NULL && *lines[i] != '\0'; i++)
    if (strstr (lines[i], " yes yes yes ") == NULL) /* embedded, subset, with its text */
      g_error ("font not embedded: %s", lines[i]);
}

static void
test_outline (void)
{
  g_autofree char *path = write_demo ("three-drain", NAPPE_PAPER_A4, NAPPE_UNITS_METRIC);
  g_autofree char *objects = said_by ("qpdf", "--json", path);

  if (objects == NULL)
    return;
  assert_says (objects, "\"title\": \"Side elevation\"");
  assert_says (objects, "\"title\": \"Findings\"");
  assert_says (objects, "\"title\": \"Signatures\"");
}

static char *
contents_of (const char *path, gsize *length)
{
  g_autoptr (GError) error = NULL;
  char *contents = NULL;

  g_file_get_contents (path, &contents, length, &error);
  g_assert_no_error (error);
  return contents;
}

static void
assert_same_bytes (const char *first, gsize length, const char *path)
{
  gsize again;
  g_autofree char *second = contents_of (path, &again);

  g_assert_cmpmem (first, length, second, again);
}

/* The same bytes in another run, time zone and locale. A locale that is not installed leaves "C". */
static void
test_same_bytes (void)
{
  static const char *const zones[] = { "Pacific/Auckland", "America/Los_Angeles", "UTC" };
  g_autofree char *path = write_demo ("three-drain", NAPPE_PAPER_A4, NAPPE_UNITS_METRIC);
  gsize length;
  g_autofree char *first = contents_of (path, &length);

  for (guint i = 0; i < G_N_ELEMENTS (zones); i++)
    {
      g_autofree char *again = NULL;
      g_setenv ("TZ", zones[i], TRUE);
      tzset ();
      setlocale (LC_ALL, i == 1 ? "POSIX" : "C.UTF-8");
      setlocale (LC_TIME, "de_DE.UTF-8");
      setlocale (LC_CTYPE, i == 2 ? "ja_JP.UTF-8" : "C.UTF-8");
      again = write_demo ("three-drain", NAPPE_PAPER_A4, NAPPE_UNITS_METRIC);
      assert_same_bytes (first, length, again);
    }
  g_unsetenv ("TZ");
  setlocale (LC_ALL, "C.UTF-8");
}

static void
test_other_date_other_bytes (void)
{
  DemoBuild demo;
  NappeSheetOptions options = { .date = "2031-12-24" };
  g_autofree char *path = path_of ("dated.pdf");
  g_autofree char *info = NULL;
  g_autoptr (GError) error = NULL;

  demo_load (&demo, "three-drain", NAPPE_UNITS_METRIC);
  nappe_sheet_write (&options, demo.build, demo.layout, demo.study, demo.verdict, path, &error);
  g_assert_no_error (error);
  info = said_by ("pdfinfo", "-isodates", path);
  if (info != NULL)
    assert_says (info, "2031-12-24T00:00:00Z");
  demo_clear (&demo);
}

static void
assert_fails (const DemoBuild *demo, const char *path)
{
  NappeSheetOptions options = { .paper = NAPPE_PAPER_A4 };
  g_autoptr (GError) error = NULL;

  g_assert_false (nappe_sheet_write (&options, demo->build, demo->layout, demo->study, demo->verdict, path, &error));
  g_assert_nonnull (error);
  g_assert_nonnull (strstr (error->message, path));
}

/* What cannot be written says so with its name; an older file stays, and nothing is left beside it. */
static void
test_cannot_write (void)
{
  DemoBuild demo;
  g_autofree char *missing = g_build_filename (folder, "no-such-folder", "sheet.pdf", NULL);
  g_autofree char *locked = path_of ("locked"), *old = g_build_filename (locked, "sheet.pdf", NULL);
  g_autofree char *is_folder = path_of ("is-a-folder.pdf");
  g_autoptr (GError) error = NULL;

  demo_load (&demo, "single-drain", NAPPE_UNITS_METRIC);
  assert_fails (&demo, missing);
  g_assert_cmpint (g_mkdir (is_folder, 0700), ==, 0);
  assert_fails (&demo, is_folder);
  g_assert_true (g_file_test (is_folder, G_FILE_TEST_IS_DIR));
  g_assert_cmpint (g_mkdir (locked, 0700), ==, 0);
  g_file_set_contents (old, "older", -1, &error);
  g_assert_no_error (error);
  g_assert_cmpint (g_chmod (locked, 0500), ==, 0);
  if (geteuid () != 0) /* root may write anywhere */
    {
      gsize length;
      g_autofree char *kept = NULL;
      assert_fails (&demo, old);
      kept = contents_of (old, &length);
      g_assert_cmpstr (kept, ==, "older");
    }
  g_assert_cmpint (g_chmod (locked, 0700), ==, 0);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  for (const char *name = g_dir_read_name (dir); name != NULL; name = g_dir_read_name (dir))
    g_assert_false (g_str_has_prefix (name, "is-a-folder.pdf."));
  g_unlink (old);
  g_rmdir (locked);
  g_rmdir (is_folder);
  demo_clear (&demo);
}

static void
set_text (NappeBuild *build, const char *field, const char *text)
{
  g_autoptr (GError) error = NULL;

  nappe_build_set_text (build, NAPPE_PART (build), field, text, &error);
  g_assert_no_error (error);
}

/* Texts as long as a file may hold, a drain for every place: all pages are made and nothing is lost. */
static void
test_absurd_build (void)
{
  g_autoptr (GString) words = g_string_new (NULL);
  g_autofree char *one_word = g_strnfill (2000, 'W');
  g_autofree char *name = g_strnfill (190, 'M');
  g_autoptr (GError) error = NULL;
  NappeBuild *build = demo_read ("three-drain");
  DemoBuild demo;

  while (words->len < 3900)
    g_string_append_printf (words, "word%u ", (guint) words->len);
  set_text (build, "title", words->str);
  set_text (build, "summary", words->str);
  set_text (build, "customer", one_word);
  set_text (build, "shop", "水槽 חנות <b>&amp;</b> %s %n");
  nappe_build_rename_part (build, nappe_build_find (build, "siphon"), name, &error);
  g_assert_no_error (error);
  demo_compute (&demo, build, NAPPE_UNITS_METRIC);
  g_autofree char *path = write_sheet (&demo, "absurd.pdf", NAPPE_PAPER_LETTER, NAPPE_UNITS_METRIC);
  g_autofree char *check = said_by ("qpdf", "--check", path);
  g_autofree char *raw = said_by ("pdftotext", "-raw", path);
  if (raw != NULL)
    {
      g_auto (GStrv) all = g_strsplit (g_strstrip (words->str), " ", -1);
      for (guint i = 0; all[i] != NULL; i++)
        assert_says (raw, all[i]);
      assert_says (raw, "<b>&amp;</b> %s %n");
    }
  demo_clear (&demo);
}

static void
test_empty_build (void)
{
  DemoBuild demo;
  demo_compute (&demo, nappe_build_new (), NAPPE_UNITS_US);
  g_autofree char *path = write_sheet (&demo, "empty.pdf", NAPPE_PAPER_LETTER, NAPPE_UNITS_US);
  g_autofree char *text = said_by ("pdftotext", "-raw", path);

  if (text != NULL)
    {
      assert_says (text, "Untitled build");
      assert_says (text, "There is no drain.");
      assert_says (text, "There is no pump.");
    }
  demo_clear (&demo);
}

static void
empty_folder (void)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);

  for (const char *name = g_dir_read_name (dir); name != NULL; name = g_dir_read_name (dir))
    {
      g_autofree char *path = path_of (name);
      g_remove (path);
    }
  g_rmdir (folder);
  g_free (folder);
}

int
main (int argc, char **argv)
{
  int result;

  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  folder = g_dir_make_tmp ("nappe-sheet-XXXXXX", NULL);
  g_assert_nonnull (folder);
  g_test_add_func ("/sheet/says-all", test_says_all);
  g_test_add_func ("/sheet/says-burdens", test_says_burdens);
  g_test_add_func ("/sheet/says-rooms", test_says_rooms);
  g_test_add_func ("/sheet/pages", test_pages);
  g_test_add_func ("/sheet/sound-pdf", test_sound_pdf);
  g_test_add_func ("/sheet/says-answers", test_says_answers);
  g_test_add_func ("/sheet/outline", test_outline);
  g_test_add_func ("/sheet/same-bytes", test_same_bytes);
  g_test_add_func ("/sheet/date", test_other_date_other_bytes);
  g_test_add_func ("/sheet/cannot-write", test_cannot_write);
  g_test_add_func ("/sheet/absurd", test_absurd_build);
  g_test_add_func ("/sheet/empty", test_empty_build);
  result = g_test_run ();
  empty_folder ();
  return result;
}

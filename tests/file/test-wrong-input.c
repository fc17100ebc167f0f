/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wrong input of every kind: the code, the line, the member path and the reason. Each row changes one
 * thing in a sound text. */
#include "config.h"

#include <string.h>

#include "file/file.h"

/* A sound build, one part a line, so that lines are easy to name. */
static const char sound[] =
    "{\n"
    "\"format\": \"nappe-build\", \"version\": 1, \"units\": \"metric\",\n"                            /* 2 */
    "\"room\": {\"temperature_celsius\": 20},\n"                                                       /* 3 */
    "\"stand\": {\"length_mm\": 1000, \"width_mm\": 500, \"height_mm\": 800},\n"                       /* 4 */
    "\"tank\": {\"length_mm\": 900, \"width_mm\": 450, \"height_mm\": 500, \"material\": \"glass\"},\n" /* 5 */
    "\"overflows\": [\n"
    "{\"id\": \"box\", \"style\": \"internal\", \"side\": \"back\", \"length_mm\": 300, \"width_mm\": 110,\n" /* 7 */
    " \"rim_height_mm\": 480, \"weir_length_mm\": 300, \"weir_height_mm\": 450, \"slot_count\": 20}],\n"      /* 8 */
    "\"drains\": [\n"
    "{\"id\": \"siphon\", \"overflow\": \"box\", \"role\": \"siphon\", \"crest_height_mm\": 300,\n" /* 10 */
    " \"run\": [{\"id\": \"s1\", \"item\": \"pvc40-pipe-1\", \"length_mm\": 900},\n"                /* 11 */
    "  {\"id\": \"tee\", \"item\": \"pvc40-tee-1\"}],\n"                                            /* 12 */
    " \"outlets\": [{\"id\": \"end\", \"into\": \"calm\"},\n"                                       /* 13 */
    "  {\"id\": \"side\", \"tee\": \"tee\", \"into\": \"home\"}]},\n"                               /* 14 */
    "{\"id\": \"spare\", \"overflow\": \"box\", \"role\": \"emergency\", \"crest_height_mm\": 350, " /* 15 */
    "\"vented\": false,\n"
    " \"run\": [{\"id\": \"e1\", \"item\": \"pvc40-pipe-1\", \"length_mm\": 900}]}],\n"             /* 16 */
    "\"sump\": {\"length_mm\": 600, \"width_mm\": 300, \"height_mm\": 350,\n"                       /* 17 */
    " \"chambers\": [{\"id\": \"calm\", \"role\": \"drain\", \"length_mm\": 294},\n"                /* 18 */
    "  {\"id\": \"home\", \"role\": \"return\", \"length_mm\": 300}],\n"                            /* 19 */
    " \"baffles\": [{\"id\": \"wall\", \"top_height_mm\": 200}]},\n"                                /* 20 */
    "\"returns\": [{\"id\": \"up\", \"pump\": {\"chamber\": \"home\", \"curve\": [\n"               /* 21 */
    "  {\"flow_litres_per_hour\": 0, \"head_metres\": 3},\n"                                        /* 22 */
    "  {\"flow_litres_per_hour\": 3000, \"head_metres\": 0}]}}],\n"                                 /* 23 */
    "\"notes\": [{\"id\": \"n\", \"part\": \"siphon\", \"text\": \"look\"}]\n"                      /* 24 */
    "}\n";

typedef struct
{
  const char *name;
  const char *from; /* stands once in the sound text */
  const char *to;   /* put there instead */
  NappeFileError code;
  const char *words; /* that the message holds: place and reason */
} Row;

static const Row rows[] = {
  /* Not JSON. */
  { "trailing-comma", "\"look\"}]\n", "\"look\"}],\n", NAPPE_FILE_ERROR_NOT_JSON, "text:25:" },
  { "cut-off", "\"look\"}]\n}\n", "\"look\"", NAPPE_FILE_ERROR_NOT_JSON, "text:24:" },
  { "two-roots", "\"look\"}]\n}\n", "\"look\"}]\n}{}\n", NAPPE_FILE_ERROR_NOT_JSON, "text:25:" },
  { "comment", "\"room\"", "/* x */ \"room\"", NAPPE_FILE_ERROR_NOT_JSON, "text:3:" },
  { "single-quotes", "\"glass\"", "'glass'", NAPPE_FILE_ERROR_NOT_JSON, "text:5:" },
  { "hexadecimal", "900, \"width_mm\": 450", "0x384, \"width_mm\": 450", NAPPE_FILE_ERROR_NOT_JSON, "text:5:" },
  { "leading-zero", "900, \"width_mm\": 450", "0900, \"width_mm\": 450", NAPPE_FILE_ERROR_NOT_JSON, "text:5:" },
  { "infinite", "900, \"width_mm\": 450", "1e999, \"width_mm\": 450", NAPPE_FILE_ERROR_NOT_JSON, "tank.length_mm" },
  { "not-a-number", "900, \"width_mm\": 450", "NaN, \"width_mm\": 450", NAPPE_FILE_ERROR_NOT_JSON, "text:5:" },
  { "raw-line-end", "\"look\"", "\"lo\nok\"", NAPPE_FILE_ERROR_NOT_JSON, "text:24:" },
  { "variable", "{\n\"format\"", "var x = {\n\"format\"", NAPPE_FILE_ERROR_NOT_JSON, "text:1:" },
  { "bad-utf8", "\"look\"", "\"lo\xff\"", NAPPE_FILE_ERROR_ENCODING, "text:24:" },
  { "escaped-nul", "\"look\"", "\"lo\\u0000ok\"", NAPPE_FILE_ERROR_ENCODING, "text:24:" },
  { "lone-surrogate", "\"look\"", "\"\\ud800\"", NAPPE_FILE_ERROR_ENCODING, "text:24:" },
  { "byte-order-mark", "{\n\"format\"", "\xef\xbb\xbf{\n\"format\"", NAPPE_FILE_ERROR_ENCODING, "text:1:" },
  { "duplicate", "\"height_mm\": 500", "\"height_mm\": 500, \"length_mm\": 1", NAPPE_FILE_ERROR_DUPLICATE, "text:5:" },
  { "duplicate-escaped", "\"height_mm\": 500", "\"height_mm\": 500, \"\\u006cength_mm\": 1",
    NAPPE_FILE_ERROR_DUPLICATE, "length_mm" },

  /* Not a build file, or of another version. */
  { "other-format", "\"nappe-build\"", "\"recipe\"", NAPPE_FILE_ERROR_FORMAT, "text:2: format: " },
  { "format-number", "\"nappe-build\"", "7", NAPPE_FILE_ERROR_TYPE, "text:2: format: " },
  { "no-format", "\"format\"", "\"farmat\"", NAPPE_FILE_ERROR_FORMAT, "format: this is no build file" },
  { "newer", "\"version\": 1", "\"version\": 2", NAPPE_FILE_ERROR_VERSION,
    "text:2: version: the file is of version 2" },
  { "much-newer", "\"version\": 1", "\"version\": 999999999999", NAPPE_FILE_ERROR_VERSION, "version: " },
  { "version-zero", "\"version\": 1", "\"version\": 0", NAPPE_FILE_ERROR_VERSION, "version: there is no version 0" },
  { "version-negative", "\"version\": 1", "\"version\": -1", NAPPE_FILE_ERROR_VERSION, "no version -1" },
  { "version-text", "\"version\": 1", "\"version\": \"1\"", NAPPE_FILE_ERROR_TYPE,
    "version: a whole number is wanted, not a text" },
  { "version-real", "\"version\": 1", "\"version\": 1.5", NAPPE_FILE_ERROR_TYPE, "version: " },
  { "no-version", "\"version\": 1, ", "", NAPPE_FILE_ERROR_MISSING, "version: it must be given" },

  /* Types. */
  { "text-for-number", "450, \"height_mm\": 500", "\"450\", \"height_mm\": 500", NAPPE_FILE_ERROR_TYPE,
    "text:5: tank.width_mm: a number is wanted, not a text" },
  { "null-for-number", "450, \"height_mm\": 500", "null, \"height_mm\": 500", NAPPE_FILE_ERROR_TYPE,
    "tank.width_mm: a number is wanted, not null" },
  { "true-for-number", "450, \"height_mm\": 500", "true, \"height_mm\": 500", NAPPE_FILE_ERROR_TYPE,
    "tank.width_mm: a number is wanted, not true or false" },
  { "list-for-number", "450, \"height_mm\": 500", "[450], \"height_mm\": 500", NAPPE_FILE_ERROR_TYPE,
    "tank.width_mm: a number is wanted, not a list" },
  { "object-for-number", "450, \"height_mm\": 500", "{}, \"height_mm\": 500", NAPPE_FILE_ERROR_TYPE,
    "tank.width_mm: a number is wanted, not an object" },
  { "number-for-text", "\"look\"", "5", NAPPE_FILE_ERROR_TYPE,
    "text:24: notes[0].text: a text is wanted, not a number" },
  { "number-for-flag", "\"vented\": false", "\"vented\": 0", NAPPE_FILE_ERROR_TYPE,
    "text:15: drains[1].vented: true or false is wanted, not a number" },
  { "real-for-count", "\"slot_count\": 20", "\"slot_count\": 20.5", NAPPE_FILE_ERROR_TYPE,
    "text:8: overflows[0].slot_count: a whole number is wanted, not 20.5" },
  { "text-for-count", "\"slot_count\": 20", "\"slot_count\": \"20\"", NAPPE_FILE_ERROR_TYPE,
    "overflows[0].slot_count" },
  { "number-for-choice", "\"glass\"", "1", NAPPE_FILE_ERROR_TYPE, "tank.material: a text is wanted" },
  { "unknown-choice", "\"glass\"", "\"wood\"", NAPPE_FILE_ERROR_CHOICE,
    "text:5: tank.material: “wood” is none of: glass, acrylic, other" },
  { "endless-choice", "\"glass\"", "\"a very long word that nobody would write here, \\n and more of it\"",
    NAPPE_FILE_ERROR_CHOICE, "…” is none of" },
  { "unknown-role", "\"role\": \"emergency\"", "\"role\": \"Emergency\"", NAPPE_FILE_ERROR_CHOICE, "drains[1].role: " },
  { "list-for-object", "{\"temperature_celsius\": 20}", "[]", NAPPE_FILE_ERROR_TYPE,
    "text:3: room: an object is wanted, not a list" },
  { "object-for-list", "[{\"id\": \"n\", \"part\": \"siphon\", \"text\": \"look\"}]", "{}", NAPPE_FILE_ERROR_TYPE,
    "text:24: notes: a list is wanted, not an object" },
  { "null-for-list", "[{\"id\": \"n\", \"part\": \"siphon\", \"text\": \"look\"}]", "null", NAPPE_FILE_ERROR_TYPE,
    "notes: a list is wanted, not null" },
  { "number-in-list", "{\"id\": \"wall\", \"top_height_mm\": 200}", "200", NAPPE_FILE_ERROR_TYPE,
    "text:20: sump.baffles[0]: an object is wanted, not a number" },
  { "curve-object", "\"curve\": [\n", "\"curve\": 5, \"spare\": [\n", NAPPE_FILE_ERROR_TYPE,
    "text:21: returns[0].pump.curve: a list is wanted" },
  { "curve-number", "{\"flow_litres_per_hour\": 0, \"head_metres\": 3}", "7", NAPPE_FILE_ERROR_TYPE,
    "text:22: returns[0].pump.curve[0]: an object is wanted" },
  { "curve-text", "\"head_metres\": 3}", "\"head_metres\": \"3\"}", NAPPE_FILE_ERROR_TYPE,
    "text:22: returns[0].pump.curve[0].head_metres: a number is wanted" },
  { "control-character", "\"look\"", "\"be\\u0007ll\"", NAPPE_FILE_ERROR_TYPE, "notes[0].text: " },

  /* Missing. */
  { "no-tank", "\"tank\"", "\"tonk\"", NAPPE_FILE_ERROR_MISSING, "tank: it must be given" },
  { "no-units", "\"units\"", "\"unit\"", NAPPE_FILE_ERROR_MISSING, "units: it must be given" },
  { "wrong-unit", "\"width_mm\": 450", "\"width_cm\": 45", NAPPE_FILE_ERROR_MISSING,
    "text:5: tank.width_mm: it must be given" },
  { "no-crest", "\"crest_height_mm\": 350, ", "", NAPPE_FILE_ERROR_MISSING,
    "text:15: drains[1].crest_height_mm: it must be given" },
  { "no-id", "\"id\": \"s1\", ", "", NAPPE_FILE_ERROR_MISSING, "text:11: drains[0].run[0].id: it must be given" },
  { "no-pump", "\"pump\": {\"chamber\": \"home\", \"curve\"", "\"pomp\": {\"curve\"", NAPPE_FILE_ERROR_MISSING,
    "text:21: returns[0].pump: it must be given" },
  { "no-into", "\"id\": \"end\", \"into\": \"calm\"", "\"id\": \"end\"", NAPPE_FILE_ERROR_MISSING,
    "text:13: drains[0].outlets[0].into: it must be given" },
  { "curve-half", "\"flow_litres_per_hour\": 0, \"head_metres\": 3", "\"flow_litres_per_hour\": 0",
    NAPPE_FILE_ERROR_MISSING, "text:22: returns[0].pump.curve[0].head_metres: it must be given" },

  /* Ranges. */
  { "negative", "\"length_mm\": 900, \"width_mm\": 450", "\"length_mm\": -900, \"width_mm\": 450",
    NAPPE_FILE_ERROR_RANGE, "text:5: tank.length_mm: " },
  { "zero", "\"length_mm\": 900, \"width_mm\": 450", "\"length_mm\": 0, \"width_mm\": 450", NAPPE_FILE_ERROR_RANGE,
    "tank.length_mm: " },
  { "absurd", "\"length_mm\": 900, \"width_mm\": 450", "\"length_mm\": 9e300, \"width_mm\": 450",
    NAPPE_FILE_ERROR_RANGE, "tank.length_mm: " },
  { "just-above", "\"length_mm\": 900, \"width_mm\": 450", "\"length_mm\": 20000.001, \"width_mm\": 450",
    NAPPE_FILE_ERROR_RANGE, "tank.length_mm: " },
  { "wraps-64-bits", "\"length_mm\": 900, \"width_mm\": 450", "\"length_mm\": 18446744073709552516, \"width_mm\": 450",
    NAPPE_FILE_ERROR_NOT_JSON, "tank.length_mm: " },
  { "count-too-large", "\"slot_count\": 20", "\"slot_count\": 1001", NAPPE_FILE_ERROR_RANGE,
    "overflows[0].slot_count: " },
  { "count-negative", "\"slot_count\": 20", "\"slot_count\": -1", NAPPE_FILE_ERROR_RANGE, "overflows[0].slot_count: " },
  { "count-wraps-32-bits", "\"slot_count\": 20", "\"slot_count\": 4294967316", NAPPE_FILE_ERROR_RANGE,
    "overflows[0].slot_count: " },
  { "count-huge", "\"slot_count\": 20", "\"slot_count\": 1e300", NAPPE_FILE_ERROR_RANGE, "overflows[0].slot_count: " },
  { "too-hot", "\"temperature_celsius\": 20", "\"temperature_celsius\": 95", NAPPE_FILE_ERROR_RANGE,
    "text:3: room.temperature_celsius: " },
  { "curve-rises", "\"head_metres\": 0}", "\"head_metres\": 4}", NAPPE_FILE_ERROR_RANGE,
    "text:21: returns[0].pump.curve: " },
  { "curve-one-point", "{\"flow_litres_per_hour\": 0, \"head_metres\": 3},\n", "", NAPPE_FILE_ERROR_RANGE,
    "returns[0].pump.curve: " },

  /* Ids and references. */
  { "malformed-id", "\"id\": \"e1\"", "\"id\": \"E 1\"", NAPPE_FILE_ERROR_ID,
    "text:16: drains[1].run[0].id: “E 1” cannot be an id" },
  { "empty-id", "\"id\": \"e1\"", "\"id\": \"\"", NAPPE_FILE_ERROR_ID, "drains[1].run[0].id: " },
  { "number-id", "\"id\": \"e1\"", "\"id\": 1", NAPPE_FILE_ERROR_TYPE, "drains[1].run[0].id: a text is wanted" },
  { "twin-ids", "\"id\": \"e1\"", "\"id\": \"s1\"", NAPPE_FILE_ERROR_ID,
    "text:16: drains[1].run[0].id: the id “s1” is already that of drains[0].run[0]" },
  { "id-of-a-single", "\"id\": \"e1\"", "\"id\": \"tank\"", NAPPE_FILE_ERROR_ID,
    "drains[1].run[0].id: the id “tank” is already that of tank" },
  { "id-of-the-pump", "\"id\": \"e1\"", "\"id\": \"up-pump\"", NAPPE_FILE_ERROR_ID,
    "the id “up-pump” is already that of drains[1].run[0]" },
  { "unknown-into", "\"into\": \"calm\"", "\"into\": \"clam\"", NAPPE_FILE_ERROR_REFERENCE,
    "text:13: drains[0].outlets[0].into: no part has the id “clam”; possible here: tank, box, s1, tee, e1, calm, home" },
  { "unfit-into", "\"into\": \"calm\"", "\"into\": \"siphon\"", NAPPE_FILE_ERROR_REFERENCE,
    "drains[0].outlets[0].into: the part “siphon” is of a kind that cannot stand here" },
  { "unknown-overflow", "\"overflow\": \"box\", \"role\": \"emergency\"",
    "\"overflow\": \"bax\", \"role\": \"emergency\"", NAPPE_FILE_ERROR_REFERENCE, "text:15: drains[1].overflow: " },
  { "unknown-chamber", "\"chamber\": \"home\"", "\"chamber\": \"away\"", NAPPE_FILE_ERROR_REFERENCE,
    "text:21: returns[0].pump.chamber: no part has the id “away”; possible here: tank, calm, home" },
  { "unknown-part", "\"part\": \"siphon\"", "\"part\": \"nobody\"", NAPPE_FILE_ERROR_REFERENCE,
    "text:24: notes[0].part: no part has the id “nobody”" },
  { "tee-elsewhere", "\"tee\": \"tee\"", "\"tee\": \"e1\"", NAPPE_FILE_ERROR_REFERENCE,
    "text:14: drains[0].outlets[1].tee: the piece “e1” is not in the run of “siphon”" },
  { "malformed-reference", "\"into\": \"calm\"", "\"into\": \"../calm\"", NAPPE_FILE_ERROR_ID,
    "drains[0].outlets[0].into: " },

  /* Counts. */
  { "no-baffle", "\"baffles\": [{\"id\": \"wall\", \"top_height_mm\": 200}]", "\"baffles\": []",
    NAPPE_FILE_ERROR_COUNT, "text:20: sump.baffles: 0 baffles for 2 chambers" },
};

static char *
changed (const Row *row)
{
  const char *place = strstr (sound, row->from);

  g_assert_nonnull (place);
  g_assert_null (strstr (place + 1, row->from));
  return g_strdup_printf ("%.*s%s%s", (int) (place - sound), sound, row->to, place + strlen (row->from));
}

static void
assert_refused (const char *text, gsize length, NappeFileError code, const char *words)
{
  g_autoptr (GError) error = NULL;
  NappeBuild *build = nappe_file_read_text (text, length, "text", &error);

  g_assert_null (build);
  g_assert_error (error, NAPPE_FILE_ERROR, (int) code);
  if (strstr (error->message, words) == NULL)
    g_error ("“%s” does not say “%s”", error->message, words);
  if (!g_str_has_prefix (error->message, "text:") || strchr (error->message, '\n') != NULL)
    g_error ("“%s” is not one line that begins with the name", error->message);
  if (strlen (error->message) > 600 || !g_utf8_validate (error->message, -1, NULL))
    g_error ("the message is too long, or no text");
}

static void
test_row (gconstpointer data)
{
  const Row *row = data;
  g_autofree char *text = changed (row);

  assert_refused (text, strlen (text), row->code, row->words);
}

static void
test_sound (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeBuild) build = nappe_file_read_text (sound, sizeof sound - 1, "text", &error);

  g_assert_no_error (error);
  g_assert_nonnull (build);
}

static void
test_roots (void)
{
  static const struct
  {
    const char *text;
    NappeFileError code;
  } roots[] = {
    { "", NAPPE_FILE_ERROR_NOT_JSON },      { " \n\t", NAPPE_FILE_ERROR_NOT_JSON }, { "null", NAPPE_FILE_ERROR_FORMAT },
    { "[]", NAPPE_FILE_ERROR_FORMAT },      { "7", NAPPE_FILE_ERROR_FORMAT },       { "\"x\"",
      NAPPE_FILE_ERROR_FORMAT },
    { "{}", NAPPE_FILE_ERROR_FORMAT },      { "{", NAPPE_FILE_ERROR_NOT_JSON },     { "%PDF-1.7",
      NAPPE_FILE_ERROR_NOT_JSON },
    { "<svg/>", NAPPE_FILE_ERROR_NOT_JSON },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (roots); i++)
    assert_refused (roots[i].text, strlen (roots[i].text), roots[i].code, "");
}

static void
test_nul_byte (void)
{
  g_autofree char *text = g_memdup2 (sound, sizeof sound);
  char *look = strstr (text, "look");

  *look = '\0';
  assert_refused (text, sizeof sound - 1, NAPPE_FILE_ERROR_ENCODING, "text:24:");
}

/* A text of `repeat` copies of `unit`. */
static char *
repeated (const char *before, const char *unit, gsize repeat, const char *after)
{
  GString *text = g_string_new (before);

  for (gsize i = 0; i < repeat; i++)
    g_string_append (text, unit);
  g_string_append (text, after);
  return g_string_free (text, FALSE);
}

static void
test_deep (void)
{
  g_autofree char *arrays = repeated ("", "[", 1000000, "");
  g_autofree char *objects = repeated ("", "{\"a\":", 1000000, "");
  g_autofree char *balanced = repeated ("{\"format\":\"nappe-build\",\"deep\":", "[", 65, "");

  assert_refused (arrays, strlen (arrays), NAPPE_FILE_ERROR_DEPTH, "text:1:");
  assert_refused (objects, strlen (objects), NAPPE_FILE_ERROR_DEPTH, "text:1:");
  assert_refused (balanced, strlen (balanced), NAPPE_FILE_ERROR_DEPTH, "text:1:");
}

static void
test_large (void)
{
  g_autofree char *blanks = repeated ("{", " ", NAPPE_FILE_SIZE_MAX, "}");
  g_autofree char *values = repeated ("[0", ",0", 2000000, "]");

  assert_refused (blanks, strlen (blanks), NAPPE_FILE_ERROR_SIZE, "");
  assert_refused (values, strlen (values), NAPPE_FILE_ERROR_SIZE, "");
}

/* Replaces the list at the end of the sound text by one of `count` parts. */
static char *
with_notes (guint count)
{
  const char *place = strstr (sound, "\"notes\"");
  GString *text = g_string_new_len (sound, place - sound);

  g_string_append (text, "\"notes\": [");
  for (guint i = 0; i < count; i++)
    g_string_append_printf (text, "%s{\"id\": \"n%u\", \"text\": \"\"}", i > 0 ? "," : "", i);
  g_string_append (text, "]}");
  return g_string_free (text, FALSE);
}

static void
test_list_limits (void)
{
  g_autofree char *most = with_notes (500);
  g_autofree char *too_many = with_notes (501);
  g_autoptr (NappeBuild) build = nappe_file_read_text (most, strlen (most), "text", NULL);

  g_assert_nonnull (build);
  assert_refused (too_many, strlen (too_many), NAPPE_FILE_ERROR_COUNT, "notes: 501 of them; at most 500 are kept");
}

static void
test_text_limits (void)
{
  const Row row = { "", "\"look\"", "\"\"", NAPPE_FILE_ERROR_RANGE, "" };
  g_autofree char *empty = changed (&row);
  g_autofree char *long_note = g_strnfill (20001, 'x');
  g_autofree char *quoted = g_strdup_printf ("\"%s\"", long_note);
  const Row too_long = { "", "\"look\"", quoted, NAPPE_FILE_ERROR_RANGE, "" };
  g_autofree char *text = changed (&too_long);
  g_autoptr (NappeBuild) build = nappe_file_read_text (empty, strlen (empty), "text", NULL);

  g_assert_nonnull (build);
  assert_refused (text, strlen (text), NAPPE_FILE_ERROR_RANGE, "notes[0].text: ");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *path = g_strconcat ("/wrong-input/", rows[i].name, NULL);
      g_test_add_data_func (path, &rows[i], test_row);
    }
  g_test_add_func ("/wrong-input/sound", test_sound);
  g_test_add_func ("/wrong-input/roots", test_roots);
  g_test_add_func ("/wrong-input/nul-byte", test_nul_byte);
  g_test_add_func ("/wrong-input/deep", test_deep);
  g_test_add_func ("/wrong-input/large", test_large);
  g_test_add_func ("/wrong-input/list-limits", test_list_limits);
  g_test_add_func ("/wrong-input/text-limits", test_text_limits);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "units/json-guard.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "units/json-places-private.h"

/* One pass over the bytes with an explicit stack of open arrays and objects. */

#define DEFAULT_SIZE ((gsize) 4 * 1024 * 1024)
#define DEFAULT_DEPTH 64
#define DEFAULT_VALUES 250000
#define GREATEST_DEPTH 1024
#define NUMBER_LENGTH 400 /* [bytes]; the longest sensible number is 1e308 written out */

/* An open array or object. */
typedef struct
{
  guint32 node;
  guint32 next_index; /* of arrays */
  gboolean object;
} Level;

typedef struct
{
  const char *at;         /* next byte */
  const char *end;
  const char *line_start; /* first byte of the line that holds `at` */
  guint line;
  guint32 here;           /* the value being read: what an error is about */
  GArray *levels;         /* of Level */
  GString *name;          /* scratch: the last member name, escapes resolved */
  NappeJsonPlaces *places;
  NappeJsonLimits limits;
  GError **error;
} Scanner;

G_DEFINE_QUARK (nappe-json-error-quark, nappe_json_error)

/* ---- errors ---- */

static gboolean G_GNUC_PRINTF (3, 4)
fail (Scanner *scanner, NappeJsonError code, const char *format, ...)
{
  g_autofree char *path = nappe_json_places_path (scanner->places, scanner->here);
  g_autofree char *what = NULL;
  glong column = g_utf8_strlen (scanner->line_start, scanner->at - scanner->line_start) + 1;
  va_list arguments;

  va_start (arguments, format);
  what = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  if (*path == '\0')
    /* Translators: where in a file, then what is wrong there. */
    g_set_error (scanner->error, NAPPE_JSON_ERROR, code, _("line %u, column %ld: %s"), scanner->line, column, what);
  else
    /* Translators: where in a file, the member's path such as drains[1].length_mm, what is wrong. */
    g_set_error (scanner->error, NAPPE_JSON_ERROR, code, _("line %u, column %ld, %s: %s"), scanner->line, column,
                 path, what);
  return FALSE;
}

/* The next character as a message shows it. */
static char *
shown_character (const Scanner *scanner)
{
  gunichar character;
  char text[8] = { 0 };

  if (scanner->at >= scanner->end)
    return g_strdup (_("the end of the text"));
  character = g_utf8_get_char (scanner->at);
  if (!g_unichar_isprint (character))
    return g_strdup_printf ("U+%04X", character);
  g_unichar_to_utf8 (character, text);
  return g_strdup_printf ("“%s”", text);
}

static gboolean
fail_unexpected (Scanner *scanner, const char *wanted)
{
  g_autofree char *found = shown_character (scanner);

  /* Translators: both are short phrases: what was found, what should stand there. */
  return fail (scanner, NAPPE_JSON_ERROR_SYNTAX, _("%s found where %s is wanted"), found, wanted);
}

/* ---- the bytes ---- */

static gboolean
next_is (const Scanner *scanner, char byte)
{
  return scanner->at < scanner->end && *scanner->at == byte;
}

static void
skip_to (Scanner *scanner, const char *target)
{
  for (; scanner->at < target; scanner->at++)
    if (*scanner->at == '\n')
      {
        scanner->line++;
        scanner->line_start = scanner->at + 1;
      }
}

static void
skip_space (Scanner *scanner)
{
  const char *at = scanner->at;

  while (at < scanner->end && (*at == ' ' || *at == '\t' || *at == '\n' || *at == '\r'))
    at++;
  skip_to (scanner, at);
}

static gboolean
check_bytes (Scanner *scanner)
{
  gsize length = (gsize) (scanner->end - scanner->at);
  const char *nul, *invalid;

  if (length > scanner->limits.max_size)
    return fail (scanner, NAPPE_JSON_ERROR_TOO_LARGE, _("the text has more than %" G_GSIZE_FORMAT " bytes"),
                 scanner->limits.max_size);
  if (length == 0)
    return fail (scanner, NAPPE_JSON_ERROR_EMPTY, _("the text is empty"));
  if (length >= 3 && memcmp (scanner->at, "\xef\xbb\xbf", 3) == 0)
    return fail (scanner, NAPPE_JSON_ERROR_NOT_UTF8, _("the text begins with a byte-order mark"));
  nul = memchr (scanner->at, 0, length);
  if (!g_utf8_validate_len (scanner->at, length, &invalid))
    {
      skip_to (scanner, invalid);
      return nul == invalid ? fail (scanner, NAPPE_JSON_ERROR_NUL, _("a NUL byte"))
                            : fail (scanner, NAPPE_JSON_ERROR_NOT_UTF8, _("the bytes are not UTF-8"));
    }
  return TRUE;
}

/* ---- strings ---- */

/* Reads the four digits of \uXXXX; `at` is at the first of them. */
static gboolean
read_hex (Scanner *scanner, gunichar *code)
{
  *code = 0;
  for (guint i = 0; i < 4; i++, scanner->at++)
    {
      int digit = scanner->at < scanner->end ? g_ascii_xdigit_value (*scanner->at) : -1;

      if (digit < 0)
        return fail (scanner, NAPPE_JSON_ERROR_STRING, _("\\u needs four hexadecimal digits"));
      *code = *code * 16 + (gunichar) digit;
    }
  return TRUE;
}

static gboolean
read_unicode_escape (Scanner *scanner, GString *into)
{
  gunichar code, low;

  if (!read_hex (scanner, &code))
    return FALSE;
  if (code == 0)
    return fail (scanner, NAPPE_JSON_ERROR_NUL, _("\\u0000 cannot stand in a text"));
  if (code >= 0xd800 && code <= 0xdbff && scanner->end - scanner->at >= 2 && strncmp (scanner->at, "\\u", 2) == 0)
    {
      scanner->at += 2;
      if (!read_hex (scanner, &low))
        return FALSE;
      if (low >= 0xdc00 && low <= 0xdfff)
        code = 0x10000 + ((code - 0xd800) << 10) + (low - 0xdc00);
    }
  if (code >= 0xd800 && code <= 0xdfff)
    return fail (scanner, NAPPE_JSON_ERROR_NOT_UTF8, _("half of a surrogate pair stands alone"));
  g_string_append_unichar (into, code);
  return TRUE;
}

/* Reads what follows a backslash. */
static gboolean
read_escape (Scanner *scanner, GString *into)
{
  static const char letters[] = "\"\\/bfnrt", meanings[] = "\"\\/\b\f\n\r\t";
  const char *letter;

  if (next_is (scanner, 'u'))
    {
      scanner->at++;
      return read_unicode_escape (scanner, into);
    }
  letter = scanner->at < scanner->end ? strchr (letters, *scanner->at) : NULL;
  if (letter == NULL)
    return fail (scanner, NAPPE_JSON_ERROR_STRING, _("an unknown escape after the backslash"));
  g_string_append_c (into, meanings[letter - letters]);
  scanner->at++;
  return TRUE;
}

/* Reads a string, `at` on its opening quotation mark; leaves its text in scanner->name. */
static gboolean
read_string (Scanner *scanner)
{
  GString *into = g_string_truncate (scanner->name, 0);

  scanner->at++;
  while (!next_is (scanner, '"'))
    {
      const char *run = scanner->at;

      if (scanner->at >= scanner->end)
        return fail (scanner, NAPPE_JSON_ERROR_SYNTAX, _("the text ends inside a string"));
      if ((guchar) *scanner->at < 0x20)
        return fail (scanner, NAPPE_JSON_ERROR_STRING, _("a line break or control character inside a string"));
      if (*scanner->at == '\\')
        {
          scanner->at++;
          if (!read_escape (scanner, into))
            return FALSE;
          continue;
        }
      while (scanner->at < scanner->end && *scanner->at != '"' && *scanner->at != '\\' && (guchar) *scanner->at >= 0x20)
        scanner->at++;
      g_string_append_len (into, run, scanner->at - run);
    }
  scanner->at++;
  return TRUE;
}

/* ---- numbers and words ---- */

static const char *
skip_digits (const char *at)
{
  while (g_ascii_isdigit (*at))
    at++;
  return at;
}

/* Whether a whole text is a number by RFC 8259; *integer tells one without fraction and exponent. */
static gboolean
is_number (const char *text, gboolean *integer)
{
  const char *digits = text + (*text == '-');
  const char *at = skip_digits (digits);

  if (at == digits || (*digits == '0' && at - digits > 1))
    return FALSE;
  *integer = *at == '\0';
  if (*at == '.')
    {
      const char *fraction = at + 1;

      at = skip_digits (fraction);
      if (at == fraction)
        return FALSE;
    }
  if (*at == 'e' || *at == 'E')
    {
      const char *exponent = at + 1;

      exponent += *exponent == '+' || *exponent == '-';
      at = skip_digits (exponent);
      if (at == exponent)
        return FALSE;
    }
  return *at == '\0';
}

/* How many bytes from `at` look like one number or word, at most NUMBER_LENGTH + 1. */
static gsize
word_length (const Scanner *scanner)
{
  const char *at = scanner->at;

  while (at < scanner->end && at - scanner->at <= NUMBER_LENGTH
         && (g_ascii_isalnum (*at) || *at == '.' || *at == '+' || *at == '-' || *at == '_'))
    at++;
  return (gsize) (at - scanner->at);
}

static gboolean
read_number (Scanner *scanner)
{
  char text[NUMBER_LENGTH + 2];
  gsize length = word_length (scanner);
  gboolean integer;

  memcpy (text, scanner->at, length);
  text[length] = '\0';
  if (length > NUMBER_LENGTH)
    return fail (scanner, NAPPE_JSON_ERROR_NUMBER, _("a number of more than %d characters"), NUMBER_LENGTH);
  if (!is_number (text, &integer))
    return fail (scanner, NAPPE_JSON_ERROR_NUMBER, _("%.40s is not a number as JSON writes it"), text);
  if (!isfinite (g_ascii_strtod (text, NULL)))
    return fail (scanner, NAPPE_JSON_ERROR_NUMBER, _("%.40s is not a finite number"), text);
  if (integer && !g_ascii_string_to_signed (text, 10, G_MININT64, G_MAXINT64, NULL, NULL))
    return fail (scanner, NAPPE_JSON_ERROR_NUMBER, _("%.40s is too large for a whole number"), text);
  scanner->at += length;
  return TRUE;
}

static gboolean
read_word (Scanner *scanner)
{
  static const char *const words[] = { "true", "false", "null" };
  gsize length = word_length (scanner);

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (length == strlen (words[i]) && strncmp (scanner->at, words[i], length) == 0)
      {
        scanner->at += length;
        return TRUE;
      }
  return fail_unexpected (scanner, _("a value"));
}

/* ---- arrays and objects ---- */

static Level *
innermost (Scanner *scanner)
{
  return scanner->levels->len > 0 ? &g_array_index (scanner->levels, Level, scanner->levels->len - 1) : NULL;
}

static gboolean
check_room (Scanner *scanner)
{
  if (nappe_json_places_count (scanner->places) < scanner->limits.max_values)
    return TRUE;
  return fail (scanner, NAPPE_JSON_ERROR_TOO_LARGE, _("the text has more than %u values"), scanner->limits.max_values);
}

/* Reads `"name" :` and makes that member the value to be read. */
static gboolean
begin_member (Scanner *scanner)
{
  guint line;
  guint32 object = innermost (scanner)->node;

  skip_space (scanner);
  line = scanner->line;
  if (!next_is (scanner, '"'))
    return fail_unexpected (scanner, _("a member name in double quotation marks"));
  if (!check_room (scanner) || !read_string (scanner))
    return FALSE;
  if (!nappe_json_places_add_member (scanner->places, object, scanner->name->str, scanner->name->len, line,
                                     &scanner->here))
    return fail (scanner, NAPPE_JSON_ERROR_DUPLICATE_MEMBER, _("this member is here twice"));
  skip_space (scanner);
  if (!next_is (scanner, ':'))
    return fail_unexpected (scanner, _("a colon"));
  scanner->at++;
  return TRUE;
}

static gboolean
begin_element (Scanner *scanner)
{
  Level *array = innermost (scanner);

  if (!check_room (scanner))
    return FALSE;
  skip_space (scanner);
  scanner->here = nappe_json_places_add_element (scanner->places, array->node, array->next_index++, scanner->line);
  return TRUE;
}

static void
close_level (Scanner *scanner)
{
  scanner->at++;
  g_array_set_size (scanner->levels, scanner->levels->len - 1);
  scanner->here = scanner->levels->len > 0 ? innermost (scanner)->node : NAPPE_JSON_ROOT;
}

/* Enters an array or object, `at` on its bracket; *value tells whether a value must follow. */
static gboolean
open_level (Scanner *scanner, gboolean *value)
{
  Level level = { scanner->here, 0, *scanner->at == '{' };

  if (scanner->levels->len >= scanner->limits.max_depth)
    return fail (scanner, NAPPE_JSON_ERROR_TOO_DEEP, _("more than %u arrays and objects inside each other"),
                 scanner->limits.max_depth);
  g_array_append_val (scanner->levels, level);
  scanner->at++;
  skip_space (scanner);
  *value = !next_is (scanner, level.object ? '}' : ']');
  if (!*value)
    {
      close_level (scanner);
      return TRUE;
    }
  return level.object ? begin_member (scanner) : begin_element (scanner);
}

/* Reads a value, or enters it; *value tells whether another value must follow at once. */
static gboolean
read_value (Scanner *scanner, gboolean *value)
{
  char first = scanner->at < scanner->end ? *scanner->at : '\0';
  gboolean read;

  if (first == '{' || first == '[')
    return open_level (scanner, value);
  *value = FALSE;
  if (first == '"')
    read = read_string (scanner);
  else if (first == '-' || first == '+' || first == '.' || g_ascii_isdigit (first))
    read = read_number (scanner);
  else
    read = read_word (scanner);
  if (read && scanner->levels->len > 0)
    scanner->here = innermost (scanner)->node;
  return read;
}

/* Reads the comma or bracket after a value. */
static gboolean
read_after_value (Scanner *scanner, gboolean *value)
{
  gboolean object = innermost (scanner)->object;

  if (next_is (scanner, object ? '}' : ']'))
    {
      close_level (scanner);
      return TRUE;
    }
  if (!next_is (scanner, ','))
    return fail_unexpected (scanner, object ? _("a comma or a closing brace") : _("a comma or a closing bracket"));
  scanner->at++;
  *value = TRUE;
  return object ? begin_member (scanner) : begin_element (scanner);
}

static gboolean
scan (Scanner *scanner)
{
  gboolean value = TRUE, good = TRUE;

  if (scanner->at >= scanner->end)
    return fail (scanner, NAPPE_JSON_ERROR_EMPTY, _("the text is empty"));
  while (good && (value || scanner->levels->len > 0))
    {
      skip_space (scanner);
      good = value ? read_value (scanner, &value) : read_after_value (scanner, &value);
    }
  if (!good)
    return FALSE;
  skip_space (scanner);
  if (scanner->at < scanner->end)
    return fail (scanner, NAPPE_JSON_ERROR_SEVERAL_ROOTS, _("something follows the end of the value"));
  return TRUE;
}

/* ---- public ---- */

static NappeJsonLimits
with_defaults (const NappeJsonLimits *limits)
{
  NappeJsonLimits used = { 0 };

  if (limits != NULL)
    used = *limits;
  used.max_size = used.max_size > 0 ? MIN (used.max_size, (gsize) G_MAXUINT32 - 1) : DEFAULT_SIZE;
  used.max_depth = used.max_depth > 0 ? MIN (used.max_depth, GREATEST_DEPTH) : DEFAULT_DEPTH;
  used.max_values = used.max_values > 0 ? used.max_values : DEFAULT_VALUES;
  return used;
}

NappeJsonPlaces *
nappe_json_guard_with_places (const char *text, gsize length, const NappeJsonLimits *limits, GError **error)
{
  Scanner scanner = { .line = 1, .limits = with_defaults (limits), .error = error };
  gboolean good;

  g_return_val_if_fail (text != NULL || length == 0, NULL);
  scanner.at = scanner.line_start = text != NULL ? text : "";
  scanner.end = scanner.at + length;
  scanner.places = nappe_json_places_new (1);
  good = check_bytes (&scanner);
  if (good)
    {
      skip_space (&scanner);
      nappe_json_places_free (scanner.places);
      scanner.places = nappe_json_places_new (scanner.line);
      scanner.levels = g_array_new (FALSE, FALSE, sizeof (Level));
      scanner.name = g_string_new (NULL);
      good = scan (&scanner);
      g_array_unref (scanner.levels);
      g_string_free (scanner.name, TRUE);
    }
  if (good)
    return scanner.places;
  nappe_json_places_free (scanner.places);
  return NULL;
}

gboolean
nappe_json_guard (const char *text, gsize length, const NappeJsonLimits *limits, GError **error)
{
  g_autoptr (NappeJsonPlaces) places = nappe_json_guard_with_places (text, length, limits, error);

  return places != NULL;
}

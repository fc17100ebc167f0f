/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "units/quantity.h"

#include "units/unit-table.h"

#include <glib/gi18n-lib.h>
#include <langinfo.h>
#include <math.h>
#include <string.h>

/* Longest text worth reading [bytes]. */
#define MAX_TEXT 200
/* Nothing about an aquarium is larger than this in SI. */
#define MAX_SI 1e9
#define ABSOLUTE_ZERO_CELSIUS (-273.15)
#define FRACTION_SLASH 0x2044

G_DEFINE_QUARK (nappe-units-error-quark, nappe_units_error)

/* Text being read, lower case and normalised, so that all digits, spaces and fractions are plain. */
typedef struct {
  const char *typed; /* as the person wrote it, for messages */
  const char *place; /* next byte to read */
} Reader;

static gboolean
refuse_number (const Reader *reader,
               GError      **error)
{
  g_set_error (error, NAPPE_UNITS_ERROR, NAPPE_UNITS_ERROR_NOT_A_NUMBER,
               /* Translators: %s is what the user typed. */
               _("“%s” is not a number"), reader->typed);
  return FALSE;
}

static gboolean
refuse_ambiguous (const Reader *reader,
                  GError      **error)
{
  g_set_error (error, NAPPE_UNITS_ERROR, NAPPE_UNITS_ERROR_NOT_A_NUMBER,
               /* Translators: %s is what the user typed, such as 1,250, which may be a thousand or about one. */
               _("“%s” can be read in two ways; write the thousands without a sign between them"), reader->typed);
  return FALSE;
}

static gboolean
refuse_range (const Reader *reader,
              GError      **error)
{
  g_set_error (error, NAPPE_UNITS_ERROR, NAPPE_UNITS_ERROR_OUT_OF_RANGE,
               /* Translators: %s is what the user typed. */
               _("“%s” is out of range"), reader->typed);
  return FALSE;
}

/* Appends one character of typed text as plain text; FALSE for one that would change a number's value if
 * normalised, such as a superscript behind a digit. */
static gboolean
append_plain (GString *plain,
              gunichar character)
{
  gboolean after_letter = plain->len > 0 && g_ascii_isalpha (plain->str[plain->len - 1]);

  if (g_unichar_isdigit (character))
    g_string_append_c (plain, (char) ('0' + g_unichar_digit_value (character)));
  else if (character == 0x2212) /* minus sign */
    g_string_append_c (plain, '-');
  else if (g_unichar_isspace (character) || g_unichar_iscntrl (character))
    g_string_append_c (plain, ' ');
  else if (g_unichar_type (character) == G_UNICODE_OTHER_NUMBER)
    {
      gunichar parts[G_UNICHAR_MAX_DECOMPOSITION_LENGTH];
      gsize n = g_unichar_fully_decompose (character, TRUE, parts, G_N_ELEMENTS (parts));
      gboolean fraction = n == 3 && parts[1] == FRACTION_SLASH;

      /* ½ is a number of its own, 1½ two of them; ² is part of a unit or of nothing we read. */
      if (!fraction && !(after_letter && n == 1 && (parts[0] == '2' || parts[0] == '3')))
        return FALSE;
      if (fraction && plain->len > 0)
        g_string_append_c (plain, ' ');
      for (gsize i = 0; i < n; i++)
        g_string_append_unichar (plain, parts[i] == FRACTION_SLASH ? '/' : parts[i]);
    }
  else
    g_string_append_unichar (plain, character == FRACTION_SLASH ? '/' : character);
  return TRUE;
}

/* The text with plain digits, spaces and signs, in lower case without compatibility characters; NULL if it
 * cannot be so. */
static char *
plain_text (const char *typed)
{
  g_autoptr (GString) plain = g_string_new (NULL);
  g_autofree char *normal = NULL;

  for (const char *at = typed; *at != '\0'; at = g_utf8_next_char (at))
    if (!append_plain (plain, g_utf8_get_char (at)))
      return NULL;
  g_strchomp (plain->str);
  normal = g_utf8_normalize (plain->str, -1, G_NORMALIZE_ALL_COMPOSE);
  return g_utf8_casefold (normal, -1);
}

static void
skip_spaces (Reader *reader)
{
  while (*reader->place == ' ')
    reader->place++;
}

static gsize
count_digits (const char *text)
{
  return strspn (text, "0123456789");
}

/* Whether a space at text stands between thousands: three digits follow, and they do not begin a fraction. */
static gboolean
space_groups (const char *text)
{
  const char *after;

  if (*text != ' ' || count_digits (text + 1) != 3)
    return FALSE;
  after = text + 4;
  while (*after == ' ')
    after++;
  return *after != '/' || !g_ascii_isdigit (after[1]);
}

/* Collects digits, '.' and ',' of one number. A decimal sign of the locale that is neither becomes '.'. */
static void
collect_digits (Reader  *reader,
                GString *digits)
{
  const char *radix = nl_langinfo (RADIXCHAR);
  gsize radix_length = strlen (radix);

  for (;;)
    {
      const char *at = reader->place;

      if (g_ascii_isdigit (*at) || *at == '.' || *at == ',')
        g_string_append_c (digits, *reader->place++);
      else if (digits->len > 0 && g_ascii_isdigit (digits->str[digits->len - 1]) && space_groups (at))
        reader->place++;
      else if (radix_length > 0 && strncmp (at, radix, radix_length) == 0)
        {
          g_string_append_c (digits, '.');
          reader->place += radix_length;
        }
      else
        return;
    }
}

/* Whether sign splits the digits before end into thousands: 1 to 3 digits, then threes. */
static gboolean
groups_well (const char *digits,
             char        sign,
             const char *end)
{
  gsize first = count_digits (digits);

  if (first < 1 || first > 3)
    return FALSE;
  for (digits += first; digits < end; digits += 4)
    if (*digits != sign || count_digits (digits + 1) != 3)
      return FALSE;
  return digits == end;
}

static void
remove_sign (GString *digits,
             char     sign)
{
  char *to = digits->str;

  for (const char *from = digits->str; *from != '\0'; from++)
    if (*from != sign)
      *to++ = *from;
  g_string_truncate (digits, (gsize) (to - digits->str));
}

/* Decides which of '.' and ',' is the decimal sign and leaves only that, as '.'. */
static gboolean
settle_signs (const Reader *reader,
              GString      *digits,
              GError      **error)
{
  char *dot = strchr (digits->str, '.'), *comma = strchr (digits->str, ',');
  char *end = digits->str + digits->len;
  char *first = dot ? dot : comma, *last;
  char local = *nl_langinfo (RADIXCHAR) == ',' ? ',' : '.';

  if (!first)
    return TRUE;
  if (dot && comma)
    {
      /* The last of the two kinds is the decimal sign, the other groups the thousands. */
      char grouping = dot < comma ? '.' : ',';

      last = dot < comma ? comma : dot;
      if (!groups_well (digits->str, grouping, last) || count_digits (last + 1) != (gsize) (end - last - 1))
        return refuse_number (reader, error);
      *last = '.';
      if (grouping == ',')
        remove_sign (digits, ',');
      else
        {
          *last = ',';
          remove_sign (digits, '.');
          *strchr (digits->str, ',') = '.';
        }
      return TRUE;
    }
  last = strrchr (digits->str, *first);
  if (last != first)
    {
      if (!groups_well (digits->str, *first, end))
        return refuse_number (reader, error);
      remove_sign (digits, *first);
      return TRUE;
    }
  /* One sign: the decimal sign, unless it is not the locale's and may as well group thousands. */
  if (*first != local && digits->str[0] != '0' && groups_well (digits->str, *first, end))
    return refuse_ambiguous (reader, error);
  *first = '.';
  return TRUE;
}

/* Reads "12", "1 250", "1,5", "1.5e3". whole: (out) whether it was digits alone. */
static gboolean
read_decimal (Reader   *reader,
              double   *value,
              gboolean *whole,
              GError  **error)
{
  g_autoptr (GString) digits = g_string_new (NULL);

  collect_digits (reader, digits);
  if (strpbrk (digits->str, "0123456789") == NULL)
    return refuse_number (reader, error);
  *whole = strpbrk (digits->str, ".,") == NULL;
  if (!settle_signs (reader, digits, error))
    return FALSE;
  if (*reader->place == 'e')
    {
      gsize sign = reader->place[1] == '-' || reader->place[1] == '+';
      gsize length = count_digits (reader->place + 1 + sign);

      if (length > 0)
        {
          g_string_append_len (digits, reader->place, (gssize) (1 + sign + length));
          reader->place += 1 + sign + length;
          *whole = FALSE;
        }
    }
  *value = g_ascii_strtod (digits->str, NULL);
  return isfinite (*value) ? TRUE : refuse_range (reader, error);
}

/* Reads "/4" behind a whole number, or " 1/4" and "-1/4" behind one that it adds to. */
static gboolean
read_fraction (Reader  *reader,
               double  *value,
               GError **error)
{
  const char *top = reader->place, *slash, *bottom;
  double part;

  if (*top == '/')
    slash = top;
  else
    {
      top += strspn (top, " ");
      if (*top == '-')
        top++;
      slash = top + count_digits (top);
      if (slash == top || top == reader->place)
        return TRUE;
      slash += strspn (slash, " ");
    }
  bottom = slash + 1;
  if (*slash != '/' || count_digits (bottom) == 0)
    return TRUE;
  part = g_ascii_strtod (bottom, NULL);
  if (part == 0.0)
    return refuse_number (reader, error);
  if (slash == reader->place)
    *value /= part;
  else
    *value += g_ascii_strtod (top, NULL) / part;
  reader->place = bottom + count_digits (bottom);
  return TRUE;
}

static gboolean
read_number (Reader  *reader,
             double  *value,
             GError **error)
{
  gboolean whole;

  if (!read_decimal (reader, value, &whole, error))
    return FALSE;
  return whole ? read_fraction (reader, value, error) : TRUE;
}

/* Reads a unit and checks that it measures quantity. */
static gboolean
read_unit (Reader           *reader,
           NappeQuantity     quantity,
           const NappeUnit **unit,
           GError          **error)
{
  const NappeQuantityTraits *wanted = nappe_quantity_traits (quantity);
  gsize length;

  *unit = nappe_unit_find (reader->place, &length);
  if (!*unit)
    {
      g_set_error (error, NAPPE_UNITS_ERROR, NAPPE_UNITS_ERROR_UNKNOWN_UNIT,
                   /* Translators: the unit, what is wanted ("a length"), and an example of it. */
                   _("“%s” is no unit known here; %s is wanted, such as %s"), reader->place, _(wanted->noun),
                   _(wanted->example));
      return FALSE;
    }
  if (!nappe_unit_measures (*unit, quantity))
    {
      g_set_error (error, NAPPE_UNITS_ERROR, NAPPE_UNITS_ERROR_WRONG_QUANTITY,
                   /* Translators: what the user typed, what that is ("a mass"), what is wanted ("a length"), an example. */
                   _("“%s” is %s; %s is wanted, such as %s"), reader->typed,
                   _(nappe_quantity_traits ((*unit)->quantity)->noun), _(wanted->noun), _(wanted->example));
      return FALSE;
    }
  reader->place += length;
  return TRUE;
}

/* Reads further, smaller parts, as in "2 ft 6 in", and adds them to si. */
static gboolean
read_further_parts (Reader          *reader,
                    NappeQuantity    quantity,
                    const NappeUnit *unit,
                    double          *si,
                    GError         **error)
{
  for (skip_spaces (reader); *reader->place != '\0'; skip_spaces (reader))
    {
      const NappeUnit *larger = unit;
      double number;

      if (!read_number (reader, &number, error))
        return FALSE;
      skip_spaces (reader);
      if (*reader->place == '\0')
        return refuse_number (reader, error);
      if (!read_unit (reader, quantity, &unit, error))
        return FALSE;
      if (unit->offset != 0.0 || larger->offset != 0.0
          || unit->numerator / unit->divisor >= larger->numerator / larger->divisor)
        return refuse_number (reader, error);
      *si += nappe_unit_to_si (unit, number);
    }
  return TRUE;
}

static gboolean
in_range (NappeQuantity quantity,
          double        si)
{
  if (!(fabs (si) <= MAX_SI))
    return FALSE;
  if (quantity == NAPPE_QUANTITY_TEMPERATURE)
    return si >= ABSOLUTE_ZERO_CELSIUS;
  if (quantity == NAPPE_QUANTITY_COUNT)
    return si >= 0.0 && si == floor (si);
  return TRUE;
}

/* Reads the whole of plain text. */
static gboolean
read_quantity (Reader         *reader,
               NappeQuantity   quantity,
               NappeUnitSystem system,
               double         *si,
               GError        **error)
{
  const NappeUnit *unit = nappe_quantity_traits (quantity)->display[system == NAPPE_UNITS_US];
  gboolean negative = FALSE;
  double number, value;

  skip_spaces (reader);
  if (*reader->place == '-' || *reader->place == '+')
    negative = *reader->place++ == '-';
  skip_spaces (reader);
  if (!read_number (reader, &number, error))
    return FALSE;
  skip_spaces (reader);
  if (*reader->place != '\0' && !read_unit (reader, quantity, &unit, error))
    return FALSE;
  /* A temperature's sign belongs to the number, not to what it is in kelvin or Celsius. */
  if (negative && unit->offset != 0.0)
    number = -number;
  value = nappe_unit_to_si (unit, number);
  if (!read_further_parts (reader, quantity, unit, &value, error))
    return FALSE;
  if (negative && unit->offset == 0.0)
    value = -value;
  if (!in_range (quantity, value))
    return refuse_range (reader, error);
  *si = value;
  return TRUE;
}

gboolean
nappe_quantity_parse (NappeQuantity   quantity,
                      const char     *text,
                      NappeUnitSystem system,
                      double         *si,
                      GError        **error)
{
  Reader reader = { .typed = text };
  g_autofree char *plain = NULL;

  g_return_val_if_fail (text != NULL && si != NULL, FALSE);
  if (strlen (text) > MAX_TEXT)
    {
      g_set_error_literal (error, NAPPE_UNITS_ERROR, NAPPE_UNITS_ERROR_NOT_A_NUMBER,
                           _("This text is too long to be a number"));
      return FALSE;
    }
  if (!g_utf8_validate (text, -1, NULL))
    {
      g_set_error_literal (error, NAPPE_UNITS_ERROR, NAPPE_UNITS_ERROR_NOT_A_NUMBER,
                           _("This text is damaged and cannot be read"));
      return FALSE;
    }
  plain = plain_text (text);
  if (!plain)
    return refuse_number (&reader, error);
  reader.place = plain;
  skip_spaces (&reader);
  if (*reader.place == '\0')
    {
      g_set_error (error, NAPPE_UNITS_ERROR, NAPPE_UNITS_ERROR_EMPTY,
                   /* Translators: what is wanted ("a length"), and an example of it. */
                   _("Nothing is given; %s is wanted, such as %s"), _(nappe_quantity_traits (quantity)->noun),
                   _(nappe_quantity_traits (quantity)->example));
      return FALSE;
    }
  return read_quantity (&reader, quantity, system, si, error);
}

gboolean
nappe_quantity_from_unit (NappeQuantity quantity,
                          double        number,
                          const char   *unit,
                          double       *si,
                          GError      **error)
{
  g_autofree char *plain = strlen (unit) <= MAX_TEXT && g_utf8_validate (unit, -1, NULL) ? plain_text (unit) : NULL;
  Reader reader = { .typed = unit, .place = plain != NULL ? plain : "" };
  const NappeUnit *found;

  skip_spaces (&reader);
  if (!read_unit (&reader, quantity, &found, error))
    return FALSE;
  skip_spaces (&reader);
  if (*reader.place != '\0')
    return refuse_number (&reader, error);
  *si = nappe_unit_to_si (found, number);
  return TRUE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the cells of a table to numbers: whether '.' and ',' part decimals or thousands is one matter of a whole text. */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "catalogue/curve-table-private.h"

#define NUMBER_MAX_LENGTH 60 /* [bytes] */

/* With a plain minus, and a plain space for whatever parts thousands besides '.' and ','. Transfer full. */
static char *
plain (const char *cell)
{
  GString *text = g_string_new (NULL);

  for (const char *at = cell; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);

      if (c == 0x2212)
        g_string_append_c (text, '-');
      else if (g_unichar_isspace (c) || c == '\'' || c == 0x2019)
        g_string_append_c (text, ' ');
      else
        g_string_append_unichar (text, c);
    }
  return g_string_free (text, FALSE);
}

gboolean
nappe_cell_is_number (const char *cell)
{
  g_autofree char *text = plain (cell);
  const char *at = text;

  at += *at == '-' || *at == '+';
  at += *at == '.' || *at == ',';
  return g_ascii_isdigit (*at);
}

/* Whether a sign parts the cell's digits into thousands, so that it is no decimal sign for certain or may be both. */
static gboolean
may_group (const char *cell, char sign)
{
  gsize n;

  cell += *cell == '-' || *cell == '+';
  n = strspn (cell, "0123456789");
  if (n < 1 || n > 3 || *cell == '0' || cell[n] != sign)
    return FALSE;
  for (cell += n; *cell == sign; cell += 4)
    if (strspn (cell + 1, "0123456789") != 3)
      return FALSE;
  return *cell == '\0' || *cell == '.' || *cell == ',';
}

/* What is known of a sign from all cells. */
typedef struct
{
  gboolean there;
  gboolean must_group; /* twice in one cell, or before the other sign */
  gboolean must_part;  /* in a cell where it does not part thousands, or behind the other sign */
  guint first;         /* cell in which it was seen */
} SignUse;

static void
look_for (const char *cell, guint index, char sign, char other, SignUse *use)
{
  const char *at = strchr (cell, sign), *elsewhere = strrchr (cell, other);

  if (at == NULL)
    return;
  if (!use->there)
    use->first = index;
  use->there = TRUE;
  use->must_group |= strchr (at + 1, sign) != NULL || (elsewhere != NULL && elsewhere > at);
  use->must_part |= !may_group (cell, sign);
}

gboolean
nappe_cells_find_signs (const GPtrArray *cells, NappeNumberSigns *signs, guint *blamed)
{
  SignUse dot = { 0 }, comma = { 0 };
  gboolean dot_parts, comma_parts;

  for (guint i = 0; i < cells->len; i++)
    {
      look_for (g_ptr_array_index (cells, i), i, '.', ',', &dot);
      look_for (g_ptr_array_index (cells, i), i, ',', '.', &comma);
    }
  *blamed = dot.there ? dot.first : comma.first;
  dot_parts = dot.must_part || (comma.there && comma.must_group && !comma.must_part && !dot.must_group);
  comma_parts = comma.must_part || (dot.there && dot.must_group && !dot.must_part && !comma.must_group);
  /* Both part decimals, or one is both, or nothing tells. */
  if ((dot_parts && comma_parts) || (dot_parts && dot.must_group) || (comma_parts && comma.must_group))
    return FALSE;
  if (!dot_parts && !comma_parts && ((dot.there && !dot.must_group) || (comma.there && !comma.must_group)))
    return FALSE;
  signs->decimal = comma_parts || (dot.must_group && !comma.there) ? ',' : '.';
  signs->grouping = signs->decimal == '.' ? ',' : '.';
  return TRUE;
}

/* Reads digits parted into thousands by `grouping` or spaces; gives what follows, and copies the digits. */
static const char *
read_whole (const char *at, char grouping, GString *digits)
{
  gsize n = strspn (at, "0123456789");

  g_string_append_len (digits, at, (gssize) n);
  at += n;
  if (n > 3 || n == 0)
    return at;
  for (char sign = *at; (sign == ' ' || sign == grouping) && *at == sign && strspn (at + 1, "0123456789") == 3; at += 4)
    g_string_append_len (digits, at + 1, 3);
  return at;
}

const char *
nappe_cell_number (const char *cell, const NappeNumberSigns *signs, double *number)
{
  g_autofree char *text = plain (cell);
  g_autoptr (GString) digits = g_string_new (NULL);
  const char *at = text;
  gsize n;

  if (strlen (text) > NUMBER_MAX_LENGTH)
    return _("not a number");
  if (*at == '-' || *at == '+')
    g_string_append_c (digits, *at++);
  at = read_whole (at, signs->grouping, digits);
  if (*at == signs->decimal)
    {
      n = strspn (at + 1, "0123456789");
      g_string_append_c (digits, '.');
      g_string_append_len (digits, at + 1, (gssize) n);
      at += 1 + n;
    }
  if (strpbrk (digits->str, "0123456789") == NULL)
    return _("not a number");
  if (*at == 'e' || *at == 'E')
    {
      n = 1 + (at[1] == '-' || at[1] == '+');
      if (!g_ascii_isdigit (at[n]))
        return _("not a number");
      n += strspn (at + n, "0123456789");
      g_string_append_len (digits, at, (gssize) n);
      at += n;
    }
  if (*at != '\0')
    return _("not a number");
  *number = g_ascii_strtod (digits->str, NULL);
  return isfinite (*number) ? NULL : _("too large for any pump");
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/json-writer.h"

#include <math.h>

void
nappe_json_writer_init (NappeJsonWriter *self)
{
  *self = (NappeJsonWriter) { .text = g_string_new (NULL) };
}

char *
nappe_json_writer_end (NappeJsonWriter *self)
{
  g_return_val_if_fail (self->depth == 0, NULL);
  g_string_append_c (self->text, '\n');
  return g_string_free (g_steal_pointer (&self->text), FALSE);
}

static void
append_string (GString *to, const char *text)
{
  g_string_append_c (to, '"');
  for (const char *c = text; *c != '\0'; c++)
    {
      if (*c == '"' || *c == '\\')
        g_string_append_printf (to, "\\%c", *c);
      else if ((guchar) *c < 0x20)
        g_string_append_printf (to, "\\u%04x", (guint) (guchar) *c);
      else
        g_string_append_c (to, *c);
    }
  g_string_append_c (to, '"');
}

static void
break_line (NappeJsonWriter *self)
{
  g_string_append_c (self->text, '\n');
  for (guint i = 0; i < self->depth; i++)
    g_string_append (self->text, "  ");
}

static void
begin_value (NappeJsonWriter *self, const char *key)
{
  if (self->needs_comma)
    g_string_append_c (self->text, ',');
  if (self->depth > 0)
    break_line (self);
  if (key != NULL)
    {
      append_string (self->text, key);
      g_string_append (self->text, ": ");
    }
  self->needs_comma = TRUE;
}

void
nappe_json_open (NappeJsonWriter *self, const char *key, char bracket)
{
  begin_value (self, key);
  g_string_append_c (self->text, bracket);
  self->depth++;
  self->needs_comma = FALSE;
}

void
nappe_json_close (NappeJsonWriter *self, char bracket)
{
  g_return_if_fail (self->depth > 0);
  self->depth--;
  if (self->needs_comma)
    break_line (self);
  g_string_append_c (self->text, bracket);
  self->needs_comma = TRUE;
}

void
nappe_json_text (NappeJsonWriter *self, const char *key, const char *text)
{
  begin_value (self, key);
  if (text == NULL)
    g_string_append (self->text, "null");
  else
    append_string (self->text, text);
}

void
nappe_json_flag (NappeJsonWriter *self, const char *key, gboolean flag)
{
  begin_value (self, key);
  g_string_append (self->text, flag ? "true" : "false");
}

void
nappe_json_count (NappeJsonWriter *self, const char *key, guint count)
{
  begin_value (self, key);
  g_string_append_printf (self->text, "%u", count);
}

void
nappe_json_quantity (NappeJsonWriter *self, const char *key, NappeQuantity quantity, double si)
{
  const char *suffix = nappe_quantity_file_suffix (quantity);
  g_autofree char *whole = g_strconcat (key, *suffix != '\0' ? "_" : "", suffix, NULL);
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  double value;

  begin_value (self, whole);
  value = isfinite (si) ? nappe_quantity_to_file (quantity, si) : si;
  if (!isfinite (value))
    g_string_append (self->text, "null");
  else
    /* Adding zero turns a negative zero into zero. */
    g_string_append (self->text, g_ascii_formatd (digits, sizeof digits, "%.9g", value + 0.0));
}

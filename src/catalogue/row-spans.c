/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "catalogue/catalogue-private.h"

/* Where the rows stand in the text of a catalogue file, so that one is put in or taken out and all else stays as its owner
 * wrote it. The text has passed the strict check before: what is read here is only where values begin and end. */

typedef struct
{
  const char *text;
  gsize length, at;
} Scan;

static void
skip_space (Scan *scan)
{
  while (scan->at < scan->length && strchr (" \t\r\n", scan->text[scan->at]) != NULL)
    scan->at++;
}

static void
skip_string (Scan *scan)
{
  for (scan->at++; scan->at < scan->length && scan->text[scan->at] != '"'; scan->at++)
    if (scan->text[scan->at] == '\\')
      scan->at++;
  scan->at++;
}

/* To behind the value that begins here. */
static void
skip_value (Scan *scan)
{
  guint depth = 0;

  while (scan->at < scan->length)
    {
      char c = scan->text[scan->at];

      if (depth == 0 && strchr (",]} \t\r\n", c) != NULL)
        return;
      if (c == '"')
        skip_string (scan);
      else
        scan->at++;
      if (c == '{' || c == '[')
        depth++;
      else if (c == '}' || c == ']')
        depth--;
      if (depth == 0 && strchr ("}]\"", c) != NULL)
        return;
    }
}

/* To the bracket that opens the list of rows. */
static gboolean
find_list (Scan *scan)
{
  static const char name[] = "\"items\"";

  skip_space (scan);
  for (scan->at++; scan->at < scan->length; scan->at++)
    {
      gboolean found;

      skip_space (scan);
      found = scan->length - scan->at > strlen (name) && strncmp (scan->text + scan->at, name, strlen (name)) == 0;
      skip_value (scan);
      skip_space (scan);
      scan->at++; /* the colon */
      skip_space (scan);
      if (found)
        return scan->at < scan->length && scan->text[scan->at] == '[';
      skip_value (scan);
      skip_space (scan);
    }
  return FALSE;
}

GArray *
nappe_row_spans (const char *text, gsize length, NappeTextSpan *list)
{
  Scan scan = { text, length, 0 };
  GArray *spans;

  if (!find_list (&scan))
    return NULL;
  spans = g_array_new (FALSE, FALSE, sizeof (NappeTextSpan));
  list->start = ++scan.at;
  for (skip_space (&scan); scan.at < length && text[scan.at] != ']'; skip_space (&scan))
    {
      NappeTextSpan span = { .start = scan.at };

      skip_value (&scan);
      span.end = scan.at;
      g_array_append_val (spans, span);
      skip_space (&scan);
      if (scan.at < length && text[scan.at] == ',')
        scan.at++;
    }
  list->end = scan.at;
  return spans;
}

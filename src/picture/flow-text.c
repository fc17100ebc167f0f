/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/flow-private.h"

#include <string.h>

double
nappe_flow_text_width (NappeFlow *flow, const char *text, NappeTextWeight weight)
{
  NappeTextStyle style = { .size = NAPPE_TEXT_SMALL, .weight = weight };
  return nappe_scene_measure (flow->scene, text, &style).width;
}

double
nappe_flow_longest_word (NappeFlow *flow, const char *text, NappeTextWeight weight)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  double longest = 0;

  for (guint i = 0; words[i] != NULL; i++)
    longest = MAX (longest, nappe_flow_text_width (flow, words[i], weight));
  return longest;
}

/* The text itself when it fits, else as many of its characters as do, and an ellipsis. */
static char *
shorten (NappeFlow *flow, const char *text, NappeTextWeight weight, double width)
{
  glong low = 0, high = g_utf8_strlen (text, -1);

  if (nappe_flow_text_width (flow, text, weight) <= width)
    return g_strdup (text);
  while (low < high)
    {
      glong middle = (low + high + 1) / 2;
      g_autofree char *head = g_utf8_substring (text, 0, middle);
      g_autofree char *tried = g_strconcat (g_strchomp (head), "…", NULL);
      if (nappe_flow_text_width (flow, tried, weight) <= width)
        low = middle;
      else
        high = middle - 1;
    }
  if (low == 0)
    return g_strdup ("");
  g_autofree char *head = g_utf8_substring (text, 0, low);
  return g_strconcat (g_strchomp (head), "…", NULL);
}

GPtrArray *
nappe_flow_wrap (NappeFlow *flow, const char *text, NappeTextWeight weight, double width, guint max_lines)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  double space = nappe_flow_text_width (flow, "n n", weight) - nappe_flow_text_width (flow, "nn", weight);
  g_autoptr (GString) line = g_string_new (NULL);
  double filled = 0;

  for (guint i = 0; words[i] != NULL; i++)
    {
      double word = nappe_flow_text_width (flow, words[i], weight);
      if (line->len > 0 && filled + space + word > width && lines->len + 1 < max_lines)
        {
          g_ptr_array_add (lines, shorten (flow, line->str, weight, width));
          g_string_truncate (line, 0);
          filled = 0;
        }
      if (line->len > 0)
        g_string_append_c (line, ' ');
      g_string_append (line, words[i]);
      filled += word + (filled > 0 ? space : 0);
    }
  g_ptr_array_add (lines, shorten (flow, line->str, weight, width));
  return lines;
}

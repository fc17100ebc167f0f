/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/flow/flow-private.h"

#include <string.h>

gboolean
nappe_flow_is_clear (const NappeFlow *flow, const NappeBox *box, double gap)
{
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (flow->scene, &n);

  if (!nappe_label_is_free (flow->scene, box, gap))
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (blocks[i].kind == NAPPE_BLOCK_SOFT && nappe_box_overlaps (box, &blocks[i].box))
      return FALSE;
  return TRUE;
}

gboolean
nappe_flow_place_text (NappeFlow *flow, NappeLayer layer, const char *text, const NappeTextStyle *styles, guint n,
                       NappeBox *taken)
{
  for (guint i = 0; i < n; i++)
    {
      NappeBox place = nappe_scene_measure (flow->scene, text, &styles[i]);
      if (nappe_flow_is_clear (flow, &place, 1.0) && nappe_label_place_text (flow->scene, layer, text, &styles[i], 1, taken))
        return TRUE;
    }
  return nappe_label_place_text (flow->scene, layer, text, styles, n, taken);
}

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

char *
nappe_flow_shorten (NappeFlow *flow, const char *text, NappeTextSize size, NappeTextWeight weight, double width)
{
  NappeTextStyle style = { .size = size, .weight = weight };
  glong low = 0, high = g_utf8_strlen (text, -1);

  if (nappe_scene_measure (flow->scene, text, &style).width <= width)
    return g_strdup (text);
  while (low < high)
    {
      glong middle = (low + high + 1) / 2;
      g_autofree char *head = g_utf8_substring (text, 0, middle);
      g_autofree char *tried = g_strconcat (g_strchomp (head), "…", NULL);
      if (nappe_scene_measure (flow->scene, tried, &style).width <= width)
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
          g_ptr_array_add (lines, nappe_flow_shorten (flow, line->str, NAPPE_TEXT_SMALL, weight, width));
          g_string_truncate (line, 0);
          filled = 0;
        }
      if (line->len > 0)
        g_string_append_c (line, ' ');
      g_string_append (line, words[i]);
      filled += word + (filled > 0 ? space : 0);
    }
  g_ptr_array_add (lines, nappe_flow_shorten (flow, line->str, NAPPE_TEXT_SMALL, weight, width));
  return lines;
}

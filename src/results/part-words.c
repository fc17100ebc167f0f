/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results/part-words.h"

#include <glib/gi18n-lib.h>

char *
nappe_part_words (NappeBuild *build, const char *id)
{
  NappePart *part = nappe_build_find (build, id);
  guint index;
  /* An end without a name is the end of its line. */
  if (part != NULL && NAPPE_IS_OUTLET (part) && *nappe_part_get_name (part) == '\0'
      && nappe_part_get_owner (part) != NULL)
    part = nappe_part_get_owner (part);
  if (part == NULL)
    return g_strdup_printf ("“%s”", id);
  if (*nappe_part_get_name (part) != '\0')
    /* Translators: the planner's own name of a part, in quotes. */
    return g_strdup_printf (_("“%s”"), nappe_part_get_name (part));
  /* A piece of a run is told by its place in it. */
  if (NAPPE_IS_PIECE (part) && nappe_part_get_owner (part) != NULL)
    {
      g_autofree char *line = nappe_part_words (build, nappe_part_get_id (nappe_part_get_owner (part)));
      nappe_part_place (part, &index);
      /* Translators: a fitting or pipe by its place in the run of a line, from 1. */
      return g_strdup_printf (_("Piece %u of %s"), index + 1, line);
    }
  /* What there is one of needs no telling apart. */
  if (nappe_part_get_owner (part) == NAPPE_PART (build)
      && nappe_part_place (part, &index)->single)
    return g_strdup (nappe_part_display_name (part));
  /* Translators: a part without a name: its kind and its id, as in: Drain “drain-2”. */
  return g_strdup_printf (_("%s “%s”"), nappe_part_display_name (part), nappe_part_get_id (part));
}

char *
nappe_part_caption (NappeBuild *build, const char *id)
{
  NappePart *part = nappe_build_find (build, id);
  gboolean nameless_piece = part != NULL && NAPPE_IS_PIECE (part) && *nappe_part_get_name (part) == '\0';

  if (nameless_piece)
    return nappe_part_words (build, id);
  return g_strdup (part != NULL ? nappe_part_display_name (part) : id);
}

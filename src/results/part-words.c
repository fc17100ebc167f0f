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
  /* What there is one of needs no telling apart. */
  if (nappe_part_get_owner (part) == NAPPE_PART (build)
      && nappe_part_place (part, &index)->single)
    return g_strdup (nappe_part_display_name (part));
  /* Translators: a part without a name: its kind and its id, as in: Drain “drain-2”. */
  return g_strdup_printf (_("%s “%s”"), nappe_part_display_name (part), nappe_part_get_id (part));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What went with a part that was taken away, in words. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>

/* More names than these are counted. */
#define NAMES_MAX 4

typedef struct
{
  NappeBuild *after;
  NappePart *part;  /* of the build before */
  GPtrArray *names; /* const char * */
} Search;

static gboolean
is_below (NappePart *part, NappePart *owner)
{
  while (part != NULL && part != owner)
    part = nappe_part_get_owner (part);
  return part == owner;
}

/* What a planner knows by a name of its own: neither the pieces of a line nor what is below something else that went. */
static void
look (NappePart *part, gpointer user_data)
{
  Search *self = user_data;
  NappePart *owner = nappe_part_get_owner (part);
  const char *id = nappe_part_get_id (part);

  if (*id == '\0' || NAPPE_IS_PIECE (part) || is_below (part, self->part) || nappe_build_find (self->after, id) != NULL)
    return;
  if (owner != NULL && *nappe_part_get_id (owner) != '\0' && nappe_build_find (self->after, nappe_part_get_id (owner)) == NULL)
    return;
  g_ptr_array_add (self->names, (gpointer) nappe_part_display_name (part));
}

char *
nappe_assembly_tell_removed (NappeBuild *before, NappeBuild *after, const char *id)
{
  NappePart *part = nappe_build_find (before, id);
  const char *name = part != NULL ? nappe_part_display_name (part) : "";
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  Search search = { after, part, names };
  GString *list = g_string_new (NULL);

  if (part != NULL)
    nappe_part_visit (NAPPE_PART (before), look, &search);
  for (guint i = 0; i < names->len && i < NAMES_MAX; i++)
    /* Translators: the name of a part, in quotation marks, in a list. */
    g_string_append_printf (list, i > 0 ? _(", “%s”") : _("“%s”"), (const char *) names->pdata[i]);
  if (names->len > NAMES_MAX)
    g_string_append_printf (list, g_dngettext (GETTEXT_PACKAGE, " and %u more", " and %u more", names->len - NAMES_MAX),
                            names->len - NAMES_MAX);
  /* Translators: a part was removed; the second %s is a list of parts that went with it. */
  char *text = names->len > 0 ? g_strdup_printf (_("“%s” is removed, and with it %s"), name, list->str)
                              /* Translators: %s is a part. */
                              : g_strdup_printf (_("“%s” is removed"), name);
  g_string_free (list, TRUE);
  return text;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What all files of the room use. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>

G_DEFINE_QUARK (nappe-assembly-error-quark, nappe_assembly_error)

gboolean
nappe_assembly_fail (GError **error, NappeAssemblyError code, char *message)
{
  g_set_error_literal (error, NAPPE_ASSEMBLY_ERROR, (int) code, message);
  g_free (message);
  return FALSE;
}

gboolean
nappe_assembly_end (NappeBuild *build, gboolean done)
{
  if (done)
    nappe_build_commit (build);
  else
    nappe_build_roll_back (build);
  return done;
}

const NappeItem *
nappe_assembly_item (NappeCatalogue *catalogue, const char *id, NappeItemKind kind, GError **error)
{
  const NappeItem *item = nappe_catalogue_find (catalogue, id);

  if (item != NULL && item->kind == kind)
    return item;
  nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ITEM,
                       /* Translators: %s is the id of a catalogue item. */
                       g_strdup_printf (item == NULL ? _("The catalogue has no item “%s”") : _("“%s” cannot stand there"), id));
  return NULL;
}

typedef struct
{
  const char *name;
  gboolean taken;
} NameSearch;

static void
look_at_name (NappePart *part, gpointer user_data)
{
  NameSearch *search = user_data;

  search->taken = search->taken || g_str_equal (nappe_part_get_name (part), search->name);
}

void
nappe_assembly_name (NappeBuild *build, NappePart *part, const char *name)
{
  g_autofree char *free_name = g_strdup (name);

  for (guint number = 2;; number++)
    {
      NameSearch search = { free_name, FALSE };

      nappe_part_visit (NAPPE_PART (build), look_at_name, &search);
      if (!search.taken)
        break;
      g_free (free_name);
      /* Translators: the name of a part, and a number where several bear it. */
      free_name = g_strdup_printf (_("%s %u"), name, number);
    }
  nappe_part_set_name (part, nappe_part_check_name (free_name, NULL) ? free_name : "");
}

void
nappe_assembly_write_text (NappePart *part, const char *field, const char *text)
{
  g_auto (GValue) value = G_VALUE_INIT;

  g_value_init (&value, G_TYPE_STRING);
  g_value_set_string (&value, text);
  nappe_part_write (part, nappe_part_find_field (part, field), &value);
}

void
nappe_assembly_write_number (NappePart *part, const char *name, double number)
{
  const NappeField *field = nappe_part_find_field (part, name);
  g_auto (GValue) value = G_VALUE_INIT;

  g_value_init (&value, nappe_field_value_type (field));
  if (G_VALUE_HOLDS_INT (&value))
    g_value_set_int (&value, (int) number);
  else if (G_VALUE_HOLDS_BOOLEAN (&value))
    g_value_set_boolean (&value, number != 0);
  else
    g_value_set_double (&value, number);
  nappe_part_write (part, field, &value);
}

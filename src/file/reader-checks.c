/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What holds for a build as a whole. */
#include "config.h"

#include <string.h>

#include <glib/gi18n-lib.h>

#include "file/part-path.h"
#include "file/reader.h"

/* Ids that a message lists at most. */
#define LISTED_MAX 12

typedef struct
{
  NappeReader *reader;
  NappeBuild *build;
  GHashTable *parts; /* by id */
  gboolean good;
} Checking;

static void
check_id (NappePart *part, gpointer data)
{
  Checking *checking = data;
  const char *id = nappe_part_get_id (part);
  NappePart *other = g_hash_table_lookup (checking->parts, id);
  g_autofree char *place = NULL;

  if (!checking->good || nappe_part_get_owner (part) == NULL)
    return;
  if (other == NULL)
    {
      g_hash_table_insert (checking->parts, (gpointer) id, part);
      return;
    }
  place = nappe_part_path (other, NULL);
  checking->good = nappe_reader_fail (checking->reader, part, "id", NAPPE_FILE_ERROR_ID,
                                      /* Translators: an id, and the place of the other part that has it. */
                                      _ ("the id “%s” is already that of %s"), id, place);
}

typedef struct
{
  const NappeField *field;
  GString *ids;
  guint count;
} Listing;

static void
list_candidate (NappePart *part, gpointer data)
{
  Listing *listing = data;

  if (nappe_part_get_owner (part) == NULL || !nappe_field_may_refer_to (listing->field, nappe_part_get_kind (part)))
    return;
  if (listing->count++ < LISTED_MAX)
    g_string_append_printf (listing->ids, "%s%s", listing->count == 1 ? "" : ", ", nappe_part_get_id (part));
  else if (listing->count == LISTED_MAX + 2)
    g_string_append (listing->ids, ", …");
}

static gboolean
fail_reference (Checking *checking, NappePart *part, const NappeField *field, const char *format, const char *id)
{
  Listing listing = { field, g_string_new (NULL), 0 };
  g_autofree char *reason = NULL;
  gboolean good;

  nappe_part_visit (NAPPE_PART (checking->build), list_candidate, &listing);
  /* The format is one of two translated texts below. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  reason = g_strdup_printf (format, id);
#pragma GCC diagnostic pop
  if (listing.ids->len > 0)
    good = nappe_reader_fail (checking->reader, part, nappe_field_key (field), NAPPE_FILE_ERROR_REFERENCE,
                              /* Translators: a reason, and a list of ids that would do. */
                              _ ("%s; possible here: %s"), reason, listing.ids->str);
  else
    good = nappe_reader_fail (checking->reader, part, nappe_field_key (field), NAPPE_FILE_ERROR_REFERENCE, "%s",
                              reason);
  g_string_free (listing.ids, TRUE);
  return good;
}

static gboolean
check_reference (Checking *checking, NappePart *part, const NappeField *field)
{
  const char *id = nappe_part_text (part, field);
  NappePart *other;

  if (*id == '\0')
    return TRUE;
  other = g_hash_table_lookup (checking->parts, id);
  if (other == NULL)
    return fail_reference (checking, part, field, _ ("no part has the id “%s”"), id);
  if (!nappe_field_may_refer_to (field, nappe_part_get_kind (other)))
    return fail_reference (checking, part, field, _ ("the part “%s” is of a kind that cannot stand here"), id);
  return TRUE;
}

/* A tee must be a piece of the trunk that the outlet branches from. */
static gboolean
check_tee (Checking *checking, NappePart *part)
{
  const char *tee = NAPPE_IS_OUTLET (part) ? NAPPE_OUTLET (part)->tee : "";
  NappePart *owner = nappe_part_get_owner (part);

  if (*tee == '\0' || nappe_part_get_owner (g_hash_table_lookup (checking->parts, tee)) == owner)
    return TRUE;
  return nappe_reader_fail (checking->reader, part, "tee", NAPPE_FILE_ERROR_REFERENCE,
                            /* Translators: ids of a pipe fitting and of a pipe line. */
                            _ ("the piece “%s” is not in the run of “%s”"), tee, nappe_part_get_id (owner));
}

static gboolean
check_baffles (Checking *checking)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (checking->build);
  const guint wanted = sump->chambers->len > 0 ? sump->chambers->len - 1 : 0;

  if (sump->baffles->len == wanted)
    return TRUE;
  return nappe_reader_fail (checking->reader, checking->build->sump, "baffles", NAPPE_FILE_ERROR_COUNT,
                            /* Translators: three counts; chambers stand side by side with a baffle between. */
                            _ ("%u baffles for %u chambers; one stands between each two, so %u are wanted"),
                            sump->baffles->len, sump->chambers->len, wanted);
}

static void
check_references (NappePart *part, gpointer data)
{
  Checking *checking = data;
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; checking->good && i < klass->n_fields; i++)
    if (klass->fields[i].type == NAPPE_FIELD_REFERENCE)
      checking->good = check_reference (checking, part, &klass->fields[i]);
  if (checking->good)
    checking->good = check_tee (checking, part);
}

gboolean
nappe_reader_check_whole (NappeReader *self, NappeBuild *build)
{
  g_autoptr (GHashTable) parts = g_hash_table_new (g_str_hash, g_str_equal);
  Checking checking = { self, build, parts, TRUE };

  nappe_part_visit (NAPPE_PART (build), check_id, &checking);
  if (checking.good)
    nappe_part_visit (NAPPE_PART (build), check_references, &checking);
  return checking.good && check_baffles (&checking);
}

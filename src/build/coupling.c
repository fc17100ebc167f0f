/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "build/coupling.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n-lib.h>

static void
add (GArray *followers, NappePart *part, const char *field, double factor)
{
  NappeFollower follower = { part, nappe_part_find_field (part, field), factor };
  if (nappe_is_given (nappe_part_number (part, follower.field)))
    g_array_append_val (followers, follower);
}

/* The inlet stands on its first pipe. */
static void
follow_crest (GArray *followers, NappeDrain *drain)
{
  NappePiece *first = drain->run->len > 0 ? drain->run->pdata[0] : NULL;

  if (first != NULL && first->length > 0 && first->toward == NAPPE_TOWARD_DOWN)
    add (followers, NAPPE_PART (first), "length", 1);
  add (followers, NAPPE_PART (drain), "mouth_height", 1);
  add (followers, NAPPE_PART (drain), "break_height", 1);
}

static void
follow_chamber (GArray *followers, NappeBuild *build, NappePart *chamber)
{
  GPtrArray *chambers = NAPPE_BUILD_SUMP (build)->chambers;
  guint index;

  if (chambers->len < 2 || !g_ptr_array_find (chambers, chamber, &index))
    return;
  add (followers, chambers->pdata[index + 1 < chambers->len ? index + 1 : index - 1], "length", -1);
}

static void
follow_sump (GArray *followers, NappeSump *sump)
{
  NappePart *last = NULL;

  for (guint i = 0; i < sump->chambers->len; i++)
    {
      NappeChamber *chamber = sump->chambers->pdata[i];
      last = NAPPE_PART (chamber);
      if (chamber->role == NAPPE_CHAMBER_RETURN)
        break;
    }
  if (last != NULL)
    add (followers, last, "length", 1);
}

/* The inlets in a box stay where they are while its floor moves under them. */
static void
follow_floor (GArray *followers, NappeBuild *build, NappePart *box)
{
  for (guint i = 0; i < build->drains->len; i++)
    {
      NappeDrain *drain = build->drains->pdata[i];

      if (!g_str_equal (drain->overflow, nappe_part_get_id (box)))
        continue;
      add (followers, NAPPE_PART (drain), "crest_height", -1);
      add (followers, NAPPE_PART (drain), "mouth_height", -1);
      add (followers, NAPPE_PART (drain), "break_height", -1);
    }
}

/* A pump is moved as a whole, and its line ends where it did. */
static void
follow_inlet (GArray *followers, NappePump *pump)
{
  NappePart *line = nappe_part_get_owner (NAPPE_PART (pump));

  add (followers, NAPPE_PART (pump), "outlet_height", 1);
  for (guint i = 0; line != NULL && i < NAPPE_RETURN_LINE (line)->run->len; i++)
    {
      NappePiece *piece = NAPPE_RETURN_LINE (line)->run->pdata[i];

      if (piece->length > 0 && piece->toward == NAPPE_TOWARD_UP)
        {
          add (followers, NAPPE_PART (piece), "length", -1);
          return;
        }
    }
}

GArray *
nappe_build_followers (NappeBuild *self, NappePart *part, const char *field)
{
  GArray *followers = g_array_new (FALSE, FALSE, sizeof (NappeFollower));

  if (NAPPE_IS_DRAIN (part) && strcmp (field, "crest_height") == 0)
    follow_crest (followers, NAPPE_DRAIN (part));
  else if (NAPPE_IS_CHAMBER (part) && strcmp (field, "length") == 0)
    follow_chamber (followers, self, part);
  else if (NAPPE_IS_SUMP (part) && strcmp (field, "length") == 0)
    follow_sump (followers, NAPPE_SUMP (part));
  else if (NAPPE_IS_OVERFLOW (part) && strcmp (field, "floor_height") == 0)
    follow_floor (followers, self, part);
  else if (NAPPE_IS_PUMP (part) && strcmp (field, "inlet_height") == 0)
    follow_inlet (followers, NAPPE_PUMP (part));
  return followers;
}

/* Sums of lengths are a hair off [SI]. */
#define HAIR 1e-9

/* The end of the range itself, for a value that misses it by rounding. */
static double
at_end (const NappeField *field, double value)
{
  double inside = CLAMP (value, field->minimum, field->maximum);

  return fabs (value - inside) < HAIR ? inside : value;
}

static gboolean
set_followers (NappeBuild *self, GArray *followers, double difference, GError **error)
{
  for (guint i = 0; i < followers->len; i++)
    {
      const NappeFollower *follower = &g_array_index (followers, NappeFollower, i);
      double value = at_end (follower->field, nappe_part_number (follower->part, follower->field)
                                                  + follower->factor * difference);
      if (!nappe_build_set_number (self, follower->part, follower->field->name, value, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
nappe_build_set_coupled (NappeBuild *self, NappePart *part, const char *name, double value, GError **error)
{
  const NappeField *field = nappe_part_find_field (part, name);
  g_autoptr (GArray) followers = nappe_build_followers (self, part, name);
  double before = field != NULL ? nappe_part_number (part, field) : NAN;
  g_autofree char *label = NULL;
  gboolean done;

  if (field == NULL)
    return nappe_build_set_number (self, part, name, value, error);
  /* Translators: label of a step to undo; the label of a field and the name of a part. */
  label = g_strdup_printf (_ ("Change “%s” of “%s”"), _ (field->label), nappe_part_display_name (part));
  nappe_build_begin (self, label);
  done = nappe_build_set_number (self, part, name, value, error);
  /* From nothing there is no difference to follow. */
  if (done && nappe_is_given (before) && nappe_is_given (value))
    done = set_followers (self, followers, value - before, error);
  if (done)
    nappe_build_commit (self);
  else
    nappe_build_roll_back (self);
  return done;
}

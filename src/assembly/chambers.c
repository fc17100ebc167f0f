/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chamber more. Its neighbour gives it room; the water's way to the return goes on over the new wall. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "build/coupling.h"

/* Less is no chamber [m]. */
#define LEAST_LENGTH 0.03
/* Clear length of a bubble trap's side, common practice [m]. */
#define TRAP_LENGTH 0.035
/* A wall that nothing should flow over ends so far under the sump's rim [m]. */
#define UNDER_RIM 0.02
/* Of a wall on the near side of the first wall, over that one: the water must fall a little [m]. */
#define STEP 0.02
#define USUAL_WALL 0.006
/* Between what stands in a chamber and its new wall [m]. */
#define BESIDE_WALL 0.001

static double
wall_thickness (const NappeSump *sump)
{
  return sump->baffles->len > 0 ? NAPPE_BAFFLE (sump->baffles->pdata[0])->thickness : USUAL_WALL;
}

/* How high the water stands before a chamber's upstream side: over the next wall away from the return chamber; NaN: there
 * is none. */
static double
level_upstream (NappeBuild *build, guint chamber, gboolean right_is_upstream)
{
  guint n = NAPPE_BUILD_SUMP (build)->chambers->len;

  if (right_is_upstream ? chamber + 1 >= n : chamber == 0)
    return NAN;
  return nappe_assembly_chamber_level (build, right_is_upstream ? chamber + 1 : chamber - 1);
}

/* The top of a wall that divides a chamber. Beyond the return chamber nothing flows: there it is as high as the sump. */
static double
wall_top (NappeBuild *build, guint chamber, gboolean right)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  guint last = nappe_assembly_return_chamber (build);
  double highest = sump->height - UNDER_RIM, level = nappe_assembly_chamber_level (build, chamber);
  gboolean right_is_upstream = last != G_MAXUINT && chamber > last;

  if (chamber == last)
    {
      gboolean has_upstream = right ? chamber + 1 < sump->chambers->len : chamber > 0;
      if (!has_upstream)
        return highest;
      right_is_upstream = right;
    }
  double upstream = level_upstream (build, chamber, right_is_upstream);
  return fmin (nappe_is_given (upstream) && upstream > level ? 0.5 * (upstream + level) : level + STEP, highest);
}

static const char *
name_of_chamber (NappeChamberRole role)
{
  switch (role)
    {
    case NAPPE_CHAMBER_DRAIN: return _("Drain chamber");
    case NAPPE_CHAMBER_SOCK: return _("Sock chamber");
    case NAPPE_CHAMBER_SKIMMER: return _("Skimmer chamber");
    case NAPPE_CHAMBER_REACTOR: return _("Reactor chamber");
    case NAPPE_CHAMBER_BUBBLE_TRAP: return _("Bubble trap");
    case NAPPE_CHAMBER_REFUGIUM: return _("Refugium");
    case NAPPE_CHAMBER_RETURN: return _("Return chamber");
    case NAPPE_CHAMBER_RESERVOIR: return _("Reservoir");
    }
  g_return_val_if_reached (_("Chamber"));
}

/* What stands in a chamber whose left side moved by `by` stays where it is, as far as its new wall lets it. */
static gboolean
hold_places (NappeBuild *build, const char *chamber, double by, GError **error)
{
  for (guint i = 0; i < build->equipment->len; i++)
    {
      NappeEquipment *part = build->equipment->pdata[i];
      if (g_str_equal (part->where, chamber)
          && !nappe_build_set_number (build, NAPPE_PART (part), "x", fmax (0, part->x - by), error))
        return FALSE;
    }
  for (guint i = 0; i < build->returns->len; i++)
    {
      NappePart *pump = NAPPE_RETURN_LINE (build->returns->pdata[i])->pump;
      if (g_str_equal (NAPPE_PUMP (pump)->chamber, chamber)
          && !nappe_build_set_number (build, pump, "x", fmax (0, NAPPE_PUMP (pump)->x - by), error))
        return FALSE;
    }
  return TRUE;
}

/* Moves what stands in a chamber, with the lines that begin or end there. */
static gboolean
shift_places (NappeBuild *build, const char *chamber, double by, GError **error)
{
  for (guint i = 0; by != 0 && i < build->equipment->len; i++)
    {
      NappeEquipment *part = build->equipment->pdata[i];
      if (g_str_equal (part->where, chamber)
          && !nappe_build_set_coupled (build, NAPPE_PART (part), "x", fmax (0, part->x + by), error))
        return FALSE;
    }
  for (guint i = 0; by != 0 && i < build->returns->len; i++)
    {
      NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (build->returns->pdata[i])->pump);
      if (g_str_equal (pump->chamber, chamber)
          && !nappe_build_set_coupled (build, NAPPE_PART (pump), "x", fmax (0, pump->x + by), error))
        return FALSE;
    }
  return TRUE;
}

/* Lines that ended in the half of a chamber that is another one now end in what is left of it. */
static gboolean
lead_into (NappeBuild *build, NappeCatalogue *catalogue, const char *chamber, GError **error)
{
  for (guint list = 0; list < 2; list++)
    for (guint i = 0; i < (list == 0 ? build->drains : build->returns)->len; i++)
      {
        NappePart *line = (list == 0 ? build->drains : build->returns)->pdata[i];
        GPtrArray *outlets = nappe_part_list (line, nappe_part_find_slot (line, "outlets"));
        gboolean ends_here = FALSE;
        for (guint o = 0; o < outlets->len; o++)
          ends_here = ends_here || g_str_equal (NAPPE_OUTLET (outlets->pdata[o])->into, chamber);
        if (ends_here && !nappe_assembly_lead_home (build, catalogue, line, error))
          return FALSE;
      }
  return TRUE;
}

/* How long the new chamber is, and what is left of the old one [m]. */
typedef struct
{
  double length, left;
  double shift; /* by which what stands in the old one must move to the right, away from the new one [m] */
} Share;

/* The new chamber gets half, but no more than leaves room for what stands in the old one. */
static gboolean
share_out (NappeBuild *build, NappeCatalogue *catalogue, NappePart *beside, gboolean right, NappeChamberRole role,
           double thickness, Share *share, GError **error)
{
  double old = NAPPE_CHAMBER (beside)->length, from, to, usual = 0.5 * (old - thickness);

  if (role == NAPPE_CHAMBER_BUBBLE_TRAP)
    usual = fmin (usual, TRAP_LENGTH);
  *share = (Share){ usual, old - thickness - usual, 0 };
  gboolean any = nappe_assembly_span_in (build, catalogue, beside, &from, &to);
  /* What reached through the walls before is not held back by a new one. */
  if (any && from >= 0 && to <= old)
    {
      share->length = fmin (usual, old - thickness - (to - from) - BESIDE_WALL);
      share->left = old - thickness - share->length;
      share->shift = fmax (0, right ? to + BESIDE_WALL - share->left : share->length + thickness + BESIDE_WALL - from);
      share->shift = right ? -fmin (share->shift, from) : fmin (share->shift, old - to);
    }
  if (share->length >= LEAST_LENGTH)
    return TRUE;
  return nappe_assembly_fail (
      error, NAPPE_ASSEMBLY_ERROR_ROOM,
      /* Translators: %s is a chamber. */
      g_strdup_printf (usual < LEAST_LENGTH ? _("“%s” is too short to be divided")
                                            : _("What stands in “%s” leaves no room for another chamber: make it "
                                                 "longer first, or put that elsewhere"),
                       nappe_part_display_name (beside)));
}

NappeChamber *
nappe_assembly_add_chamber (NappeBuild *build, NappeCatalogue *catalogue, NappePart *beside, gboolean right,
                            NappeChamberRole role, GError **error)
{
  NappeSump *sump = NAPPE_BUILD_SUMP (build);
  guint index;
  g_autofree char *label = NULL;

  if (!NAPPE_IS_CHAMBER (beside) || !g_ptr_array_find (sump->chambers, beside, &index))
    {
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT, g_strdup (_("Pick the chamber that gives way first")));
      return NULL;
    }
  double thickness = wall_thickness (sump);
  Share share;
  if (!share_out (build, catalogue, beside, right, role, thickness, &share, error))
    return NULL;
  g_autoptr (NappeChamber) chamber = g_object_new (NAPPE_TYPE_CHAMBER, NULL);
  g_autoptr (NappeBaffle) wall = g_object_new (NAPPE_TYPE_BAFFLE, NULL);
  nappe_assembly_name (build, NAPPE_PART (chamber), name_of_chamber (role));
  nappe_assembly_write_number (NAPPE_PART (chamber), "role", role);
  nappe_assembly_write_number (NAPPE_PART (chamber), "length", share.length);
  nappe_assembly_write_number (NAPPE_PART (wall), "thickness", thickness);
  nappe_assembly_write_number (NAPPE_PART (wall), "top_height", wall_top (build, index, right));
  /* Translators: label of a step to undo; %s is the name of a part. */
  label = g_strdup_printf (_("Add “%s”"), nappe_part_display_name (NAPPE_PART (chamber)));
  nappe_build_begin (build, label);
  gboolean done = shift_places (build, nappe_part_get_id (beside), share.shift, error)
                  && nappe_build_set_number (build, beside, "length", share.left, error)
                  && nappe_build_insert (build, NAPPE_PART (sump), "chambers", right ? index + 1 : index,
                                         NAPPE_PART (chamber), error)
                  && nappe_build_insert (build, NAPPE_PART (sump), "baffles", index, NAPPE_PART (wall), error)
                  && (right || hold_places (build, nappe_part_get_id (beside), share.length + thickness, error))
                  && lead_into (build, catalogue, nappe_part_get_id (beside), error);
  return nappe_assembly_end (build, done) ? chamber : NULL;
}

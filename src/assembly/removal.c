/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Taking parts away, with what makes no sense without them. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

gboolean
nappe_assembly_can_remove (NappePart *part)
{
  guint index;
  const NappeSlot *slot = nappe_part_place (part, &index);

  return slot != NULL && !slot->single;
}

/* ---- references ---- */

typedef struct
{
  NappeBuild *build;
  const char *from, *to;
  GError **error;
  gboolean done;
} Redirection;

static void
redirect_part (NappePart *part, gpointer user_data)
{
  Redirection *self = user_data;
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; self->done && i < klass->n_fields; i++)
    if (klass->fields[i].type == NAPPE_FIELD_REFERENCE && g_str_equal (nappe_part_text (part, &klass->fields[i]), self->from))
      self->done = nappe_build_set_text (self->build, part, klass->fields[i].name, self->to, self->error);
}

/* Notes and answers about a part that goes are about it alone. */
static gboolean
redirect_to_neighbour (NappeBuild *build, const char *from, const char *to, GError **error)
{
  Redirection redirection = { build, from, to, error, TRUE };

  for (guint i = 0; i < build->drains->len; i++)
    nappe_part_visit (build->drains->pdata[i], redirect_part, &redirection);
  for (guint i = 0; i < build->returns->len; i++)
    nappe_part_visit (build->returns->pdata[i], redirect_part, &redirection);
  for (guint i = 0; i < build->vessels->len; i++)
    nappe_part_visit (build->vessels->pdata[i], redirect_part, &redirection);
  for (guint i = 0; i < build->equipment->len; i++)
    nappe_part_visit (build->equipment->pdata[i], redirect_part, &redirection);
  return redirection.done;
}

/* ---- chambers and walls ---- */

/* Moves what stands in a chamber by a length [m]. */
static gboolean
shift_contents (NappeBuild *build, const char *chamber, double by, GError **error)
{
  gboolean done = TRUE;

  for (guint i = 0; done && i < build->equipment->len; i++)
    {
      NappeEquipment *part = build->equipment->pdata[i];
      if (g_str_equal (part->where, chamber))
        done = nappe_build_set_number (build, NAPPE_PART (part), "x", part->x + by, error);
    }
  for (guint i = 0; done && i < build->returns->len; i++)
    {
      NappePart *pump = NAPPE_RETURN_LINE (build->returns->pdata[i])->pump;
      if (g_str_equal (NAPPE_PUMP (pump)->chamber, chamber))
        done = nappe_build_set_number (build, pump, "x", NAPPE_PUMP (pump)->x + by, error);
    }
  return done;
}

/* Joins a chamber and a neighbour, which keeps its role and takes over all that stood in it. */
static gboolean
merge_chamber (NappeBuild *build, guint index, guint neighbour, GError **error)
{
  NappeSump *sump = NAPPE_BUILD_SUMP (build);
  NappePart *leaving = sump->chambers->pdata[index], *staying = sump->chambers->pdata[neighbour];
  guint between = MIN (index, neighbour);
  NappePart *wall = between < sump->baffles->len ? sump->baffles->pdata[between] : NULL;
  double thickness = wall != NULL ? NAPPE_BAFFLE (wall)->thickness : 0;
  double lengths[] = { NAPPE_CHAMBER (leaving)->length, NAPPE_CHAMBER (staying)->length };
  const char *from = nappe_part_get_id (leaving), *to = nappe_part_get_id (staying);
  gboolean left_one = index < neighbour;

  return shift_contents (build, left_one ? to : from, lengths[left_one ? 0 : 1] + thickness, error)
         && redirect_to_neighbour (build, from, to, error)
         && nappe_build_set_number (build, staying, "length", lengths[0] + lengths[1] + thickness, error)
         && (wall == NULL || nappe_build_remove (build, wall, error)) && nappe_build_remove (build, leaving, error);
}

static gboolean
remove_chamber (NappeBuild *build, NappePart *chamber, GError **error)
{
  GPtrArray *chambers = NAPPE_BUILD_SUMP (build)->chambers;
  guint last = nappe_assembly_return_chamber (build), index;

  if (!g_ptr_array_find (chambers, chamber, &index))
    return nappe_build_remove (build, chamber, error);
  if (chambers->len < 2)
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT, g_strdup (_("A sump needs a chamber: this is its last one")));
  if (index == last)
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                                g_strdup (_("The sump needs its return chamber: give that role to another chamber first")));
  /* Its water went towards the return chamber: that way lies who takes over. */
  gboolean to_right = last != G_MAXUINT ? index < last : index + 1 < chambers->len;
  return merge_chamber (build, index, to_right ? index + 1 : index - 1, error);
}

static gboolean
remove_wall (NappeBuild *build, NappePart *wall, GError **error)
{
  NappeSump *sump = NAPPE_BUILD_SUMP (build);
  guint last = nappe_assembly_return_chamber (build), index;

  if (!g_ptr_array_find (sump->baffles, wall, &index) || index + 1 >= sump->chambers->len)
    return nappe_build_remove (build, wall, error);
  gboolean left_goes = last == G_MAXUINT || index < last;
  return merge_chamber (build, left_goes ? index : index + 1, left_goes ? index + 1 : index, error);
}

/* ---- lines ---- */

static gboolean
remove_all_into (NappeBuild *build, GPtrArray *lines, const char *id, GError **error)
{
  for (guint i = lines->len; i > 0; i--)
    {
      GPtrArray *outlets = nappe_part_list (lines->pdata[i - 1], nappe_part_find_slot (lines->pdata[i - 1], "outlets"));
      gboolean all = outlets->len > 0;
      for (guint o = 0; o < outlets->len; o++)
        all = all && g_str_equal (NAPPE_OUTLET (outlets->pdata[o])->into, id);
      if (all && !nappe_build_remove (build, lines->pdata[i - 1], error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
remove_box (NappeBuild *build, NappePart *box, GError **error)
{
  for (guint i = build->drains->len; i > 0; i--)
    if (g_str_equal (NAPPE_DRAIN (build->drains->pdata[i - 1])->overflow, nappe_part_get_id (box))
        && !nappe_build_remove (build, build->drains->pdata[i - 1], error))
      return FALSE;
  return redirect_to_neighbour (build, nappe_part_get_id (box), nappe_part_get_id (build->tank), error)
         && nappe_build_remove (build, box, error);
}

static gboolean
remove_vessel (NappeBuild *build, NappePart *vessel, GError **error)
{
  for (guint i = build->equipment->len; i > 0; i--)
    if (g_str_equal (NAPPE_EQUIPMENT (build->equipment->pdata[i - 1])->where, nappe_part_get_id (vessel))
        && !nappe_build_remove (build, build->equipment->pdata[i - 1], error))
      return FALSE;
  return remove_all_into (build, build->returns, nappe_part_get_id (vessel), error) && nappe_build_remove (build, vessel, error);
}

/* The other line that ends in a tee, or NULL. */
static NappePart *
line_that_joins (NappeBuild *build, const char *tee)
{
  for (guint i = 0; i < build->returns->len; i++)
    {
      const NappeReturnLine *line = build->returns->pdata[i];
      for (guint o = 0; o < line->outlets->len; o++)
        if (g_str_equal (NAPPE_OUTLET (line->outlets->pdata[o])->into, tee))
          return build->returns->pdata[i];
    }
  return NULL;
}

static gboolean
remove_branches (NappeBuild *build, NappePart *owner, const char *tee, GError **error)
{
  const NappeSlot *slot = nappe_part_find_slot (owner, "outlets");
  GPtrArray *outlets = slot != NULL ? nappe_part_list (owner, slot) : NULL;

  for (guint i = outlets != NULL ? outlets->len : 0; i > 0; i--)
    if (g_str_equal (NAPPE_OUTLET (outlets->pdata[i - 1])->tee, tee)
        && !nappe_build_remove (build, outlets->pdata[i - 1], error))
      return FALSE;
  return TRUE;
}

/* Two pipes of one item and direction that meet are one. */
static gboolean
weld (NappeBuild *build, GPtrArray *run, guint index, GError **error)
{
  if (index == 0 || index >= run->len)
    return TRUE;
  NappePiece *one = run->pdata[index - 1], *other = run->pdata[index];
  if (!(one->length > 0) || !(other->length > 0) || one->toward != other->toward || !g_str_equal (one->item, other->item)
      || fabs (one->fall * other->length - other->fall * one->length) > 1e-6)
    return TRUE;
  return nappe_build_set_number (build, NAPPE_PART (one), "length", one->length + other->length, error)
         && nappe_build_set_number (build, NAPPE_PART (one), "fall", one->fall + other->fall, error)
         && nappe_build_remove (build, NAPPE_PART (other), error);
}

static gboolean
remove_piece (NappeBuild *build, NappePart *piece, GError **error)
{
  NappePart *owner = nappe_part_get_owner (piece), *joins = line_that_joins (build, nappe_part_get_id (piece));
  guint index;
  GPtrArray *run = nappe_part_list (owner, nappe_part_place (piece, &index));
  gboolean pipe = NAPPE_PIECE (piece)->length > 0;

  if (joins != NULL)
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                                /* Translators: %s is a return line. */
                                g_strdup_printf (_("“%s” joins there: lead it elsewhere first"),
                                                 nappe_part_display_name (joins)));
  return remove_branches (build, owner, nappe_part_get_id (piece), error) && nappe_build_remove (build, piece, error)
         && (pipe || weld (build, run, index, error));
}

/* The outlet whose tee is nearest to the trunk's end; NULL: none has a tee. *tee: index of it in the run. */
static NappePart *
last_branch (GPtrArray *run, GPtrArray *outlets, guint *tee)
{
  for (guint i = run->len; i > 0; i--)
    for (guint o = 0; o < outlets->len; o++)
      if (g_str_equal (NAPPE_OUTLET (outlets->pdata[o])->tee, nappe_part_get_id (run->pdata[i - 1])))
        {
          *tee = i - 1;
          return outlets->pdata[o];
        }
  return NULL;
}

/* The trunk's end goes: it ends at its last tee, which becomes an elbow, and that branch goes on from there. */
static gboolean
remove_end (NappeBuild *build, NappeCatalogue *catalogue, NappePart *outlet, GError **error)
{
  NappePart *owner = nappe_part_get_owner (outlet);
  GPtrArray *run = nappe_part_list (owner, nappe_part_find_slot (owner, "run"));
  guint tee = 0;
  NappePart *branch = last_branch (run, nappe_part_list (owner, nappe_part_find_slot (owner, "outlets")), &tee);

  if (!nappe_build_remove (build, outlet, error))
    return FALSE;
  if (branch == NULL)
    return TRUE;
  while (run->len > tee + 1)
    if (!nappe_build_remove (build, run->pdata[run->len - 1], error))
      return FALSE;
  const NappeItem *item = nappe_catalogue_find (catalogue, NAPPE_PIECE (run->pdata[tee])->item);
  const NappeItem *elbow = item != NULL && item->family != NULL
                               ? nappe_catalogue_match (catalogue, NAPPE_ITEM_FITTING, item->family, "elbow-90", item->nominal)
                               : NULL;
  return nappe_build_set_text (build, branch, "tee", "", error)
         && (elbow == NULL || nappe_build_set_text (build, run->pdata[tee], "item", elbow->id, error));
}

/* A branch goes with its tee. */
static gboolean
remove_outlet (NappeBuild *build, NappeCatalogue *catalogue, NappePart *outlet, GError **error)
{
  NappePart *owner = nappe_part_get_owner (outlet), *tee = nappe_build_find (build, NAPPE_OUTLET (outlet)->tee);
  GPtrArray *outlets = nappe_part_list (owner, nappe_part_find_slot (owner, "outlets"));

  if (outlets->len < 2)
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                                g_strdup (_("This is the line’s only outlet: remove the line, or lead the outlet elsewhere")));
  if (tee != NULL)
    return remove_piece (build, tee, error);
  return remove_end (build, catalogue, outlet, error);
}

/* Pipes that end in a sock end in its chamber without it. */
static gboolean
remove_equipment (NappeBuild *build, NappePart *part, GError **error)
{
  const char *where = NAPPE_EQUIPMENT (part)->where;

  return (*where == '\0' || redirect_to_neighbour (build, nappe_part_get_id (part), where, error))
         && nappe_build_remove (build, part, error);
}

static gboolean
remove_any (NappeBuild *build, NappeCatalogue *catalogue, NappePart *part, GError **error)
{
  if (NAPPE_IS_CHAMBER (part))
    return remove_chamber (build, part, error);
  if (NAPPE_IS_BAFFLE (part))
    return remove_wall (build, part, error);
  if (NAPPE_IS_OVERFLOW (part))
    return remove_box (build, part, error);
  if (NAPPE_IS_SIDE_VESSEL (part))
    return remove_vessel (build, part, error);
  if (NAPPE_IS_OUTLET (part))
    return remove_outlet (build, catalogue, part, error);
  if (NAPPE_IS_EQUIPMENT (part))
    return remove_equipment (build, part, error);
  if (NAPPE_IS_PIECE (part))
    return remove_piece (build, part, error);
  return nappe_build_remove (build, part, error);
}

gboolean
nappe_assembly_remove (NappeBuild *build, NappeCatalogue *catalogue, NappePart *part, GError **error)
{
  g_autofree char *label = NULL;

  if (!nappe_assembly_can_remove (part))
    return nappe_build_remove (build, part, error);
  /* Translators: label of a step to undo; %s is the name of a part. */
  label = g_strdup_printf (_("Remove “%s”"), nappe_part_display_name (part));
  nappe_build_begin (build, label);
  return nappe_assembly_end (build, remove_any (build, catalogue, part, error));
}

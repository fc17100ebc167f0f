/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Another item in the place of one, and another pipe for a whole line. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>

static gboolean
is_pipe (const NappeItem *item)
{
  return item != NULL && (item->kind == NAPPE_ITEM_PIPE || item->kind == NAPPE_ITEM_HOSE);
}

/* ---- one piece ---- */

NappePart *
nappe_assembly_line_of (NappePart *part)
{
  while (part != NULL && !NAPPE_IS_DRAIN (part) && !NAPPE_IS_RETURN_LINE (part))
    part = nappe_part_get_owner (part);
  return part;
}

static gboolean
is_tee (const NappeItem *item)
{
  return item != NULL && g_strcmp0 (item->shape, "tee") == 0;
}

/* Whether an outlet or another line begins or ends at a piece. */
static gboolean
carries_branch (NappeBuild *build, NappePart *piece)
{
  const char *id = nappe_part_get_id (piece);

  for (guint list = 0; list < 2; list++)
    for (guint i = 0; i < (list == 0 ? build->drains : build->returns)->len; i++)
      {
        NappePart *line = (list == 0 ? build->drains : build->returns)->pdata[i];
        GPtrArray *outlets = nappe_part_list (line, nappe_part_find_slot (line, "outlets"));
        for (guint o = 0; o < outlets->len; o++)
          if (g_str_equal (NAPPE_OUTLET (outlets->pdata[o])->tee, id) || g_str_equal (NAPPE_OUTLET (outlets->pdata[o])->into, id))
            return TRUE;
      }
  return FALSE;
}

static gboolean
swap_piece (NappeMending *self, NappePart *piece, const NappeItem *item)
{
  const NappeItem *old = nappe_mending_item (self, piece);
  NappePart *line = nappe_assembly_line_of (piece);

  if (item->kind == NAPPE_ITEM_PUMP || item->kind == NAPPE_ITEM_EQUIPMENT || (old != NULL && is_pipe (old) != is_pipe (item)))
    return nappe_assembly_fail (self->error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                                g_strdup (_("A pipe gives way to a pipe or hose, a fitting or valve to another one")));
  if (is_tee (old) && !is_tee (item) && carries_branch (self->build, piece))
    return nappe_assembly_fail (self->error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                                g_strdup (_("A branch begins or ends at this tee: take it out first")));
  return nappe_mending_set_item (self, piece, item) && (line == NULL || nappe_mending_join (self, line));
}

/* ---- a whole line ---- */

static const NappeItem *
pipe_in (NappeCatalogue *catalogue, GPtrArray *run)
{
  for (guint i = 0; i < run->len; i++)
    {
      const NappeItem *item = nappe_catalogue_find (catalogue, NAPPE_PIECE (run->pdata[i])->item);
      if (is_pipe (item))
        return item;
    }
  return NULL;
}

const NappeItem *
nappe_assembly_line_pipe (NappeCatalogue *catalogue, NappePart *part)
{
  const NappeSlot *slot = nappe_part_find_slot (part, "run");
  const NappeItem *pipe = slot != NULL ? pipe_in (catalogue, nappe_part_list (part, slot)) : NULL;

  /* A line may be all branches. */
  slot = pipe == NULL ? nappe_part_find_slot (part, "outlets") : NULL;
  for (guint i = 0; slot != NULL && pipe == NULL && i < nappe_part_list (part, slot)->len; i++)
    pipe = pipe_in (catalogue, NAPPE_OUTLET (nappe_part_list (part, slot)->pdata[i])->run);
  return pipe;
}

/* The item that is to new pipe what one is to the old: itself where it has nothing to do with it; NULL with an error. */
static const NappeItem *
in_new_size (NappeMending *self, const NappeItem *item, const NappeItem *old, const NappePlumbing *plumbing)
{
  const char *family = old->fittings_family != NULL ? old->fittings_family : old->family;

  if (item == NULL || g_strcmp0 (item->nominal, old->nominal) != 0)
    return item;
  if (is_pipe (item))
    return item->kind == old->kind && g_strcmp0 (item->family, old->family) == 0 ? plumbing->pipe : item;
  if (nappe_item_is_joiner (item) || g_strcmp0 (item->family, family) != 0 || plumbing->pipe->kind == NAPPE_ITEM_HOSE)
    return item;
  return nappe_plumbing_fit (plumbing, item->kind, item->kind == NAPPE_ITEM_VALVE ? item->valve_kind : item->shape, self->error);
}

static gboolean
resize_run (NappeMending *self, GPtrArray *run, const NappeItem *old, const NappePlumbing *plumbing)
{
  for (guint i = 0; i < run->len; i++)
    {
      const NappeItem *item = nappe_mending_item (self, run->pdata[i]), *other = in_new_size (self, item, old, plumbing);
      if (item != NULL && other == NULL)
        return FALSE;
      if (item != other && !nappe_mending_set_item (self, run->pdata[i], other))
        return FALSE;
    }
  return TRUE;
}

static gboolean
resize (NappeMending *self, NappePart *part, const NappePlumbing *plumbing)
{
  const NappeItem *old = nappe_assembly_line_pipe (self->catalogue, part);
  NappePart *line = nappe_assembly_line_of (part);
  const NappeSlot *outlets = nappe_part_find_slot (part, "outlets");

  if (old == NULL || line == NULL)
    return nappe_assembly_fail (self->error, NAPPE_ASSEMBLY_ERROR_UNFIT, g_strdup (_("The line has no pipe")));
  if (!resize_run (self, nappe_part_list (part, nappe_part_find_slot (part, "run")), old, plumbing))
    return FALSE;
  for (guint i = 0; outlets != NULL && i < nappe_part_list (part, outlets)->len; i++)
    if (!resize_run (self, NAPPE_OUTLET (nappe_part_list (part, outlets)->pdata[i])->run, old, plumbing))
      return FALSE;
  if (!nappe_mending_join (self, line))
    return FALSE;
  /* Its valve was set for the old size. */
  return !NAPPE_IS_DRAIN (line) || NAPPE_DRAIN (line)->role != NAPPE_DRAIN_SIPHON
         || nappe_assembly_tune (self->build, self->catalogue, NAPPE_DRAIN (line)->overflow, self->error);
}

static NappeMending
begin (NappeBuild *build, NappeCatalogue *catalogue, NappePart *part, GError **error)
{
  /* Translators: label of a step to undo; %s is the name of a part. */
  g_autofree char *label = g_strdup_printf (_("Replace “%s”"), nappe_part_display_name (part));

  nappe_build_begin (build, label);
  return (NappeMending){ build, catalogue, g_hash_table_new (NULL, NULL), error };
}

static gboolean
end (NappeMending *self, gboolean done)
{
  g_hash_table_unref (self->touched);
  return nappe_assembly_end (self->build, done);
}

gboolean
nappe_assembly_resize_line (NappeBuild *build, NappeCatalogue *catalogue, NappePart *line, const char *pipe, GError **error)
{
  NappePlumbing plumbing;

  if (!nappe_plumbing_begin (&plumbing, catalogue, pipe, error))
    return FALSE;
  NappeMending swap = begin (build, catalogue, line, error);
  return end (&swap, resize (&swap, line, &plumbing));
}

gboolean
nappe_assembly_swap_item (NappeBuild *build, NappeCatalogue *catalogue, NappePart *part, const char *id, GError **error)
{
  if (NAPPE_IS_PUMP (part) && *id != '\0')
    return nappe_assembly_replace_pump (build, catalogue, NAPPE_PUMP (part), id, error);
  if (!NAPPE_IS_PIECE (part))
    return nappe_build_set_text (build, part, "item", id, error);
  const NappeItem *item = nappe_catalogue_find (catalogue, id);
  if (item == NULL)
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ITEM, g_strdup_printf (_("The catalogue has no item “%s”"), id));
  NappeMending swap = begin (build, catalogue, part, error);
  return end (&swap, swap_piece (&swap, part, item));
}

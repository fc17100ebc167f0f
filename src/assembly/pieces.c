/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces into a run. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>

/* A shorter pipe is not cut in two; how long a new pipe is [m]. */
#define LEAST_CUT 0.02
#define NEW_PIPE 0.1

gboolean
nappe_assembly_has_run (NappePart *part)
{
  return NAPPE_IS_PIECE (part) || nappe_part_find_slot (part, "run") != NULL;
}

/* The nearest pipe before an index of a run, else behind it; of a branch also that of the trunk. NULL: none. */
static NappePiece *
pipe_near (NappeCatalogue *catalogue, NappePart *owner, guint index)
{
  GPtrArray *run = nappe_part_list (owner, nappe_part_find_slot (owner, "run"));

  for (guint i = 0; i < 2 * run->len; i++)
    {
      guint at = i < index ? index - 1 - i : i;
      const NappeItem *item = at < run->len ? nappe_catalogue_find (catalogue, NAPPE_PIECE (run->pdata[at])->item) : NULL;
      if (item != NULL && (item->kind == NAPPE_ITEM_PIPE || item->kind == NAPPE_ITEM_HOSE))
        return run->pdata[at];
    }
  NappePart *trunk = NAPPE_IS_OUTLET (owner) ? nappe_part_get_owner (owner) : NULL;
  return trunk != NULL ? pipe_near (catalogue, trunk, nappe_part_list (trunk, nappe_part_find_slot (trunk, "run"))->len) : NULL;
}

/* The item in the size of a pipe; itself where it has no sizes of pipe, or joins two. NULL with an error. */
static const NappeItem *
in_size_of (NappeCatalogue *catalogue, const NappeItem *item, const NappePiece *pipe, GError **error)
{
  const NappeItem *model = pipe != NULL ? nappe_catalogue_find (catalogue, pipe->item) : NULL;
  const char *detail = item->kind == NAPPE_ITEM_VALVE ? item->valve_kind : item->shape;
  NappePlumbing plumbing;

  if (model == NULL || model->kind != NAPPE_ITEM_PIPE || item->bore_out != item->bore || g_strcmp0 (item->shape, "barb") == 0
      || (item->kind != NAPPE_ITEM_FITTING && item->kind != NAPPE_ITEM_VALVE && item->kind != NAPPE_ITEM_BULKHEAD))
    return item;
  if (!nappe_plumbing_begin (&plumbing, catalogue, model->id, error))
    return NULL;
  if (g_strcmp0 (item->family, plumbing.pipe->fittings_family) == 0 && g_strcmp0 (item->nominal, model->nominal) == 0)
    return item;
  return nappe_plumbing_fit (&plumbing, item->kind, item->kind == NAPPE_ITEM_BULKHEAD ? NULL : detail, error);
}

/* Cuts a pipe in its middle: the second half stands behind it. */
static gboolean
cut (NappeBuild *build, NappePiece *pipe, guint index, GError **error)
{
  NappePart *owner = nappe_part_get_owner (NAPPE_PART (pipe));
  g_autoptr (NappePart) other = nappe_part_copy (NAPPE_PART (pipe));
  double length = pipe->length, fall = pipe->fall;

  nappe_part_set_id (other, "");
  nappe_part_set_name (other, "");
  return nappe_build_set_number (build, NAPPE_PART (pipe), "length", 0.5 * length, error)
         && nappe_build_set_number (build, NAPPE_PART (pipe), "fall", 0.5 * fall, error)
         && nappe_build_insert (build, owner, "run", index + 1, other, error)
         && nappe_build_set_number (build, other, "length", length - pipe->length, error)
         && nappe_build_set_number (build, other, "fall", fall - pipe->fall, error);
}

NappePiece *
nappe_assembly_add_piece (NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, const char *id, GError **error)
{
  const NappeItem *item = nappe_catalogue_find (catalogue, id);
  NappePart *owner = NAPPE_IS_PIECE (at) ? nappe_part_get_owner (at) : at;
  guint index = 0;

  if (owner == NULL || !nappe_assembly_has_run (owner) || item == NULL || item->kind == NAPPE_ITEM_PUMP
      || item->kind == NAPPE_ITEM_EQUIPMENT)
    {
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                           g_strdup (_("Pipes, fittings and valves go into a line: pick one, or a piece of one")));
      return NULL;
    }
  gboolean is_pipe = item->kind == NAPPE_ITEM_PIPE || item->kind == NAPPE_ITEM_HOSE;
  if (NAPPE_IS_PIECE (at))
    nappe_part_place (at, &index);
  else
    index = nappe_part_list (owner, nappe_part_find_slot (owner, "run"))->len;
  NappePiece *near = pipe_near (catalogue, owner, NAPPE_IS_PIECE (at) ? index + 1 : index);
  item = in_size_of (catalogue, item, near, error);
  if (item == NULL)
    return NULL;
  gboolean cuts = NAPPE_IS_PIECE (at) && !is_pipe && NAPPE_PIECE (at)->length >= LEAST_CUT;
  g_autoptr (NappePiece) piece = g_object_new (NAPPE_TYPE_PIECE, NULL);
  nappe_assembly_write_text (NAPPE_PART (piece), "item", item->id);
  if (is_pipe)
    {
      nappe_assembly_write_number (NAPPE_PART (piece), "length", NEW_PIPE);
      nappe_assembly_write_number (NAPPE_PART (piece), "toward", near != NULL ? near->toward : NAPPE_TOWARD_DOWN);
    }
  g_autofree char *name = nappe_item_label (item, NAPPE_UNITS_METRIC);
  /* Translators: label of a step to undo; %s is an item of the catalogue. */
  g_autofree char *label = g_strdup_printf (_("Add “%s”"), name);
  nappe_build_begin (build, label);
  gboolean done = (!cuts || cut (build, NAPPE_PIECE (at), index, error))
                  && nappe_build_insert (build, owner, "run", NAPPE_IS_PIECE (at) ? index + 1 : index, NAPPE_PART (piece), error);
  return nappe_assembly_end (build, done) ? piece : NULL;
}

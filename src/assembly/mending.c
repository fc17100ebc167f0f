/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joints beside pieces that were changed: where two ends join no more, a reducer, a barb or whatever the catalogue has to join
 * both is put between them; one that stands there already is changed, or taken out where it is needed no more. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>

#include "catalogue/item-ends.h"

const NappeItem *
nappe_mending_item (const NappeMending *self, gpointer piece)
{
  return nappe_catalogue_find (self->catalogue, NAPPE_PIECE (piece)->item);
}

gboolean
nappe_mending_set_item (NappeMending *self, gpointer piece, const NappeItem *item)
{
  g_hash_table_add (self->touched, piece);
  return nappe_build_set_text (self->build, piece, "item", item->id, self->error);
}

static gboolean
misfits (const NappeItemEnd *one, const NappeItemEnd *other)
{
  NappeJointFit fit = nappe_ends_join (one, other, NAPPE_HOSE_PLAY);

  return fit != NAPPE_JOINT_FITS && fit != NAPPE_JOINT_UNKNOWN && fit != NAPPE_JOINT_NOTHING;
}

static gboolean
are_alike (const NappeItemEnd *one, const NappeItemEnd *other)
{
  return one->method == other->method && one->standard == other->standard && one->size == other->size;
}

/* Ends of an item as it stands behind `open`: it may be turned round. FALSE: it has none. */
static gboolean
ends_behind (const NappeItem *item, const NappeItemEnd *open, NappeItemEnd *in, NappeItemEnd *out)
{
  NappeItemEnd ends[NAPPE_ITEM_ENDS];

  if (item == NULL || nappe_item_ends (item, ends) < 2)
    return FALSE;
  gboolean turned = misfits (open, &ends[0]) && !misfits (open, &ends[1]);
  *in = ends[turned ? 1 : 0];
  *out = ends[turned ? 0 : 1];
  return TRUE;
}

static NappeItemEnd
end_of_branch (const NappeItem *tee)
{
  NappeItemEnd ends[NAPPE_ITEM_ENDS];

  return nappe_item_ends (tee, ends) == 3 ? ends[2] : (NappeItemEnd){ .method = NAPPE_END_UNKNOWN };
}

gboolean
nappe_item_is_joiner (const NappeItem *item)
{
  NappeItemEnd ends[NAPPE_ITEM_ENDS];

  return item != NULL && item->kind == NAPPE_ITEM_FITTING && nappe_item_ends (item, ends) == 2 && !are_alike (&ends[0], &ends[1])
         && ends[0].method != NAPPE_END_NOTHING && ends[1].method != NAPPE_END_NOTHING;
}

static gboolean
refuse (NappeMending *self, const NappeItem *one, const NappeItem *other)
{
  g_autofree char *name = one != NULL ? nappe_item_label (one, NAPPE_UNITS_METRIC) : NULL;
  g_autofree char *other_name = nappe_item_label (other, NAPPE_UNITS_METRIC);

  return nappe_assembly_fail (
      self->error, NAPPE_ASSEMBLY_ERROR_ITEM,
      name != NULL
          /* Translators: two items of the catalogue, with their sizes. */
          ? g_strdup_printf (_("The catalogue has nothing that joins “%s” to “%s”"), name, other_name)
          /* Translators: an item of the catalogue, with its size. */
          : g_strdup_printf (_("The catalogue has nothing that joins “%s” to what stands before it"), other_name));
}

/* The ends of a joiner, the one that joins `from` first. FALSE: neither does. */
static gboolean
turn_to (const NappeItem *joiner, const NappeItemEnd *from, NappeItemEnd ends[NAPPE_ITEM_ENDS])
{
  if (nappe_item_ends (joiner, ends) != 2)
    return FALSE;
  if (nappe_ends_join (from, &ends[0], NAPPE_HOSE_PLAY) == NAPPE_JOINT_FITS)
    return TRUE;
  NappeItemEnd first = ends[0];
  ends[0] = ends[1];
  ends[1] = first;
  return nappe_ends_join (from, &ends[0], NAPPE_HOSE_PLAY) == NAPPE_JOINT_FITS;
}

/* One item that joins two ends, or two: not every pair of sizes has a reducer of its own. FALSE: there is nothing. */
static gboolean
find_joiners (const NappeMending *self, const char *family, const NappeItemEnd *from, const NappeItemEnd *to,
              const NappeItem *found[2])
{
  NappeItemEnd ends[NAPPE_ITEM_ENDS];

  found[0] = nappe_catalogue_adapter (self->catalogue, family, from, to, NAPPE_HOSE_PLAY);
  found[1] = NULL;
  for (guint i = 0; found[0] == NULL && i < nappe_catalogue_count (self->catalogue); i++)
    {
      const NappeItem *item = nappe_catalogue_nth (self->catalogue, i);
      if (!nappe_item_is_joiner (item) || g_strcmp0 (item->family, family) != 0 || !turn_to (item, from, ends))
        continue;
      found[1] = nappe_catalogue_adapter (self->catalogue, family, &ends[1], to, NAPPE_HOSE_PLAY);
      if (found[1] != NULL)
        found[0] = item;
    }
  return found[0] != NULL;
}

static gboolean
insert_joiner (NappeMending *self, NappePart *owner, guint index, const NappeItem *item)
{
  g_autoptr (NappePiece) piece = g_object_new (NAPPE_TYPE_PIECE, NULL);

  nappe_assembly_write_text (NAPPE_PART (piece), "item", item->id);
  return nappe_build_insert (self->build, owner, "run", index, NAPPE_PART (piece), self->error);
}

/* Puts what joins two ends into a run at an index; a joiner that stands before it is changed or, where the ends join without,
 * taken out. before_joiner, open: the ends before and behind that one. next: of what stands behind the place; *index: behind what
 * was put in. */
static gboolean
join (NappeMending *self, NappePart *owner, guint *index, const NappeItemEnd *before_joiner, const NappeItemEnd *open,
      const NappeItemEnd *next, const NappeItem *next_item)
{
  GPtrArray *run = nappe_part_list (owner, nappe_part_find_slot (owner, "run"));
  gpointer previous = *index > 0 ? run->pdata[*index - 1] : NULL;
  gboolean change = previous != NULL && nappe_item_is_joiner (nappe_mending_item (self, previous));
  const NappeItemEnd *from = change ? before_joiner : open, *to = change && next->method == NAPPE_END_UNKNOWN ? open : next;
  const NappeItem *found[2];

  if (change && !misfits (from, to))
    {
      (*index)--;
      return nappe_build_remove (self->build, previous, self->error);
    }
  if (!find_joiners (self, next_item->family, from, to, found))
    return refuse (self,
                   *index > (change ? 1 : 0) ? nappe_mending_item (self, run->pdata[*index - (change ? 2 : 1)]) : NULL,
                   next_item);
  if (change ? !nappe_mending_set_item (self, previous, found[0]) : !insert_joiner (self, owner, (*index)++, found[0]))
    return FALSE;
  return found[1] == NULL || insert_joiner (self, owner, (*index)++, found[1]);
}

/* Walks the run of a part from an open end and joins what was changed with what stands beside it, and its end with a tee of
 * another line (NULL: none). */
static gboolean
mend (NappeMending *self, NappePart *owner, NappeItemEnd open, NappePiece *tee)
{
  GPtrArray *run = nappe_part_list (owner, nappe_part_find_slot (owner, "run"));
  NappeItemEnd before_joiner = { .method = NAPPE_END_UNKNOWN }, in, out;
  gboolean touched = FALSE, loose = FALSE;

  for (guint i = 0; i <= run->len; i++)
    {
      NappePiece *piece = i < run->len ? run->pdata[i] : tee;
      const NappeItem *item = piece != NULL ? nappe_mending_item (self, piece) : NULL;
      gboolean last_touched = touched, last_loose = loose;

      loose = FALSE;
      touched = piece != NULL && g_hash_table_contains (self->touched, piece);
      if (!ends_behind (item, &open, &in, &out))
        {
          open = (NappeItemEnd){ .method = NAPPE_END_UNKNOWN };
          continue;
        }
      if (i == run->len)
        in = end_of_branch (item);
      /* A joiner is looked at from what stands behind it. */
      gboolean wait = nappe_item_is_joiner (item) && i < run->len;
      if ((!wait && misfits (&open, &in) && (touched || last_touched)) || last_loose)
        {
          if (!join (self, owner, &i, &before_joiner, &open, &in, item))
            return FALSE;
        }
      if (i >= run->len)
        break;
      if (wait)
        {
          before_joiner = open;
          loose = misfits (&open, &in) && (touched || last_touched || i == 0);
          touched = touched || last_touched || loose;
        }
      open = out;
    }
  return TRUE;
}

static NappePiece *
tee_joined (const NappeMending *self, const NappeOutlet *outlet)
{
  NappePart *into = nappe_build_find (self->build, outlet->into);

  return into != NULL && NAPPE_IS_PIECE (into) ? NAPPE_PIECE (into) : NULL;
}

static NappeItemEnd
end_of_pump (const NappeMending *self, NappePart *line)
{
  const NappeItem *pump = NAPPE_IS_RETURN_LINE (line)
                              ? nappe_catalogue_find (self->catalogue, NAPPE_PUMP (NAPPE_RETURN_LINE (line)->pump)->item)
                              : NULL;

  return nappe_item_outlet_end (pump);
}

/* The end of the trunk that an outlet goes on from: a tee's branch, else the last piece's. */
static NappeItemEnd
end_of_trunk (const NappeMending *self, GPtrArray *run, const NappeOutlet *outlet)
{
  NappeItemEnd ends[NAPPE_ITEM_ENDS], unknown = { .method = NAPPE_END_UNKNOWN };

  for (guint i = run->len; i > 0; i--)
    {
      const NappeItem *item = nappe_mending_item (self, run->pdata[i - 1]);
      gboolean tee = g_str_equal (nappe_part_get_id (run->pdata[i - 1]), outlet->tee);
      if (*outlet->tee != '\0' && !tee)
        continue;
      guint n = item != NULL ? nappe_item_ends (item, ends) : 0;
      return n == 0 ? unknown : tee && n == 3 ? ends[2] : ends[1];
    }
  return unknown;
}

static gboolean
mend_line (NappeMending *self, NappePart *line)
{
  GPtrArray *run = nappe_part_list (line, nappe_part_find_slot (line, "run"));
  GPtrArray *outlets = nappe_part_list (line, nappe_part_find_slot (line, "outlets"));
  /* The one outlet of a line without branches may have no pieces: then the trunk's end joins what it leads to. */
  NappeOutlet *plain = outlets->len == 1 && NAPPE_OUTLET (outlets->pdata[0])->run->len == 0 ? outlets->pdata[0] : NULL;

  if (!mend (self, line, end_of_pump (self, line), plain != NULL ? tee_joined (self, plain) : NULL))
    return FALSE;
  for (guint i = 0; i < outlets->len; i++)
    {
      NappeOutlet *outlet = outlets->pdata[i];
      if (outlet != plain && !mend (self, NAPPE_PART (outlet), end_of_trunk (self, run, outlet), tee_joined (self, outlet)))
        return FALSE;
    }
  return TRUE;
}

/* The line, and those that join it. */
gboolean
nappe_mending_join (NappeMending *self, NappePart *line)
{
  if (!mend_line (self, line))
    return FALSE;
  for (guint i = 0; i < self->build->returns->len; i++)
    {
      GPtrArray *outlets = NAPPE_RETURN_LINE (self->build->returns->pdata[i])->outlets;
      gboolean joins = FALSE;
      for (guint o = 0; o < outlets->len; o++)
        {
          NappePiece *tee = tee_joined (self, outlets->pdata[o]);
          joins = joins || (tee != NULL && nappe_part_get_owner (NAPPE_PART (tee)) == line);
        }
      if (joins && self->build->returns->pdata[i] != line && !mend_line (self, self->build->returns->pdata[i]))
        return FALSE;
    }
  return TRUE;
}

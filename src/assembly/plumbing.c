/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pipes and what joins them, laid from point to point. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Shorter than this is no pipe: its fittings reach over it [m]. */
#define LEAST_PIPE 0.003
/* From the begin of an upright pipe to what stands in it, and from that to the next [m]. */
#define BEFORE_EARLY 0.12
#define BEFORE_LATE 0.06

GPtrArray *
nappe_plumbing_new_run (void)
{
  return g_ptr_array_new_with_free_func (g_object_unref);
}

gboolean
nappe_plumbing_begin (NappePlumbing *self, NappeCatalogue *catalogue, const char *pipe, GError **error)
{
  const NappeItem *item = nappe_catalogue_find (catalogue, pipe);

  *self = (NappePlumbing){ .catalogue = catalogue, .pipe = item };
  if (item == NULL || (item->kind != NAPPE_ITEM_PIPE && item->kind != NAPPE_ITEM_HOSE))
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ITEM,
                                /* Translators: %s is the id of a catalogue item. */
                                g_strdup_printf (_("The catalogue has no pipe “%s”"), pipe));
  if (item->kind == NAPPE_ITEM_HOSE)
    return TRUE;
  self->elbow = nappe_plumbing_fit (self, NAPPE_ITEM_FITTING, "elbow-90", error);
  return self->elbow != NULL;
}

const NappeItem *
nappe_plumbing_fit (const NappePlumbing *self, NappeItemKind kind, const char *detail, GError **error)
{
  const char *family = self->pipe->fittings_family != NULL ? self->pipe->fittings_family : self->pipe->family;
  const NappeItem *item = nappe_catalogue_match (self->catalogue, kind, family, detail, self->pipe->nominal);

  if (item == NULL)
    {
      g_autofree char *label = nappe_item_label (self->pipe, NAPPE_UNITS_METRIC);
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ITEM,
                           /* Translators: %s is a pipe with its size. */
                           g_strdup_printf (_("The catalogue lacks a part that joins “%s”: choose another size"), label));
    }
  return item;
}

static NappePiece *
new_piece (GPtrArray *run, const NappeItem *item)
{
  NappePiece *piece = g_object_new (NAPPE_TYPE_PIECE, NULL);

  nappe_assembly_write_text (NAPPE_PART (piece), "item", item->id);
  g_ptr_array_add (run, piece);
  return piece;
}

void
nappe_plumbing_add (GPtrArray *run, const NappeItem *item)
{
  new_piece (run, item);
}

void
nappe_plumbing_add_pipe (const NappePlumbing *self, GPtrArray *run, double length, NappeToward toward, double fall)
{
  if (length < LEAST_PIPE)
    return;
  NappePart *piece = NAPPE_PART (new_piece (run, self->pipe));

  nappe_assembly_write_number (piece, "length", round (length / NAPPE_ASSEMBLY_CUT) * NAPPE_ASSEMBLY_CUT);
  nappe_assembly_write_number (piece, "toward", toward);
  nappe_assembly_write_number (piece, "fall", fall);
}

/* An elbow where the way turns. */
static void
turn (const NappePlumbing *self, GPtrArray *run, int *before, int toward)
{
  if (*before >= 0 && *before != toward && self->elbow != NULL)
    nappe_plumbing_add (run, self->elbow);
  *before = toward;
}

static void
lead_upright (const NappePlumbing *self, GPtrArray *run, const NappeWay *way, double rise, gboolean first, gboolean last,
              int *before)
{
  NappeToward toward = rise > 0 ? NAPPE_TOWARD_UP : NAPPE_TOWARD_DOWN;
  double rest = fabs (rise);

  if (rest < LEAST_PIPE)
    return;
  turn (self, run, before, (int) toward);
  if (first && way->early != NULL)
    {
      double begin = fmin (BEFORE_EARLY, 0.5 * rest);
      nappe_plumbing_add_pipe (self, run, begin, toward, 0);
      nappe_plumbing_add (run, way->early);
      rest -= begin;
    }
  for (guint i = 0; last && i < G_N_ELEMENTS (way->late) && way->late[i] != NULL; i++)
    {
      double begin = fmin (BEFORE_LATE, 0.3 * rest);
      nappe_plumbing_add_pipe (self, run, begin, toward, 0);
      nappe_plumbing_add (run, way->late[i]);
      rest -= begin;
    }
  nappe_plumbing_add_pipe (self, run, rest, toward, 0);
}

/* A pipe sideways; returns by how much it falls [m]. */
static double
lead_level (const NappePlumbing *self, GPtrArray *run, double distance, NappeToward toward, double share, int *before)
{
  double fall = distance * share;

  if (distance < LEAST_PIPE)
    return 0;
  turn (self, run, before, (int) toward);
  nappe_plumbing_add_pipe (self, run, hypot (distance, fall), toward, fall);
  return fall;
}

void
nappe_plumbing_lead (const NappePlumbing *self, GPtrArray *run, const NappeWay *way)
{
  double dx = way->to.x - way->from.x, dy = way->to.y - way->from.y, z = way->via;
  int before = way->before;

  if (fabs (dx) < LEAST_PIPE && fabs (dy) < LEAST_PIPE)
    {
      lead_upright (self, run, way, way->to.z - way->from.z, TRUE, TRUE, &before);
      return;
    }
  lead_upright (self, run, way, way->via - way->from.z, TRUE, FALSE, &before);
  z -= lead_level (self, run, fabs (dx), dx > 0 ? NAPPE_TOWARD_RIGHT : NAPPE_TOWARD_LEFT, way->fall, &before);
  z -= lead_level (self, run, fabs (dy), dy > 0 ? NAPPE_TOWARD_BACK : NAPPE_TOWARD_FRONT, way->fall, &before);
  lead_upright (self, run, way, way->to.z - z, FALSE, TRUE, &before);
}

void
nappe_plumbing_take (NappePart *owner, GPtrArray *run)
{
  const NappeSlot *slot = nappe_part_find_slot (owner, "run");

  for (guint i = 0; i < run->len; i++)
    nappe_part_attach (owner, slot, G_MAXUINT, run->pdata[i]);
  g_ptr_array_unref (run);
}

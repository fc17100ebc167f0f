/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines that come from elsewhere, led to where they end here: a copy of a drain stands at another place of its box, or in a build
 * with another stand. A pipe that leads the way becomes longer or shorter; where none leads sideways, an upright one is cut and
 * led aside. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <math.h>

/* From the wall of a vessel, and under its water [m]. */
#define FROM_WALL 0.03
#define UNDER_WATER 0.005
/* Shorter pipes are not made, nor cut [m]. */
#define LEAST_PIPE 0.01
#define LEAST_CUT 0.05

typedef struct
{
  NappeBuild *build;
  NappeCatalogue *catalogue;
  NappePart *owner; /* of the run that is changed */
  GPtrArray *run;
  GError **error;
} Run;

/* The frame of what a line ends in, and about how high water stands in it [m]. FALSE: it is no vessel. */
static gboolean
find_vessel (NappeBuild *build, const NappeLayout *layout, const char *id, NappeFrame *frame, double *level)
{
  for (guint i = 0; i < layout->n_chambers; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (layout->chambers[i].part)), id))
      {
        *frame = layout->chambers[i].frame;
        *level = frame->floor + nappe_assembly_chamber_level (build, i);
        return TRUE;
      }
  *frame = layout->tank;
  *level = frame->rim;
  for (guint i = 0; i < layout->n_boxes; i++)
    *level = fmin (*level, layout->boxes[i].weir);
  return g_str_equal (nappe_part_get_id (build->tank), id);
}

static gboolean
leads (const NappePiece *piece, NappeToward one, NappeToward other)
{
  return piece->length > 0 && (piece->toward == (int) one || piece->toward == (int) other);
}

/* The longest pipe of a run that leads one way or the other; but for the first, on which an inlet may stand. NULL: none. */
static NappePiece *
longest (const Run *self, NappeToward one, NappeToward other)
{
  NappePiece *found = NULL;

  for (guint i = 1; i < self->run->len; i++)
    if (leads (self->run->pdata[i], one, other) && (found == NULL || NAPPE_PIECE (self->run->pdata[i])->length > found->length))
      found = self->run->pdata[i];
  return found;
}

static gboolean
set (const Run *self, gpointer piece, const char *field, double value)
{
  return nappe_build_set_number (self->build, piece, field, value, self->error);
}

/* Moves the end up by a height [m]; as far as a pipe can give. */
static gboolean
raise_end (const Run *self, double by)
{
  NappePiece *pipe = longest (self, NAPPE_TOWARD_DOWN, NAPPE_TOWARD_UP);

  if (pipe == NULL || by == 0)
    return TRUE;
  return set (self, pipe, "length", fmax (LEAST_PIPE, pipe->length + (pipe->toward == NAPPE_TOWARD_UP ? by : -by)));
}

static gboolean
insert (const Run *self, guint index, const NappeItem *item, NappePiece **piece)
{
  g_autoptr (NappePiece) part = g_object_new (NAPPE_TYPE_PIECE, NULL);

  nappe_assembly_write_text (NAPPE_PART (part), "item", item->id);
  *piece = part;
  return nappe_build_insert (self->build, self->owner, "run", index, NAPPE_PART (part), self->error);
}

/* Cuts an upright pipe and leads it aside between two elbows. */
static gboolean
lead_aside (const Run *self, double by)
{
  NappePiece *pipe = longest (self, NAPPE_TOWARD_DOWN, NAPPE_TOWARD_UP), *level, *rest, *elbow;
  NappePlumbing plumbing;
  guint index;

  /* Hose bends by itself, and a short pipe has no room. */
  if (pipe == NULL || pipe->length < LEAST_CUT + NAPPE_ASSEMBLY_FALL * fabs (by) || !g_ptr_array_find (self->run, pipe, &index)
      || !nappe_plumbing_begin (&plumbing, self->catalogue, pipe->item, NULL))
    return TRUE;
  double half = 0.5 * pipe->length, fall = pipe->toward == NAPPE_TOWARD_DOWN ? NAPPE_ASSEMBLY_FALL * fabs (by) : 0;
  int toward = pipe->toward;
  if (!set (self, pipe, "length", half) || (plumbing.elbow != NULL && !insert (self, ++index, plumbing.elbow, &elbow))
      || !insert (self, ++index, plumbing.pipe, &level)
      || (plumbing.elbow != NULL && !insert (self, ++index, plumbing.elbow, &elbow))
      || !insert (self, ++index, plumbing.pipe, &rest))
    return FALSE;
  return set (self, level, "toward", by > 0 ? NAPPE_TOWARD_RIGHT : NAPPE_TOWARD_LEFT) && set (self, level, "fall", fall)
         && set (self, level, "length", hypot (by, fall)) && set (self, rest, "toward", toward)
         && set (self, rest, "length", half - fall);
}

/* Moves the end to the right by a distance [m]. */
static gboolean
shift_end (const Run *self, double by)
{
  NappePiece *pipe = longest (self, NAPPE_TOWARD_LEFT, NAPPE_TOWARD_RIGHT);

  if (by == 0)
    return TRUE;
  if (pipe == NULL)
    return lead_aside (self, by);
  double reach = sqrt (fmax (0, pipe->length * pipe->length - pipe->fall * pipe->fall))
                 + (pipe->toward == NAPPE_TOWARD_RIGHT ? by : -by);
  /* Opposites stand in pairs in NappeToward. */
  return (reach >= 0 || set (self, pipe, "toward", pipe->toward ^ 1))
         && set (self, pipe, "length", fmax (LEAST_PIPE, hypot (reach, pipe->fall)));
}

static gboolean
lead_outlet (NappeBuild *build, NappeCatalogue *catalogue, NappePart *line, NappeOutlet *outlet, const NappePoint *end,
             GError **error)
{
  g_autoptr (NappeLayout) layout = nappe_layout_new (build, catalogue);
  NappePart *owner = outlet->run->len > 1 || *outlet->tee != '\0' ? NAPPE_PART (outlet) : line;
  Run run = { build, catalogue, owner, nappe_part_list (owner, nappe_part_find_slot (owner, "run")), error };
  NappeFrame frame;
  double level;

  if (!find_vessel (build, layout, outlet->into, &frame, &level))
    return TRUE;
  double room = fmin (FROM_WALL, 0.5 * (frame.right - frame.left));
  double x = end->x < frame.left || end->x > frame.right ? CLAMP (end->x, frame.left + room, frame.right - room) : end->x;
  double z = end->z < frame.floor || end->z > frame.rim ? fmin (level, frame.rim) - UNDER_WATER : end->z;
  return shift_end (&run, x - end->x) && raise_end (&run, z - end->z);
}

gboolean
nappe_assembly_lead_home (NappeBuild *build, NappeCatalogue *catalogue, NappePart *line, GError **error)
{
  GPtrArray *outlets = nappe_part_list (line, nappe_part_find_slot (line, "outlets"));

  /* One after another: what leads one end home may move the next. */
  for (guint i = 0; i < outlets->len; i++)
    {
      g_autoptr (NappeLayout) layout = nappe_layout_new (build, catalogue);
      const NappeLineLayout *places = NAPPE_IS_DRAIN (line) ? layout->drains : layout->returns;
      guint n = NAPPE_IS_DRAIN (line) ? layout->n_drains : layout->n_returns;
      for (guint k = 0; k < n; k++)
        if (places[k].part == line
            && !lead_outlet (build, catalogue, line, outlets->pdata[i], &places[k].outlets[i].route.end, error))
          return FALSE;
    }
  return TRUE;
}

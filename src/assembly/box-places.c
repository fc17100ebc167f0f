/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where drains stand along their box, and of which size, so that their bulkheads have room and glass is left beside
 * their holes. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "build/coupling.h"
#include "network/holes.h"

/* Steps in which places are tried [m]. */
#define GRID 0.005
/* Glass between holes and to the edge of the pane: so many times its thickness, as glaziers' rules want at least (EN
 * 12150-1, from memory). */
#define LEAST_GLASS 2
/* No drain is made of narrower pipe, as long as the others are not: a snail blocks it. Common practice; every
 * three-quarter inch pipe is wider [m]. */
#define LEAST_BORE 0.018

typedef struct
{
  NappeDrain *drain;   /* NULL: a new one */
  double x;            /* from the box's left wall [m] */
  double flange, hole; /* half their diameters; hole: 0 where no glass is drilled [m] */
} Place;

typedef struct
{
  GArray *places;               /* Place, from left to right */
  double length, width;         /* of the box [m] */
  double glass;                 /* that is left beside a hole [m] */
  double left, right,
      deep; /* from its left and right wall, and from the nearer of front and back, on to the edge of the pane [m] */
} Floor;

static gboolean
stands_in (const NappeDrain *drain, const NappeOverflow *box)
{
  return g_str_equal (drain->overflow, nappe_part_get_id ((NappePart *) box));
}

/* The place in a box that is farthest from its walls and its drains, from its left wall [m]. */
static double
free_place_in_box (NappeBuild *build, const NappeOverflow *box)
{
  double best = 0.5 * box->length, farthest = -1;

  for (double x = GRID; x < box->length; x += GRID)
    {
      double distance = 2 * fmin (x, box->length - x);
      for (guint i = 0; i < build->drains->len; i++)
        if (stands_in (build->drains->pdata[i], box))
          distance = fmin (distance, fabs (x - NAPPE_DRAIN (build->drains->pdata[i])->x));
      if (distance > farthest + 1e-9)
        farthest = distance, best = x;
    }
  return best;
}

/* ---- what they need ---- */

static gboolean
is_drilled (NappeBuild *build, const NappeOverflow *box)
{
  return box->style == NAPPE_OVERFLOW_INTERNAL && NAPPE_BUILD_TANK (build)->material == NAPPE_MATERIAL_GLASS;
}

static double
widest_piece (NappeCatalogue *catalogue, const NappeDrain *drain)
{
  double diameter = NAPPE_UNKNOWN_BORE;

  for (guint i = 0; i < drain->run->len; i++)
    {
      const NappeItem *item = nappe_catalogue_find (catalogue, NAPPE_PIECE (drain->run->pdata[i])->item);
      if (item != NULL && item->kind == NAPPE_ITEM_PIPE)
        diameter = fmax (diameter, item->outside_diameter);
    }
  return diameter;
}

/* A drain that leaves through the floor needs room for its flange, another one for its pipe. */
static Place
place_of (NappeBuild *build, NappeCatalogue *catalogue, const NappeLayout *layout, const NappeLineLayout *line)
{
  NappeDrain *drain = NAPPE_DRAIN (line->part);
  Place place = { .drain = drain, .x = drain->x, .flange = 0.5 * widest_piece (catalogue, drain) };
  NappeHole hole;

  if (nappe_layout_find_hole (layout, build, line, &hole) && hole.pane == NAPPE_PANE_BOTTOM)
    {
      place.flange = fmax (place.flange, 0.5 * hole.item->flange_diameter);
      place.hole = hole.in_tank && is_drilled (build, layout->boxes[hole.box].part) ? 0.5 * hole.item->hole_diameter : 0;
    }
  return place;
}

static Place
new_place (NappeBuild *build, const NappeOverflow *box, const NappeItem *bulkhead)
{
  Place place = { .x = free_place_in_box (build, box), .flange = 0.5 * NAPPE_UNKNOWN_BORE };

  if (bulkhead != NULL)
    place.flange = 0.5 * bulkhead->flange_diameter;
  if (bulkhead != NULL && is_drilled (build, box))
    place.hole = 0.5 * bulkhead->hole_diameter;
  return place;
}

static void
floor_init (Floor *self, NappeBuild *build, NappeCatalogue *catalogue, const NappeOverflow *box)
{
  g_autoptr (NappeLayout) layout = nappe_layout_new (build, catalogue);

  *self = (Floor){ .places = g_array_new (FALSE, FALSE, sizeof (Place)), .length = box->length, .width = box->width };
  self->glass = LEAST_GLASS * NAPPE_BUILD_TANK (build)->bottom_thickness;
  for (guint i = 0; i < layout->n_boxes; i++)
    if (layout->boxes[i].part == box)
      {
        const NappeFrame *frame = &layout->boxes[i].frame;
        self->left = frame->left - layout->tank.left;
        self->right = layout->tank.right - frame->right;
        self->deep = fmin (frame->front - layout->tank.front, layout->tank.back - frame->back);
      }
  for (guint i = 0; i < layout->n_drains; i++)
    if (stands_in (NAPPE_DRAIN (layout->drains[i].part), box))
      {
        Place place = place_of (build, catalogue, layout, &layout->drains[i]);
        g_array_append_val (self->places, place);
      }
}

static void
floor_clear (Floor *self)
{
  g_array_unref (self->places);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Floor, floor_clear)

static Place *
nth (const Floor *self, guint index)
{
  return &g_array_index (self->places, Place, index);
}

/* Least distance of a place from a wall that is so far from the edge of the pane. */
static double
from_wall (const Floor *self, const Place *place, double to_edge)
{
  return fmax (place->flange, place->hole > 0 ? place->hole + self->glass - to_edge : 0);
}

/* Least distance from the place before it, or from the left wall. */
static double
from_before (const Floor *self, guint index)
{
  const Place *place = nth (self, index), *other = index > 0 ? nth (self, index - 1) : NULL;

  if (other == NULL)
    return from_wall (self, place, self->left);
  return fmax (other->flange + place->flange, other->hole > 0 && place->hole > 0 ? other->hole + place->hole + self->glass : 0);
}

/* The length of a box that has room for all of them in a row, and its width [m]. */
static double
length_needed (const Floor *self)
{
  double length = 0;

  for (guint i = 0; i < self->places->len; i++)
    length += from_before (self, i);
  return self->places->len > 0 ? length + from_wall (self, nth (self, self->places->len - 1), self->right) : 0;
}

static double
width_needed (const Floor *self)
{
  double width = 0;

  for (guint i = 0; i < self->places->len; i++)
    width = fmax (width, nth (self, i)->drain == NULL ? 2 * from_wall (self, nth (self, i), self->deep) : 0);
  return width;
}

/* ---- whether they have room ---- */

static gint
from_left (gconstpointer a, gconstpointer b)
{
  double difference = ((const Place *) a)->x - ((const Place *) b)->x;

  return difference < 0 ? -1 : difference > 0;
}

/* Whether the new one has room beside those left and right of it. */
static gboolean
is_free (const Floor *self)
{
  for (guint i = 0; i < self->places->len; i++)
    {
      double before = i > 0 ? nth (self, i - 1)->x : 0;
      gboolean new_one = nth (self, i)->drain == NULL, after_new_one = i > 0 && nth (self, i - 1)->drain == NULL;
      if ((new_one || after_new_one) && nth (self, i)->x - before < from_before (self, i) - 1e-9)
        return FALSE;
      if (new_one && i + 1 == self->places->len
          && self->length - nth (self, i)->x < from_wall (self, nth (self, i), self->right) - 1e-9)
        return FALSE;
    }
  return TRUE;
}

/* ---- of which size ---- */

static gint
wider_first (gconstpointer a, gconstpointer b)
{
  double difference = (*(const NappeItem *const *) b)->bore - (*(const NappeItem *const *) a)->bore;

  return difference < 0 ? -1 : difference > 0;
}

/* The pipe and all of its family that are narrower, but not too narrow. Transfer container. */
static GPtrArray *
pipes_from (NappeCatalogue *catalogue, const NappeItem *pipe)
{
  GPtrArray *pipes = nappe_catalogue_of_kind (catalogue, NAPPE_ITEM_PIPE);

  for (guint i = pipes->len; i > 0; i--)
    {
      const NappeItem *item = pipes->pdata[i - 1];
      if (item != pipe && (g_strcmp0 (item->family, pipe->family) != 0 || item->bore > pipe->bore || item->bore < LEAST_BORE))
        g_ptr_array_remove_index (pipes, i - 1);
    }
  g_ptr_array_sort (pipes, wider_first);
  return pipes;
}

static gboolean
refuse (NappeBuild *build, const NappeOverflow *box, const Floor *needed, const NappeItem *item, guint n,
        GError **error)
{
  NappeUnitSystem units = (NappeUnitSystem) build->units;
  const double lengths[]
      = { box->length, box->width, ceil (length_needed (needed) / NAPPE_ASSEMBLY_CUT - 1e-6) * NAPPE_ASSEMBLY_CUT,
          ceil (width_needed (needed) / NAPPE_ASSEMBLY_CUT - 1e-6) * NAPPE_ASSEMBLY_CUT };
  char *words[G_N_ELEMENTS (lengths)];
  g_autofree char *label = item != NULL ? nappe_item_label (item, units) : g_strdup (_("Pipe"));

  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    words[i] = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, lengths[i], units, units == NAPPE_UNITS_METRIC ? 0 : 4);
  nappe_assembly_fail (
      error, NAPPE_ASSEMBLY_ERROR_ROOM,
      /* Translators: an overflow box, its length and width, number of drains, a pipe or bulkhead with its size, and the
         length and width that the box needs for them. */
      g_strdup_printf (
          g_dngettext (GETTEXT_PACKAGE,
                       "“%s” is %s long and %s wide inside. For %u more drain with “%s” it has to be at least "
                       "%s long and %s wide: make it larger first",
                       "“%s” is %s long and %s wide inside. For %u more drains with “%s” it has to be at least "
                       "%s long and %s wide: make it larger first",
                       n),
          nappe_part_display_name ((NappePart *) box), words[0], words[1], n, label, words[2], words[3]));
  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    g_free (words[i]);
  return FALSE;
}

/* Puts n new ones in the place of those before. */
static void
put_new (Floor *self, const Place *place, guint n)
{
  for (guint i = self->places->len; i > 0; i--)
    if (nth (self, i - 1)->drain == NULL)
      g_array_remove_index (self->places, i - 1);
  for (guint i = 0; i < n; i++)
    g_array_append_val (self->places, *place);
  g_array_sort (self->places, from_left);
}

/* Whether they have room in a row, or a single one beside those that stand where they are. */
static gboolean
has_room (Floor *self, guint n)
{
  if (width_needed (self) > self->width + 1e-9)
    return FALSE;
  if (length_needed (self) <= self->length + 1e-9)
    return TRUE;
  return n == 1 && is_free (self);
}

const char *
nappe_assembly_pipe_for_box (NappeBuild *build, NappeCatalogue *catalogue, const NappeOverflow *box, const char *id, guint n,
                             GError **error)
{
  const NappeItem *wanted = nappe_catalogue_find (catalogue, id), *first = NULL;
  g_auto (Floor) floor = { NULL };
  Place place, first_place;

  floor_init (&floor, build, catalogue, box);
  if (wanted == NULL || wanted->kind != NAPPE_ITEM_PIPE)
    return id;
  g_autoptr (GPtrArray) pipes = pipes_from (catalogue, wanted);
  for (guint i = 0; i < pipes->len; i++)
    {
      const NappeItem *pipe = pipes->pdata[i], *bulkhead;
      NappePlumbing plumbing;
      if (!nappe_plumbing_begin (&plumbing, catalogue, pipe->id, NULL)
          || (bulkhead = nappe_plumbing_fit (&plumbing, NAPPE_ITEM_BULKHEAD, NULL, NULL)) == NULL)
        continue;
      place = new_place (build, box, bulkhead);
      put_new (&floor, &place, n);
      if (has_room (&floor, n))
        return pipe->id;
      if (first == NULL)
        first = pipe, first_place = place;
    }
  /* None joins a bulkhead: that is told when it is looked for. */
  if (first == NULL)
    return id;
  put_new (&floor, &first_place, n);
  refuse (build, box, &floor, first, n, error);
  return NULL;
}

/* ---- where they stand ---- */

/* Moves all so that what is left of the box is shared out evenly between them. */
static gboolean
spread (Floor *self, NappeBuild *build, double gap, GError **error)
{
  gboolean done = TRUE;
  double at = 0;

  for (guint i = 0; done && i < self->places->len; i++)
    {
      Place *place = nth (self, i);
      at += gap + from_before (self, i);
      place->x = gap < NAPPE_ASSEMBLY_CUT ? at : round (at / NAPPE_ASSEMBLY_CUT) * NAPPE_ASSEMBLY_CUT;
      if (place->drain != NULL)
        done = nappe_build_set_coupled (build, NAPPE_PART (place->drain), "x", place->x, error);
    }
  return done;
}

gboolean
nappe_assembly_make_place_in_box (NappeBuild *build, NappeCatalogue *catalogue, const NappeOverflow *box,
                                  const NappeItem *bulkhead, double *x, GError **error)
{
  g_auto (Floor) floor = { NULL };
  Place place = new_place (build, box, bulkhead);
  gboolean done = TRUE;

  floor_init (&floor, build, catalogue, box);
  put_new (&floor, &place, 1);
  if (!has_room (&floor, 1))
    return refuse (build, box, &floor, bulkhead, 1, error);
  double gap = (box->length - length_needed (&floor)) / (floor.places->len + 1);
  if (!is_free (&floor))
    done = spread (&floor, build, fmax (0, gap), error);
  for (guint i = 0; i < floor.places->len; i++)
    if (nth (&floor, i)->drain == NULL)
      *x = nth (&floor, i)->x;
  return done;
}

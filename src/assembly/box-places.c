/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where drains stand along their box, so that their bulkheads have room. */
#include "assembly/assembly-private.h"

#include <math.h>

#include "build/coupling.h"

/* Steps in which places are tried [m]. */
#define GRID 0.005

static gboolean
stands_in (const NappeDrain *drain, const NappeOverflow *box)
{
  return g_str_equal (drain->overflow, nappe_part_get_id ((NappePart *) box));
}

double
nappe_assembly_free_place_in_box (NappeBuild *build, const NappeOverflow *box)
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

typedef struct
{
  NappeDrain *drain; /* NULL: the new one */
  double x, radius;  /* of its flange [m] */
} Place;

static double
radius_of (NappeCatalogue *catalogue, const NappeDrain *drain)
{
  double diameter = NAPPE_UNKNOWN_BORE;

  for (guint i = 0; i < drain->run->len; i++)
    {
      const NappeItem *item = nappe_catalogue_find (catalogue, NAPPE_PIECE (drain->run->pdata[i])->item);
      if (item != NULL)
        diameter = fmax (diameter, item->kind == NAPPE_ITEM_BULKHEAD ? item->flange_diameter : item->outside_diameter);
    }
  return 0.5 * diameter;
}

static gint
from_left (gconstpointer a, gconstpointer b)
{
  double difference = ((const Place *) a)->x - ((const Place *) b)->x;

  return difference < 0 ? -1 : difference > 0;
}

/* The places of the box's drains and of a new one, from left to right. Transfer full. */
static GArray *
places_in (NappeBuild *build, NappeCatalogue *catalogue, const NappeOverflow *box, double radius)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (Place));
  Place new_one = { NULL, nappe_assembly_free_place_in_box (build, box), radius };

  g_array_append_val (places, new_one);
  for (guint i = 0; i < build->drains->len; i++)
    {
      NappeDrain *drain = build->drains->pdata[i];
      Place place = { drain, drain->x, radius_of (catalogue, drain) };
      if (stands_in (drain, box))
        g_array_append_val (places, place);
    }
  g_array_sort (places, from_left);
  return places;
}

/* Whether the new one has room beside those left and right of it. */
static gboolean
is_free (const GArray *places, const NappeOverflow *box)
{
  double end = 0;

  for (guint i = 0; i < places->len; i++)
    {
      const Place *place = &g_array_index (places, Place, i);
      if (place->x - place->radius < end && (place->drain == NULL || (i > 0 && g_array_index (places, Place, i - 1).drain == NULL)))
        return FALSE;
      end = place->x + place->radius;
    }
  return places->len == 0 || end <= box->length || g_array_index (places, Place, places->len - 1).drain != NULL;
}

gboolean
nappe_assembly_make_place_in_box (NappeBuild *build, NappeCatalogue *catalogue, const NappeOverflow *box, double radius,
                                  double *x, GError **error)
{
  g_autoptr (GArray) places = places_in (build, catalogue, box, radius);
  double taken = 0, at;
  gboolean done = TRUE;

  for (guint i = 0; i < places->len; i++)
    taken += 2 * g_array_index (places, Place, i).radius;
  double gap = (box->length - taken) / (places->len + 1);
  gboolean spread = gap >= 0 && !is_free (places, box);
  at = gap;
  for (guint i = 0; done && i < places->len; i++)
    {
      Place *place = &g_array_index (places, Place, i);
      if (spread)
        place->x = round (1000 * (at + place->radius)) / 1000;
      at += 2 * place->radius + gap;
      if (place->drain == NULL)
        *x = place->x;
      else if (spread)
        done = nappe_build_set_coupled (build, NAPPE_PART (place->drain), "x", place->x, error);
    }
  return done;
}

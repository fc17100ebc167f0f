/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/power-lines.h"

#include <math.h>

typedef struct
{
  NappePowerUse use;
  gboolean draws;    /* has a plug; a passive thing without a given power is not unknown */
  double heat_share; /* of its power that warms the water (common practice, from memory) */
} UsualUse;

/* A motor under water gives all its power to the water, what it moves included: flow ends as warmth too. Skimmers and
 * reactors are counted as having such a pump. Of a lamp in a sleeve of water its ballast stays outside; of a light above the
 * water nearly all that shines enters, about two fifths of what a luminaire draws. Top-off and dosing pumps are small and run for
 * minutes, in water that is not the tank's. */
static const UsualUse usual_use[] = {
  [NAPPE_EQUIPMENT_SKIMMER] = { NAPPE_POWER_OTHER, TRUE, 1.0 },
  [NAPPE_EQUIPMENT_HEATER] = { NAPPE_POWER_HEATER, TRUE, 1.0 },
  [NAPPE_EQUIPMENT_REACTOR] = { NAPPE_POWER_OTHER, FALSE, 1.0 },
  [NAPPE_EQUIPMENT_UV] = { NAPPE_POWER_OTHER, TRUE, 0.8 },
  [NAPPE_EQUIPMENT_CHILLER] = { NAPPE_POWER_CHILLER, TRUE, -NAPPE_CHILLER_YIELD },
  [NAPPE_EQUIPMENT_LIGHT] = { NAPPE_POWER_LIGHT, TRUE, 0.4 },
  [NAPPE_EQUIPMENT_TOP_OFF] = { NAPPE_POWER_OTHER, TRUE, 0.0 },
  [NAPPE_EQUIPMENT_DOSING] = { NAPPE_POWER_OTHER, TRUE, 0.0 },
  [NAPPE_EQUIPMENT_PROBE] = { NAPPE_POWER_OTHER, FALSE, 0.0 },
  [NAPPE_EQUIPMENT_MEDIA] = { NAPPE_POWER_OTHER, FALSE, 0.0 },
  [NAPPE_EQUIPMENT_SOCK] = { NAPPE_POWER_OTHER, FALSE, 0.0 },
  [NAPPE_EQUIPMENT_OTHER] = { NAPPE_POWER_OTHER, FALSE, 1.0 },
};

/* The part's own figure, else the catalogue's; 0: neither. */
static double
single_power (double own, const NappeItem *item)
{
  if (nappe_is_given (own))
    return own;
  return item != NULL && item->power > 0 ? item->power : 0;
}

static void
add_pump (GArray *entries, NappePump *pump, NappeCatalogue *catalogue, guint *unknown)
{
  double full = single_power (pump->power, nappe_catalogue_find (catalogue, pump->item));
  NappePowerEntry entry = { .line = { .duty = 1, .heat_share = 1 }, .use = NAPPE_POWER_PUMP };

  if (pump->speed <= 0)
    return;
  if (full <= 0)
    *unknown += nappe_is_given (pump->power) ? 0 : 1;
  else
    {
      /* Affinity law: power goes by the cube of the speed. What the electronics need at rest is left out. */
      entry.single = full * pow (pump->speed, 3);
      entry.line.power = entry.single * pump->count;
      g_strlcpy (entry.line.part, nappe_part_get_id (NAPPE_PART (pump)), sizeof entry.line.part);
      g_array_append_val (entries, entry);
    }
}

static void
add_equipment (GArray *entries, NappeEquipment *part, NappeCatalogue *catalogue, guint *unknown)
{
  const UsualUse *usual = &usual_use[part->kind];
  double single = single_power (part->power, nappe_catalogue_find (catalogue, part->item));
  NappePowerEntry entry = { .line = { .power = single * part->count, .duty = part->duty, .heat_share = usual->heat_share },
                            .use = usual->use, .single = single };

  if (single <= 0)
    {
      *unknown += usual->draws && !nappe_is_given (part->power) ? 1 : 0;
      return;
    }
  /* Nobody knows of an unnamed thing that stands in no water that it warms any. */
  if (part->kind == NAPPE_EQUIPMENT_OTHER && *part->where == '\0')
    entry.line.heat_share = 0;
  if (nappe_is_given (part->heat_share) && usual->use != NAPPE_POWER_CHILLER)
    entry.line.heat_share = part->heat_share;
  g_strlcpy (entry.line.part, nappe_part_get_id (NAPPE_PART (part)), sizeof entry.line.part);
  g_array_append_val (entries, entry);
}

GArray *
nappe_power_entries (NappeBuild *build, NappeCatalogue *catalogue, guint *unknown)
{
  GArray *entries = g_array_new (FALSE, FALSE, sizeof (NappePowerEntry));

  *unknown = 0;
  for (guint i = 0; i < build->returns->len; i++)
    add_pump (entries, NAPPE_PUMP (NAPPE_RETURN_LINE (build->returns->pdata[i])->pump), catalogue, unknown);
  for (guint i = 0; i < build->equipment->len; i++)
    add_equipment (entries, build->equipment->pdata[i], catalogue, unknown);
  return entries;
}

static double
mean_power (const NappePowerLine *line)
{
  return nappe_is_given (line->duty) ? line->power * line->duty : 0;
}

static int
compare_entries (gconstpointer a, gconstpointer b)
{
  const NappePowerLine *one = &((const NappePowerEntry *) a)->line, *other = &((const NappePowerEntry *) b)->line;
  double more = mean_power (other) - mean_power (one);

  return more > 0 ? 1 : more < 0 ? -1 : g_strcmp0 (one->part, other->part);
}

void
nappe_power_sort (GArray *entries)
{
  g_array_sort (entries, compare_entries);
}

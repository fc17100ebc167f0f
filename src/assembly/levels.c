/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the water stands in the sump, from its walls alone. */
#include "assembly/assembly-private.h"

#include <math.h>

/* Without any wall and kept level the sump is taken as half full. */
#define HALF 0.5

guint
nappe_assembly_return_chamber (NappeBuild *build)
{
  GPtrArray *chambers = NAPPE_BUILD_SUMP (build)->chambers;

  for (guint i = 0; i < chambers->len; i++)
    if (NAPPE_CHAMBER (chambers->pdata[i])->role == NAPPE_CHAMBER_RETURN)
      return i;
  return G_MAXUINT;
}

double
nappe_assembly_chamber_level (NappeBuild *build, guint chamber)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  guint last = nappe_assembly_return_chamber (build);
  double level = 0;

  if (chamber >= sump->chambers->len)
    return HALF * sump->height;
  double own = NAPPE_CHAMBER (sump->chambers->pdata[chamber])->kept_level;
  if (chamber == last || last == G_MAXUINT)
    return nappe_is_given (own) ? own : HALF * sump->height;
  for (guint i = MIN (chamber, last); i < MAX (chamber, last) && i < sump->baffles->len; i++)
    {
      const NappeBaffle *wall = sump->baffles->pdata[i];

      if (wall->gap_height <= 0)
        level = fmax (level, wall->top_height);
    }
  double kept = NAPPE_CHAMBER (sump->chambers->pdata[last])->kept_level;
  if (nappe_is_given (kept))
    level = fmax (level, kept);
  return level > 0 ? fmin (level, sump->height) : HALF * sump->height;
}

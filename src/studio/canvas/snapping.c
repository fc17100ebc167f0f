/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/snapping.h"

#include <math.h>

#define MILLIMETRE 0.001
#define INCH 0.0254

double
nappe_snap_step (NappeUnitSystem units, gboolean coarse)
{
  if (units == NAPPE_UNITS_US)
    return coarse ? INCH / 2.0 : INCH / 16.0;
  return coarse ? 10.0 * MILLIMETRE : MILLIMETRE;
}

/* The nearest guide within reach; NULL: none. offset: of it. */
static const NappeGuide *
find_guide (const NappeHandle *handle, double offset, const NappeGuide *guides, guint n, double reach, double *found)
{
  const NappeGuide *nearest = NULL;
  double start = handle->upright ? handle->y : handle->x;

  for (guint i = 0; i < n; i++)
    {
      double at = handle->upright ? start - guides[i].at : guides[i].at - start;

      if (guides[i].upright != handle->upright || fabs (at) < 0.5 || !(fabs (at - offset) <= reach))
        continue;
      reach = fabs (at - offset);
      nearest = &guides[i];
      *found = at;
    }
  return nearest;
}

NappeSnap
nappe_snap (const NappeHandle *handle, double offset, double step, const NappeGuide *guides, guint n, double reach)
{
  NappeSnap snap = { .value = handle->value };
  double at = 0.0, wanted;
  const NappeGuide *guide = reach > 0.0 ? find_guide (handle, offset, guides, n, reach, &at) : NULL;

  if (guide == NULL && fabs (offset) < 0.5)
    return snap;
  wanted = handle->value + handle->per_pixel * (guide != NULL ? at : offset);
  if (guide == NULL)
    wanted = round (wanted / step) * step;
  snap.value = CLAMP (wanted, handle->least, handle->most);
  if (snap.value != wanted)
    snap.why = wanted < handle->least ? handle->least_why : handle->most_why;
  snap.on_guide = guide != NULL && snap.why == NULL;
  snap.guide = guide != NULL ? guide->at : 0.0;
  return snap;
}

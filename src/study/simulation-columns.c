/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/simulation-private.h"

#include <math.h>

/* Corners between pipes of different width or slope are rounded over so much water on both sides, or this share of the
 * shorter of them: a corner that turns sharply keeps Newton's method swinging about it [m3], [-]. */
#define ROUNDING 2e-5
#define ROUNDED_SHARE 0.4
/* Where two pipes leave a height between them that holds nothing, a level still needs a little water to rise [m2]. */
#define LEAST_AREA 1e-7
/* Heights nearer to each other are one: the water between them would be lost in rounding, and the level with it [m]. */
#define LEAST_HEIGHT 1e-6

static int
compare (const void *one, const void *other)
{
  double a = *(const double *) one, b = *(const double *) other;

  return a < b ? -1 : a > b ? 1 : 0;
}

static double
below (const NappeNetwork *network, const guint *links, guint n, double level)
{
  double sum = 0;

  for (guint i = 0; i < n; i++)
    sum += nappe_link_content_below (network, &network->links[links[i]], level);
  return sum;
}

void
nappe_column_init (NappeColumn *self, const NappeNetwork *network, const guint *links, guint n)
{
  guint count = 0, kept = 0;

  for (guint i = 0; i < n; i++)
    count += 2 * network->links[links[i]].n_contents;
  *self = (NappeColumn){ .z = g_new0 (double, MAX (count, 2)), .volume = g_new0 (double, MAX (count, 2)) };
  if (count == 0)
    return;
  count = 0;
  for (guint i = 0; i < n; i++)
    for (guint c = 0; c < network->links[links[i]].n_contents; c++)
      {
        const NappeContent *content = &network->contents[network->links[links[i]].first_content + c];

        self->z[count++] = content->low;
        self->z[count++] = content->high;
      }
  qsort (self->z, count, sizeof *self->z, compare);
  for (guint i = 0; i < count; i++)
    if (kept == 0 || self->z[i] > self->z[kept - 1] + LEAST_HEIGHT)
      self->z[kept++] = self->z[i];
  self->n = kept;
  double whole = below (network, links, n, INFINITY), height = self->z[kept - 1] - self->z[0];
  for (guint i = 0; i < kept; i++)
    self->volume[i] = (below (network, links, n, self->z[i]) + LEAST_AREA * (self->z[i] - self->z[0]))
                      * whole / (whole + LEAST_AREA * height);
}

void
nappe_column_clear (NappeColumn *self)
{
  g_clear_pointer (&self->z, g_free);
  g_clear_pointer (&self->volume, g_free);
}

double
nappe_column_whole (const NappeColumn *self)
{
  return self->n > 0 ? self->volume[self->n - 1] : 0;
}

static double
rise_of (const NappeColumn *self, guint piece)
{
  return (self->z[piece] - self->z[piece - 1]) / (self->volume[piece] - self->volume[piece - 1]);
}

/* Adds the rounding of the corner at a point, as far as the volume comes near to it. */
static void
round_corner (const NappeColumn *self, guint point, double volume, double *level, double *rise)
{
  double before = self->volume[point] - self->volume[point - 1], after = self->volume[point + 1] - self->volume[point];
  double reach = fmin (ROUNDING, ROUNDED_SHARE * fmin (before, after)), away = volume - self->volume[point];

  if (fabs (away) >= reach)
    return;
  double turn = rise_of (self, point + 1) - rise_of (self, point), in = reach - fabs (away);
  *level += turn * in * in / (4 * reach);
  *rise += (away < 0 ? 1 : -1) * turn * in / (2 * reach);
}

double
nappe_column_level (const NappeColumn *self, double volume, double *slope)
{
  guint i = 1;

  if (slope != NULL)
    *slope = 0;
  if (self->n < 2)
    return 0;
  while (i + 1 < self->n && volume > self->volume[i])
    i++;
  double rise = rise_of (self, i), level = self->z[i - 1] + rise * (volume - self->volume[i - 1]);
  if (i > 1)
    round_corner (self, i - 1, volume, &level, &rise);
  if (i + 1 < self->n)
    round_corner (self, i, volume, &level, &rise);
  if (slope != NULL)
    *slope = rise;
  return level;
}

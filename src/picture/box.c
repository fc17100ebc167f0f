/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rectangles of a scene. */
#include "picture/scene.h"

gboolean
nappe_box_overlaps (const NappeBox *a, const NappeBox *b)
{
  return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height && b->y < a->y + a->height;
}

gboolean
nappe_box_contains (const NappeBox *box, double x, double y)
{
  return x >= box->x && x <= box->x + box->width && y >= box->y && y <= box->y + box->height;
}

gboolean
nappe_box_within (const NappeBox *inner, const NappeBox *outer)
{
  return inner->x >= outer->x && inner->y >= outer->y && inner->x + inner->width <= outer->x + outer->width
         && inner->y + inner->height <= outer->y + outer->height;
}

NappeBox
nappe_box_grown (NappeBox box, double by)
{
  return (NappeBox) { box.x - by, box.y - by, MAX (box.width + 2 * by, 0), MAX (box.height + 2 * by, 0) };
}

NappeBox
nappe_box_union (const NappeBox *a, const NappeBox *b)
{
  double left = MIN (a->x, b->x), top = MIN (a->y, b->y);
  double right = MAX (a->x + a->width, b->x + b->width), bottom = MAX (a->y + a->height, b->y + b->height);
  return (NappeBox) { left, top, right - left, bottom - top };
}

NappeBox
nappe_box_between (double x1, double y1, double x2, double y2)
{
  return (NappeBox) { MIN (x1, x2), MIN (y1, y2), ABS (x2 - x1), ABS (y2 - y1) };
}

/* Cuts the part of a line where position + t * step lies in low .. high out of first .. last. */
static gboolean
cut (double position, double step, double low, double high, double *first, double *last)
{
  if (step == 0)
    return position > low && position < high;
  double enter = (low - position) / step, leave = (high - position) / step;
  *first = MAX (*first, MIN (enter, leave));
  *last = MIN (*last, MAX (enter, leave));
  return *first < *last;
}

gboolean
nappe_box_meets_line (const NappeBox *box, double x1, double y1, double x2, double y2)
{
  double first = 0, last = 1;
  return cut (x1, x2 - x1, box->x, box->x + box->width, &first, &last)
         && cut (y1, y2 - y1, box->y, box->y + box->height, &first, &last);
}

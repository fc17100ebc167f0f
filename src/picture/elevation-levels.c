/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Level marks: the free surface of every vessel in the shown state with its height, and the levels
 * of the other state as dashed lines. */
#include "picture/elevation-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/marks.h"

/* Neighbouring surfaces that differ by less are one level to the reader [m]. */
#define SAME_LEVEL 0.0015

typedef struct
{
  const char *id;
  NappeFrame frame;
  gboolean main; /* the display: its level is said in any case */
} Vessel;

static GArray *
list_vessels (const NappeElevation *self)
{
  GArray *vessels = g_array_new (FALSE, FALSE, sizeof (Vessel));
  const NappeLayout *layout = self->layout;
  Vessel display = { nappe_elevation_id (self->build->tank), layout->tank, TRUE };
  for (guint i = 0; i < layout->n_boxes; i++)
    {
      const NappeBoxLayout *box = &layout->boxes[i];
      if (box->part->style != NAPPE_OVERFLOW_INTERNAL || nappe_elevation_box_is_hidden (self, box))
        continue;
      if (box->part->side == NAPPE_SIDE_LEFT)
        display.frame.left = fmax (display.frame.left, box->frame.right);
      else if (box->part->side == NAPPE_SIDE_RIGHT)
        display.frame.right = fmin (display.frame.right, box->frame.left);
    }
  g_array_append_val (vessels, display);
  for (guint i = 0; i < layout->n_boxes; i++)
    {
      Vessel box = { nappe_elevation_id (layout->boxes[i].part), layout->boxes[i].frame, FALSE };
      g_array_append_val (vessels, box);
    }
  for (guint i = 0; i < layout->n_chambers; i++)
    {
      Vessel chamber = { nappe_elevation_id (layout->chambers[i].part), layout->chambers[i].frame, FALSE };
      g_array_append_val (vessels, chamber);
    }
  return vessels;
}

/* Along the surface, the middle first. */
static const double along[] = { 0.5, 0.36, 0.64, 0.24, 0.76, 0.14, 0.86, 0.07, 0.93 };

static gboolean
try_surface (NappeElevation *self, double x, double y, const char *text, gboolean left, const NappeBox *inside)
{
  NappeBox box = nappe_mark_surface_box (self->scene, x, y, text, left);
  if ((inside && (box.x < inside->x || box.x + box.width > inside->x + inside->width)) || !nappe_label_is_free (self->scene, &box, 1))
    return FALSE;
  nappe_mark_surface (self->scene, x, y, text, left, NAPPE_ROLE_SURFACE);
  return TRUE;
}

/* Mark and height within the vessel where they fit; else over its neighbours; else the mark alone. */
static void
mark_surface (NappeElevation *self, const Vessel *vessel, double level)
{
  g_autofree char *text = nappe_elevation_length_text (self, level);
  double left = nappe_elevation_x (self, vessel->frame.left), right = nappe_elevation_x (self, vessel->frame.right);
  double y = nappe_elevation_y (self, level);
  NappeBox inside = { left + 1, 0, right - left - 2, nappe_scene_height (self->scene) };
  for (guint pass = 0; pass < 3; pass++)
    for (guint i = 0; i < G_N_ELEMENTS (along); i++)
      for (int side = 0; side < 2; side++)
        if (try_surface (self, left + (right - left) * along[i], y, pass < 2 ? text : NULL, side, pass == 0 ? &inside : NULL))
          return;
}

/* Short dashes over a surface, from wall to wall. */
static void
draw_other_line (NappeElevation *self, double left, double right, double level)
{
  NappeStyle dashes = { .stroke = NAPPE_ROLE_OTHER_STATE, .weight = 1.3, .dashed = TRUE };
  double y = nappe_elevation_y (self, level);
  nappe_scene_stroke (self->scene, NAPPE_LAYER_LEVEL, nappe_elevation_x (self, left), y, nappe_elevation_x (self, right), y, &dashes);
}

static gboolean
try_other_text (NappeElevation *self, double left, double right, double y, const char *text)
{
  NappeTextStyle style = { .align_x = 0.5, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_OTHER_TEXT, .plate = TRUE };
  double x1 = nappe_elevation_x (self, left), x2 = nappe_elevation_x (self, right);
  double width = nappe_scene_measure (self->scene, text, &style).width;
  for (guint row = 0; row < 6; row++)
    for (guint i = 0; i < G_N_ELEMENTS (along); i++)
      {
        gboolean under = row % 2 == 0;
        style.x = x1 + (x2 - x1) * along[i];
        style.y = y + (under ? 3 : -3) + (under ? 1 : -1) * (row / 2) * 16.0;
        style.align_y = under ? 0 : 1;
        if (style.x - width / 2 < x1 + 3 || style.x + width / 2 > x2 - 3)
          continue;
        if (nappe_label_place_text (self->scene, NAPPE_LAYER_LEVEL, text, &style, 1, NULL))
          return TRUE;
      }
  return FALSE;
}

static void
say_other_level (NappeElevation *self, double left, double right, double level)
{
  g_autofree char *number = nappe_elevation_length_text (self, level);
  gboolean cut = self->options->shown != NAPPE_SHOW_POWER_CUT;
  /* Translators: beside a dashed level of the drawing; %s is its height above the floor */
  g_autofree char *text = g_strdup_printf (cut ? _("after a power cut %s") : _("running %s"), number);
  double y = nappe_elevation_y (self, level);
  if (!try_other_text (self, left, right, y, text))
    try_other_text (self, left, right, y, number);
}

/* Consecutive vessels that come to one level share a line and a text. */
static void
draw_other_levels (NappeElevation *self, const GArray *vessels)
{
  guint i = 0;
  while (i < vessels->len)
    {
      const Vessel *first = &g_array_index (vessels, Vessel, i);
      double level = nappe_elevation_level (self, self->other, first->id);
      double now = nappe_elevation_level (self, self->shown, first->id), right = first->frame.right;
      gboolean differs = fabs (level - now) > SAME_LEVEL;
      guint end = i + 1;
      while (end < vessels->len && i > self->layout->n_boxes)
        {
          const Vessel *next = &g_array_index (vessels, Vessel, end);
          double its = nappe_elevation_level (self, self->other, next->id);
          if (!(fabs (its - level) < SAME_LEVEL))
            break;
          differs = differs || fabs (its - nappe_elevation_level (self, self->shown, next->id)) > SAME_LEVEL;
          right = next->frame.right;
          end++;
        }
      if (differs && level > first->frame.floor)
        {
          draw_other_line (self, first->frame.left, right, level);
          say_other_level (self, first->frame.left, right, level);
        }
      i = end;
    }
}

void
nappe_elevation_draw_levels (NappeElevation *self)
{
  g_autoptr (GArray) vessels = list_vessels (self);
  double last = NAN;
  for (guint i = 0; i < vessels->len; i++)
    {
      const Vessel *vessel = &g_array_index (vessels, Vessel, i);
      double level = nappe_elevation_level (self, self->shown, vessel->id);
      gboolean repeated = i > self->layout->n_boxes + 1 && fabs (level - last) < SAME_LEVEL;
      last = level;
      if (level > vessel->frame.floor && !repeated)
        mark_surface (self, vessel, level);
    }
  if (self->other)
    draw_other_levels (self, vessels);
}

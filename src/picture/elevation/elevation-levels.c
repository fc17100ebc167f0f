/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Level marks: the free surface of every vessel in the shown state with its height, and the levels
 * of the other state as dashed lines. */
#include "picture/elevation/elevation-private.h"

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
  gboolean chamber;   /* of the sump: a neighbour of those before and behind it */
  double around;      /* level of what it stands in, which it need not repeat; NaN: none */
  gboolean other_too; /* its dashed level of the other state is drawn */
} Vessel;

static void
add_vessel (GArray *vessels, const char *id, const NappeFrame *frame, gboolean chamber)
{
  Vessel vessel = { id, *frame, chamber, NAN, TRUE };
  g_array_append_val (vessels, vessel);
}

/* A sock holds back water only while something flows through it: its other level is its chamber's. */
static void
add_socks (const NappeElevation *self, GArray *vessels)
{
  for (guint i = 0; i < self->layout->n_socks; i++)
    {
      const NappeSockLayout *sock = &self->layout->socks[i];
      double around = sock->chamber < self->layout->n_chambers
                          ? nappe_elevation_level (self, self->shown,
                                                   nappe_elevation_id (self->layout->chambers[sock->chamber].part))
                          : NAN;
      Vessel vessel = { nappe_elevation_id (sock->part), sock->frame, FALSE, around, FALSE };
      g_array_append_val (vessels, vessel);
    }
}

static GArray *
list_vessels (NappeElevation *self)
{
  GArray *vessels = g_array_new (FALSE, FALSE, sizeof (Vessel));
  const NappeLayout *layout = self->layout;
  NappeFrame display = layout->tank;
  NappeSpan span = nappe_elevation_longest_span (self);
  display.left = span.left;
  display.right = span.right;
  add_vessel (vessels, nappe_elevation_id (self->build->tank), &display, FALSE);
  for (guint i = 0; i < layout->n_boxes; i++)
    {
      add_vessel (vessels, nappe_elevation_id (layout->boxes[i].part), &layout->boxes[i].frame, FALSE);
      if (layout->boxes[i].has_inner)
        add_vessel (vessels, nappe_elevation_inner_id (self, &layout->boxes[i]), &layout->boxes[i].inner, FALSE);
    }
  for (guint i = 0; i < layout->n_vessels; i++)
    add_vessel (vessels, nappe_elevation_id (layout->vessels[i].part), &layout->vessels[i].frame, FALSE);
  for (guint i = 0; i < layout->n_chambers; i++)
    add_vessel (vessels, nappe_elevation_id (layout->chambers[i].part), &layout->chambers[i].frame, TRUE);
  add_socks (self, vessels);
  return vessels;
}

/* Along the surface, the middle first. */
static const double along[] = { 0.5, 0.36, 0.64, 0.24, 0.76, 0.14, 0.86, 0.18, 0.82, 0.30, 0.70, 0.10, 0.90, 0.05, 0.95 };

/* Where the height stands beside its mark: behind it, before it, over it, or in the water under it. */
typedef enum { BESIDE_RIGHT, BESIDE_LEFT, OVER, UNDER_RIGHT, UNDER_LEFT, N_PLACES } Place;

static NappeTextStyle
height_style (double x, double y, Place place)
{
  NappeTextStyle style = { .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SURFACE };
  gboolean left = place == BESIDE_LEFT || place == UNDER_LEFT, under = place == UNDER_RIGHT || place == UNDER_LEFT;
  style.x = place == OVER ? x : left ? x - 10 : x + 10;
  style.align_x = place == OVER ? 0.5 : left ? 1 : 0;
  style.y = place == OVER ? y - 9 : under ? y + 5 : y - 2.5;
  style.align_y = under ? 0 : 1;
  style.plate = under;
  return style;
}

/* The sign itself may stand on a dashed level; nothing else may be under it. */
static gboolean
sign_is_free (const NappeElevation *self, const NappeBox *box)
{
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (self->scene, &n);
  for (guint i = 0; i < n; i++)
    if (blocks[i].kind != NAPPE_BLOCK_SOFT && blocks[i].kind != NAPPE_BLOCK_LINE && nappe_box_overlaps (box, &blocks[i].box))
      return FALSE;
  return TRUE;
}

static gboolean
within_x (const NappeBox *box, double left, double right)
{
  return box->x >= left && box->x + box->width <= right;
}

/* Mark and height within the vessel where they fit, else the mark alone. */
static void
mark_surface (NappeElevation *self, const Vessel *vessel, double level)
{
  g_autofree char *text = nappe_elevation_length_text (self, level);
  double left = nappe_elevation_x (self, vessel->frame.left) + 1, right = nappe_elevation_x (self, vessel->frame.right) - 1;
  double y = nappe_elevation_y (self, level);
  for (Place place = BESIDE_RIGHT; place <= N_PLACES; place++)
    for (guint i = 0; i < G_N_ELEMENTS (along); i++)
      {
        double x = left + (right - left) * along[i];
        NappeBox sign = nappe_mark_surface_box (self->scene, x, y, NULL, FALSE);
        NappeTextStyle style = height_style (x, y, place);
        NappeBox words = nappe_scene_measure (self->scene, text, &style);
        if (!within_x (&sign, left, right) || !sign_is_free (self, &sign))
          continue;
        if (place < N_PLACES && (!within_x (&words, left, right) || !nappe_label_is_free (self->scene, &words, 1)))
          continue;
        nappe_mark_surface (self->scene, x, y, NULL, FALSE, NAPPE_ROLE_SURFACE);
        if (place < N_PLACES)
          nappe_scene_text (self->scene, NAPPE_LAYER_LEVEL, text, &style);
        else
          g_ptr_array_add (self->unnumbered, (gpointer) vessel->id);
        return;
      }
  g_ptr_array_add (self->unnumbered, (gpointer) vessel->id);
}

/* Short dashes over a surface, from wall to wall. */
static void
draw_other_line (NappeElevation *self, double left, double right, double level)
{
  NappeStyle dashes = { .stroke = NAPPE_ROLE_OTHER_STATE, .weight = 1.3, .dashed = TRUE };
  double y = nappe_elevation_y (self, level);
  nappe_scene_block (self->scene, NAPPE_BLOCK_LINE, nappe_box_between (nappe_elevation_x (self, left), y - 0.7,
                                                                       nappe_elevation_x (self, right), y + 0.7));
  nappe_scene_stroke (self->scene, NAPPE_LAYER_LEVEL, nappe_elevation_x (self, left), y, nappe_elevation_x (self, right), y,
                      &dashes);
}

/* Step in which places along a dashed level are tried [px]. */
#define STEP 11.0

static gboolean
try_other_text (NappeElevation *self, double left, double right, double y, const char *text)
{
  NappeTextStyle style = { .align_x = 0.5, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_OTHER_TEXT, .plate = TRUE };
  double x1 = nappe_elevation_x (self, left), x2 = nappe_elevation_x (self, right), middle = (x1 + x2) / 2;
  double room = (x2 - x1 - nappe_scene_measure (self->scene, text, &style).width) / 2 - 4;
  for (guint row = 0; row < 4 && room >= 0; row++)
    for (guint step = 0; step <= 2 * floor (room / STEP); step++)
      {
        gboolean under = row % 2 == 0;
        style.x = middle + (step % 2 ? -1 : 1) * ((step + 1) / 2) * STEP;
        style.y = y + (under ? 1 : -1) * (4.5 + (row / 2) * 12.0);
        style.align_y = under ? 0 : 1;
        if (nappe_label_place_text (self->scene, NAPPE_LAYER_LEVEL, text, &style, 1, NULL))
          return TRUE;
      }
  return FALSE;
}

static void
say_other_level (NappeElevation *self, double left, double right, double level)
{
  g_autofree char *number = nappe_elevation_length_text (self, level);
  gboolean cut = self->options->shown == NAPPE_SHOW_RUNNING;
  /* Translators: beside a dashed level of the drawing; %s is its height above the floor */
  g_autofree char *text = g_strdup_printf (cut ? _("after a power cut %s") : _("running %s"), number);
  double y = nappe_elevation_y (self, level);
  if (!try_other_text (self, left, right, y, text))
    try_other_text (self, left, right, y, number);
}

/* A run of neighbouring vessels that come to one level. */
typedef struct
{
  double left, right, level; /* [m] */
} Run;

static GArray *
other_runs (NappeElevation *self, const GArray *vessels)
{
  GArray *runs = g_array_new (FALSE, FALSE, sizeof (Run));
  for (guint i = 0, end; i < vessels->len; i = end)
    {
      const Vessel *first = &g_array_index (vessels, Vessel, i);
      Run run = { first->frame.left, first->frame.right, nappe_elevation_level (self, self->other, first->id) };
      gboolean differs = fabs (run.level - nappe_elevation_level (self, self->shown, first->id)) > SAME_LEVEL;
      for (end = i + 1; end < vessels->len && first->chamber; end++)
        {
          const Vessel *next = &g_array_index (vessels, Vessel, end);
          if (!next->chamber)
            break;
          double level = nappe_elevation_level (self, self->other, next->id);
          if (!(fabs (level - run.level) < SAME_LEVEL))
            break;
          differs = differs || fabs (level - nappe_elevation_level (self, self->shown, next->id)) > SAME_LEVEL;
          run.right = next->frame.right;
        }
      if (differs && first->other_too && run.level > first->frame.floor)
        g_array_append_val (runs, run);
    }
  return runs;
}

/* The display's dashed level in its shorter stretches, beside a box that stands in the middle. */
static void
draw_display_rest (NappeElevation *self)
{
  const char *id = nappe_elevation_id (self->build->tank);
  double level = nappe_elevation_level (self, self->other, id);
  g_autoptr (GArray) spans = nappe_elevation_display_spans (self);
  NappeSpan longest = nappe_elevation_longest_span (self);
  if (!(fabs (level - nappe_elevation_level (self, self->shown, id)) > SAME_LEVEL))
    return;
  for (guint i = 0; i < spans->len; i++)
    {
      const NappeSpan *span = &g_array_index (spans, NappeSpan, i);
      if (span->left != longest.left)
        draw_other_line (self, span->left, span->right, level);
    }
}

void
nappe_elevation_draw_other_levels (NappeElevation *self)
{
  g_autoptr (GArray) vessels = list_vessels (self);
  g_autoptr (GArray) runs = other_runs (self, vessels);
  /* All dashed lines first, so that no height is struck through by one. */
  for (guint i = 0; i < runs->len; i++)
    {
      const Run *run = &g_array_index (runs, Run, i);
      draw_other_line (self, run->left, run->right, run->level);
    }
  draw_display_rest (self);
}

void
nappe_elevation_draw_levels (NappeElevation *self)
{
  g_autoptr (GArray) vessels = list_vessels (self);
  double last = NAN; /* level of the chamber before */
  for (guint i = 0; i < vessels->len; i++)
    {
      const Vessel *vessel = &g_array_index (vessels, Vessel, i);
      double level = nappe_elevation_level (self, self->shown, vessel->id);
      double same_as = vessel->chamber ? last : vessel->around;
      gboolean repeated = fabs (level - same_as) < SAME_LEVEL;
      last = vessel->chamber ? level : last;
      if (level > vessel->frame.floor && !repeated)
        mark_surface (self, vessel, level);
    }
}

void
nappe_elevation_say_other_levels (NappeElevation *self)
{
  g_autoptr (GArray) vessels = list_vessels (self);
  g_autoptr (GArray) runs = other_runs (self, vessels);
  for (guint i = 0; i < runs->len; i++)
    {
      const Run *run = &g_array_index (runs, Run, i);
      say_other_level (self, run->left, run->right, run->level);
    }
}

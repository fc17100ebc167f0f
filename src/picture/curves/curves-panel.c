/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One panel: its scale, rims, curves and their names at the right. */
#include "picture/curves/curves-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/curves/course-words.h"
#include "picture/label-layout.h"

/* Least distance of two numbers of the scale, and of two points of a curve [px]. */
#define SCALE_PITCH 30.0
#define POINT_PITCH 0.75
/* Width of the picked part's curve [px]. */
#define PICKED_WEIGHT 3.5
/* Length of a curve that one block stands for [px]. */
#define BLOCK_LENGTH 12.0
/* From the end of a curve to its name, and the room of both sides of a name [px]. */
#define LEADER 16.0

/* Strokes of the curves by number: three colours of different lightness, each whole and dashed. The names at the right say
 * which is which. */
static NappeStyle
stroke_of (guint number)
{
  static const NappeRole roles[] = { NAPPE_ROLE_SURFACE, NAPPE_ROLE_OTHER_TEXT, NAPPE_ROLE_INK };
  return (NappeStyle) { .stroke = roles[number % G_N_ELEMENTS (roles)], .weight = number == 0 ? 2.2 : 1.5, .round = TRUE,
                        .dashed = number >= G_N_ELEMENTS (roles) };
}

double
nappe_curves_step (double span, guint n)
{
  double rough = span / MAX (n, 1), power = pow (10, floor (log10 (rough))), share = rough / power;
  return power * (share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10);
}

char *
nappe_curves_number (double value, double step)
{
  double digits = floor (log10 (fabs (value)) + 1e-9) - floor (log10 (step) + 1e-9) + 1;
  if (fabs (value) < step / 2)
    return nappe_quantity_format_number (NAPPE_QUANTITY_NUMBER, 0, NAPPE_UNITS_METRIC, 1);
  return nappe_quantity_format_number (NAPPE_QUANTITY_NUMBER, value, NAPPE_UNITS_METRIC, (int) fmax (digits, 1));
}

static char *
with_unit (const char *words, const char *unit)
{
  /* Translators: over a panel of curves: what it shows, and in which unit: "Flows, L/h" */
  return g_strdup_printf (_("%s, %s"), words, unit);
}

static void
draw_ground (NappeCurves *self, const NappeCurvesPanel *panel)
{
  NappeStyle ground = { .fill = NAPPE_ROLE_PLATE, .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  NappeTextStyle style
      = { .x = self->left, .y = panel->top - 3, .align_y = 1, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT };
  const char *unit = nappe_quantity_unit (panel->quantity, self->options->units);
  g_autofree char *no_words = with_unit ("", unit);
  /* The words are cut off where there is no room for all, never the unit. */
  double room = self->right - self->left - nappe_scene_measure (self->scene, no_words, &style).width;
  g_autofree char *words = nappe_label_shorten (self->scene, panel->heading, &style, room);
  g_autofree char *heading = with_unit (words, unit);
  nappe_scene_box (self->scene, NAPPE_LAYER_GROUND,
                   nappe_box_between (self->left, panel->top, self->right, panel->bottom), &ground);
  nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, heading, &style);
}

/* Numbers are whole steps in the unit that is shown. */
static void
draw_scale (NappeCurves *self, const NappeCurvesPanel *panel)
{
  NappeUnitSystem units = self->options->units;
  double low = nappe_quantity_to_display (panel->quantity, panel->low, units);
  double high = nappe_quantity_to_display (panel->quantity, panel->high, units);
  double pitch = SCALE_PITCH * self->options->text_scale;
  double step = nappe_curves_step (high - low, (guint) fmax (floor ((panel->bottom - panel->top) / pitch), 1));
  NappeStyle line = { .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  double before = INFINITY;
  for (double k = ceil (low / step - 1e-9); k * step <= high + 1e-9 * step; k++)
    {
      double value = k * step;
      double y = nappe_curves_height (panel, nappe_quantity_from_display (panel->quantity, value, units));
      g_autofree char *text = nappe_curves_number (value, step);
      NappeTextStyle style = { .x = self->left - 6, .y = y, .align_x = 1, .align_y = 0.5, .size = NAPPE_TEXT_SMALL,
                               .role = NAPPE_ROLE_SOFT };
      NappeBox box = nappe_scene_measure (self->scene, text, &style);
      nappe_scene_stroke (self->scene, NAPPE_LAYER_GROUND, self->left, y, self->right, y, &line);
      if (box.y + box.height > before - 1 || box.x < 2 || box.y < 0 || box.y + box.height > self->options->height)
        continue;
      before = box.y;
      nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, text, &style);
    }
}

/* The stretch of a curve under construction that falls on one column of the paper. */
typedef struct
{
  double x, first, last, low, high; /* [px] */
  gboolean begun;
} Column;

static void
end_column (NappeScene *scene, const Column *column, gboolean *open)
{
  if (!column->begun)
    return;
  if (*open)
    nappe_scene_line (scene, column->x, column->first);
  else
    nappe_scene_move (scene, column->x, column->first);
  *open = TRUE;
  if (column->high - column->low > 0.25)
    {
      nappe_scene_line (scene, column->x, column->low);
      nappe_scene_line (scene, column->x, column->high);
    }
  nappe_scene_line (scene, column->x, column->last);
}

static void
block_stretch (NappeCurves *self, NappeBox *stretch, double x, double y)
{
  NappeBox point = { x, y, 0, 0 };
  *stretch = stretch->width < 0 ? point : nappe_box_union (stretch, &point);
  if (stretch->width < BLOCK_LENGTH)
    return;
  nappe_scene_block (self->scene, NAPPE_BLOCK_LINE, nappe_box_grown (*stretch, 1));
  *stretch = point;
}

/* The last one before what is shown, so that the curve comes in from the left. */
static guint
first_frame (const NappeCurves *self)
{
  guint frame = 0;
  while (frame + 1 < self->course->n_frames && self->course->time[frame + 1] < self->first)
    frame++;
  return frame;
}

/* Frames that fall on one column of the paper are drawn as what they span, so that a month is no heavier than a minute. */
static void
draw_curve (NappeCurves *self, const NappeCurvesPanel *panel, const NappeCourseCurve *curve)
{
  const NappeSimulation *course = self->course;
  NappeStyle stroke = stroke_of (curve->style);
  gboolean picked = *curve->part != '\0' && g_strcmp0 (self->options->selected, curve->part) == 0;
  NappeBox window = nappe_box_grown (nappe_box_between (self->left, panel->top, self->right, panel->bottom), 1);
  Column column = { 0 };
  NappeBox stretch = { 0, 0, -1, 0 };
  gboolean open = FALSE;
  if (panel->quantity == NAPPE_QUANTITY_VOLUME)
    stroke.stroke = NAPPE_ROLE_DANGER;
  if (picked)
    stroke.weight = PICKED_WEIGHT;
  nappe_scene_clip (self->scene, &window);
  for (guint f = first_frame (self), end = MIN (nappe_curves_last_frame (self) + 2, course->n_frames); f < end; f++)
    {
      double value = nappe_curve_value (curve, f), x = nappe_curves_place (self, course->time[f]);
      if (!isfinite (value))
        continue;
      double y = nappe_curves_height (panel, value);
      if (!column.begun || x - column.x >= POINT_PITCH)
        {
          end_column (self->scene, &column, &open);
          column = (Column) { x, y, y, y, y, TRUE };
        }
      column.last = y;
      column.low = fmin (column.low, y);
      column.high = fmax (column.high, y);
      if (nappe_curves_shows (self, course->time[f]))
        block_stretch (self, &stretch, x, y);
    }
  end_column (self->scene, &column, &open);
  nappe_scene_paint (self->scene, NAPPE_LAYER_LEVEL, &stroke);
  nappe_scene_clip (self->scene, NULL);
}

static void
draw_rim (NappeCurves *self, const NappeCurvesPanel *panel, const NappeCourseCurve *curve)
{
  NappeStyle line = { .stroke = NAPPE_ROLE_DANGER, .weight = NAPPE_LINE_HAIR, .dashed = TRUE };
  double y = nappe_curves_height (panel, curve->rim);
  nappe_scene_stroke (self->scene, NAPPE_LAYER_LEVEL, self->left, y, self->right, y, &line);
  nappe_scene_block (self->scene, NAPPE_BLOCK_LINE, nappe_box_between (self->left, y - 0.5, self->right, y + 0.5));
}

static void
name_rim (NappeCurves *self, const NappeCurvesPanel *panel, const NappeCourseCurve *curve)
{
  double y = nappe_curves_height (panel, curve->rim), width = self->right - self->left;
  /* Translators: beside a line in the curves; %s is a vessel */
  g_autofree char *whole = g_strdup_printf (_("rim: %s"), curve->name);
  NappeTextStyle places[6];
  gboolean room_above = y - panel->top > 20 * self->options->text_scale;
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      static const double shares[] = { 0.02, 0.5, 0.98 };
      gboolean under = !room_above || i >= G_N_ELEMENTS (shares);
      double share = shares[i % G_N_ELEMENTS (shares)];
      places[i] = (NappeTextStyle) { .x = self->left + width * share, .y = under ? y + 4.5 : y - 4.5, .align_x = share,
                                     .align_y = under ? 0 : 1, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_DANGER,
                                     .plate = TRUE };
    }
  g_autofree char *text = nappe_label_shorten (self->scene, whole, &places[0], width * 0.9);
  if (!nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, text, places, G_N_ELEMENTS (places), NULL))
    nappe_scene_lose (self->scene, curve->part, whole);
}

static gboolean
has_rim (const NappeCurvesPanel *panel, const NappeCourseCurve *curve)
{
  if (!(curve->rim <= panel->high && curve->rim >= panel->low))
    return FALSE;
  /* Chambers of one sump share their rim. */
  for (const NappeCourseCurve *other = panel->curves; other < curve; other++)
    if (fabs (other->rim - curve->rim) < 1e-4)
      return FALSE;
  return TRUE;
}

static char *
describe (const NappeCurves *self, const NappeCurvesPanel *panel, const NappeCourseCurve *curve)
{
  NappeUnitSystem units = self->options->units;
  const NappeSimulation *course = self->course;
  g_autofree char *from = nappe_quantity_format (panel->quantity, nappe_curve_value (curve, 0), units, 0);
  g_autofree char *high = nappe_quantity_format (panel->quantity, curve->high, units, 0);
  g_autofree char *high_time = nappe_course_time_text (curve->high_time, units);
  g_autofree char *low = nappe_quantity_format (panel->quantity, curve->low, units, 0);
  g_autofree char *low_time = nappe_course_time_text (curve->low_time, units);
  g_autofree char *to = nappe_quantity_format (panel->quantity, nappe_curve_value (curve, course->n_frames - 1), units, 0);
  /* Translators: of a curve: values and times, "at first 3 320 L/h, most 3 400 L/h after 8 s, least 0 L/h after 20 s …" */
  return g_strdup_printf (_("%1$s: at first %2$s, most %3$s after %4$s, least %5$s after %6$s, in the end %7$s."),
                          panel->heading, from, high, high_time, low, low_time, to);
}

/* A name at the right, with a line to where its curve ends. */
typedef struct
{
  const NappeCourseCurve *curve;
  double end, y; /* [px] */
} Name;

static gint
by_end (gconstpointer a, gconstpointer b)
{
  const Name *first = a, *second = b;
  return first->end < second->end ? -1 : first->end > second->end ? 1 : (gint) first->curve->style - (gint) second->curve->style;
}

/* Apart by a line each, between top and bottom; from the ends of the curves no farther than need be. */
static void
spread_names (Name *names, guint n, double top, double bottom, double pitch)
{
  for (guint i = 0; i < n; i++)
    names[i].y = fmax (names[i].end, i > 0 ? names[i - 1].y + pitch : top);
  for (guint i = n; i-- > 0;)
    names[i].y = fmin (names[i].y, i + 1 < n ? names[i + 1].y - pitch : bottom);
}

/* What is said about a curve; box: where. */
static void
add_item (NappeCurves *self, const NappeCurvesPanel *panel, const NappeCourseCurve *curve, NappeBox box)
{
  g_autofree char *description = describe (self, panel, curve);
  if (*curve->part == '\0')
    return;
  nappe_scene_item (self->scene, curve->part, curve->name, description, box);
}

static void
draw_name (NappeCurves *self, const NappeCurvesPanel *panel, const Name *name)
{
  NappeStyle leader = stroke_of (name->curve->style);
  NappeTextStyle style = { .x = self->right + LEADER + 3, .y = name->y, .align_y = 0.5, .size = NAPPE_TEXT_SMALL,
                           .role = NAPPE_ROLE_INK };
  if (g_strcmp0 (self->options->selected, name->curve->part) == 0)
    style.weight = NAPPE_TEXT_STRONG;
  g_autofree char *text = nappe_label_shorten (self->scene, name->curve->name, &style, self->options->width - style.x - 6);
  if (panel->quantity == NAPPE_QUANTITY_VOLUME)
    leader.stroke = style.role = NAPPE_ROLE_DANGER;
  leader.weight = fmin (leader.weight, 1.5);
  nappe_scene_move (self->scene, self->right + 1, name->end);
  nappe_scene_line (self->scene, self->right + LEADER * 0.6, name->y);
  nappe_scene_line (self->scene, self->right + LEADER, name->y);
  nappe_scene_paint (self->scene, NAPPE_LAYER_NOTE, &leader);
  NappeBox box = nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, text, &style);
  if (*name->curve->part != '\0')
    nappe_scene_hit (self->scene, name->curve->part, box);
  add_item (self, panel, name->curve, box);
}

static void
draw_names (NappeCurves *self, const NappeCurvesPanel *panel)
{
  double pitch = nappe_text_shaper_line_height (nappe_scene_shaper (self->scene), NAPPE_TEXT_SMALL);
  double height = panel->bottom - panel->top;
  guint room = (guint) fmax (floor (height / pitch), 0), n = MIN (panel->n, room);
  Name names[NAPPE_CURVES_MOST];
  for (guint i = 0; i < n; i++)
    {
      const NappeCourseCurve *curve = &panel->curves[i];
      double last = nappe_curve_value (curve, nappe_curves_last_frame (self));
      names[i] = (Name) { curve, nappe_curves_height (panel, isfinite (last) ? last : panel->low), 0 };
    }
  qsort (names, n, sizeof *names, by_end);
  spread_names (names, n, panel->top + pitch / 2, panel->bottom - pitch / 2, pitch);
  for (guint i = 0; i < n; i++)
    draw_name (self, panel, &names[i]);
  for (guint i = n; i < panel->n; i++)
    add_item (self, panel, &panel->curves[i], nappe_box_between (self->left, panel->top, self->right, panel->bottom));
}

void
nappe_curves_draw_panel (NappeCurves *self, const NappeCurvesPanel *panel)
{
  draw_ground (self, panel);
  draw_scale (self, panel);
  for (guint i = 0; i < panel->n; i++)
    draw_curve (self, panel, &panel->curves[i]);
  for (guint i = 0; i < panel->n; i++)
    if (has_rim (panel, &panel->curves[i]))
      draw_rim (self, panel, &panel->curves[i]);
  /* No name is struck through by another one's line. */
  for (guint i = 0; i < panel->n; i++)
    if (has_rim (panel, &panel->curves[i]))
      name_rim (self, panel, &panel->curves[i]);
  draw_names (self, panel);
}

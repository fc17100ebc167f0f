/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scales, and named bars above one. */
#include "picture/charts/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "picture/curves/curves-private.h"
#include "picture/label-layout.h"
#include "picture/marks.h"
#include "results/part-words.h"

/* Least distance of two numbers of a scale, across and up [px]. */
#define ACROSS_PITCH 64.0
#define UP_PITCH 34.0
/* From a plot to its numbers, and from names and values to the bars [px]. */
#define NUMBER_GAP 5.0
#define COLUMN_GAP 10.0
/* Shares of the width that names and values may take. */
#define NAMES_SHARE 0.36
#define VALUES_SHARE 0.3
/* A row is at most so high [px], and its bar has this share of it. */
#define HIGHEST_ROW 38.0
#define BAR_SHARE 0.56
/* How many findings may stand behind a bar. */
#define PINS_OF_ROW 4u
/* Air beside the longest bar, share of the scale. */
#define AIR 0.04

double
nappe_chart_across (const NappeChartScale *scale, const NappeBox *plot, double value)
{
  return plot->x + plot->width * CLAMP ((value - scale->low) / (scale->high - scale->low), 0, 1);
}

double
nappe_chart_up (const NappeChartScale *scale, const NappeBox *plot, double value)
{
  return plot->y + plot->height * (1 - CLAMP ((value - scale->low) / (scale->high - scale->low), 0, 1));
}

double
nappe_chart_across_height (const NappeChart *self)
{
  return nappe_text_shaper_line_height (nappe_scene_shaper (self->scene), NAPPE_TEXT_SMALL) + 3 * NUMBER_GAP;
}

/* "Head lost, m" */
static char *
heading_of (const NappeChart *self, const NappeChartScale *scale)
{
  /* Translators: at the scale of a chart: what it shows, and in which unit: "Flow, L/h" */
  return g_strdup_printf (_("%s, %s"), scale->heading, nappe_quantity_unit (scale->quantity, self->options->units));
}

/* What a scale counts in the unit that is shown. */
typedef struct
{
  double low, high, step;
} Steps;

static Steps
steps_of (const NappeChart *self, const NappeChartScale *scale, double length, double pitch)
{
  Steps steps = { nappe_quantity_to_display (scale->quantity, scale->low, self->options->units),
                  nappe_quantity_to_display (scale->quantity, scale->high, self->options->units), 0 };

  steps.step = nappe_curves_step (steps.high - steps.low, (guint) fmax (floor (length / (pitch * self->options->text_scale)), 1));
  return steps;
}

/* Left of the numbers, where there is room, else in a lower corner of the plot. */
static void
name_scale (NappeChart *self, const NappeChartScale *scale, const NappeBox *plot, double first)
{
  double bottom = plot->y + plot->height;
  NappeTextStyle beside = { .x = NAPPE_CHART_EDGE, .y = bottom + NUMBER_GAP, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT };
  NappeTextStyle places[3] = { beside, beside, beside };
  g_autofree char *whole = heading_of (self, scale);
  gboolean fits = beside.x + nappe_scene_measure (self->scene, whole, &beside).width <= first;

  for (guint i = 1; i < G_N_ELEMENTS (places); i++)
    {
      places[i].x = i == 1 ? plot->x + plot->width - NUMBER_GAP : plot->x + NUMBER_GAP;
      places[i].y = bottom - NUMBER_GAP;
      places[i].align_x = i == 1;
      places[i].align_y = 1;
    }
  nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, whole, fits ? places : places + 1,
                          G_N_ELEMENTS (places) - (fits ? 0 : 1), NULL);
}

void
nappe_chart_draw_across (NappeChart *self, const NappeChartScale *scale, const NappeBox *plot)
{
  Steps steps = steps_of (self, scale, plot->width, ACROSS_PITCH);
  NappeStyle line = { .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  NappeTextStyle style = { .y = plot->y + plot->height + NUMBER_GAP, .align_x = 0.5, .size = NAPPE_TEXT_SMALL,
                           .role = NAPPE_ROLE_SOFT };
  double first = INFINITY;

  for (double k = ceil (steps.low / steps.step - 1e-9); k * steps.step <= steps.high + 1e-9 * steps.step; k++)
    {
      g_autofree char *text = nappe_curves_number (k * steps.step, steps.step);

      style.x
          = nappe_chart_across (scale, plot,
                                nappe_quantity_from_display (scale->quantity, k * steps.step, self->options->units));
      nappe_scene_stroke (self->scene, NAPPE_LAYER_GROUND, style.x, plot->y, style.x, plot->y + plot->height, &line);
      if (nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, text, &style, 1, NULL))
        first = fmin (first, nappe_scene_measure (self->scene, text, &style).x);
    }
  name_scale (self, scale, plot, first - COLUMN_GAP);
}

void
nappe_chart_draw_up (NappeChart *self, const NappeChartScale *scale, const NappeBox *plot)
{
  Steps steps = steps_of (self, scale, plot->height, UP_PITCH);
  NappeStyle line = { .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  NappeTextStyle style = { .x = plot->x - NUMBER_GAP, .align_x = 1, .align_y = 0.5, .size = NAPPE_TEXT_SMALL,
                           .role = NAPPE_ROLE_SOFT };
  NappeTextStyle heading = { .x = plot->x, .y = plot->y - NUMBER_GAP, .align_y = 1, .size = NAPPE_TEXT_SMALL,
                             .role = NAPPE_ROLE_SOFT };
  g_autofree char *whole = heading_of (self, scale);
  g_autofree char *text = nappe_label_shorten (self->scene, whole, &heading, plot->width);

  nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, text, &heading, 1, NULL);
  for (double k = ceil (steps.low / steps.step - 1e-9); k * steps.step <= steps.high + 1e-9 * steps.step; k++)
    {
      g_autofree char *number = nappe_curves_number (k * steps.step, steps.step);

      style.y = nappe_chart_up (scale, plot, nappe_quantity_from_display (scale->quantity, k * steps.step, self->options->units));
      nappe_scene_stroke (self->scene, NAPPE_LAYER_GROUND, plot->x, style.y, plot->x + plot->width, style.y, &line);
      nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, number, &style, 1, NULL);
    }
}

static void
clear_row (gpointer data)
{
  NappeChartRow *row = data;

  g_free (row->part);
  g_free (row->name);
  g_free (row->value);
  g_free (row->words);
}

static void
clear_mark (gpointer data)
{
  g_free (((NappeChartMark *) data)->name);
}

void
nappe_chart_rows_init (NappeChartRows *self, NappeQuantity quantity, const char *heading)
{
  *self = (NappeChartRows){ .scale = { .quantity = quantity, .heading = heading } };
  self->rows = g_array_new (FALSE, TRUE, sizeof (NappeChartRow));
  self->marks = g_array_new (FALSE, TRUE, sizeof (NappeChartMark));
  self->dropped = g_array_new (FALSE, TRUE, sizeof (NappeChartRow));
  g_array_set_clear_func (self->rows, clear_row);
  g_array_set_clear_func (self->dropped, clear_row);
  g_array_set_clear_func (self->marks, clear_mark);
}

void
nappe_chart_rows_clear (NappeChartRows *self)
{
  g_clear_pointer (&self->rows, g_array_unref);
  g_clear_pointer (&self->dropped, g_array_unref);
  g_clear_pointer (&self->marks, g_array_unref);
}

static void
widen (NappeChartScale *scale, double value)
{
  if (!isfinite (value))
    return;
  scale->low = fmin (scale->low, value);
  scale->high = fmax (scale->high, value);
}

NappeChartRow *
nappe_chart_rows_add (NappeChartRows *self, const char *part, char *name, char *value, double from, double to, NappeRole fill)
{
  NappeChartRow row = { .part = g_strdup (part), .name = name, .value = value, .from = from, .to = to, .limit = INFINITY,
                        .fill = fill };

  widen (&self->scale, from);
  widen (&self->scale, to);
  g_array_append_val (self->rows, row);
  return &g_array_index (self->rows, NappeChartRow, self->rows->len - 1);
}

void
nappe_chart_rows_mark (NappeChartRows *self, double value, char *name, NappeRole role)
{
  NappeChartMark mark = { value, name, role };

  widen (&self->scale, value);
  g_array_append_val (self->marks, mark);
}

static void
drop_row (NappeChartRows *self, guint index)
{
  NappeChartRow *row = &g_array_index (self->rows, NappeChartRow, index);

  g_array_append_val (self->dropped, *row);
  *row = (NappeChartRow){ .part = NULL };
  g_array_remove_index (self->rows, index);
}

/* Of a rank, the row with the shortest bar, of equal ones the last. */
static guint
shortest_row (const GArray *rows, guint rank)
{
  guint shortest = rows->len - 1;
  double least = INFINITY;

  for (guint i = 0; i < rows->len; i++)
    {
      const NappeChartRow *row = &g_array_index (rows, NappeChartRow, i);

      if (row->rank != rank || fabs (row->to - row->from) > least)
        continue;
      least = fabs (row->to - row->from);
      shortest = i;
    }
  return shortest;
}

static void
drop_rows (NappeChartRows *self)
{
  guint rank = 0;

  for (guint i = 0; i < self->rows->len; i++)
    rank = MAX (rank, g_array_index (self->rows, NappeChartRow, i).rank);
  if (rank == 0)
    drop_row (self, self->rows->len - 1);
  else if (rank == 1)
    drop_row (self, shortest_row (self->rows, rank));
  else
    for (guint i = self->rows->len; i-- > 0;)
      if (g_array_index (self->rows, NappeChartRow, i).rank == rank)
        drop_row (self, i);
}

/* Leaves as many rows as have room, and says how many went. */
static void
fit_rows (NappeChartRows *self, double room, double lowest)
{
  guint most = (guint) fmax (floor (room / lowest), 1);

  while (self->rows->len + (self->dropped->len > 0 ? 1 : 0) > most && self->rows->len > 1)
    drop_rows (self);
  if (self->dropped->len == 0 || most < 2)
    return;
  /* Translators: under the bars of a chart that has room for some of them only */
  char *text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "and %u more", "and %u more", self->dropped->len),
                                self->dropped->len);
  nappe_chart_rows_add (self, "", text, g_strdup (""), 0, 0, NAPPE_ROLE_NONE);
}

static NappeTextStyle
text_of_row (const NappeChartRow *row, double x, double y, double align)
{
  return (NappeTextStyle) { .x = x, .y = y, .align_x = align, .align_y = 0.5, .size = NAPPE_TEXT_SMALL,
                            .weight = row->strong ? NAPPE_TEXT_STRONG : NAPPE_TEXT_REGULAR, .role = NAPPE_ROLE_INK };
}

/* The widest of the names, or of the values, but no wider than a share of the paper. A row without a bar needs no column. */
static double
column_width (NappeChart *self, const NappeChartRows *rows, gboolean values, double share)
{
  double widest = 0;

  for (guint i = 0; i < rows->rows->len; i++)
    {
      const NappeChartRow *row = &g_array_index (rows->rows, NappeChartRow, i);
      NappeTextStyle style = text_of_row (row, 0, 0, 0);

      if (row->from != row->to || (values && *row->value != '\0'))
        widest = fmax (widest, nappe_scene_measure (self->scene, values ? row->value : row->name, &style).width);
    }
  return fmin (widest + COLUMN_GAP, self->options->width * share);
}

static void
draw_bar (NappeChart *self, const NappeChartRows *rows, const NappeChartRow *row, const NappeBox *plot, double y, double height)
{
  NappeStyle style = { .fill = row->fill, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
  double low = fmin (row->from, row->to), high = fmax (row->from, row->to);
  double left = nappe_chart_across (&rows->scale, plot, low), right = nappe_chart_across (&rows->scale, plot, high);
  double limit = nappe_chart_across (&rows->scale, plot, fmin (fmax (row->limit, low), high));

  if (limit > left)
    nappe_scene_box (self->scene, NAPPE_LAYER_WATER, nappe_box_between (left, y, limit, y + height), &style);
  style.fill = NAPPE_ROLE_DANGER;
  if (right > limit)
    nappe_scene_box (self->scene, NAPPE_LAYER_WATER, nappe_box_between (limit, y, right, y + height), &style);
}

/* Said of its part, unless something was said of it before: then it only widens the place. */
static void
say_row (NappeChart *self, const NappeChartRow *row, NappeBox box)
{
  /* Translators: of a bar in a chart, to assistive technology: its name and its number: "Display: 12.3 L" */
  g_autofree char *plain = g_strdup_printf (_("%s: %s"), row->name, row->value);

  if (*row->part == '\0')
    return;
  g_autofree char *caption = nappe_part_caption (self->build, row->part);
  nappe_scene_item (self->scene, row->part, caption, row->words != NULL ? row->words : plain, box);
}

/* Behind the end of the bar, or before it. */
static void
pin_row (NappeChart *self, const NappeChartRows *rows, const NappeChartRow *row, const NappeBox *plot, double y)
{
  gboolean bar = row->from != row->to;
  double left = bar ? nappe_chart_across (&rows->scale, plot, fmin (row->from, row->to)) : plot->x;
  double right = bar ? nappe_chart_across (&rows->scale, plot, fmax (row->from, row->to)) : plot->x;

  for (guint i = 0; i < PINS_OF_ROW; i++)
    {
      double out = nappe_mark_finding_size (self->scene) * (0.8 + 1.3 * i);

      if (right + out < plot->x + plot->width)
        nappe_chart_pin (self, row->part, right + out, y, right, y);
      if (left - out > plot->x)
        nappe_chart_pin (self, row->part, left - out, y, left, y);
    }
  nappe_chart_pin (self, row->part, (left + right) / 2, y, (left + right) / 2, y);
}

/* Breaks a text at the space where its longer part is shortest. Returns its second part, NULL: it has no space. */
static char *
break_in_two (NappeChart *self, char *text, const NappeTextStyle *style)
{
  double shortest = INFINITY;
  char *at = NULL;

  for (char *space = strchr (text, ' '); space != NULL; space = strchr (space + 1, ' '))
    {
      *space = '\0';
      double width = fmax (nappe_scene_measure (self->scene, text, style).width,
                           nappe_scene_measure (self->scene, space + 1, style).width);
      *space = ' ';
      if (width < shortest)
        at = space;
      shortest = fmin (width, shortest);
    }
  if (at == NULL)
    return NULL;
  *at = '\0';
  return at + 1;
}

/* In one line, else in two where the row is high enough for them; what has no room even so is cut off. */
static void
draw_value (NappeChart *self, const char *text, NappeTextStyle style, double width, double pitch)
{
  double line = nappe_text_shaper_line_height (nappe_scene_shaper (self->scene), style.size);
  g_autofree char *first = g_strdup (text);
  gboolean fits = nappe_scene_measure (self->scene, text, &style).width <= width || pitch < 2 * line + 2;
  const char *second = fits ? NULL : break_in_two (self, first, &style);

  if (second != NULL)
    style.y -= line / 2;
  for (const char *part = first; part != NULL; part = part == first ? second : NULL)
    {
      g_autofree char *shown = nappe_label_shorten (self->scene, part, &style, width);

      if (*shown != '\0')
        nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, shown, &style);
      style.y += line;
    }
}

static void
draw_row (NappeChart *self, const NappeChartRows *rows, const NappeChartRow *row, const NappeBox *plot, double y, double pitch)
{
  gboolean bar = row->from != row->to;
  double end = bar ? plot->x : plot->x + plot->width;
  NappeTextStyle name = text_of_row (row, NAPPE_CHART_EDGE, y + pitch / 2, 0);
  NappeTextStyle value = text_of_row (row, self->options->width - NAPPE_CHART_EDGE, y + pitch / 2, 1);
  g_autofree char *left = nappe_label_shorten (self->scene, row->name, &name, end - COLUMN_GAP - name.x);

  nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, left, &name);
  draw_value (self, row->value, value, value.x - plot->x - plot->width - COLUMN_GAP, pitch);
  if (bar)
    draw_bar (self, rows, row, plot, y + pitch * (1 - BAR_SHARE) / 2, pitch * BAR_SHARE);
  NappeBox whole = { NAPPE_CHART_EDGE / 2, y + 1, self->options->width - NAPPE_CHART_EDGE, pitch - 2 };
  if (*row->part != '\0')
    {
      nappe_scene_hit (self->scene, row->part, whole);
      pin_row (self, rows, row, plot, y + pitch / 2);
    }
  say_row (self, row, whole);
}

static void
draw_mark (NappeChart *self, const NappeChartRows *rows, const NappeChartMark *mark, const NappeBox *plot)
{
  NappeStyle line = { .stroke = mark->role, .weight = NAPPE_LINE_OUTLINE, .dashed = TRUE };
  double x = nappe_chart_across (&rows->scale, plot, mark->value);
  NappeTextStyle places[3];

  nappe_scene_stroke (self->scene, NAPPE_LAYER_LEVEL, x, plot->y - 2, x, plot->y + plot->height, &line);
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      static const double aligns[] = { 0.5, 0, 1 };

      places[i] = (NappeTextStyle) { .x = x, .y = plot->y - 3, .align_x = aligns[i], .align_y = 1, .size = NAPPE_TEXT_SMALL,
                                     .role = mark->role };
    }
  nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, mark->name, places, G_N_ELEMENTS (places), NULL);
}

void
nappe_chart_draw_rows (NappeChart *self, NappeChartRows *rows)
{
  double line = nappe_text_shaper_line_height (nappe_scene_shaper (self->scene), NAPPE_TEXT_SMALL);
  double top = self->top + (rows->marks->len > 0 ? line + 4 : 0);
  double room = fmax (self->options->height - nappe_chart_across_height (self) - top - 2, line);
  NappeStyle ground = { .fill = NAPPE_ROLE_PLATE, .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  double air = AIR * (rows->scale.high - rows->scale.low);

  rows->scale.low -= rows->scale.low < 0 ? air : 0;
  rows->scale.high = rows->scale.high > rows->scale.low ? rows->scale.high + air : rows->scale.low + 1;
  fit_rows (rows, room, line + 1);
  double pitch = fmin (room / MAX (rows->rows->len, 1), HIGHEST_ROW * self->options->text_scale);
  double left = NAPPE_CHART_EDGE + column_width (self, rows, FALSE, NAMES_SHARE);
  double right = self->options->width - NAPPE_CHART_EDGE - column_width (self, rows, TRUE, VALUES_SHARE);
  NappeBox plot = { left, top, fmax (right - left, 1), pitch * rows->rows->len };

  nappe_scene_box (self->scene, NAPPE_LAYER_GROUND, plot, &ground);
  for (guint i = 0; i < rows->rows->len; i++)
    draw_row (self, rows, &g_array_index (rows->rows, NappeChartRow, i), &plot, top + i * pitch, pitch);
  for (guint i = 0; i < rows->dropped->len; i++)
    say_row (self, &g_array_index (rows->dropped, NappeChartRow, i),
             (NappeBox){ NAPPE_CHART_EDGE / 2, top + plot.height - pitch, self->options->width - NAPPE_CHART_EDGE, pitch });
  for (guint i = 0; i < rows->marks->len; i++)
    draw_mark (self, rows, &g_array_index (rows->marks, NappeChartMark, i), &plot);
  nappe_chart_draw_across (self, &rows->scale, &plot);
  nappe_chart_pin (self, "", plot.x + plot.width - HIGHEST_ROW / 2, plot.y + HIGHEST_ROW / 2, plot.x + plot.width, plot.y);
}

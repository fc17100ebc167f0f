/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pump against its system: both curves over the flow, and where they meet. */
#include "picture/charts/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/marks.h"
#include "picture/wording.h"
#include "study/system-curve.h"

/* Room for the numbers of the heads [px], and for the heading over the plot. */
#define HEADS_WIDTH 46.0
#define HEADING_HEIGHT 20.0
/* Points of the pump's curve. */
#define N_POINTS 48u
/* The scales reach so far beyond what is known. */
#define REACH 1.06
/* Distance of a curve's name from it, and size of the blocks that keep labels off a curve [px]. */
#define NAME_GAP 7.0
#define BLOCK_LENGTH 10.0
#define DOT 5.0
/* A curve is picked so far beside it [px]. */
#define PICKED_BESIDE 4.0

typedef struct
{
  NappeChart *chart;
  const NappePumpReport *pump;
  guint index;     /* of the pump among the study's */
  NappeChartScale flows, heads;
  NappeBox plot;
} PumpChart;

static double
x_of (const PumpChart *self, double flow)
{
  return nappe_chart_across (&self->flows, &self->plot, flow);
}

static double
y_of (const PumpChart *self, double head)
{
  return nappe_chart_up (&self->heads, &self->plot, head);
}

/* Labels keep off a stretch of a curve, and it is picked there. */
static void
block (PumpChart *self, const char *part, double x1, double y1, double x2, double y2)
{
  guint n = (guint) (hypot (x2 - x1, y2 - y1) / BLOCK_LENGTH) + 1;

  for (guint i = 0; i < n; i++)
    {
      double a = (double) i / n, b = (double) (i + 1) / n;
      NappeBox box = nappe_box_between (x1 + (x2 - x1) * a, y1 + (y2 - y1) * a, x1 + (x2 - x1) * b, y1 + (y2 - y1) * b);
      nappe_scene_block (self->chart->scene, NAPPE_BLOCK_LINE, nappe_box_grown (box, 1));
      nappe_scene_hit (self->chart->scene, part, nappe_box_grown (box, PICKED_BESIDE));
    }
}

/* part: id, picked by the curve. */
static void
draw_curve (PumpChart *self, const char *part, const NappeSystemPoint *points, guint n, const NappeStyle *style)
{
  NappeScene *scene = self->chart->scene;

  for (guint i = 0; i < n; i++)
    {
      double x = x_of (self, points[i].flow), y = y_of (self, points[i].head);

      if (i == 0)
        nappe_scene_move (scene, x, y);
      else
        {
          nappe_scene_line (scene, x, y);
          block (self, part, x_of (self, points[i - 1].flow), y_of (self, points[i - 1].head), x, y);
        }
    }
  nappe_scene_paint (scene, NAPPE_LAYER_PIPE, style);
}

/* A curve's name stands beside one of its points, above or below it, from the given end on. */
static void
name_curve (PumpChart *self, const NappeSystemPoint *points, guint n, const char *name, NappeRole role, gboolean from_end)
{
  NappeTextStyle places[32];
  guint count = 0;

  for (guint i = 0; i < G_N_ELEMENTS (places) / 4 && n > 0; i++)
    {
      double share = 0.12 + 0.76 * i / (G_N_ELEMENTS (places) / 4 - 1);
      const NappeSystemPoint *point = &points[(guint) ((from_end ? 1 - share : share) * (n - 1))];

      for (guint side = 0; side < 4; side++)
        places[count++] = (NappeTextStyle) {
          .x = x_of (self, point->flow) + (side % 2 ? -NAME_GAP : NAME_GAP),
          .y = y_of (self, point->head) + (side < 2 ? -NAME_GAP : NAME_GAP),
          .align_x = side % 2, .align_y = side < 2 ? 1 : 0, .size = NAPPE_TEXT_SMALL, .weight = NAPPE_TEXT_STRONG, .role = role,
        };
    }
  nappe_label_place_text (self->chart->scene, NAPPE_LAYER_NOTE, name, places, count, NULL);
}

static GArray *
sample_pump (const PumpChart *self)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (NappeSystemPoint));

  for (guint i = 0; i < N_POINTS; i++)
    {
      NappeSystemPoint point = { self->pump->end_flow * i / (N_POINTS - 1), 0 };

      point.head = nappe_study_pump_head (self->chart->study, self->index, point.flow);
      g_array_append_val (points, point);
    }
  return points;
}

/* Where nine in ten of the systems built like this would run. */
static void
draw_spread (PumpChart *self)
{
  const NappeSpread *spread = self->chart->options->spread;
  NappeStyle style = { .fill = NAPPE_ROLE_WATER_TOP, .stroke = NAPPE_ROLE_SURFACE, .weight = NAPPE_LINE_HAIR, .opacity = 0.5 };

  if (spread == NULL)
    return;
  const NappeBand *flow = &spread->flow[self->pump->link], *head = &spread->pump_head[self->index];
  nappe_scene_box (self->chart->scene, NAPPE_LAYER_WATER,
                   nappe_box_between (x_of (self, flow->low), y_of (self, head->high), x_of (self, flow->high),
                                      y_of (self, head->low)),
                   &style);
}

static char *
spread_text (const PumpChart *self)
{
  const NappeSpread *spread = self->chart->options->spread;

  if (spread == NULL)
    return NULL;
  const NappeBand *flow = &spread->flow[self->pump->link];
  NappeUnitSystem units = self->chart->options->units;
  g_autofree char *low = nappe_quantity_format_number (NAPPE_QUANTITY_FLOW, flow->low, units, 0);
  g_autofree char *high = nappe_chart_number (self->chart, NAPPE_QUANTITY_FLOW, flow->high);
  /* Translators: of nine in ten systems built like this: the least and the greatest flow */
  return g_strdup_printf (_("9 in 10: %1$s to %2$s"), low, high);
}

static void
draw_point (PumpChart *self)
{
  NappeChart *chart = self->chart;
  const NappePumpReport *pump = self->pump;
  double x = x_of (self, pump->flow), y = y_of (self, pump->head);
  NappeStyle dashed = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR, .dashed = TRUE };
  NappeStyle dot = { .fill = NAPPE_ROLE_INK, .stroke = NAPPE_ROLE_PAPER, .weight = NAPPE_LINE_OUTLINE };
  g_autofree char *flow = nappe_chart_number (chart, NAPPE_QUANTITY_FLOW, pump->flow);
  g_autofree char *head = nappe_chart_number (chart, NAPPE_QUANTITY_HEAD, pump->head);
  g_autofree char *lift = nappe_chart_number (chart, NAPPE_QUANTITY_HEAD, pump->static_head);
  /* Translators: of a pump: the head that it gives, and how much of it lifts the water */
  g_autofree char *heads = g_strdup_printf (_("at %1$s, %2$s of it height"), head, lift);
  g_autofree char *spread = spread_text (self);
  /* Translators: where a pump's curve meets that of the system */
  const NappeLabelSpec spec = { .part = pump->id, .name = _("Runs here"), .value = flow, .lines = { heads, spread }, .x = x,
                                .y = y, .area = self->plot };

  draw_spread (self);
  nappe_scene_stroke (chart->scene, NAPPE_LAYER_VESSEL, x, y, x, self->plot.y + self->plot.height, &dashed);
  nappe_scene_stroke (chart->scene, NAPPE_LAYER_VESSEL, self->plot.x, y, x, y, &dashed);
  nappe_scene_circle (chart->scene, NAPPE_LAYER_MARK, x, y, DOT, &dot);
  nappe_scene_block (chart->scene, NAPPE_BLOCK_MARK, (NappeBox){ x - DOT, y - DOT, 2 * DOT, 2 * DOT });
  nappe_label_place (chart->scene, &spec, NULL);
  for (guint i = 0; i < 4; i++)
    {
      double out = nappe_mark_finding_size (chart->scene);
      nappe_chart_pin (chart, pump->id, x + (i % 2 ? -out : out), y + (i / 2 ? -out : out), x, y);
    }
}

/* What the chart says, for its heading and for those who do not see it. */
static char *
summary (const PumpChart *self)
{
  g_autofree char *flow = nappe_chart_number (self->chart, NAPPE_QUANTITY_FLOW, self->pump->flow);
  g_autofree char *head = nappe_chart_number (self->chart, NAPPE_QUANTITY_HEAD, self->pump->head);
  g_autofree char *most = nappe_chart_number (self->chart, NAPPE_QUANTITY_HEAD, self->pump->shut_off_head);
  g_autofree char *end = nappe_chart_number (self->chart, NAPPE_QUANTITY_FLOW, self->pump->end_flow);

  /* Translators: of a pump: flow and head where it runs, its greatest head, its greatest flow */
  return g_strdup_printf (_("Runs at %1$s against %2$s; it could give %3$s against a shut pipe and %4$s at the end of its curve"),
                          flow, head, most, end);
}

static char *
describe_system (const PumpChart *self)
{
  g_autofree char *lift = nappe_chart_number (self->chart, NAPPE_QUANTITY_HEAD, self->pump->static_head);
  g_autofree char *lost = nappe_chart_number (self->chart, NAPPE_QUANTITY_HEAD, self->pump->head - self->pump->static_head);

  /* Translators: of a return line: height that the water is lifted, head lost at the flow that runs */
  return g_strdup_printf (_("The system asks for %1$s before anything flows and for %2$s more at this flow."), lift, lost);
}

static void
say_all (PumpChart *self, const char *sentence)
{
  NappeChart *chart = self->chart;
  g_autofree char *system = describe_system (self), *spread = spread_text (self);
  g_autofree char *whole = spread != NULL ? g_strdup_printf ("%s. %s", sentence, spread) : g_strdup (sentence);

  nappe_scene_item (chart->scene, self->pump->id, nappe_wording_part (chart->build, self->pump->id), whole, self->plot);
  nappe_scene_item (chart->scene, self->pump->line, nappe_wording_part (chart->build, self->pump->line), system, self->plot);
}

/* Findings about the line stand beside the system's curve. */
static void
pin_line (PumpChart *self, const NappeSystemCurve *asked)
{
  static const double shares[] = { 0.5, 0.3, 0.7, 0.15 };
  double out = nappe_mark_finding_size (self->chart->scene);

  for (guint i = 0; i < G_N_ELEMENTS (shares) && asked->n > 0; i++)
    {
      const NappeSystemPoint *point = &asked->points[(guint) (shares[i] * (asked->n - 1))];
      double x = x_of (self, point->flow), y = y_of (self, point->head);
      nappe_chart_pin (self->chart, self->pump->line, x, y + out, x, y);
    }
}

static void
draw (PumpChart *self)
{
  NappeChart *chart = self->chart;
  NappeStyle ground = { .fill = NAPPE_ROLE_PLATE, .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  NappeStyle pump = { .stroke = NAPPE_ROLE_SURFACE, .weight = 2.4, .round = TRUE };
  NappeStyle system = { .stroke = NAPPE_ROLE_OTHER_TEXT, .weight = 2.0, .round = TRUE, .dashed = TRUE };
  g_autoptr (GArray) points = sample_pump (self);
  g_autoptr (NappeSystemCurve) asked = nappe_system_curve_new (chart->study, self->index, self->flows.high, self->heads.high);

  nappe_scene_box (chart->scene, NAPPE_LAYER_GROUND, self->plot, &ground);
  nappe_chart_draw_up (chart, &self->heads, &self->plot);
  draw_curve (self, self->pump->id, (NappeSystemPoint *) (void *) points->data, points->len, &pump);
  draw_curve (self, self->pump->line, asked->points, asked->n, &system);
  draw_point (self);
  nappe_chart_draw_across (chart, &self->flows, &self->plot);
  name_curve (self, (NappeSystemPoint *) (void *) points->data, points->len, _("what the pump gives"), NAPPE_ROLE_SURFACE, FALSE);
  name_curve (self, asked->points, asked->n, _("what the system asks"), NAPPE_ROLE_OTHER_TEXT, TRUE);
  pin_line (self, asked);
}

/* The pump with an id, or the first of a line. */
static gint
find_pump (const NappeStudy *study, const char *part)
{
  for (guint i = 0; i < study->n_pumps; i++)
    if (g_str_equal (study->pumps[i].id, part) || g_str_equal (study->pumps[i].line, part))
      return (gint) i;
  return -1;
}

void
nappe_chart_pump (NappeChart *self)
{
  const char *part = self->options->part;
  gint index = find_pump (self->study, part);
  const NappePumpReport *pump = index >= 0 ? &self->study->pumps[index] : NULL;
  g_autofree char *title = nappe_chart_kind_title (self->build, NAPPE_CHART_PUMP, part);
  double scale = self->options->text_scale;

  if (pump == NULL || self->study->running.rest != NAPPE_REST_FOUND || !(pump->end_flow > 0) || !(pump->shut_off_head > 0))
    {
      const char *why = nappe_wording_rest (self->study->running.rest);

      nappe_chart_title (self, title, "", NAPPE_ROLE_SOFT);
      nappe_chart_say (self, pump != NULL ? part : NULL, why != NULL ? why : _("This pump does not run."));
      return;
    }
  PumpChart chart = { .chart = self, .pump = pump, .index = (guint) index };
  g_autofree char *sentence = summary (&chart);
  nappe_chart_title (self, title, sentence, NAPPE_ROLE_SOFT);
  chart.flows = (NappeChartScale){ NAPPE_QUANTITY_FLOW, 0, REACH * fmax (pump->end_flow, pump->flow), _("Flow") };
  chart.heads = (NappeChartScale){ NAPPE_QUANTITY_HEAD, fmin (0, pump->head),
                                   REACH * fmax (pump->shut_off_head, pump->head), _("Head") };
  double left = NAPPE_CHART_EDGE + HEADS_WIDTH * scale, top = self->top + HEADING_HEIGHT * scale;
  chart.plot = (NappeBox){ left, top, fmax (self->options->width - NAPPE_CHART_EDGE - 8 - left, 1),
                           fmax (self->options->height - nappe_chart_across_height (self) - top, 1) };
  say_all (&chart, sentence);
  draw (&chart);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/charts/chart-curve.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/charts/chart-private.h"
#include "picture/picture-private.h"

/* Room for the numbers of the heads, and for the heading over the plot [px]. */
#define HEADS_WIDTH 46.0
#define HEADING_HEIGHT 20.0
#define N_SAMPLES 96u
/* The scales reach so far beyond what is known. */
#define REACH 1.06
#define POINT 3.5
#define ROW 1.8

typedef struct
{
  NappeChart *chart;
  const NappePumpCurve *curve;
  NappeChartScale flows, heads;
  NappeBox plot;
} CurveChart;

static void
draw_circle (CurveChart *self, double flow, double head, double radius, const NappeStyle *style)
{
  double x = nappe_chart_across (&self->flows, &self->plot, flow), y = nappe_chart_up (&self->heads, &self->plot, head);

  nappe_scene_circle (self->chart->scene, NAPPE_LAYER_MARK, x, y, radius, style);
  nappe_scene_block (self->chart->scene, NAPPE_BLOCK_MARK, (NappeBox){ x - radius, y - radius, 2 * radius, 2 * radius });
}

/* From no flow to the last point: before the first point the study carries the curve on, and so does this. Names keep off it. */
static void
draw_line (CurveChart *self)
{
  NappeStyle style = { .stroke = NAPPE_ROLE_SURFACE, .weight = 2.4, .round = TRUE };
  double end = self->curve->flow[self->curve->n - 1], last_x = 0, last_y = 0;

  for (guint i = 0; i <= N_SAMPLES; i++)
    {
      double flow = end * i / N_SAMPLES;
      double x = nappe_chart_across (&self->flows, &self->plot, flow);
      double y = nappe_chart_up (&self->heads, &self->plot, nappe_pump_head (self->curve, flow, 1, 1, NULL));

      if (i == 0)
        nappe_scene_move (self->chart->scene, x, y);
      else
        {
          nappe_scene_line (self->chart->scene, x, y);
          nappe_scene_block (self->chart->scene, NAPPE_BLOCK_LINE, nappe_box_grown (nappe_box_between (last_x, last_y, x, y), 1));
        }
      last_x = x;
      last_y = y;
    }
  nappe_scene_paint (self->chart->scene, NAPPE_LAYER_PIPE, &style);
}

/* What the chart says to those who do not see it. */
static char *
describe (const CurveChart *self)
{
  g_autofree char *most = nappe_chart_number (self->chart, NAPPE_QUANTITY_HEAD, nappe_pump_head (self->curve, 0, 1, 1, NULL));
  g_autofree char *end = nappe_chart_number (self->chart, NAPPE_QUANTITY_FLOW, self->curve->flow[self->curve->n - 1]);
  g_autofree char *least = nappe_chart_number (self->chart, NAPPE_QUANTITY_HEAD, self->curve->head[self->curve->n - 1]);

  /* Translators: of a pump's curve: head at no flow; greatest flow, and the head there */
  return g_strdup_printf (_("From %1$s against a shut pipe to %2$s at %3$s"), most, end, least);
}

static void
draw (CurveChart *self, const double *flow, const double *head, guint n)
{
  NappeStyle ground = { .fill = NAPPE_ROLE_PLATE, .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  NappeStyle row = { .fill = NAPPE_ROLE_SOFT };
  NappeStyle point = { .fill = NAPPE_ROLE_INK, .stroke = NAPPE_ROLE_PAPER, .weight = NAPPE_LINE_OUTLINE };
  g_autofree char *words = describe (self);

  nappe_scene_box (self->chart->scene, NAPPE_LAYER_GROUND, self->plot, &ground);
  nappe_scene_item (self->chart->scene, "curve", _("Pump curve"), words, self->plot);
  nappe_chart_draw_up (self->chart, &self->heads, &self->plot);
  draw_line (self);
  for (guint i = 0; i < n; i++)
    draw_circle (self, flow[i], head[i], ROW, &row);
  for (gsize i = 0; i < self->curve->n; i++)
    draw_circle (self, self->curve->flow[i], self->curve->head[i], POINT, &point);
  nappe_chart_draw_across (self->chart, &self->flows, &self->plot);
}

NappePicture *
nappe_chart_curve_new (const NappeChartOptions *options, const NappePumpCurve *curve, const double *flow, const double *head,
                       guint n)
{
  NappePicture *picture = g_new0 (NappePicture, 1);
  NappeChartOptions sane = *options;
  NappeChart chart = { .options = &sane, .top = NAPPE_CHART_EDGE };
  CurveChart self = { .chart = &chart, .curve = curve };
  double left, top;

  sane.width = picture->width = nappe_picture_side (options->width);
  sane.height = picture->height = nappe_picture_side (options->height);
  sane.text_scale = nappe_picture_text_scale (options->text_scale);
  picture->title = g_strdup (_("Pump curve"));
  picture->scene = chart.scene = nappe_scene_new (sane.palette, sane.width, sane.height, sane.text_scale);
  left = NAPPE_CHART_EDGE + HEADS_WIDTH * sane.text_scale;
  top = chart.top + HEADING_HEIGHT * sane.text_scale;
  self.flows = (NappeChartScale){ NAPPE_QUANTITY_FLOW, 0, REACH * curve->flow[curve->n - 1], _("Flow") };
  self.heads = (NappeChartScale){ NAPPE_QUANTITY_HEAD, 0, REACH * nappe_pump_head (curve, 0, 1, 1, NULL), _("Head") };
  self.plot = (NappeBox){ left, top, fmax (sane.width - NAPPE_CHART_EDGE - 8 - left, 1),
                          fmax (sane.height - nappe_chart_across_height (&chart) - top, 1) };
  draw (&self, flow, head, n);
  return picture;
}

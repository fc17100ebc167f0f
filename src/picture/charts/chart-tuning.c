/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far the flow into the box of a siphon may drift: one bar for each thing that must hold, one for all together, and one
 * for how far the flow is likely to drift by itself. */
#include "picture/charts/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/wording.h"

/* A bound that is farther off is beyond the scale [share of the flow]. */
#define FARTHEST 1.0

typedef struct
{
  NappeChart *chart;
  const NappeDrainReport *drain;
  double flow;       /* into the box [m3/s] */
  NappeChartRows rows;
} Tuning;

static double
flow_into_box (const NappeStudy *study, const NappeDrainReport *drain)
{
  double sum = 0;

  for (guint i = 0; i < study->n_drains; i++)
    if (study->network->links[study->drains[i].link].from == study->network->links[drain->link].from)
      sum += study->drains[i].flow;
  return sum;
}

/* "−7 %, 3 090 L/h". NaN: "—". */
static char *
bound (const Tuning *self, double share)
{
  if (!isfinite (share))
    return g_strdup ("—");
  g_autofree char *drift = nappe_chart_number (self->chart, NAPPE_QUANTITY_SHARE, share);
  g_autofree char *flow = nappe_chart_number (self->chart, NAPPE_QUANTITY_FLOW, (1 + share) * self->flow);
  /* Translators: a drift of a flow in per cent, and the flow there; %1$s + or nothing, for a drift upwards */
  return g_strdup_printf (_("%1$s%2$s, %3$s"), share > 0 ? "+" : "", drift, flow);
}

static double
in_sight (double share, double beyond)
{
  return fabs (share) <= FARTHEST ? share : beyond;
}

/* From one bound to the other; NaN or far beyond: the end of the plot. value: takes it. */
static NappeChartRow *
add (Tuning *self, const char *part, const char *name, char *value, double from, double to, NappeRole fill)
{
  return nappe_chart_rows_add (&self->rows, part, g_strdup (name), value, in_sight (from, -INFINITY),
                               in_sight (to, INFINITY), fill);
}

/* How far the flow through the display is likely to be off, as shares of what it is now. */
static gboolean
find_drift (const NappeChart *chart, NappeBand *drift)
{
  double now = chart->study->running.display_flow;

  if (chart->options->spread == NULL || !(now > 0))
    return FALSE;
  drift->low = chart->options->spread->display_flow.low / now - 1;
  drift->high = chart->options->spread->display_flow.high / now - 1;
  return TRUE;
}

static void
add_bounds (Tuning *self, const NappeBand *drift)
{
  const NappeTuningWindow *window = &self->drain->window;
  const char *id = self->drain->id;

  /* Translators: beside bars that tell which flow a siphon stands; the ends of the bar are at the right */
  add (self, id, _("siphon holds"), bound (self, window->breaks), window->breaks, NAN, NAPPE_ROLE_MOVING);
  if (*window->channel != '\0')
    {
      g_autofree char *low = bound (self, window->channel_dry), *high = bound (self, window->channel_loud);
      /* Translators: two bounds of a flow */
      add (self, window->channel, _("open channel wet and quiet"), g_strdup_printf (_("%1$s to %2$s"), low, high),
           window->channel_dry, window->channel_loud, NAPPE_ROLE_TRICKLE);
    }
  if (*window->emergency != '\0')
    add (self, window->emergency, _("emergency drain dry"), bound (self, window->emergency_wet), NAN, window->emergency_wet,
         NAPPE_ROLE_PVC);
  g_autofree char *down = bound (self, window->down), *up = bound (self, window->up);
  add (self, "", _("all of it: the window"), g_strdup_printf (_("%1$s to %2$s"), down, up), window->down, window->up,
       NAPPE_ROLE_SURFACE)->strong = TRUE;
  if (drift != NULL)
    {
      g_autofree char *low = bound (self, drift->low), *high = bound (self, drift->high);
      /* Translators: how far a flow drifts in nine of ten systems built like this */
      add (self, "", _("likely drift, 9 in 10"), g_strdup_printf (_("%1$s to %2$s"), low, high), drift->low, drift->high,
           NAPPE_ROLE_EQUIPMENT);
    }
}

/* Whether it holds, and by how much. */
static char *
summary (const Tuning *self)
{
  const NappeTuningWindow *window = &self->drain->window;
  g_autofree char *now = nappe_chart_number (self->chart, NAPPE_QUANTITY_FLOW, self->flow);
  g_autofree char *down = nappe_chart_number (self->chart, NAPPE_QUANTITY_SHARE, -window->down);
  g_autofree char *up = nappe_chart_number (self->chart, NAPPE_QUANTITY_SHARE, window->up);

  if (!(window->down <= 0 && window->up >= 0))
    /* Translators: of a siphon; %s is a flow */
    return g_strdup_printf (_("Out of tune: at %s into the box one of the bounds is passed already."), now);
  /* Translators: of a siphon: flow, and two drifts in per cent */
  return g_strdup_printf (_("%1$s into the box; it may fall by %2$s or rise by %3$s."), now, down, up);
}

static const char *
why_none (const NappeChart *self)
{
  const char *why = nappe_wording_rest (self->study->running.rest);

  return why != NULL ? why : _("This siphon does not run full, so it has no window to be tuned in.");
}

static void
draw (NappeChart *chart, const NappeDrainReport *drain, const char *title)
{
  Tuning self = { .chart = chart, .drain = drain, .flow = flow_into_box (chart->study, drain) };
  NappeBand drift;
  gboolean drifts = find_drift (chart, &drift);
  g_autofree char *sentence = summary (&self);
  gboolean holds = drain->window.down <= 0 && drain->window.up >= 0;
  g_autofree char *now = nappe_chart_number (chart, NAPPE_QUANTITY_FLOW, self.flow);

  nappe_chart_title (chart, title, sentence, holds ? NAPPE_ROLE_SOFT : NAPPE_ROLE_DANGER);
  nappe_scene_item (chart->scene, drain->id, nappe_wording_part (chart->build, drain->id), sentence,
                    (NappeBox){ NAPPE_CHART_EDGE, 0, chart->options->width - 2 * NAPPE_CHART_EDGE, chart->top });
  nappe_chart_rows_init (&self.rows, NAPPE_QUANTITY_SHARE, _("Drift of the flow"));
  add_bounds (&self, drifts ? &drift : NULL);
  /* Translators: at a line through a chart; %s is a flow */
  nappe_chart_rows_mark (&self.rows, 0, g_strdup_printf (_("now %s"), now), NAPPE_ROLE_INK);
  nappe_chart_draw_rows (chart, &self.rows);
  nappe_chart_rows_clear (&self.rows);
}

void
nappe_chart_tuning (NappeChart *self)
{
  const char *part = self->options->part;
  const NappeDrainReport *drain = nappe_study_drain (self->study, part);
  g_autofree char *title = nappe_chart_kind_title (self->build, NAPPE_CHART_TUNING, part);

  if (drain != NULL && drain->window.known)
    {
      draw (self, drain, title);
      return;
    }
  nappe_chart_title (self, title, "", NAPPE_ROLE_SOFT);
  nappe_chart_say (self, *part != '\0' ? part : NULL, why_none (self));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which curves are drawn, and which of them share a panel. */
#include "picture/curves/curves-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/wording.h"

/* A level that moves less is not shown unless it is asked for [m]; a flow that stays below this neither [m3/s]. */
#define STILL 0.0005
#define NO_FLOW (1e-3 / 3600)
/* Vessels whose levels lie apart by more than this share of all get panels of their own. */
#define FAR 0.35
/* Least height that a panel stands for: 10 mm, 50 L/h, half a litre. */
#define LEAST_LENGTH 0.010
#define LEAST_FLOW (0.05 / 3600)
#define LEAST_VOLUME 0.0005
/* Air over and under the curves, as a share of the panel. */
#define AIR 0.08

double
nappe_curve_value (const NappeCourseCurve *curve, guint frame)
{
  return curve->values[frame * curve->width];
}

static void
find_bounds (NappeCourseCurve *curve, const NappeSimulation *course)
{
  curve->low = curve->high = NAN;
  for (guint f = 0; f < course->n_frames; f++)
    {
      double value = nappe_curve_value (curve, f);
      if (!isfinite (value))
        continue;
      if (!(value >= curve->low))
        {
          curve->low = value;
          curve->low_time = course->time[f];
        }
      if (!(value <= curve->high))
        {
          curve->high = value;
          curve->high_time = course->time[f];
        }
    }
}

static gboolean
is_picked (const NappeCurves *self, const NappeCourseCurve *curve)
{
  return *curve->part != '\0' && g_strcmp0 (self->options->selected, curve->part) == 0;
}

static gboolean
is_wanted (const NappeCurves *self, const NappeNode *node)
{
  const char *const *vessels = self->options->vessels;
  if (g_strcmp0 (self->options->selected, node->id) == 0)
    return TRUE;
  return vessels != NULL ? g_strv_contains (vessels, node->id)
                         : node->kind == NAPPE_NODE_DISPLAY || node->kind == NAPPE_NODE_BOX || node->kind == NAPPE_NODE_CHAMBER
                               || node->kind == NAPPE_NODE_VESSEL;
}

/* How much a curve matters: the display and the return chamber most, then what moves most. */
static double
rank_of_level (const NappeCurves *self, guint node, const NappeCourseCurve *curve)
{
  const NappeNetwork *network = self->course->network;
  double range = curve->high - curve->low;
  if (node == network->display || node == network->return_chamber || self->options->vessels != NULL)
    return 1e3 + range;
  return range > STILL || is_picked (self, curve) ? range : -1;
}

typedef struct
{
  NappeCourseCurve curve;
  double rank;
} Candidate;

static gint
higher_rank_first (gconstpointer a, gconstpointer b)
{
  double x = ((const Candidate *) a)->rank, y = ((const Candidate *) b)->rank;
  return x < y ? 1 : x > y ? -1 : 0;
}

static void
add_candidate (GArray *candidates, NappeCourseCurve curve, double rank)
{
  Candidate candidate = { curve, rank };
  if (rank >= 0 && isfinite (curve.low))
    g_array_append_val (candidates, candidate);
}

/* What matters most first; the picked one among the first that are drawn, without changing the strokes of those before. */
static void
put_in_order (const NappeCurves *self, GArray *candidates)
{
  g_array_sort (candidates, higher_rank_first);
  for (guint i = NAPPE_CURVES_MOST; i < candidates->len; i++)
    if (is_picked (self, &g_array_index (candidates, Candidate, i).curve))
      g_array_index (candidates, Candidate, NAPPE_CURVES_MOST - 1) = g_array_index (candidates, Candidate, i);
}

static GArray *
level_candidates (const NappeCurves *self)
{
  const NappeSimulation *course = self->course;
  const NappeNetwork *network = course->network;
  GArray *candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));
  for (guint i = 0; i < network->n_nodes; i++)
    {
      NappeCourseCurve curve = { .part = network->nodes[i].id, .values = course->level + i, .width = network->n_nodes,
                           .rim = network->nodes[i].rim };
      if (network->nodes[i].kind > NAPPE_NODE_VESSEL || !is_wanted (self, &network->nodes[i]))
        continue;
      find_bounds (&curve, course);
      add_candidate (candidates, curve, rank_of_level (self, i, &curve));
    }
  put_in_order (self, candidates);
  return candidates;
}

static GArray *
flow_candidates (const NappeCurves *self)
{
  const NappeSimulation *course = self->course;
  const NappeNetwork *network = course->network;
  GArray *candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      NappeCourseCurve curve = { .part = link->id, .values = course->flow + i, .width = network->n_links, .rim = NAN };
      if ((link->kind != NAPPE_LINK_DRAIN && link->kind != NAPPE_LINK_PUMP) || *link->id == '\0')
        continue;
      find_bounds (&curve, course);
      double most = fmax (fabs (curve.low), fabs (curve.high));
      add_candidate (candidates, curve, most > NO_FLOW || is_picked (self, &curve) ? most : -1);
    }
  put_in_order (self, candidates);
  return candidates;
}

/* The name of a vessel with its overflow's, of any other part its own. */
static char *
name_of (const NappeCurves *self, const char *id)
{
  NappeNode node = { 0 };
  g_strlcpy (node.id, id, sizeof node.id);
  return nappe_wording_vessel (self->build, &node);
}

static void
add_curve (const NappeCurves *self, NappeCurvesPanel *panel, const NappeCourseCurve *curve, guint style)
{
  NappeCourseCurve *copy = &panel->curves[panel->n++];
  *copy = *curve;
  copy->name = name_of (self, curve->part);
  copy->style = style;
}

/* The height below which all vessels are lower ones; -INFINITY: there are no two groups. */
static double
find_split (const GArray *candidates, guint n)
{
  double low = INFINITY, high = -INFINITY, widest = 0, split = -INFINITY;
  for (guint i = 0; i < n; i++)
    {
      const NappeCourseCurve *curve = &g_array_index (candidates, Candidate, i).curve;
      double next = INFINITY;
      low = fmin (low, curve->low);
      high = fmax (high, curve->high);
      for (guint k = 0; k < n; k++)
        {
          const NappeCourseCurve *other = &g_array_index (candidates, Candidate, k).curve;
          if (other->high > curve->high)
            next = fmin (next, other->low);
        }
      if (isfinite (next) && next - curve->high > widest)
        {
          widest = next - curve->high;
          split = (next + curve->high) / 2;
        }
    }
  return widest > FAR * (high - low) ? split : -INFINITY;
}

/* Bounds of a panel: all of its curves, rims that are not far, and some air. */
static void
set_range (NappeCurvesPanel *panel, double least)
{
  double low = INFINITY, high = -INFINITY, rim = -INFINITY;
  for (guint i = 0; i < panel->n; i++)
    {
      low = fmin (low, panel->curves[i].low);
      high = fmax (high, panel->curves[i].high);
    }
  if (panel->quantity != NAPPE_QUANTITY_LENGTH)
    low = fmin (low, 0);
  for (guint i = 0; i < panel->n; i++)
    if (panel->curves[i].rim < high + fmax (high - low, 0.03))
      rim = fmax (rim, panel->curves[i].rim);
  high = fmax (high, rim);
  double missing = fmax (least - (high - low), 0), air = fmax (high - low, least) * AIR;
  panel->high = high + missing / 2 + air;
  panel->low = panel->quantity == NAPPE_QUANTITY_LENGTH ? low - missing / 2 - air : low < 0 ? low - air : 0;
}

static NappeCurvesPanel *
add_panel (NappeCurves *self, NappeQuantity quantity, const char *heading)
{
  NappeCurvesPanel *panel = &self->panels[self->n_panels];
  *panel = (NappeCurvesPanel) { .quantity = quantity, .heading = heading };
  return panel;
}

static void
keep_panel (NappeCurves *self, double least)
{
  if (self->panels[self->n_panels].n == 0)
    return;
  set_range (&self->panels[self->n_panels], least);
  self->n_panels++;
}

/* One over another two panels of levels need names of their own. */
static const char *
levels_heading (gboolean divided, gboolean upper)
{
  if (!divided)
    /* Translators: over a panel of curves; the unit follows */
    return _("Levels over the floor");
  if (upper)
    /* Translators: over a panel of curves, of tank and overflow; the unit follows */
    return _("Upper levels over the floor");
  /* Translators: over a panel of curves, of the sump; the unit follows */
  return _("Lower levels over the floor");
}

static void
choose_levels (NappeCurves *self)
{
  g_autoptr (GArray) candidates = level_candidates (self);
  guint n = MIN (candidates->len, NAPPE_CURVES_MOST);
  double split = find_split (candidates, n);
  for (guint group = 0; group < 2; group++)
    {
      NappeCurvesPanel *panel = add_panel (self, NAPPE_QUANTITY_LENGTH, levels_heading (isfinite (split), group == 0));
      for (guint i = 0; i < n; i++)
        {
          const NappeCourseCurve *curve = &g_array_index (candidates, Candidate, i).curve;
          if ((curve->low > split) == (group == 0))
            add_curve (self, panel, curve, i);
        }
      keep_panel (self, LEAST_LENGTH);
    }
}

static void
choose_flows (NappeCurves *self)
{
  g_autoptr (GArray) candidates = flow_candidates (self);
  /* Translators: over a panel of curves; the unit follows */
  NappeCurvesPanel *panel = add_panel (self, NAPPE_QUANTITY_FLOW, _("Flows"));
  for (guint i = 0; i < candidates->len && i < NAPPE_CURVES_MOST; i++)
    add_curve (self, panel, &g_array_index (candidates, Candidate, i).curve, i);
  keep_panel (self, LEAST_FLOW);
}

static void
choose_floor (NappeCurves *self)
{
  /* Translators: over a panel of curves; the unit follows */
  NappeCurvesPanel *panel = add_panel (self, NAPPE_QUANTITY_VOLUME, _("Water on the floor"));
  NappeCourseCurve curve = { .part = "", .values = self->course->on_floor, .width = 1, .rim = NAN };
  if (!(self->course->spilled > 0))
    return;
  find_bounds (&curve, self->course);
  curve.name = g_strdup (_("on the floor"));
  panel->curves[panel->n++] = curve;
  keep_panel (self, LEAST_VOLUME);
}

void
nappe_curves_choose (NappeCurves *self)
{
  if (self->course->n_frames == 0)
    return;
  choose_levels (self);
  choose_flows (self);
  choose_floor (self);
}

void
nappe_curves_clear (NappeCurves *self)
{
  for (guint i = 0; i < self->n_panels; i++)
    for (guint k = 0; k < self->panels[i].n; k++)
      g_free (self->panels[i].curves[k].name);
}

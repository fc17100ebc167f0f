/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Slopes of the equations, for Newton's method. What is left out is small: how an open drain shares its outflow, how the
 * ends of drains fill, what is taken from shallow water. Whatever leaves one state enters another here too, so that
 * each step keeps the water to rounding, however inexact the slopes are. */
#include "study/simulation-private.h"

#include <string.h>

static double
area_at (const NappeTime *self, guint node)
{
  const NappeNode *vessel = &self->network->nodes[node];

  return self->level[node] < vessel->step ? vessel->area_low : vessel->area;
}

/* A flow from one state to another that changes with a third. */
static void
put (double **jacobian, guint by, guint from, guint to, double slope)
{
  jacobian[by][from] -= slope;
  jacobian[by][to] += slope;
}

/* The same where it changes with the level of a vessel; that of the floor counts for nothing. */
static void
put_level (const NappeTime *self, double **jacobian, guint node, guint from, guint to, double slope)
{
  if (node != self->network->floor)
    put (jacobian, self->volume[node], from, to, slope / area_at (self, node));
}

static void
add_plain_links (const NappeTime *self, double **jacobian)
{
  for (guint p = 0; p < self->n_plain; p++)
    {
      const NappeLink *link = &self->network->links[self->plain[p]];
      const NappeLinkFlow *law = &self->law[self->plain[p]];
      guint from = self->volume[link->from], to = self->volume[link->to];

      put_level (self, jacobian, link->from, from, to, law->slope_from);
      put_level (self, jacobian, link->to, from, to, law->slope_to);
    }
}

/* One section's part in the loops: how its head changes with its surfaces and its flow, and what that does to all flows. */
static void
add_section (const NappeTime *self, const NappeLine *line, guint place, const double *y, double **jacobian)
{
  guint index = line->links[place], n = line->n_flows;
  const NappeLink *link = &self->network->links[index];
  const NappeLineEndState *end = nappe_line_find_end (line, index);
  gboolean from_vessel = self->volume[link->from] != G_MAXUINT;
  double airy_slope = 0;

  if (end != NULL && end->airy)
    nappe_line_airy_level (end, y[end->content], &airy_slope);
  for (guint k = 0; k < n; k++)
    {
      double carried = line->loop[k * line->n_links + place], answer = 0;

      if (from_vessel)
        jacobian[line->first_flow + k][self->volume[link->from]] -= carried;
      if (end != NULL)
        jacobian[line->first_flow + k][end->airy ? end->content : self->volume[link->to]] += carried;
      for (guint m = 0; m < n; m++)
        answer += line->mass[k * n + m] * line->loop[m * line->n_links + place];
      if (answer == 0)
        continue;
      guint row = line->first_flow + k;
      if (from_vessel)
        jacobian[self->volume[link->from]][row] += answer * self->head_by_level[index] / area_at (self, link->from);
      if (end != NULL && end->airy)
        jacobian[end->content][row] -= answer * airy_slope;
      else if (end != NULL && link->to != self->network->floor && self->level[link->to] > link->sill)
        jacobian[self->volume[link->to]][row] -= answer / area_at (self, link->to);
      for (guint other = 0; other < n; other++)
        jacobian[line->first_flow + other][row]
            += answer * self->head_by_flow[index] * line->loop[other * line->n_links + place];
    }
}

static void
add_full_line (const NappeTime *self, const NappeLine *line, const double *y, double **jacobian)
{
  for (guint i = 0; i < line->n_links; i++)
    {
      gboolean wanted = FALSE;

      for (guint k = 0; k < line->n_flows; k++)
        wanted |= line->loop[k * line->n_links + i] != 0;
      if (wanted)
        add_section (self, line, i, y, jacobian);
    }
}

static void
add_column (const NappeTime *self, const NappeLine *line, const double *y, double **jacobian)
{
  double rise;

  nappe_column_level (&line->column, y[line->content], &rise);
  for (guint i = 0; i < line->n_links; i++)
    {
      const NappeLink *link = &self->network->links[line->links[i]];
      const NappeLinkFlow *law = &self->law[line->links[i]];

      if (link->kind != NAPPE_LINK_PUMP)
        continue;
      put_level (self, jacobian, link->from, self->volume[link->from], line->content, law->slope_from);
      put (jacobian, line->content, self->volume[link->from], line->content, law->slope_to * rise);
    }
}

static void
add_open_drain (const NappeTime *self, const NappeLine *line, double **jacobian)
{
  const NappeLink *drain = &self->network->links[line->root];
  guint box = self->volume[drain->from];
  double sum = 0, passed = line->outflow_by_content > 0 ? 0 : line->mode == NAPPE_LINE_SWEPT ? 0.5 : 1;

  put_level (self, jacobian, drain->from, box, line->content, line->inflow_by_level);
  if (self->volume[drain->to] != G_MAXUINT)
    put_level (self, jacobian, drain->to, box, line->content, line->inflow_by_end);
  for (guint e = 0; e < line->n_ends; e++)
    sum += self->flow[line->ends[e].link];
  for (guint e = 0; e < line->n_ends; e++)
    {
      guint to = self->volume[self->network->links[line->ends[e].link].to];
      double share = line->n_ends == 1 ? 1 : sum != 0 ? self->flow[line->ends[e].link] / sum : e == 0;

      put (jacobian, line->content, line->content, to, share * line->outflow_by_content);
      put_level (self, jacobian, drain->from, line->content, to, share * passed * line->inflow_by_level);
    }
}

void
nappe_time_slopes (NappeTime *self, double t, const double *y, double **jacobian)
{
  if (!(self->seen_at == t) || memcmp (self->seen, y, self->n_states * sizeof *y) != 0)
    {
      g_autofree double *rate = g_new0 (double, self->n_states);

      nappe_time_evaluate (self, t, y, rate);
    }
  add_plain_links (self, jacobian);
  for (guint i = 0; i < self->n_lines; i++)
    {
      const NappeLine *line = &self->lines[i];

      if (line->mode == NAPPE_LINE_FULL)
        add_full_line (self, line, y, jacobian);
      else if (line->drain)
        add_open_drain (self, line, jacobian);
      else
        add_column (self, line, y, jacobian);
    }
}

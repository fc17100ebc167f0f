/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of pipe as loops.
 *
 * In a line that runs full the flows of its sections are not free: what comes to a junction leaves it. With all
 * vessels taken as one, the sections left over by a spanning tree each close one loop; their flows are free, and that of
 * every other section is a sum of them. So water is kept at the junctions by construction, whatever the shape of the
 * line: tees, two pumps in one line, rings. */
#include "study/simulation-private.h"

#include "physics/gravity.h"

#include <math.h>
#include <string.h>

/* Water that a fitting without length moves along with it, as a length of pipe [m]. */
#define LEAST_LENGTH 0.02

static gboolean
is_junction (const NappeTime *self, guint node)
{
  return self->network->nodes[node].kind == NAPPE_NODE_JUNCTION;
}

static gboolean
is_of_line (const NappeLink *link)
{
  return link->kind == NAPPE_LINK_DRAIN || link->kind == NAPPE_LINK_PIPE || link->kind == NAPPE_LINK_PUMP;
}

gboolean
nappe_time_is_open (const NappeTime *self, guint index)
{
  const NappeLink *link = &self->network->links[index];

  if (link->kind == NAPPE_LINK_PUMP)
    return link->curve.n >= 2;
  return !link->shut && !self->check_shut[index] && (link->kind != NAPPE_LINK_DRAIN || link->open_share > 0);
}

double
nappe_line_bore_of (const NappeTime *self, const NappeLine *line)
{
  return self->network->links[line->root].inlet.bore;
}

double
nappe_time_inertia (const NappeTime *self, guint index)
{
  const NappeLink *link = &self->network->links[index];
  double sum = 0, bore = 0;

  for (guint i = 0; i < link->n_stretches; i++)
    {
      const NappeStretch *stretch = &self->network->stretches[link->first_stretch + i];

      sum += stretch->length / (G_PI_4 * stretch->bore * stretch->bore);
      bore = stretch->bore;
    }
  if (bore > 0)
    sum = fmax (sum, LEAST_LENGTH / (G_PI_4 * bore * bore));
  return sum / NAPPE_GRAVITY;
}

/* Grows a tree from the vessels over the junctions. parent: by node, place of the section that leads to it. */
static void
grow_tree (const NappeTime *self, const NappeLine *line, gboolean all, gint *parent, guint8 *in_tree)
{
  gboolean grown = TRUE;

  while (grown)
    {
      grown = FALSE;
      for (guint i = 0; i < line->n_links && !grown; i++)
        {
          const NappeLink *link = &self->network->links[line->links[i]];
          gboolean from = !is_junction (self, link->from) || parent[link->from] >= 0;
          gboolean to = !is_junction (self, link->to) || parent[link->to] >= 0;

          if (from == to || (!all && !nappe_time_is_open (self, line->links[i])))
            continue;
          parent[from ? link->to : link->from] = (gint) i;
          in_tree[i] = TRUE;
          grown = TRUE;
        }
    }
}

/* Adds the way between a junction and the vessels to a loop: from it (direction 1) or to it (-1). */
static void
add_way (const NappeTime *self, const NappeLine *line, const gint *parent, guint node, double direction, double *loop)
{
  while (is_junction (self, node))
    {
      const NappeLink *link = &self->network->links[line->links[parent[node]]];

      loop[parent[node]] += direction * (link->from == node ? 1 : -1);
      node = link->from == node ? link->to : link->from;
    }
}

static guint
close_loops (const NappeTime *self, NappeLine *line, gboolean all)
{
  g_autofree gint *parent = g_new (gint, self->network->n_nodes);
  g_autofree guint8 *in_tree = g_new0 (guint8, line->n_links);
  guint n = 0;

  for (guint i = 0; i < self->network->n_nodes; i++)
    parent[i] = -1;
  grow_tree (self, line, all, parent, in_tree);
  for (guint i = 0; i < line->n_links; i++)
    {
      const NappeLink *link = &self->network->links[line->links[i]];
      gboolean joined = (!is_junction (self, link->from) || parent[link->from] >= 0)
                        && (!is_junction (self, link->to) || parent[link->to] >= 0);

      if (in_tree[i] || !joined || (!all && !nappe_time_is_open (self, line->links[i])))
        continue;
      if (line->loop != NULL)
        {
          double *loop = line->loop + n * line->n_links;

          memset (loop, 0, line->n_links * sizeof *loop);
          loop[i] = 1;
          add_way (self, line, parent, link->to, 1, loop);
          add_way (self, line, parent, link->from, -1, loop);
          line->chord[n] = i;
        }
      n++;
    }
  return n;
}

/* Inverts the symmetric matrix of n rows in place, by Gauss and Jordan; it is positive definite. */
static void
invert (double *matrix, guint n)
{
  for (guint k = 0; k < n; k++)
    {
      double pivot = matrix[k * n + k];

      matrix[k * n + k] = 1;
      for (guint j = 0; j < n; j++)
        matrix[k * n + j] /= pivot;
      for (guint i = 0; i < n; i++)
        {
          double factor = matrix[i * n + k];

          if (i == k)
            continue;
          matrix[i * n + k] = 0;
          for (guint j = 0; j < n; j++)
            matrix[i * n + j] -= factor * matrix[k * n + j];
        }
    }
}

void
nappe_line_find_loops (NappeTime *self, NappeLine *line, double *y)
{
  guint n;

  if (line->mode == NAPPE_LINE_FULL)
    nappe_line_spread_flows (self, line, y);
  n = line->n_flows = close_loops (self, line, FALSE);
  for (guint k = 0; k < line->most_flows; k++)
    y[line->first_flow + k] = k < n && line->mode == NAPPE_LINE_FULL ? self->flow[line->links[line->chord[k]]] : 0;
  for (guint a = 0; a < n; a++)
    for (guint b = 0; b < n; b++)
      {
        double sum = 0;

        for (guint i = 0; i < line->n_links; i++)
          {
            double both = line->loop[a * line->n_links + i] * line->loop[b * line->n_links + i];

            if (both != 0)
              sum += both * nappe_time_inertia (self, line->links[i]);
          }
        line->mass[a * n + b] = sum;
      }
  invert (line->mass, n);
}

void
nappe_line_spread_flows (NappeTime *self, const NappeLine *line, const double *y)
{
  for (guint i = 0; i < line->n_links; i++)
    {
      double sum = 0;

      for (guint k = 0; k < line->n_flows; k++)
        sum += line->loop[k * line->n_links + i] * y[line->first_flow + k];
      self->flow[line->links[i]] = sum;
    }
}

double
nappe_line_tail (const NappeTime *self, const NappeLine *line)
{
  double sum = 0, highest = -INFINITY;

  for (guint i = 0; i < line->n_ends; i++)
    highest = fmax (highest, self->level[self->network->links[line->ends[i].link].to]);
  for (guint i = 0; i < line->n_links; i++)
    {
      const NappeLink *link = &self->network->links[line->links[i]];

      sum += nappe_link_content_below (self->network, link, is_junction (self, link->to) ? highest : self->level[link->to]);
    }
  return sum;
}

/* Takes all sections that hang together by junctions. */
static void
collect (NappeTime *self, guint start, guint line)
{
  const NappeNetwork *network = self->network;
  gboolean grown = TRUE;

  self->line_of[start] = (gint) line;
  while (grown)
    {
      grown = FALSE;
      for (guint i = 0; i < network->n_links; i++)
        for (guint j = 0; j < network->n_links && self->line_of[i] < 0 && is_of_line (&network->links[i]); j++)
          {
            const NappeLink *a = &network->links[i], *b = &network->links[j];

            if (self->line_of[j] != (gint) line)
              continue;
            if (((a->from == b->from || a->from == b->to) && is_junction (self, a->from))
                || ((a->to == b->from || a->to == b->to) && is_junction (self, a->to)))
              {
                self->line_of[i] = (gint) line;
                grown = TRUE;
              }
          }
    }
}

static void
add_end (NappeTime *self, NappeLine *line, guint link)
{
  NappeLineEndState *end = &line->ends[line->n_ends++];

  *end = (NappeLineEndState){ .link = link, .content = self->n_states++ };
  nappe_column_init (&end->column, self->network, &link, 1);
  /* Full, it stands at its mouth at least: what lies above its pipes holds nothing. */
  if (end->column.n > 0)
    end->column.z[end->column.n - 1] = fmax (end->column.z[end->column.n - 1], self->network->links[link].sill);
  end->holds = nappe_column_whole (&end->column) > NAPPE_TIME_LEAST_CONTENT;
}

static void
fill_line (NappeTime *self, guint index)
{
  const NappeNetwork *network = self->network;
  NappeLine *line = &self->lines[index];

  *line = (NappeLine){ .root = G_MAXUINT, .links = g_new0 (guint, network->n_links), .junction = NAN };
  for (guint i = 0; i < network->n_links; i++)
    if (self->line_of[i] == (gint) index)
      line->links[line->n_links++] = i;
  line->ends = g_new0 (NappeLineEndState, line->n_links);
  for (guint i = 0; i < line->n_links; i++)
    {
      const NappeLink *link = &network->links[line->links[i]];

      if (line->root == G_MAXUINT || (link->kind == NAPPE_LINK_DRAIN && !line->drain))
        line->root = line->links[i];
      line->drain |= link->kind == NAPPE_LINK_DRAIN;
      if (!is_junction (self, link->to) && link->kind != NAPPE_LINK_PUMP)
        add_end (self, line, line->links[i]);
    }
  nappe_column_init (&line->column, network, line->links, line->n_links);
  line->content = self->n_states++;
  line->most_flows = close_loops (self, line, TRUE);
  line->first_flow = self->n_states;
  self->n_states += line->most_flows;
  line->chord = g_new0 (guint, MAX (line->most_flows, 1));
  line->loop = g_new0 (double, MAX (line->most_flows, 1) * line->n_links);
  line->mass = g_new0 (double, MAX (line->most_flows * line->most_flows, 1));
  line->drive = g_new0 (double, MAX (line->most_flows, 1));
  line->share = g_new0 (double, MAX (line->n_ends, 1));
}

void
nappe_time_find_lines (NappeTime *self)
{
  const NappeNetwork *network = self->network;

  self->line_of = g_new (gint, MAX (network->n_links, 1));
  self->plain = g_new0 (guint, MAX (network->n_links, 1));
  self->lines = g_new0 (NappeLine, MAX (network->n_links, 1));
  for (guint i = 0; i < network->n_links; i++)
    self->line_of[i] = -1;
  for (guint i = 0; i < network->n_links; i++)
    {
      if (!is_of_line (&network->links[i]))
        self->plain[self->n_plain++] = i;
      else if (self->line_of[i] < 0)
        collect (self, i, self->n_lines++);
    }
  for (guint i = 0; i < self->n_lines; i++)
    fill_line (self, i);
}

void
nappe_time_clear_lines (NappeTime *self)
{
  for (guint i = 0; i < self->n_lines; i++)
    {
      NappeLine *line = &self->lines[i];

      for (guint e = 0; e < line->n_ends; e++)
        nappe_column_clear (&line->ends[e].column);
      nappe_column_clear (&line->column);
      g_free (line->links);
      g_free (line->ends);
      g_free (line->chord);
      g_free (line->loop);
      g_free (line->mass);
      g_free (line->drive);
      g_free (line->share);
    }
  g_clear_pointer (&self->lines, g_free);
  g_clear_pointer (&self->line_of, g_free);
  g_clear_pointer (&self->plain, g_free);
}

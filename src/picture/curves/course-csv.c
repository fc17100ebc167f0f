/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/curves/course-csv.h"

#include <math.h>

#include "units/quantity.h"

/* Of a micrometre, a millilitre an hour, a microlitre and a millisecond nobody can want less. */
#define FORMAT "%.3f"

/* What is behind the id of a link's part, so that the two ways under and over a baffle have names of their own. NULL: no
 * column, because it leads to the floor, whose litres are counted. */
static const char *
link_word (NappeLinkKind kind)
{
  switch (kind)
    {
    case NAPPE_LINK_WEIR:
      return "_weir";
    case NAPPE_LINK_GAP:
      return "_gap";
    case NAPPE_LINK_JOINT:
      return "_joint";
    case NAPPE_LINK_DRAIN:
    case NAPPE_LINK_PIPE:
    case NAPPE_LINK_PUMP:
    case NAPPE_LINK_SOCK:
      return "";
    case NAPPE_LINK_RIM:
    default:
      return NULL;
    }
}

/* One column of flows: links of one kind and id, side by side. */
typedef struct
{
  NappeLinkKind kind;
  const char *id; /* of the part; of a pump's only pipe the pump's */
} FlowColumn;

static gboolean
is_in (const FlowColumn *column, const NappeLink *link)
{
  return column->kind == link->kind && g_str_equal (column->id, link->id);
}

static GArray *
find_flows (const NappeNetwork *network)
{
  GArray *columns = g_array_new (FALSE, FALSE, sizeof (FlowColumn));

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      FlowColumn column = { link->kind, link->id };
      gboolean known = link_word (link->kind) == NULL || *link->id == '\0';

      for (guint k = 0; k < columns->len && !known; k++)
        known = is_in (&g_array_index (columns, FlowColumn, k), link);
      if (!known)
        g_array_append_val (columns, column);
    }
  return columns;
}

static void
add_heading (GString *text, const char *id, const char *word, NappeQuantity quantity)
{
  g_string_append_printf (text, ",%s%s_%s", id, word, nappe_quantity_file_suffix (quantity));
}

/* si in the unit of the build file, which is the metric one on screens; empty when it is no number. */
static void
add_cell (GString *text, NappeQuantity quantity, double si)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append_c (text, ',');
  if (!isfinite (si))
    return;
  g_ascii_formatd (number, sizeof number, FORMAT, nappe_quantity_to_display (quantity, si, NAPPE_UNITS_METRIC));
  g_string_append (text, g_str_equal (number, "-0.000") ? number + 1 : number);
}

static void
add_headings (GString *text, const NappeNetwork *network, const GArray *flows)
{
  g_string_append_printf (text, "time_%s", nappe_quantity_file_suffix (NAPPE_QUANTITY_DURATION));
  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind <= NAPPE_NODE_VESSEL)
      add_heading (text, network->nodes[i].id, "_level", NAPPE_QUANTITY_LENGTH);
  for (guint k = 0; k < flows->len; k++)
    {
      const FlowColumn *column = &g_array_index (flows, FlowColumn, k);
      g_autofree char *word = g_strconcat (link_word (column->kind), "_flow", NULL);
      add_heading (text, column->id, word, NAPPE_QUANTITY_FLOW);
    }
  add_heading (text, "on_the_floor", "", NAPPE_QUANTITY_VOLUME);
  g_string_append_c (text, '\n');
}

/* levels and flows: by node and link, at the time. */
static void
add_row (GString *text, const NappeSimulation *course, const GArray *flows, double time, const double *levels,
         const double *flow, double on_floor)
{
  const NappeNetwork *network = course->network;
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append (text, g_ascii_formatd (number, sizeof number, FORMAT, time));
  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind <= NAPPE_NODE_VESSEL)
      add_cell (text, NAPPE_QUANTITY_LENGTH, levels[i]);
  for (guint k = 0; k < flows->len; k++)
    {
      double sum = 0;

      for (guint i = 0; i < network->n_links; i++)
        if (is_in (&g_array_index (flows, FlowColumn, k), &network->links[i]))
          sum += flow[i];
      add_cell (text, NAPPE_QUANTITY_FLOW, sum);
    }
  add_cell (text, NAPPE_QUANTITY_VOLUME, on_floor);
  g_string_append_c (text, '\n');
}

static void
add_frames (GString *text, const NappeSimulation *course, const GArray *flows)
{
  const NappeNetwork *network = course->network;

  for (guint f = 0; f < course->n_frames; f++)
    add_row (text, course, flows, course->time[f], course->level + f * network->n_nodes,
             course->flow + f * network->n_links, course->on_floor[f]);
}

/* Place of a time between frames: f and f + 1 are joined straight, `share` of the way gone. */
static double
share_of_way (const NappeSimulation *course, guint f, double time)
{
  double step = course->time[f + 1] - course->time[f];

  return step > 0 ? CLAMP ((time - course->time[f]) / step, 0, 1) : 1;
}

static void
mix (double *into, const double *a, const double *b, guint n, double share)
{
  for (guint i = 0; i < n; i++)
    into[i] = a[i] + share * (b[i] - a[i]);
}

static void
add_even_rows (GString *text, const NappeSimulation *course, const GArray *flows, double every)
{
  const guint n_nodes = course->network->n_nodes, n_links = course->network->n_links;
  g_autofree double *levels = g_new (double, n_nodes);
  g_autofree double *flow = g_new (double, n_links);
  guint f = 0;

  for (guint64 row = 0;; row++)
    {
      double time = fmin ((double) row * every, course->end_time), on_floor;

      while (f + 2 < course->n_frames && course->time[f + 1] <= time)
        f++;
      guint next = MIN (f + 1, course->n_frames - 1);
      double share = next > f ? share_of_way (course, f, time) : 0;
      mix (levels, course->level + f * n_nodes, course->level + next * n_nodes, n_nodes, share);
      mix (flow, course->flow + f * n_links, course->flow + next * n_links, n_links, share);
      mix (&on_floor, &course->on_floor[f], &course->on_floor[next], 1, share);
      add_row (text, course, flows, time, levels, flow, on_floor);
      if (time >= course->end_time)
        return;
    }
}

char *
nappe_course_csv (const NappeSimulation *course, double every)
{
  g_autoptr (GArray) flows = find_flows (course->network);
  GString *text;

  if (every > 0 && course->end_time / every > NAPPE_COURSE_CSV_ROWS_MAX)
    return NULL;
  text = g_string_new (NULL);
  add_headings (text, course->network, flows);
  if (every > 0 && course->n_frames > 0)
    add_even_rows (text, course, flows, every);
  else
    add_frames (text, course, flows);
  return g_string_free (text, FALSE);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the rows of a table to a pump's curve. */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "catalogue/curve-table-private.h"
#include "catalogue/item-members-private.h"

/* The table being fitted, in SI. */
typedef struct
{
  const NappeCurveTable *table;
  double *flow, *head;
  GError **error;
} Fitting;

/* What rows of the catalogue may hold: one table says it for all. */
static double
greatest (NappeItemList list)
{
  for (guint i = 0; i < nappe_item_member_count; i++)
    if (nappe_item_members[i].type == NAPPE_MEMBER_LIST && nappe_item_members[i].offset == (gsize) list)
      return nappe_item_members[i].most;
  g_return_val_if_reached (0);
}

static gboolean
check_value (const Fitting *self, guint index, NappeQuantity quantity, double value, double most)
{
  const NappeCurveTable *table = self->table;
  guint line = table->rows[index].line;

  if (!(value >= 0))
    return nappe_table_refuse (self->error, NAPPE_CATALOGUE_ERROR_RANGE, table->name, line,
                               quantity == NAPPE_QUANTITY_FLOW ? _("the flow is below 0") : _("the head is below 0"));
  if (value > most)
    {
      g_autofree char *shown = nappe_quantity_format (quantity, value, NAPPE_UNITS_METRIC, 3);
      g_autofree char *limit = nappe_quantity_format (quantity, most, NAPPE_UNITS_METRIC, 3);

      return nappe_table_refuse (self->error, NAPPE_CATALOGUE_ERROR_RANGE, table->name, line,
                                 _("%s is more than any pump gives that this program knows of (%s); is the unit right?"), shown,
                                 limit);
    }
  return TRUE;
}

static gboolean
check_order (const Fitting *self, guint index)
{
  const NappeCurveTable *table = self->table;
  guint line = table->rows[index].line, before = table->rows[index - 1].line;

  if (self->flow[index] <= self->flow[index - 1])
    return nappe_table_refuse (self->error, NAPPE_CATALOGUE_ERROR_RANGE, table->name, MAX (line, before),
                               _("the same flow as in line %u"), MIN (line, before));
  if (self->head[index] >= self->head[index - 1])
    return nappe_table_refuse (
        self->error, NAPPE_CATALOGUE_ERROR_RANGE, table->name, line,
        _("the flow is greater than in line %u, and the head is not less: a pump’s head falls as its flow rises"),
        before);
  return TRUE;
}

gboolean
nappe_curve_table_row (const NappeCurveTable *self, guint index, const char *flow_unit, const char *head_unit, double *flow,
                       double *head, GError **error)
{
  const NappeCurveRow *row = &self->rows[index];
  g_autoptr (GError) cause = NULL;

  if (!nappe_quantity_from_unit (NAPPE_QUANTITY_FLOW, row->flow, flow_unit, flow, &cause)
      || !nappe_quantity_from_unit (NAPPE_QUANTITY_HEAD, row->head, head_unit, head, &cause))
    return nappe_table_refuse (error, NAPPE_CATALOGUE_ERROR_FORMAT, self->name, 0, "%s", cause->message);
  return TRUE;
}

static gboolean
read_rows (Fitting *self, const char *flow_unit, const char *head_unit)
{
  double most_flow = greatest (NAPPE_LIST_FLOW), most_head = greatest (NAPPE_LIST_HEAD);

  for (guint i = 0; i < self->table->n; i++)
    {
      if (!nappe_curve_table_row (self->table, i, flow_unit, head_unit, &self->flow[i], &self->head[i], self->error)
          || !check_value (self, i, NAPPE_QUANTITY_FLOW, self->flow[i], most_flow)
          || !check_value (self, i, NAPPE_QUANTITY_HEAD, self->head[i], most_head))
        return FALSE;
      self->flow[i] = nappe_quantity_snap (NAPPE_QUANTITY_FLOW, self->flow[i]);
      self->head[i] = nappe_quantity_snap (NAPPE_QUANTITY_HEAD, self->head[i]);
      if (i > 0 && !check_order (self, i))
        return FALSE;
    }
  return TRUE;
}

/* Through the chosen rows, which are in order. */
static void
draw_through (const Fitting *self, const gboolean *chosen, NappePumpCurve *curve)
{
  double flow[NAPPE_PUMP_CURVE_MAX], head[NAPPE_PUMP_CURVE_MAX];
  gsize n = 0;

  for (guint i = 0; i < self->table->n && n < NAPPE_PUMP_CURVE_MAX; i++)
    if (chosen[i])
      {
        flow[n] = self->flow[i];
        head[n++] = self->head[i];
      }
  if (!nappe_pump_curve_init (curve, flow, head, n))
    g_return_if_reached ();
}

/* The row that is furthest from a curve, and how far. */
static guint
furthest (const Fitting *self, const NappePumpCurve *curve, double *departure)
{
  guint found = 0;

  *departure = 0;
  for (guint i = 0; i < self->table->n; i++)
    {
      double apart = fabs (nappe_pump_head (curve, self->flow[i], 1, 1, NULL) - self->head[i]);

      if (apart > *departure)
        {
          *departure = apart;
          found = i;
        }
    }
  return found;
}

static void
choose_rows (const Fitting *self, NappeCurveFit *fit)
{
  guint n = self->table->n, points = MIN (n, NAPPE_PUMP_CURVE_MAX);
  g_autofree gboolean *chosen = g_new0 (gboolean, n);

  chosen[0] = chosen[n - 1] = TRUE;
  for (guint have = 2; have < points; have++)
    {
      guint next;

      draw_through (self, chosen, &fit->curve);
      next = furthest (self, &fit->curve, &fit->departure);
      /* Where the curve is on all rows, the first one not yet chosen. */
      for (guint i = 0; chosen[next] && i < n; i++)
        next = i;
      chosen[next] = TRUE;
    }
  draw_through (self, chosen, &fit->curve);
  furthest (self, &fit->curve, &fit->departure);
  fit->left_out = n - points;
}

gboolean
nappe_curve_table_fit (const NappeCurveTable *self, const char *flow_unit, const char *head_unit, NappeCurveFit *fit,
                       GError **error)
{
  g_autofree double *flow = g_new (double, self->n), *head = g_new (double, self->n);
  Fitting fitting = { self, flow, head, error };

  if (!read_rows (&fitting, flow_unit, head_unit))
    return FALSE;
  choose_rows (&fitting, fit);
  return TRUE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>

#include "catalogue/catalogue-private.h"

/* What the members of one item must be to each other. */

#define CURVE_POINTS 16       /* as many as a pump curve of the water model holds */
#define WALL_TOLERANCE 0.0002 /* [m]; published bores and walls are rounded */

static gboolean
fail (char **member, GError **error, const char *name, const char *message)
{
  *member = g_strdup (name);
  g_set_error_literal (error, NAPPE_CATALOGUE_ERROR, NAPPE_CATALOGUE_ERROR_RANGE, message);
  return FALSE;
}

static gboolean
check_tube (const NappeItem *item, char **member, GError **error)
{
  if (item->bore + 2 * item->wall > item->outside_diameter + WALL_TOLERANCE)
    return fail (member, error, "bore_mm", _("bore and two walls are more than the outside diameter"));
  return TRUE;
}

static gboolean
check_fitting (const NappeItem *item, char **member, GError **error)
{
  if (g_str_equal (item->shape, "reducer") != (item->bore_out < item->bore))
    return fail (member, error, "bore_out_mm", _("of reducers, and only of them, the outgoing bore is the smaller"));
  if (g_str_equal (item->shape, "tee") != (item->branch_k1 + item->branch_ki > 0))
    return fail (member, error, "branch_ki", _("tees, and only they, have losses of a branch"));
  return TRUE;
}

static gboolean
check_valve (const NappeItem *item, char **member, GError **error)
{
  if (g_str_equal (item->valve_kind, "check") != (item->n_points == 0))
    return fail (member, error, "opening_percent", _("all valves but check valves have a table of openings"));
  if (item->n_points == 0 && item->k1 + item->ki <= 0)
    return fail (member, error, "ki", _("a check valve needs a loss coefficient"));
  for (gsize i = 1; i < item->n_points; i++)
    {
      if (item->points[i].opening <= item->points[i - 1].opening)
        return fail (member, error, "opening_percent", _("the openings must rise"));
      if (item->points[i].k >= item->points[i - 1].k)
        return fail (member, error, "k", _("the losses must fall as the valve opens"));
    }
  return TRUE;
}

static gboolean
check_bulkhead (const NappeItem *item, char **member, GError **error)
{
  if (item->hole_diameter <= item->bore)
    return fail (member, error, "hole_diameter_mm", _("the hole must be larger than the bore"));
  if (item->flange_diameter > 0 && item->flange_diameter <= item->hole_diameter)
    return fail (member, error, "flange_diameter_mm", _("the flange must be larger than the hole"));
  return TRUE;
}

static gboolean
check_pump (const NappeItem *item, char **member, GError **error)
{
  if (item->n_curve > CURVE_POINTS)
    return fail (member, error, "curve_flow_litres_per_hour", _("a pump curve has at most 16 points"));
  for (gsize i = 1; i < item->n_curve; i++)
    {
      if (item->curve_flow[i] <= item->curve_flow[i - 1])
        return fail (member, error, "curve_flow_litres_per_hour", _("the flows must rise"));
      if (item->curve_head[i] >= item->curve_head[i - 1])
        return fail (member, error, "curve_head_metres", _("the heads must fall as the flow rises"));
    }
  return TRUE;
}

static gboolean
check_equipment (const NappeItem *item, char **member, GError **error)
{
  if (item->depth_max > 0 && item->depth_max < item->depth_min)
    return fail (member, error, "depth_max_mm", _("the greatest depth is less than the least"));
  return TRUE;
}

gboolean
nappe_item_check (const NappeItem *item, char **member, GError **error)
{
  switch (item->kind)
    {
    case NAPPE_ITEM_PIPE:
    case NAPPE_ITEM_HOSE:
      return check_tube (item, member, error);
    case NAPPE_ITEM_FITTING:
      return check_fitting (item, member, error);
    case NAPPE_ITEM_VALVE:
      return check_valve (item, member, error);
    case NAPPE_ITEM_BULKHEAD:
      return check_bulkhead (item, member, error);
    case NAPPE_ITEM_PUMP:
      return check_pump (item, member, error);
    case NAPPE_ITEM_EQUIPMENT:
      return check_equipment (item, member, error);
    }
  g_return_val_if_reached (FALSE);
}

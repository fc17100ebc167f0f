/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Service: whether what must come out does, and whether a hand reaches the valves. */
#include "rules/rule-list.h"

#include "rules/joints/joints.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* ---- unions ---- */

/* Whether a joint opens at a piece without a saw: a union, a hose, a part with unions at its ends. */
static gboolean
opens (const NappeItem *item)
{
  return item == NULL || item->kind == NAPPE_ITEM_HOSE || item->union_ends || g_strcmp0 (item->shape, "union") == 0
         || g_strcmp0 (item->end_in, "push") == 0;
}

static gboolean
must_come_out (const NappeItem *item)
{
  return item != NULL && (item->kind == NAPPE_ITEM_VALVE || item->kind == NAPPE_ITEM_BULKHEAD);
}

/* What of a line must come out: its pump, valves, bulkheads. Transfer container. */
static GPtrArray *
parts_to_come_out (NappeRuleContext *context, NappePart *line, GPtrArray *pieces)
{
  GPtrArray *parts = g_ptr_array_new ();

  if (NAPPE_IS_RETURN_LINE (line))
    g_ptr_array_add (parts, NAPPE_RETURN_LINE (line)->pump);
  for (guint i = 0; i < pieces->len; i++)
    if (must_come_out (nappe_rule_item (context, NAPPE_PIECE (pieces->pdata[i])->item)))
      g_ptr_array_add (parts, pieces->pdata[i]);
  return parts;
}

/* "“Main valve”, “Bulkhead”". Transfer full. */
static char *
list_of_parts (NappeRuleContext *context, GPtrArray *parts)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < parts->len; i++)
    /* Translators: “ or ” stands before the last part of a list, “, ” before the others. */
    g_string_append_printf (text, "%s%s", i == 0 ? "" : i + 1 < parts->len ? _(", ") : _(" or "),
                            nappe_rule_name (context, nappe_part_get_id (parts->pdata[i])));
  return g_string_free (text, FALSE);
}

/* TRUE when the line has something that must come out. */
static gboolean
check_union (NappeRuleContext *context, NappePart *line)
{
  g_autoptr (GPtrArray) pieces = nappe_rule_pieces (line);
  const char *id = nappe_part_get_id (line);
  g_autoptr (GPtrArray) parts = parts_to_come_out (context, line, pieces);
  guint openings = 0;

  if (parts->len == 0 || pieces->len == 0)
    return FALSE;
  for (guint i = 0; i < pieces->len; i++)
    openings += opens (nappe_rule_item (context, NAPPE_PIECE (pieces->pdata[i])->item));
  if (NAPPE_IS_RETURN_LINE (line))
    {
      const NappeItem *pump = nappe_rule_item (context, NAPPE_PUMP (NAPPE_RETURN_LINE (line)->pump)->item);
      openings += pump != NULL && pump->union_ends;
    }
  NappeFinding *finding = openings > 0 ? nappe_rule_fine (context, id, openings, 1, NAPPE_QUANTITY_COUNT)
                                       : nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                                                          _("Nothing in the line opens"), id);
  nappe_finding_measure (finding, openings, 1, NAPPE_QUANTITY_COUNT);
  if (openings > 0)
    {
      /* Translators: %s is a line. */
      nappe_finding_say (finding, _("%s opens without a saw."), nappe_rule_name (context, id));
      return TRUE;
    }
  g_autofree char *list = list_of_parts (context, parts);
  /* Translators: a line, then a list of parts. */
  nappe_finding_say (finding, _("Every joint of %s is glued. To clean, mend or replace %s you would have to cut the "
                                "pipe, maybe with the tank full."), nappe_rule_name (context, id), list);
  nappe_finding_formula (finding, _("unions, hoses and parts with unions at their ends, counted along the line"));
  nappe_finding_cure (finding, _("Put a union near it, where a hand can turn the nut, or use a valve with unions at "
                                 "its ends."));
  return TRUE;
}

/* Each line with a pump, valve or bulkhead opens somewhere without a saw. */
void
nappe_rule_no_union (NappeRuleContext *context)
{
  g_autoptr (GPtrArray) lines = nappe_rule_lines (context);
  guint looked = 0;

  for (guint i = 0; i < lines->len; i++)
    looked += check_union (context, lines->pdata[i]);
  if (looked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no line has a piece that must come out."));
}

/* ---- reach ---- */

static double
beyond (double value, double low, double high)
{
  return fmax (0, fmax (low - value, value - high));
}

/* From the nearest point of the door's opening, in the middle of the stand's front, to a valve [m]. */
static double
reach_of (const NappeLayout *layout, const NappeStand *stand, const NappePoint *valve)
{
  double middle = 0.5 * (layout->stand.left + layout->stand.right);
  double aside = beyond (valve->x, middle - 0.5 * stand->door_length, middle + 0.5 * stand->door_length);
  double above = beyond (valve->z, layout->stand.floor, layout->stand.floor + stand->door_height);
  double deep = fmax (0, valve->y - layout->stand.front);
  return sqrt (aside * aside + above * above + deep * deep);
}

static gboolean
is_hand_valve (const NappeItem *item)
{
  return item != NULL && item->kind == NAPPE_ITEM_VALVE && g_strcmp0 (item->valve_kind, "check") != 0;
}

static gboolean
check_reach (NappeRuleContext *context, const NappeLeg *leg)
{
  const NappeFrame *stand = &context->layout->stand;
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_VALVE_REACH);
  const char *id = nappe_rule_id (leg->piece);

  if (!is_hand_valve (leg->item) || leg->to.z > stand->rim || leg->to.y > stand->back || leg->to.x < stand->left
      || leg->to.x > stand->right)
    return FALSE;
  double reach = reach_of (context->layout, NAPPE_BUILD_STAND (context->build), &leg->to);
  gboolean far = reach > limit;
  NappeFinding *finding = far ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Valve out of reach"), id)
                              : nappe_rule_fine (context, id, reach, limit, NAPPE_QUANTITY_LENGTH);
  nappe_finding_measure (finding, reach, limit, NAPPE_QUANTITY_LENGTH);
  /* Translators: valve, distance, distance. */
  nappe_finding_say (finding, _("%s is %s from the door’s opening; an arm reaches about %s."),
                     nappe_rule_name (context, id),
                     NAPPE_SAY_LENGTH (context, reach), NAPPE_SAY_LENGTH (context, limit));
  nappe_finding_formula (finding, _("straight line from the opening, taken in the middle of the stand’s front"));
  nappe_finding_input (finding, "x", _("valve from the stand’s left side"), leg->to.x, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "y", _("valve behind the stand’s front"), leg->to.y - stand->front,
                       NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "z", _("valve over the room’s floor"), leg->to.z, NAPPE_QUANTITY_LENGTH);
  if (far)
    {
      nappe_finding_say (finding, _("When water comes, nobody shuts it in time, and nobody tunes it well."));
      /* Translators: %s is a distance. */
      nappe_finding_cure (finding, _("Bring it at least %s nearer to the door, or give the stand a wider opening."),
                          NAPPE_SAY_LENGTH (context, reach - limit));
    }
  return TRUE;
}

static guint
check_route (NappeRuleContext *context, const NappeRoute *route)
{
  guint looked = 0;
  for (guint i = 0; i < route->n_legs; i++)
    looked += check_reach (context, &route->legs[i]);
  return looked;
}

/* A hand reaches every valve in the stand through its door. */
void
nappe_rule_valve_reach (NappeRuleContext *context)
{
  const NappeLayout *layout = context->layout;
  const NappeStand *stand = NAPPE_BUILD_STAND (context->build);
  guint looked = 0;

  if (!nappe_is_given (stand->door_length) || !nappe_is_given (stand->door_height))
    {
      nappe_rule_not_checked (context, _("Not checked: the size of the stand’s door is not known."));
      return;
    }
  for (guint i = 0; layout != NULL && i < layout->n_drains + layout->n_returns; i++)
    {
      const NappeLineLayout *line = i < layout->n_drains ? &layout->drains[i] : &layout->returns[i - layout->n_drains];
      looked += check_route (context, &line->trunk);
      for (guint outlet = 0; outlet < line->n_outlets; outlet++)
        looked += check_route (context, &line->outlets[outlet].route);
    }
  if (looked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no valve stands in the stand."));
}

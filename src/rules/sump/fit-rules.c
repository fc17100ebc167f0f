/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether what stands in the sump has room: in its chamber, beside the rest, and under the stand's top. */
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A thing in a chamber of the sump. */
typedef struct
{
  const NappePart *part;
  const NappeChamberLayout *chamber;
  double left, right, low, high; /* x and z [m]; high NaN: not known */
  double length, width;          /* of all equal ones together in plan [m] */
  double x;                      /* its own field [m] */
} Thing;

static double
first_known (double own, double catalogue)
{
  return nappe_is_given (own) ? own : catalogue > 0 ? catalogue : NAN;
}

static const NappeChamberLayout *
chamber_of (NappeRuleContext *context, const char *id)
{
  for (guint i = 0; context->layout != NULL && i < context->layout->n_chambers; i++)
    if (g_str_equal (nappe_rule_id (context->layout->chambers[i].part), id))
      return &context->layout->chambers[i];
  return NULL;
}

/* Lights hang, chillers, clarifiers and dosing pumps usually stand beside: their chamber says where their water goes. */
static gboolean
stands_in_water (int kind)
{
  return kind != NAPPE_EQUIPMENT_LIGHT && kind != NAPPE_EQUIPMENT_CHILLER && kind != NAPPE_EQUIPMENT_UV
         && kind != NAPPE_EQUIPMENT_DOSING;
}

/* Equal ones stand in a row along the sump where the chamber is long enough, else one behind the other. FALSE: it stands in
 * no chamber, or its size is not known. */
static gboolean
place_equipment (NappeRuleContext *context, const NappeEquipment *part, Thing *thing)
{
  const NappeItem *item = nappe_rule_item (context, part->item);
  const NappeChamberLayout *chamber = chamber_of (context, part->where);
  double length = first_known (part->length, item != NULL ? item->length_overall : 0);
  double width = first_known (part->width, item != NULL ? item->width : 0);

  if (chamber == NULL || isnan (length) || isnan (width))
    return FALSE;
  double room = chamber->frame.right - chamber->frame.left;
  gboolean along = part->x + part->count * length <= room;
  double left = chamber->frame.left + part->x, low = chamber->frame.floor + part->base_height;
  double all = (along ? part->count : 1) * length;
  *thing = (Thing){ .part = (const NappePart *)part, .chamber = chamber, .left = left, .right = left + all, .low = low,
                    .high = low + first_known (part->height, item != NULL ? item->height : 0), .length = all,
                    .width = (along ? 1 : part->count) * width, .x = part->x };
  return TRUE;
}

/* A pump is drawn with its outlet's axis in its middle. Where the axis really is nobody knows, so that it is moved as far as it
 * must be; equal ones stand one behind the other. */
static gboolean
place_pump (NappeRuleContext *context, const NappePump *pump, Thing *thing)
{
  const NappeItem *item = nappe_rule_item (context, pump->item);
  const NappeChamberLayout *chamber = chamber_of (context, pump->chamber);

  if (chamber == NULL || item == NULL || !(item->length_overall > 0) || !(item->width > 0))
    return FALSE;
  double floor = chamber->frame.floor, left = chamber->frame.left + pump->x - 0.5 * item->length_overall;
  left = fmax (chamber->frame.left, fmin (left, chamber->frame.right - item->length_overall));
  *thing = (Thing){ .part = (const NappePart *)pump, .chamber = chamber, .left = left, .right = left + item->length_overall,
                    .low = floor, .high = floor + first_known (NAN, item->height), .length = item->length_overall,
                    .width = pump->count * item->width, .x = pump->x };
  return TRUE;
}

/* All that stands in the sump's chambers with a known plan, pumps first. Transfer full, element-type Thing. */
static GArray *
things_in_sump (NappeRuleContext *context)
{
  GArray *things = g_array_new (FALSE, FALSE, sizeof (Thing));
  const NappeBuild *build = context->build;
  Thing thing;

  for (guint i = 0; i < build->returns->len; i++)
    if (place_pump (context, NAPPE_PUMP (NAPPE_RETURN_LINE (build->returns->pdata[i])->pump), &thing))
      g_array_append_val (things, thing);
  for (guint i = 0; i < build->equipment->len; i++)
    {
      const NappeEquipment *part = build->equipment->pdata[i];
      if (stands_in_water (part->kind) && place_equipment (context, part, &thing) && thing.low < thing.chamber->frame.rim)
        g_array_append_val (things, thing);
    }
  return things;
}

static double
room_length (const Thing *thing)
{
  return thing->chamber->frame.right - thing->chamber->frame.left;
}

static double
room_width (const Thing *thing)
{
  return thing->chamber->frame.back - thing->chamber->frame.front;
}

/* Says that there is nothing to look at. TRUE: there is nothing. */
static gboolean
say_nothing_there (NappeRuleContext *context, const GArray *things)
{
  if (things->len > 0)
    return FALSE;
  nappe_rule_not_checked (context, _("Not checked: nothing of a known size stands in the sump."));
  return TRUE;
}

/* Too large for its chamber wherever it stands. */
static void
report_too_large (NappeRuleContext *context, const Thing *thing)
{
  const char *id = nappe_rule_id (thing->part);
  gboolean long_one = thing->length > room_length (thing);
  double size = long_one ? thing->length : thing->width, room = long_one ? room_length (thing) : room_width (thing);
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Does not fit its chamber"), id);

  nappe_finding_measure (finding, size, room, NAPPE_QUANTITY_LENGTH);
  /* Translators: equipment, its length and width, chamber, its length and width. */
  nappe_finding_say (finding, _("%s takes %s by %s; %s is %s by %s. It cannot be set in."), nappe_rule_name (context, id),
                     NAPPE_SAY_LENGTH (context, thing->length), NAPPE_SAY_LENGTH (context, thing->width),
                     nappe_rule_name (context, nappe_rule_id (thing->chamber->part)),
                     NAPPE_SAY_LENGTH (context, room_length (thing)), NAPPE_SAY_LENGTH (context, room_width (thing)));
  nappe_finding_formula (finding, _("plan of the thing against the clear plan of its chamber"));
  /* Translators: %s is a length. */
  nappe_finding_cure (finding, _("Make the chamber longer or wider by %s, or choose a smaller one."),
                      NAPPE_SAY_LENGTH (context, size - room));
}

/* How far it goes through the right wall of its chamber [m]; negative: so far it is from it. */
static double
distance_out (const Thing *thing)
{
  return thing->right - thing->chamber->frame.right;
}

static void
report_place (NappeRuleContext *context, const Thing *thing, gboolean outside)
{
  const char *id = nappe_rule_id (thing->part), *chamber = nappe_rule_id (thing->chamber->part);
  double misfit = nappe_rule_limit (context, NAPPE_LIMIT_MISFIT), out = distance_out (thing);
  NappeFinding *finding = outside ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Stands out of its chamber"), id)
                                  : nappe_rule_fine (context, id, out, misfit, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, out, misfit, NAPPE_QUANTITY_LENGTH);
  nappe_finding_formula (finding, _("right side of the thing − right wall of its chamber"));
  nappe_finding_input (finding, "", _("its length"), thing->length, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("the chamber’s length"), room_length (thing), NAPPE_QUANTITY_LENGTH);
  if (!outside)
    {
      /* Translators: equipment, length, chamber. */
      nappe_finding_say (finding, _("Everything fits its chamber; nearest to its wall is %s, %s from that of %s."),
                         nappe_rule_name (context, id), NAPPE_SAY_LENGTH (context, fmax (0, -out)),
                         nappe_rule_name (context, chamber));
      return;
    }
  /* Translators: equipment, length, chamber. */
  nappe_finding_say (finding, _("%s as drawn goes %s through the wall of %s."), nappe_rule_name (context, id),
                     NAPPE_SAY_LENGTH (context, out), nappe_rule_name (context, chamber));
  /* Translators: %s is a length. */
  nappe_finding_cure (finding, _("Move it %s to the left."), NAPPE_SAY_LENGTH (context, out));
  nappe_finding_offer (finding, nappe_lever_new_number (id, "x", 0, thing->x));
}

/* Everything fits the chamber it stands in. */
void
nappe_rule_equipment_outside (NappeRuleContext *context)
{
  g_autoptr (GArray) things = things_in_sump (context);
  double misfit = nappe_rule_limit (context, NAPPE_LIMIT_MISFIT);
  const Thing *nearest = NULL;
  guint found = 0;

  if (say_nothing_there (context, things))
    return;
  for (guint i = 0; i < things->len; i++)
    {
      const Thing *thing = &g_array_index (things, Thing, i);
      gboolean too_large = thing->length > room_length (thing) + misfit || thing->width > room_width (thing) + misfit;
      gboolean outside = !too_large && distance_out (thing) > misfit;
      if (too_large)
        report_too_large (context, thing);
      else if (outside)
        report_place (context, thing, TRUE);
      found += too_large || outside;
      if (nearest == NULL || distance_out (thing) > distance_out (nearest))
        nearest = thing;
    }
  if (found == 0)
    report_place (context, nearest, FALSE);
}

/* A height that is not known may reach anywhere. */
static gboolean
meet_in_height (const Thing *one, const Thing *other)
{
  return !(one->high <= other->low) && !(other->high <= one->low);
}

/* Width that all take which stand where one begins; other: (out) one of them, NULL: it is alone there, or a later one begins at
 * the same place, of which it is said then. */
static double
width_beside (const GArray *things, const Thing *one, const Thing **other)
{
  const double hair = 1e-6;
  gboolean last = TRUE;
  double width = 0;

  *other = NULL;
  for (guint i = 0; i < things->len; i++)
    {
      const Thing *next = &g_array_index (things, Thing, i);
      if (next->chamber != one->chamber || next->left > one->left + hair || next->right <= one->left + hair
          || !meet_in_height (one, next))
        continue;
      width += next->width;
      last = last && !(next > one && fabs (next->left - one->left) <= hair);
      if (next != one)
        *other = next;
    }
  if (!last)
    *other = NULL;
  return width;
}

/* other: NULL when nothing is wrong. */
static void
report_overlap (NappeRuleContext *context, const Thing *thing, const Thing *other, double width)
{
  const char *id = nappe_rule_id (thing->part), *name = nappe_rule_name (context, id);
  double room = room_width (thing);
  NappeFinding *finding
      = other != NULL ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Two things stand in one place"), id)
                      : nappe_rule_fine (context, id, width, room, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, width, room, NAPPE_QUANTITY_LENGTH);
  nappe_finding_formula (finding, _("widths of all that stand at one place along the chamber, against its width"));
  if (other == NULL)
    {
      /* Translators: equipment, width taken, width there is. */
      nappe_finding_say (finding, _("It is tightest where %s stands: %s of the chamber’s width of %s are taken."), name,
                         NAPPE_SAY_LENGTH (context, width), NAPPE_SAY_LENGTH (context, room));
      return;
    }
  /* Translators: two pieces of equipment, then two widths. */
  nappe_finding_say (finding,
                     _("%s and %s stand at the same place along the chamber and are too wide to stand one behind the "
                       "other: they take %s of %s."),
                     name, nappe_rule_name (context, nappe_rule_id (other->part)), NAPPE_SAY_LENGTH (context, width),
                     NAPPE_SAY_LENGTH (context, room));
  nappe_finding_cure (finding, _("Move one of them along the chamber or into another one."));
  double most = room_length (thing) - thing->length;
  if (NAPPE_IS_EQUIPMENT ((NappePart *)thing->part) && thing->x < most)
    nappe_finding_offer (finding, nappe_lever_new_number (id, "x", thing->x, most));
}

/* What stands at the same place along a chamber has to fit side by side into its width. */
void
nappe_rule_equipment_overlaps (NappeRuleContext *context)
{
  g_autoptr (GArray) things = things_in_sump (context);
  const Thing *tightest = NULL;
  double most = 0;
  guint found = 0;

  if (say_nothing_there (context, things))
    return;
  for (guint i = 0; i < things->len; i++)
    {
      const Thing *thing = &g_array_index (things, Thing, i), *other;
      double width = width_beside (things, thing, &other);
      if (other != NULL && width > room_width (thing) + nappe_rule_limit (context, NAPPE_LIMIT_MISFIT))
        {
          found++;
          report_overlap (context, thing, other, width);
        }
      if (tightest == NULL || width / room_width (thing) > most / room_width (tightest))
        {
          tightest = thing;
          most = width;
        }
    }
  if (found == 0)
    report_overlap (context, tightest, NULL, most);
}

/* Underside of the stand's top over a thing [m]; NaN: it does not stand under it. */
static double
top_over (NappeRuleContext *context, const Thing *thing)
{
  const NappeFrame *stand = &context->layout->stand;

  if (thing->right <= stand->left || thing->left >= stand->right)
    return NAN;
  return stand->rim - NAPPE_BUILD_STAND (context->build)->top_thickness;
}

static void
report_height (NappeRuleContext *context, const Thing *thing, double top)
{
  const char *id = nappe_rule_id (thing->part);
  gboolean high = thing->high > top;
  NappeFinding *finding = high ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Hits the stand’s top"), id)
                               : nappe_rule_fine (context, id, thing->high, top, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, thing->high, top, NAPPE_QUANTITY_LENGTH);
  /* Translators: equipment, two heights over the room's floor. */
  nappe_finding_say (finding, _("The top of %s is %s over the floor of the room, the underside of the stand’s top %s."),
                     nappe_rule_name (context, id), NAPPE_SAY_LENGTH (context, thing->high),
                     NAPPE_SAY_LENGTH (context, top));
  nappe_finding_formula (finding, _("floor of the chamber + height of its foot + its own height"));
  nappe_finding_input (finding, "", _("foot over the room’s floor"), thing->low, NAPPE_QUANTITY_LENGTH);
  if (!high)
    return;
  /* Translators: %s is a height. */
  nappe_finding_cure (finding, _("Set it %s lower, choose a lower one, or make the stand higher."),
                      NAPPE_SAY_LENGTH (context, thing->high - top));
  const NappeEquipment *part = NAPPE_EQUIPMENT ((NappePart *)thing->part);
  if (part->base_height > 0)
    nappe_finding_offer (finding, nappe_lever_new_number (id, "base_height", 0, part->base_height));
}

/* What stands in the sump ends below the stand's top. */
void
nappe_rule_equipment_too_high (NappeRuleContext *context)
{
  Thing highest = { 0 };
  guint checked = 0, found = 0;

  for (guint i = 0; context->layout != NULL && i < context->build->equipment->len; i++)
    {
      Thing thing;
      if (!place_equipment (context, context->build->equipment->pdata[i], &thing) || isnan (thing.high)
          || isnan (top_over (context, &thing)))
        continue;
      if (checked++ == 0 || thing.high > highest.high)
        highest = thing;
      if (thing.high <= top_over (context, &thing))
        continue;
      found++;
      report_height (context, &thing, top_over (context, &thing));
    }
  if (checked == 0)
    nappe_rule_not_checked (context, _("Not checked: nothing of a known size stands in the sump."));
  else if (found == 0)
    report_height (context, &highest, top_over (context, &highest));
}

static void
report_cup (NappeRuleContext *context, const Thing *thing, double room)
{
  const char *id = nappe_rule_id (thing->part);
  double needed = nappe_rule_limit (context, NAPPE_LIMIT_CUP_CLEARANCE);
  gboolean stuck = !(room >= needed);
  NappeFinding *finding = stuck ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Skimmer’s cup cannot be lifted out"), id)
                                : nappe_rule_fine (context, id, room, needed, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, room, needed, NAPPE_QUANTITY_LENGTH);
  /* Translators: skimmer, two heights. */
  nappe_finding_say (finding, _("Over %s there are %s up to the stand’s top; its cup needs about %s to come off."),
                     nappe_rule_name (context, id), NAPPE_SAY_LENGTH (context, room), NAPPE_SAY_LENGTH (context, needed));
  nappe_finding_formula (finding, _("underside of the stand’s top − top of the skimmer"));
  nappe_finding_input (finding, "", _("top over the room’s floor"), thing->high, NAPPE_QUANTITY_LENGTH);
  if (!stuck)
    return;
  nappe_finding_say (finding, _("The cup has to be emptied every few days. If it cannot be lifted, the whole skimmer must "
                                 "come out, or nobody does it and the cup runs over."));
  /* Translators: %s is a height. */
  nappe_finding_cure (finding, _("Set the skimmer %s lower, choose a lower one, or make the stand higher."),
                      NAPPE_SAY_LENGTH (context, needed - room));
  const NappeEquipment *part = NAPPE_EQUIPMENT ((NappePart *)thing->part);
  if (part->base_height > 0)
    nappe_finding_offer (finding, nappe_lever_new_number (id, "base_height", 0, part->base_height));
}

/* Over a skimmer there is room to take its cup off. */
void
nappe_rule_skimmer_cup (NappeRuleContext *context)
{
  guint skimmers = 0, checked = 0;

  for (guint i = 0; context->layout != NULL && i < context->build->equipment->len; i++)
    {
      const NappeEquipment *part = context->build->equipment->pdata[i];
      Thing thing;
      if (part->kind != NAPPE_EQUIPMENT_SKIMMER)
        continue;
      skimmers++;
      if (!place_equipment (context, part, &thing) || !(top_over (context, &thing) >= thing.high))
        continue;
      checked++;
      report_cup (context, &thing, top_over (context, &thing) - thing.high);
    }
  if (skimmers == 0)
    nappe_rule_not_checked (context, _("Does not apply: the build has no protein skimmer."));
  else if (checked == 0)
    nappe_rule_not_checked (context, _("Not checked: no skimmer of a known height stands under the stand’s top."));
}

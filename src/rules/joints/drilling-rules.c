/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Holes for bulkheads: whether the pane can be drilled, how near its edge, and whether the bulkhead fits there. */
#include "rules/rule-list.h"

#include "network/holes.h"
#include "rules/joints/joints.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* All holes: NappeHole. Transfer full. */
static GArray *
find_holes (NappeRuleContext *context)
{
  GArray *holes = g_array_new (FALSE, FALSE, sizeof (NappeHole));
  NappeHole hole;

  for (guint i = 0; context->layout != NULL && i < context->layout->n_drains; i++)
    if (nappe_layout_find_hole (context->layout, context->build, &context->layout->drains[i], &hole))
      g_array_append_val (holes, hole);
  if (holes->len == 0)
    nappe_rule_not_checked (context, _("Does not apply: no drain has a bulkhead that the catalogue knows."));
  return holes;
}

static double
box_length (NappeRuleContext *context, const NappeHole *hole)
{
  const NappeFrame *box = &context->layout->boxes[hole->box].frame;
  return box->right - box->left;
}

/* ---- temper ---- */

/* Which panes of the tank are drilled or cut for drains and overflows. */
static void
drilled_panes (NappeRuleContext *context, gboolean drilled[NAPPE_PANE_N])
{
  const NappeLayout *layout = context->layout;

  for (guint i = 0; i < layout->n_boxes; i++)
    {
      const NappeOverflow *box = layout->boxes[i].part;
      if ((box->style == NAPPE_OVERFLOW_SLIM && box->joint_count > 0) || box->style == NAPPE_OVERFLOW_EXTERNAL)
        drilled[nappe_box_pane (&layout->boxes[i])] = TRUE;
    }
  for (guint i = 0; i < layout->n_drains; i++)
    {
      const NappeLineLayout *line = &layout->drains[i];
      NappeHole hole;
      if (line->box < 0 || layout->boxes[line->box].part->style != NAPPE_OVERFLOW_INTERNAL)
        continue;
      /* Without a bulkhead, its pipe still leaves through the floor that it stands on. */
      drilled[nappe_layout_find_hole (layout, context->build, line, &hole) ? hole.pane : NAPPE_PANE_BOTTOM] = TRUE;
    }
}

static void
report_pane (NappeRuleContext *context, NappePane pane, int temper)
{
  const char *name = pane == NAPPE_PANE_BOTTOM ? _("the tank’s bottom")
                     : pane == NAPPE_PANE_BACK ? _("the tank’s back pane")
                                               : _("the tank’s side pane");
  const char *id = nappe_rule_id (context->build->tank);
  NappeFinding *finding;

  if (temper == NAPPE_TEMPER_ANNEALED)
    {
      /* Translators: %s is a pane, such as “the tank’s bottom”. */
      nappe_finding_say (nappe_rule_fine (context, id, NAN, NAN, NAPPE_QUANTITY_NUMBER),
                         _("Holes go through %s, which is annealed glass: it can be drilled."), name);
      return;
    }
  gboolean tempered = temper == NAPPE_TEMPER_TEMPERED;
  finding = nappe_rule_find (context, tempered ? NAPPE_SEVERITY_DANGER : NAPPE_SEVERITY_ADVICE,
                             tempered ? _("Tempered glass cannot be drilled") : _("Is this pane tempered?"), id);
  if (tempered)
    {
      /* Translators: %s is a pane. */
      nappe_finding_say (finding, _("This build has holes or cuts through %s, which is tempered. Tempered glass "
                                    "bursts into crumbs when a drill or saw touches it, with splinters in the face of "
                                    "who drills."), name);
      nappe_finding_cure (finding, _("Do not drill it. Lead the drains through a pane of annealed glass, have a new "
                                     "pane drilled before it is tempered, or hang the overflow over the rim."));
      return;
    }
  /* Translators: %s is a pane. */
  nappe_finding_say (finding, _("This build has holes or cuts through %s, and it is not known whether that glass is "
                                "tempered. If it is, it bursts when it is drilled."), name);
  nappe_finding_cure (finding, _("Find out before you mark a hole: ask the maker, or look at a bright flat screen "
                                 "through the pane with polarising glasses, which show dark bands in tempered glass. "
                                 "Then note it in the build. A glazier drills with less risk."));
}

/* No pane that has to be drilled is tempered. */
void
nappe_rule_panel_tempered (NappeRuleContext *context)
{
  const NappeTank *tank = NAPPE_BUILD_TANK (context->build);
  gboolean drilled[NAPPE_PANE_N] = { FALSE }, any = FALSE;

  if (tank->material != NAPPE_MATERIAL_GLASS)
    {
      nappe_rule_not_checked (context, _("Does not apply: the tank is not of glass."));
      return;
    }
  if (context->layout != NULL)
    drilled_panes (context, drilled);
  /* The side panes share what is said of them. */
  drilled[NAPPE_PANE_LEFT] = drilled[NAPPE_PANE_LEFT] || drilled[NAPPE_PANE_RIGHT];
  for (NappePane pane = NAPPE_PANE_BOTTOM; pane < NAPPE_PANE_RIGHT; pane++)
    if (drilled[pane])
      {
        any = TRUE;
        report_pane (context, pane, nappe_tank_temper (tank, pane));
      }
  if (!any)
    nappe_rule_not_checked (context, _("Does not apply: no pane of the tank is drilled or cut."));
}

/* ---- edges ---- */

/* Glass that practice leaves around a hole, and the least that glaziers' rules want [m]. */
static void
wanted_glass (NappeRuleContext *context, const NappeHole *hole, double *practice, double *least)
{
  double share = nappe_rule_limit (context, NAPPE_LIMIT_HOLE_CLEAR);
  double whole = hole->item->edge_distance_min > 0 ? hole->item->edge_distance_min : hole->item->hole_diameter;
  *practice = share * whole;
  *least = nappe_rule_limit (context, NAPPE_LIMIT_HOLE_GLASS) * hole->thickness;
}

static gboolean
needs_glass (NappeRuleContext *context)
{
  if (NAPPE_BUILD_TANK (context->build)->material == NAPPE_MATERIAL_GLASS)
    return TRUE;
  nappe_rule_not_checked (context, _("Does not apply: the tank is not of glass."));
  return FALSE;
}

/* A finding or a fine one about the glass beside a hole. */
static NappeFinding *
judge_glass (NappeRuleContext *context, const NappeHole *hole, double clear, const char *title)
{
  double practice, least;
  wanted_glass (context, hole, &practice, &least);
  const char *id = nappe_rule_id (hole->piece);
  NappeFinding *finding = clear < least      ? nappe_rule_find (context, NAPPE_SEVERITY_DANGER, title, id)
                          : clear < practice ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, title, id)
                                             : nappe_rule_fine (context, id, clear, fmax (practice, least),
                                                                NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, clear, clear < least ? least : fmax (practice, least), NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("diameter of the hole"), hole->item->hole_diameter, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("thickness of the pane"), hole->thickness, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("glass that practice leaves"), practice, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("least glass"), least, NAPPE_QUANTITY_LENGTH);
  return finding;
}

/* Why that is too little; nothing when it is enough. */
static void
explain_glass (NappeRuleContext *context, const NappeHole *hole, NappeFinding *finding, double clear)
{
  double practice, least;

  wanted_glass (context, hole, &practice, &least);
  if (clear < least)
    nappe_finding_say (finding, _("That is less than glaziers’ rules allow: the pane may crack while it is drilled, "
                                  "or later under the weight of the water."));
  else if (clear < practice)
    /* Translators: %s is a length. */
    nappe_finding_say (finding, _("Common practice leaves %s, about the hole’s own diameter."),
                       NAPPE_SAY_LENGTH (context, practice));
}

static void
check_edge (NappeRuleContext *context, const NappeHole *hole)
{
  double aside = fmin (hole->across - hole->left, hole->right - hole->across);
  double onward = fmin (hole->along - hole->near, hole->far - hole->along);
  double clear = fmin (aside, onward) - 0.5 * hole->item->hole_diameter;
  NappeFinding *finding = judge_glass (context, hole, clear, _("Hole near the edge of the glass"));
  double practice, least;

  nappe_finding_formula (finding, _("middle of the hole to the nearest edge − half the hole’s diameter"));
  nappe_finding_input (finding, "", _("middle of the hole to the nearest edge"), fmin (aside, onward),
                       NAPPE_QUANTITY_LENGTH);
  /* Translators: bulkhead, length. */
  nappe_finding_say (finding, _("The hole of %s leaves %s of glass to the nearest edge of the pane."),
                     nappe_rule_name (context, nappe_rule_id (hole->piece)),
                     NAPPE_SAY_LENGTH (context, fmax (0, clear)));
  explain_glass (context, hole, finding, clear);
  if (nappe_finding_get_severity (finding) == NAPPE_SEVERITY_FINE)
    return;
  wanted_glass (context, hole, &practice, &least);
  /* Translators: %s is a length. */
  nappe_finding_cure (finding, _("Move the hole %s further in, make the box wider, or use a smaller bulkhead. Ask the "
                                 "glazier, and keep the distances of the bulkhead’s and the tank’s maker."),
                      nappe_rule_at_least (context, NAPPE_QUANTITY_LENGTH, fmax (practice, least) - clear));
  if (hole->pane == NAPPE_PANE_BOTTOM && aside < onward)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_part_get_id (hole->drain), "x", 0,
                                                          box_length (context, hole)));
}

/* Enough glass is left between each hole and the edges of its pane. */
void
nappe_rule_hole_near_edge (NappeRuleContext *context)
{
  if (!needs_glass (context))
    return;
  g_autoptr (GArray) holes = find_holes (context);
  guint looked = 0;

  for (guint i = 0; i < holes->len; i++)
    if (g_array_index (holes, NappeHole, i).in_tank)
      {
        looked++;
        check_edge (context, &g_array_index (holes, NappeHole, i));
      }
  if (holes->len > 0 && looked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no bulkhead goes through a pane of the tank."));
}

static void
check_pair (NappeRuleContext *context, const NappeHole *one, const NappeHole *other)
{
  double apart = hypot (one->across - other->across, one->along - other->along);
  double clear = apart - 0.5 * (one->item->hole_diameter + other->item->hole_diameter);
  const NappeHole *larger = one->item->hole_diameter >= other->item->hole_diameter ? one : other;
  NappeFinding *finding = judge_glass (context, larger, clear, _("Two holes near each other"));
  double practice, least;

  nappe_finding_formula (finding, _("middle to middle − half of both diameters"));
  nappe_finding_input (finding, "", _("middle to middle"), apart, NAPPE_QUANTITY_LENGTH);
  /* Translators: two bulkheads, a length. */
  nappe_finding_say (finding, _("Between the holes of %s and %s %s of glass are left."),
                     nappe_rule_name (context, nappe_rule_id (one->piece)),
                     nappe_rule_name (context, nappe_rule_id (other->piece)),
                     NAPPE_SAY_LENGTH (context, fmax (0, clear)));
  explain_glass (context, larger, finding, clear);
  if (nappe_finding_get_severity (finding) == NAPPE_SEVERITY_FINE)
    return;
  wanted_glass (context, larger, &practice, &least);
  /* Translators: %s is a length. */
  nappe_finding_cure (finding, _("Move them %s further apart, or use smaller bulkheads."),
                      nappe_rule_at_least (context, NAPPE_QUANTITY_LENGTH, fmax (practice, least) - clear));
  if (one->pane == NAPPE_PANE_BOTTOM)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_part_get_id (larger->drain), "x", 0,
                                                          box_length (context, larger)));
}

/* Enough glass is left between holes of one pane. */
void
nappe_rule_holes_near (NappeRuleContext *context)
{
  if (!needs_glass (context))
    return;
  g_autoptr (GArray) holes = find_holes (context);
  guint looked = 0;

  for (guint i = 0; i < holes->len; i++)
    for (guint j = 0; j < i; j++)
      {
        const NappeHole *one = &g_array_index (holes, NappeHole, j), *other = &g_array_index (holes, NappeHole, i);
        if (!one->in_tank || !other->in_tank || one->pane != other->pane)
          continue;
        looked++;
        check_pair (context, one, other);
      }
  if (holes->len > 0 && looked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no pane of the tank has two holes for bulkheads."));
}

/* ---- fit ---- */

static gboolean
check_wall (NappeRuleContext *context, const NappeHole *hole)
{
  const char *id = nappe_rule_id (hole->piece);
  double most = hole->item->wall_max;

  if (most <= 0)
    return FALSE;
  gboolean short_one = hole->thickness > most;
  NappeFinding *finding = short_one ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM,
                                                       _("Bulkhead too short for the wall"), id)
                                    : nappe_rule_fine (context, id, hole->thickness, most, NAPPE_QUANTITY_LENGTH);
  nappe_finding_measure (finding, hole->thickness, most, NAPPE_QUANTITY_LENGTH);
  /* Translators: bulkhead, thickness, thickness. */
  nappe_finding_say (finding, _("%s goes through a wall of %s; its nut clamps walls up to %s."),
                     nappe_rule_name (context, id),
                     NAPPE_SAY_LENGTH (context, hole->thickness), NAPPE_SAY_LENGTH (context, most));
  if (short_one)
    {
      nappe_finding_say (finding, _("The nut gets too few turns or none, and the gasket is never pressed: it drips."));
      nappe_finding_cure (finding,
                          _("Use a bulkhead with a longer thread, or a thinner wall where the load allows it."));
    }
  return TRUE;
}

/* Each bulkhead is long enough for the wall it goes through. */
void
nappe_rule_bulkhead_short (NappeRuleContext *context)
{
  g_autoptr (GArray) holes = find_holes (context);
  guint looked = 0;

  for (guint i = 0; i < holes->len; i++)
    looked += check_wall (context, &g_array_index (holes, NappeHole, i));
  if (holes->len > 0 && looked == 0)
    nappe_rule_not_checked (context, _("Not checked: how thick a wall the bulkheads clamp is not known."));
}

/* Room for a flange around a hole in the floor of a box [m]: to the box's walls, and to the flanges of its other
 * drains as far as those leave it. */
static double
room_for_flange (NappeRuleContext *context, const GArray *holes, const NappeHole *hole)
{
  const NappeFrame *box = &context->layout->boxes[hole->box].frame;
  double room = fmin (fmin (hole->across - box->left, box->right - hole->across),
                      fmin (hole->along - box->front, box->back - hole->along));
  for (guint i = 0; i < holes->len; i++)
    {
      const NappeHole *other = &g_array_index (holes, NappeHole, i);
      if (other != hole && other->box == hole->box && other->pane == NAPPE_PANE_BOTTOM)
        room = fmin (room, hypot (other->across - hole->across, other->along - hole->along)
                               - 0.5 * other->item->flange_diameter);
    }
  return room;
}

static void
check_flange (NappeRuleContext *context, const GArray *holes, const NappeHole *hole)
{
  double half = 0.5 * hole->item->flange_diameter, room = room_for_flange (context, holes, hole);
  const char *id = nappe_rule_id (hole->piece);
  gboolean wide = half > room;
  NappeFinding *finding = wide ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM,
                                                  _("Bulkhead does not fit in its box"), id)
                               : nappe_rule_fine (context, id, half, room, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, half, room, NAPPE_QUANTITY_LENGTH);
  nappe_finding_formula (finding, _("half the flange against the nearest wall of the box, and against the flange "
                                    "beside it"));
  nappe_finding_input (finding, "", _("across flange and nut"), hole->item->flange_diameter, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("room from its middle"), room, NAPPE_QUANTITY_LENGTH);
  /* Translators: bulkhead, length, length. */
  nappe_finding_say (finding, _("Flange and nut of %s reach %s from its middle, and there is room for %s."),
                     nappe_rule_name (context, id), NAPPE_SAY_LENGTH (context, half),
                     NAPPE_SAY_LENGTH (context, fmax (0, room)));
  if (!wide)
    return;
  nappe_finding_say (finding, _("It cannot lie flat or be turned tight, so it does not seal."));
  /* Translators: %s is a length. */
  nappe_finding_cure (finding, _("Give it %s more room: move the drain along the box, make the box larger, or use a "
                                 "smaller bulkhead."), nappe_rule_at_least (context, NAPPE_QUANTITY_LENGTH, half - room));
  nappe_finding_offer (finding, nappe_lever_new_number (nappe_part_get_id (hole->drain), "x", 0,
                                                        box_length (context, hole)));
}

/* Flange and nut of each bulkhead in the floor of a box have room there. */
void
nappe_rule_bulkhead_wide (NappeRuleContext *context)
{
  g_autoptr (GArray) holes = find_holes (context);
  guint looked = 0;

  for (guint i = 0; i < holes->len; i++)
    {
      const NappeHole *hole = &g_array_index (holes, NappeHole, i);
      if (hole->pane != NAPPE_PANE_BOTTOM || hole->item->flange_diameter <= 0)
        continue;
      looked++;
      check_flange (context, holes, hole);
    }
  if (holes->len > 0 && looked == 0)
    nappe_rule_not_checked (context, _("Not checked: no bulkhead whose flange is known stands in the floor of a box."));
}
